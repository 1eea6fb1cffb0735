//! The single decisions of the review as small functions, used by the review and by each rule evaluated alone.

use super::propose::Action;
use super::rules;
use crate::adaptations::must_ease;
use crate::assessed::CeilingKind;
use crate::assessment::EffortScale;
use crate::diary::DiaryEntry;

/// Weight gained within some days, in heart failure.
pub(super) fn weight(gain_kg: f64, days: i32) -> Option<Action> {
    // A millionth of a gram of tolerance: scales show 0.1 kg, and 71.8 - 70.0 is not quite 1.8 in binary.
    let windows = rules::WEIGHT_GAINS.iter();
    let mut fast = windows.filter(|(kg, within)| gain_kg >= kg - 1e-9 && days <= *within);
    fast.next().map(|_| Action::StopAndContact)
}

/// Days without a session.
pub(super) fn gap(days: i32) -> Option<Action> {
    (days > rules::GAP_DAYS).then_some(Action::ReEnter)
}

/// Efforts of the last three sessions against the upper end of the band.
pub(super) fn effort(efforts: &[f64], band_high: f64, scale: EffortScale) -> Option<Action> {
    let above = efforts.iter().filter(|value| **value > band_high).count();
    let far = efforts
        .iter()
        .any(|value| *value >= band_high + rules::far_above(scale));
    match above {
        _ if far => Some(Action::StepBack),
        0 => None,
        1 => Some(Action::Hold),
        _ => Some(Action::StepBack),
    }
}

/// How many of the last three sessions were not finished.
pub(super) fn unfinished(count: usize) -> Option<Action> {
    match count {
        0 => None,
        1 => Some(Action::Hold),
        _ => Some(Action::StepBack),
    }
}

/// Whether a session counts as finished.
pub(super) fn is_finished(done: u8, planned: u8) -> bool {
    f64::from(done) >= rules::FINISHED_SHARE * f64::from(planned)
}

/// Highest pulses of the last three sessions against the ceiling.
pub(super) fn pulse(highest_bpm: &[f64], ceiling_bpm: f64, kind: CeilingKind) -> Option<Action> {
    let over = highest_bpm.iter().filter(|bpm| **bpm > ceiling_bpm).count();
    match (kind, over) {
        (_, 0) | (CeilingKind::Guiding, 1) => None,
        (CeilingKind::Hard, _) => Some(Action::StepBack),
        (CeilingKind::Guiding, _) => Some(Action::Hold),
    }
}

/// One pulse above a guiding rate.
pub(super) fn far_over(bpm: f64, ceiling_bpm: f64) -> Option<Action> {
    (bpm > ceiling_bpm + rules::FAR_OVER_BPM).then_some(Action::Hold)
}

/// A pulse when the cool-down is over, against the one it should have come back to.
pub(super) fn after_cool_down(after_bpm: f64, rest_bpm: f64, within_bpm: f64) -> Option<Action> {
    (after_bpm > rest_bpm + within_bpm).then_some(Action::Hold)
}

/// A pulse before a session.
pub(super) fn fast_before(bpm: f64) -> Option<Action> {
    (bpm >= rules::FAST_BEFORE_BPM).then_some(Action::AskFirst)
}

/// Joint pain with a session: too much of it, or some of which the next morning is not told.
pub(super) fn joint(during: Option<f64>, worse_next_morning: Option<bool>) -> Option<Action> {
    let not_told = during.is_some_and(|score| score > 0.0) && worse_next_morning.is_none();
    (must_ease(during, None, worse_next_morning) || not_told).then_some(Action::Hold)
}

/// Whether a joint was sore with an entry, so that its exercise is eased.
pub(crate) fn is_sore(entry: &DiaryEntry) -> bool {
    entry
        .joint_pain
        .is_some_and(|pain| must_ease(pain.during, None, pain.worse_next_morning))
}

/// Sessions wanted on a page before the next.
pub(super) fn sessions_wanted(per_week: usize) -> usize {
    per_week.max(rules::LEAST_SESSIONS)
}

/// Days without any news against what was agreed; nothing ever heard is silence.
pub(super) fn is_silent(days: Option<i32>, agreed_days: i32) -> bool {
    days.is_none_or(|days| days > agreed_days)
}
