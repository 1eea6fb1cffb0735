//! The relaxed problem: only rules between neighbours, every other rule priced. Its best path bounds every list.
//!
//! Dynamic programming backwards over (slot, look, whether posture has just changed). A look gathers all fillers that
//! neighbours cannot tell apart, so only the best filler of each look counts.

use super::compiled::Compiled;

/// Less than anything that can be reached.
pub(super) const NOTHING: i64 = i64::MIN / 4;

/// Whether a value is that of a path.
pub(super) const fn reachable(value: i64) -> bool {
    value > NOTHING / 2
}

/// What each filler of each slot is worth, and what a change of place or things costs after each slot.
#[derive(Clone, Debug)]
pub(super) struct Prices {
    /// By slot, in the order of the slot's options.
    pub(super) values: Vec<Vec<i64>>,
    /// By slot.
    pub(super) change: Vec<i64>,
}

/// The best filler of one look in one slot.
#[derive(Clone, Copy, Debug)]
struct Best {
    look: usize,
    value: i64,
    filler: u16,
}

/// The solved relaxed problem.
#[derive(Clone, Debug)]
pub(super) struct Relaxed {
    looks: usize,
    /// Best that can follow after a slot, by slot, look and posture flag.
    go: Vec<i64>,
    best: Vec<Vec<Best>>,
    /// Value of the best path.
    pub(super) total: i64,
}

impl Relaxed {
    pub(super) fn solve(compiled: &Compiled<'_>, prices: &Prices) -> Self {
        let slots = compiled.chosen.len();
        let mut solved = Self {
            looks: compiled.looks,
            go: vec![0; slots * compiled.looks * 2],
            best: (0..slots)
                .map(|slot| best_of_looks(compiled, prices, slot))
                .collect(),
            total: 0,
        };
        for slot in (0..slots.saturating_sub(1)).rev() {
            solved.step_back(compiled, prices, slot);
        }
        if let Some(first) = solved.best.first() {
            solved.total = first
                .iter()
                .filter(|one| reachable(solved.go(0, one.look, false)))
                .map(|one| one.value + solved.go(0, one.look, false))
                .max()
                .unwrap_or(NOTHING);
        }
        solved
    }

    /// Best that can follow after a slot filled with a look.
    pub(super) fn go(&self, slot: usize, look: usize, changed: bool) -> i64 {
        self.go[(slot * self.looks + look) * 2 + usize::from(changed)]
    }

    /// Fills `go` of one slot from the slot after it.
    fn step_back(&mut self, compiled: &Compiled<'_>, prices: &Prices, slot: usize) {
        let after = slot + 1;
        // Those that promise most come first, so that the search for the best next can end early.
        let mut next: Vec<(i64, Best)> = self.best[after]
            .iter()
            .map(|one| (one.value + self.go(after, one.look, false), *one))
            .collect();
        next.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.filler.cmp(&b.1.filler)));
        let flags: &[bool] = if compiled.postures_slow {
            &[false, true]
        } else {
            &[false]
        };
        for index in 0..self.best[slot].len() {
            let look = self.best[slot][index].look;
            for changed in flags {
                let mut most = NOTHING;
                for (promise, one) in &next {
                    if *promise <= most {
                        break;
                    }
                    let between = compiled.between(look, one.look);
                    if !between.allowed || (*changed && between.posture) {
                        continue;
                    }
                    let flag = compiled.postures_slow && between.posture;
                    let rest = self.go(after, one.look, flag);
                    if reachable(rest) {
                        let change = prices.change[slot] * between.changes;
                        most = most.max(one.value + rest - change);
                    }
                }
                self.go[(slot * self.looks + look) * 2 + usize::from(*changed)] = most;
            }
        }
    }

    /// The fillers of the best path; `None` where there is none.
    pub(super) fn path(&self, compiled: &Compiled<'_>, prices: &Prices) -> Option<Vec<u16>> {
        let mut list: Vec<u16> = Vec::with_capacity(self.best.len());
        let mut before: Option<(usize, bool)> = None;
        for (slot, best) in self.best.iter().enumerate() {
            let mut most = NOTHING;
            let mut found = None;
            for one in best {
                let (cost, flag) = match before {
                    None => (0, false),
                    Some((look, changed)) => {
                        let between = compiled.between(look, one.look);
                        let slow = compiled.postures_slow && between.posture;
                        if !between.allowed || (changed && slow) {
                            continue;
                        }
                        (prices.change[slot - 1] * between.changes, slow)
                    }
                };
                let rest = self.go(slot, one.look, flag);
                let worth = one.value + rest - cost;
                if reachable(rest) && worth > most {
                    most = worth;
                    found = Some((one, flag));
                }
            }
            let (one, flag) = found?;
            list.push(one.filler);
            before = Some((one.look, flag));
        }
        Some(list)
    }
}

fn best_of_looks(compiled: &Compiled<'_>, prices: &Prices, slot: usize) -> Vec<Best> {
    let mut by_look: Vec<Option<Best>> = vec![None; compiled.looks];
    for (filler, value) in compiled.chosen[slot]
        .options
        .iter()
        .zip(&prices.values[slot])
    {
        let look = compiled.fillers[usize::from(*filler)].look;
        let better = by_look[look].is_none_or(|known| *value > known.value);
        if better {
            by_look[look] = Some(Best {
                look,
                value: *value,
                filler: *filler,
            });
        }
    }
    by_look.into_iter().flatten().collect()
}
