//! The running order: one session on one time axis with every word that goes with it.
//!
//! Page, print, captions and calendar read only this. It is made once from the signed rung, the service's settings,
//! the person's own facts and the words; no reader computes anything clinical.

mod build;
mod check;
mod closing;
mod cues;
mod refused;
mod say;
mod unwell;

pub use build::{Ask, running_order};
pub use check::DayBounds;
pub use refused::OrderRefused;
pub use say::page_letter;

use crate::figure::{Build, Still};
use crate::profile::Course;
use jiff::civil::Date;
use rehab::assessment::EffortScale;
use rehab::programme::{Phase, VariantRef};
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
        /// Day.
        on: Date,
    },
    /// A draft: every page and screen says so.
    Draft,
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

/// What a cue is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CueKind {
    /// Part of the warm-up or the way down.
    Slope,
    /// A brisk turn.
    Brisk,
    /// An easy turn.
    Easy,
    /// The way to the next place, or marching in its stead.
    Walk,
    /// Rest.
    Rest,
}

/// A brisk turn's number within its round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TurnNumber {
    /// Number, from 1.
    pub number: u16,
    /// How many the round has.
    pub of: u16,
    /// Number through the whole session, from 1.
    pub through: u16,
}

/// What is done and said in one way of doing it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doing {
    /// The exercise and variant; `None` for walking over, marching in its stead and rest.
    pub what: Option<VariantRef>,
    /// Name.
    pub name: String,
    /// How this way differs; may be empty.
    pub way: String,
    /// Where to stand or sit, before it begins; may be empty.
    pub set_up: String,
    /// At most three short sentences.
    pub lines: Vec<String>,
    /// The beat or the holding in words; empty where there is none.
    pub tempo: String,
    /// What to take care of; may be empty.
    pub care: String,
    /// Key of the figure in [`RunningOrder::figures`]; `None` where nothing is drawn.
    pub figure: Option<String>,
}

/// One part of the session.
#[derive(Clone, Debug, PartialEq)]
pub struct Cue {
    /// Begin in ms of the session.
    pub start_ms: u64,
    /// Length in ms.
    pub duration_ms: u32,
    /// Part of the session.
    pub phase: Phase,
    /// What it is.
    pub kind: CueKind,
    /// Round, from 1; 0 outside the conditioning part.
    pub round: u8,
    /// First cue of a further round: "Once more round".
    pub once_more: bool,
    /// Number of the station within the conditioning part, from 1; diaries name pulses by it.
    pub station: Option<u8>,
    /// For a brisk turn, which.
    pub turn: Option<TurnNumber>,
    /// What stands over it: "Brisk turn 3 of 5", "Easy turn".
    pub title: String,
    /// The place as the person calls it; may be empty.
    pub place: String,
    /// "at the armchair", with a capital; may be empty.
    pub at_place: String,
    /// What is done.
    pub doing: Doing,
    /// The easier way that stands ready.
    pub easier: Doing,
    /// How long, in words.
    pub length: String,
    /// What it should feel like.
    pub feel: String,
    /// The daily task it serves; may be empty.
    pub serves: String,
}

impl Cue {
    /// End in ms of the session.
    pub const fn end_ms(&self) -> u64 {
        self.start_ms + self.duration_ms as u64
    }
}

/// What an answer of the day check comes to. All of it is decided here; the page only compares and chooses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Go on to the next row.
    GoOn,
    /// Do this first, then answer again.
    First(String),
    /// Not today, ring the team.
    NotToday(String),
    /// To this node of the unwell path.
    Unwell(String),
}

/// A stretch of values with its outcome; the stretches of a row cover everything that can be entered.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Values below this belong to it; the last band has no end.
    pub below: Option<f64>,
    /// What they come to.
    pub outcome: Outcome,
}

