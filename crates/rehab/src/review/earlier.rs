//! What was raised by the record as it stood before: no later writing of the case takes an alert away.

use super::alerts::{self, Alert};
use super::{ReviewInput, rules, trends};
use crate::assess;
use crate::assessment::{Answered, Case};
use crate::diary::DiaryEntry;
use jiff::civil::Date;

/// The case as it stood from a day on, and what had come back while it did.
#[derive(Clone, Debug, PartialEq)]
pub struct Earlier {
    /// The day.
    pub since: Date,
    /// The case.
    pub case: Case,
    /// How many of the entries, in the order in which they came, were known then.
    pub heard: usize,
}

/// Alerts of entries by every case under which they were known. One that the present case raises too has the same key.
pub(super) fn raised(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Vec<Alert> {
    let mut raised = Vec::new();
    for earlier in input.earlier {
        let heard = input.entries.get(..earlier.heard).unwrap_or(input.entries);
        let known: Vec<&DiaryEntry> = entries
            .iter()
            .filter(|entry| heard.iter().any(|one| one.id == entry.id))
            .copied()
            .collect();
        raised.extend(of_pulse(input, earlier, &known));
        // Of a heart failure that is written as absent today its weights would speak no more.
        if earlier.case.heart_failure() != Answered::Absent {
            let then = ReviewInput {
                case: &earlier.case,
                ..*input
            };
            raised.extend(alerts::of_weight(&then, &known));
        }
    }
    raised
}

/// What the pulses told were by the limits of then. An entry that passed a hard ceiling once need not be asked again.
fn of_pulse(input: &ReviewInput<'_>, earlier: &Earlier, known: &[&DiaryEntry]) -> Vec<Alert> {
    let with_pulse: Vec<&&DiaryEntry> = known
        .iter()
        .filter(|entry| trends::highest_pulse(entry).is_some())
        .filter(|entry| {
            let key = alerts::key(rules::OVER_CEILING, &entry.id);
            !input.settled.contains(&key)
        })
        .collect();
    if with_pulse.is_empty() {
        return Vec::new();
    }
    let assessed = assess(&earlier.case, input.service, earlier.since);
    let then = ReviewInput {
        case: &earlier.case,
        assessed: &assessed,
        ..*input
    };
    with_pulse
        .into_iter()
        .flat_map(|entry| alerts::of_entry(&then, entry))
        .collect()
}
