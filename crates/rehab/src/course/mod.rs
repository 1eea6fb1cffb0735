//! The course of one person through the programme: what happened, in order, and where that leaves them.
//!
//! Nothing here is overwritten: a course is folded anew from everything that was written down.

mod alone;
mod chosen;
mod decision;
mod eased;
mod further;
mod holds;
mod pages;
mod settled;
mod sign;
mod strike;
mod waits;
mod written;

pub use alone::Waiting;
pub use decision::{DecisionRefused, Taken, Towards};
pub use further::{Override, SAME_NAME, Second, is_same_name};
pub use holds::Outdated;
pub use settled::NothingSaid;
pub use sign::{AgreedEffort, Digests, SignRefused, Signature, SignedPlan, Signing, sign};
pub use strike::{Stands, less_careful};
pub use waits::PageRefused;

use crate::assessment::{Case, Status, StatusKind, Watched};
use crate::diary::DiaryEntry;
use crate::programme::{Choices, Dose, GivenDose, Stage};
use crate::review::{
    Action, Contact, ContactKind, Earlier, Given, SymptomReading, leaves_a_stop, read_symptoms,
};
use eased::pains;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

closed_words!(
    /// By which way news came back.
    Channel as "way of coming back" {
        Call = "call", Visit = "visit", Paper = "paper", Code = "code", File = "file", Page = "page",
    }
);

closed_words!(
    /// What is taught and shown back before somebody exercises alone.
    TeachBack as "thing taught" {
        StopsWhenUnwell = "stops-when-unwell",
        KnowsWhomToRing = "knows-whom-to-ring",
        EffortScale = "effort-scale",
        TalkTest = "talk-test",
        Nitrate = "nitrate",
        Pulse = "pulse",
        EaseOff = "ease-off",
        CoolDown = "cool-down",
        Chair = "chair-against-the-wall",
    }
);

/// A session watched by a practitioner.
#[derive(Clone, Debug, PartialEq)]
pub struct WatchedSession {
    /// Day.
    pub date: Date,
    /// What was watched, station by station.
    pub stations: Vec<Watched>,
    /// What the person showed back.
    pub shown: Vec<TeachBack>,
    /// In the practitioner's words.
    pub note: String,
}

/// A call or visit, closed.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// Day and way.
    pub contact: Contact,
    /// Whether the person was reached.
    pub reached: bool,
    /// Sessions told, as diary entries.
    pub entries: Vec<DiaryEntry>,
    /// What was decided.
    pub decided: Option<Taken>,
    /// The note as signed.
    pub note: String,
    /// Day of the next contact.
    pub next: Option<Date>,
    /// Last day on which the nitrate is in date, as it was read from it.
    pub nitrate_until: Option<Date>,
}

/// The sheet of a call or visit, kept before it was signed. Nothing in it counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unfinished {
    /// What would follow from the answers, as it stood when they were kept.
    pub follows: String,
    /// Every answer as it was typed, by the name of its field.
    pub answers: Vec<(String, String)>,
}

/// An alert that somebody answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settled {
    /// Key of the alert.
    pub key: String,
    /// What was done, in words.
    pub done: String,
}

/// One thing that happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Happening {
    /// The case as known from then on.
    Case(Box<Case>),
    /// The standing changed.
    Status(StatusKind),
    /// A plan was signed.
    Signed(Box<SignedPlan>),
    /// A rung that was signed before was given to the person.
    Released {
        /// Its number.
        stage: u16,
    },
    /// A session was watched.
    Watched(WatchedSession),
    /// News came back.
    Diary {
        /// How.
        channel: Channel,
        /// What.
        entries: Vec<DiaryEntry>,
    },
    /// A call or visit was closed.
    Called(Box<Call>),
    /// A call or visit was begun; nothing of it counts until it is closed.
    Unfinished(Unfinished),
    /// An alert was answered.
    Settled(Settled),
    /// What a practitioner chose for the programme: pins, bans.
    Chosen(Choices),
    /// A note without effect on the course.
    Note(String),
}

