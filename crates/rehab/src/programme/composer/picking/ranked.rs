//! The items of one kind in the order in which they are tried, with what so many more of them can add.

use super::pool::Pool;
use super::prices::Bound;
use crate::programme::composer::instance::LEVELS;

/// Most rounds with a limit on their mean that are told apart.
pub(super) const MOST_MEANS: usize = 4;

/// One kind.
pub(super) struct Ranked {
    /// Items with their worth at the prices, dearest first.
    pub(super) items: Vec<(usize, i64)>,
    /// Slots of the kind.
    pub(super) count: usize,
    /// Best worth at the prices of so many picks from a place in the list on.
    tops: Vec<i64>,
    /// Least and most that so many picks add to the dose, least to each mean, most of each level; by number of picks.
    pub(super) rest: Vec<Rest>,
}

/// What so many picks can add.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Rest {
    pub(super) dose_least: i64,
    pub(super) dose_most: i64,
    pub(super) means_least: [i64; MOST_MEANS],
    pub(super) worth_most: [i64; LEVELS],
}

impl Rest {
    fn plus(mut self, other: &Self) -> Self {
        self.dose_least += other.dose_least;
        self.dose_most += other.dose_most;
        for (sum, one) in self.means_least.iter_mut().zip(other.means_least) {
            *sum += one;
        }
        for (sum, one) in self.worth_most.iter_mut().zip(other.worth_most) {
            *sum += one;
        }
        self
    }
}

impl Ranked {
    /// Every kind under a bound's prices.
    pub(super) fn all(pool: &Pool<'_, '_>, bound: &Bound) -> Vec<Self> {
        (0..pool.kinds.len())
            .map(|kind| Self::of(pool, bound, kind))
            .collect()
    }

    fn of(pool: &Pool<'_, '_>, bound: &Bound, kind: usize) -> Self {
        let one = &pool.kinds[kind];
        let count = one.slots.len();
        let mut items: Vec<(usize, i64)> = one
            .items
            .iter()
            .zip(&bound.values[kind])
            .map(|(item, value)| (*item, *value))
            .collect();
        items.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
        let tops = tops(pool, &items, count);
        Self {
            rest: rests(pool, kind, count),
            items,
            count,
            tops,
        }
    }

    /// Best worth of so many picks, of different movements, from a place in the list on.
    pub(super) fn top(&self, from: usize, picks: usize) -> i64 {
        self.tops[from * (self.count + 1) + picks]
    }

    /// Best worth of all the kind's picks of movements that are not used yet; `None` where too few are left.
    pub(super) fn top_unused(&self, pool: &Pool<'_, '_>, used: &[bool]) -> Option<i64> {
        let mut taken: Vec<usize> = Vec::with_capacity(self.count);
        let mut sum = 0;
        for (item, value) in &self.items {
            if taken.len() == self.count {
                break;
            }
            let movement = pool.items[*item].movement;
            if !used[movement] && !taken.contains(&movement) {
                taken.push(movement);
                sum += value;
            }
        }
        (taken.len() == self.count).then_some(sum)
    }
}

/// What all later kinds together can add, by kind.
pub(super) fn after(ranked: &[Ranked]) -> Vec<Rest> {
    let mut sums = vec![Rest::default(); ranked.len() + 1];
    for kind in (0..ranked.len()).rev() {
        sums[kind] = ranked[kind].rest[ranked[kind].count].plus(&sums[kind + 1]);
    }
    sums
}

/// Less than any sum.
pub(super) const NOTHING: i64 = i64::MIN / 4;

fn tops(pool: &Pool<'_, '_>, items: &[(usize, i64)], count: usize) -> Vec<i64> {
    let mut tops = vec![NOTHING; (items.len() + 1) * (count + 1)];
    for from in 0..=items.len() {
        let row = &mut tops[from * (count + 1)..(from + 1) * (count + 1)];
        row[0] = 0;
        let mut taken: Vec<usize> = Vec::with_capacity(count);
        for (item, value) in &items[from..] {
            if taken.len() == count {
                break;
            }
            let movement = pool.items[*item].movement;
            if !taken.contains(&movement) {
                row[taken.len() + 1] = row[taken.len()] + value;
                taken.push(movement);
            }
        }
    }
    tops
}

fn rests(pool: &Pool<'_, '_>, kind: usize, count: usize) -> Vec<Rest> {
    let one = &pool.kinds[kind];
    let sums = |weight: &dyn Fn(usize) -> i64, most: bool| -> Vec<i64> {
        let mut best: Vec<Option<i64>> = vec![None; pool.compiled.alikes];
        for item in &one.items {
            let weight = weight(*item);
            let known = &mut best[pool.items[*item].movement];
            let better =
                known.is_none_or(|known| if most { weight > known } else { weight < known });
            if better {
                *known = Some(weight);
            }
        }
        let mut all: Vec<i64> = best.into_iter().flatten().collect();
        all.sort_unstable();
        if most {
            all.reverse();
        }
        let mut sums = vec![0];
        for value in all.iter().take(count) {
            sums.push(sums[sums.len() - 1] + value);
        }
        sums.resize(count + 1, sums[sums.len() - 1]);
        sums
    };
    let dose = |item: usize| one.total_ms * pool.items[item].low;
    let (dose_least, dose_most) = (sums(&dose, false), sums(&dose, true));
    let means: Vec<Vec<i64>> = pool
        .compiled
        .means
        .iter()
        .zip(&one.mean_ms)
        .map(|(mean, ms)| {
            sums(
                &|item| ms * (pool.items[item].mets - mean.most_milli),
                false,
            )
        })
        .collect();
    let worth: Vec<Vec<i64>> = (0..LEVELS)
        .map(|level| sums(&|item| pool.worth(level, kind, item), true))
        .collect();
    (0..=count)
        .map(|picks| {
            let mut rest = Rest {
                dose_least: dose_least[picks],
                dose_most: dose_most[picks],
                ..Rest::default()
            };
            for (sum, mean) in rest.means_least.iter_mut().zip(&means) {
                *sum = mean[picks];
            }
            for (sum, level) in rest.worth_most.iter_mut().zip(&worth) {
                *sum = level[picks];
            }
            rest
        })
        .collect()
}
