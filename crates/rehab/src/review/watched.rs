//! What was watched far outside what is agreed: somebody must answer it, also where only a case file tells of it.

use super::{ReviewInput, rules, trends};
use crate::diary::DiaryEntry;
use crate::evidence::RuleId;
use crate::known::Known;
use crate::watching::{Of, Outside, days_outside};
use jiff::civil::Date;

/// Every day on which something watched was far outside. A pulse and a symptom that came back as news of the same day
/// speak there.
pub(super) fn of_watched(
    input: &ReviewInput<'_>,
    entries: &[&DiaryEntry],
) -> Vec<(RuleId, Date, String)> {
    let known = Known::new(input.case, input.service, input.on);
    let days = days_outside(&known, &input.assessed.limits).into_iter();
    let told = days.filter_map(|day| {
        let news = || entries.iter().filter(|entry| entry.date == day.date);
        let pulse_told = news().any(|entry| trends::highest_pulse(entry).is_some());
        let felt_told = news().any(|entry| entry.symptoms.is_some());
        let says = |one: &Outside| {
            let elsewhere = match one.of {
                Of::Pulse => pulse_told,
                Of::Symptom => felt_told,
                Of::Effort | Of::Pressure => false,
            };
            one.asks && !elsewhere
        };
        Some((rules::ASK_WATCHED, day.date, day.in_words(says)?))
    });
    told.collect()
}
