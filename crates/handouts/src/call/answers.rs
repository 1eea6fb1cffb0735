//! What was answered. Not asked is `None`, asked and absent is written: the two never look the same.

use jiff::civil::Date;
use rehab::diary::SymptomKind;

/// A sign of the heart that is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HeartSign {
    /// Discomfort in chest, jaw or arm.
    Chest,
    /// A faint.
    Faint,
    /// Heart racing or stumbling.
    Racing,
    /// More out of breath than usual.
    Breathless,
    /// A shock of the device.
    Shock,
    /// More swelling.
    Swelling,
}

impl HeartSign {
    /// Every sign, in the order it is asked.
    pub const ALL: [Self; 6] = [
        Self::Chest,
        Self::Faint,
        Self::Racing,
        Self::Breathless,
        Self::Shock,
        Self::Swelling,
    ];

    /// Its word in forms and ids of words.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Chest => "chest",
            Self::Faint => "faint",
            Self::Racing => "racing",
            Self::Breathless => "breathless",
            Self::Shock => "shock",
            Self::Swelling => "swelling",
        }
    }

    /// The symptom it stands for.
    pub const fn kind(self) -> SymptomKind {
        match self {
            Self::Chest => SymptomKind::ChestDiscomfort,
            Self::Faint => SymptomKind::Faint,
            Self::Racing => SymptomKind::Palpitations,
            Self::Breathless => SymptomKind::Breathlessness,
            Self::Shock => SymptomKind::DeviceShock,
            Self::Swelling => SymptomKind::Swelling,
        }
    }
}

/// A sign that was told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SignTold {
    /// Which.
    pub sign: HeartSign,
    /// Whether it was as usual; asked only where it is recorded as usual.
    pub usual: Option<bool>,
}

/// A day on which the page was done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DayTold {
    /// The day.
    pub date: Date,
    /// Not done to its end.
    pub part: bool,
}

/// The spray or tablet for chest discomfort.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spray {
    /// Whether it was used.
    pub used: Option<bool>,
    /// Last day it is in date, as read from it.
    pub until: Option<Date>,
}

/// Falls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fall {
    /// None.
    No,
    /// Nearly.
    Nearly,
    /// Fallen.
    Fallen,
}

/// Joints with the sessions.
#[derive(Clone, Debug, PartialEq)]
pub struct Joints {
    /// 0 to 10 during.
    pub during: Option<f64>,
    /// Worse next morning.
    pub worse: Option<bool>,
    /// Exercise to be eased, by its id.
    pub ease: Option<String>,
    /// In the person's words.
    pub said: String,
}

/// Sleep, or how somebody is in themself: asked at a visit only.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InThemself {
    /// Whether it is worse than usual; `None` was not asked.
    pub worse: Option<bool>,
    /// In the person's words.
    pub said: String,
}

impl InThemself {
    const fn unasked() -> Self {
        Self {
            worse: None,
            said: String::new(),
        }
    }
}

/// All answers of one call or visit.
#[derive(Clone, Debug, PartialEq)]
pub struct Answers {
    /// How the person has been, in their words.
    pub open: String,
    /// Days done; `None` was not asked, empty was asked and none.
    pub days: Option<Vec<DayTold>>,
    /// The rung that was done, as its letter says.
    pub stage: Option<u16>,
    /// Effort at the hardest moment, in the service's scale.
    pub effort: Option<f64>,
    /// Pulse before the last session, in bpm.
    pub pulse_before_bpm: Option<f64>,
    /// Pulse after its cool-down, in bpm.
    pub pulse_after_bpm: Option<f64>,
    /// Signs of the heart; `None` was not asked, empty was asked and absent.
    pub heart: Option<Vec<SignTold>>,
    /// The spray.
    pub spray: Spray,
    /// Whether medicines changed; `None` was not asked.
    pub medicines_changed: Option<bool>,
    /// What changed.
    pub medicine_change: String,
    /// Weight of today in kg.
    pub weight_kg: Option<f64>,
    /// Weight three days ago in kg.
    pub weight_before_kg: Option<f64>,
    /// Whether the sugar was low.
    pub low_sugar: Option<bool>,
    /// Falls.
    pub fall: Option<Fall>,
    /// Joints.
    pub joints: Joints,
    /// Sleep.
    pub sleep: InThemself,
    /// Mood.
    pub mood: InThemself,
    /// Anything else.
    pub own: String,
}

impl Answers {
    /// Whether medicines changed: what was written down changed, whatever else was marked; `None` was not asked.
    pub fn has_medicine_change(&self) -> Option<bool> {
        match self.medicine_change.trim().is_empty() {
            true => self.medicines_changed,
            false => Some(true),
        }
    }

    /// Nothing asked yet.
    pub const fn unasked() -> Self {
        Self {
            open: String::new(),
            days: None,
            stage: None,
            effort: None,
            pulse_before_bpm: None,
            pulse_after_bpm: None,
            heart: None,
            spray: Spray {
                used: None,
                until: None,
            },
            medicines_changed: None,
            medicine_change: String::new(),
            weight_kg: None,
            weight_before_kg: None,
            low_sugar: None,
            fall: None,
            joints: Joints {
                during: None,
                worse: None,
                ease: None,
                said: String::new(),
            },
            sleep: InThemself::unasked(),
            mood: InThemself::unasked(),
            own: String::new(),
        }
    }
}
