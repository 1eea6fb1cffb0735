//! What is asked before and after a session, with what each answer comes to.

use rehab::assessment::EffortScale;

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
        /// Where beats are counted over some seconds, how many; the value is the rate a minute.
        count_s: Option<u16>,
        /// What values come to, lowest first.
        bands: Vec<Band>,
        /// What it comes to where it was not measured.
        unmeasured: Outcome,
    },
}

/// What the diary is told where a row leaves the day out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// Word of the symptom, where the row asks about one.
    pub symptom: Option<&'static str>,
    /// Whether the row asked for new or worse than usual.
    pub worse: bool,
    /// Whether it tells that the spray was used.
    pub nitrate: bool,
    /// Whether it tells of a change of medicine.
    pub medicine: bool,
    /// Whether the page stays closed until the team has spoken to them; without it only this day is left out.
    pub lock: bool,
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
    /// What the diary is told where it leaves the day out.
    pub told: Told,
    /// Where it stands in a list with its neighbours; `None` is asked by itself.
    pub listed: Option<Listed>,
}

/// The place of a row in a list that one answer passes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Which list: neighbours with the same number stand together.
    pub number: u8,
    /// What is asked over the list.
    pub head: String,
    /// How the row reads in it.
    pub line: String,
}

/// One sign that can be ticked at the end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignRow {
    /// Word for the diary.
    pub kind: String,
    /// In the person's words.
    pub label: String,
    /// Whether "as usual" is asked: it is recorded as usual for this person, and being so makes it milder.
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
    /// Whether pulses are asked, and over how many seconds they are counted.
    pub pulse_s: Option<u16>,
    /// Where the weight is asked, the least and most that can be entered in kg.
    pub weight: Option<(f64, f64)>,
    /// Last lines: stay up, telephone, no hot bath.
    pub last: Vec<String>,
}
