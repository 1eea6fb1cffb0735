//! The search level by level: prices first, then depth first over the sets.

use super::descent::{Aim, Descent};
use super::order::{Order, Ordered};
use super::pool::Pool;
use super::prices::{Bound, Pricing};
use crate::programme::composer::compiled::Compiled;
use crate::programme::composer::instance::{BENEFIT, CHANGES, LEVELS};
use crate::programme::composer::search::{Found, MOST_OF_LEVELS};

/// Steps of the prices for each level.
const STEPS: u32 = 60;

/// Searches for the best list within a budget of nodes.
pub(in crate::programme::composer) fn search(compiled: &Compiled<'_>, budget: u64) -> Found {
    let pool = Pool::new(compiled);
    let mut search = Search::new(&pool, budget);
    let mut most = MOST_OF_LEVELS;
    let mut bound = None;
    for level in 0..LEVELS {
        match (level, &bound) {
            (CHANGES, Some(bound)) => search.fewest_changes(bound),
            _ => {
                let found = search.better(level);
                most[level] = most[level].min(found.most());
                bound = Some(found);
            }
        }
        let Some((_, levels)) = search.best.as_ref().filter(|_| search.complete()) else {
            break;
        };
        most[level] = levels[level];
    }
    Found {
        complete: search.complete(),
        best: search.best,
        most,
        nodes: search.nodes,
    }
}

/// Whether any list exists, within a budget of nodes; `None` where the budget ended first.
pub(in crate::programme::composer) fn exists(compiled: &Compiled<'_>, budget: u64) -> Option<bool> {
    let pool = Pool::new(compiled);
    let mut search = Search::new(&pool, budget);
    search.any = true;
    search.better(BENEFIT);
    match search.best {
        Some(_) => Some(true),
        None if search.complete() => Some(false),
        None => None,
    }
}

struct Search<'p, 'c, 'i> {
    pool: &'p Pool<'c, 'i>,
    best: Option<Ordered>,
    /// Any list is enough.
    any: bool,
    budget: u64,
    nodes: u64,
}

impl<'p, 'c, 'i> Search<'p, 'c, 'i> {
    fn new(pool: &'p Pool<'c, 'i>, budget: u64) -> Self {
        Self {
            pool,
            best: None,
            any: false,
            budget,
            nodes: 0,
        }
    }

    fn complete(&self) -> bool {
        self.nodes < self.budget
    }

    /// Levels above one, with what they reached.
    fn reached(&self, level: usize) -> Vec<(usize, i64)> {
        let levels = self.best.as_ref().map(|(_, levels)| *levels);
        (0..level)
            .filter(|above| *above != CHANGES)
            .filter_map(|above| Some((above, levels?[above])))
            .collect()
    }

    /// Makes one level as high as it can be, the levels above held; gives back its bound.
    fn better(&mut self, level: usize) -> Bound {
        let reach = self.reached(level);
        let most_changes = self
            .best
            .as_ref()
            .filter(|_| level > CHANGES)
            .map(|(_, levels)| -levels[CHANGES]);
        let bound = self.priced(level, &reach, most_changes);
        let met = self
            .best
            .as_ref()
            .is_some_and(|(_, levels)| self.any || levels[level] >= bound.most());
        if !met && bound.most() > i64::MIN / 8 {
            let aim = Aim {
                level,
                bound: &bound,
                reach,
                most_changes,
                fewer_changes: false,
            };
            self.descend(aim);
        }
        bound
    }

    /// Makes the changes as few as they can be: first in the list known, then over every set as good.
    fn fewest_changes(&mut self, bound: &Bound) {
        let Some((list, levels)) = self.best.clone() else {
            return;
        };
        let picks = self.pool.picks_of(&list);
        for changes in 0..-levels[CHANGES] {
            let mut order = Order::new(self.pool, &picks, Some(changes), self.budget - self.nodes);
            let found = order.find();
            self.nodes += order.nodes;
            if found.is_some() {
                self.best = found;
                break;
            }
            if !self.complete() {
                return;
            }
        }
        let aim = Aim {
            level: CHANGES - 1,
            bound,
            reach: self.reached(CHANGES),
            most_changes: None,
            fewer_changes: true,
        };
        self.descend(aim);
    }

    fn descend(&mut self, aim: Aim<'_>) {
        let mut descent = Descent::new(self.pool, aim, self.best.take(), self.budget, self.nodes);
        descent.any = self.any;
        descent.run();
        self.nodes = descent.nodes;
        self.best = descent.best;
    }

    /// Prices for a level; every set on the way that holds all rules is kept when it is better.
    fn priced(&mut self, level: usize, reach: &[(usize, i64)], most_changes: Option<i64>) -> Bound {
        let mut pricing = Pricing::new(self.pool, level, reach);
        let target = self.best.as_ref().map(|(_, levels)| levels[level] + 1);
        let pool = self.pool;
        let budget = self.budget;
        let (best, nodes) = (&mut self.best, &mut self.nodes);
        pricing.improve(STEPS, target, |picks| {
            let picks: Vec<(usize, usize)> = picks
                .iter()
                .map(|(kind, at)| (*kind, pool.kinds[*kind].items[*at]))
                .collect();
            let worth: i64 = picks
                .iter()
                .map(|(kind, item)| pool.worth(level, *kind, *item))
                .sum();
            let better = best
                .as_ref()
                .is_none_or(|(_, levels)| worth > levels[level]);
            if better && pool.sums_hold(&picks) && *nodes < budget {
                let reaches = reach.iter().all(|(above, least)| {
                    picks
                        .iter()
                        .map(|(kind, item)| pool.worth(*above, *kind, *item))
                        .sum::<i64>()
                        >= *least
                });
                if reaches {
                    let mut order = Order::new(pool, &picks, most_changes, budget - *nodes);
                    let found = order.find();
                    *nodes += order.nodes;
                    if found.is_some() {
                        *best = found;
                    }
                }
            }
            best.as_ref().map(|(_, levels)| levels[level] + 1)
        })
    }
}
