//! The composer against plain enumeration, and its laws.

use super::*;
use crate::programme::Posture;
use std::collections::BTreeSet;

/// Numbers of a small generator, the same on every machine.
struct Draws(u64);

impl Draws {
    fn next(&mut self, below: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % below
    }

    fn chance(&mut self, percent: u64) -> bool {
        self.next(100) < percent
    }
}

fn slots(draws: &mut Draws, chosen: usize, repeated: usize) -> Vec<Slot> {
    let class = |index: usize| {
        if index.is_multiple_of(2) {
            Class::Cardiovascular
        } else {
            Class::ActiveRecovery
        }
    };
    let cv_ms = 1000 * [30, 60, 90, 120][draws.next(4) as usize];
    let ar_ms = 1000 * [30, 45, 60][draws.next(3) as usize];
    let before_ms = 1000 * [0, 15][draws.next(2) as usize];
    let slot = |index: usize, round: u8, same_as: Option<usize>| Slot {
        class: class(index),
        duration_ms: if index.is_multiple_of(2) {
            cv_ms
        } else {
            ar_ms
        },
        round,
        before_ms,
        before_mets_milli: 2_300,
        same_as,
    };
    let mut list: Vec<Slot> = (0..chosen).map(|index| slot(index, 1, None)).collect();
    list.extend((0..repeated).map(|index| slot(index, 2, Some(index))));
    list
}

fn candidate(draws: &mut Draws, index: usize) -> Candidate {
    let movement = draws.next(7);
    let hard = draws.chance(60);
    let mets = if hard {
        2_300 + 100 * draws.next(20)
    } else {
        1_500 + 100 * draws.next(12)
    } as i64;
    let mut classes = vec![if hard {
        Class::Cardiovascular
    } else {
        Class::ActiveRecovery
    }];
    if draws.chance(10) {
        classes = vec![Class::Cardiovascular, Class::ActiveRecovery];
    }
    Candidate {
        id: format!("m{movement}/v{index}"),
        exercise: format!("m{movement}"),
        variant: format!("v{index}"),
        alike: format!("a{}", movement / 2 * 2 + movement % 2 * draws.next(2)),
        classes,
        off_band: draws.next(4).saturating_sub(1) as u32 * (1 + draws.next(3) as u32),
        benefit: draws.next(6) as u32,
        variety: draws.next(3) as u32,
        mets_milli: mets,
        mets_low_milli: mets - 300,
        hr_gain_milli: [1_000, 1_100, 1_150][draws.next(3) as usize],
        muscles: if draws.chance(50) {
            1 << draws.next(5)
        } else {
            0
        } | (1 << draws.next(9) & 0x1f),
        place: draws.next(3) as u8,
        posture: [
            Posture::Seated,
            Posture::Standing,
            Posture::Standing,
            Posture::Rising,
        ][draws.next(4) as usize],
        arms_above: draws.chance(15),
        props: if draws.chance(30) {
            1 << draws.next(2)
        } else {
            0
        },
        new: draws.chance(40),
        novelty: draws.next(3) as u32,
        refused_by: 0,
    }
}

fn instance(seed: u64) -> Instance {
    let mut draws = Draws(seed);
    let chosen = 2 + 2 * draws.next(2) as usize;
    let repeated = if draws.chance(25) { 2 } else { 0 };
    let slots = slots(&mut draws, chosen, repeated);
    let count = 6 + draws.next(9) as usize;
    let candidates: Vec<Candidate> = (0..count)
        .map(|index| candidate(&mut draws, index))
        .collect();
    let dose_of_two = |ms: i64| 2_000 * ms;
    let total: i64 = slots.iter().map(|slot| i64::from(slot.duration_ms)).sum();
    let pulse = draws.chance(50).then(|| PulseRule {
        level_bpm: 64.0,
        slope: 13.5,
        tau_s: 60.0,
        start_bpm: 80.0,
        start_ms: 540_000,
        drift_per_minute: 0.15,
        drift_begins_s: 600.0,
        most_bpm: 82.0 + draws.next(16) as f64,
    });
    let pins = if draws.chance(25) {
        let named = &candidates[draws.next(count as u64) as usize];
        vec![SlotPin {
            slot: draws.chance(50).then(|| draws.next(chosen as u64) as usize),
            exercise: named.exercise.clone(),
            variant: draws.chance(50).then(|| named.variant.clone()),
        }]
    } else {
        Vec::new()
    };
    Instance {
        slots,
        candidates,
        restrictions: Vec::new(),
        pulse,
        mean_mets_milli: draws
            .chance(60)
            .then(|| 2_000 + 100 * draws.next(12) as i64),
        dose: DoseRange {
            least: if draws.chance(40) {
                dose_of_two(total) * 9 / 10
            } else {
                0
            },
            most: if draws.chance(40) {
                dose_of_two(total) * 11 / 10
            } else {
                i64::MAX / 4
            },
        },
        hypotensive: draws.chance(30),
        max_new: draws.next(5) as u32,
        repeats: if draws.chance(30) {
            Repeats::AfterTwoOthers
        } else {
            Repeats::Never
        },
        pins,
        node_budget: 1_000_000,
    }
}

