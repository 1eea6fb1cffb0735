//! Oxygen saturation in chronic obstructive lung disease.

use super::gate::Gate;
use crate::assessment::HistoryItem;
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;

/// Saturation kept up in lung disease.
// Source: adaptation-practice (recalled).
const KEPT_UP_PCT: f64 = 88.0;
/// Saturation under which exercise counts as desaturating.
// Source: garvey-2012.
const DESATURATED_UNDER_PCT: f64 = 89.0;
/// Grades of resting saturation: mild from 93 to 95, moderate from 88, severe under it.
// Source: adaptation-practice (recalled); at 93 itself the worse grade is taken (ours).
const MILD_TO_PCT: f64 = 95.0;
const MODERATE_TO_PCT: f64 = 93.0;
/// Saturation under which a field walk is stopped.
// Source: field-walk-stop (recalled).
const WALK_STOPS_UNDER_PCT: f64 = 80.0;

const SATURATION: Input = Input::number("spo2_pct", "per cent", 50.0, 100.0);

const LUNGS: Rule = Rule {
    id: RuleId("day/lung-disease-saturation"),
    name: "Oxygen saturation in lung disease",
    statement: "With chronic obstructive lung disease a resting saturation under 88 per cent holds the session, whatever the \
                set of cut-offs says (recalled); under 89 counts as desaturated and is a caution.",
    sources: &[SourceId("garvey-2012"), SourceId("adaptation-practice")],
    tag: Tag::Recalled,
    inputs: &[SATURATION],
    evaluate: |values| {
        let pct = values.number("spo2_pct")?;
        let word = weight_of(pct).map_or("nothing", Weight::word);
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!(
                "{pct} per cent against {KEPT_UP_PCT} and {DESATURATED_UNDER_PCT}: {}",
                grade(pct)
            ),
        ))
    },
};

const GRADE: Rule = Rule {
    id: RuleId("day/saturation-grade"),
    name: "How low the oxygen saturation is",
    statement: "Mild 93 to 95 per cent, moderate 88 to 93, severe under 88 (recalled); at 93 itself moderate (ours). \
                For information.",
    sources: &[SourceId("adaptation-practice")],
    tag: Tag::Recalled,
    inputs: &[SATURATION],
    evaluate: |values| {
        let pct = values.number("spo2_pct")?;
        Ok(Answer::new(
            Value::Text(grade(pct).to_owned()),
            format!("{pct} per cent against {MILD_TO_PCT}, {MODERATE_TO_PCT} and {KEPT_UP_PCT}"),
        ))
    },
};

const WALK: Rule = Rule {
    id: RuleId("field-test/stop-saturation"),
    name: "When the saturation stops a field walk",
    statement: "A field walk is stopped when the oxygen saturation falls under 80 per cent (recalled). For information: the \
                home programme has no reading in movement.",
    sources: &[SourceId("field-walk-stop")],
    tag: Tag::Recalled,
    inputs: &[SATURATION],
    evaluate: |values| {
        let pct = values.number("spo2_pct")?;
        let word = if pct < WALK_STOPS_UNDER_PCT {
            "stop"
        } else {
            "go on"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("{pct} per cent against {WALK_STOPS_UNDER_PCT}"),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[LUNGS, GRADE, WALK];

fn weight_of(pct: f64) -> Option<Weight> {
    if pct < KEPT_UP_PCT {
        Some(Weight::NotToday)
    } else if pct < DESATURATED_UNDER_PCT {
        Some(Weight::Caution)
    } else {
        None
    }
}

fn grade(pct: f64) -> &'static str {
    if pct < KEPT_UP_PCT {
        "severe"
    } else if pct <= MODERATE_TO_PCT {
        "moderate"
    } else if pct <= MILD_TO_PCT {
        "mild"
    } else {
        "not low"
    }
}

/// Asks the saturation of the newest examination in lung disease.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    if !known.has(HistoryItem::ChronicObstructivePulmonaryDisease) {
        return;
    }
    let Some(pct) = known.examination().and_then(|one| one.spo2_pct) else {
        return;
    };
    if let Some(weight) = weight_of(pct) {
        let text = match weight {
            Weight::NotToday => format!(
                "Oxygen saturation {pct} per cent with lung disease, under 88. Not today: measure again with warm hands; if \
                 it stays, telephone the doctor today"
            ),
            _ => format!(
                "Oxygen saturation {pct} per cent with lung disease: it counts as low under 89. Measure again during the \
                 watched session"
            ),
        };
        gate.say(
            LUNGS
                .finding(weight, text)
                .with(Named::number("spo2_pct", pct, "per cent")),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Source: garvey-2012 89 per cent; adaptation-practice (recalled) 88 and the grades. Both sides of each.
    #[test]
    fn published_saturations_in_lung_disease() {
        assert_eq!(weight_of(87.9), Some(Weight::NotToday));
        assert_eq!(weight_of(88.0), Some(Weight::Caution));
        assert_eq!(weight_of(88.9), Some(Weight::Caution));
        assert_eq!(weight_of(89.0), None);
        let grades = [87.0, 88.0, 93.0, 93.1, 95.0, 95.1].map(grade);
        assert_eq!(
            grades,
            ["severe", "moderate", "moderate", "mild", "mild", "not low"]
        );
    }
}
