//! The resting rate in atrial fibrillation and flutter.

use super::day;
use super::gate::Gate;
use crate::assessment::Rhythm;
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::inputs::RESTING_HR;
use crate::known::Known;

/// Resting rate above which a session is held in fibrillation, whatever the set of cut-offs says.
// Source: uk-phase-iv (secondary).
const HELD_ABOVE_BPM: f64 = 100.0;
/// Resting rate under which the lenient control of the rate aims.
// Source: race-ii (recalled).
const LENIENT_UNDER_BPM: f64 = 110.0;

const RESTING: Rule = Rule {
    id: RuleId("day/fibrillation-resting-rate"),
    name: "Resting rate in atrial fibrillation",
    statement: "In atrial fibrillation or flutter a resting rate above 100 holds the session, whatever the set of cut-offs \
                says; the lenient control of the rate aims under 110 (recalled).",
    sources: &[SourceId("uk-phase-iv"), SourceId("race-ii")],
    tag: Tag::Recalled,
    inputs: &[RESTING_HR, Input::flag("fibrillation_or_flutter")],
    evaluate: |values| {
        let rate = values.number("resting_hr_bpm")?;
        let holds = values.flag("fibrillation_or_flutter")? && rate > HELD_ABOVE_BPM;
        let word = if holds {
            Weight::NotToday.word()
        } else {
            "nothing"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("{rate} against {HELD_ABOVE_BPM}; {}", control(rate)),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[RESTING];

fn control(rate_bpm: f64) -> &'static str {
    if rate_bpm < LENIENT_UNDER_BPM {
        "within the lenient control of under 110"
    } else {
        "not within the lenient control of under 110"
    }
}

/// The resting rate of the newest examination, where it holds in fibrillation.
pub(super) fn held_rate(known: &Known) -> Option<f64> {
    let fibrillates = matches!(
        known.case.heart.rhythm,
        Some(Rhythm::AtrialFibrillation | Rhythm::AtrialFlutter)
    );
    let rate = known.examination()?.resting_hr_bpm?;
    (fibrillates && rate > HELD_ABOVE_BPM).then_some(rate)
}

/// Asks the resting rate of the newest examination in fibrillation; a very high one is told by its own hard stop.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    if let Some(rate) = held_rate(known).filter(|_| !day::is_very_fast(known)) {
        let text = format!(
            "Resting rate {rate} in atrial fibrillation or flutter, {}. Not today: count a full minute after 5 minutes' \
             rest; if it stays above 100, telephone the doctor today about the control of the rate",
            control(rate)
        );
        gate.say(RESTING.finding(Weight::NotToday, text).with(Named::number(
            "resting_hr_bpm",
            rate,
            "bpm",
        )));
    }
}
