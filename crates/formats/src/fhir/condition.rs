//! Conditions: events, history, rhythm.

use super::bundle::Resource;
use super::codes_condition::{Meaning, hint, meaning};
use super::concept::{Concept, status};
use super::gather::{Gather, Why};
use jiff::civil::Date;
use rehab::assessment::{Device, Event, EventKind, Pacemaker};

pub(super) fn take(resource: &Resource<'_>, gather: &mut Gather) {
    let concept = Concept::at(resource, "code");
    let verification = status(
        resource,
        "verificationStatus",
        &[
            "entered-in-error",
            "refuted",
            "unconfirmed",
            "provisional",
            "differential",
            "confirmed",
        ],
        "confirmed",
    );
    if verification == Some("entered-in-error") {
        return gather.list(
            resource,
            Why::LeftOut,
            format!("{} was entered in error", concept.shown()),
        );
    }
    let Some(meaning) = meaning(&concept) else {
        return not_known(resource, &concept, gather);
    };
    match verification {
        Some("refuted") => refuted(resource, &concept, meaning, gather),
        Some("confirmed") => {
            let onset = gather.day(resource, &["onsetDateTime", "onsetPeriod.start"]);
            confirmed(resource, &concept, meaning, onset, gather);
        }
        other => {
            let message = format!(
                "{} is {}, not confirmed; ask and add it by hand",
                concept.shown(),
                other.unwrap_or("of a certainty that is not understood")
            );
            gather.list(resource, Why::ToAsk, message);
        }
    }
}

fn not_known(resource: &Resource<'_>, concept: &Concept<'_>, gather: &mut Gather) {
    match hint(concept.called) {
        Some(item) => {
            let message = format!(
                "{} has no code that is known; does it mean {item}? If so, add it to what is present",
                concept.shown()
            );
            gather.list(resource, Why::ToAsk, message);
        }
        None => {
            let message = format!(
                "{} has no code that is known; add it by hand if it matters",
                concept.shown()
            );
            gather.list(resource, Why::NotRead, message);
        }
    }
}

fn refuted(resource: &Resource<'_>, concept: &Concept<'_>, meaning: Meaning, gather: &mut Gather) {
    match meaning {
        Meaning::History(item) | Meaning::Both(_, item) => gather.absent(item),
        _ => gather.list(
            resource,
            Why::LeftOut,
            format!("{} was refuted", concept.shown()),
        ),
    }
}

fn confirmed(
    resource: &Resource<'_>,
    concept: &Concept<'_>,
    meaning: Meaning,
    onset: Option<Date>,
    gather: &mut Gather,
) {
    let over = is_over(resource);
    match meaning {
        Meaning::Event(kind) => event(resource, kind, onset, gather),
        Meaning::Both(kind, item) => {
            event(resource, kind, onset, gather);
            gather.present(item, onset);
        }
        Meaning::Ask(question) => gather.list(
            resource,
            Why::ToAsk,
            format!("{}: {question}", concept.shown()),
        ),
        _ if over => {
            let message = format!(
                "{} is over by its status; it was not taken as present, ask",
                concept.shown()
            );
            gather.list(resource, Why::ToAsk, message);
        }
        Meaning::History(item) => gather.present(item, onset),
        Meaning::Rhythm(rhythm) => {
            gather.case.heart.rhythm = Some(rhythm);
            let message = format!(
                "{}: taken as the rhythm of today, towards caution; count the pulse and correct it",
                concept.shown()
            );
            gather.list(resource, Why::ToAsk, message);
        }
        Meaning::Defibrillator => defibrillator(gather),
        Meaning::ElectronicDevice => {
            pacemaker(gather);
            let message = format!(
                "{}: is it a pacemaker or a defibrillator? It was taken as a pacemaker; if it is a defibrillator, add the device with its lowest treated rate before anything is signed",
                concept.shown()
            );
            gather.list(resource, Why::ToAsk, message);
        }
    }
}

/// A defibrillator of which nothing more is known.
pub(super) fn defibrillator(gather: &mut Gather) {
    gather.case.heart.device.get_or_insert(Device {
        lowest_treated_bpm: None,
        last_shock: None,
        subcutaneous: None,
    });
}

/// A pacemaker of which nothing more is known.
pub(super) fn pacemaker(gather: &mut Gather) {
    gather.case.heart.pacemaker.get_or_insert(Pacemaker {
        mode: None,
        base_bpm: None,
        upper_tracking_bpm: None,
        rate_response: None,
        resynchronisation: None,
    });
}

fn event(resource: &Resource<'_>, kind: EventKind, date: Option<Date>, gather: &mut Gather) {
    let event = Event {
        kind,
        date,
        procedures: Vec::new(),
        complicated: None,
        residual_disease: None,
    };
    let (_, stood) = gather.event(event, resource.references());
    if stood {
        let message =
            format!("the {kind} stands in the bundle more than once; it was taken as one event");
        gather.list(resource, Why::LeftOut, message);
    }
}

fn is_over(resource: &Resource<'_>) -> bool {
    const OVER: &[&str] = &["inactive", "remission", "resolved"];
    let ended = [
        "abatementDateTime",
        "abatementPeriod.end",
        "abatementString",
    ];
    let said = status(resource, "clinicalStatus", OVER, "");
    said.is_some_and(|word| OVER.contains(&word))
        || ended.iter().any(|path| resource.text(path).is_some())
}