/// Every list, one after the other, judged by the words of the rules; shares nothing with the search.
fn enumerate(instance: &Instance) -> Option<i64> {
    let chosen: Vec<usize> = (0..instance.slots.len())
        .filter(|slot| instance.slots[*slot].same_as.is_none())
        .collect();
    let mut best = None;
    let mut digits = vec![0; chosen.len()];
    loop {
        let list: Vec<&Candidate> = instance
            .slots
            .iter()
            .enumerate()
            .map(|(index, slot)| {
                let from = slot.same_as.unwrap_or(index);
                let at = chosen.iter().position(|one| *one == from).unwrap();
                &instance.candidates[digits[at]]
            })
            .collect();
        best = best.max(judge(instance, &list));
        let Some(at) = digits
            .iter()
            .rposition(|digit| digit + 1 < instance.candidates.len())
        else {
            return best;
        };
        digits[at] += 1;
        digits[at + 1..].fill(0);
    }
}

fn judge(instance: &Instance, list: &[&Candidate]) -> Option<i64> {
    let sitting = |one: &Candidate| match one.posture {
        Posture::Seated => 0,
        Posture::Rising => 1,
        Posture::Standing | Posture::Walking => 2,
    };
    let (mut changes, mut changed_before) = (0, false);
    for pair in list.windows(2) {
        let changed = sitting(pair[0]) != sitting(pair[1]);
        if pair[0].muscles & pair[1].muscles != 0
            || (pair[0].arms_above && pair[1].arms_above)
            || (instance.hypotensive && changed && changed_before)
        {
            return None;
        }
        changed_before = changed;
        changes +=
            i64::from(pair[0].place != pair[1].place) + i64::from(pair[1].place < pair[0].place);
        changes += (0..8)
            .filter(|bit| pair[1].props >> bit & 1 > pair[0].props >> bit & 1)
            .count() as i64;
    }
    let (mut off_band, mut benefit, mut variety, mut novelty) = (0, 0, 0, 0);
    let mut new_exercises = BTreeSet::new();
    for (index, one) in list.iter().enumerate() {
        let slot = &instance.slots[index];
        if !one.classes.contains(&slot.class) || one.refused_by != 0 {
            return None;
        }
        if slot.same_as.is_some() {
            continue;
        }
        if slot.class == Class::Cardiovascular {
            off_band += i64::from(one.off_band);
        }
        novelty += i64::from(one.novelty);
        if one.new {
            new_exercises.insert(&one.exercise);
        }
        let earlier = (0..index).rev().find(|before| {
            instance.slots[*before].round == slot.round && list[*before].alike == one.alike
        });
        match earlier {
            None => {
                benefit += i64::from(one.benefit);
                variety += i64::from(one.variety);
            }
            Some(before) if instance.repeats == Repeats::AfterTwoOthers && index - before >= 3 => {
                variety -= 1;
            }
            Some(_) => return None,
        }
    }
    let pinned = instance.pins.iter().all(|pin| {
        let names = |one: &Candidate| {
            one.exercise == pin.exercise && pin.variant.as_ref().is_none_or(|v| *v == one.variant)
        };
        pin.slot.map_or_else(
            || list.iter().any(|one| names(one)),
            |slot| names(list[slot]),
        )
    });
    let sums = sums_hold(instance, list) && new_exercises.len() <= instance.max_new as usize;
    (pinned && sums && pulse_holds(instance, list)).then(|| {
        benefit * 1_000_000_000
            - off_band * 1_000_000_000_000
            - novelty * 1_000_000
            - changes * 1_000
            + variety
    })
}

