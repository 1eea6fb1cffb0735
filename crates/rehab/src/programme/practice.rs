//! What bodies print about sessions and their growth: lengths, easy stations, progression, strength work. For
//! information beside the service's settings, unless a rule says where it is used.

use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{refuse, short};

/// Minutes of one part of a session as a body prints them; an open end is infinite.
struct Length {
    body: &'static str,
    part: &'static str,
    from_min: f64,
    to_min: f64,
}

const fn length(body: &'static str, part: &'static str, from_min: f64, to_min: f64) -> Length {
    Length {
        body,
        part,
        from_min,
        to_min,
    }
}

// Sources: thow-2006 (UK, secondary), acsm-getp (US, recalled), racgp-exercise (Australia, read).
const LENGTHS: &[Length] = &[
    length("uk", "warm-up", 15.0, f64::INFINITY),
    length("uk", "conditioning", 20.0, 30.0),
    length("uk", "cool-down", 10.0, f64::INFINITY),
    length("us", "warm-up", 5.0, 10.0),
    length("us", "conditioning", 20.0, 60.0),
    length("us", "cool-down", 5.0, 10.0),
    length("australia", "warm-up", 5.0, 10.0),
    length("australia", "conditioning", 20.0, 45.0),
    length("australia", "cool-down", 5.0, 10.0),
];

const LENGTH: Rule = Rule {
    id: RuleId("session/lengths"),
    name: "Lengths of the parts of a session, body by body",
    statement: "UK: warm-up 15 minutes or more, conditioning 20 to 30, cool-down 10 or more, three times a week or more. US: 5 to \
                10, 20 to 60, 5 to 10 (recalled). Australia: 5 to 10, 20 to 45, 5 to 10. The service sets its own; conditioning \
                begins shorter and grows rung by rung.",
    sources: &[
        SourceId("thow-2006"),
        SourceId("acsm-getp"),
        SourceId("racgp-exercise"),
    ],
    tag: Tag::Recalled,
    inputs: &[
        Input::choice("body", &["uk", "us", "australia"]),
        Input::choice("part", &["warm-up", "conditioning", "cool-down"]),
        Input::number("minutes", "minutes", 0.0, 240.0),
    ],
    evaluate: |values| {
        let (body, part) = (values.text("body")?, values.text("part")?);
        let minutes = values.number("minutes")?;
        let Some(one) = LENGTHS
            .iter()
            .find(|one| one.body == body && one.part == part)
        else {
            return refuse("this body and part were not read; take another");
        };
        let word = if minutes < one.from_min {
            "shorter"
        } else if minutes > one.to_min {
            "longer"
        } else {
            "within"
        };
        let to = if one.to_min.is_finite() {
            format!("to {}", one.to_min)
        } else {
            "or more".to_owned()
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("{minutes} minutes against {} {to}", one.from_min),
        ))
    },
};

/// Minutes of staying near after a session.
// Source: thow-2006 (secondary): 30 per cent of arrests in the cool-down, 10 per cent after it.
const OBSERVED_MIN: f64 = 15.0;

const OBSERVATION: Rule = Rule {
    id: RuleId("session/observation"),
    name: "Staying near after a session",
    statement: "After a session people are observed for 15 minutes or more: 30 per cent of arrests come in the cool-down, 10 per \
                cent after it (secondary). Alone at home: near the telephone for as long; the session page says so.",
    sources: &[SourceId("thow-2006")],
    tag: Tag::Read,
    inputs: &[Input::number("minutes", "minutes", 0.0, 240.0)],
    evaluate: |values| {
        let minutes = values.number("minutes")?;
        Ok(Answer::new(
            Value::Flag(minutes >= OBSERVED_MIN),
            format!("{minutes} against {OBSERVED_MIN} minutes"),
        ))
    },
};

const POSTURES: &[&str] = &["seated", "standing", "rising", "walking", "lying"];

