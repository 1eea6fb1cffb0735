//! What was watched, what hurts, what is usual, and what was agreed.

use super::{Effort, Pressure};
use crate::diary::SymptomKind;
use jiff::civil::Date;

closed_words!(
    /// How it looked.
    Technique as "technique" { Good = "good", NeededHelp = "needed-help", NotForThem = "not-for-them" }
);

closed_words!(
    /// Support of the hands.
    Support as "support" { None = "none", OneHand = "one-hand", TwoHands = "two-hands", Seated = "seated" }
);

/// One exercise that a practitioner watched this person do.
#[derive(Clone, Debug, PartialEq)]
pub struct Watched {
    /// Day.
    pub date: Date,
    /// Exercise id.
    pub exercise: String,
    /// Variant id.
    pub variant: String,
    /// Effort at its end.
    pub effort: Option<Effort>,
    /// Pulse at its end in bpm.
    pub hr_bpm: Option<f64>,
    /// Pressure at its end.
    pub bp: Option<Pressure>,
    /// How it looked.
    pub technique: Technique,
    /// Support used.
    pub support: Option<Support>,
    /// What was felt in the session; `None` was not asked, empty was none.
    pub symptoms: Option<Vec<SymptomKind>>,
}

closed_words!(
    /// A joint.
    Joint as "joint" {
        Knee = "knee", Hip = "hip", Ankle = "ankle", Shoulder = "shoulder", Elbow = "elbow",
        Wrist = "wrist", Back = "back", Neck = "neck",
    }
);

/// A joint that hurts.
#[derive(Clone, Debug, PartialEq)]
pub struct Pain {
    /// Which joint; `None` where only the exercise was told.
    pub joint: Option<Joint>,
    /// 0 to 10 during exercise.
    pub during: Option<f64>,
    /// Whether it had settled within 2 hours after exercise.
    pub settled_2h: Option<bool>,
    /// Whether it is worse than usual next morning.
    pub worse_next_morning: Option<bool>,
    /// Day it was asked.
    pub date: Option<Date>,
    /// The exercise during which it hurt, where known.
    pub exercise: Option<String>,
}

/// A symptom that is normal for this person.
#[derive(Clone, Debug, PartialEq)]
pub struct UsualSymptom {
    /// Which symptom.
    pub kind: SymptomKind,
    /// 0 to 10 as usual.
    pub score: Option<f64>,
}

/// A doctor's recorded agreement to a home programme.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Agreement {
    /// Who agreed.
    pub doctor: String,
    /// When.
    pub date: Date,
}
