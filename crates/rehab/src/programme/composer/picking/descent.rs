//! Depth first over the sets: kind by kind, dearest first, each set once.

use super::cover::Cover;
use super::order::{Order, Ordered, Orders};
use super::pool::Pool;
use super::prices::{Bound, UNIT};
use super::ranked::{MOST_MEANS, Ranked, Rest, after};
use crate::programme::composer::instance::{CHANGES, LEVELS};

/// What one pass looks for.
pub(super) struct Aim<'b> {
    /// Level whose prices cut.
    pub(super) level: usize,
    /// Its bound.
    pub(super) bound: &'b Bound,
    /// Levels above, with what they must reach.
    pub(super) reach: Vec<(usize, i64)>,
    /// Most changes of an order; `None` leaves them open.
    pub(super) most_changes: Option<i64>,
    /// The level is held, and lists with fewer changes are looked for.
    pub(super) fewer_changes: bool,
}

/// One pass.
pub(super) struct Descent<'p, 'c, 'i, 'b> {
    pool: &'p Pool<'c, 'i>,
    aim: Aim<'b>,
    ranked: Vec<Ranked>,
    after: Vec<Rest>,
    pub(super) best: Option<Ordered>,
    /// Any list is enough.
    pub(super) any: bool,
    budget: u64,
    pub(super) nodes: u64,
    picks: Vec<(usize, usize)>,
    used: Vec<bool>,
    new: Vec<u8>,
    /// Picks that have each thing that neighbours may not share.
    apart: [u8; 64],
    orders: Orders,
}

/// Where a branch stands.
#[derive(Clone, Copy)]
struct At {
    kind: usize,
    from: usize,
    left: usize,
    priced: i64,
    worth: [i64; LEVELS],
    dose: i64,
    means: [i64; MOST_MEANS],
    new: u32,
    pins: u64,
    cover: Cover,
    /// Picks of each side in each posture.
    postures: [[u8; 3]; 2],
}

impl<'p, 'c, 'i, 'b> Descent<'p, 'c, 'i, 'b> {
    pub(super) fn new(
        pool: &'p Pool<'c, 'i>,
        aim: Aim<'b>,
        best: Option<Ordered>,
        budget: u64,
        nodes: u64,
    ) -> Self {
        let ranked = Ranked::all(pool, aim.bound);
        Self {
            pool,
            after: after(&ranked),
            aim,
            ranked,
            best,
            any: false,
            budget,
            nodes,
            picks: Vec::with_capacity(pool.compiled.chosen.len()),
            used: vec![false; pool.compiled.alikes],
            new: vec![0; pool.compiled.exercises],
            apart: [0; 64],
            orders: Orders::default(),
        }
    }

    pub(super) fn run(&mut self) {
        let start = At {
            kind: 0,
            from: 0,
            left: self.ranked.first().map_or(0, |first| first.count),
            priced: self.aim.bound.constant,
            worth: [0; LEVELS],
            dose: 0,
            means: [0; MOST_MEANS],
            new: 0,
            pins: 0,
            cover: Cover::new(),
            postures: [[0; 3]; 2],
        };
        self.branch(start);
    }

    /// Searches below one branch; `true` when the pass is over.
    fn branch(&mut self, at: At) -> bool {
        if self.nodes >= self.budget {
            return true;
        }
        self.nodes += 1;
        if at.left == 0 {
            let kind = at.kind + 1;
            let Some(next) = self.ranked.get(kind) else {
                return self.leaf(&at);
            };
            let left = next.count;
            return self.branch(At {
                kind,
                from: 0,
                left,
                ..at
            });
        }
        let Some(later) = self.later(at.kind + 1) else {
            return false;
        };
        for place in at.from..self.ranked[at.kind].items.len() {
            let ranked = &self.ranked[at.kind];
            let promise = at.priced.saturating_add(ranked.top(place, at.left)) + later;
            // The list is in order of worth, so nothing further on promises more.
            if self.least().is_some_and(|least| promise < least * UNIT) {
                break;
            }
            let (item, value) = ranked.items[place];
            let movement = self.pool.items[item].movement;
            if self.used[movement] {
                continue;
            }
            if !self.keeps_apart(item) {
                continue;
            }
            let Some(child) = self.child(&at, place, item, value) else {
                continue;
            };
            let exercise = self.pool.items[item].exercise;
            let new = u8::from(self.pool.items[item].new);
            self.picks.push((at.kind, item));
            self.used[movement] = true;
            self.new[exercise] += new;
            self.count_apart(item, 1);
            let done = self.can_be_ordered(&child) && self.branch(child);
            self.count_apart(item, u8::MAX);
            self.new[exercise] -= new;
            self.used[movement] = false;
            self.picks.pop();
            if done {
                return true;
            }
        }
        false
    }

    /// Least that the priced level must reach.
    fn least(&self) -> Option<i64> {
        let (_, levels) = self.best.as_ref()?;
        Some(levels[self.aim.level] + i64::from(!self.aim.fewer_changes))
    }

    /// Best worth at the prices of all later kinds together; `None` where too few movements are left for them.
    fn later(&self, kind: usize) -> Option<i64> {
        let mut sum = 0;
        for ranked in self.ranked.get(kind..)? {
            sum += ranked.top_unused(self.pool, &self.used)?;
        }
        Some(sum)
    }

    fn most_changes(&self) -> Option<i64> {
        if self.aim.fewer_changes {
            self.best.as_ref().map(|(_, levels)| -levels[CHANGES] - 1)
        } else {
            self.aim.most_changes
        }
    }

