//! What a Procedure means. Source: `snomed-codes`, recalled.

use super::concept::{Concept, SNOMED};
use crate::shape::ClosedWord;
use rehab::assessment::{EventKind, HistoryItem, ProcedureKind};

/// What a procedure means for a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Done {
    /// A procedure; with the event that it is by itself.
    Procedure(ProcedureKind, Option<EventKind>),
    /// An event that is a procedure by itself, in our own words.
    Event(EventKind),
    /// A word of the history.
    History(HistoryItem),
}

use EventKind as E;
use ProcedureKind as P;

const BY_SNOMED: &[(&str, Done)] = &[
    ("36969009", Done::Procedure(P::Stent, None)),
    ("415070008", Done::Procedure(P::Stent, None)),
    (
        "232717009",
        Done::Procedure(P::Bypass, Some(E::BypassSurgery)),
    ),
    ("34068001", Done::Procedure(P::Valve, Some(E::ValveSurgery))),
    ("26212005", Done::Procedure(P::Valve, Some(E::ValveSurgery))),
    (
        "725351001",
        Done::Procedure(P::Valve, Some(E::CatheterValve)),
    ),
    (
        "307280005",
        Done::Procedure(P::Pacemaker, Some(E::DeviceImplant)),
    ),
    (
        "429064006",
        Done::Procedure(P::Pacemaker, Some(E::DeviceImplant)),
    ),
    ("395218007", Done::Procedure(P::Icd, Some(E::DeviceImplant))),
    ("32413006", Done::Event(E::Transplant)),
    ("359672006", Done::Procedure(P::Sternotomy, None)),
    ("52734007", Done::History(HistoryItem::HipReplacement)),
];

/// Whether an event is a procedure by itself, and so written as one.
pub(super) const fn is_procedure(kind: EventKind) -> bool {
    matches!(
        kind,
        E::ValveSurgery
            | E::CatheterValve
            | E::BypassSurgery
            | E::DeviceImplant
            | E::Transplant
            | E::AneurysmRepair
    )
}

/// What a concept means, by our own words first, then SNOMED CT.
pub(super) fn meaning(concept: &Concept<'_>) -> Option<Done> {
    if let Some(kind) = concept.ours("event").and_then(EventKind::read) {
        return Some(Done::Event(kind));
    }
    if let Some(kind) = concept.ours("procedure").and_then(ProcedureKind::read) {
        return Some(Done::Procedure(kind, None));
    }
    let code = concept.code_of(SNOMED)?;
    BY_SNOMED
        .iter()
        .find(|(one, _)| *one == code)
        .map(|(_, done)| *done)
}

/// The SNOMED CT code that a procedure is written with beside our own.
pub(super) fn snomed_of(kind: ProcedureKind) -> Option<&'static str> {
    let means = |done: &Done| matches!(done, Done::Procedure(one, _) if *one == kind);
    BY_SNOMED
        .iter()
        .find(|(_, done)| means(done))
        .map(|(code, _)| *code)
}
