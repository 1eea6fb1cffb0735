//! Incremental shuttle walk: levels, distances, expected distance and capacity.
//!
//! 10 m course (Singh 1992, register `singh-1992`, recalled). Level n is n + 2 shuttles in one minute; it's timed by
//! shuttles a minute, not by the published speeds, which are 0 to 1.6 % higher.

use crate::assessment::Sex;
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::{AGE, DISTANCE, SEX, refuse, sex_of, short, whole};
use crate::quantity::OxygenUptake;

/// Standard course in metres.
pub const COURSE_M: f64 = 10.0;

/// Published speeds of the twelve levels in m/s.
// Source: singh-1992 (recalled; 0.67 and 0.84 read in almodhy-2014, the top of 5.3 mph read).
pub const SPEEDS_M_S: [f64; 12] = [
    0.50, 0.67, 0.84, 1.01, 1.18, 1.35, 1.52, 1.69, 1.86, 2.03, 2.20, 2.37,
];

/// Smallest change that matters in cardiac rehabilitation, in metres, and smallest change that can be told from chance.
// Source: houchen-wolloff-2015.
pub const DETECTABLE_CHANGE_M: f64 = 47.0;

/// Shuttles of a level, 1 to 12.
pub fn shuttles(level: u8) -> Option<u8> {
    (1..=12).contains(&level).then(|| level + 2)
}

/// Seconds for one shuttle at a level: a minute divided by its shuttles.
pub fn seconds_per_shuttle(level: u8) -> Option<f64> {
    shuttles(level).map(|count| 60.0 / f64::from(count))
}

/// Metres walked at the end of a level.
pub fn cumulative_m(level: u8) -> Option<f64> {
    shuttles(level)?;
    let shuttles: u16 = (1..=u16::from(level)).map(|one| one + 2).sum();
    Some(f64::from(shuttles) * COURSE_M)
}

/// The last level completed with a distance; 0 when the first was not.
pub fn level_completed(distance_m: f64) -> u8 {
    let completed =
        (1..=12).take_while(|level| cumulative_m(*level).is_some_and(|end| distance_m >= end));
    completed.last().unwrap_or(0)
}

/// Peak oxygen uptake of a distance: `4.19 + 0.025 m`.
///
/// Source: Singh 1994 (register `singh-1994`, recalled), made on people with lung disease.
pub fn singh_1994(distance_m: f64) -> OxygenUptake {
    OxygenUptake::ml_per_kg_min(4.19 + 0.025 * distance_m)
}

/// Expected distance in metres: `1449.701 - 11.735 age + 241.897 (men) - 5.686 BMI`. Source: register `probst-2012`.
pub fn probst_2012(age_years: f64, sex: Sex, body_mass_index: f64) -> f64 {
    let men = if sex == Sex::Male { 241.897 } else { 0.0 };
    1449.701 - 11.735 * age_years + men - 5.686 * body_mass_index
}

/// What people in cardiac rehabilitation walk: mean, standard deviation and metres lost with each year of age.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RehabReference {
    /// Mean in metres.
    pub mean_m: f64,
    /// Standard deviation in metres.
    pub spread_m: f64,
    /// Metres less with each year of age.
    pub less_per_year_m: f64,
}

/// Reference of people in cardiac rehabilitation (n = 548): men 395 +/- 165 m, women 269 +/- 118 m, 5.9 and 4.8 m less a
/// year. Source: register `cardew-iswt`.
pub const fn cardew(sex: Sex) -> RehabReference {
    match sex {
        Sex::Male => RehabReference {
            mean_m: 395.0,
            spread_m: 165.0,
            less_per_year_m: 5.9,
        },
        Sex::Female => RehabReference {
            mean_m: 269.0,
            spread_m: 118.0,
            less_per_year_m: 4.8,
        },
    }
}

const LEVEL: Rule = Rule {
    id: RuleId("shuttle-walk/level"),
    name: "Levels of the incremental shuttle walk",
    statement: "Level n (1 to 12): n + 2 shuttles of 10 m in one minute, timed by shuttles a minute; published speeds are 0 to 1.6 % higher. Stop: more than 0.5 m short twice, symptoms, or the heart-rate limit.",
    sources: &[
        SourceId("singh-1992"),
        SourceId("holland-2014"),
        SourceId("almodhy-2014"),
    ],
    tag: Tag::Recalled,
    inputs: &[Input::number("level", "level", 1.0, 12.0)],
    evaluate: |values| {
        let level = whole(values, "level")? as u8;
        let (Some(count), Some(seconds), Some(end)) = (
            shuttles(level),
            seconds_per_shuttle(level),
            cumulative_m(level),
        ) else {
            return refuse("levels go from 1 to 12; give one of them");
        };
        let speed = SPEEDS_M_S[usize::from(level) - 1];
        Ok(Answer::new(
            Value::Number(end, "m"),
            format!(
                "{count} shuttles, {} s each, {end} m at its end; published speed {speed} m/s",
                short(seconds)
            ),
        ))
    },
};

