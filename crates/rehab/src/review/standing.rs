//! What of the screening speaks against exercise, since when, and whether it is nothing but the age of the examination.

use super::ReviewInput;
use crate::assessed::{Decision, Screening};
use crate::evidence::{Finding, Value, Weight};
use jiff::civil::Date;

/// The examination only ran out: no event, medicine or finding made it void. At home the agreed page goes on under the
/// day check of every session; nothing new is given until somebody has examined again.
pub(super) fn only_ran_out(screening: &Screening) -> bool {
    let mut holding = holding(screening).peekable();
    screening.decision == Decision::NotToday
        && holding.peek().is_some()
        && holding.all(|finding| {
            finding.rule.0 == "screening/examination-validity"
                && finding
                    .values
                    .iter()
                    .any(|value| value.name == "valid_until")
        })
}

fn holding(screening: &Screening) -> impl Iterator<Item = &Finding> {
    screening
        .findings
        .iter()
        .filter(|finding| matches!(finding.weight, Weight::NotToday | Weight::NotAtHome))
}

/// The last day of validity lies ahead of its cause and is none.
fn days_of(finding: &Finding) -> impl Iterator<Item = Date> {
    finding
        .values
        .iter()
        .filter(|value| value.name != "valid_until")
        .filter_map(|value| match value.value {
            Value::Date(date) => Some(date),
            _ => None,
        })
}

/// What speaks against exercise, each by its rule and its days: the same rule with a later day is another cause.
pub(super) fn causes(screening: &Screening) -> Vec<String> {
    let mut causes: Vec<String> = holding(screening)
        .map(|finding| {
            let days = days_of(finding).map(|day| format!("@{day}"));
            format!("{}{}", finding.rule, days.collect::<String>())
        })
        .collect();
    causes.sort();
    causes.dedup();
    causes
}

/// Day since which it speaks: of its newest cause, else of the examination, and not before the page was given.
pub(super) fn since(input: &ReviewInput<'_>) -> Date {
    let screening = &input.assessed.screening;
    let cause = holding(screening).flat_map(days_of).max();
    let known = [
        cause.max(screening.examined),
        input.stage_since,
        input.case.status.since,
    ];
    let day = known.into_iter().flatten().next().unwrap_or(input.on);
    day.max(input.stage_since.unwrap_or(day)).min(input.on)
}