const FLOOR: Rule = Rule {
    id: RuleId("session/no-floor-work"),
    name: "No floor work in the circuit",
    statement: "Nothing lying or on the floor between warm-up and cool-down: lying down fills the heart, standing up from it lets \
                the pressure fall (secondary). No exercise of this program is done lying.",
    sources: &[SourceId("thow-2006")],
    tag: Tag::Read,
    inputs: &[Input::choice("posture", POSTURES)],
    evaluate: |values| {
        let posture = values.text("posture")?;
        Ok(Answer::new(Value::Flag(posture != "lying"), posture))
    },
};

/// Seconds of an easy station: from, to.
// Source: thow-2006 (secondary): 30 to 60 s, at most a minute.
const EASY_S: (f64, f64) = (30.0, 60.0);

const EASY: Rule = Rule {
    id: RuleId("session/easy-station"),
    name: "How long an easy station lasts",
    statement: "Active recovery 30 to 60 seconds, at most a minute, of low intensity or for muscles not in use, standing with the \
                feet moving (secondary); where standing is not for a person, seated.",
    sources: &[SourceId("thow-2006")],
    tag: Tag::Read,
    inputs: &[Input::number("seconds", "s", 0.0, 600.0)],
    evaluate: |values| {
        let seconds = values.number("seconds")?;
        let (from, to) = EASY_S;
        Ok(Answer::new(
            Value::Flag((from..=to).contains(&seconds)),
            format!("{seconds} within {from} to {to}"),
        ))
    },
};

/// Ratios of brisk to easy time in the order of progress; the last step is continuous.
// Source: cv-ar-steps (recalled, no primary).
const RATIOS: [f64; 3] = [1.0, 2.0, 3.0];

const RATIO: Rule = Rule {
    id: RuleId("session/brisk-to-easy"),
    name: "Brisk to easy time",
    statement: "Brisk stations grow and easy ones shrink until the work is continuous (secondary); often 1 to 1, 2 to 1, 3 to 1, \
                continuous (recalled, no primary source). Used in the order of the ladder.",
    sources: &[SourceId("thow-2006"), SourceId("cv-ar-steps")],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("brisk_s", "s", 1.0, 3600.0),
        Input::number("easy_s", "s", 0.0, 600.0),
    ],
    evaluate: |values| {
        let (brisk, easy) = (values.number("brisk_s")?, values.number("easy_s")?);
        if easy <= 0.0 {
            return Ok(Answer::new(
                Value::Text("continuous".to_owned()),
                format!("{brisk} s without an easy station"),
            ));
        }
        let ratio = brisk / easy;
        let word = RATIOS
            .iter()
            .rev()
            .find(|step| ratio >= **step)
            .map_or("under 1 to 1".to_owned(), |step| format!("{step} to 1"));
        Ok(Answer::new(
            Value::Text(word),
            format!("{brisk} / {easy} = {}", short(ratio)),
        ))
    },
};

// Sources: acsm-getp (recalled): 1 to 5 minutes a session or 10 to 20 per cent a week; squires-2018 (recalled): 5 to 10
// per cent of intensity.
const MINUTES_MORE: (f64, f64) = (1.0, 5.0);
const WEEK_PCT: (f64, f64) = (10.0, 20.0);
const INTENSITY_PCT: (f64, f64) = (5.0, 10.0);

fn grown(values: &Values) -> Result<Answer, RuleError> {
    let value = values.number("now")?;
    let by_share =
        |(from, to): (f64, f64)| (value * (1.0 + from / 100.0), value * (1.0 + to / 100.0));
    let ((from, to), unit) = match values.text("of")? {
        "minutes-a-session" => ((value + MINUTES_MORE.0, value + MINUTES_MORE.1), "minutes"),
        "minutes-a-week" => (by_share(WEEK_PCT), "minutes a week"),
        _ => (by_share(INTENSITY_PCT), "of the same unit"),
    };
    Ok(Answer::new(
        Value::Text(format!("{} to {} {unit}", short(from), short(to))),
        format!("from {value}"),
    )
    .keep_in_mind("duration comes before intensity; one of them at a time"))
}

