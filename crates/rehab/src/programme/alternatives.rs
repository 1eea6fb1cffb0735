//! What else a station could be: up to three ways, each of which passes no limit with all other stations as they are.

use super::choices::{Alternative, Choices, Pin};
use super::composer::{Instance, Levels, worth};
use super::eligible::Way;
use super::few_others::{self, Tried};
use super::ground::{Asked, Ground};
use super::ladder::{Rung, climb, swapped};
use super::needs::Merit;
use super::{ExerciseKind, Exercises, Segment, SegmentKind, VariantRef};
use crate::assessed::{Assessed, Decision};
use crate::assessment::Case;
use crate::evidence::{Because, Finding, Named, Rule, Value};
use crate::programme::response::CHANCE_MOST;
use crate::service::Service;

/// How many are offered.
pub(super) const OFFERED: usize = 3;

/// What a station could be instead.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Others {
    /// Up to three ways, best first.
    pub ways: Vec<Alternative>,
    /// Why there are fewer than three, where there are.
    pub why_few: Option<Finding>,
}

/// Up to three other ways of filling one station of a rung, best first, one of each exercise.
///
/// `station` counts from 1 within the round. Every offer holds all hard rules with the other stations unchanged; only
/// the floor of the dose gives way, because a hill may be made lower. Empty where the rung or the station does not
/// exist, or nothing else fits.
pub fn alternatives(
    case: &Case,
    service: &Service,
    exercises: &Exercises,
    assessed: &Assessed,
    choices: &Choices,
    station: u8,
) -> Others {
    if assessed.screening.decision != Decision::Exercise {
        return Others::default();
    }
    let ground = Ground::new(Asked {
        case,
        service,
        exercises,
        assessed,
        choices,
    });
    let (rungs, _) = climb(&ground, choices.stage);
    let slot = usize::from(station).checked_sub(1);
    let found = rungs
        .last()
        .filter(|rung| rung.stage.number == choices.stage)
        .zip(slot)
        .and_then(|(rung, slot)| offers(&ground, rung, slot));
    found.unwrap_or_default()
}

/// An offer before it is told.
struct Offer {
    candidate: usize,
    levels: Levels,
    mets_change: f64,
    station: Segment,
}

fn offers(ground: &Ground<'_>, rung: &Rung, slot: usize) -> Option<Others> {
    let (instance, composed) = (rung.instance.as_ref()?, rung.composed.as_ref()?);
    let now = *composed.chosen.get(slot)?;
    let mut free = instance.clone();
    free.dose.least = 0;
    free.pins.clear();
    let (mut found, mut tried) = (Vec::new(), Vec::new());
    for candidate in 0..free.candidates.len() {
        let (one, now_is) = (&free.candidates[candidate], &free.candidates[now]);
        if one.exercise == now_is.exercise && one.variant == now_is.variant {
            continue;
        }
        match put_in(ground, rung, &free, slot, candidate)? {
            Ok(offer) => found.push(offer),
            Err(failed) => tried.push(failed),
        }
    }
    found.sort_by(|a, b| {
        let ids = |offer: &Offer| &free.candidates[offer.candidate].id;
        b.levels
            .objective()
            .cmp(&a.levels.objective())
            .then_with(|| a.mets_change.abs().total_cmp(&b.mets_change.abs()))
            .then_with(|| ids(a).cmp(ids(b)))
    });
    let chosen = pick(&free.candidates, found);
    let exercise = |offer: &Offer| free.candidates[offer.candidate].exercise.as_str();
    let class = free.slots[slot].class;
    tried.retain(|one| free.candidates[one.candidate].classes.contains(&class));
    let here = free.candidates[now].exercise.as_str();
    let told = chosen.iter().map(exercise).chain([here]).collect();
    let ways = chosen
        .iter()
        .filter_map(|offer| tell(ground, rung, slot, offer));
    Some(Others {
        why_few: few_others::why(ground, &free, class, &told, chosen.len(), &tried),
        ways: ways.collect(),
    })
}

/// One candidate put in with all other stations as they are: what it would be, or what was tried in vain.
fn put_in(
    ground: &Ground<'_>,
    rung: &Rung,
    free: &Instance,
    slot: usize,
    candidate: usize,
) -> Option<Result<Offer, Tried>> {
    let composed = rung.composed.as_ref()?;
    let list: Vec<usize> = free
        .slots
        .iter()
        .enumerate()
        .map(|(at, one)| {
            let here = at == slot || one.same_as == Some(slot);
            if here { candidate } else { composed.chosen[at] }
        })
        .collect();
    let in_vain = |list, too_fast| {
        Some(Err(Tried {
            candidate,
            list,
            too_fast,
        }))
    };
    let Some(levels) = worth(free, &list) else {
        return in_vain(list, false);
    };
    let stage = swapped(ground, rung, &list)?;
    let chance = stage.predicted.ceiling_probability;
    if chance.is_some_and(|chance| chance > CHANCE_MOST) {
        return in_vain(list, true);
    }
    let station = station_of(&stage.segments, slot)?;
    Some(Ok(Offer {
        candidate,
        levels,
        mets_change: station.mets - station_of(&rung.stage.segments, slot)?.mets,
        station: station.clone(),
    }))
}

