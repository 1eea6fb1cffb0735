//! Taking a pulse at home: how long to count, what a miscounted beat costs, what is usual at rest.

use crate::assessment::Rhythm;
use crate::diary::PulseMethod;
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::{refuse, short};
use crate::quantity::HeartRate;

/// Usual resting rate of an adult, bpm.
// Source: medlineplus-pulse.
pub const RESTING_BPM: (f64, f64) = (60.0, 100.0);

/// The rate of a count over some seconds.
pub fn rate_of_count(beats: f64, seconds: f64) -> HeartRate {
    HeartRate::bpm(beats * 60.0 / seconds)
}

/// Seconds a way of taking the pulse counts; `None` for a tap or a strap.
pub const fn seconds_of(method: PulseMethod) -> Option<f64> {
    match method {
        PulseMethod::Count15s => Some(15.0),
        PulseMethod::Count30s => Some(30.0),
        PulseMethod::Count60s => Some(60.0),
        PulseMethod::Tap | PulseMethod::Strap => None,
    }
}

/// What one beat miscounted changes in the rate, bpm.
pub fn one_beat_bpm(seconds: f64) -> f64 {
    60.0 / seconds
}

/// Seconds to count: 60 when the pulse is or may be irregular, or in fibrillation or flutter; else 30, doubled.
///
/// Source: register `medlineplus-pulse`, `cornelis-2018`. Not known counts as irregular.
pub const fn seconds_to_count(rhythm: Option<Rhythm>, regular: Option<bool>) -> f64 {
    let steady_rhythm = matches!(rhythm, Some(Rhythm::Sinus | Rhythm::Paced));
    if steady_rhythm && matches!(regular, Some(true)) {
        30.0
    } else {
        60.0
    }
}

/// Whether a way of taking the pulse may be trusted in a rhythm: in fibrillation and flutter only the full minute.
///
/// Source: register `cornelis-2018`; an optical or automatic rate may be wrong in fibrillation.
pub const fn trusted(method: PulseMethod, rhythm: Option<Rhythm>) -> bool {
    match rhythm {
        Some(Rhythm::AtrialFibrillation | Rhythm::AtrialFlutter) => {
            matches!(method, PulseMethod::Count60s)
        }
        _ => true,
    }
}

const COUNT: Rule = Rule {
    id: RuleId("pulse/count"),
    name: "Heart rate from a count",
    statement: "Fingers, not thumb; rate = beats x 60 / seconds. One beat miscounted is 4 bpm in 15 s, 2 in 30 s, 1 in 60 s.",
    sources: &[SourceId("medlineplus-pulse")],
    tag: Tag::Read,
    inputs: &[
        Input::number("beats", "beats", 0.0, 240.0),
        Input::number("seconds", "s", 10.0, 120.0),
    ],
    evaluate: |values| {
        let (beats, seconds) = (values.number("beats")?, values.number("seconds")?);
        let rate = rate_of_count(beats, seconds).to_bpm();
        Ok(Answer::new(
            Value::Number(rate, "bpm"),
            format!("{beats} x 60 / {seconds} = {}", short(rate)),
        )
        .keep_in_mind(format!(
            "one beat miscounted is {} bpm",
            short(one_beat_bpm(seconds))
        )))
    },
};

const HOW_LONG: Rule = Rule {
    id: RuleId("pulse/how-long"),
    name: "How long to count",
    statement: "Sinus rhythm and regular: 30 s doubled, or 60 s. Irregular, fibrillation, flutter or not known: the full 60 s or longer; a device's rate may be wrong.",
    sources: &[SourceId("medlineplus-pulse"), SourceId("cornelis-2018")],
    tag: Tag::Read,
    inputs: &[
        Input::choice(
            "rhythm",
            &[
                "sinus",
                "atrial-fibrillation",
                "atrial-flutter",
                "paced",
                "other",
            ],
        )
        .or_none(),
        Input::flag("regular").or_none(),
    ],
    evaluate: |values| {
        let rhythm = match values.optional_text("rhythm").map(Rhythm::parse) {
            Some(Ok(rhythm)) => Some(rhythm),
            Some(Err(_)) => return refuse("'rhythm' is not one of the list; choose one"),
            None => None,
        };
        let regular = values.optional_text("regular").map(|word| word == "yes");
        let seconds = seconds_to_count(rhythm, regular);
        Ok(Answer::new(
            Value::Number(seconds, "s"),
            "by rhythm and regularity; not known counts as irregular",
        ))
    },
};

const RESTING: Rule = Rule {
    id: RuleId("pulse/resting-adult"),
    name: "Usual resting rate",
    statement: "60 to 100 bpm in a resting adult; medicines and training bring it lower.",
    sources: &[SourceId("medlineplus-pulse")],
    tag: Tag::Read,
    inputs: &[Input::number(
        "resting_hr_bpm",
        "beats a minute",
        25.0,
        220.0,
    )],
    evaluate: |values| {
        let rate = values.number("resting_hr_bpm")?;
        let usual = (RESTING_BPM.0..=RESTING_BPM.1).contains(&rate);
        Ok(Answer::new(
            Value::Flag(usual),
            format!("{rate} against {} to {}", RESTING_BPM.0, RESTING_BPM.1),
        ))
    },
};

/// The rules of the pulse.
pub(crate) const RULES: &[Rule] = &[COUNT, HOW_LONG, RESTING];

#[cfg(test)]
mod tests {
    use super::*;

    // Source: medlineplus-pulse: 30 s times two, or 60 s; worked by hand: 34 beats in 30 s are 68 a minute.
    #[test]
    fn worked_counts() {
        assert_eq!(rate_of_count(34.0, 30.0).to_bpm(), 68.0);
        assert_eq!(rate_of_count(17.0, 15.0).to_bpm(), 68.0);
        assert_eq!(rate_of_count(68.0, 60.0).to_bpm(), 68.0);
        assert_eq!(
            (one_beat_bpm(15.0), one_beat_bpm(30.0), one_beat_bpm(60.0)),
            (4.0, 2.0, 1.0)
        );
    }

    #[test]
    fn irregular_or_unknown_is_counted_for_a_full_minute() {
        assert_eq!(seconds_to_count(Some(Rhythm::Sinus), Some(true)), 30.0);
        assert_eq!(seconds_to_count(Some(Rhythm::Sinus), Some(false)), 60.0);
        assert_eq!(seconds_to_count(Some(Rhythm::Sinus), None), 60.0);
        assert_eq!(
            seconds_to_count(Some(Rhythm::AtrialFibrillation), Some(true)),
            60.0
        );
        assert_eq!(seconds_to_count(None, Some(true)), 60.0);
    }

    #[test]
    fn in_fibrillation_only_the_full_minute_is_trusted() {
        let rhythm = Some(Rhythm::AtrialFibrillation);
        for method in PulseMethod::ALL {
            assert_eq!(trusted(*method, rhythm), *method == PulseMethod::Count60s);
            assert!(trusted(*method, Some(Rhythm::Sinus)));
        }
    }
}
