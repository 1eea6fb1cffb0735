//! A movement as it is written down: key poses in a room, and how long it takes.

mod change;

use crate::held::Held;
use crate::key::{Key, Pause};
use crate::room::Room;

/// A movement that repeats.
#[derive(Clone, Debug, PartialEq)]
pub struct Movement {
    /// What stands in the room.
    pub room: Room,
    /// Its key poses in order; after the last one comes the first one again.
    pub keys: Vec<Key>,
    /// Whether all key poses follow once more in a mirror before the first one comes again.
    pub alternates: bool,
    /// What the hands hold.
    pub held: Held,
}

/// Why a movement has no cycle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Untimed {
    /// There is nothing to move between.
    TooFewKeys,
    /// A way from one key pose to the next takes no time.
    NoTime {
        /// Which key pose, from 1.
        key: usize,
    },
    /// The whole is no number of frames.
    NotWholeFrames {
        /// How long the whole is.
        period_ms: u32,
    },
}

impl core::fmt::Display for Untimed {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::TooFewKeys => {
                f.write_str("a movement needs two key poses, or one that alternates; add one")
            }
            Self::NoTime { key } => {
                write!(
                    f,
                    "from key pose {key} to the next takes no time; give it some"
                )
            }
            Self::NotWholeFrames { period_ms } => write!(
                f,
                "the movement takes {period_ms} ms, which is not a multiple of {}; pictures are that far apart, so make it one",
                Movement::FRAME_MS
            ),
        }
    }
}

impl core::error::Error for Untimed {}

impl Movement {
    /// How far apart the pictures of a film are, which every movement fits.
    pub const FRAME_MS: u32 = 40;

    /// All key poses of one repetition, the mirrored ones included.
    pub fn repetition(&self) -> Vec<Key> {
        let mirrored = self.keys.iter().map(Key::mirrored);
        let again = mirrored.filter(|_| self.alternates);
        self.keys.iter().copied().chain(again).collect()
    }

    /// How long one repetition takes.
    ///
    /// # Errors
    /// When there are too few key poses, a way takes no time, or the whole is no number of frames.
    pub fn period_ms(&self) -> Result<u32, Untimed> {
        let keys = self.repetition();
        if keys.len() < 2 {
            return Err(Untimed::TooFewKeys);
        }
        if let Some(key) = keys.iter().position(|key| key.to_next_ms == 0) {
            return Err(Untimed::NoTime { key: key + 1 });
        }
        let period_ms = keys.iter().map(|key| key.to_next_ms + key.rest_ms()).sum();
        if period_ms % Self::FRAME_MS == 0 {
            Ok(period_ms)
        } else {
            Err(Untimed::NotWholeFrames { period_ms })
        }
    }
}

impl Key {
    /// How long the movement rests here.
    pub const fn rest_ms(&self) -> u32 {
        match self.pause {
            Pause::Hold { ms } => ms,
            Pause::Pass => 0,
        }
    }
}
