//! What was chosen for a programme, as it is stored.

use rehab::programme::{Ban, Choices, Pin};
use serde::{Deserialize, Serialize};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StoredChoices {
    stage: u16,
    pins: Vec<StoredPin>,
    bans: Vec<StoredBan>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredPin {
    station: Option<u8>,
    exercise: String,
    variant: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredBan {
    exercise: String,
    variant: Option<String>,
}

impl From<&Choices> for StoredChoices {
    fn from(choices: &Choices) -> Self {
        let pins = choices.pins.iter().map(|pin| StoredPin {
            station: pin.station,
            exercise: pin.exercise.clone(),
            variant: pin.variant.clone(),
        });
        let bans = choices.bans.iter().map(|ban| StoredBan {
            exercise: ban.exercise.clone(),
            variant: ban.variant.clone(),
        });
        Self {
            stage: choices.stage,
            pins: pins.collect(),
            bans: bans.collect(),
        }
    }
}

impl From<StoredChoices> for Choices {
    fn from(stored: StoredChoices) -> Self {
        let pins = stored.pins.into_iter().map(|pin| Pin {
            station: pin.station,
            exercise: pin.exercise,
            variant: pin.variant,
        });
        let bans = stored.bans.into_iter().map(|ban| Ban {
            exercise: ban.exercise,
            variant: ban.variant,
        });
        Self {
            pins: pins.collect(),
            bans: bans.collect(),
            stage: stored.stage,
            given: Vec::new(),
        }
    }
}
