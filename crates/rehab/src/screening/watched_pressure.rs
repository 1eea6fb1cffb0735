//! Pressure that fell while a practitioner watched.

use super::gate::Gate;
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;

/// Fall of systolic pressure in exercise that stops it.
// Source: uk-phase-iv (secondary): 20 mmHg; aha-acc-stop: more than 10 with rising load.
const UK_FALL_MMHG: f64 = 20.0;
const US_FALL_MMHG: f64 = 10.0;

const FALL: Rule = Rule {
    id: RuleId("screening/pressure-fall-watched"),
    name: "Pressure that falls in exercise",
    statement: "A systolic pressure that falls by 20 mmHg or more under the resting one in exercise (UK), or by more than \
                10 with rising load (US stop rule), stops the session and holds the next until the doctor has answered. \
                In the newest watched session 20 holds and more than 10 is a caution, because the load of a single \
                reading is not known to have risen (ours).",
    sources: &[
        SourceId("uk-phase-iv"),
        SourceId("aha-acc-stop"),
        SourceId("day-gate-ours"),
    ],
    tag: Tag::Ours,
    inputs: &[
        Input::number("resting_systolic_mmhg", "mmHg", 50.0, 280.0),
        Input::number("exercise_systolic_mmhg", "mmHg", 50.0, 280.0),
    ],
    evaluate: |values| {
        let resting = values.number("resting_systolic_mmhg")?;
        let fall = resting - values.number("exercise_systolic_mmhg")?;
        let word = weight_of(fall).map_or("nothing", Weight::word);
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("fall of {fall} mmHg"),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[FALL];

fn weight_of(fall_mmhg: f64) -> Option<Weight> {
    if fall_mmhg >= UK_FALL_MMHG {
        Some(Weight::NotToday)
    } else if fall_mmhg > US_FALL_MMHG {
        Some(Weight::Caution)
    } else {
        None
    }
}

/// Asks the newest watched session since the newest event; an examination after it settles the matter.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    let Some(examination) = known.examination() else {
        return;
    };
    let Some(resting) = examination.resting_bp else {
        return;
    };
    let least = known
        .case
        .watched
        .iter()
        .filter(|one| one.date >= examination.date && one.date <= known.on)
        .filter_map(|one| one.bp.map(|bp| (bp.systolic_mmhg, one.date)))
        .min_by(|(a, _), (b, _)| a.total_cmp(b));
    let Some((systolic, date)) = least else {
        return;
    };
    let fall = resting.systolic_mmhg - systolic;
    if let Some(weight) = weight_of(fall) {
        let what = format!("Pressure fell by {fall} in exercise on {date}, to {systolic}");
        let text = match weight {
            Weight::NotToday => {
                format!("{what}. Not today: telephone the doctor, then examine again")
            }
            _ => format!("{what}: measure again at the next visit, while the load rises"),
        };
        gate.say(
            FALL.finding(weight, text)
                .with(Named::number("fall_mmhg", fall, "mmHg"))
                .with(Named::date("watched", date)),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Source: UK text 20 mmHg or more; US stop rule more than 10 mmHg.
    #[test]
    fn published_falls_of_pressure() {
        assert_eq!(weight_of(10.0), None);
        assert_eq!(weight_of(11.0), Some(Weight::Caution));
        assert_eq!(weight_of(19.0), Some(Weight::Caution));
        assert_eq!(weight_of(20.0), Some(Weight::NotToday));
    }
}
