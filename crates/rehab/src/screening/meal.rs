//! A meal or alcohol before a session.

use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};

/// Hours that a session waits after a meal or alcohol.
// Source: nhs-exercise-leaflets.
const MEAL_WAITS_HOURS: f64 = 2.0;

const MEAL: Rule = Rule {
    id: RuleId("day/meal-or-alcohol"),
    name: "Two hours after a meal or alcohol",
    statement: "A session waits until two hours after a meal or alcohol; asked for in the check of the day, and told \
                among what is made ready.",
    sources: &[SourceId("nhs-exercise-leaflets")],
    tag: Tag::Read,
    inputs: &[Input::number("hours_since", "hours", 0.0, 72.0)],
    evaluate: |values| {
        let since = values.number("hours_since")?;
        let left = (MEAL_WAITS_HOURS - since).max(0.0);
        Ok(Answer::new(
            Value::Text(if left > 0.0 { "wait" } else { "nothing" }.to_owned()),
            format!("{left} h of {MEAL_WAITS_HOURS} h are left"),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[MEAL];
