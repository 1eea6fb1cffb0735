//! The composer's problem of one rung.

use super::aim::Aim;
use super::shape::{HARDNESS_PCT, Shape};
use super::{Before, Tries};
use crate::programme::ceiling::HardCeiling;
use crate::programme::composer::{
    Candidate, Class, DoseRange, Instance, NamedRestriction, PulseRule, Repeats, Slot, SlotPin,
};
use crate::programme::eligible::{Refused, Way};
use crate::programme::ground::Ground;
use crate::programme::needs::Merit;
use crate::programme::response::{drift, predict};
use crate::programme::{ArmHeight, ExerciseKind, MuscleGroup, Segment};

/// Nodes of the search for one rung; past it the best found is taken unproven.
const NODE_BUDGET: u64 = 60_000;
/// The same where movements may come again: such a node takes ten times as long, and more of them hardly ever prove more.
const NODE_BUDGET_WITH_REPEATS: u64 = 4_000;

/// What else the instance of a rung depends on.
pub(super) struct Given<'g> {
    pub(super) shape: Shape,
    pub(super) number: u16,
    pub(super) before: &'g Before,
    pub(super) warm_up: &'g [Segment],
    pub(super) ceiling: Option<&'g HardCeiling>,
    /// Range of the dose of the stations.
    pub(super) dose: DoseRange,
    pub(super) tries: Tries,
}

/// The instance with what may be used.
pub(super) fn instance(ground: &Ground<'_>, given: &Given<'_>) -> Instance {
    let candidates = ground
        .eligible
        .ways
        .iter()
        .filter(|way| !classes(way).is_empty())
        .flat_map(|way| candidates_of(ground, given, way, 0))
        .collect();
    Instance {
        slots: slots(ground, given.shape),
        candidates,
        restrictions: Vec::new(),
        pulse: pulse_rule(ground, given),
        mean_mets_milli: Some(mean_most(ground, given)),
        dose: given.dose,
        hypotensive: ground.asked.assessed.limits.hypotensive,
        max_new: given.before.most_new,
        repeats: if given.tries.repeats {
            Repeats::AfterTwoOthers
        } else {
            Repeats::Never
        },
        pins: pins(ground, given.shape, given.number),
        node_budget: if given.tries.repeats {
            NODE_BUDGET_WITH_REPEATS
        } else {
            NODE_BUDGET
        },
    }
}

/// The same instance with what is refused as well, so that it can be said what would have to give way.
pub(super) fn with_refused(ground: &Ground<'_>, given: &Given<'_>) -> Instance {
    let mut whole = instance(ground, given);
    let mut names: Vec<(String, String)> = Vec::new();
    for refused in &ground.eligible.refused {
        let Some(bits) = bits_of(refused, &mut names) else {
            continue;
        };
        let way = elsewhere(&refused.way);
        whole
            .candidates
            .extend(candidates_of(ground, given, &way, bits));
    }
    whole.restrictions = names
        .into_iter()
        .map(|(id, words)| NamedRestriction { id, words })
        .collect();
    whole
}

/// A refused way that has no place here is thought of at the first stop.
fn elsewhere<'a>(way: &Way<'a>) -> Way<'a> {
    let mut way = way.clone();
    if way.stops.is_empty() {
        way.stops.push(0);
    }
    way
}

/// Bits of the restrictions that refuse a way; new ones are named. `None` beyond what can be told apart.
fn bits_of(refused: &Refused<'_>, names: &mut Vec<(String, String)>) -> Option<u64> {
    /// Most restrictions told apart.
    const MOST: usize = 24;
    let mut bits = 0;
    for why in &refused.why {
        let name = (why.rule.0.to_owned(), why.words());
        let at = match names.iter().position(|known| *known == name) {
            Some(at) => at,
            None if names.len() < MOST => {
                names.push(name);
                names.len() - 1
            }
            None => return None,
        };
        bits |= 1 << at;
    }
    Some(bits)
}

/// Stations of a shape in the order of the session; the second round repeats the first.
pub(super) fn slots(ground: &Ground<'_>, shape: Shape) -> Vec<Slot> {
    let before_ms = ground.change_over.seconds.saturating_mul(1000);
    let before_mets_milli = milli_up(ground.change_over.mets);
    let slot = |index: usize, round: u8, same_as: Option<usize>| {
        let brisk = index.is_multiple_of(2);
        let seconds = if brisk { shape.brisk_s } else { shape.easy_s };
        Slot {
            class: if brisk {
                Class::Cardiovascular
            } else {
                Class::ActiveRecovery
            },
            duration_ms: seconds.saturating_mul(1000),
            round,
            before_ms,
            before_mets_milli,
            same_as,
        }
    };
    let first = (0..2 * usize::from(shape.pairs)).map(|index| slot(index, 1, None));
    let second = (0..2 * usize::from(shape.again)).map(|index| slot(index, 2, Some(index)));
    first.chain(second).collect()
}

