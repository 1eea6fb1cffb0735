//! How much was done: session load, monotony and strain, training impulse, MET-minutes, targets of the week.

use crate::assessment::Sex;
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::{PEAK_HR, RESTING_HR, SEX, refuse, sex_of, short};
use crate::quantity::{HeartRate, Mets};

/// Load of a session: effort (0 to 10) x minutes, asked about 30 minutes after its end.
///
/// Source: Foster 2001 (register `foster-2001`). Only for the 0 to 10 scale; an effort of 6 to 20 is not converted.
pub fn session_load(effort_0_10: f64, minutes: f64) -> f64 {
    effort_0_10 * minutes
}

closed_words!(
    /// Which standard deviation: the sources do not say, so a number without it cannot be compared.
    Spread as "standard deviation" { Population = "population", Sample = "sample" }
);

/// Monotony and strain of a week.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeekLoad {
    /// Sum of the daily loads.
    pub total: f64,
    /// Standard deviation of the daily loads.
    pub spread: f64,
    /// Mean daily load / standard deviation; `None` when every day was alike.
    pub monotony: Option<f64>,
    /// Total x monotony.
    pub strain: Option<f64>,
}

/// Monotony and strain of the loads of single days, days of rest as 0.
///
/// Source: Foster 1998 (register `foster-1998`, recalled). `None` with fewer than two days.
pub fn week_load(daily: &[f64], spread: Spread) -> Option<WeekLoad> {
    if daily.len() < 2 {
        return None;
    }
    let days = daily.len() as f64;
    let total: f64 = daily.iter().sum();
    let mean = total / days;
    let squares: f64 = daily.iter().map(|load| (load - mean) * (load - mean)).sum();
    let divisor = match spread {
        Spread::Population => days,
        Spread::Sample => days - 1.0,
    };
    let spread = libm::sqrt(squares / divisor);
    let monotony = (spread > 0.0).then(|| mean / spread);
    Some(WeekLoad {
        total,
        spread,
        monotony,
        strain: monotony.map(|monotony| total * monotony),
    })
}

/// What the training impulse takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ImpulseFacts {
    /// Length in minutes.
    pub minutes: f64,
    /// Mean heart rate during exercise.
    pub exercise: HeartRate,
    /// Resting heart rate.
    pub resting: HeartRate,
    /// Peak heart rate.
    pub peak: HeartRate,
    /// Sex: the coefficients differ.
    pub sex: Sex,
}

/// Coefficients of the training impulse: men 0.64 and 1.92, women 0.86 and 1.67.
// Source: banister-1991. A known slip takes 0.64 for women.
fn coefficients(sex: Sex) -> (f64, f64) {
    match sex {
        Sex::Male => (0.64, 1.92),
        Sex::Female => (0.86, 1.67),
    }
}

/// Training impulse: `D x k e^(b x)` with x the share of heart-rate reserve; `None` when the peak is not above rest.
///
/// Source: Banister 1991, Morton 1990 (register `banister-1991`).
pub fn training_impulse(facts: &ImpulseFacts) -> Option<f64> {
    let reserve_bpm = facts.peak.to_bpm() - facts.resting.to_bpm();
    if reserve_bpm <= 0.0 {
        return None;
    }
    let share = (facts.exercise.to_bpm() - facts.resting.to_bpm()) / reserve_bpm;
    let (k, b) = coefficients(facts.sex);
    Some(facts.minutes * share * k * libm::exp(b * share))
}

/// MET-minutes of some work: METs x minutes.
pub fn met_minutes(mets: Mets, minutes: f64) -> f64 {
    mets.to_mets() * minutes
}

/// Minutes of moderate activity that some moderate and vigorous minutes count for: one vigorous is two moderate.
///
/// Source: WHO 2020 (register `who-2020`).
pub fn moderate_minutes(moderate: f64, vigorous: f64) -> f64 {
    moderate + 2.0 * vigorous
}

/// Moderate minutes a week that reach the target of the WHO.
// Source: who-2020.
pub const WHO_MODERATE_MINUTES: (f64, f64) = (150.0, 300.0);
/// Vigorous minutes a week that reach the target of the WHO.
// Source: who-2020.
pub const WHO_VIGOROUS_MINUTES: (f64, f64) = (75.0, 150.0);
/// Days a week of strengthening, least.
// Source: who-2020.
pub const WHO_STRENGTH_DAYS: u8 = 2;
/// Days a week of balance for older people, least.
// Source: who-2020.
pub const WHO_BALANCE_DAYS: u8 = 3;

