//! What a practitioner has watched this person do.

use crate::assessed::Assessed;
use crate::assessment::{Case, Technique, Watched};
use crate::known::Known;
use crate::programme::{Stage, VariantRef};
use crate::service::Service;
use crate::watching::{newest, outside};

/// One way of a page that is to be watched before it is done alone.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ToWatch {
    /// The way.
    pub way: VariantRef,
    /// What was outside when it was watched last; empty where it was not watched, or not found good.
    pub outside: Vec<String>,
}

/// What of a watched turn was outside what is agreed, in words; empty where all that was taken is in order.
pub fn outside_when_watched(
    case: &Case,
    service: &Service,
    assessed: &Assessed,
    one: &Watched,
) -> Vec<String> {
    let known = Known::new(case, service, assessed.on);
    let found = outside(&known, &assessed.limits, one).into_iter();
    found.map(|one| one.text).collect()
}

/// What of a page is still to be watched and found good before it is done alone: what was never watched where that is
/// asked, and whatever was watched without being found good and in order since the newest event. What was outside comes
/// first.
pub fn still_to_watch(
    case: &Case,
    service: &Service,
    assessed: &Assessed,
    stage: &Stage,
) -> Vec<ToWatch> {
    let known = Known::new(case, service, assessed.on);
    let watching = Watching::of(&known, assessed);
    let mut list: Vec<ToWatch> = stage
        .segments
        .iter()
        .filter_map(|segment| Some((segment.to_watch, segment.doing.as_ref()?)))
        .filter(
            |(to_watch, doing)| match watching.find(&doing.exercise, &doing.variant) {
                Some(_) => !watching.done_well(&doing.exercise, &doing.variant),
                None => *to_watch,
            },
        )
        .map(|(_, doing)| ToWatch {
            way: doing.clone(),
            outside: watching.outside(&doing.exercise, &doing.variant),
        })
        .collect();
    list.sort_by(|a, b| (a.outside.is_empty(), a).cmp(&(b.outside.is_empty(), b)));
    list.dedup();
    list
}

/// The newest watching of every variant.
pub(crate) struct Watching<'a> {
    /// Each with what of it was outside.
    newest: Vec<(&'a Watched, Vec<String>)>,
    /// Day from which a watching says what may be done alone: the newest event voids those before.
    counts_from: Option<jiff::civil::Date>,
    effort_most: f64,
    scale: crate::assessment::EffortScale,
}

impl<'a> Watching<'a> {
    pub(crate) fn of(known: &Known<'a>, assessed: &Assessed) -> Self {
        let told = newest(known).into_iter().map(|one| {
            let found = outside(known, &assessed.limits, one).into_iter();
            (one, found.map(|one| one.text).collect())
        });
        Self {
            newest: told.collect(),
            counts_from: known.newest_event(),
            effort_most: assessed.limits.effort.high,
            scale: assessed.limits.effort_scale,
        }
    }

    fn told(&self, exercise: &str, variant: &str) -> Option<&(&'a Watched, Vec<String>)> {
        let mut all = self.newest.iter();
        all.find(|(one, _)| one.exercise == exercise && one.variant == variant)
    }

    fn find(&self, exercise: &str, variant: &str) -> Option<&'a Watched> {
        self.told(exercise, variant).map(|(one, _)| *one)
    }

    /// What was outside when a way was watched last.
    fn outside(&self, exercise: &str, variant: &str) -> Vec<String> {
        let told = self.told(exercise, variant);
        told.map_or_else(Vec::new, |(_, outside)| outside.clone())
    }

    fn counts(&self, one: &Watched) -> bool {
        self.counts_from.is_none_or(|from| one.date >= from)
    }

    /// Whether this way was watched done well since the newest event, and all that was taken was in order.
    pub(crate) fn done_well(&self, exercise: &str, variant: &str) -> bool {
        self.told(exercise, variant).is_some_and(|(one, outside)| {
            one.technique == Technique::Good && outside.is_empty() && self.counts(one)
        })
    }

    /// Whether it was watched at an effort not above the band: then the table's cost does not refuse it.
    pub(crate) fn within_effort(&self, exercise: &str, variant: &str) -> bool {
        self.find(exercise, variant).is_some_and(|one| {
            let effort = one.effort.is_some_and(|effort| {
                effort.scale == self.scale && effort.value <= self.effort_most
            });
            effort && self.done_well(exercise, variant)
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
            .any(|(one, _)| one.exercise == exercise && one.technique != Technique::NotForThem)
    }
}
