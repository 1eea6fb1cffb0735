//! What neighbouring stations see of each other: muscles, place, posture, arms, things.

use super::compiled::Relaxing;
use super::instance::{Candidate, HardRule};
use crate::programme::Posture;

/// What neighbours see of a candidate: all with the same look are interchangeable for the rules between neighbours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Look {
    muscles: u32,
    place: u8,
    sitting: Sitting,
    arms_above: bool,
    props: u32,
}

/// Posture as far as a change of it matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sitting {
    Down,
    Up,
    /// Sitting down and standing up is a change against both.
    Rising,
}

impl Sitting {
    const fn of(posture: Posture) -> Self {
        match posture {
            Posture::Seated => Self::Down,
            Posture::Rising => Self::Rising,
            Posture::Standing | Posture::Walking => Self::Up,
        }
    }
}

impl Look {
    /// Number of its posture: 0 down, 1 up, 2 rising.
    pub(super) const fn sitting(&self) -> usize {
        self.sitting as usize
    }

    /// What no two neighbours may both have: muscle groups, and above them the arms above the shoulder.
    pub(super) fn apart(&self) -> u64 {
        u64::from(self.muscles) | u64::from(self.arms_above) << 32
    }
}

/// For every look the first that is the same, place and things apart.
pub(super) fn order_looks(looks: &[Look]) -> Vec<usize> {
    let same = |a: &Look, b: &Look| {
        (a.muscles, a.sitting, a.arms_above) == (b.muscles, b.sitting, b.arms_above)
    };
    looks
        .iter()
        .map(|look| {
            looks
                .iter()
                .position(|first| same(first, look))
                .unwrap_or(0)
        })
        .collect()
}

/// What lies between two looks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Between {
    pub(super) allowed: bool,
    /// Changes of place and things.
    pub(super) changes: i64,
    pub(super) posture: bool,
}

/// The look of a candidate, without what is given way to.
pub(super) fn look_of(one: &Candidate, relaxing: &Relaxing) -> Look {
    let muscles = relaxing.keeps(HardRule::Muscles);
    let arms = relaxing.keeps(HardRule::Arms);
    Look {
        muscles: if muscles { one.muscles } else { 0 },
        place: one.place,
        sitting: Sitting::of(one.posture),
        arms_above: arms && one.arms_above,
        props: one.props,
    }
}

/// What lies between any two looks, row by row.
pub(super) fn between_all(looks: &[Look]) -> Vec<Between> {
    let mut all = Vec::with_capacity(looks.len() * looks.len());
    for first in looks {
        for second in looks {
            let moved = match second.place.cmp(&first.place) {
                core::cmp::Ordering::Equal => 0,
                core::cmp::Ordering::Greater => 1,
                // Against the order of the walk.
                core::cmp::Ordering::Less => 2,
            };
            all.push(Between {
                allowed: first.muscles & second.muscles == 0
                    && !(first.arms_above && second.arms_above),
                changes: moved + i64::from((second.props & !first.props).count_ones()),
                posture: first.sitting != second.sitting,
            });
        }
    }
    all
}
