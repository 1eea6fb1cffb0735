//! Pressure that fell, or rose to a stop value, while a practitioner watched.

use super::gate::Gate;
use crate::assessment::{Pressure, Watched};
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;
use crate::watching::{STOP_DIASTOLIC_MMHG, STOP_FALL_MMHG, STOP_SYSTOLIC_MMHG, at_stop_value};

/// Fall of systolic pressure in exercise with rising load that stops it.
// Source: aha-acc-stop: more than 10 with rising load.
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

const HIGH: Rule = Rule {
    id: RuleId("screening/pressure-high-watched"),
    name: "Pressure at a stop value in exercise",
    statement: "A pressure of 240 systolic or 110 diastolic, or more, in exercise stops the session and holds the next \
                until somebody has examined on a later day: training sheets stop at 240 to 250 over 110 to 115, of \
                which we take the lower ends, the list for exercise tests above 250 over 115.",
    sources: &[
        SourceId("cr-training-sheets"),
        SourceId("aha-acc-stop"),
        SourceId("day-gate-ours"),
    ],
    tag: Tag::Ours,
    inputs: &[
        Input::number("systolic_mmhg", "mmHg", 50.0, 280.0),
        Input::number("diastolic_mmhg", "mmHg", 20.0, 180.0),
    ],
    evaluate: |values| {
        let bp = Pressure {
            systolic_mmhg: values.number("systolic_mmhg")?,
            diastolic_mmhg: values.number("diastolic_mmhg")?,
        };
        let word = if at_stop_value(bp) {
            Weight::NotToday.word()
        } else {
            "nothing"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("against {STOP_SYSTOLIC_MMHG}/{STOP_DIASTOLIC_MMHG} mmHg"),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[FALL, HIGH];

fn weight_of(fall_mmhg: f64) -> Option<Weight> {
    if fall_mmhg >= STOP_FALL_MMHG {
        Some(Weight::NotToday)
    } else if fall_mmhg > US_FALL_MMHG {
        Some(Weight::Caution)
    } else {
        None
    }
}

/// What was watched since the newest examination, its own day included: one on a later day settles the matter.
pub(super) fn since_examined<'a>(known: &Known<'a>) -> impl Iterator<Item = &'a Watched> {
    let examined = known.examination().map(|one| one.date);
    let on = known.on;
    known
        .case
        .watched
        .iter()
        .filter(move |one| one.date <= on && examined.is_none_or(|day| one.date >= day))
}

/// Asks everything that was watched since the newest examination.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    apply_high(known, gate);
    apply_fall(known, gate);
}

fn apply_high(known: &Known, gate: &mut Gate) {
    let taken = since_examined(known).filter_map(|one| one.bp.map(|bp| (bp, one.date)));
    let high = taken
        .filter(|(bp, _)| at_stop_value(*bp))
        .max_by_key(|(_, date)| *date);
    let Some((bp, date)) = high else {
        return;
    };
    let text = format!(
        "Pressure {}/{} in exercise on {date}: stopped from {STOP_SYSTOLIC_MMHG} or {STOP_DIASTOLIC_MMHG}. Not today: \
         telephone the doctor, then examine again",
        bp.systolic_mmhg, bp.diastolic_mmhg
    );
    gate.say(
        HIGH.finding(Weight::NotToday, text)
            .with(Named::number("systolic_mmhg", bp.systolic_mmhg, "mmHg"))
            .with(Named::number("diastolic_mmhg", bp.diastolic_mmhg, "mmHg"))
            .with(Named::date("watched", date)),
    );
}

fn apply_fall(known: &Known, gate: &mut Gate) {
    let Some(examination) = known.examination() else {
        return;
    };
    let Some(resting) = examination.resting_bp else {
        return;
    };
    let least = since_examined(known)
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

    // Source: training sheets, lower ends of 240 to 250 over 110 to 115.
    #[test]
    fn published_pressures_that_stop_exercise() {
        let stops = |systolic_mmhg, diastolic_mmhg| {
            at_stop_value(Pressure {
                systolic_mmhg,
                diastolic_mmhg,
            })
        };
        assert!(!stops(239.0, 109.0));
        assert!(stops(240.0, 80.0));
        assert!(stops(180.0, 110.0));
    }
}
