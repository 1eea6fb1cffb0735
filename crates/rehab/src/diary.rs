//! What was really done, as it came back by call, paper, file or page.

mod joined;

use crate::assessment::{CaseId, Effort, Pressure};
use jiff::civil::Date;

closed_words!(
    /// A symptom as a patient reports it.
    SymptomKind as "symptom" {
        ChestDiscomfort = "chest-discomfort",
        Faint = "faint",
        Dizziness = "dizziness",
        Palpitations = "palpitations",
        Breathlessness = "breathlessness",
        DeviceShock = "device-shock",
        LowSugar = "low-sugar",
        Swelling = "swelling",
        LegPain = "leg-pain",
        KneePain = "knee-pain",
        HipPain = "hip-pain",
        ShoulderPain = "shoulder-pain",
        BackPain = "back-pain",
        OtherJointPain = "other-joint-pain",
        Tiredness = "tiredness",
        Fall = "fall",
        Other = "other",
    }
);

closed_words!(
    /// How a pulse was taken; each has its own noise.
    PulseMethod as "way of taking the pulse" {
        Count15s = "count-15s", Count30s = "count-30s", Count60s = "count-60s", Tap = "tap", Strap = "strap",
    }
);

/// When within a session a pulse was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PulseMoment {
    /// Before the session, at rest.
    Before,
    /// At the end of a station (numbered from 1 within the conditioning part).
    EndOfStation(u8),
    /// Sixty seconds after the last station.
    SixtySecondsAfter,
    /// When the cool-down is over.
    AfterCoolDown,
}

/// One pulse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulse {
    /// When.
    pub at: PulseMoment,
    /// Rate in bpm.
    pub bpm: f64,
    /// How it was taken.
    pub how: Option<PulseMethod>,
}

/// A symptom in a diary.
#[derive(Clone, Debug, PartialEq)]
pub struct DiarySymptom {
    /// Which.
    pub kind: SymptomKind,
    /// Whether the person says it was as usual; `None` is not asked.
    pub usual: Option<bool>,
    /// 0 to 10.
    pub score: Option<f64>,
    /// Whether the nitrate was used for it.
    pub nitrate_used: Option<bool>,
}

/// Joint pain with a session.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointPain {
    /// 0 to 10 during the session.
    pub during: Option<f64>,
    /// Whether it was worse than usual next morning.
    pub worse_next_morning: Option<bool>,
}

/// How the session page begins the reason where somebody felt unwell.
const UNWELL: &str = "unwell: ";
/// How it begins where the day check left the session out.
const DAY_CHECK: &str = "day check: ";
/// What it writes where a session had begun and ended early without either.
const ENDED_EARLY: &[&str] = &["interrupted", "went to the way down early", NOT_TO_THE_END];
/// What the sheet of a call writes of such a day: it was asked about there.
pub const NOT_TO_THE_END: &str = "not to the end";

/// One session as it was done, or one report that none was.
#[derive(Clone, Debug, PartialEq)]
pub struct DiaryEntry {
    /// Id; seen twice it is one entry.
    pub id: String,
    /// Day of the session.
    pub date: Date,
    /// Rung it was done on.
    pub stage: Option<u16>,
    /// Stations that were planned.
    pub stations_planned: Option<u8>,
    /// Stations that were done.
    pub stations_done: Option<u8>,
    /// Effort at the hardest moment.
    pub effort: Option<Effort>,
    /// Symptoms; `None` was not asked, empty was none.
    pub symptoms: Option<Vec<DiarySymptom>>,
    /// Pulses.
    pub pulses: Vec<Pulse>,
    /// Joints.
    pub joint_pain: Option<JointPain>,
    /// Exercises that were eased.
    pub eased: Vec<String>,
    /// Extra rest in seconds.
    pub rested_s: Option<u32>,
    /// Why it was stopped early.
    pub stopped_because: Option<String>,
    /// A change of medicine the person tells.
    pub medicine_change: Option<String>,
    /// Weight in kg.
    pub weight_kg: Option<f64>,
    /// Pressure, where the person takes it.
    pub pressure: Option<Pressure>,
    /// Minutes it took.
    pub minutes: Option<f64>,
    /// In their own words.
    pub note: Option<String>,
}

impl DiaryEntry {
    /// Whether it tells of a session; one of no minutes tells only that none was done, or how the person was.
    pub fn is_session(&self) -> bool {
        self.minutes.is_none_or(|minutes| minutes > 0.0)
    }

    /// Whether it tells only how the joints were the morning after a session: nothing else was asked, so nothing else
    /// is missing from it.
    pub fn is_morning_after(&self) -> bool {
        let asked = self
            .joint_pain
            .is_some_and(|pain| pain.during.is_none() && pain.worse_next_morning.is_some());
        asked
            && !self.is_session()
            && self.symptoms.is_none()
            && self.stopped_because.is_none()
            && self.medicine_change.is_none()
            && self.weight_kg.is_none()
    }

    /// Why the person did not exercise, or stopped because they felt unwell: what the day check or the path for feeling
    /// unwell wrote, or any reason that stands where no session was done. A session that only ended early tells none.
    pub fn why_not_exercising(&self) -> Option<&str> {
        let why = self.stopped_because.as_deref()?;
        let unwell = why.starts_with(UNWELL) || why.starts_with(DAY_CHECK);
        let left_out = !self.is_session() && !ENDED_EARLY.contains(&why);
        (unwell || left_out).then_some(why)
    }

    /// Why a session ended early in somebody's own words, which no rule can judge.
    pub fn own_reason(&self) -> Option<&str> {
        let why = self.stopped_because.as_deref().map(str::trim)?;
        let own = !why.is_empty() && !ENDED_EARLY.contains(&why);
        (own && self.why_not_exercising().is_none()).then_some(why)
    }
}

/// A diary of one case.
#[derive(Clone, Debug, PartialEq)]
pub struct Diary {
    /// Whose diary it is.
    pub case: CaseId,
    /// Its entries, any order.
    pub entries: Vec<DiaryEntry>,
}
