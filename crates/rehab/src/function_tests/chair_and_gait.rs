//! One-minute sit-to-stand, five stands, timed up and go, gait over 4 metres.

use crate::assessment::Sex;
use crate::evidence::{Answer, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::{AGE, COUNT, SECONDS, SEX, refuse, sex_of, short};

/// Median with the middle half of a population.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MiddleHalf {
    /// A quarter lies below.
    pub lower_quartile: f64,
    /// Half lies below.
    pub median: f64,
    /// A quarter lies above.
    pub upper_quartile: f64,
}

/// Chair stands in one minute in the population; only the ages that were seen in the source (20-24 and 75-79).
///
/// Source: Strassmann 2013 (register `strassmann-2013`), n = 6926.
pub fn one_minute_stands(age_years: f64, sex: Sex) -> Option<MiddleHalf> {
    let [lower_quartile, median, upper_quartile] = match (age_years, sex) {
        (age, Sex::Male) if (20.0..25.0).contains(&age) => [41.0, 50.0, 57.0],
        (age, Sex::Female) if (20.0..25.0).contains(&age) => [39.0, 47.0, 55.0],
        (age, Sex::Male) if (75.0..80.0).contains(&age) => [25.0, 30.0, 37.0],
        (age, Sex::Female) if (75.0..80.0).contains(&age) => [22.0, 27.0, 30.0],
        _ => return None,
    };
    Some(MiddleHalf {
        lower_quartile,
        median,
        upper_quartile,
    })
}

/// Seconds for five stands above which a person is slower than average for the age; `None` outside 60 to 89 years.
///
/// Source: Bohannon 2006 (register `bohannon-2006-five-stands`).
pub fn five_stands_slow_above_s(age_years: f64) -> Option<f64> {
    match age_years {
        age if (60.0..70.0).contains(&age) => Some(11.4),
        age if (70.0..80.0).contains(&age) => Some(12.6),
        age if (80.0..90.0).contains(&age) => Some(14.8),
        _ => None,
    }
}

/// Seconds for five stands from which falls recur.
// Source: buatois-2008.
pub const FIVE_STANDS_FALLS_S: f64 = 15.0;

/// Seconds for five stands, the threshold of a second source.
// Source: guralnik-2000.
pub const FIVE_STANDS_SECOND_S: f64 = 13.6;

/// Mean seconds of the timed up and go with 95 % confidence limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeanTime {
    /// Mean in seconds.
    pub mean_s: f64,
    /// Lower confidence limit in seconds.
    pub low_s: f64,
    /// Upper confidence limit in seconds; slower is worse than average.
    pub high_s: f64,
}

/// Mean of the timed up and go by age; `None` outside 60 to 99 years.
///
/// Source: Bohannon 2006 (register `bohannon-2006-tug`); limits of 60-69 recalled.
pub fn up_and_go(age_years: f64) -> Option<MeanTime> {
    let (mean_s, low_s, high_s) = match age_years {
        age if (60.0..70.0).contains(&age) => (8.1, 7.1, 9.0),
        age if (70.0..80.0).contains(&age) => (9.2, 8.2, 10.2),
        age if (80.0..100.0).contains(&age) => (11.3, 10.0, 12.7),
        _ => return None,
    };
    Some(MeanTime {
        mean_s,
        low_s,
        high_s,
    })
}

/// Seconds of the timed up and go from which there is a risk of falls.
// Source: cdc-fall-tests (recalled).
pub const UP_AND_GO_FALLS_S: f64 = 12.0;

/// Length of the gait test in metres.
pub const GAIT_COURSE_M: f64 = 4.0;

/// Gait below this is a risk, m/s.
// Source: cesari-gait.
pub const GAIT_RISK_M_S: f64 = 1.0;

/// Gait at or below this speaks for frailty, m/s.
// Source: gait-sarcopenia (recalled).
pub const GAIT_FRAIL_M_S: f64 = 0.8;

/// Speed over 4 metres in m/s.
pub fn gait_speed_m_s(seconds: f64) -> f64 {
    GAIT_COURSE_M / seconds
}

