//! When nothing fits: the smallest set of restrictions that would have to give way.

use super::compiled::{Compiled, Relaxing};
use super::exists;
use super::instance::{HardRule, Instance, Repeats};
use super::outcome::Relaxed;

/// Most that are given way to at once.
const MOST_AT_ONCE: usize = 3;
/// Nodes for one set; a set not decided by then is passed over.
const NODES_EACH: u64 = 500;
/// Sets tried in all.
const MOST_SETS: usize = 800;

/// One thing that can give way.
#[derive(Clone, Copy)]
enum Lever {
    Pin(usize),
    Restriction(usize),
    Rule(HardRule),
}

/// The smallest set after which a list exists; among sets of one size the first, wishes before home before health
/// before limits. Empty where none of up to three is enough.
pub(super) fn smallest(instance: &Instance) -> Vec<Relaxed> {
    let levers = levers_of(instance);
    let mut tried = 0;
    for size in 1..=MOST_AT_ONCE.min(levers.len()) {
        let mut set: Vec<usize> = (0..size).collect();
        loop {
            if tried == MOST_SETS {
                return Vec::new();
            }
            tried += 1;
            let chosen: Vec<Lever> = set.iter().map(|at| levers[*at]).collect();
            let compiled = Compiled::new(instance, &relaxing(&chosen));
            if exists(&compiled, NODES_EACH) == Some(true) {
                return chosen.iter().map(|lever| name(instance, *lever)).collect();
            }
            if !next_set(&mut set, levers.len()) {
                break;
            }
        }
    }
    Vec::new()
}

fn levers_of(instance: &Instance) -> Vec<Lever> {
    let mut levers: Vec<Lever> = (0..instance.pins.len()).map(Lever::Pin).collect();
    levers.extend((0..instance.restrictions.len()).map(Lever::Restriction));
    let applies = |rule: HardRule| match rule {
        HardRule::Pulse => instance.pulse.is_some(),
        HardRule::MeanMets => instance.mean_mets_milli.is_some(),
        HardRule::Postures => instance.hypotensive,
        HardRule::Repeats => instance.repeats == Repeats::Never,
        _ => true,
    };
    levers.extend(
        HardRule::ALL
            .iter()
            .copied()
            .filter(|rule| applies(*rule))
            .map(Lever::Rule),
    );
    levers
}

fn relaxing(levers: &[Lever]) -> Relaxing {
    let mut relaxing = Relaxing::default();
    for lever in levers {
        match lever {
            Lever::Pin(pin) => relaxing.pins.push(*pin),
            Lever::Restriction(bit) => relaxing.restrictions |= 1 << bit,
            Lever::Rule(rule) => relaxing.rules.push(*rule),
        }
    }
    relaxing
}

/// The next set of the same size in order; `false` after the last.
fn next_set(set: &mut [usize], of: usize) -> bool {
    let size = set.len();
    let Some(at) = (0..size).rev().find(|at| set[*at] < of - size + at) else {
        return false;
    };
    set[at] += 1;
    for later in at + 1..size {
        set[later] = set[later - 1] + 1;
    }
    true
}

fn name(instance: &Instance, lever: Lever) -> Relaxed {
    match lever {
        Lever::Pin(pin) => Relaxed {
            id: "composer/pin".to_owned(),
            words: format!("the choice of {}", instance.pins[pin].exercise),
        },
        Lever::Restriction(bit) => Relaxed {
            id: instance.restrictions[bit].id.clone(),
            words: instance.restrictions[bit].words.clone(),
        },
        Lever::Rule(rule) => Relaxed {
            id: format!("composer/{rule}"),
            words: words(rule).to_owned(),
        },
    }
}

pub(super) const fn words(rule: HardRule) -> &'static str {
    match rule {
        HardRule::DoseLeast => "at least the dose of the rung before",
        HardRule::MaxNew => "the number of new exercises at one contact",
        HardRule::Repeats => "no movement twice in a round",
        HardRule::Muscles => "no muscle group twice running",
        HardRule::Arms => "no two neighbouring stations with the arms above the shoulder",
        HardRule::Postures => "slow changes of posture",
        HardRule::DoseMost => "the growth of the dose in a week",
        HardRule::MeanMets => "the limit on the mean METs of a round",
        HardRule::Pulse => "the pulse ceiling, which may not give way: ask the doctor about it",
    }
}
