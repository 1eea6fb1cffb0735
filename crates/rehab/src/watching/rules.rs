//! The rule of a watched turn, evaluated alone.

use super::{STOP_DIASTOLIC_MMHG, STOP_FALL_MMHG, STOP_SYSTOLIC_MMHG};
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::review::FAR_OVER_BPM;

const EFFORT: Input = Input::number("effort", "effort", 0.0, 20.0).or_none();
const BAND_HIGH: Input = Input::number("band_high", "effort", 0.0, 20.0);
const PULSE: Input = Input::number("pulse_bpm", "beats a minute", 25.0, 240.0).or_none();
const HARD: Input = Input::number("hard_limit_bpm", "beats a minute", 40.0, 240.0).or_none();
const GUIDING: Input = Input::number("guiding_bpm", "beats a minute", 40.0, 240.0).or_none();
const SYSTOLIC: Input = Input::number("systolic_mmhg", "mmHg", 50.0, 280.0).or_none();
const DIASTOLIC: Input = Input::number("diastolic_mmhg", "mmHg", 20.0, 180.0).or_none();
const RESTING: Input = Input::number("resting_systolic_mmhg", "mmHg", 50.0, 280.0).or_none();

pub(super) const TURN: Rule = Rule {
    id: RuleId("eligibility/watched-turn"),
    name: "A watched turn that was in order",
    statement: "What is done alone was watched and found good, and all that was taken was in order: the effort not above \
                the agreed range, the pulse not above the hard limit nor more than 20 above a guiding one, the pressure \
                below 240 over 110 and not fallen by 20 or more under the resting one, no symptom that stops or has \
                changed. What is outside is watched again first; far outside, somebody is asked.",
    sources: &[
        SourceId("service-ours"),
        SourceId("cr-training-sheets"),
        SourceId("uk-phase-iv"),
    ],
    tag: Tag::Ours,
    inputs: &[
        Input::flag("technique_good"),
        EFFORT,
        BAND_HIGH,
        PULSE,
        HARD,
        GUIDING,
        SYSTOLIC,
        DIASTOLIC,
        RESTING,
        Input::flag("red_or_changed_symptom"),
    ],
    evaluate,
};

/// The rules of this module.
pub(crate) const RULES: &[Rule] = &[TURN];

fn evaluate(values: &Values) -> Result<Answer, RuleError> {
    let number = |name| values.optional_number(name);
    let above = |value: Option<f64>, limit: Option<f64>| {
        value.zip(limit).is_some_and(|(value, limit)| value > limit)
    };
    let from = |value: Option<f64>, limit: f64| value.is_some_and(|value| value >= limit);
    let systolic = number("systolic_mmhg");
    let fall = number("resting_systolic_mmhg")
        .zip(systolic)
        .map(|(resting, now)| resting - now);
    let guiding = number("guiding_bpm").map(|rate| rate + FAR_OVER_BPM);
    let (effort, pulse) = (number("effort"), number("pulse_bpm"));
    let found = [
        (!values.flag("technique_good")?, "technique"),
        (above(effort, Some(values.number("band_high")?)), "effort"),
        (
            above(pulse, number("hard_limit_bpm")) || above(pulse, guiding),
            "pulse",
        ),
        (
            from(systolic, STOP_SYSTOLIC_MMHG)
                || from(number("diastolic_mmhg"), STOP_DIASTOLIC_MMHG)
                || from(fall, STOP_FALL_MMHG),
            "pressure",
        ),
        (values.flag("red_or_changed_symptom")?, "symptom"),
    ];
    let outside: Vec<&str> = found
        .into_iter()
        .filter_map(|(is, what)| is.then_some(what))
        .collect();
    let (word, working) = if outside.is_empty() {
        ("in order", "nothing was outside".to_owned())
    } else {
        ("watch again", format!("outside: {}", outside.join(", ")))
    };
    Ok(Answer::new(Value::Text(word.to_owned()), working))
}
