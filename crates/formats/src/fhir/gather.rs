//! What is gathered from the resources of a bundle, and the list of what was not.

use super::bundle::Resource;
use super::concept::short;
use super::moment::Moment;
use crate::problem::{MOST_MESSAGE, harmless};
use jiff::civil::Date;
use rehab::assessment::{Case, CaseId, Event, Examination, HistoryItem, Procedure};
use std::collections::BTreeMap;

/// Why something is listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// Not understood: no known code, no known unit, no known type.
    NotRead,
    /// Understood and left out: entered in error, refuted, of another person, not possible.
    LeftOut,
    /// A question that a person must answer.
    ToAsk,
}

impl Why {
    /// The word in results.
    pub const fn word(self) -> &'static str {
        match self {
            Self::NotRead => "not-read",
            Self::LeftOut => "left-out",
            Self::ToAsk => "to-ask",
        }
    }
}

/// One resource of which something was not taken, or only with a question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Type of the resource.
    pub resource: String,
    /// Its id, where it has one.
    pub id: Option<String>,
    /// Number of its entry in the bundle, counted from 1.
    pub entry: usize,
    /// Why it is listed.
    pub why: Why,
    /// What, why and what to do.
    pub message: String,
}

/// A procedure that waits for its event.
#[derive(Clone, Debug)]
pub(super) struct Waiting {
    pub(super) procedure: Procedure,
    /// The event that such a procedure is by itself.
    pub(super) own_event: Option<rehab::assessment::EventKind>,
    /// References to what it was done for or as a part of.
    pub(super) for_what: Vec<String>,
    /// What reads as the reason: the resource it came from.
    pub(super) source: Source,
}

/// Where something came from, for listing it later.
#[derive(Clone, Debug)]
pub(super) struct Source {
    resource: String,
    id: Option<String>,
    entry: usize,
}

impl Source {
    pub(super) fn of(resource: &Resource<'_>) -> Self {
        Self {
            resource: short(resource.kind),
            id: resource.id.map(short),
            entry: resource.entry,
        }
    }
}

/// The two numbers of a pressure, which may come in one resource or in two.
#[derive(Clone, Debug)]
pub(super) struct Parts {
    pub(super) systolic_mmhg: Option<f64>,
    pub(super) diastolic_mmhg: Option<f64>,
    pub(super) source: Source,
}

/// Everything gathered so far.
#[derive(Debug)]
pub(super) struct Gather {
    pub(super) case: Case,
    pub(super) on: Option<Date>,
    pub(super) waiting: Vec<Waiting>,
    /// Events with the references that mean them.
    pub(super) meant: Vec<(Vec<String>, usize)>,
    examinations: BTreeMap<Date, Examination>,
    /// When each kept reading was taken and where it came from, for choosing the later one.
    taken: BTreeMap<(Option<Date>, &'static str), (String, Source)>,
    pub(super) pressures: BTreeMap<(Date, bool, String), Parts>,
    listed: Vec<Listed>,
}

impl Gather {
    pub(super) fn new(on: Option<Date>) -> Self {
        Self {
            case: Case::unknown(CaseId(String::new())),
            on,
            waiting: Vec::new(),
            meant: Vec::new(),
            examinations: BTreeMap::new(),
            taken: BTreeMap::new(),
            pressures: BTreeMap::new(),
            listed: Vec::new(),
        }
    }

    pub(super) fn list(&mut self, resource: &Resource<'_>, why: Why, message: impl Into<String>) {
        self.list_source(&Source::of(resource), why, message);
    }

    /// An entry that holds no resource.
    pub(super) fn list_empty(&mut self, entry: usize) {
        let source = Source {
            resource: "(no resource)".to_owned(),
            id: None,
            entry,
        };
        let message = "the entry holds no resource; look there by hand what it stands for";
        self.list_source(&source, Why::NotRead, message);
    }

    pub(super) fn list_source(&mut self, source: &Source, why: Why, message: impl Into<String>) {
        self.listed.push(Listed {
            resource: source.resource.clone(),
            id: source.id.clone(),
            entry: source.entry,
            why,
            message: harmless(&message.into(), MOST_MESSAGE),
        });
    }

