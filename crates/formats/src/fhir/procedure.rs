//! Procedures: each finds the event it belongs to, or is one.

use super::bundle::Resource;
use super::codes_procedure::{Done, meaning};
use super::concept::{Concept, short};
use super::condition::{defibrillator, pacemaker};
use super::gather::{Gather, Source, Waiting, Why};
use jiff::civil::Date;
use rehab::assessment::{Event, EventKind, Procedure, ProcedureKind};
use rehab::calendar::days_between;

/// A procedure belongs to the event of at most so many days before or after, when nothing else says so.
const NEAR_DAYS: i32 = 30;

pub(super) fn collect(resource: &Resource<'_>, gather: &mut Gather) {
    let concept = Concept::at(resource, "code");
    let status = resource.text("status").unwrap_or("unknown");
    match status {
        "completed" | "in-progress" => {}
        "entered-in-error" => {
            return gather.list(
                resource,
                Why::LeftOut,
                format!("{} was entered in error", concept.shown()),
            );
        }
        "not-done" | "preparation" => {
            return gather.list(
                resource,
                Why::LeftOut,
                format!("{} was not done ({status})", concept.shown()),
            );
        }
        other => {
            let message = format!(
                "{}: its status is '{}', was it done? Add it by hand",
                concept.shown(),
                short(other)
            );
            return gather.list(resource, Why::ToAsk, message);
        }
    }
    let Some(done) = meaning(&concept) else {
        let message = format!(
            "{} has no code that is known; add it by hand if it matters",
            concept.shown()
        );
        return gather.list(resource, Why::NotRead, message);
    };
    let date = gather.day(
        resource,
        &[
            "performedDateTime",
            "performedPeriod.end",
            "performedPeriod.start",
        ],
    );
    match done {
        Done::History(item) => gather.present(item, date),
        Done::Event(kind) => {
            let (_, stood) = gather.event(new_event(kind, date), resource.references());
            if stood {
                let message = format!(
                    "the {kind} stands in the bundle more than once; it was taken as one event"
                );
                gather.list(resource, Why::LeftOut, message);
            }
        }
        Done::Procedure(kind, own_event) => {
            device_of(kind, &concept, gather);
            let for_what = ["reasonReference", "partOf"]
                .into_iter()
                .flat_map(|key| resource.all(key));
            gather.waiting.push(Waiting {
                procedure: Procedure {
                    kind,
                    date,
                    access: None,
                },
                own_event,
                for_what: for_what
                    .filter_map(|one| one.text("reference").map(str::to_owned))
                    .collect(),
                source: Source::of(resource),
            });
        }
    }
}

/// An implanted device is there, also when no Device tells of it; our own bundles tell of it by Device alone.
fn device_of(kind: ProcedureKind, concept: &Concept<'_>, gather: &mut Gather) {
    if concept.ours("procedure").is_some() {
        return;
    }
    match kind {
        ProcedureKind::Icd => defibrillator(gather),
        ProcedureKind::Pacemaker => pacemaker(gather),
        _ => {}
    }
}

fn new_event(kind: EventKind, date: Option<Date>) -> Event {
    Event {
        kind,
        date,
        procedures: Vec::new(),
        complicated: None,
        residual_disease: None,
    }
}

/// Gives every procedure its event, once all events are known.
pub(super) fn place(gather: &mut Gather) {
    for waiting in core::mem::take(&mut gather.waiting) {
        let named = waiting
            .for_what
            .iter()
            .find_map(|reference| meant_by(gather, reference));
        let index = match (waiting.own_event, named) {
            // A bypass done for an infarction is an event of its own.
            (Some(kind), _) => gather.event(new_event(kind, waiting.procedure.date), Vec::new()).0,
            (None, Some(index)) => index,
            (None, None) => near(gather, waiting.procedure.date).unwrap_or_else(|| {
                let message = format!(
                    "the {} belongs to no event of the bundle; it stands as an event of its own, ask what it was for",
                    waiting.procedure.kind
                );
                gather.list_source(&waiting.source, Why::ToAsk, message);
                gather.event(new_event(EventKind::Other, waiting.procedure.date), Vec::new()).0
            }),
        };
        let procedures = &mut gather.case.events[index].procedures;
        if !procedures.contains(&waiting.procedure) {
            procedures.push(waiting.procedure);
        }
    }
}

fn meant_by(gather: &Gather, reference: &str) -> Option<usize> {
    let reference = super::bundle::without_version(reference);
    let means = |one: &String| one == reference || reference.ends_with(&format!("/{one}"));
    let found = gather
        .meant
        .iter()
        .find(|(references, _)| references.iter().any(means));
    found.map(|(_, index)| *index)
}

fn near(gather: &Gather, date: Option<Date>) -> Option<usize> {
    let date = date?;
    let events = gather.case.events.iter().enumerate();
    let close = events.filter_map(|(index, event)| {
        let days = days_between(event.date?, date).abs();
        (days <= NEAR_DAYS).then_some((days, index))
    });
    close.min().map(|(_, index)| index)
}
