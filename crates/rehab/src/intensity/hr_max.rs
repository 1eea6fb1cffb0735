//! Equations that predict the maximal heart rate when it was not measured.
//!
//! Every one is a mean of a group: the person in front of you may lie 10 to 20 bpm away, in illness and with
//! rate-slowing medicines more. Not for use as a target; in Keteyian 2023 only 0 to 61 % of such prescriptions fell
//! within the range meant (register `keteyian-2023`), so a ceiling from any of these is guiding only.

use crate::assessment::Sex;
use crate::quantity::HeartRate;

closed_words!(
    /// How the peak would be reached: on a treadmill or on a cycle.
    ExerciseMode as "mode of exercise" { Treadmill = "treadmill", Cycle = "cycle" }
);

/// Intercept and slope of a straight line in age: `intercept - slope x age`, in bpm.
#[derive(Clone, Copy, Debug)]
pub(super) struct AgeLine {
    pub(super) intercept_bpm: f64,
    pub(super) bpm_per_year: f64,
}

impl AgeLine {
    const fn new(intercept_bpm: f64, bpm_per_year: f64) -> Self {
        Self {
            intercept_bpm,
            bpm_per_year,
        }
    }

    pub(super) fn at(self, age_years: f64) -> HeartRate {
        HeartRate::bpm(self.intercept_bpm - self.bpm_per_year * age_years)
    }
}

// Source: fox-1971 (value read, page recalled).
pub(super) const FOX_1971: AgeLine = AgeLine::new(220.0, 1.0);
// Source: tanaka-2001.
pub(super) const TANAKA_2001: AgeLine = AgeLine::new(208.0, 0.7);
// Source: inbar-1994 (equation read, page recalled).
pub(super) const INBAR_1994: AgeLine = AgeLine::new(205.8, 0.685);
// Source: gellish-2007 (equation read, page recalled).
pub(super) const GELLISH_2007: AgeLine = AgeLine::new(206.9, 0.67);
// Source: gulati-2010.
pub(super) const GULATI_2010: AgeLine = AgeLine::new(206.0, 0.88);
// Source: sydo-2014.
pub(super) const SYDO_2014_MEN: AgeLine = AgeLine::new(220.0, 0.95);
pub(super) const SYDO_2014_WOMEN: AgeLine = AgeLine::new(210.0, 0.79);
// Source: brawner-2004.
pub(super) const BRAWNER_2004: AgeLine = AgeLine::new(164.0, 0.7);
// Source: ischaemic-hf-2012.
pub(super) const ISCHAEMIC_HF_2012: AgeLine = AgeLine::new(168.0, 0.76);

/// Standard error of estimate in bpm of the two equations made on people taking a beta-blocker.
// Source: brawner-2004, keteyian-2012: SEE 18.
pub const BETA_BLOCKED_SEE_BPM: f64 = 18.0;

/// What UK practice takes off for a beta-blocker, in bpm.
// Source: uk-acpicr-bacpr (secondary).
pub const UK_BETA_BLOCKER_MINUS_BPM: f64 = 30.0;

/// General population: `HRmax = 220 - age`, SD 10 to 12 bpm.
///
/// Source: Fox 1971 (register `fox-1971`), critique `robergs-landwehr-2002`. Not for people taking a beta-blocker.
pub fn fox_1971(age_years: f64) -> HeartRate {
    FOX_1971.at(age_years)
}

/// Healthy adults: `HRmax = 208 - 0.7 age`.
///
/// Source: Tanaka 2001 (register `tanaka-2001`). Not for people taking a beta-blocker.
pub fn tanaka_2001(age_years: f64) -> HeartRate {
    TANAKA_2001.at(age_years)
}

/// Healthy adults: `HRmax = 205.8 - 0.685 age`.
///
/// Source: Inbar 1994 (register `inbar-1994`). Not for people taking a beta-blocker.
pub fn inbar_1994(age_years: f64) -> HeartRate {
    INBAR_1994.at(age_years)
}

/// Healthy adults: `HRmax = 206.9 - 0.67 age`.
///
/// Source: Gellish 2007 (register `gellish-2007`). Not for people taking a beta-blocker.
pub fn gellish_2007(age_years: f64) -> HeartRate {
    GELLISH_2007.at(age_years)
}

/// Women (n = 5437): `HRmax = 206 - 0.88 age`.
///
/// Source: Gulati 2010 (register `gulati-2010`). Not for men, not for people taking a beta-blocker.
pub fn gulati_2010(age_years: f64) -> HeartRate {
    GULATI_2010.at(age_years)
}

/// Clinic cohort: men `HRmax = 220 - 0.95 age`, women `HRmax = 210 - 0.79 age`.
///
/// Source: Sydo 2014 (register `sydo-2014`). Not for people taking a beta-blocker.
pub fn sydo_2014(age_years: f64, sex: Sex) -> HeartRate {
    match sex {
        Sex::Male => SYDO_2014_MEN.at(age_years),
        Sex::Female => SYDO_2014_WOMEN.at(age_years),
    }
}

