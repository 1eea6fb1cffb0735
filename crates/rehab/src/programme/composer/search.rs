//! The search: level by level, depth first over the slots, cut by the priced bound and by what each rule leaves.

use super::compiled::{Compiled, Filler};
use super::evaluate::{OTHERS_BETWEEN, evaluate};
use super::instance::{BENEFIT, CHANGES, LEVEL_WORTH, LEVELS, NOVELTY, OFF_BAND, Repeats, VARIETY};
use super::multipliers::{Bounded, Pricing, UNIT, plain_tables};
use super::relaxed::{Relaxed, reachable};
use super::rest::Rest;

/// Steps of the prices for each level.
const STEPS: u32 = 80;

/// The most that any list can have at each level: what lies off the band, novelty and changes are never above nought,
/// benefit and variety stay under one step of the level above.
pub(super) const MOST_OF_LEVELS: [i64; LEVELS] = [
    0,
    LEVEL_WORTH[OFF_BAND] / LEVEL_WORTH[BENEFIT] - 1,
    0,
    0,
    LEVEL_WORTH[CHANGES] / LEVEL_WORTH[VARIETY] - 1,
];

/// The best list, or that there is none.
pub(super) struct Found {
    /// Fillers of the chosen slots.
    pub(super) best: Option<(Vec<u16>, [i64; LEVELS])>,
    /// The most of each level, given the levels above.
    pub(super) most: [i64; LEVELS],
    /// Whether the search came to its end.
    pub(super) complete: bool,
    /// Nodes searched.
    pub(super) nodes: u64,
}

