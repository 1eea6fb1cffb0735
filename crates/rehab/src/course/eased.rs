//! What hurt in a session, and what is composed the easier way because of it.

use crate::assessment::Pain;
use crate::diary::DiaryEntry;
use crate::review::is_sore;

/// The exercises eased in an entry with a sore joint: the next page is composed with their easier way.
pub(super) fn pains(entry: &DiaryEntry) -> Vec<Pain> {
    let during = entry.joint_pain.and_then(|pain| pain.during);
    let worse = entry.joint_pain.and_then(|pain| pain.worse_next_morning);
    let eased = entry.eased.iter().filter(|_| is_sore(entry));
    eased
        .map(|exercise| Pain {
            joint: None,
            during,
            settled_2h: None,
            worse_next_morning: worse,
            date: Some(entry.date),
            exercise: Some(exercise.clone()),
        })
        .collect()
}