/// Coronary disease on a beta-blocker, preserved left ventricle, treadmill: `HRmax = 164 - 0.7 age`, SEE 18 bpm.
///
/// Source: Brawner 2004 (register `brawner-2004`), r squared 0.13. Not for a weakened left ventricle.
pub fn brawner_2004(age_years: f64) -> HeartRate {
    BRAWNER_2004.at(age_years)
}

/// Heart failure with reduced ejection fraction on a beta-blocker:
/// `HRmax = 119 + 0.5 rest - 0.5 age - (0 treadmill, 5 cycle)`, SEE 18 bpm.
///
/// Source: Keteyian 2012 (register `keteyian-2012`), R squared 0.28; its authors advise against prescribing from it.
pub fn keteyian_2012(age_years: f64, resting: HeartRate, mode: ExerciseMode) -> HeartRate {
    let cycle = match mode {
        ExerciseMode::Treadmill => 0.0,
        ExerciseMode::Cycle => 5.0,
    };
    HeartRate::bpm(119.0 + 0.5 * resting.to_bpm() - 0.5 * age_years - cycle)
}

/// What the equation of the MECKI group takes.
#[derive(Clone, Copy, Debug)]
pub struct MeckiFacts {
    /// Age in years.
    pub age_years: f64,
    /// Resting heart rate.
    pub resting: HeartRate,
    /// Ejection fraction in per cent.
    pub ejection_fraction_pct: f64,
    /// Haemoglobin in g/dL.
    pub haemoglobin_g_dl: f64,
}

/// Heart failure, MECKI group: `HRmax = 109 - 0.5 age + 0.5 rest + 0.2 LVEF - (5 if haemoglobin < 11 g/dL)`.
///
/// Source: register `mecki-hr`; 75 to 80 % of it is about the rate at the anaerobic threshold.
pub fn mecki(facts: MeckiFacts) -> HeartRate {
    let anaemia = if facts.haemoglobin_g_dl < 11.0 {
        5.0
    } else {
        0.0
    };
    HeartRate::bpm(
        109.0 - 0.5 * facts.age_years
            + 0.5 * facts.resting.to_bpm()
            + 0.2 * facts.ejection_fraction_pct
            - anaemia,
    )
}

/// Ischaemic heart failure on a beta-blocker: `HRmax = 168 - 0.76 age`.
///
/// Source: J Card Fail 2012 (register `ischaemic-hf-2012`).
pub fn ischaemic_heart_failure_2012(age_years: f64) -> HeartRate {
    ISCHAEMIC_HF_2012.at(age_years)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Half the last digit written in the reference's table of checks, in bpm.
    const HALF_DIGIT_BPM: f64 = 0.000_5;

    fn near(rate: HeartRate, bpm: f64) {
        assert!(
            libm::fabs(rate.to_bpm() - bpm) < HALF_DIGIT_BPM,
            "{rate:?} is not {bpm}"
        );
    }

    // Computed by hand from each published equation at 45, 60, 65 and 72 years.
    #[test]
    fn worked_age_equations() {
        let ages = [45.0, 60.0, 65.0, 72.0];
        let check = |equation: fn(f64) -> HeartRate, expected: [f64; 4]| {
            for (age, bpm) in ages.into_iter().zip(expected) {
                near(equation(age), bpm);
            }
        };
        check(fox_1971, [175.0, 160.0, 155.0, 148.0]);
        check(tanaka_2001, [176.5, 166.0, 162.5, 157.6]);
        check(inbar_1994, [174.975, 164.7, 161.275, 156.48]);
        check(gulati_2010, [166.4, 153.2, 148.8, 142.64]);
        check(gellish_2007, [176.75, 166.7, 163.35, 158.66]);
        check(brawner_2004, [132.5, 122.0, 118.5, 113.6]);
        check(
            |age| sydo_2014(age, Sex::Male),
            [177.25, 163.0, 158.25, 151.6],
        );
        check(
            |age| sydo_2014(age, Sex::Female),
            [174.45, 162.6, 158.65, 153.12],
        );
        check(ischaemic_heart_failure_2012, [133.8, 122.4, 118.6, 113.28]);
    }

    #[test]
    fn worked_heart_failure_equations() {
        let rest = HeartRate::bpm;
        near(
            keteyian_2012(60.0, rest(70.0), ExerciseMode::Treadmill),
            124.0,
        );
        near(keteyian_2012(60.0, rest(70.0), ExerciseMode::Cycle), 119.0);
        near(
            keteyian_2012(72.0, rest(64.0), ExerciseMode::Treadmill),
            115.0,
        );
        near(keteyian_2012(72.0, rest(64.0), ExerciseMode::Cycle), 110.0);
        let facts = MeckiFacts {
            age_years: 60.0,
            resting: rest(70.0),
            ejection_fraction_pct: 30.0,
            haemoglobin_g_dl: 13.0,
        };
        near(mecki(facts), 120.0);
        near(
            mecki(MeckiFacts {
                haemoglobin_g_dl: 10.9,
                ..facts
            }),
            115.0,
        );
        near(
            mecki(MeckiFacts {
                haemoglobin_g_dl: 11.0,
                ..facts
            }),
            120.0,
        );
    }
}
