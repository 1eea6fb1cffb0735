//! Prices on the sums of a list, and the bound they give on any set of stations.
//!
//! At prices on dose, mean METs, new exercises, pins and the levels above, the best set takes from every kind the
//! dearest movements. Whatever the prices, no set that keeps the sums is worth more. Whole numbers in units of
//! 1/[`UNIT`], each rounded up.

use super::pool::Pool;
use crate::programme::composer::instance::Class;

/// Units to one step of a level.
pub(super) const UNIT: i64 = 1 << 16;
/// Share of the bound that is taken for the gap while no list is known.
const GUESSED_GAP: f64 = 0.03;
/// Least gap to step for.
const LEAST_GAP: f64 = 0.25;
/// Steps without betterment after which strides get shorter.
const PATIENCE: u32 = 3;
/// How much shorter.
const SHORTER: f64 = 0.6;

/// A sum that a set must keep: at most `most`.
struct Sum {
    /// Weight of each item in each kind, in the order of the kind's items.
    weights: Vec<Vec<f64>>,
    most: f64,
    price: f64,
}

/// Prices for one level, given what the levels above must reach.
pub(super) struct Pricing<'p, 'c, 'i> {
    pool: &'p Pool<'c, 'i>,
    level: usize,
    sums: Vec<Sum>,
}

/// A bound at some prices.
#[derive(Clone, Debug)]
pub(super) struct Bound {
    /// Worth of each item at the prices, by kind, in the order of the kind's items.
    pub(super) values: Vec<Vec<i64>>,
    /// What is added to the worth of a set.
    pub(super) constant: i64,
    /// The bound itself, in units.
    pub(super) total: i64,
}

impl Bound {
    /// The most that any list can reach at the level.
    pub(super) fn most(&self) -> i64 {
        self.total.div_euclid(UNIT)
    }
}

impl<'p, 'c, 'i> Pricing<'p, 'c, 'i> {
    pub(super) fn new(pool: &'p Pool<'c, 'i>, level: usize, reached: &[(usize, i64)]) -> Self {
        let mut sums = sums_of(pool);
        for (above, least) in reached {
            sums.push(Sum {
                weights: weights(pool, |kind, item| -(pool.worth(*above, kind, item) as f64)),
                most: -(*least as f64),
                price: 0.0,
            });
        }
        Self { pool, level, sums }
    }

    /// Moves the prices towards a bound below `target` (one more than the best list known) and keeps the best bound.
    ///
    /// Every set on the way is shown to `seen`, which may raise the target.
    pub(super) fn improve(
        &mut self,
        steps: u32,
        mut target: Option<i64>,
        mut seen: impl FnMut(&[(usize, usize)]) -> Option<i64>,
    ) -> Bound {
        let mut best: Option<Bound> = None;
        let (mut stride, mut waited) = (1.0, 0);
        for _ in 0..steps {
            let (now, picks) = self.bound();
            let value = now.total as f64 / UNIT as f64;
            if best.as_ref().is_none_or(|kept| now.total < kept.total) {
                best = Some(now);
                waited = 0;
            } else {
                waited += 1;
                if waited >= PATIENCE {
                    stride *= SHORTER;
                    waited = 0;
                }
            }
            let Some(picks) = picks else { break };
            target = seen(&picks).or(target);
            if best
                .as_ref()
                .is_some_and(|kept| kept.most() < target.unwrap_or(i64::MIN / 4))
            {
                break;
            }
            let gap = target.map_or(GUESSED_GAP * value.abs(), |target| value - target as f64);
            if !self.step(&picks, stride * gap.max(LEAST_GAP)) {
                break;
            }
        }
        best.unwrap_or_else(|| self.bound().0)
    }

    /// Moves every price against its breach; `false` where nothing is breached or overpaid.
    fn step(&mut self, picks: &[(usize, usize)], gap: f64) -> bool {
        let breaches: Vec<f64> = self
            .sums
            .iter()
            .map(|sum| {
                let spent: f64 = picks.iter().map(|(kind, at)| sum.weights[*kind][*at]).sum();
                spent - sum.most
            })
            .collect();
        let norm: f64 = breaches
            .iter()
            .zip(&self.sums)
            .filter(|(breach, sum)| **breach > 0.0 || sum.price > 0.0)
            .map(|(breach, _)| breach * breach)
            .sum();
        if norm < 1e-9 {
            return false;
        }
        for (sum, breach) in self.sums.iter_mut().zip(breaches) {
            sum.price = (sum.price + gap / norm * breach).max(0.0);
        }
        true
    }

