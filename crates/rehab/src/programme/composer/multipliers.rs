//! Prices on the rules that the relaxed problem leaves out, and the bound they give.
//!
//! Every list that holds the rules is worth, at the prices, at least as much as by itself; so the best priced path
//! bounds it, whatever the prices. They are chosen by steps against the breach of each rule (subgradient), which only
//! makes the bound better or worse, never wrong. Values are whole numbers in units of 1/[`UNIT`]; each is rounded up.

use super::compiled::Compiled;
use super::instance::{BENEFIT, Class, LEVELS, Repeats};
use super::relaxed::{Prices, Relaxed};

/// Units to one step of a level.
pub(super) const UNIT: i64 = 1 << 16;

/// Share of the bound that is taken for the gap while no list is known.
const GUESSED_GAP: f64 = 0.05;
/// Least gap to step for, so that steps do not stop.
const LEAST_GAP: f64 = 0.5;

/// One rule of the form `sum of weights <= most`, with its price.
struct Priced {
    /// Weight of each filler in each slot.
    weights: Vec<Vec<f64>>,
    /// Weight of one change after each slot.
    change: Vec<f64>,
    most: f64,
    price: f64,
}

/// Prices for one level of the objective, given what the levels above must reach.
pub(super) struct Pricing<'compiled, 'instance> {
    compiled: &'compiled Compiled<'instance>,
    level: usize,
    rules: Vec<Priced>,
    /// Price of every movement in every round, in units; empty where repeats are allowed at this level.
    movement: Vec<i64>,
}

/// Prices with what they prove.
pub(super) struct Bounded {
    pub(super) prices: Prices,
    pub(super) relaxed: Relaxed,
    /// Added to the value of a path to bound lists, in units.
    pub(super) constant: i64,
}

impl Bounded {
    /// The most that any list can reach at the level.
    pub(super) fn most(&self) -> i64 {
        self.relaxed
            .total
            .saturating_add(self.constant)
            .div_euclid(UNIT)
    }
}

impl<'compiled, 'instance> Pricing<'compiled, 'instance> {
    pub(super) fn new(
        compiled: &'compiled Compiled<'instance>,
        level: usize,
        reached: &[i64],
    ) -> Self {
        let mut rules = sum_rules(compiled);
        for (above, least) in reached.iter().enumerate() {
            rules.push(level_rule(compiled, above, *least));
        }
        let priced = compiled.repeats == Repeats::Never || level == BENEFIT;
        let movements = if priced {
            compiled.alikes * compiled.rounds
        } else {
            0
        };
        Self {
            compiled,
            level,
            rules,
            movement: vec![0; movements],
        }
    }

    /// Moves the prices for a number of steps towards a bound below `target`, and keeps the best.
    ///
    /// The target is one more than the best list known; every path on the way is shown to `seen`, which may raise it.
    pub(super) fn improve(
        &mut self,
        steps: u32,
        mut target: Option<i64>,
        mut seen: impl FnMut(&[u16]) -> Option<i64>,
    ) -> Bounded {
        let mut best: Option<Bounded> = None;
        let mut stride = 1.0;
        let mut since_better = 0;
        for _ in 0..steps {
            let now = self.bound();
            let path = now.relaxed.path(self.compiled, &now.prices);
            let value = now.relaxed.total.saturating_add(now.constant);
            let better = best
                .as_ref()
                .is_none_or(|kept| value < kept.relaxed.total.saturating_add(kept.constant));
            if better {
                best = Some(now);
                since_better = 0;
            } else {
                since_better += 1;
                if since_better >= 4 {
                    stride *= 0.6;
                    since_better = 0;
                }
            }
            let Some(path) = path else { break };
            target = seen(&path).or(target);
            let most = best.as_ref().map_or(i64::MAX, Bounded::most);
            // Without a list the bound can only show that there is none: no benefit is less than nought.
            let least = if self.level == BENEFIT {
                0
            } else {
                i64::MIN / 4
            };
            if most < target.unwrap_or(least) {
                break;
            }
            let value = value as f64 / UNIT as f64;
            let gap = target.map_or(GUESSED_GAP * value.abs(), |target| value - target as f64);
            if !self.step(&path, stride * gap.max(LEAST_GAP)) {
                break;
            }
        }
        best.unwrap_or_else(|| self.bound())
    }