/// One of each exercise; where none of them makes the hill lower, the best that does takes the last place.
fn pick(candidates: &[super::composer::Candidate], found: Vec<Offer>) -> Vec<Offer> {
    let mut kept: Vec<Offer> = Vec::new();
    let mut lower: Option<Offer> = None;
    for offer in found {
        let exercise = &candidates[offer.candidate].exercise;
        let again = kept
            .iter()
            .any(|one| candidates[one.candidate].exercise == *exercise);
        if kept.len() < OFFERED && !again {
            kept.push(offer);
        } else if offer.mets_change < 0.0 && lower.is_none() {
            lower = Some(offer);
        }
    }
    let has_lower = kept.iter().any(|offer| offer.mets_change < 0.0);
    if let Some(lower) = lower.filter(|_| !has_lower) {
        kept.truncate(OFFERED - 1);
        kept.push(lower);
    }
    kept
}

/// The station of a number in the first round.
fn station_of(segments: &[Segment], slot: usize) -> Option<&Segment> {
    segments
        .iter()
        .filter(|segment| super::ladder::is_station(segment))
        .nth(slot)
}

fn tell(ground: &Ground<'_>, rung: &Rung, slot: usize, offer: &Offer) -> Option<Alternative> {
    let doing = offer.station.doing.clone()?;
    let way = ground.eligible.way(&doing)?;
    let new = !way.learned && !stands_elsewhere(rung, &doing);
    Some(Alternative {
        place: offer.station.place,
        place_name: offer.station.place_name.clone(),
        mets: offer.station.mets,
        mets_change: offer.mets_change,
        predicted_hr: offer.station.predicted_hr,
        new,
        to_watch: offer.station.to_watch,
        because: because(ground, way, offer, new),
        pins: pins(rung, slot, &doing),
        doing,
    })
}

fn stands_elsewhere(rung: &Rung, doing: &VariantRef) -> bool {
    rung.stage
        .segments
        .iter()
        .filter_map(|segment| segment.doing.as_ref())
        .any(|one| one.exercise == doing.exercise)
}

fn because(ground: &Ground<'_>, way: &Way<'_>, offer: &Offer, new: bool) -> Vec<Because> {
    let rule = |id: &str| -> Option<&'static Rule> { super::rules().find(|rule| rule.id.0 == id) };
    let kind = if offer.station.kind == SegmentKind::Cardiovascular {
        ExerciseKind::Cardiovascular
    } else {
        ExerciseKind::ActiveRecovery
    };
    let limits = &ground.asked.assessed.limits;
    let merit = Merit::of(ground.asked.case, limits, way, kind);
    let mut list = Vec::new();
    let change = offer.mets_change;
    let hill = if change.abs() < 0.05 {
        "The hill stays as it is".to_owned()
    } else if change < 0.0 {
        format!("The hill is {:.1} METs lower", -change)
    } else {
        format!("The hill is {change:.1} METs higher and still within every limit")
    };
    let pulse = offer.station.predicted_hr.map_or_else(String::new, |rate| {
        format!("; pulse {rate:.0} expected at its end")
    });
    list.extend(rule("programme/station").map(|rule| {
        rule.because(
            Value::Number(offer.station.mets, "METs"),
            format!("{hill}{pulse}."),
        )
        .with(Named::number("mets_change", change, "METs"))
    }));
    let words = merit.words();
    if !words.is_empty() {
        list.extend(rule("programme/needs-and-likes").map(|rule| {
            let text = format!("{}.", super::ladder::capital(&words.join(", ")));
            rule.because(Value::Whole(i64::from(merit.benefit()), ""), text)
        }));
    }
    let known = if new {
        "It is new to them, so it waits until it was watched."
    } else if offer.station.to_watch {
        "The exercise is known to them; this way of it is to be watched first."
    } else {
        "Nothing new to learn: it was watched done well."
    };
    list.extend(
        rule("composer/hard-rules").map(|rule| rule.because(Value::Flag(!new), known.to_owned())),
    );
    list
}

/// Pins that put the way in and keep every other station.
fn pins(rung: &Rung, slot: usize, doing: &VariantRef) -> Vec<Pin> {
    rung.stage
        .segments
        .iter()
        .filter(|segment| super::ladder::is_station(segment) && segment.round <= 1)
        .enumerate()
        .filter_map(|(at, segment)| {
            let named = if at == slot {
                doing
            } else {
                segment.doing.as_ref()?
            };
            Some(Pin {
                station: u8::try_from(at + 1).ok(),
                exercise: named.exercise.clone(),
                variant: Some(named.variant.clone()),
            })
        })
        .collect()
}
