//! What the practitioner has chosen for a programme beside the case: pins, bans, the rung to begin at.

use super::{GivenDose, VariantRef};

/// A station that must stand.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pin {
    /// Number of the station in the round, from 1; `None` for anywhere in it.
    pub station: Option<u8>,
    /// Exercise id.
    pub exercise: String,
    /// Variant id; `None` for any of the exercise.
    pub variant: Option<String>,
}

/// Something that must not be offered.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Ban {
    /// Exercise id.
    pub exercise: String,
    /// Variant id; `None` for all of the exercise.
    pub variant: Option<String>,
}

/// The choices.
#[derive(Clone, Debug, PartialEq)]
pub struct Choices {
    /// Stations that must stand.
    pub pins: Vec<Pin>,
    /// What must not be offered.
    pub bans: Vec<Ban>,
    /// The present rung: it and the next are given in detail.
    pub stage: u16,
    /// The pages that went home, oldest first: nothing made anew outgrows the one that lies there.
    pub given: Vec<GivenDose>,
}

impl Choices {
    /// No choice: the program proposes, from the first rung on.
    pub const fn none() -> Self {
        Self {
            pins: Vec::new(),
            bans: Vec::new(),
            stage: 1,
            given: Vec::new(),
        }
    }

    /// Whether a variant is banned.
    pub(crate) fn bans(&self, exercise: &str, variant: &str) -> bool {
        self.bans.iter().any(|ban| {
            ban.exercise == exercise
                && ban
                    .variant
                    .as_deref()
                    .is_none_or(|banned| banned == variant)
        })
    }
}

/// Another way of filling one station.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternative {
    /// What would be done.
    pub doing: VariantRef,
    /// Index into the home's places; `None` where it is assumed.
    pub place: Option<usize>,
    /// Name of the place.
    pub place_name: String,
    /// METs, best estimate.
    pub mets: f64,
    /// METs more than now.
    pub mets_change: f64,
    /// Predicted rate at the end of the station; `None` where there is no pulse model.
    pub predicted_hr: Option<f64>,
    /// Whether the exercise is new to the person.
    pub new: bool,
    /// Whether it must be watched before it may be done alone.
    pub to_watch: bool,
    /// Why it may stand here: one sentence for each, with its rule.
    pub because: Vec<crate::evidence::Because>,
    /// Pins that put it in and keep every other station as it is.
    pub pins: Vec<Pin>,
}