/// One-minute sit-to-stand.
pub const ONE_MINUTE_STANDS: Rule = Rule {
    id: RuleId("sit-to-stand-1min/strassmann-2013"),
    name: "Chair stands in one minute in the population",
    statement: "Median (middle half): 20-24 years men 50 (41-57), women 47 (39-55); 75-79 years men 30 (25-37), women 27 (22-30). Other ages were not seen and have no answer.",
    sources: &[SourceId("strassmann-2013")],
    tag: Tag::Read,
    inputs: &[AGE, SEX, COUNT],
    evaluate: |values| {
        let (age, count) = (values.number("age_years")?, values.number("count")?);
        let Some(half) = one_minute_stands(age, sex_of(values)?) else {
            return refuse(
                "only 20-24 and 75-79 years were seen in the source; compare the person with the first test",
            );
        };
        let below = count < half.lower_quartile;
        let word = if below {
            "below the middle half"
        } else {
            "in or above the middle half"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!(
                "{} against {} ({}-{})",
                short(count),
                half.median,
                half.lower_quartile,
                half.upper_quartile
            ),
        ))
    },
};

/// Five stands.
pub const FIVE_STANDS: Rule = Rule {
    id: RuleId("five-sit-to-stand/bohannon-2006"),
    name: "Time for five chair stands against the age",
    statement: "Slower than average above 11.4 s (60-69 years), 12.6 s (70-79), 14.8 s (80-89).",
    sources: &[SourceId("bohannon-2006-five-stands")],
    tag: Tag::Read,
    inputs: &[AGE, SECONDS],
    evaluate: |values| {
        let (age, seconds) = (values.number("age_years")?, values.number("seconds")?);
        let Some(limit) = five_stands_slow_above_s(age) else {
            return refuse(
                "the table goes from 60 to 89 years; use the thresholds for falls instead",
            );
        };
        let sign = if seconds > limit { ">" } else { "<=" };
        Ok(Answer::new(
            Value::Flag(seconds > limit),
            format!("{seconds} s {sign} {limit} s at {age} years"),
        ))
    },
};

/// Five stands and falls.
pub const FIVE_STANDS_FALLS: Rule = Rule {
    id: RuleId("five-sit-to-stand/falls"),
    name: "Time for five chair stands and falls",
    statement: "15 s or more: falls recur. A second source sets its threshold at 13.6 s.",
    sources: &[SourceId("buatois-2008"), SourceId("guralnik-2000")],
    tag: Tag::Read,
    inputs: &[SECONDS],
    evaluate: |values| {
        let seconds = values.number("seconds")?;
        let falls = seconds >= FIVE_STANDS_FALLS_S;
        let sign = if falls { ">=" } else { "<" };
        let answer = Answer::new(
            Value::Flag(falls),
            format!("{seconds} s {sign} {FIVE_STANDS_FALLS_S} s"),
        );
        Ok(if seconds > FIVE_STANDS_SECOND_S {
            answer.keep_in_mind("above 13.6 s, the threshold of a second source")
        } else {
            answer
        })
    },
};

/// Timed up and go.
pub const UP_AND_GO: Rule = Rule {
    id: RuleId("timed-up-and-go/bohannon-2006"),
    name: "Timed up and go against the age",
    statement: "Mean (95 % confidence) 60-69 years 8.1 s (7.1-9.0, limits recalled), 70-79 9.2 s (8.2-10.2), 80-99 11.3 s (10.0-12.7); slower than the upper limit is worse than average.",
    sources: &[SourceId("bohannon-2006-tug")],
    tag: Tag::Recalled,
    inputs: &[AGE, SECONDS],
    evaluate: |values| {
        let (age, seconds) = (values.number("age_years")?, values.number("seconds")?);
        let Some(mean) = up_and_go(age) else {
            return refuse(
                "the table goes from 60 to 99 years; use the threshold for falls instead",
            );
        };
        let sign = if seconds > mean.high_s { ">" } else { "<=" };
        Ok(Answer::new(
            Value::Flag(seconds > mean.high_s),
            format!(
                "{seconds} s {sign} {} s (mean {} s)",
                mean.high_s, mean.mean_s
            ),
        ))
    },
};

/// Mean of the timed up and go over all ages from 60 to 99.
// Source: bohannon-2006-tug.
pub const UP_AND_GO_ALL: MeanTime = MeanTime {
    mean_s: 9.4,
    low_s: 8.9,
    high_s: 9.9,
};

/// Timed up and go over all ages.
const UP_AND_GO_OVERALL: Rule = Rule {
    id: RuleId("timed-up-and-go/bohannon-2006-overall"),
    name: "Timed up and go against all of 60 to 99 years",
    statement: "Mean (95 % confidence) over 60 to 99 years 9.4 s (8.9-9.9). For information: where the age is known its own \
                row counts.",
    sources: &[SourceId("bohannon-2006-tug")],
    tag: Tag::Read,
    inputs: &[SECONDS],
    evaluate: |values| {
        let seconds = values.number("seconds")?;
        let slow = seconds > UP_AND_GO_ALL.high_s;
        let sign = if slow { ">" } else { "<=" };
        Ok(Answer::new(
            Value::Flag(slow),
            format!(
                "{seconds} s {sign} {} s (mean {} s)",
                UP_AND_GO_ALL.high_s, UP_AND_GO_ALL.mean_s
            ),
        ))
    },
};

