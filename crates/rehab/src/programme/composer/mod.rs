//! The composer: the best list of stations under hard rules, with proof.
//!
//! One function, [`compose`], over plain data. Inside: branch and bound. Levels of the objective are taken one after
//! the other, each held while the next is bettered. The bound is the best path through a relaxed problem that keeps
//! the rules between neighbours and prices all others; it is in whole numbers, so a list that meets it is proven best.

mod compiled;
mod evaluate;
mod instance;
mod look;
mod multipliers;
mod outcome;
mod picking;
mod pulse;
mod relax;
mod relaxed;
mod rest;
mod search;

#[cfg(test)]
mod tests;

pub(crate) use instance::MOST_OFF_BAND;
pub use instance::{
    Candidate, Class, DoseRange, HardRule, Instance, LEVEL_WORTH, NamedRestriction, PulseRule,
    Repeats, Slot, SlotPin,
};
pub use outcome::{Composed, Infeasible, Levels, Relaxed};

use compiled::{Compiled, Relaxing};
use instance::LEVELS;
use search::{Found, MOST_OF_LEVELS, search};

/// The best list of an instance.
///
/// The same on every machine: budgets are counted in nodes, and the order of the candidates changes nothing.
///
/// # Errors
/// [`Infeasible`] where no list holds every rule, with the smallest set of restrictions that would have to give way;
/// an instance that [`Instance::problems`] objects to is infeasible with nothing to relax.
///
/// ```
/// use rehab::programme::Posture;
/// use rehab::programme::composer::*;
///
/// let way = |id: &str, class, off_band, muscles| Candidate {
///     id: id.to_owned(),
///     exercise: id.to_owned(),
///     variant: "free".to_owned(),
///     alike: id.to_owned(),
///     classes: vec![class],
///     off_band,
///     benefit: 4,
///     variety: 1,
///     mets_milli: 2_500,
///     mets_low_milli: 2_200,
///     hr_gain_milli: 1_000,
///     muscles,
///     place: 0,
///     posture: Posture::Standing,
///     arms_above: false,
///     props: 0,
///     new: false,
///     novelty: 0,
///     refused_by: 0,
/// };
/// let slot = |class| Slot {
///     class,
///     duration_ms: 60_000,
///     round: 1,
///     before_ms: 15_000,
///     before_mets_milli: 2_300,
///     same_as: None,
/// };
/// let (brisk, easy) = (Class::Cardiovascular, Class::ActiveRecovery);
/// let instance = Instance {
///     slots: vec![slot(brisk), slot(easy)],
///     candidates: vec![
///         way("march", brisk, 0, 0b01),
///         way("slow-walk", brisk, 3, 0b01),
///         way("calf-raise", easy, 0, 0b01),
///         way("arm-curl", easy, 0, 0b10),
///     ],
///     restrictions: Vec::new(),
///     pulse: None,
///     mean_mets_milli: None,
///     dose: DoseRange { least: 0, most: i64::MAX / 4 },
///     hypotensive: false,
///     max_new: 4,
///     repeats: Repeats::Never,
///     pins: Vec::new(),
///     node_budget: 1_000,
/// };
/// let best = compose(&instance).unwrap();
/// // The march lies in the band; after it the legs rest.
/// assert_eq!(best.chosen, [0, 3]);
/// assert!(best.proven && best.bound == best.objective);
/// ```
pub fn compose(instance: &Instance) -> Result<Composed, Infeasible> {
    if !instance.problems().is_empty() {
        return Err(Infeasible {
            relax: Vec::new(),
            proven: false,
            nodes: 0,
        });
    }
    attempt(instance).map_err(|mut none| {
        if none.proven {
            none.relax = relax::smallest(instance);
        }
        none
    })
}

/// The best list without asking, where there is none, what would have to give way.
pub(crate) fn solve(instance: &Instance) -> Option<Composed> {
    if instance.problems().is_empty() {
        attempt(instance).ok()
    } else {
        None
    }
}

/// What would have to give way for a list to exist.
pub(crate) fn explain(instance: &Instance) -> Vec<Relaxed> {
    relax::smallest(instance)
}