    /// Counts what neighbours may not share of one more pick (1) or one less (255, which wraps).
    fn count_apart(&mut self, item: usize, by: u8) {
        let mut bits = self.pool.items[item].apart;
        while bits != 0 {
            let count = &mut self.apart[bits.trailing_zeros() as usize];
            *count = count.wrapping_add(by);
            bits &= bits - 1;
        }
    }

    /// Whether what neighbours may not share is in no more than every other slot with one more pick.
    fn keeps_apart(&self, item: usize) -> bool {
        let most = self.pool.most_apart();
        let mut bits = self.pool.items[item].apart;
        while bits != 0 {
            if usize::from(self.apart[bits.trailing_zeros() as usize]) >= most {
                return false;
            }
            bits &= bits - 1;
        }
        true
    }

    /// Whether the picks so far have an order in which the slots that are open can be filled by anything.
    ///
    /// Picks of one class alone never stand side by side, so there is nothing to ask before the other class begins.
    fn can_be_ordered(&mut self, at: &At) -> bool {
        let pool = self.pool;
        let class = |kind: usize| pool.compiled.chosen[pool.kinds[kind].slots[0]].slot.class;
        if class(0) == class(at.kind) {
            return true;
        }
        let open: Vec<usize> = (0..self.ranked.len())
            .map(|kind| match kind.cmp(&at.kind) {
                core::cmp::Ordering::Less => 0,
                core::cmp::Ordering::Equal => at.left,
                core::cmp::Ordering::Greater => self.ranked[kind].count,
            })
            .collect();
        let most_changes = self.most_changes();
        let (possible, nodes) = self.orders.possible(pool, &self.picks, &open, most_changes);
        self.nodes += nodes;
        possible
    }

    /// The branch after one more pick; `None` where something can no longer be kept.
    fn child(&self, at: &At, place: usize, item: usize, value: i64) -> Option<At> {
        let compiled = self.pool.compiled;
        let kind = &self.pool.kinds[at.kind];
        let one = &self.pool.items[item];
        let mut child = At {
            from: place + 1,
            left: at.left - 1,
            priced: at.priced + value,
            dose: at.dose + kind.total_ms * one.low,
            pins: at.pins | one.pins,
            cover: at.cover.with(one),
            ..*at
        };
        for (level, sum) in child.worth.iter_mut().enumerate() {
            *sum += self.pool.worth(level, at.kind, item);
        }
        child.new += u32::from(one.new && self.new[one.exercise] == 0);
        let rest = &self.ranked[at.kind].rest[child.left];
        let later = &self.after[at.kind + 1];
        let picks_left = compiled.chosen.len() - self.picks.len() - 1;
        let missing = compiled.free_pins - child.pins.count_ones() as usize;
        let kept = child.new <= compiled.max_new
            && missing <= picks_left
            && child.dose + rest.dose_most + later.dose_most >= compiled.dose_least
            && child.dose + rest.dose_least + later.dose_least <= compiled.dose_most;
        if !kept {
            return None;
        }
        for (index, mean) in compiled.means.iter().enumerate() {
            child.means[index] += kind.mean_ms[index] * (one.mets - mean.most_milli);
            if child.means[index] + rest.means_least[index] + later.means_least[index] > mean.room {
                return None;
            }
        }
        if let Some(side) = self.pool.sides.get(at.kind) {
            child.postures[*side][one.sitting] += 1;
            if !self.keeps_posture(&child, *side) {
                return None;
            }
        }
        let reaches = self.aim.reach.iter().all(|(level, least)| {
            child.worth[*level] + rest.worth_most[*level] + later.worth_most[*level] >= *least
        });
        let covered = self
            .most_changes()
            .is_none_or(|most| child.cover.least_changes() <= most);
        (reaches && covered).then_some(child)
    }

    /// Whether slow changes of posture are still possible.
    ///
    /// Two changes never follow each other, so a run of one posture has two stations or more but for the first and the
    /// last run; its two sides take turns, so it has at most twice as many of one as of the other. Hence over the
    /// session a posture has on one side at most one more than twice as many as on the other.
    fn keeps_posture(&self, at: &At, side: usize) -> bool {
        let left = |of: usize| -> usize {
            (0..self.ranked.len())
                .filter(|kind| self.pool.sides[*kind] == of)
                .map(|kind| match kind.cmp(&at.kind) {
                    core::cmp::Ordering::Less => 0,
                    core::cmp::Ordering::Equal => at.left,
                    core::cmp::Ordering::Greater => self.ranked[kind].count,
                })
                .sum()
        };
        let other = 1 - side;
        let left_there = left(other);
        let needed: usize = (0..3)
            .map(|sitting| {
                let here = usize::from(at.postures[side][sitting]);
                let there = usize::from(at.postures[other][sitting]);
                // Of the other side at least half as many, one may stand alone at an end.
                (here.saturating_sub(1)).div_ceil(2).saturating_sub(there)
            })
            .sum();
        needed <= left_there
    }

    /// A whole set: put in order where it is better.
    fn leaf(&mut self, at: &At) -> bool {
        if self
            .least()
            .is_some_and(|least| at.worth[self.aim.level] < least)
        {
            return false;
        }
        let budget = self.budget - self.nodes;
        let mut order = Order::new(self.pool, &self.picks, self.most_changes(), budget);
        let found = order.find();
        self.nodes += order.nodes;
        let Some(found) = found else {
            return false;
        };
        let levels = found.1;
        self.best = Some(found);
        if self.aim.fewer_changes {
            return levels[CHANGES] == 0;
        }
        self.any || levels[self.aim.level] >= self.aim.bound.most()
    }
}