const PROGRESS: Rule = Rule {
    id: RuleId("session/progression"),
    name: "How much a session grows",
    statement: "1 to 5 minutes a session, or 10 to 20 per cent of the minutes a week, and intensity by 5 to 10 per cent (all \
                recalled). The ladder's cap of 15 per cent a week lies within.",
    sources: &[SourceId("acsm-getp"), SourceId("squires-2018")],
    tag: Tag::Recalled,
    inputs: &[
        Input::choice("of", &["minutes-a-session", "minutes-a-week", "intensity"]),
        Input::number("now", "of its unit", 0.0, 2000.0),
    ],
    evaluate: grown,
};

// Source: trial-protocol-2021 (stroke): from 40 per cent of reserve; minutes first, to 30; then 5 per cent steps to 59.
const TRIAL_FIRST_PCT: f64 = 40.0;
const TRIAL_STEP_PCT: f64 = 5.0;
const TRIAL_MOST_PCT: f64 = 59.0;
const TRIAL_MINUTES: f64 = 30.0;

const TRIAL: Rule = Rule {
    id: RuleId("session/trial-protocol"),
    name: "Progress as in a trial after stroke",
    statement: "40 per cent of heart-rate reserve for 5 to 10 minutes, longer as tolerated to 30; only then 5 per cent steps up to \
                59, effort 11 to 13 of 6 to 20. For information.",
    sources: &[SourceId("trial-protocol-2021")],
    tag: Tag::Read,
    inputs: &[
        Input::number("minutes_tolerated", "minutes", 0.0, 240.0),
        Input::number("share_pct", "per cent of reserve", 0.0, 100.0),
    ],
    evaluate: |values| {
        let (minutes, share) = (
            values.number("minutes_tolerated")?,
            values.number("share_pct")?,
        );
        let (next, why) = if minutes < TRIAL_MINUTES {
            (
                share.clamp(TRIAL_FIRST_PCT, TRIAL_MOST_PCT),
                "longer before harder",
            )
        } else {
            let next = (share + TRIAL_STEP_PCT).clamp(TRIAL_FIRST_PCT, TRIAL_MOST_PCT);
            (next, "30 minutes are reached, one step harder")
        };
        Ok(Answer::new(
            Value::Number(next, "per cent of reserve"),
            format!("{minutes} of {TRIAL_MINUTES} minutes at {share} per cent: {why}"),
        ))
    },
};

/// Shares of the one-repetition maximum in per cent: body, part, from, to.
// Sources: keteyian-2019, table 6 (read); acsm-getp, to begin (recalled).
const STRENGTH: &[(&str, &str, f64, f64)] = &[
    ("table-of-2019", "upper", 40.0, 70.0),
    ("table-of-2019", "lower", 50.0, 70.0),
    ("us-to-begin", "upper", 30.0, 40.0),
    ("us-to-begin", "lower", 50.0, 60.0),
];

const RESISTANCE: Rule = Rule {
    id: RuleId("session/resistance"),
    name: "Loads of strength work",
    statement: "Arms 40 to 70 per cent of the most that can be lifted once, legs 50 to 70, 10 to 15 repetitions, two or three times \
                a week; to begin 30 to 40 and 50 to 60, effort 11 to 13 of 6 to 20 (recalled). For information: at home nobody \
                measures the most, so effort leads.",
    sources: &[SourceId("keteyian-2019"), SourceId("acsm-getp")],
    tag: Tag::Recalled,
    inputs: &[
        Input::choice("table", &["table-of-2019", "us-to-begin"]),
        Input::choice("part", &["upper", "lower"]),
        Input::number("most_once_kg", "kg", 0.1, 500.0),
    ],
    evaluate: |values| {
        let (table, part) = (values.text("table")?, values.text("part")?);
        let most = values.number("most_once_kg")?;
        let Some((_, _, from, to)) = STRENGTH.iter().find(|one| one.0 == table && one.1 == part)
        else {
            return refuse("this table and part were not read; take another");
        };
        Ok(Answer::new(
            Value::Text(format!(
                "{} to {} kg",
                short(most * from / 100.0),
                short(most * to / 100.0)
            )),
            format!("{from} to {to} per cent of {most} kg"),
        )
        .keep_in_mind("10 to 15 repetitions, two or three times a week; never while the breastbone or a device's arm heals"))
    },
};