/// Searches for the best list within a budget of nodes.
pub(super) fn search(compiled: &Compiled<'_>, budget: u64) -> Found {
    let mut search = Search::new(compiled, budget);
    let mut bounds: Vec<Bounded> = Vec::with_capacity(LEVELS);
    let mut most = MOST_OF_LEVELS;
    for level in 0..LEVELS {
        let reached: Vec<i64> = search
            .best
            .as_ref()
            .map_or_else(Vec::new, |(_, levels)| levels[..level].to_vec());
        let mut pricing = Pricing::new(compiled, level, &reached);
        let bounded = search.improve(&mut pricing, level);
        most[level] = most[level].min(bounded.most());
        bounds.push(bounded);
        search.descend(&bounds);
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
pub(super) fn exists(compiled: &Compiled<'_>, budget: u64) -> Option<bool> {
    let mut search = Search::new(compiled, budget);
    search.any = true;
    let mut pricing = Pricing::new(compiled, BENEFIT, &[]);
    let bounded = search.improve(&mut pricing, BENEFIT);
    search.descend(&[bounded]);
    match search.best {
        Some(_) => Some(true),
        None if search.complete() => Some(false),
        None => None,
    }
}

struct Search<'compiled, 'instance> {
    compiled: &'compiled Compiled<'instance>,
    plain: Vec<Relaxed>,
    rest: Rest,
    best: Option<(Vec<u16>, [i64; LEVELS])>,
    /// Any list is enough.
    any: bool,
    budget: u64,
    nodes: u64,
    list: Vec<u16>,
    used: Vec<u8>,
    new: Vec<u8>,
}

/// Where a branch stands.
#[derive(Clone, Copy)]
struct Branch {
    slot: usize,
    levels: [i64; LEVELS],
    /// Value at the prices of every level so far, in units.
    priced: [i64; LEVELS],
    look: usize,
    posture_changed: bool,
    rate_bpm: f64,
    dose: i64,
    new: u32,
    pins: u64,
}

/// A branch with what it can reach at the prices of every level so far, in units.
struct Child {
    branch: Branch,
    promise: [i64; LEVELS],
}

impl<'compiled, 'instance> Search<'compiled, 'instance> {
    fn new(compiled: &'compiled Compiled<'instance>, budget: u64) -> Self {
        Self {
            compiled,
            plain: plain_tables(compiled),
            rest: Rest::new(compiled),
            best: None,
            any: false,
            budget,
            nodes: 0,
            list: Vec::with_capacity(compiled.chosen.len()),
            used: vec![0; compiled.alikes * compiled.rounds],
            new: vec![0; compiled.exercises],
        }
    }

    fn complete(&self) -> bool {
        self.nodes < self.budget
    }

    /// Chooses prices for a level; every path on the way that holds all rules is kept when it is better.
    fn improve(&mut self, pricing: &mut Pricing<'_, '_>, level: usize) -> Bounded {
        let target = self.best.as_ref().map(|(_, levels)| levels[level] + 1);
        let compiled = self.compiled;
        let best = &mut self.best;
        pricing.improve(STEPS, target, |path| {
            let levels = evaluate(compiled, path)?;
            keep_better(best, path, levels, level);
            best.as_ref().map(|(_, levels)| levels[level] + 1)
        })
    }

    /// Searches the last level of the bounds to its end; the bounds of the levels above it cut as well.
    fn descend(&mut self, bounds: &[Bounded]) {
        let level = bounds.len() - 1;
        let met = self
            .best
            .as_ref()
            .is_some_and(|(_, levels)| self.any || levels[level] >= bounds[level].most());
        if met {
            return;
        }
        let compiled = self.compiled;
        let mut priced = [0; LEVELS];
        for (sum, bounded) in priced.iter_mut().zip(bounds) {
            *sum = bounded.constant;
        }
        let start = Branch {
            slot: 0,
            levels: [0; LEVELS],
            priced,
            look: 0,
            posture_changed: false,
            rate_bpm: compiled
                .pulse
                .as_ref()
                .map_or(0.0, super::pulse::Pulse::start_bpm),
            dose: 0,
            new: 0,
            pins: 0,
        };
        let mut means = vec![0; compiled.means.len()];
        self.branch(bounds, start, &mut means);
    }

    /// Searches below one branch; `true` when nothing better is left anywhere.
    fn branch(&mut self, bounds: &[Bounded], at: Branch, means: &mut Vec<i64>) -> bool {
        if self.nodes >= self.budget {
            return true;
        }
        self.nodes += 1;
        if at.slot == self.compiled.chosen.len() {
            return self.leaf(bounds);
        }
        let level = bounds.len() - 1;
        let mut next = self.children(bounds, &at, means);
        // Those that promise most come first; among equals the order of the ids.
        next.sort_by(|a, b| {
            b.1.promise[level]
                .cmp(&a.1.promise[level])
                .then(a.0.cmp(&b.0))
        });
        for (filler, child) in next {
            if !self.promises(level, &child) {
                continue;
            }
            self.enter(&at, filler, means, 1);
            let done = self.branch(bounds, child.branch, means);
            self.enter(&at, filler, means, -1);
            if done {
                return true;
            }
        }
        false
    }

    fn leaf(&mut self, bounds: &[Bounded]) -> bool {
        let level = bounds.len() - 1;
        if let Some(levels) = evaluate(self.compiled, &self.list) {
            let list = self.list.clone();
            keep_better(&mut self.best, &list, levels, level);
        }
        self.best
            .as_ref()
            .is_some_and(|(_, levels)| self.any || levels[level] >= bounds[level].most())
    }

    /// Whether a branch can still be better than the best: reach every level above and better this one.
    fn promises(&self, level: usize, child: &Child) -> bool {
        let Some((_, best)) = &self.best else {
            return true;
        };
        (0..=level).all(|one| {
            let least = best[one] + i64::from(one == level);
            let branch = &child.branch;
            child.promise[one] >= least * UNIT
                && branch.levels[one]
                    + self.plain[one].go(branch.slot - 1, branch.look, branch.posture_changed)
                    >= least
        })
    }

    /// Every filler of the next slot that breaks no rule so far.
    fn children(&self, bounds: &[Bounded], at: &Branch, means: &[i64]) -> Vec<(u16, Child)> {
        let slot = &self.compiled.chosen[at.slot];
        let level = bounds.len() - 1;
        let mut next = Vec::new();
        for (index, filler) in slot.options.iter().enumerate() {
            let one = &self.compiled.fillers[usize::from(*filler)];
            let Some(branch) = self.child(at, one, means) else {
                continue;
            };
            let Some(child) = self.priced(bounds, at, branch, index) else {
                continue;
            };
            if self.promises(level, &child) {
                next.push((*filler, child));
            }
        }
        next
    }

    /// Adds the prices of one option to a branch; `None` where no path follows it.
    fn priced(
        &self,
        bounds: &[Bounded],
        at: &Branch,
        mut branch: Branch,
        option: usize,
    ) -> Option<Child> {
        let mut promise = [0; LEVELS];
        for (level, bounded) in bounds.iter().enumerate() {
            branch.priced[level] += bounded.prices.values[at.slot][option];
            if at.slot > 0 {
                let changes = self.compiled.between(at.look, branch.look).changes;
                branch.priced[level] -= bounded.prices.change[at.slot - 1] * changes;
            }
            let rest = bounded
                .relaxed
                .go(at.slot, branch.look, branch.posture_changed);
            if !reachable(rest) {
                return None;
            }
            promise[level] = branch.priced[level] + rest;
        }
        Some(Child { branch, promise })
    }

    /// The branch after one more filler; `None` where a rule is broken for certain.
    fn child(&self, at: &Branch, one: &Filler, means: &[i64]) -> Option<Branch> {
        let compiled = self.compiled;
        let mut child = Branch {
            slot: at.slot + 1,
            look: one.look,
            posture_changed: false,
            ..*at
        };
        if at.slot > 0 {
            let between = compiled.between(at.look, one.look);
            let changed = compiled.postures_slow && between.posture;
            if !between.allowed || (changed && at.posture_changed) {
                return None;
            }
            child.posture_changed = changed;
            child.levels[CHANGES] -= between.changes * compiled.chosen[at.slot - 1].changes_after;
        }
        let again = self.used[self.movement(at.slot, one)] > 0;
        if again && !self.may_repeat(at.slot, one) {
            return None;
        }
        if again {
            child.levels[VARIETY] -= 1;
        } else {
            child.levels[BENEFIT] += one.benefit;
            child.levels[VARIETY] += one.variety;
        }
        child.levels[OFF_BAND] += compiled.worth(OFF_BAND, at.slot, one);
        child.levels[NOVELTY] -= one.novelty;
        if one.new && self.new[one.exercise] == 0 {
            child.new += 1;
        }
        child.pins |= one.pins;
        let missing = compiled.free_pins - child.pins.count_ones() as usize;
        if child.new > compiled.max_new || missing > compiled.chosen.len() - child.slot {
            return None;
        }
        if let Some(pulse) = &compiled.pulse {
            child.rate_bpm = pulse.after(compiled.first_of(at.slot), at.rate_bpm, one.load)?;
        }
        child.dose += compiled.chosen[at.slot].total_ms * one.low;
        self.rest
            .allows(compiled, child.dose, at.slot, one, means)
            .then_some(child)
    }

    fn movement(&self, slot: usize, one: &Filler) -> usize {
        usize::from(self.compiled.chosen[slot].slot.round) * self.compiled.alikes + one.alike
    }

    /// Whether a movement that was used may come again here.
    fn may_repeat(&self, slot: usize, one: &Filler) -> bool {
        let near = self.list.len().saturating_sub(OTHERS_BETWEEN);
        self.compiled.repeats == Repeats::AfterTwoOthers
            && !self.list[near..].iter().zip(near..).any(|(before, at)| {
                self.compiled.fillers[usize::from(*before)].alike == one.alike
                    && self.compiled.chosen[at].slot.round == self.compiled.chosen[slot].slot.round
            })
    }

    /// Puts a filler in (1) or takes it out again (-1).
    fn enter(&mut self, at: &Branch, filler: u16, means: &mut [i64], sign: i64) {
        let one = &self.compiled.fillers[usize::from(filler)];
        let movement = self.movement(at.slot, one);
        for (sum, mean) in means.iter_mut().zip(&self.compiled.means) {
            *sum += sign * mean.ms[at.slot] * (one.mets - mean.most_milli);
        }
        if sign > 0 {
            self.list.push(filler);
            self.used[movement] += 1;
            self.new[one.exercise] += u8::from(one.new);
        } else {
            self.list.pop();
            self.used[movement] -= 1;
            self.new[one.exercise] -= u8::from(one.new);
        }
    }
}

fn keep_better(
    best: &mut Option<(Vec<u16>, [i64; LEVELS])>,
    list: &[u16],
    levels: [i64; LEVELS],
    level: usize,
) {
    let better = best.as_ref().is_none_or(|(_, known)| {
        levels[..level] == known[..level] && levels[level..] > known[level..]
    });
    if better {
        *best = Some((list.to_vec(), levels));
    }
}