    /// Moves every price against its breach on a path; `false` where nothing is breached or overpaid.
    fn step(&mut self, path: &[u16], gap: f64) -> bool {
        let breaches: Vec<f64> = self
            .rules
            .iter()
            .map(|rule| self.breach(rule, path))
            .collect();
        let uses = self.uses(path);
        let mut norm: f64 = breaches
            .iter()
            .zip(&self.rules)
            .filter(|(breach, rule)| **breach > 0.0 || rule.price > 0.0)
            .map(|(breach, _)| breach * breach)
            .sum();
        for (use_, price) in uses.iter().zip(&self.movement) {
            let over = use_ - 1;
            if over > 0 || *price > 0 {
                norm += (over * over) as f64;
            }
        }
        if norm < 1e-9 {
            return false;
        }
        let length = gap / norm;
        for (rule, breach) in self.rules.iter_mut().zip(breaches) {
            rule.price = (rule.price + length * breach).max(0.0);
        }
        for (price, use_) in self.movement.iter_mut().zip(uses) {
            let moved = length * (use_ - 1) as f64 * UNIT as f64;
            *price = (*price + libm::round(moved) as i64).max(0);
        }
        true
    }

    fn breach(&self, rule: &Priced, path: &[u16]) -> f64 {
        let mut sum = -rule.most;
        for (slot, filler) in path.iter().enumerate() {
            let options = &self.compiled.chosen[slot].options;
            let at = options
                .binary_search(filler)
                .expect("a path is made of options");
            sum += rule.weights[slot][at];
            if let Some(next) = path.get(slot + 1) {
                sum += rule.change[slot] * self.changes(*filler, *next) as f64;
            }
        }
        sum
    }

    fn changes(&self, first: u16, second: u16) -> i64 {
        let look = |filler: u16| self.compiled.fillers[usize::from(filler)].look;
        self.compiled.between(look(first), look(second)).changes
    }

    fn uses(&self, path: &[u16]) -> Vec<i64> {
        let mut uses = vec![0; self.movement.len()];
        if !uses.is_empty() {
            for (slot, filler) in path.iter().enumerate() {
                uses[self.movement_of(slot, *filler)] += 1;
            }
        }
        uses
    }

    fn movement_of(&self, slot: usize, filler: u16) -> usize {
        let round = usize::from(self.compiled.chosen[slot].slot.round);
        round * self.compiled.alikes + self.compiled.fillers[usize::from(filler)].alike
    }

    /// The bound at the present prices.
    fn bound(&self) -> Bounded {
        let compiled = self.compiled;
        let mut constant: i64 = self.movement.iter().sum();
        for rule in &self.rules {
            constant += up(rule.price * rule.most);
        }
        let values = (0..compiled.chosen.len())
            .map(|slot| self.values_of(slot))
            .collect();
        let change = (0..compiled.chosen.len())
            .map(|slot| {
                let own = compiled.change_weight(self.level, slot) * UNIT;
                let priced: f64 = self
                    .rules
                    .iter()
                    .map(|rule| rule.price * rule.change[slot])
                    .sum();
                // Rounded down: a change must not cost more than it does.
                own + libm::floor(priced * UNIT as f64) as i64
            })
            .collect();
        let prices = Prices { values, change };
        let relaxed = Relaxed::solve(compiled, &prices);
        Bounded {
            prices,
            relaxed,
            constant,
        }
    }

    fn values_of(&self, slot: usize) -> Vec<i64> {
        let compiled = self.compiled;
        compiled.chosen[slot]
            .options
            .iter()
            .enumerate()
            .map(|(at, filler)| {
                let one = &compiled.fillers[usize::from(*filler)];
                let mut own = compiled.worth(self.level, slot, one) * UNIT;
                if !self.movement.is_empty() {
                    own -= self.movement[self.movement_of(slot, *filler)];
                    if compiled.repeats == Repeats::AfterTwoOthers {
                        // A second time is worth nothing and needs no price.
                        own = own.max(0);
                    }
                }
                let priced: f64 = self
                    .rules
                    .iter()
                    .map(|rule| rule.price * rule.weights[slot][at])
                    .sum();
                own + up(-priced)
            })
            .collect()
    }
}

fn up(value: f64) -> i64 {
    libm::ceil(value * UNIT as f64) as i64
}

