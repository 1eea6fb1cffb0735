//! Striking an entry out: free where it makes nothing less careful, else only with a second name.

use super::Course;
use crate::assessed::{Assessed, CeilingKind};
use crate::review::Review;

/// Where a course stands: what it leads to on a day.
#[derive(Clone, Copy, Debug)]
pub struct Stands<'a> {
    /// The course.
    pub course: &'a Course,
    /// Its assessment.
    pub assessed: &'a Assessed,
    /// Its review.
    pub review: &'a Review,
}

/// In what one standing is less careful than the one before; empty where in nothing.
pub fn less_careful(before: Stands<'_>, after: Stands<'_>) -> Vec<&'static str> {
    let mut found = Vec::new();
    let (was, is) = (&before.review.proposal, &after.review.proposal);
    if is.action < was.action || is.to_stage.unwrap_or(0) > was.to_stage.unwrap_or(0) {
        found.push("the review would propose something less careful");
    }
    let alerts = &after.review.alerts;
    let gone = |key: &str| !alerts.iter().any(|alert| alert.key == key);
    if before.review.alerts.iter().any(|alert| gone(&alert.key)) {
        found.push("an alert that nobody answered would be gone");
    }
    if before.course.stopped.is_some() && after.course.stopped.is_none() {
        found.push("a stop would be gone");
    }
    if after.course.current_stage.unwrap_or(0) > before.course.current_stage.unwrap_or(0) {
        found.push("the person would be on a later page");
    }
    if after.assessed.screening.decision < before.assessed.screening.decision {
        found.push("the screening would say something less careful");
    }
    if limits_rise(before.assessed, after.assessed) {
        found.push("a limit would be higher or gone");
    }
    if after.assessed.eligibility.alone_now && !before.assessed.eligibility.alone_now {
        found.push("sessions could be done alone");
    }
    found
}

fn limits_rise(before: &Assessed, after: &Assessed) -> bool {
    let (was, is) = (&before.limits, &after.limits);
    let ceiling = match (was.ceiling, is.ceiling) {
        (None, _) => false,
        (Some(_), None) => true,
        (Some(was), Some(is)) => {
            is.rate > was.rate || (was.kind, is.kind) == (CeilingKind::Hard, CeilingKind::Guiding)
        }
    };
    let adaptation_gone = was.adaptations.iter().any(|one| {
        let same = |other: &crate::assessed::Adaptation| other.reason == one.reason;
        !is.adaptations.iter().any(same)
    });
    ceiling
        || adaptation_gone
        || is.mets.high > was.mets.high
        || is.mets_station_high > was.mets_station_high
        || is.effort.high > was.effort.high
        || is.balance_max > was.balance_max
        || (was.hypotensive && !is.hypotensive)
}
