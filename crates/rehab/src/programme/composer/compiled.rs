//! An instance made ready for the search: candidates in an order of their own, alike ones gathered, tables computed.

use super::instance::{
    BENEFIT, CHANGES, Class, HardRule, Instance, NOVELTY, OFF_BAND, Repeats, Slot, SlotPin,
};
use super::look::{Between, Look, between_all, look_of, order_looks};
use super::pulse::Pulse;

/// What is given way to while the smallest set of restrictions is sought; nothing in an ordinary search.
#[derive(Clone, Debug, Default)]
pub(super) struct Relaxing {
    pub(super) rules: Vec<HardRule>,
    pub(super) restrictions: u64,
    pub(super) pins: Vec<usize>,
}

impl Relaxing {
    pub(super) fn keeps(&self, rule: HardRule) -> bool {
        !self.rules.contains(&rule)
    }
}

/// One candidate with what the search needs.
#[derive(Clone, Debug)]
pub(super) struct Filler {
    /// Index in the instance.
    pub(super) source: usize,
    /// Index of its movement among those alike.
    pub(super) alike: usize,
    /// Index of its exercise.
    pub(super) exercise: usize,
    /// Index of its look from the outside, see [`Look`].
    pub(super) look: usize,
    pub(super) off_band: i64,
    pub(super) benefit: i64,
    pub(super) variety: i64,
    pub(super) new: bool,
    pub(super) novelty: i64,
    pub(super) mets: i64,
    pub(super) low: i64,
    /// METs above rest as the heart feels them.
    pub(super) load: f64,
    /// Pins for anywhere that it satisfies, one bit each.
    pub(super) pins: u64,
}

/// A slot that is chosen.
#[derive(Clone, Debug)]
pub(super) struct Chosen {
    pub(super) slot: Slot,
    /// Index of that slot in the session.
    pub(super) first: usize,
    /// Length in ms over all slots that repeat it.
    pub(super) total_ms: i64,
    /// How often the change from it to the next chosen slot is made.
    pub(super) changes_after: i64,
    /// What can stand in it.
    pub(super) options: Vec<u16>,
}

/// A round's mean METs: sum of length times (METs - most) at most `room`.
#[derive(Clone, Debug)]
pub(super) struct RoundMean {
    /// Length of each chosen slot in this round, ms.
    pub(super) ms: Vec<i64>,
    pub(super) most_milli: i64,
    pub(super) room: i64,
}

/// The problem as the search sees it.
#[derive(Clone, Debug)]
pub(super) struct Compiled<'instance> {
    pub(super) instance: &'instance Instance,
    pub(super) fillers: Vec<Filler>,
    pub(super) chosen: Vec<Chosen>,
    /// Chosen slot behind every slot of the session.
    pub(super) sequence: Vec<usize>,
    pub(super) looks: usize,
    between: Vec<Between>,
    apart: Vec<u64>,
    order_looks: Vec<usize>,
    sittings: Vec<usize>,
    pub(super) means: Vec<RoundMean>,
    pub(super) alikes: usize,
    pub(super) exercises: usize,
    pub(super) rounds: usize,
    pub(super) repeats: Repeats,
    pub(super) postures_slow: bool,
    pub(super) pulse: Option<Pulse>,
    pub(super) dose_least: i64,
    pub(super) dose_most: i64,
    pub(super) max_new: u32,
    pub(super) free_pins: usize,
}