/// Where everything that happened leaves one person.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// The case, with watched exercises and standing folded in.
    pub case: Case,
    /// The case as it was last written, without what other entries say.
    written: Case,
    /// The newest signed plan.
    pub signed: Option<SignedPlan>,
    /// Earlier signatures, each with those of its rungs that lie below all signed later: a person may go back to them.
    pub earlier: Vec<SignedPlan>,
    /// The rung the person is on: the newest that was given.
    pub current_stage: Option<u16>,
    /// Since when, or since when it was begun again.
    pub stage_since: Option<Date>,
    /// Every page that was given or decided on, in order.
    pub given: Vec<Given>,
    /// The page as it was signed when it was given: the one at home.
    pub at_home: Option<Stage>,
    /// The dose of every page that went home, as it was then.
    pub doses: Vec<GivenDose>,
    /// Everything that came back.
    pub entries: Vec<DiaryEntry>,
    /// What its symptoms meant by the case as it was when they came: writing the case anew makes none of them milder.
    pub heard: Vec<SymptomReading>,
    /// The case as it stood while they were known: what it raised stays until it is settled.
    pub known: Vec<Earlier>,
    /// When the team was in touch.
    pub contacts: Vec<Contact>,
    /// Whether news came back between contacts too.
    pub keeps_diary: bool,
    /// Keys of answered alerts.
    pub settled: Vec<String>,
    /// Since when a stop stands; only a decision on a page ends it.
    pub stopped: Option<Date>,
    /// Watched sessions.
    pub watched: Vec<WatchedSession>,
    /// Closed calls and visits.
    pub calls: Vec<Call>,
    /// Day of the next contact as last agreed.
    pub next_contact: Option<Date>,
    /// What was chosen for the programme, the newest for each rung.
    pub chosen: BTreeMap<u16, Choices>,
    /// Rungs for which something was chosen since they were signed.
    chosen_anew: BTreeSet<u16>,
    /// A call or visit that was begun and is not finished, with the day on which it was kept.
    pub unfinished: Option<(Date, Unfinished)>,
    /// Notes by day.
    pub notes: Vec<(Date, String)>,
}

impl Course {
    /// Folds everything that happened up to a day; `None` until a case is written.
    pub fn fold<'a>(
        happened: impl IntoIterator<Item = (Date, &'a Happening)>,
        on: Date,
    ) -> Option<Self> {
        let mut course: Option<Self> = None;
        for (date, happening) in happened {
            if date > on {
                continue;
            }
            match (&mut course, happening) {
                (None, Happening::Case(case)) => course = Some(Self::begin((**case).clone())),
                (None, _) => {}
                (Some(course), happening) => course.add(date, happening),
            }
        }
        course
    }

    /// A course of which only the case is known.
    pub fn begin(case: Case) -> Self {
        Self {
            written: case.clone(),
            case,
            signed: None,
            earlier: Vec::new(),
            current_stage: None,
            stage_since: None,
            given: Vec::new(),
            at_home: None,
            doses: Vec::new(),
            entries: Vec::new(),
            heard: Vec::new(),
            known: Vec::new(),
            contacts: Vec::new(),
            keeps_diary: false,
            settled: Vec::new(),
            stopped: None,
            watched: Vec::new(),
            calls: Vec::new(),
            next_contact: None,
            chosen: BTreeMap::new(),
            chosen_anew: BTreeSet::new(),
            unfinished: None,
            notes: Vec::new(),
        }
    }

    /// Adds one thing that happened on a day.
    pub fn add(&mut self, date: Date, happening: &Happening) {
        match happening {
            Happening::Case(case) => {
                self.write_case((**case).clone());
                self.keep_case(date);
            }
            Happening::Status(kind) => {
                self.case.status = Status {
                    kind: *kind,
                    since: Some(date),
                };
            }
            Happening::Signed(plan) => self.sign((**plan).clone()),
            Happening::Released { stage } => self.release(*stage, date),
            Happening::Watched(session) => self.watch(session),
            Happening::Diary { channel, entries } => {
                let at_contact = matches!(channel, Channel::Call | Channel::Visit);
                self.keeps_diary |= !at_contact && !entries.is_empty();
                self.hear(entries, date);
            }
            Happening::Called(call) => self.call(call, date),
            Happening::Settled(settled) => self.settle(settled, date),
            Happening::Unfinished(sheet) => self.unfinished = Some((date, sheet.clone())),
            Happening::Chosen(choices) => {
                self.chosen.insert(choices.stage, choices.clone());
                self.chosen_anew.insert(choices.stage);
            }
            Happening::Note(text) => self.notes.push((date, text.clone())),
        }
    }

