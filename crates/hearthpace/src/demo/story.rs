//! A story: what happened to one invented person, day by day, counted from the base day.

use serde::Deserialize;

/// The story of one person.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Story {
    /// What the review proposes at its end, where that is the point of the story.
    pub(super) ends_with: Option<String>,
    /// The steps, in order of days.
    #[serde(rename = "step")]
    pub(super) steps: Vec<Step>,
}

/// One step with its day.
#[derive(Debug, Deserialize)]
pub(super) struct Step {
    /// Day, counted from the base day: 0 is today.
    pub(super) day: i32,
    /// What is done.
    #[serde(flatten)]
    pub(super) what: What,
}

/// What a step does.
#[derive(Debug, Deserialize)]
#[serde(tag = "do", rename_all = "kebab-case")]
pub(super) enum What {
    /// The case is written as it was known on that day.
    Write,
    /// Pages are signed.
    Sign {
        /// Rungs.
        stages: Vec<u16>,
    },
    /// A signed page is given.
    Give {
        /// Its rung.
        stage: u16,
    },
    /// A page is watched, everything on it.
    Watch {
        /// Its rung.
        stage: u16,
        /// Effort of 10.
        effort: f64,
        /// In the practitioner's words.
        #[serde(default)]
        note: String,
    },
    /// Sessions are done alone and told.
    Sessions(Box<Sessions>),
    /// A call or visit.
    Call {
        /// `call` or `visit`.
        kind: String,
        /// Whether the person was reached.
        reached: bool,
        /// The note.
        note: String,
        /// What the review must propose, which is then accepted; without it nothing is decided.
        expect: Option<String>,
        /// Day of the next contact, counted from the base day.
        next: Option<i32>,
    },
    /// The standing changes.
    Status {
        /// To what.
        to: String,
    },
    /// An alert is answered.
    Settle {
        /// Rule of the alert.
        rule: String,
        /// What was done.
        done: String,
    },
    /// A note.
    Note {
        /// The words.
        text: String,
    },
}

/// Sessions that were done alone and told.
#[derive(Debug, Deserialize)]
pub(super) struct Sessions {
    /// Days.
    pub(super) days: Vec<i32>,
    /// Rung.
    pub(super) stage: u16,
    /// Effort of 10.
    pub(super) effort: f64,
    /// By which way they were told.
    pub(super) by: String,
    /// Whether pulses were counted.
    #[serde(default)]
    pub(super) pulse: bool,
    /// Turns done, where it was not all.
    pub(super) done: Option<u8>,
    /// A symptom.
    pub(super) symptom: Option<ToldSymptom>,
    /// Joints.
    pub(super) joint: Option<ToldJoint>,
    /// Why it was stopped.
    pub(super) stopped: Option<String>,
    /// Weight in kg.
    pub(super) weight: Option<f64>,
    /// A change of medicine.
    pub(super) medicine_change: Option<String>,
    /// In the person's words.
    pub(super) session_note: Option<String>,
}

/// A symptom as it was told.
#[derive(Debug, Deserialize)]
pub(super) struct ToldSymptom {
    /// Which.
    pub(super) kind: String,
    /// As usual.
    pub(super) usual: Option<bool>,
    /// Of 10.
    pub(super) score: Option<f64>,
    /// Whether the nitrate was used.
    pub(super) nitrate_used: Option<bool>,
}

/// Joints as they were told.
#[derive(Debug, Deserialize)]
pub(super) struct ToldJoint {
    /// Of 10 during it.
    pub(super) during: f64,
    /// Worse next morning.
    pub(super) worse_next_morning: bool,
}
