//! What of a case FHIR's resources have no place for.

use rehab::assessment::{Case, Event, Home, Nitrate, Wishes};

pub(super) fn of(case: &Case) -> Vec<String> {
    let detailed = |event: &Event| {
        event.complicated.is_some()
            || event.residual_disease.is_some()
            || event.procedures.iter().any(|one| one.access.is_some())
    };
    let person = &case.person;
    let about = [
        &person.interpreter,
        &person.hearing,
        &person.sight,
        &person.reading,
        &person.memory,
        &person.consent,
    ];
    [
        (about.iter().any(|one| one.is_some()), "interpreter, hearing, sight, reading, memory and consent"),
        (case.events.iter().any(detailed), "whether an event was complicated, what narrowing remains, and where a vessel was entered"),
        (case.history.rest_absent.is_some(), "the one answer that all the rest is absent"),
        (!case.history.not_asked.is_empty(), "what of the history was not asked"),
        (case.nitrate != Nitrate::unasked(), "the nitrate: prescribed, in date, taught"),
        (!case.usual_symptoms.is_empty(), "usual symptoms"),
        (case.function.aid.is_some() || case.function.falls_12_months.is_some(), "walking aid and falls"),
        (case.home != Home::unknown(), "the home and its places"),
        (case.wishes != Wishes::unasked(), "wishes"),
        (case.agreement.is_some(), "the doctor's agreement"),
        (!case.watched.is_empty(), "watched exercises"),
        (!case.pains.is_empty(), "joints that hurt"),
    ]
    .into_iter()
    .filter(|(there, _)| *there)
    .map(|(_, words)| words.to_owned())
    .collect()
}
