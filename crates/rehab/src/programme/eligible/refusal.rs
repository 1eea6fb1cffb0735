//! The reasons for which a variant is refused.

use super::rules::{RULES, rule_id};
use super::way::{can_stand_at, could_but_for_arms, has_prop, has_stick};
use super::{Ask, Watching, Way};
use crate::adaptations::must_ease;
use crate::assessment::{PlaceKind, Prop};
use crate::evidence::RuleId;
use crate::programme::places::Stop;
use crate::programme::{Exercise, Restriction, RestrictionEffect, RestrictionReason, Variant};

/// What refuses a variant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RefusedBy {
    /// The practitioner's own ban.
    Ban,
    /// Watched, and found not to be for this person.
    NotForThem,
    /// A joint hurt in it: the hardest variant goes.
    JointEased,
    /// Another variant of the same exercise stands without the restriction.
    AdaptSecond,
    /// A thing that is not at hand.
    Prop(Prop),
    /// No weights that suit.
    Weights,
    /// No walking stick.
    Stick,
    /// A kind of place that this home does not have; the first that would do.
    Place(PlaceKind),
    /// The place is there, but not its rail, arms or height.
    PlaceLacks(PlaceKind),
    /// A chair is there, but none that is known to be without arms.
    ArmsOfChair,
    /// A restriction by body or operation.
    Restriction(RestrictionReason),
    /// It asks for more balance than suits.
    Balance,
    /// Not for so low a capacity, or for one that is not known.
    Capacity,
    /// It costs more than one station may.
    Mets,
}

/// One reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// What refuses.
    pub by: RefusedBy,
    /// The rule.
    pub rule: RuleId,
}

impl Refusal {
    pub(super) fn of(by: RefusedBy) -> Self {
        Self {
            by,
            rule: rule_id(by),
        }
    }

    /// The reason in words.
    pub fn words(&self) -> String {
        match self.by {
            RefusedBy::Ban => "the ban".to_owned(),
            RefusedBy::NotForThem => "watched and found not to be for them".to_owned(),
            RefusedBy::JointEased => "a joint hurt in it, so it is eased".to_owned(),
            RefusedBy::AdaptSecond => "another variant needs no care".to_owned(),
            RefusedBy::Prop(prop) => format!("no {prop} at hand"),
            RefusedBy::Weights => "no suitable weights at hand".to_owned(),
            RefusedBy::Stick => "no walking stick, or that is not known".to_owned(),
            RefusedBy::Place(kind) => format!("no {kind} in the home"),
            RefusedBy::PlaceLacks(kind) => {
                format!(
                    "the {kind} lacks what it needs (rail, arms or height), or that is not known"
                )
            }
            RefusedBy::ArmsOfChair => {
                "no chair known to be without arms, and its side must be free".to_owned()
            }
            RefusedBy::Restriction(reason) => format!("the restriction for {reason}"),
            RefusedBy::Balance => "the limit on balance".to_owned(),
            RefusedBy::Capacity => "the capacity it asks for".to_owned(),
            RefusedBy::Mets => "the limit on METs of a station".to_owned(),
        }
    }

    /// The rule as it stands in the table.
    pub fn statement(&self) -> &'static str {
        RULES
            .iter()
            .find(|rule| rule.id == self.rule)
            .map_or("", |rule| rule.statement)
    }
}

/// Slack on a comparison of METs, so that a value made by multiplication meets its own limit.
const METS_SLACK: f64 = 1e-9;

/// Every reason that refuses a way; empty where it is open.
pub(super) fn refusals(ask: &Ask<'_, '_>, watching: &Watching<'_>, way: &Way<'_>) -> Vec<Refusal> {
    let (exercise, variant) = (way.exercise, way.variant);
    let mut why: Vec<RefusedBy> = Vec::new();
    if ask.choices.bans(&exercise.id, &variant.id) {
        why.push(RefusedBy::Ban);
    }
    if watching.not_for_them(&exercise.id, &variant.id) {
        why.push(RefusedBy::NotForThem);
    }
    why.extend(props_missing(ask, way));
    why.extend(place_missing(ask, way));
    why.extend(
        holding(ask, variant, way.weight_g)
            .into_iter()
            .filter(|one| one.effect == RestrictionEffect::Exclude)
            .map(|one| RefusedBy::Restriction(one.reason)),
    );
    let limits = &ask.assessed.limits;
    if variant.balance > limits.balance_max {
        why.push(RefusedBy::Balance);
    }
    let peak = ask
        .assessed
        .capacity
        .used
        .as_ref()
        .map(|used| used.mets.to_mets());
    if exercise
        .least_peak_mets
        .is_some_and(|least| peak.is_none_or(|peak| peak < least))
    {
        why.push(RefusedBy::Capacity);
    }
    // Only where capacity is estimated: then what was seen counts for more than the table.
    let seen = !limits.band_binds_station && watching.within_effort(&exercise.id, &variant.id);
    if way.mets > limits.mets_station_high.to_mets() + METS_SLACK && !seen {
        why.push(RefusedBy::Mets);
    }
    why.dedup();
    why.into_iter().map(Refusal::of).collect()
}