impl<'instance> Compiled<'instance> {
    pub(super) fn new(instance: &'instance Instance, relaxing: &Relaxing) -> Self {
        let (chosen, sequence) = chosen_slots(instance);
        let mut order: Vec<usize> = (0..instance.candidates.len())
            .filter(|index| instance.candidates[*index].refused_by & !relaxing.restrictions == 0)
            .collect();
        order.sort_by(|a, b| instance.candidates[*a].id.cmp(&instance.candidates[*b].id));
        let pins: Vec<&SlotPin> = (0..instance.pins.len())
            .filter(|index| !relaxing.pins.contains(index))
            .map(|index| &instance.pins[index])
            .collect();
        let (fillers, looks) = fillers_of(instance, &order, &pins, relaxing);
        let keeps = |rule| relaxing.keeps(rule);
        let mut compiled = Self {
            instance,
            between: between_all(&looks),
            apart: looks.iter().map(Look::apart).collect(),
            order_looks: order_looks(&looks),
            sittings: looks.iter().map(Look::sitting).collect(),
            looks: looks.len(),
            alikes: fillers.iter().map(|one| one.alike + 1).max().unwrap_or(0),
            exercises: fillers
                .iter()
                .map(|one| one.exercise + 1)
                .max()
                .unwrap_or(0),
            fillers,
            means: if keeps(HardRule::MeanMets) {
                round_means(instance, &chosen, &sequence)
            } else {
                Vec::new()
            },
            rounds: instance
                .slots
                .iter()
                .map(|slot| usize::from(slot.round) + 1)
                .max()
                .unwrap_or(1),
            chosen,
            sequence,
            repeats: if keeps(HardRule::Repeats) {
                instance.repeats
            } else {
                Repeats::AfterTwoOthers
            },
            postures_slow: instance.hypotensive && keeps(HardRule::Postures),
            pulse: instance
                .pulse
                .filter(|_| keeps(HardRule::Pulse))
                .map(|rule| Pulse::new(&rule, &instance.slots)),
            dose_least: if keeps(HardRule::DoseLeast) {
                instance.dose.least
            } else {
                i64::MIN / 4
            },
            dose_most: if keeps(HardRule::DoseMost) {
                instance.dose.most
            } else {
                i64::MAX / 4
            },
            max_new: if keeps(HardRule::MaxNew) {
                instance.max_new
            } else {
                u32::MAX
            },
            free_pins: pins.iter().filter(|pin| pin.slot.is_none()).count(),
        };
        compiled.fill_slots(&pins);
        compiled
    }

    /// Fills every chosen slot with the options of its class that its pins allow and that can meet the pulse rule
    /// after the easiest start.
    fn fill_slots(&mut self, pins: &[&SlotPin]) {
        let mut easiest = self.pulse.as_ref().map_or(0.0, Pulse::start_bpm);
        for index in 0..self.chosen.len() {
            let class = self.chosen[index].slot.class;
            let named: Vec<&SlotPin> = pins
                .iter()
                .copied()
                .filter(|pin| {
                    pin.slot
                        .is_some_and(|at| self.sequence.get(at) == Some(&index))
                })
                .collect();
            let mut lowest = f64::INFINITY;
            for (at, filler) in (0_u16..).zip(&self.fillers) {
                let candidate = &self.instance.candidates[filler.source];
                let fits = candidate.classes.contains(&class)
                    && named.iter().all(|pin| pin.names(candidate));
                if !fits {
                    continue;
                }
                if let Some(pulse) = &self.pulse {
                    let Some(end) = pulse.after(self.first_of(index), easiest, filler.load) else {
                        continue;
                    };
                    lowest = lowest.min(end);
                }
                self.chosen[index].options.push(at);
            }
            easiest = lowest;
        }
    }

    /// The first slot of the session that a chosen slot stands for.
    pub(super) fn first_of(&self, chosen: usize) -> usize {
        self.chosen[chosen].first
    }

    /// What no two neighbours may both have, one bit each.
    pub(super) fn apart(&self, filler: &Filler) -> u64 {
        self.apart[filler.look]
    }

    /// Number of a filler's posture: 0 down, 1 up, 2 rising.
    pub(super) fn sitting(&self, filler: &Filler) -> usize {
        self.sittings[filler.look]
    }

    /// Number of what neighbours see of a filler, place and things apart.
    pub(super) fn order_look(&self, filler: &Filler) -> usize {
        self.order_looks[filler.look]
    }

    /// What lies between two looks.
    pub(super) fn between(&self, first: usize, second: usize) -> Between {
        self.between[first * self.looks + second]
    }

    /// What one filler is worth at one level in a chosen slot, as far as that does not depend on the others.
    pub(super) fn worth(&self, level: usize, slot: usize, filler: &Filler) -> i64 {
        let brisk = self.chosen[slot].slot.class == Class::Cardiovascular;
        match level {
            OFF_BAND if brisk => -filler.off_band,
            OFF_BAND | CHANGES => 0,
            BENEFIT => filler.benefit,
            NOVELTY => -filler.novelty,
            _ => filler.variety,
        }
    }

