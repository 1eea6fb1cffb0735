//! The running order: one session on one time axis with every word that goes with it.
//!
//! Page, print, captions and calendar read only this. It is made once from the signed rung, the service's settings,
//! the person's own facts and the words; no reader computes anything clinical.

mod asked;
mod build;
mod check;
mod chest;
mod closing;
mod cue;
mod cues;
mod lists;
mod path;
mod refused;
mod say;
mod sequence;
mod unwell;

pub use asked::{Answer, Band, CheckRow, Closing, Listed, Outcome, SignRow, Told};
pub use build::{Ask, running_order};
pub use check::DayBounds;
pub use cue::{Cue, CueKind, Doing, Stance, TurnNumber};
pub use path::{Call, Choice, Next, Node, Tick, Together, Unwell};
pub use refused::OrderRefused;
pub use rehab::programme::page_letter;
pub(crate) use say::capital;
pub use sequence::{Part, Row};

use crate::figure::{Build, Still};
use crate::profile::Course;
use jiff::civil::Date;
use rehab::course::SignedPlan;
use std::collections::BTreeMap;

/// Whether the page may be given to a patient.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Approval {
    /// Signed by a practitioner.
    Signed {
        /// Name.
        name: String,
        /// Role.
        role: String,
        /// Second names, where the signature goes further than the program would.
        with: Vec<String>,
        /// Day.
        on: Date,
    },
    /// A draft: every page and screen says so.
    Draft,
}

impl Approval {
    /// The approval of a signed plan, each second name once.
    pub fn of(plan: &SignedPlan) -> Self {
        let mut with: Vec<String> = Vec::new();
        for one in &plan.overrides {
            if !with.contains(&one.second_name) {
                with.push(one.second_name.clone());
            }
        }
        Self::Signed {
            name: plan.by.name.clone(),
            role: plan.by.role.clone(),
            with,
            on: plan.on,
        }
    }
}

/// How to reach somebody.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// Who.
    pub name: String,
    /// Number as it is read.
    pub number: String,
    /// What stands beside it: the emergency text, or the team's hours.
    pub text: String,
    /// What to do at other times.
    pub otherwise: Option<String>,
}

/// Words of the box that stands on the first page and behind every session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// When to stop.
    pub when: String,
    /// When to call the emergency number.
    pub call_if: String,
    /// What a shock of the device means; only with a device.
    pub shock: Option<String>,
    /// What comes afterwards.
    pub afterwards: String,
}

/// The session with its words.
#[derive(Clone, Debug, PartialEq)]
pub struct RunningOrder {
    /// Case id, for the diary.
    pub case_id: String,
    /// Language tag.
    pub language: String,
    /// How the person is called.
    pub called: String,
    /// "Mrs Fenwick, born 1951".
    pub identity: String,
    /// Page letter.
    pub letter: char,
    /// Number of the rung, for the diary only.
    pub stage: u16,
    /// Day of the page.
    pub date: Date,
    /// That day in words.
    pub date_words: String,
    /// Last day on which the page may be used without being asked about; `None` has no end.
    pub valid_until: Option<Date>,
    /// Whether it is signed.
    pub approval: Approval,
    /// "Signed by ...", or the mark of a draft.
    pub approval_words: String,
    /// Emergency.
    pub emergency: Reach,
    /// The team.
    pub team: Reach,
    /// "Five brisk turns, about 39 minutes in all."
    pub sum: String,
    /// "Do it three times a week ...".
    pub often: String,
    /// Sessions a week.
    pub sessions_per_week: u8,
    /// Begin of the way down in ms.
    pub way_down_ms: u64,
    /// Whole length in ms.
    pub length_ms: u64,
    /// A session that was interrupted for longer is not gone on with.
    pub resume_within_ms: u32,
    /// Everything that is done, one after the other.
    pub cues: Vec<Cue>,
    /// The same as lists for paper, part by part.
    pub parts: Vec<Part>,
    /// The day check.
    pub check: Vec<CheckRow>,
    /// Before I start.
    pub ready: Vec<String>,
    /// Words of the box "stop and sit down".
    pub stop: Stop,
    /// Steps of the service's nitrate protocol; empty unless prescribed and taught.
    pub nitrate: Vec<String>,
    /// The unwell path.
    pub unwell: Unwell,
    /// The end.
    pub closing: Closing,
    /// The line of hills.
    pub course: Course,
    /// METs at its ceiling, for drawing only.
    pub top_mets: f64,
    /// Figures by key.
    pub figures: BTreeMap<String, Still>,
    /// Who is drawn.
    pub build: Build,
    /// Every other sentence of page and print by id, with what is the same throughout already filled in.
    pub words: BTreeMap<String, String>,
}

impl RunningOrder {
    /// A sentence by its id; an id that is missing is a mistake of ours that a test finds.
    pub fn word(&self, id: &str) -> &str {
        debug_assert!(
            self.words.contains_key(id),
            "no sentence '{id}' in the running order"
        );
        self.words.get(id).map_or("", String::as_str)
    }

    /// Whether it is a draft.
    pub const fn is_draft(&self) -> bool {
        matches!(self.approval, Approval::Draft)
    }

    /// What is shown in picture and sentences, each once: things that differ in nothing a person reads are one. A brisk
    /// turn stands for what is done elsewhere too.
    pub fn shown(&self) -> Vec<&Cue> {
        let mut shown: Vec<&Cue> = Vec::new();
        for cue in self.cues.iter().filter(|cue| cue.doing.what.is_some()) {
            match shown.iter_mut().find(|other| other.is_shown_as(cue)) {
                Some(other) if other.turn.is_none() && cue.turn.is_some() => *other = cue,
                Some(_) => {}
                None => shown.push(cue),
            }
        }
        shown
    }
}
