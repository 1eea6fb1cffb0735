//! What warm-up and cool-down share: dividing a time into blocks, and choosing the way nearest to an effort.

use super::eligible::Way;
use super::ground::Ground;
use super::{ArmHeight, Posture};

/// Length of one block, about. Source: `programme-ours`.
const BLOCK_MS: u32 = 45_000;
/// How far above the wanted effort a way may lie, METs. Source: `programme-ours`.
const ABOVE: f64 = 0.15;
/// What each earlier use counts against a way, METs: so that ways take turns. Source: `programme-ours`.
const USED: f64 = 0.12;

/// Divides a time into blocks of about the same whole number of milliseconds; the last takes what is left over.
pub(super) fn blocks(total_ms: u32) -> Vec<u32> {
    let count = (total_ms / BLOCK_MS).max(1);
    let each = total_ms / count;
    let mut list = vec![each; count as usize];
    if let Some(last) = list.last_mut() {
        *last += total_ms - each * count;
    }
    list
}

/// A share of a time in whole milliseconds.
pub(super) fn share(total_ms: u32, percent: u32) -> u32 {
    (u64::from(total_ms) * u64::from(percent) / 100) as u32
}

/// A walk through warm-up or cool-down: where one is, what was used.
pub(super) struct Course<'g, 'a> {
    pub(super) ground: &'g Ground<'a>,
    pub(super) stop: Option<usize>,
    /// Standing already (warm-up) or seated already (cool-down): then it is kept where it can be.
    pub(super) settled: bool,
    /// Times each open way was used.
    used: Vec<u32>,
}

impl<'g, 'a> Course<'g, 'a> {
    pub(super) fn new(ground: &'g Ground<'a>) -> Self {
        Self {
            ground,
            stop: None,
            settled: false,
            used: vec![0; ground.eligible.ways.len()],
        }
    }

    /// Of some ways the one nearest to an effort and least used; ties by id.
    ///
    /// Ways above `most` are left out. Ways a little above the wanted effort may stand; if all lie further above, the
    /// easiest of them.
    pub(super) fn nearest(
        &self,
        ways: &[&'g Way<'a>],
        wanted: f64,
        most: f64,
    ) -> Option<&'g Way<'a>> {
        let open: Vec<&&Way<'_>> = ways.iter().filter(|way| way.mets <= most + 1e-9).collect();
        let easiest = open
            .iter()
            .map(|way| way.mets)
            .fold(f64::INFINITY, f64::min);
        let top = (wanted + ABOVE).max(easiest);
        open.into_iter()
            .filter(|way| way.mets <= top + 1e-9)
            .map(|way| (self.distance(way, wanted), *way))
            .min_by(|(a, first), (b, second)| a.total_cmp(b).then(first.index.cmp(&second.index)))
            .map(|(_, way)| way)
    }

    fn distance(&self, way: &Way<'_>, wanted: f64) -> f64 {
        let used = self.used[way.index];
        let moves = self.stop.is_some_and(|stop| !way.stops.contains(&stop));
        (way.mets - wanted).abs() + USED * f64::from(used) + if moves { USED } else { 0.0 }
    }

    /// Takes a way: counts it and goes to where it is done, staying where one is if it can be done there.
    pub(super) fn take(&mut self, way: &Way<'_>) -> usize {
        self.used[way.index] += 1;
        let stop = match self.stop {
            Some(stop) if way.stops.contains(&stop) => stop,
            _ => way.stops.first().copied().unwrap_or(0),
        };
        self.stop = Some(stop);
        stop
    }

    /// How often a way was used.
    pub(super) fn times(&self, way: &Way<'_>) -> u32 {
        self.used[way.index]
    }
}

/// Whether the arms stay below the shoulder.
pub(super) fn arms_low(way: &Way<'_>) -> bool {
    matches!(
        way.variant.arms,
        ArmHeight::Still | ArmHeight::BelowShoulder
    )
}

/// Whether it is done sitting.
pub(super) fn seated(way: &Way<'_>) -> bool {
    way.variant.posture == Posture::Seated
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_blocks_add_up_to_the_millisecond() {
        for total in [1, 44_999, 45_000, 100_001, 270_000, 315_777, 900_000] {
            let list = blocks(total);
            assert_eq!(list.iter().sum::<u32>(), total);
            assert!(list.iter().all(|ms| *ms > 0));
        }
    }
}