    /// What the changes after a chosen slot weigh at one level.
    pub(super) fn change_weight(&self, level: usize, slot: usize) -> i64 {
        if level == CHANGES {
            self.chosen[slot].changes_after
        } else {
            0
        }
    }
}

fn chosen_slots(instance: &Instance) -> (Vec<Chosen>, Vec<usize>) {
    let mut chosen: Vec<Chosen> = Vec::new();
    let mut sequence = Vec::with_capacity(instance.slots.len());
    let mut where_chosen = vec![0; instance.slots.len()];
    for (index, slot) in instance.slots.iter().enumerate() {
        let at = match slot.same_as {
            Some(earlier) => where_chosen[earlier],
            None => {
                chosen.push(Chosen {
                    slot: *slot,
                    first: index,
                    total_ms: 0,
                    changes_after: 0,
                    options: Vec::new(),
                });
                chosen.len() - 1
            }
        };
        where_chosen[index] = at;
        chosen[at].total_ms += i64::from(slot.duration_ms);
        sequence.push(at);
    }
    for pair in sequence.windows(2) {
        if pair[1] == pair[0] + 1 {
            chosen[pair[0]].changes_after += 1;
        }
    }
    (chosen, sequence)
}

fn fillers_of(
    instance: &Instance,
    order: &[usize],
    pins: &[&SlotPin],
    relaxing: &Relaxing,
) -> (Vec<Filler>, Vec<Look>) {
    let mut looks: Vec<Look> = Vec::new();
    let alikes = names(
        order
            .iter()
            .map(|at| instance.candidates[*at].alike.as_str()),
    );
    let exercises = names(
        order
            .iter()
            .map(|at| instance.candidates[*at].exercise.as_str()),
    );
    let free: Vec<&&SlotPin> = pins.iter().filter(|pin| pin.slot.is_none()).collect();
    let fillers = order
        .iter()
        .map(|source| {
            let one = &instance.candidates[*source];
            let look = look_of(one, relaxing);
            let at = looks.iter().position(|known| *known == look);
            let look = at.unwrap_or_else(|| {
                looks.push(look);
                looks.len() - 1
            });
            Filler {
                source: *source,
                alike: alikes
                    .binary_search(&one.alike.as_str())
                    .expect("its name was gathered"),
                exercise: exercises
                    .binary_search(&one.exercise.as_str())
                    .expect("its name was gathered"),
                look,
                off_band: i64::from(one.off_band),
                benefit: i64::from(one.benefit),
                variety: i64::from(one.variety),
                new: one.new,
                novelty: i64::from(one.novelty),
                mets: one.mets_milli,
                low: one.mets_low_milli,
                load: (one.mets_milli - 1000) as f64 / 1000.0 * (one.hr_gain_milli as f64 / 1000.0),
                pins: (0..free.len())
                    .filter(|at| free[*at].names(one))
                    .map(|at| 1_u64 << at)
                    .sum(),
            }
        })
        .collect();
    (fillers, looks)
}

fn names<'names>(all: impl Iterator<Item = &'names str>) -> Vec<&'names str> {
    let mut list: Vec<&str> = all.collect();
    list.sort_unstable();
    list.dedup();
    list
}

fn round_means(instance: &Instance, chosen: &[Chosen], sequence: &[usize]) -> Vec<RoundMean> {
    let Some(most_milli) = instance.mean_mets_milli else {
        return Vec::new();
    };
    let rounds = instance
        .slots
        .iter()
        .map(|slot| slot.round)
        .max()
        .unwrap_or(0);
    (0..=rounds)
        .filter(|round| instance.slots.iter().any(|slot| slot.round == *round))
        .map(|round| {
            let mut ms = vec![0; chosen.len()];
            let mut change_overs = 0;
            for (slot, at) in instance.slots.iter().zip(sequence) {
                if slot.round == round {
                    ms[*at] += i64::from(slot.duration_ms);
                    change_overs +=
                        i64::from(slot.before_ms) * (slot.before_mets_milli - most_milli);
                }
            }
            // Easy change-overs never buy harder stations: only change-overs above the mean count.
            let room = (-change_overs).min(0);
            RoundMean {
                ms,
                most_milli,
                room,
            }
        })
        .collect()
}