/// The pins of a rung. Rungs below the present one are past: pins do not change them.
pub(super) fn pins(ground: &Ground<'_>, shape: Shape, number: u16) -> Vec<SlotPin> {
    let stations = 2 * usize::from(shape.pairs);
    if number < ground.asked.choices.stage {
        return Vec::new();
    }
    ground
        .asked
        .choices
        .pins
        .iter()
        .filter_map(|pin| {
            let slot = match pin.station {
                None => None,
                // A pin of a station that this rung does not have waits for one that does.
                Some(station) => Some(
                    usize::from(station)
                        .checked_sub(1)
                        .filter(|slot| *slot < stations)?,
                ),
            };
            Some(SlotPin {
                slot,
                exercise: pin.exercise.clone(),
                variant: pin.variant.clone(),
            })
        })
        .collect()
}

/// Most for the mean of a round: a share of the room that grows with the steps of hardness.
fn mean_most(ground: &Ground<'_>, given: &Given<'_>) -> i64 {
    let high = ground.asked.assessed.limits.mets.high.to_mets();
    let percent = if given.tries.full_effort {
        100
    } else {
        HARDNESS_PCT[given.shape.hard]
    };
    let most = 1.0 + (high - 1.0) * f64::from(percent) / 100.0;
    libm::floor(most * 1000.0 + 1e-6) as i64
}

fn pulse_rule(ground: &Ground<'_>, given: &Given<'_>) -> Option<PulseRule> {
    let (response, ceiling) = (ground.response.as_ref()?, given.ceiling?);
    let work = crate::programme::ground::work_of(given.warm_up);
    let end = predict(response, &work).last().copied();
    let at_s = end.map_or(0.0, |moment| moment.at_s);
    let mean = end.map_or(response.level_bpm, |moment| moment.mean_bpm);
    Some(PulseRule {
        level_bpm: response.level_bpm,
        slope: response.slope,
        tau_s: response.tau_s,
        start_bpm: mean - drift(at_s, response.drift_per_minute, response.drift_begins_s),
        start_ms: given
            .warm_up
            .iter()
            .map(|segment| u64::from(segment.duration_ms))
            .sum(),
        drift_per_minute: response.drift_per_minute,
        drift_begins_s: response.drift_begins_s,
        most_bpm: ceiling.most_bpm,
    })
}

/// Classes of station that a way can serve.
fn classes(way: &Way<'_>) -> Vec<Class> {
    let serves = |kind, class| way.exercise.is(kind).then_some(class);
    [
        serves(ExerciseKind::Cardiovascular, Class::Cardiovascular),
        serves(ExerciseKind::ActiveRecovery, Class::ActiveRecovery),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// A way at every stop that differs in kind from the stops before it.
fn candidates_of(
    ground: &Ground<'_>,
    given: &Given<'_>,
    way: &Way<'_>,
    refused_by: u64,
) -> Vec<Candidate> {
    let classes = classes(way);
    let Some(kind) = classes.first().map(|class| kind_of(*class)) else {
        return Vec::new();
    };
    let merit = Merit::of(ground.asked.case, &ground.asked.assessed.limits, way, kind);
    let aim = Aim::of(ground, given.shape);
    let (novelty, new) = given.before.novelty(way);
    let mut kinds = Vec::new();
    let mut list = Vec::new();
    for stop in &way.stops {
        let kind = ground.stops[*stop].kind;
        let Ok(place) = u8::try_from(*stop) else {
            break;
        };
        if kinds.contains(&kind) {
            continue;
        }
        kinds.push(kind);
        list.push(Candidate {
            id: format!("{}/{}@{place}", way.exercise.id, way.variant.id),
            exercise: way.exercise.id.clone(),
            variant: way.variant.id.clone(),
            alike: way.exercise.alike.clone(),
            classes: classes.clone(),
            off_band: aim.steps_off(way),
            benefit: merit.benefit(),
            variety: u32::from(!given.before.warms_up_with(way)),
            mets_milli: milli_up(way.mets),
            mets_low_milli: libm::round(way.mets_low * 1000.0) as i64,
            hr_gain_milli: milli_up(way.exercise.hr_gain),
            muscles: muscles(way),
            place,
            posture: way.variant.posture,
            arms_above: way.variant.arms == ArmHeight::AboveShoulder,
            props: props(way),
            new,
            novelty,
            refused_by,
        });
    }
    list
}

const fn kind_of(class: Class) -> ExerciseKind {
    match class {
        Class::Cardiovascular => ExerciseKind::Cardiovascular,
        Class::ActiveRecovery => ExerciseKind::ActiveRecovery,
    }
}

/// Thousandths, rounded up so that no limit is met by rounding.
fn milli_up(value: f64) -> i64 {
    libm::ceil(value * 1000.0 - 1e-6) as i64
}

/// Main muscle groups as bits. Work of the whole body is not a group: it would forbid everything after it.
fn muscles(way: &Way<'_>) -> u32 {
    way.exercise
        .muscles
        .iter()
        .filter(|group| **group != MuscleGroup::WholeBody)
        .map(|group| 1 << (*group as u32))
        .fold(0, |bits, bit| bits | bit)
}

fn props(way: &Way<'_>) -> u32 {
    way.variant
        .props
        .iter()
        .map(|prop| 1 << (*prop as u32))
        .fold(0, |bits, bit| bits | bit)
}