fn attempt(instance: &Instance) -> Result<Composed, Infeasible> {
    let compiled = Compiled::new(instance, &Relaxing::default());
    let found = search_any(&compiled, instance.node_budget);
    match &found.best {
        Some((list, levels)) => Ok(composed(&compiled, &found, list, *levels)),
        None => Err(Infeasible {
            relax: Vec::new(),
            proven: found.complete,
            nodes: found.nodes,
        }),
    }
}

/// Sessions whose stations are all different are searched as sets; those with repeats station by station.
fn search_any(compiled: &Compiled<'_>, budget: u64) -> Found {
    if picking::suits(compiled) {
        picking::search(compiled, budget)
    } else {
        search(compiled, budget)
    }
}

/// Whether any list exists, within a budget of nodes; `None` where the budget ended first.
fn exists(compiled: &Compiled<'_>, budget: u64) -> Option<bool> {
    if picking::suits(compiled) {
        picking::exists(compiled, budget)
    } else {
        search::exists(compiled, budget)
    }
}

/// What a list is worth, level by level; `None` where it breaks a rule of the instance.
///
/// `chosen` names a candidate for every slot, as in [`Composed`].
pub fn worth(instance: &Instance, chosen: &[usize]) -> Option<Levels> {
    if !instance.problems().is_empty() || chosen.len() != instance.slots.len() {
        return None;
    }
    worth_of(&Compiled::new(instance, &Relaxing::default()), chosen)
}

/// For each list the rules that stand in its way by themselves: without any one of them it would hold. Empty for a list
/// that holds, or that breaks several at once.
pub(crate) fn standing_in_the_way(instance: &Instance, lists: &[Vec<usize>]) -> Vec<Vec<HardRule>> {
    let mut found = vec![Vec::new(); lists.len()];
    for rule in HardRule::ALL {
        let relaxing = Relaxing {
            rules: vec![*rule],
            ..Relaxing::default()
        };
        let compiled = Compiled::new(instance, &relaxing);
        for (list, rules) in lists.iter().zip(&mut found) {
            if worth_of(&compiled, list).is_some() {
                rules.push(*rule);
            }
        }
    }
    found
}

/// A hard rule in words.
pub(crate) const fn in_words(rule: HardRule) -> &'static str {
    match rule {
        HardRule::Pulse => "the pulse ceiling",
        other => relax::words(other),
    }
}

fn worth_of(compiled: &Compiled<'_>, chosen: &[usize]) -> Option<Levels> {
    let mut list: Vec<Option<u16>> = vec![None; compiled.chosen.len()];
    for (slot, source) in compiled.sequence.iter().zip(chosen) {
        let filler = compiled
            .fillers
            .iter()
            .position(|one| one.source == *source)?;
        let filler = u16::try_from(filler).ok()?;
        if list[*slot].is_some_and(|known| known != filler) {
            return None;
        }
        list[*slot] = Some(filler);
    }
    let list: Option<Vec<u16>> = list.into_iter().collect();
    evaluate::evaluate(compiled, &list?).map(Levels::of)
}

fn composed(
    compiled: &Compiled<'_>,
    found: &Found,
    list: &[u16],
    levels: [i64; LEVELS],
) -> Composed {
    let source = |chosen: &usize| compiled.fillers[usize::from(list[*chosen])].source;
    let levels = Levels::of(levels);
    let objective = levels.objective();
    let bound = bound_of(found, objective);
    Composed {
        chosen: compiled.sequence.iter().map(source).collect(),
        objective,
        levels,
        bound,
        proven: bound == objective,
        nodes: found.nodes,
    }
}

/// The bound of a search: the objective when it came to its end, else the most of the level it ended in with all that
/// lower levels could add.
fn bound_of(found: &Found, objective: i64) -> i64 {
    let Some((_, levels)) = found.best.as_ref().filter(|_| !found.complete) else {
        return objective;
    };
    let open = (0..LEVELS)
        .find(|level| found.most[*level] > levels[*level])
        .unwrap_or(LEVELS - 1);
    let mut bound = 0;
    for (most, worth) in found.most.iter().zip(LEVEL_WORTH).take(open + 1) {
        bound += most * worth;
    }
    for (most, worth) in MOST_OF_LEVELS.iter().zip(LEVEL_WORTH).skip(open + 1) {
        bound += most * worth;
    }
    bound
}
