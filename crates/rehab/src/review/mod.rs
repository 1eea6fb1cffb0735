//! Review: what was really done, who needs attention, and what to propose next.
//!
//! The program proposes; a trained person decides. Nobody with a red or changed symptom is advanced, and silence
//! is never taken for good news.

mod agreed;
mod alerts;
mod begin_again;
mod decide;
mod earlier;
mod ending;
mod evaluate;
mod propose;
mod rules;
mod sessions;
mod silence;
mod speak;
mod standing;
mod symptoms;
mod table;
mod told;
mod trends;
mod watched;

#[cfg(test)]
mod agreed_test;
#[cfg(test)]
mod begin_again_test;
#[cfg(test)]
mod laws_test;
#[cfg(test)]
mod pulses_test;
#[cfg(test)]
mod sessions_test;
#[cfg(test)]
mod silence_test;
#[cfg(test)]
mod stopped_test;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod told_test;
#[cfg(test)]
mod watched_test;

pub use crate::adaptations::JOINT_DURING;
pub use alerts::{Alert, Urgency, leaves_a_stop};
pub(crate) use decide::is_sore;
pub use earlier::Earlier;
pub use ending::unanswered;
pub use propose::{Action, Proposal};
pub(crate) use rules::{FAR_OVER_BPM, far_above, hardest};
pub use silence::Silence;
pub(crate) use symptoms::read as read_symptoms;
pub use symptoms::{SymptomClass, SymptomReading, classify};
pub use table::RULES;
pub use trends::{Trends, Week, trends};

use crate::assessed::Assessed;
use crate::assessment::Case;
use crate::calendar::days_between;
use crate::course::AgreedEffort;
use crate::diary::DiaryEntry;
use crate::programme::Stage;
use crate::service::Service;
use jiff::civil::Date;

closed_words!(
    /// How somebody of the team was in touch.
    ContactKind as "kind of contact" { Call = "call", Visit = "visit", Message = "message" }
);

/// One time the team and the person spoke.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Contact {
    /// When.
    pub date: Date,
    /// How.
    pub kind: ContactKind,
}

/// A page given to the person, or begun again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Given {
    /// When.
    pub date: Date,
    /// Its rung.
    pub stage: u16,
    /// The effort that was agreed with its signature, where that is known.
    pub effort: Option<AgreedEffort>,
}

/// Everything a review looks at.
#[derive(Clone, Copy, Debug)]
pub struct ReviewInput<'a> {
    /// The case.
    pub case: &'a Case,
    /// The service's settings.
    pub service: &'a Service,
    /// The assessment on the day of the review.
    pub assessed: &'a Assessed,
    /// The rungs that are known in detail, by number.
    pub stages: &'a [Stage],
    /// The rung the person is on.
    pub current_stage: u16,
    /// Since when, or since when it was begun again; `None` is not known.
    pub stage_since: Option<Date>,
    /// Every page that was given, in order; empty where only diaries are known.
    pub given: &'a [Given],
    /// What came back, any order; an id seen twice is one entry.
    pub entries: &'a [DiaryEntry],
    /// What its symptoms meant when they came, where that is known: none becomes milder by a case written later.
    pub heard: &'a [SymptomReading],
    /// The case as it stood while they came, where that is known: what it raised stays until it is settled.
    pub earlier: &'a [Earlier],
    /// When the team was in touch.
    pub contacts: &'a [Contact],
    /// Whether news comes back between the contacts too, by paper, code, file or page.
    pub keeps_diary: bool,
    /// Keys of alerts for which a named person wrote what was done.
    pub settled: &'a [String],
    /// Since when a stop stands that nobody has ended by deciding on a page.
    pub stopped: Option<Date>,
    /// The day.
    pub on: Date,
}

/// What a review comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Review {
    /// Planned against done, effort, pulse and load over time.
    pub trends: Trends,
    /// Each reported symptom with its class.
    pub symptoms: Vec<SymptomReading>,
    /// What people wrote, by day, which no rule can judge: it is for whoever reads the review.
    pub own_words: Vec<(Date, String)>,
    /// When the person was last heard from.
    pub silence: Silence,
    /// Alerts that are open: raised and not settled.
    pub alerts: Vec<Alert>,
    /// What to do next, and why.
    pub proposal: Proposal,
}

/// Entries in order of date and id, each id once, none after the day of the review.
pub fn entries_in_order(entries: &[DiaryEntry], on: Date) -> Vec<&DiaryEntry> {
    let mut list: Vec<&DiaryEntry> = entries.iter().filter(|entry| entry.date <= on).collect();
    list.sort_by(|a, b| (a.date, &a.id).cmp(&(b.date, &b.id)));
    let mut seen = std::collections::BTreeSet::new();
    list.retain(|entry| seen.insert(entry.id.as_str()));
    list
}

/// Reviews what came back and proposes what to do next.
///
/// ```
/// use jiff::civil::date;
/// use rehab::assessment::{Case, CaseId};
/// use rehab::review::{Action, ReviewInput, review};
/// use rehab::service::Service;
///
/// let (case, service, on) = (Case::unknown(CaseId("heard-nothing".to_owned())), Service::cautious(), date(2026, 11, 25));
/// let assessed = rehab::assess(&case, &service, on);
/// let review = review(&ReviewInput {
///     case: &case,
///     service: &service,
///     assessed: &assessed,
///     stages: &[],
///     current_stage: 1,
///     stage_since: Some(date(2026, 11, 1)),
///     given: &[],
///     entries: &[],
///     heard: &[],
///     earlier: &[],
///     contacts: &[],
///     keeps_diary: false,
///     settled: &[],
///     stopped: None,
///     on,
/// });
/// // No news is never good news.
/// assert_ne!(review.proposal.action, Action::Advance);
/// assert!(!review.alerts.is_empty());
/// ```
pub fn review(input: &ReviewInput<'_>) -> Review {
    let entries = entries_in_order(input.entries, input.on);
    let symptoms = symptoms::read_all(input, &entries);
    let silence = silence::of(input, &entries);
    let alerts = alerts::open(input, &entries, &symptoms, &silence);
    let trends = trends(&entries, input.stages, input.current_stage, input.on);
    let proposal = propose::propose(input, &entries, &symptoms, &silence, &alerts);
    let own_words = entries.iter().flat_map(|entry| {
        let said = [entry.note.as_ref(), entry.stopped_because.as_ref()];
        let said = said.into_iter().flatten();
        said.map(|text| (entry.date, text.clone()))
    });
    Review {
        own_words: own_words.collect(),
        trends,
        symptoms,
        silence,
        alerts,
        proposal,
    }
}

/// Entries of the last days before the review.
fn recent<'a>(entries: &[&'a DiaryEntry], on: Date, days: i32) -> Vec<&'a DiaryEntry> {
    entries
        .iter()
        .copied()
        .filter(|entry| days_between(entry.date, on) <= days)
        .collect()
}