/// The capacity equation, for reasons elsewhere.
pub const SINGH: Rule = Rule {
    id: RuleId("shuttle-walk/singh-1994"),
    name: "Capacity from the incremental shuttle walk",
    statement: "VO2peak = 4.19 + 0.025 x metres, mL/kg/min; made on people with lung disease; its error is not recorded here.",
    sources: &[SourceId("singh-1994")],
    tag: Tag::Recalled,
    inputs: &[DISTANCE],
    evaluate: |values| {
        let distance = values.number("distance_m")?;
        let uptake = singh_1994(distance);
        Ok(Answer::new(
            Value::Number(uptake.to_ml_per_kg_min(), "mL/kg/min"),
            format!(
                "4.19 + 0.025 x {distance} = {} mL/kg/min ({} METs)",
                short(uptake.to_ml_per_kg_min()),
                short(uptake.to_mets().to_mets())
            ),
        )
        .keep_in_mind("made on people with lung disease"))
    },
};

/// The reference equation, for findings elsewhere.
pub const PROBST: Rule = Rule {
    id: RuleId("shuttle-walk/probst-2012"),
    name: "Expected shuttle walk, Probst",
    statement: "1449.701 - 11.735 age + 241.897 (men) - 5.686 BMI, metres.",
    sources: &[SourceId("probst-2012")],
    tag: Tag::Read,
    inputs: &[AGE, SEX, Input::number("bmi", "kg/m2", 10.0, 80.0)],
    evaluate: |values| {
        let (age, sex, bmi) = (
            values.number("age_years")?,
            sex_of(values)?,
            values.number("bmi")?,
        );
        let expected = probst_2012(age, sex, bmi);
        let men = if sex == Sex::Male { " + 241.897" } else { "" };
        Ok(Answer::new(
            Value::Number(expected, "m"),
            format!(
                "1449.701 - 11.735 x {age}{men} - 5.686 x {bmi} = {} m",
                short(expected)
            ),
        ))
    },
};

const REHAB_REFERENCE: Rule = Rule {
    id: RuleId("shuttle-walk/rehab-reference"),
    name: "What people in cardiac rehabilitation walk",
    statement: "Men 395 +/- 165 m, women 269 +/- 118 m, 5.9 and 4.8 m less with each year (n = 548); heart failure 278.6 +/- 158.6 m (n = 2047); age and sex explain 27 % (SEE 148.7 m, n = 8863).",
    sources: &[
        SourceId("cardew-iswt"),
        SourceId("minotto-2018"),
        SourceId("doherty-alotaibi-2017"),
    ],
    tag: Tag::Read,
    inputs: &[SEX],
    evaluate: |values| {
        let reference = cardew(sex_of(values)?);
        Ok(Answer::new(
            Value::Number(reference.mean_m, "m"),
            format!(
                "mean {} m, SD {} m, {} m less a year",
                reference.mean_m, reference.spread_m, reference.less_per_year_m
            ),
        )
        .keep_in_mind(
            "the age of the mean is not in the abstract, so it cannot be moved to another age",
        ))
    },
};

/// The rules of the shuttle walk.
pub(super) const RULES: &[Rule] = &[LEVEL, SINGH, PROBST, REHAB_REFERENCE];

#[cfg(test)]
mod tests {
    use super::*;

    fn near(value: f64, expected: f64, half_digit: f64) {
        assert!(
            libm::fabs(value - expected) < half_digit,
            "{value} is not {expected}"
        );
    }

    // Source: holland-2014 Table 7, printed: level 1 is 20 s a shuttle.
    #[test]
    fn published_level_one() {
        near(seconds_per_shuttle(1).unwrap(), 20.0, 0.5);
    }

    // Computed by hand: seconds a shuttle are a minute over the shuttles, metres are shuttles x 10 m summed.
    #[test]
    fn worked_levels() {
        let seconds = [
            20.0, 15.0, 12.0, 10.0, 8.57, 7.5, 6.67, 6.0, 5.45, 5.0, 4.62, 4.29,
        ];
        let metres = [
            30.0, 70.0, 120.0, 180.0, 250.0, 330.0, 420.0, 520.0, 630.0, 750.0, 880.0, 1020.0,
        ];
        for level in 1..=12_u8 {
            let at = usize::from(level) - 1;
            assert_eq!(shuttles(level), Some(level + 2));
            near(seconds_per_shuttle(level).unwrap(), seconds[at], 0.005);
            near(cumulative_m(level).unwrap(), metres[at], 0.05);
            assert_eq!(level_completed(metres[at]), level);
            assert_eq!(level_completed(metres[at] - 10.0), level - 1);
        }
        assert_eq!(
            (shuttles(0), shuttles(13), cumulative_m(13)),
            (None, None, None)
        );
    }

    #[test]
    fn published_speeds_are_at_most_1_6_per_cent_above_the_shuttles() {
        for level in 1..=12_u8 {
            let by_shuttles = 10.0 * f64::from(level + 2) / 60.0;
            let above = SPEEDS_M_S[usize::from(level) - 1] / by_shuttles - 1.0;
            assert!(
                (-0.000_1..=0.016_5).contains(&above),
                "level {level}: {above}"
            );
        }
    }

    // Computed by hand.
    #[test]
    fn worked_capacity_and_expected_distance() {
        near(singh_1994(395.0).to_ml_per_kg_min(), 14.065, 0.000_5);
        near(singh_1994(400.0).to_ml_per_kg_min(), 14.19, 0.005);
        near(singh_1994(400.0).to_mets().to_mets(), 4.05, 0.005);
        near(singh_1994(600.0).to_ml_per_kg_min(), 19.19, 0.005);
        near(probst_2012(65.0, Sex::Male, 27.0), 775.3, 0.05);
        near(probst_2012(65.0, Sex::Female, 27.0), 533.4, 0.05);
    }
}
