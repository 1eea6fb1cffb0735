//! Who may leave the programme: nobody takes an unanswered alert along.

use super::Alert;
use crate::assessment::StatusKind;

/// Alerts to be answered before somebody is discharged or declines. A stop that waits for a decision on a page ends with
/// the programme itself, and for the dead nobody has to answer anything.
pub fn unanswered<'a>(becomes: StatusKind, open: &[&'a Alert]) -> Vec<&'a Alert> {
    let leaves = matches!(becomes, StatusKind::Declined | StatusKind::Discharged);
    open.iter()
        .copied()
        .filter(|alert| leaves && !alert.ends_with_decision())
        .collect()
}
