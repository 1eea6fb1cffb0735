//! What the composer hands back.

use super::instance::{BENEFIT, CHANGES, LEVEL_WORTH, LEVELS, NOVELTY, OFF_BAND, VARIETY};

/// The objective level by level, each higher the better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Levels {
    /// Steps by which brisk stations lie off the training band, negative.
    pub off_band: i64,
    /// Needs and likes met.
    pub benefit: i64,
    /// Novelty of the stations, negative.
    pub novelty: i64,
    /// Changes of place and things, negative.
    pub changes: i64,
    /// Variety less repeats.
    pub variety: i64,
}

impl Levels {
    pub(super) const fn of(levels: [i64; LEVELS]) -> Self {
        Self {
            off_band: levels[OFF_BAND],
            benefit: levels[BENEFIT],
            novelty: levels[NOVELTY],
            changes: levels[CHANGES],
            variety: levels[VARIETY],
        }
    }

    /// The one number.
    pub const fn objective(self) -> i64 {
        self.off_band * LEVEL_WORTH[OFF_BAND]
            + self.benefit * LEVEL_WORTH[BENEFIT]
            + self.novelty * LEVEL_WORTH[NOVELTY]
            + self.changes * LEVEL_WORTH[CHANGES]
            + self.variety * LEVEL_WORTH[VARIETY]
    }
}

/// The best list of stations.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Composed {
    /// Index of the chosen candidate of each slot.
    pub chosen: Vec<usize>,
    /// The objective as one number.
    pub objective: i64,
    /// The objective level by level.
    pub levels: Levels,
    /// No list can have a higher objective than this.
    pub bound: i64,
    /// Whether the bound proves the list: objective and bound are equal.
    pub proven: bool,
    /// Nodes searched.
    pub nodes: u64,
}

/// Something that would have to give way for a list to exist.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Relaxed {
    /// Rule id.
    pub id: String,
    /// In words.
    pub words: String,
}

/// Why there is no list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Infeasible {
    /// The smallest set of restrictions that would have to give way; empty when none of the sets tried is enough.
    pub relax: Vec<Relaxed>,
    /// Whether it is proven that there is no list; else the node budget ended first.
    pub proven: bool,
    /// Nodes searched.
    pub nodes: u64,
}
