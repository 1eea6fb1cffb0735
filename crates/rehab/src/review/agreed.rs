//! The effort that was agreed for the day of an entry.

use super::ReviewInput;
use crate::diary::DiaryEntry;
use crate::known::Known;
use crate::limits::effort_band;

/// The upper end of the range by which an entry is judged: the one signed with the page that the person had on its day,
/// else the one of that day. What was agreed later makes no session of before gentler or harder.
pub(super) fn effort_most(input: &ReviewInput<'_>, entry: &DiaryEntry) -> f64 {
    let scale = input.assessed.limits.effort_scale;
    let mut had = input.given.iter().filter(|given| given.date <= entry.date);
    let done = had
        .clone()
        .rfind(|given| entry.stage == Some(given.stage))
        .or_else(|| had.next_back());
    let agreed = done.and_then(|given| given.effort);
    match agreed.filter(|agreed| agreed.scale == scale) {
        Some(agreed) => agreed.band.high,
        None => effort_band(&Known::new(input.case, input.service, entry.date)).high,
    }
}