/// How a row is answered.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// Yes or no; "no" always goes on.
    YesNo {
        /// What "yes" comes to.
        yes: Outcome,
    },
    /// A number.
    Number {
        /// Unit in words.
        unit: String,
        /// Least that can be entered.
        least: f64,
        /// Most that can be entered.
        most: f64,
        /// Decimal places.
        decimals: u8,
        /// What values come to, lowest first.
        bands: Vec<Band>,
    },
}

/// One row of the day check.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckRow {
    /// Id.
    pub id: String,
    /// The question.
    pub question: String,
    /// How it stands in the list of what has been answered.
    pub passed: String,
    /// How it stands on paper, under "leave it today and ring us if".
    pub paper: Vec<String>,
    /// How it is answered.
    pub answer: Answer,
}

/// Whom a screen of the unwell path asks to telephone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Call {
    /// The emergency number.
    Emergency,
    /// The team, with the emergency number beside it.
    Team,
}

/// What pressing a choice does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Next {
    /// To another node.
    Node(String),
    /// Back to the session, on the easier way.
    BackEased,
    /// The pressing was a mistake: back to where it came from.
    Back,
    /// To the end: no exercise until the team has spoken to them.
    Afterwards,
}

/// One choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Words on it.
    pub label: String,
    /// What it does.
    pub next: Next,
    /// Whether it can be pressed only when the wait of the node is over.
    pub after_wait: bool,
}

/// One screen of the unwell path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// Its heading.
    pub head: String,
    /// What to do.
    pub lines: Vec<String>,
    /// Whom to call.
    pub call: Call,
    /// Wait in ms; 0 is none.
    pub wait_ms: u32,
    /// A question over the choices; may be empty.
    pub question: String,
    /// The choices.
    pub choices: Vec<Choice>,
    /// Word for the diary: what this node is about.
    pub symptom: Option<String>,
    /// Whether using the nitrate stands behind reaching this node's choices.
    pub nitrate: bool,
}

/// The unwell path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unwell {
    /// Id of the first node.
    pub first: String,
    /// Nodes by id.
    pub nodes: BTreeMap<String, Node>,
    /// What stands at the end, whatever happened.
    pub after: Vec<String>,
}

/// One sign that can be ticked at the end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignRow {
    /// Word for the diary.
    pub kind: String,
    /// In the person's words.
    pub label: String,
    /// Whether it is recorded as usual for this person, so that "as usual" may be asked.
    pub known: bool,
    /// What it comes to when it is new or worse: no exercise until the team has spoken to them.
    pub lock: bool,
}

/// What is asked at the end.
#[derive(Clone, Debug, PartialEq)]
pub struct Closing {
    /// The scale.
    pub scale: EffortScale,
    /// What its ends mean.
    pub scale_words: String,
    /// Upper end of what was planned.
    pub effort_high: f64,
    /// Signs to tick.
    pub signs: Vec<SignRow>,
    /// Whether the spray is asked about.
    pub spray: bool,
    /// Whether pulses are asked.
    pub pulse: bool,
    /// Whether the weight is asked.
    pub weight: bool,
    /// Last lines: stay up, telephone, no hot bath.
    pub last: Vec<String>,
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
    /// The parts.
    pub cues: Vec<Cue>,
    /// The day check.
    pub check: Vec<CheckRow>,
    /// Before I start.
    pub ready: Vec<String>,
    /// Words of the box "stop and sit down".
    pub stop: Vec<String>,
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

    /// The exercises in the order they first come, each once: what the printed stations are.
    pub fn stations(&self) -> Vec<&Cue> {
        let mut seen: Vec<(&VariantRef, &str)> = Vec::new();
        let mut stations = Vec::new();
        for cue in &self.cues {
            let Some(what) = &cue.doing.what else {
                continue;
            };
            // The same exercise at another place is its own station; in a further round it is not told again.
            if !seen.contains(&(what, cue.place.as_str())) {
                seen.push((what, &cue.place));
                stations.push(cue);
            }
        }
        stations
    }
}
