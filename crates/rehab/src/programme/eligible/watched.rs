//! What a practitioner has watched this person do.

use crate::assessed::Assessed;
use crate::assessment::{Case, Technique, Watched};
use crate::known::Known;
use crate::programme::{Stage, VariantRef};
use crate::service::Service;

/// What of a page is still to be watched and found good before it is done alone: what was never watched where that is
/// asked, and whatever was watched without being found good since the newest event.
pub fn still_to_watch(
    case: &Case,
    service: &Service,
    assessed: &Assessed,
    stage: &Stage,
) -> Vec<VariantRef> {
    let known = Known::new(case, service, assessed.on);
    let watching = Watching::of(&known, assessed);
    let mut list: Vec<VariantRef> = stage
        .segments
        .iter()
        .filter_map(|segment| Some((segment.to_watch, segment.doing.as_ref()?)))
        .filter(
            |(to_watch, doing)| match watching.find(&doing.exercise, &doing.variant) {
                Some(_) => !watching.done_well(&doing.exercise, &doing.variant),
                None => *to_watch,
            },
        )
        .map(|(_, doing)| doing.clone())
        .collect();
    list.sort();
    list.dedup();
    list
}

/// The newest watching of every variant.
pub(crate) struct Watching<'a> {
    newest: Vec<&'a Watched>,
    /// Day from which a watching says what may be done alone: the newest event voids those before.
    counts_from: Option<jiff::civil::Date>,
    effort_most: f64,
    scale: crate::assessment::EffortScale,
}

impl<'a> Watching<'a> {
    pub(crate) fn of(known: &Known<'a>, assessed: &Assessed) -> Self {
        let mut newest: Vec<&Watched> = Vec::new();
        for one in known.case.watched.iter().filter(|one| one.date <= known.on) {
            let same = |before: &&Watched| {
                before.exercise == one.exercise && before.variant == one.variant
            };
            match newest.iter().position(same) {
                Some(at) if newest[at].date <= one.date => newest[at] = one,
                Some(_) => {}
                None => newest.push(one),
            }
        }
        Self {
            newest,
            counts_from: known.newest_event(),
            effort_most: assessed.limits.effort.high,
            scale: assessed.limits.effort_scale,
        }
    }

    fn find(&self, exercise: &str, variant: &str) -> Option<&'a Watched> {
        let mut all = self.newest.iter();
        all.find(|one| one.exercise == exercise && one.variant == variant)
            .copied()
    }

    fn counts(&self, one: &Watched) -> bool {
        self.counts_from.is_none_or(|from| one.date >= from)
    }

    /// Whether this way was watched done well since the newest event.
    pub(crate) fn done_well(&self, exercise: &str, variant: &str) -> bool {
        self.find(exercise, variant)
            .is_some_and(|one| one.technique == Technique::Good && self.counts(one))
    }

    /// Whether it was watched at an effort not above the band: then the table's cost does not refuse it.
    pub(crate) fn within_effort(&self, exercise: &str, variant: &str) -> bool {
        self.find(exercise, variant).is_some_and(|one| {
            let effort = one.effort.is_some_and(|effort| {
                effort.scale == self.scale && effort.value <= self.effort_most
            });
            effort && one.technique == Technique::Good && self.counts(one)
        })
    }

    /// Whether it was watched and found not to be for this person.
    pub(crate) fn not_for_them(&self, exercise: &str, variant: &str) -> bool {
        self.find(exercise, variant)
            .is_some_and(|one| one.technique == Technique::NotForThem)
    }

    /// Whether the person was ever taught this exercise.
    pub(crate) fn learned(&self, exercise: &str) -> bool {
        self.newest
            .iter()
            .any(|one| one.exercise == exercise && one.technique != Technique::NotForThem)
    }
}