/// A weight for every filler in every slot.
fn weights(compiled: &Compiled<'_>, weight: impl Fn(usize, usize) -> f64) -> Vec<Vec<f64>> {
    compiled
        .chosen
        .iter()
        .enumerate()
        .map(|(slot, chosen)| {
            chosen
                .options
                .iter()
                .map(|filler| weight(slot, usize::from(*filler)))
                .collect()
        })
        .collect()
}

/// Sums that a list must keep: mean METs, dose, new exercises, pins for anywhere. Scaled to the size of one.
fn sum_rules(compiled: &Compiled<'_>) -> Vec<Priced> {
    let slots = compiled.chosen.len();
    let flat = vec![0.0; slots];
    let whole: i64 = compiled.chosen.iter().map(|slot| slot.total_ms).sum();
    // One unit of METs times length: a station one MET harder.
    let scale = (whole as f64 / slots.max(1) as f64 * 1000.0).max(1.0);
    let mut rules = Vec::new();
    let mut push = |weights: Vec<Vec<f64>>, most: f64| {
        rules.push(Priced {
            weights,
            change: flat.clone(),
            most,
            price: 0.0,
        });
    };
    for mean in &compiled.means {
        let weight = |slot: usize, filler: usize| {
            (mean.ms[slot] * (compiled.fillers[filler].mets - mean.most_milli)) as f64 / scale
        };
        push(weights(compiled, weight), mean.room as f64 / scale);
    }
    let dose = |slot: usize, filler: usize| {
        (compiled.chosen[slot].total_ms * compiled.fillers[filler].low) as f64 / scale
    };
    if compiled.dose_least > 0 {
        let least = compiled.dose_least as f64 / scale;
        push(
            weights(compiled, |slot, filler| -dose(slot, filler)),
            -least,
        );
    }
    if compiled.dose_most < i64::MAX / 8 {
        push(weights(compiled, dose), compiled.dose_most as f64 / scale);
    }
    if (compiled.max_new as usize) < slots && compiled.repeats == Repeats::Never {
        let rounds = compiled
            .chosen
            .iter()
            .map(|one| one.slot.round)
            .collect::<Vec<_>>();
        let mut distinct = rounds;
        distinct.sort_unstable();
        distinct.dedup();
        let most = f64::from(compiled.max_new) * distinct.len() as f64;
        let new = |_: usize, filler: usize| f64::from(u8::from(compiled.fillers[filler].new));
        push(weights(compiled, new), most);
    }
    if let Some(pulse) = &compiled.pulse {
        for (slot, chosen) in compiled.chosen.iter().enumerate() {
            // The rule binds where the pulse is high; the slots of the easier class follow.
            if chosen.slot.class == Class::Cardiovascular {
                let (coefficients, most) = pulse.linear(slot);
                let load = |at: usize, filler: usize| {
                    coefficients
                        .get(at)
                        .map_or(0.0, |one| one * compiled.fillers[filler].load)
                };
                push(weights(compiled, load), most);
            }
        }
    }
    for pin in 0..compiled.free_pins {
        let named = |_: usize, filler: usize| {
            -f64::from(u8::from(compiled.fillers[filler].pins >> pin & 1 == 1))
        };
        push(weights(compiled, named), -1.0);
    }
    rules
}

/// A level above that must not fall below what it reached.
fn level_rule(compiled: &Compiled<'_>, level: usize, least: i64) -> Priced {
    Priced {
        weights: weights(compiled, |slot, filler| {
            -(compiled.worth(level, slot, &compiled.fillers[filler]) as f64)
        }),
        change: (0..compiled.chosen.len())
            .map(|slot| compiled.change_weight(level, slot) as f64)
            .collect(),
        most: -(least as f64),
        price: 0.0,
    }
}

/// Tables of what each level can still reach after a slot, without prices.
pub(super) fn plain_tables(compiled: &Compiled<'_>) -> Vec<Relaxed> {
    (0..LEVELS)
        .map(|level| {
            let worth = |slot: usize, filler: &u16| {
                compiled.worth(level, slot, &compiled.fillers[usize::from(*filler)])
            };
            let values = (0..compiled.chosen.len())
                .map(|slot| {
                    let options = compiled.chosen[slot].options.iter();
                    options.map(|filler| worth(slot, filler)).collect()
                })
                .collect();
            let change = (0..compiled.chosen.len())
                .map(|slot| compiled.change_weight(level, slot))
                .collect();
            Relaxed::solve(compiled, &Prices { values, change })
        })
        .collect()
}
