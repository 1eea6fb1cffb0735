//! One part of the session with its words.

use rehab::assessment::Support;
use rehab::programme::{Phase, Posture, VariantRef};

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

/// How somebody stands or sits, and what the hands hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stance {
    /// Posture.
    pub posture: Posture,
    /// Hands.
    pub support: Support,
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
    /// The same as facts; `None` for walking over, marching in its stead and rest.
    pub stance: Option<Stance>,
    /// At most three short sentences.
    pub lines: Vec<String>,
    /// The beat or the holding in words; empty where there is none.
    pub tempo: String,
    /// The same for paper: that a slower beat is fine.
    pub tempo_long: String,
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
    /// The same without the count: "Brisk turn 3".
    pub short: String,
    /// The place as the person calls it; may be empty.
    pub place: String,
    /// "at the armchair", with a capital; may be empty.
    pub at_place: String,
    /// What is done.
    pub doing: Doing,
    /// The easier way that stands ready.
    pub easier: Doing,
    /// How long, in words, as a clock shows it.
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

    /// Walking over, marching in its stead or rest, as one line.
    pub fn told(&self) -> String {
        let first = self.doing.lines.first().map_or("", String::as_str);
        match first.starts_with(self.doing.name.as_str()) {
            true => first.to_owned(),
            false => format!("{}. {first}", self.doing.name),
        }
    }

    /// Whether one picture with its sentences shows both.
    pub fn is_shown_as(&self, other: &Self) -> bool {
        self.doing == other.doing && self.easier == other.easier
    }
}