    /// The bound at the present prices, with the set that attains it as (kind, place among its items).
    fn bound(&self) -> (Bound, Option<Vec<(usize, usize)>>) {
        let pool = self.pool;
        let constant: i64 = self.sums.iter().map(|sum| up(sum.price * sum.most)).sum();
        let values: Vec<Vec<i64>> = (0..pool.kinds.len())
            .map(|kind| self.values_of(kind))
            .collect();
        let mut picks = Vec::new();
        let mut total = constant;
        for family in &pool.families {
            let Some(taken) = dearest(pool, family, &values) else {
                // Fewer movements than slots: there is no list at all.
                let none = Bound {
                    values,
                    constant,
                    total: i64::MIN / 4,
                };
                return (none, None);
            };
            total += taken
                .iter()
                .map(|(kind, at)| values[*kind][*at])
                .sum::<i64>();
            picks.extend(taken);
        }
        let bound = Bound {
            values,
            constant,
            total,
        };
        (bound, Some(picks))
    }

    fn values_of(&self, kind: usize) -> Vec<i64> {
        let pool = self.pool;
        pool.kinds[kind]
            .items
            .iter()
            .enumerate()
            .map(|(at, item)| {
                let priced: f64 = self
                    .sums
                    .iter()
                    .map(|sum| sum.price * sum.weights[kind][at])
                    .sum();
                pool.worth(self.level, kind, *item) * UNIT + up(-priced)
            })
            .collect()
    }
}

/// The pulse rule at the ends of all brisk slots added up. What an item adds depends on its slot, so it counts with the
/// least that it adds in any slot of its kind.
fn pulse_sum(pool: &Pool<'_, '_>) -> Option<(Vec<Vec<f64>>, f64)> {
    /// For rounding on the way.
    const SLACK_METS: f64 = 1e-6;
    let compiled = pool.compiled;
    let pulse = compiled.pulse.as_ref().filter(|pulse| pulse.rises())?;
    let mut of_slot = vec![0.0; compiled.chosen.len()];
    let mut most = SLACK_METS;
    for (slot, chosen) in compiled.chosen.iter().enumerate() {
        if chosen.slot.class == Class::Cardiovascular {
            let (coefficients, room) = pulse.linear(compiled.first_of(slot));
            for (session, one) in coefficients.iter().enumerate() {
                of_slot[compiled.sequence[session]] += one;
            }
            most += room;
        }
    }
    let weight = |kind: usize, item: usize| {
        let load = compiled.fillers[usize::from(pool.items[item].fillers[0])].load;
        let slots = pool.kinds[kind].slots.iter();
        let adds = slots.map(|slot| of_slot[*slot] * load);
        adds.fold(f64::INFINITY, f64::min)
    };
    Some((weights(pool, weight), most))
}

fn up(value: f64) -> i64 {
    libm::ceil(value * UNIT as f64) as i64
}

/// The dearest set for kinds that draw on the same movements, each movement at most once: exact, movement by movement
/// over how many slots of each kind are filled. `None` where there are too few movements.
fn dearest(
    pool: &Pool<'_, '_>,
    family: &[usize],
    values: &[Vec<i64>],
) -> Option<Vec<(usize, usize)>> {
    let counts: Vec<usize> = family
        .iter()
        .map(|kind| pool.kinds[*kind].slots.len())
        .collect();
    if let ([kind], [count]) = (family, counts.as_slice()) {
        return dearest_of_one(pool, *kind, &values[*kind], *count);
    }
    // Filled counts as one number, least kind first.
    let mut radix = vec![1];
    for count in &counts {
        radix.push(radix[radix.len() - 1] * (count + 1));
    }
    let states = radix[counts.len()];
    let filled = |state: usize, at: usize| state / radix[at] % (counts[at] + 1);
    let best: Vec<Vec<Option<usize>>> = family
        .iter()
        .map(|kind| best_of_movements(pool, *kind, &values[*kind]))
        .collect();
    let mut worth = vec![NOTHING; states];
    worth[0] = 0;
    let mut taken: Vec<Vec<u8>> = Vec::with_capacity(pool.compiled.alikes);
    #[expect(
        clippy::needless_range_loop,
        reason = "the movement indexes one list of each kind"
    )]
    for movement in 0..pool.compiled.alikes {
        let mut choice = vec![0_u8; states];
        for state in (0..states).rev() {
            for (at, kind) in family.iter().enumerate() {
                let Some(item) = best[at][movement] else {
                    continue;
                };
                if filled(state, at) == 0 || worth[state - radix[at]] <= NOTHING {
                    continue;
                }
                let with = worth[state - radix[at]] + values[*kind][item];
                if with > worth[state] {
                    worth[state] = with;
                    choice[state] = at as u8 + 1;
                }
            }
        }
        taken.push(choice);
    }
    if worth[states - 1] <= NOTHING {
        return None;
    }
    let mut state = states - 1;
    let mut picks = Vec::new();
    for movement in (0..taken.len()).rev() {
        let Some(at) = usize::from(taken[movement][state]).checked_sub(1) else {
            continue;
        };
        picks.push((family[at], best[at][movement]?));
        state -= radix[at];
    }
    Some(picks)
}

