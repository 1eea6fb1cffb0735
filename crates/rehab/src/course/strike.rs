//! Striking an entry out: free where it makes nothing less careful, else only with a second name.

use super::Course;
use crate::assessed::{Adaptation, Assessed, CeilingKind};
use crate::assessment::{Case, Technique};
use crate::review::{Alert, Review};

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
    let stays = |was: &Alert| {
        let mut same = alerts.iter().filter(|is| is.key == was.key);
        same.any(|is| is.urgency <= was.urgency)
    };
    if !before.review.alerts.iter().all(stays) {
        found.push("an alert that nobody answered would be gone or less urgent");
    }
    if before.course.unfinished.is_some() && after.course.unfinished.is_none() {
        found.push("a call that was begun, and what was told in it, would be gone");
    }
    found.extend(forgotten(before.course, after.course));
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

/// What was learned or decided about single exercises, and would be known no more.
fn forgotten(before: &Course, after: &Course) -> Vec<&'static str> {
    let mut found = Vec::new();
    let not_good = |case: &Case| {
        let watched = case.watched.iter();
        watched
            .filter(|one| one.technique != Technique::Good)
            .count()
    };
    if not_good(&after.case) < not_good(&before.case) {
        found.push("something that was watched and not found good would be forgotten");
    }
    if after.case.pains.len() < before.case.pains.len() {
        found.push("an exercise that hurt would not be eased any more");
    }
    let bans = |course: &Course| {
        let all = course.chosen.values();
        all.map(|choices| choices.bans.len()).sum::<usize>()
    };
    if bans(after) < bans(before) {
        found.push("something that was ruled out would be offered again");
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
        let same = |other: &Adaptation| {
            let as_long = match (other.until, one.until) {
                (None, _) => true,
                (Some(is), Some(was)) => is >= was,
                (Some(_), None) => false,
            };
            other.reason == one.reason && other.joint == one.joint && as_long
        };
        !is.adaptations.iter().any(same)
    });
    ceiling
        || adaptation_gone
        || is.mets.high > was.mets.high
        || is.mets_station_high > was.mets_station_high
        || is.effort_scale != was.effort_scale
        || is.effort.high > was.effort.high
        || is.balance_max > was.balance_max
        || (was.hypotensive && !is.hypotensive)
}