const MINUTES: Input = Input::number("minutes", "minutes", 0.0, 240.0);

const SESSION: Rule = Rule {
    id: RuleId("load/session"),
    name: "Load of a session",
    statement: "Effort on 0 to 10 x minutes, asked about 30 minutes after the end.",
    sources: &[SourceId("foster-2001")],
    tag: Tag::Read,
    inputs: &[Input::number("effort_0_10", "of 10", 0.0, 10.0), MINUTES],
    evaluate: |values| {
        let (effort, minutes) = (values.number("effort_0_10")?, values.number("minutes")?);
        let load = session_load(effort, minutes);
        Ok(Answer::new(
            Value::Number(load, ""),
            format!("{effort} x {minutes} = {}", short(load)),
        ))
    },
};

const WEEK: Rule = Rule {
    id: RuleId("load/monotony-and-strain"),
    name: "Monotony and strain of a week",
    statement: "Monotony = mean daily load / standard deviation; strain = week's load x monotony. Which standard deviation is meant must be said.",
    sources: &[SourceId("foster-1998")],
    tag: Tag::Recalled,
    inputs: &[
        Input::numbers("daily_load", "effort x minutes", 0.0, 5000.0),
        Input::choice("spread", &["population", "sample"]),
    ],
    evaluate: |values| {
        let Ok(spread) = Spread::parse(values.text("spread")?) else {
            return refuse("'spread' is population or sample; write one of them");
        };
        let daily = values.numbers("daily_load")?;
        let Some(week) = week_load(&daily, spread) else {
            return refuse("one day has no monotony; give at least two days, rest as 0");
        };
        let (Some(monotony), Some(strain)) = (week.monotony, week.strain) else {
            return refuse(
                "every day was alike, so there is no spread and no monotony; nothing to do",
            );
        };
        Ok(Answer::new(
            Value::Number(strain, ""),
            format!(
                "load {}, {spread} SD {}, monotony {}, strain {}",
                short(week.total),
                short(week.spread),
                short(monotony),
                short(strain)
            ),
        ))
    },
};

const IMPULSE: Rule = Rule {
    id: RuleId("load/training-impulse"),
    name: "Training impulse",
    statement: "D x x k e^(b x) with D minutes and x = (rate - rest) / (peak - rest); men k 0.64, b 1.92; women k 0.86, b 1.67.",
    sources: &[SourceId("banister-1991")],
    tag: Tag::Read,
    inputs: &[
        MINUTES,
        Input::number("hr_bpm", "beats a minute", 25.0, 240.0),
        RESTING_HR,
        PEAK_HR,
        SEX,
    ],
    evaluate: |values| {
        let facts = ImpulseFacts {
            minutes: values.number("minutes")?,
            exercise: HeartRate::bpm(values.number("hr_bpm")?),
            resting: HeartRate::bpm(values.number("resting_hr_bpm")?),
            peak: HeartRate::bpm(values.number("peak_hr_bpm")?),
            sex: sex_of(values)?,
        };
        let Some(impulse) = training_impulse(&facts) else {
            return refuse("the peak does not lie above the resting rate; read both again");
        };
        let (k, b) = coefficients(facts.sex);
        Ok(Answer::new(
            Value::Number(impulse, ""),
            format!("{} min, k {k}, b {b}: {}", facts.minutes, short(impulse)),
        ))
    },
};

const MET_MINUTES: Rule = Rule {
    id: RuleId("load/met-minutes"),
    name: "MET-minutes of a week",
    statement: "Sum of METs x minutes. Targets: 500 to 1000 a week (ACSM 2011, recalled), 450 to 750 (ACSM/AHA 2007).",
    sources: &[SourceId("garber-2011"), SourceId("acsm-aha-2007")],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("mets", "METs", 0.5, 25.0),
        MINUTES,
        Input::number("times_per_week", "a week", 1.0, 21.0),
    ],
    evaluate: |values| {
        let (mets, minutes) = (values.number("mets")?, values.number("minutes")?);
        let times = values.number("times_per_week")?;
        let sum = met_minutes(Mets::of(mets), minutes) * times;
        Ok(Answer::new(
            Value::Number(sum, "MET-minutes"),
            format!("{times} x {mets} x {minutes} = {}", short(sum)),
        ))
    },
};