/// Days from discharge within which rehabilitation begins.
// Source: nice-ng185.
const BEGINS_WITHIN_DAYS: f64 = 10.0;

const BEGINS: Rule = Rule {
    id: RuleId("session/first-within-10-days"),
    name: "How soon the first session is offered",
    statement: "Rehabilitation begins before discharge, with a session within 10 days of it. For information: the day of \
                discharge from hospital is not part of the record.",
    sources: &[SourceId("nice-ng185")],
    tag: Tag::Read,
    inputs: &[Input::number("days_since_discharge", "days", 0.0, 4000.0)],
    evaluate: |values| {
        let days = values.number("days_since_discharge")?;
        Ok(Answer::new(
            Value::Flag(days <= BEGINS_WITHIN_DAYS),
            format!("{days} of {BEGINS_WITHIN_DAYS} days"),
        ))
    },
};

/// Habits of home circuits: a word for each, the setting with a range that it is a value of, and what is usual.
// Common practice, no source: no publication was found for any of them.
const HABITS: [(&str, Option<&str>, &str); 8] = [
    (
        "brisk-station",
        Some("cardiovascular_s"),
        "about 60 s at the start",
    ),
    (
        "easy-station",
        Some("active_recovery_s"),
        "about 30 s at the start",
    ),
    ("effort", Some("effort_band"), "up to 4 to 5 of 10"),
    ("stretch", Some("warm_up_stretch_s"), "held 8 to 10 s"),
    ("raises", None, "arms no higher than the shoulder"),
    ("step-ups", None, "both legs lead"),
    (
        "second-round",
        None,
        "no second warm-up, always a cool-down",
    ),
    ("warm-up-alone", None, "counts as a session"),
];

