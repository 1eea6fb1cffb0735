//! Whether nothing but the age of the examination speaks against exercise.

use crate::assessed::{Decision, Screening};
use crate::evidence::Weight;

/// The examination only ran out: no event, medicine or finding made it void. At home the agreed page goes on under the
/// day check of every session; nothing new is given until somebody has examined again.
pub(super) fn only_ran_out(screening: &Screening) -> bool {
    let mut holding = screening
        .findings
        .iter()
        .filter(|finding| matches!(finding.weight, Weight::NotToday | Weight::NotAtHome))
        .peekable();
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