const WHO: Rule = Rule {
    id: RuleId("load/who-2020"),
    name: "Activity of a week against the WHO targets",
    statement: "150 to 300 moderate or 75 to 150 vigorous minutes a week (one vigorous counts as two moderate), strength on 2 days or more, older people balance on 3 days or more.",
    sources: &[SourceId("who-2020")],
    tag: Tag::Read,
    inputs: &[
        Input::number("moderate_minutes", "minutes a week", 0.0, 5000.0),
        Input::number("vigorous_minutes", "minutes a week", 0.0, 5000.0),
    ],
    evaluate: |values| {
        let (moderate, vigorous) = (
            values.number("moderate_minutes")?,
            values.number("vigorous_minutes")?,
        );
        let minutes = moderate_minutes(moderate, vigorous);
        let reached = minutes >= WHO_MODERATE_MINUTES.0;
        Ok(Answer::new(
            Value::Flag(reached),
            format!(
                "{moderate} + 2 x {vigorous} = {} of {} moderate minutes",
                short(minutes),
                WHO_MODERATE_MINUTES.0
            ),
        ))
    },
};

/// The rules of load.
pub(crate) const RULES: &[Rule] = &[SESSION, WEEK, IMPULSE, MET_MINUTES, WHO];

#[cfg(test)]
mod tests {
    use super::*;

    fn near(value: f64, expected: f64, half_digit: f64) {
        assert!(
            libm::fabs(value - expected) < half_digit,
            "{value} is not {expected}"
        );
    }

    // Source: foster-2001, printed: 7 x 60 minutes is 420.
    #[test]
    fn published_session_load() {
        near(session_load(7.0, 60.0), 420.0, 0.5);
    }

    // Computed by hand from the two definitions of the standard deviation.
    #[test]
    fn worked_monotony_and_strain() {
        let daily = [120.0, 0.0, 120.0, 0.0, 120.0, 0.0, 60.0];
        let week = week_load(&daily, Spread::Population).unwrap();
        near(week.total, 420.0, 0.5);
        near(week.spread, 55.549, 0.000_5);
        near(week.monotony.unwrap(), 1.080, 0.000_5);
        near(week.strain.unwrap(), 453.65, 0.005);
        let week = week_load(&daily, Spread::Sample).unwrap();
        near(week.spread, 60.0, 0.05);
        near(week.monotony.unwrap(), 1.0, 0.05);
        near(week.strain.unwrap(), 420.0, 0.5);
    }

    #[test]
    fn alike_days_have_no_monotony_and_one_day_no_week() {
        let week = week_load(&[60.0; 7], Spread::Sample).unwrap();
        assert_eq!((week.monotony, week.strain), (None, None));
        assert_eq!(week_load(&[60.0], Spread::Population), None);
    }

    fn impulse(sex: Sex) -> f64 {
        let facts = ImpulseFacts {
            minutes: 30.0,
            exercise: HeartRate::bpm(100.0),
            resting: HeartRate::bpm(62.0),
            peak: HeartRate::bpm(131.0),
            sex,
        };
        training_impulse(&facts).unwrap()
    }

    // Computed by hand: 30 minutes at 100, rest 62, peak 131.
    #[test]
    fn worked_training_impulse() {
        near(impulse(Sex::Male), 30.44, 0.005);
        near(impulse(Sex::Female), 35.64, 0.005);
        let at_peak = |sex| {
            let peak = HeartRate::bpm(131.0);
            let facts = ImpulseFacts {
                minutes: 1.0,
                exercise: peak,
                resting: HeartRate::bpm(62.0),
                peak,
                sex,
            };
            training_impulse(&facts).unwrap()
        };
        near(at_peak(Sex::Male), 4.365, 0.000_5);
        near(at_peak(Sex::Female), 4.568, 0.000_5);
    }

    // Some pages give women the 0.64 of men; the result would be 26.5 instead of 35.6.
    #[test]
    fn the_known_wrong_coefficient_for_women_is_not_ours() {
        assert_eq!(coefficients(Sex::Female), (0.86, 1.67));
        let wrong = impulse(Sex::Female) * 0.64 / 0.86;
        assert!(impulse(Sex::Female) - wrong > 9.0);
    }

    // Computed by hand.
    #[test]
    fn worked_met_minutes_and_targets() {
        near(met_minutes(Mets::of(5.0), 30.0) * 4.0, 600.0, 0.5);
        near(met_minutes(Mets::of(4.5), 20.0) * 3.0, 270.0, 0.5);
        near(
            moderate_minutes(0.0, WHO_VIGOROUS_MINUTES.0),
            WHO_MODERATE_MINUTES.0,
            0.5,
        );
    }
}
