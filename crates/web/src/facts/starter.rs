//! The beginning: twelve answers that make a cautious start; everything else stays to be found out.

use super::ask::{Ask, Form, Kind, Part};
use super::words::{aids, events, procedures, rhythms, sexes, standings, usual_few};

/// The form of a new case.
pub(crate) fn starter() -> Form {
    Form {
        title: "Somebody new",
        lead: "Twelve answers make a cautious beginning. What you leave empty is kept as still to find out, and from whom.",
        parts: vec![person(), event(), heart(), everyday()],
        added: &[],
        rows: &[],
    }
}

fn person() -> Part {
    Part {
        title: "Who",
        about: "The called-name stands on every page that the person gets.",
        sources: Vec::new(),
        asks: vec![
            Ask::new("person.name", "Full name", Kind::Text),
            Ask::new("person.called", "Wants to be called", Kind::Text)
                .hint("As one says it: Mrs Fenwick"),
            Ask::new("person.born", "Born", Kind::Day),
            Ask::new("person.sex", "Sex", Kind::Choice(sexes())).hint("For equations only"),
            Ask::new("person.telephones", "Telephone", Kind::Commas)
                .hint("Best first, divided by commas"),
            Ask::new("status.kind", "Stands", Kind::Choice(standings()))
                .hint("Left open: with us from today"),
        ],
    }
}

fn event() -> Part {
    Part {
        title: "What happened",
        about: "The newest event is the reason for referral. After an operation its day decides what must be spared, and how long.",
        sources: Vec::new(),
        asks: vec![
            Ask::new("event[1].kind", "Heart event", Kind::Choice(events())),
            Ask::new("event[1].date", "On", Kind::Day),
            Ask::new(
                "event[1].procedures",
                "What was done",
                Kind::Kinds(procedures()),
            ),
        ],
    }
}

fn heart() -> Part {
    Part {
        title: "Heart and medicines",
        about: "Every medicine on a line of its own. Names that are not recognised are asked about, never skipped.",
        sources: Vec::new(),
        asks: vec![
            Ask::new("heart.rhythm", "Rhythm", Kind::Choice(rhythms())),
            Ask::new("heart.device", "Device", Kind::Device),
            Ask::new(
                "heart.device.lowest_treated_bpm",
                "Lowest rate it treats, a minute",
                Kind::Number,
            )
            .hint("Of a defibrillator; without it no pulse limit and no signature"),
            Ask::new("medicine", "Medicines", Kind::Medicines)
                .hint("One on a line: bisoprolol 2.5 mg since 2026-08-31"),
            Ask::new(
                "usual_symptom",
                "What is usual for this person",
                Kind::Kinds(usual_few()),
            )
            .hint("Only what is worse or new will count as changed"),
            Ask::new(
                "nitrate.prescribed",
                "Spray or tablet for the chest prescribed",
                Kind::YesNo,
            ),
            Ask::new("nitrate.in_date", "In date, seen today", Kind::YesNo),
        ],
    }
}

fn everyday() -> Part {
    Part {
        title: "At home",
        about: "The session is a walk from place to place; heights and rails can be written later.",
        sources: Vec::new(),
        asks: vec![
            Ask::new("function.aid", "Walks with", Kind::Choice(aids())),
            Ask::new(
                "function.falls_12_months",
                "Falls in the last 12 months",
                Kind::Number,
            ),
            Ask::new("home.place", "Places", Kind::Places),
            Ask::new("home.telephone", "Telephone in reach", Kind::YesNo),
            Ask::new(
                "home.alone_when_exercising",
                "Alone when exercising",
                Kind::YesNo,
            ),
        ],
    }
}