    /// A day of the patient's course out of the first of these paths that is there; what cannot be a day is listed.
    pub(super) fn day(&mut self, resource: &Resource<'_>, paths: &[&str]) -> Option<Date> {
        let (path, text) = paths
            .iter()
            .find_map(|path| Some((*path, resource.text(path)?)))?;
        let day = match Moment::of(text) {
            Moment::Day(day) => day,
            Moment::Partial(part) => {
                let message = format!("{path} says only {part}; the day was left out, ask for it");
                self.list(resource, Why::ToAsk, message);
                return None;
            }
            Moment::Unreadable(text) => {
                let message = format!("{path} '{text}' is no date; the day was left out");
                self.list(resource, Why::NotRead, message);
                return None;
            }
        };
        match self.impossible(day) {
            None => Some(day),
            Some(reason) => {
                self.list(
                    resource,
                    Why::LeftOut,
                    format!("{path} {day} {reason}; the day was left out"),
                );
                None
            }
        }
    }

    /// Why a day cannot be of this person's course.
    pub(super) fn impossible(&self, day: Date) -> Option<String> {
        if let Some(on) = self.on.filter(|on| day > *on) {
            return Some(format!("lies ahead of {on}"));
        }
        self.case
            .person
            .born
            .filter(|born| day < *born)
            .map(|born| format!("lies before the day of birth, {born}"))
    }

    /// The examination of a day.
    pub(super) fn examination(&mut self, day: Date) -> &mut Examination {
        self.examinations
            .entry(day)
            .or_insert_with(|| Examination::on(day))
    }

    /// Whether a reading is to be kept: the latest of its day is, every other one is listed.
    pub(super) fn keep(
        &mut self,
        source: Source,
        day: Option<Date>,
        what: &'static str,
        instant: &str,
    ) -> bool {
        let when = day.map_or_else(|| "of all days".to_owned(), |day| format!("of {day}"));
        let message = format!("a later {what} {when} was taken");
        let before = self.taken.get(&(day, what)).cloned();
        match before {
            Some((kept, _)) if instant < kept.as_str() => {
                self.list_source(&source, Why::LeftOut, message);
                false
            }
            other => {
                if let Some((_, older)) = other {
                    self.list_source(&older, Why::LeftOut, message);
                }
                self.taken.insert((day, what), (instant.to_owned(), source));
                true
            }
        }
    }

    /// Something of the history is present.
    pub(super) fn present(&mut self, item: HistoryItem, since: Option<Date>) {
        let history = &mut self.case.history;
        // Present wins over an older refutation: towards caution.
        history.absent.retain(|one| *one != item);
        if !history.present.contains(&item) {
            history.present.push(item);
        }
        if let Some(day) = since
            && !history.since.iter().any(|(one, _)| *one == item)
        {
            history.since.push((item, day));
        }
    }

    /// Something of the history was asked and is absent.
    pub(super) fn absent(&mut self, item: HistoryItem) {
        let history = &mut self.case.history;
        if !history.present.contains(&item) && !history.absent.contains(&item) {
            history.absent.push(item);
        }
    }

    /// An event; the same kind on the same day is one event, and a day found later completes one without. Says
    /// whether it stood already.
    pub(super) fn event(&mut self, event: Event, meant_by: Vec<String>) -> (usize, bool) {
        let events = &mut self.case.events;
        let same = events.iter().position(|one| {
            one.kind == event.kind
                && (one.date == event.date || one.date.is_none() || event.date.is_none())
        });
        let index = match same {
            Some(index) => {
                events[index].date = events[index].date.or(event.date);
                index
            }
            None => {
                events.push(event);
                events.len() - 1
            }
        };
        self.meant.push((meant_by, index));
        (index, same.is_some())
    }

    pub(super) fn finish(mut self) -> (Case, Vec<Listed>) {
        self.case.examinations = self.examinations.into_values().collect();
        if self.case.id.0.is_empty() {
            let person = &self.case.person;
            self.case.id = crate::case::id::derive(person.name.as_deref(), person.born);
        }
        self.listed.sort_by_key(|one| one.entry);
        (self.case, self.listed)
    }
}