fn sums_hold(instance: &Instance, list: &[&Candidate]) -> bool {
    let ms = |index: usize| i64::from(instance.slots[index].duration_ms);
    let dose: i64 = (0..list.len())
        .map(|index| ms(index) * list[index].mets_low_milli)
        .sum();
    let means = instance.mean_mets_milli.is_none_or(|most| {
        [1, 2].into_iter().all(|round| {
            let of_round: Vec<usize> = (0..list.len())
                .filter(|index| instance.slots[*index].round == round)
                .collect();
            let time: i64 = of_round.iter().map(|index| ms(*index)).sum();
            let work: i64 = of_round
                .iter()
                .map(|index| ms(*index) * list[*index].mets_milli)
                .sum();
            let before = |index: &usize| i64::from(instance.slots[*index].before_ms);
            let walked: i64 = of_round.iter().map(before).sum();
            // The mean of the stations, and the mean with the change-overs.
            work <= most * time && work + walked * 2_300 <= most * (time + walked)
        })
    });
    means && dose >= instance.dose.least && dose <= instance.dose.most
}

/// The pulse in steps of ten milliseconds instead of the exact solution.
fn pulse_holds(instance: &Instance, list: &[&Candidate]) -> bool {
    let Some(pulse) = instance.pulse else {
        return true;
    };
    let (mut rate, mut at_s) = (pulse.start_bpm, pulse.start_ms as f64 / 1000.0);
    let mut segment = |ms: u32, load: f64| {
        let target = pulse.level_bpm + pulse.slope * load;
        for _ in 0..ms / 10 {
            let k1 = (target - rate) / pulse.tau_s;
            let k2 = (target - (rate + 0.005 * k1)) / pulse.tau_s;
            rate += 0.01 * k2;
        }
        at_s += f64::from(ms) / 1000.0;
        let drift = pulse.drift_per_minute * (at_s - pulse.drift_begins_s).max(0.0) / 60.0;
        ms == 0 || rate + drift <= pulse.most_bpm + 1e-6
    };
    instance.slots.iter().zip(list).all(|(slot, one)| {
        segment(slot.before_ms, 1.3)
            && segment(
                slot.duration_ms,
                (one.mets_milli - 1000) as f64 * one.hr_gain_milli as f64 / 1e6,
            )
    })
}

#[test]
fn reference_plain_enumeration_finds_the_same_objective() {
    let (mut solved, mut without) = (0, 0);
    for seed in 0..600 {
        let instance = instance(seed);
        assert_eq!(instance.problems(), Vec::<String>::new());
        let expected = enumerate(&instance);
        match (compose(&instance), expected) {
            (Ok(composed), Some(objective)) => {
                assert!(composed.proven, "seed {seed}");
                assert_eq!(composed.objective, objective, "seed {seed}");
                assert_eq!(composed.bound, objective, "seed {seed}");
                let again = worth(&instance, &composed.chosen).map(Levels::objective);
                assert_eq!(again, Some(objective), "seed {seed}");
                solved += 1;
            }
            (Err(none), None) => {
                assert!(none.proven, "seed {seed}");
                without += 1;
            }
            (got, expected) => panic!("seed {seed}: {got:?} where enumeration has {expected:?}"),
        }
    }
    assert!(
        solved >= 200 && without >= 100,
        "{solved} solved, {without} without a list"
    );
}

#[test]
fn law_the_order_of_the_candidates_changes_nothing() {
    for seed in 0..150 {
        let instance = instance(seed);
        let mut turned = instance.clone();
        turned.candidates.reverse();
        let half = turned.candidates.len() / 2;
        turned.candidates.rotate_left(half);
        let ids = |instance: &Instance, composed: &Composed| -> Vec<String> {
            composed
                .chosen
                .iter()
                .map(|at| instance.candidates[*at].id.clone())
                .collect()
        };
        match (compose(&instance), compose(&turned)) {
            (Ok(a), Ok(b)) => {
                assert_eq!(ids(&instance, &a), ids(&turned, &b), "seed {seed}");
                assert_eq!(
                    (a.objective, a.nodes),
                    (b.objective, b.nodes),
                    "seed {seed}"
                );
            }
            (Err(a), Err(b)) => assert_eq!(a, b, "seed {seed}"),
            _ => panic!("seed {seed}: one order has a list, the other none"),
        }
    }
}