/// Timed up and go and falls.
pub const UP_AND_GO_FALLS: Rule = Rule {
    id: RuleId("timed-up-and-go/falls"),
    name: "Timed up and go and falls",
    statement: "12 s or more: a risk of falls.",
    sources: &[SourceId("cdc-fall-tests")],
    tag: Tag::Recalled,
    inputs: &[SECONDS],
    evaluate: |values| {
        let seconds = values.number("seconds")?;
        let falls = seconds >= UP_AND_GO_FALLS_S;
        let sign = if falls { ">=" } else { "<" };
        Ok(Answer::new(
            Value::Flag(falls),
            format!("{seconds} s {sign} {UP_AND_GO_FALLS_S} s"),
        ))
    },
};

/// Gait.
pub const GAIT: Rule = Rule {
    id: RuleId("gait-4m/speed"),
    name: "Gait speed and its thresholds",
    statement: "Speed = 4 m / seconds. Below 1.0 m/s is a risk; 0.8 m/s or less speaks for frailty (recalled).",
    sources: &[SourceId("cesari-gait"), SourceId("gait-sarcopenia")],
    tag: Tag::Recalled,
    inputs: &[SECONDS],
    evaluate: |values| {
        let seconds = values.number("seconds")?;
        let speed = gait_speed_m_s(seconds);
        let mut answer = Answer::new(
            Value::Number(speed, "m/s"),
            format!("4 / {seconds} = {}", short(speed)),
        );
        if speed < GAIT_RISK_M_S {
            answer = answer.keep_in_mind("below 1.0 m/s: a risk");
        }
        if speed <= GAIT_FRAIL_M_S {
            answer = answer.keep_in_mind("0.8 m/s or less: speaks for frailty");
        }
        Ok(answer)
    },
};

/// The rules of these tests.
pub(super) const RULES: &[Rule] = &[
    ONE_MINUTE_STANDS,
    FIVE_STANDS,
    FIVE_STANDS_FALLS,
    UP_AND_GO,
    UP_AND_GO_OVERALL,
    UP_AND_GO_FALLS,
    GAIT,
];

#[cfg(test)]
mod tests {
    use super::*;

    // Source: strassmann-2013, printed medians and quartiles.
    #[test]
    fn published_one_minute_stands() {
        let half = |age, sex| {
            one_minute_stands(age, sex)
                .map(|one| (one.lower_quartile, one.median, one.upper_quartile))
        };
        assert_eq!(half(22.0, Sex::Male), Some((41.0, 50.0, 57.0)));
        assert_eq!(half(24.9, Sex::Female), Some((39.0, 47.0, 55.0)));
        assert_eq!(half(75.0, Sex::Male), Some((25.0, 30.0, 37.0)));
        assert_eq!(half(79.0, Sex::Female), Some((22.0, 27.0, 30.0)));
        assert_eq!(half(60.0, Sex::Female), None);
    }

    // Source: bohannon-2006-five-stands, bohannon-2006-tug, printed thresholds and means.
    #[test]
    fn published_thresholds_by_age() {
        assert_eq!(five_stands_slow_above_s(69.9), Some(11.4));
        assert_eq!(five_stands_slow_above_s(70.0), Some(12.6));
        assert_eq!(five_stands_slow_above_s(85.0), Some(14.8));
        assert_eq!(five_stands_slow_above_s(90.0), None);
        let time = |age| up_and_go(age).map(|one| (one.mean_s, one.low_s, one.high_s));
        assert_eq!(time(65.0), Some((8.1, 7.1, 9.0)));
        assert_eq!(time(75.0), Some((9.2, 8.2, 10.2)));
        assert_eq!(time(99.0), Some((11.3, 10.0, 12.7)));
        assert_eq!(time(59.0), None);
        let all = UP_AND_GO_ALL;
        assert_eq!((all.mean_s, all.low_s, all.high_s), (9.4, 8.9, 9.9));
    }

    #[test]
    fn gait_speed_is_way_over_time() {
        assert!(libm::fabs(gait_speed_m_s(5.0) - GAIT_FRAIL_M_S) < 1e-12);
        assert!(libm::fabs(gait_speed_m_s(4.0) - GAIT_RISK_M_S) < 1e-12);
    }
}