/// Less than any sum.
const NOTHING: i64 = i64::MIN / 4;

/// The dearest item of every movement.
fn best_of_movements(pool: &Pool<'_, '_>, kind: usize, values: &[i64]) -> Vec<Option<usize>> {
    let mut best: Vec<Option<usize>> = vec![None; pool.compiled.alikes];
    for (at, item) in pool.kinds[kind].items.iter().enumerate() {
        let of_movement = &mut best[pool.items[*item].movement];
        if of_movement.is_none_or(|known| values[at] > values[known]) {
            *of_movement = Some(at);
        }
    }
    best
}

fn dearest_of_one(
    pool: &Pool<'_, '_>,
    kind: usize,
    values: &[i64],
    count: usize,
) -> Option<Vec<(usize, usize)>> {
    let mut all: Vec<usize> = best_of_movements(pool, kind, values)
        .into_iter()
        .flatten()
        .collect();
    if all.len() < count {
        return None;
    }
    all.sort_by(|a, b| values[*b].cmp(&values[*a]).then(a.cmp(b)));
    all.truncate(count);
    Some(all.into_iter().map(|at| (kind, at)).collect())
}

fn weights(pool: &Pool<'_, '_>, weight: impl Fn(usize, usize) -> f64) -> Vec<Vec<f64>> {
    pool.kinds
        .iter()
        .enumerate()
        .map(|(kind, one)| one.items.iter().map(|item| weight(kind, *item)).collect())
        .collect()
}

/// The sums of the instance, each scaled to the size of one.
fn sums_of(pool: &Pool<'_, '_>) -> Vec<Sum> {
    let compiled = pool.compiled;
    let slots = compiled.chosen.len().max(1) as f64;
    let whole: i64 = compiled.chosen.iter().map(|slot| slot.total_ms).sum();
    // A station one MET harder.
    let scale = (whole as f64 / slots * 1000.0).max(1.0);
    let mut sums = Vec::new();
    let mut push = |weights: Vec<Vec<f64>>, most: f64| {
        sums.push(Sum {
            weights,
            most,
            price: 0.0,
        });
    };
    for (index, mean) in compiled.means.iter().enumerate() {
        let weight = |kind: usize, item: usize| {
            let ms = pool.kinds[kind].mean_ms[index];
            (ms * (pool.items[item].mets - mean.most_milli)) as f64 / scale
        };
        push(weights(pool, weight), mean.room as f64 / scale);
    }
    let dose = |kind: usize, item: usize| {
        (pool.kinds[kind].total_ms * pool.items[item].low) as f64 / scale
    };
    if compiled.dose_least > 0 {
        push(
            weights(pool, |kind, item| -dose(kind, item)),
            -(compiled.dose_least as f64) / scale,
        );
    }
    if compiled.dose_most < i64::MAX / 8 {
        push(weights(pool, dose), compiled.dose_most as f64 / scale);
    }
    if (compiled.max_new as usize) < compiled.chosen.len() {
        let new = |_: usize, item: usize| f64::from(u8::from(pool.items[item].new));
        push(weights(pool, new), f64::from(compiled.max_new));
    }
    // Slow changes of posture, see `keeps_posture` of the descent.
    for sitting in 0..if pool.sides.is_empty() { 0 } else { 3 } {
        for side in 0..2 {
            let weight = |kind: usize, item: usize| match pool.items[item].sitting == sitting {
                false => 0.0,
                true if pool.sides[kind] == side => 1.0,
                true => -2.0,
            };
            push(weights(pool, weight), 1.0);
        }
    }
    // No two neighbours share a muscle group, so at most every other slot has it.
    for bit in (0..64).filter(|bit| pool.items.iter().any(|item| item.apart >> bit & 1 == 1)) {
        let has =
            |_: usize, item: usize| f64::from(u8::from(pool.items[item].apart >> bit & 1 == 1));
        push(weights(pool, has), pool.most_apart() as f64);
    }
    if let Some((weights, most)) = pulse_sum(pool) {
        push(weights, most);
    }
    for pin in 0..compiled.free_pins {
        let named =
            |_: usize, item: usize| -f64::from(u8::from(pool.items[item].pins >> pin & 1 == 1));
        push(weights(pool, named), -1.0);
    }
    sums
}
