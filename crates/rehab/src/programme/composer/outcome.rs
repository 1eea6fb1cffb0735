//! What the composer hands back.

use super::instance::{LEVEL_WORTH, LEVELS};

/// The objective level by level, each higher the better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Levels {
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
            benefit: levels[0],
            novelty: levels[1],
            changes: levels[2],
            variety: levels[3],
        }
    }

    /// The one number.
    pub const fn objective(self) -> i64 {
        self.benefit * LEVEL_WORTH[0]
            + self.novelty * LEVEL_WORTH[1]
            + self.changes * LEVEL_WORTH[2]
            + self.variety * LEVEL_WORTH[3]
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