#[test]
fn law_a_pin_stands_and_a_refused_candidate_never_does() {
    for seed in 0..200 {
        let mut instance = instance(seed);
        instance.pins.clear();
        let Ok(free) = compose(&instance) else {
            continue;
        };
        let banned = free.chosen[0];
        instance.restrictions.push(NamedRestriction {
            id: "choice/ban".to_owned(),
            words: "the ban".to_owned(),
        });
        instance.candidates[banned].refused_by = 1;
        match compose(&instance) {
            Ok(without) => {
                assert!(!without.chosen.contains(&banned), "seed {seed}");
                assert!(without.objective <= free.objective, "seed {seed}");
            }
            Err(none) => assert_eq!(none.relax[0].id, "choice/ban", "seed {seed}"),
        }
        instance.candidates[banned].refused_by = 0;
        let named = &instance.candidates[free.chosen[1]];
        instance.pins.push(SlotPin {
            slot: Some(1),
            exercise: named.exercise.clone(),
            variant: Some(named.variant.clone()),
        });
        let pinned = compose(&instance).expect("the list from before holds the pin");
        assert_eq!(pinned.objective, free.objective, "seed {seed}");
        assert_eq!(pinned.chosen[1], free.chosen[1], "seed {seed}");
    }
}

/// The instance with something given way to, written out by hand.
fn without_rule(instance: &Instance, id: &str) -> Instance {
    let mut eased = instance.clone();
    match id {
        "composer/dose-least" => eased.dose.least = i64::MIN / 4,
        "composer/dose-most" => eased.dose.most = i64::MAX / 4,
        "composer/new-exercises" => eased.max_new = u32::MAX,
        "composer/repeats" => eased.repeats = Repeats::AfterTwoOthers,
        "composer/muscles" => eased.candidates.iter_mut().for_each(|one| one.muscles = 0),
        "composer/arms" => eased
            .candidates
            .iter_mut()
            .for_each(|one| one.arms_above = false),
        "composer/postures" => eased.hypotensive = false,
        "composer/mean-mets" => eased.mean_mets_milli = None,
        "composer/pulse" => eased.pulse = None,
        "composer/pin" => eased.pins.clear(),
        other => panic!("unknown {other}"),
    }
    eased
}

const ALL_RULES: [&str; 10] = [
    "composer/pin",
    "composer/dose-least",
    "composer/new-exercises",
    "composer/repeats",
    "composer/muscles",
    "composer/arms",
    "composer/postures",
    "composer/dose-most",
    "composer/mean-mets",
    "composer/pulse",
];

#[test]
fn reference_what_to_relax_is_enough_and_nothing_smaller_is() {
    let mut named = 0;
    for seed in 0..300 {
        let instance = instance(seed);
        let Err(none) = compose(&instance) else {
            continue;
        };
        let eased = none
            .relax
            .iter()
            .fold(instance.clone(), |eased, one| without_rule(&eased, &one.id));
        if none.relax.is_empty() {
            continue;
        }
        named += 1;
        assert!(
            enumerate(&eased).is_some(),
            "seed {seed}: {:?} is not enough",
            none.relax
        );
        if none.relax.len() > 1 {
            for one in ALL_RULES {
                let single = without_rule(&instance, one);
                assert!(
                    enumerate(&single).is_none(),
                    "seed {seed}: {one} alone is enough"
                );
            }
        }
    }
    assert!(named >= 60, "only {named} instances named something");
}

#[test]
fn law_a_small_budget_gives_a_list_that_holds_and_a_bound_that_is_true() {
    for seed in 0..300 {
        let mut instance = instance(seed);
        let Ok(full) = compose(&instance) else {
            continue;
        };
        for budget in [1, 3, 10, 40] {
            instance.node_budget = budget;
            match compose(&instance) {
                Ok(part) => {
                    assert!(part.objective <= full.objective, "seed {seed}");
                    assert!(part.bound >= full.objective, "seed {seed} budget {budget}");
                    assert!(worth(&instance, &part.chosen).is_some(), "seed {seed}");
                    assert_eq!(
                        part.proven,
                        part.bound == part.objective,
                        "seed {seed} {budget}"
                    );
                }
                Err(none) => assert!(!none.proven, "seed {seed}: called infeasible at {budget}"),
            }
        }
    }
}

#[test]
fn an_instance_that_is_none_is_said_to_be_none() {
    let mut instance = instance(
        (0..)
            .find(|seed| self::instance(*seed).slots.len() == 4)
            .unwrap(),
    );
    let twice = instance.candidates[0].clone();
    instance.candidates.push(twice);
    instance.slots[1].same_as = Some(0);
    let problems = instance.problems();
    assert_eq!(problems.len(), 2, "{problems:?}");
    assert!(compose(&instance).is_err_and(|none| !none.proven && none.relax.is_empty()));
}