/// Restrictions of a variant that hold for this person.
pub(super) fn holding(
    ask: &Ask<'_, '_>,
    variant: &Variant,
    weight_g: Option<f64>,
) -> Vec<Restriction> {
    let adaptations = &ask.assessed.limits.adaptations;
    variant
        .restrictions
        .iter()
        .filter(|restriction| {
            let heavy = restriction
                .above_weight_g
                .is_none_or(|above| weight_g.is_some_and(|weight| weight > above));
            heavy
                && adaptations.iter().any(|one| {
                    let lasts = one.until.is_none_or(|until| ask.assessed.on <= until);
                    // Weeks that are not known count as too few.
                    let early = restriction
                        .weeks
                        .is_none_or(|weeks| one.weeks_since.is_none_or(|since| since < weeks));
                    one.reason == restriction.reason && lasts && early
                })
        })
        .copied()
        .collect()
}

fn props_missing(ask: &Ask<'_, '_>, way: &Way<'_>) -> Vec<RefusedBy> {
    let variant = way.variant;
    let pieces = ask.known.case.wishes.weights_g.len();
    let mut missing: Vec<RefusedBy> = variant
        .props
        .iter()
        .filter(|prop| match prop {
            Prop::Weights => false,
            other => !has_prop(ask, **other),
        })
        .map(|prop| RefusedBy::Prop(*prop))
        .collect();
    let any_weight = variant.props.contains(&Prop::Weights) && pieces == 0;
    if any_weight || (variant.weight_g.is_some() && way.weight_g.is_none()) {
        missing.push(RefusedBy::Weights);
    }
    if variant.needs_stick && !has_stick(ask) {
        missing.push(RefusedBy::Stick);
    }
    missing
}

fn place_missing(ask: &Ask<'_, '_>, way: &Way<'_>) -> Option<RefusedBy> {
    let variant = way.variant;
    if ask.stops.iter().any(|stop| can_stand_at(variant, stop)) {
        return None;
    }
    let but_for_arms = |stop: &Stop| could_but_for_arms(variant, stop);
    if ask.stops.iter().any(but_for_arms) {
        return Some(RefusedBy::ArmsOfChair);
    }
    let there = ask
        .stops
        .iter()
        .find(|stop| variant.places.contains(&stop.kind));
    match there {
        Some(stop) => Some(RefusedBy::PlaceLacks(stop.kind)),
        None => variant.places.first().map(|kind| RefusedBy::Place(*kind)),
    }
}

/// The weight in a hand that suits a variant: of the heaviest pair of pieces not above its weight, if both are at least
/// half of it. The heavier of the two counts, because limits on a load hold for either hand.
pub(super) fn at_hand(variant: &Variant, pieces_g: &[f64]) -> Option<f64> {
    let most = variant.weight_g?;
    let mut light: Vec<f64> = pieces_g
        .iter()
        .copied()
        .filter(|piece| *piece <= most)
        .collect();
    light.sort_by(|a, b| b.total_cmp(a));
    let (first, second) = (light.first()?, light.get(1)?);
    (*second >= most / 2.0).then_some(*first)
}

/// Whether a joint hurt too much in this exercise, as last asked.
pub(super) fn joint_hurts(ask: &Ask<'_, '_>, exercise: &Exercise) -> bool {
    ask.known
        .case
        .pains
        .iter()
        .filter(|pain| pain.exercise.as_deref() == Some(exercise.id.as_str()))
        .filter(|pain| pain.date.is_none_or(|date| date <= ask.known.on))
        .max_by_key(|pain| pain.date)
        .is_some_and(|pain| must_ease(pain.during, pain.settled_2h, pain.worse_next_morning))
}