    /// A first page is a decision of its own, and ends a stop where somebody examined on a later day; a further one never
    /// ends it, a decision at a contact does.
    fn release(&mut self, stage: u16, date: Date) {
        let examined = |since: Date| {
            let mut examined = self.case.examinations.iter().filter(|one| one.examines());
            examined.any(|one| one.date > since && one.date <= date)
        };
        if self.current_stage.is_none() && self.stopped.is_some_and(examined) {
            self.stopped = None;
        }
        self.give(stage, date, false);
    }

    /// What was done is written, and the stop it answered goes on.
    fn settle(&mut self, settled: &Settled, date: Date) {
        self.settled.push(settled.key.clone());
        if leaves_a_stop(&settled.key) {
            self.stop(date);
        }
    }

    /// Of several stops the latest stands: an examination between them ends none.
    fn stop(&mut self, date: Date) {
        self.stopped = self.stopped.max(Some(date));
    }

    fn decide(&mut self, taken: &Taken, date: Date) {
        match taken.to_stage {
            Some(stage) => {
                let back = |action| matches!(action, Action::StepBack | Action::ReEnter);
                let anew = self.stopped.is_some() || back(taken.action) || back(taken.proposed);
                self.stopped = None;
                self.give(stage, date, anew);
            }
            None if taken.action == Action::StopAndContact => self.stop(date),
            None => {}
        }
    }

    /// Gives a page. `anew`: what was done before counts no more, also where it is the page they were on.
    fn give(&mut self, stage: u16, date: Date, anew: bool) {
        let other = self.current_stage != Some(stage);
        if anew || other {
            self.stage_since = Some(date);
        }
        // Signed anew and given again, the same page may ask for something else.
        if anew || other || self.at_home.as_ref() != self.signed_stage(stage) {
            self.at_home = self.signed_stage(stage).cloned();
            let dose = self.at_home.as_ref().map(Dose::of);
            self.doses
                .extend(dose.map(|dose| GivenDose { date, stage, dose }));
        }
        self.current_stage = Some(stage);
        let effort = self.signature_of(stage).and_then(|plan| plan.effort);
        self.given.push(Given {
            date,
            stage,
            effort,
        });
    }

    fn watch(&mut self, session: &WatchedSession) {
        self.case.watched.extend(session.stations.iter().cloned());
        self.watched.push(session.clone());
        self.contacts.push(Contact {
            date: session.date,
            kind: ContactKind::Visit,
        });
    }

    /// Keeps the case beside what is known under it.
    fn keep_case(&mut self, since: Date) {
        if !self.entries.is_empty() {
            self.known.push(Earlier {
                since,
                case: self.case.clone(),
                heard: self.entries.len(),
            });
        }
    }

    /// An entry id seen twice is one entry: what the later adds is added, and where they contradict the first stays.
    fn hear(&mut self, entries: &[DiaryEntry], date: Date) {
        for entry in entries {
            self.heard.extend(read_symptoms(&self.case, entry));
            self.case.pains.extend(pains(entry));
            let known = self.entries.iter_mut().find(|known| known.id == entry.id);
            match known {
                Some(known) => *known = known.joined(entry).unwrap_or_else(|| known.clone()),
                None => self.entries.push(entry.clone()),
            }
        }
        if !entries.is_empty() {
            self.keep_case(date);
        }
    }

    /// What was told counts from the day of the contact; what was decided, from the day it was written down.
    fn call(&mut self, call: &Call, date: Date) {
        // A call that reached nobody is not news.
        if call.reached {
            self.contacts.push(call.contact);
            self.unfinished = None;
        }
        self.hear(&call.entries, call.contact.date);
        if let Some(taken) = &call.decided {
            self.decide(taken, date);
        }
        if call.nitrate_until.is_some() {
            self.case.nitrate.until = call.nitrate_until;
        }
        self.next_contact = call.next.or(self.next_contact);
        self.calls.push(call.clone());
    }
}

#[cfg(test)]
mod pages_test;
#[cfg(test)]
mod raised_test;
#[cfg(test)]
mod stops_test;
#[cfg(test)]
mod strike_test;
#[cfg(test)]
mod tests;