const COMMON_PRACTICE: Rule = Rule {
    id: RuleId("session/common-practice"),
    name: "Common practice in home circuits",
    statement: "What is usual and has no source: brisk stations about 60 s and easy ones about 30 s at the start, effort 4 to 5 of \
                10 as the upper working mark, warm-up stretches held 8 to 10 s, raises no higher than the shoulder, both legs \
                lead in step-ups, a second round needs no second warm-up but always a cool-down, a warm-up alone counts as a \
                session. Numbers are settings with a range, in which the composer chooses for each person.",
    sources: &[],
    tag: Tag::CommonPractice,
    inputs: &[Input::choice(
        "of",
        &[
            "brisk-station",
            "easy-station",
            "effort",
            "stretch",
            "raises",
            "step-ups",
            "second-round",
            "warm-up-alone",
        ],
    )],
    evaluate: |values| {
        let of = values.text("of")?;
        let Some((_, setting, usual)) = HABITS.iter().find(|one| one.0 == of) else {
            return refuse("this habit is not in the table; take another");
        };
        let working = setting.map_or_else(
            || "a rule of the composer or of the words".to_owned(),
            |setting| format!("the setting {setting} holds it in its range"),
        );
        Ok(Answer::new(Value::Text((*usual).to_owned()), working)
            .keep_in_mind("common practice, no source"))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[
    LENGTH,
    OBSERVATION,
    FLOOR,
    EASY,
    RATIO,
    PROGRESS,
    TRIAL,
    RESISTANCE,
    BEGINS,
    COMMON_PRACTICE,
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::programme::Posture;
    use crate::service::Service;

    fn answer(rule: &Rule, given: &[(&str, &str)]) -> String {
        let pairs: Vec<(String, String)> = given
            .iter()
            .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()))
            .collect();
        let values = Values::check(rule, &pairs).unwrap();
        (rule.evaluate)(&values).unwrap().value.to_string()
    }

    // Sources: thow-2006 (secondary), acsm-getp (recalled), racgp-exercise. Both sides of each end.
    #[test]
    fn published_lengths_of_the_parts() {
        let of = |body, part, minutes| {
            answer(
                &LENGTH,
                &[("body", body), ("part", part), ("minutes", minutes)],
            )
        };
        assert_eq!(of("uk", "warm-up", "14.9"), "shorter");
        assert_eq!(of("uk", "warm-up", "15"), "within");
        assert_eq!(of("uk", "conditioning", "30"), "within");
        assert_eq!(of("uk", "conditioning", "30.1"), "longer");
        assert_eq!(of("us", "conditioning", "60"), "within");
        assert_eq!(of("australia", "conditioning", "45.1"), "longer");
        assert_eq!(of("uk", "cool-down", "10"), "within");
        assert_eq!(of("us", "cool-down", "4.9"), "shorter");
    }

    // Sources: thow-2006 (secondary) 15 minutes, 30 to 60 s; nice-ng185 10 days.
    #[test]
    fn published_observation_easy_stations_and_first_session() {
        let yes = |rule, name, value| answer(rule, &[(name, value)]) == "yes";
        assert!(!yes(&OBSERVATION, "minutes", "14") && yes(&OBSERVATION, "minutes", "15"));
        assert!(!yes(&EASY, "seconds", "29") && yes(&EASY, "seconds", "30"));
        assert!(yes(&EASY, "seconds", "60") && !yes(&EASY, "seconds", "61"));
        let first = "days_since_discharge";
        assert!(yes(&BEGINS, first, "10") && !yes(&BEGINS, first, "11"));
    }

    // Source: cv-ar-steps (recalled): 1 to 1, 2 to 1, 3 to 1, continuous.
    #[test]
    fn published_steps_of_brisk_to_easy() {
        let of = |brisk, easy| answer(&RATIO, &[("brisk_s", brisk), ("easy_s", easy)]);
        assert_eq!(of("30", "60"), "under 1 to 1");
        assert_eq!(of("60", "60"), "1 to 1");
        assert_eq!(of("60", "30"), "2 to 1");
        assert_eq!(of("180", "60"), "3 to 1");
        assert_eq!(of("600", "0"), "continuous");
    }

    // Sources: acsm-getp and squires-2018 (recalled); trial-protocol-2021; keteyian-2019, table 6. By hand.
    #[test]
    fn published_progress_and_loads() {
        let progress = |of, now| answer(&PROGRESS, &[("of", of), ("now", now)]);
        assert_eq!(progress("minutes-a-session", "20"), "21 to 25 minutes");
        assert_eq!(progress("minutes-a-week", "60"), "66 to 72 minutes a week");
        assert_eq!(progress("intensity", "4"), "4.2 to 4.4 of the same unit");
        let trial = |minutes, share| {
            answer(
                &TRIAL,
                &[("minutes_tolerated", minutes), ("share_pct", share)],
            )
        };
        assert_eq!(trial("10", "40"), "40 per cent of reserve");
        assert_eq!(trial("30", "40"), "45 per cent of reserve");
        assert_eq!(trial("30", "57"), "59 per cent of reserve");
        let load = |table, part| {
            answer(
                &RESISTANCE,
                &[("table", table), ("part", part), ("most_once_kg", "10")],
            )
        };
        assert_eq!(load("table-of-2019", "upper"), "4 to 7 kg");
        assert_eq!(load("table-of-2019", "lower"), "5 to 7 kg");
        assert_eq!(load("us-to-begin", "upper"), "3 to 4 kg");
        assert_eq!(load("us-to-begin", "lower"), "5 to 6 kg");
    }

    #[test]
    fn law_no_posture_of_an_exercise_is_lying_and_easy_stations_keep_to_their_range() {
        for posture in Posture::ALL {
            let said = answer(&FLOOR, &[("posture", posture.word())]);
            assert_eq!(said, "yes", "{posture}");
        }
        assert_eq!(answer(&FLOOR, &[("posture", "lying")]), "no");
        let easy = Service::cautious().lengths.active_recovery_s;
        for seconds in [easy.least_s, easy.first_s, easy.most_s] {
            let said = answer(&EASY, &[("seconds", &seconds.to_string())]);
            assert_eq!(said, "yes", "{seconds} s");
        }
    }
}
