//! Whether what a session offers may be done by this body in this home, at the cost that the data give.

use super::body::Holds;
use super::library::{Restriction, Way};
use super::record::{Record, Since, has_word};
use super::{Faults, Library, list, number, word};
use serde_json::Value;

/// Half of the last digit that METs are printed with.
const PRINTED: f64 = 0.000_51;

pub(super) fn check(
    library: &Library,
    record: &Record<'_>,
    body: &[Holds],
    limits: &Value,
    stage: &Value,
    faults: &mut Faults,
) {
    for segment in list(stage, "segments") {
        let kind = word(segment, "kind");
        let (exercise, variant) = (word(segment, "exercise"), word(segment, "variant"));
        let between = matches!(kind, "march" | "walk" | "rest");
        if exercise.is_empty() {
            faults.expect(between, "offered/known", || format!("{kind} of nothing"));
            continue;
        }
        let Some(way) = library.way(exercise, variant) else {
            faults.expect(false, "offered/known", || {
                format!("{exercise}/{variant} is not in the data")
            });
            continue;
        };
        let name = || format!("{exercise}/{variant}");
        let serves = between || way.kinds.iter().any(|one| one == kind);
        faults.expect(serves, "offered/known", || {
            format!("{} is no {kind}", name())
        });
        let cost = check_cost(way, segment);
        faults.expect(cost, "offered/cost", || {
            format!("{}: {segment}, by the data {}", name(), way.mets)
        });
        let forbidden = forbidden(record, body, way);
        faults.expect(forbidden.is_none(), "offered/body", || {
            format!("{} in spite of {forbidden:?}", name())
        });
        let healing = record.breastbone().within_weeks(12.0) || record.implant().within_weeks(6.0);
        faults.expect(
            !(healing && way.arms == "above-shoulder"),
            "offered/arms-healing",
            || format!("{} while breastbone or device heals", name()),
        );
        let level = number(&limits["limits"], "balance_max").unwrap_or(0.0);
        faults.expect(way.balance <= level, "offered/balance", || {
            format!("{} asks {} of {level}", name(), way.balance)
        });
        let peak = number(&limits["capacity"], "mets");
        let fit = way
            .least_peak_mets
            .is_none_or(|least| peak.is_some_and(|peak| peak >= least));
        faults.expect(fit, "offered/capacity", || {
            format!("{} for a capacity of {peak:?}", name())
        });
        faults.expect(
            stands_at(record, way, word(segment, "place")),
            "offered/place",
            || format!("{} at '{}'", name(), word(segment, "place")),
        );
        faults.expect(things_there(record, way), "offered/things", || {
            format!("{} needs {:?}", name(), way.props)
        });
    }
}

fn check_cost(way: &Way, segment: &Value) -> bool {
    let is = |key: &str, own: f64| {
        number(segment, key).is_some_and(|printed| (printed - own).abs() <= PRINTED)
    };
    is("mets", way.mets)
        && is("mets_low", way.mets_low)
        && is("mets_high", way.mets_high)
        && is("hr_gain", way.hr_gain)
        && way.per_minute.is_none_or(|rate| is("per_minute", rate))
}

/// The restriction of a way that this body gives reason for, if one excludes it.
fn forbidden<'w>(record: &Record<'_>, body: &[Holds], way: &'w Way) -> Option<&'w str> {
    way.restrictions
        .iter()
        .filter(|one| one.excludes && heavy_enough(record, way, one))
        .find(|one| {
            body.iter().any(|holds| {
                let early = one.weeks.is_none_or(|weeks| match holds.since {
                    Since::Unknown => true,
                    since => since.within_weeks(weeks),
                });
                holds.reason == one.reason && early
            })
        })
        .map(|one| one.reason.as_str())
}

/// A restriction above a weight counts where the lightest pair that suits the way lies above it.
fn heavy_enough(record: &Record<'_>, way: &Way, restriction: &Restriction) -> bool {
    let Some(above) = restriction.above_weight_g else {
        return true;
    };
    let Some(most) = way.weight_g else {
        return false;
    };
    let pieces = weights(record);
    let suited = pieces
        .iter()
        .filter(|grams| **grams <= most && **grams >= most / 2.0);
    suited.copied().fold(f64::INFINITY, f64::min) > above
}

fn weights(record: &Record<'_>) -> Vec<f64> {
    list(&record.case["wishes"], "weights_g")
        .iter()
        .filter_map(Value::as_f64)
        .collect()
}

/// Whether the named place is in this home and has what the way needs. Without a survey there is a chair, with or
/// without arms, and a clear floor.
fn stands_at(record: &Record<'_>, way: &Way, name: &str) -> bool {
    let places = list(&record.case["home"], "place");
    let suits = |kind: &str| way.places.iter().any(|one| one == kind);
    if places.is_empty() {
        return name.is_empty()
            && (suits("chair") || suits("floor"))
            && !way.needs_arms
            && !way.needs_no_arms
            && !way.needs_rail
            && way.step_cm.is_none();
    }
    places
        .iter()
        .filter(|place| word(place, "name") == name)
        .any(|place| {
            let height = number(place, "height_cm");
            suits(word(place, "kind"))
                && (!way.needs_arms || place["arms"].as_bool() == Some(true))
                && (!way.needs_no_arms || place["arms"].as_bool() == Some(false))
                && (!way.needs_rail || place["rail"].as_bool() == Some(true))
                && way
                    .step_cm
                    .is_none_or(|(from, to)| height.is_some_and(|cm| cm >= from && cm <= to))
        })
}

fn things_there(record: &Record<'_>, way: &Way) -> bool {
    let pieces = weights(record);
    let pair = way.weight_g.is_none_or(|most| {
        let suited = pieces.iter().filter(|g| **g <= most && **g >= most / 2.0);
        suited.count() >= 2
    });
    let props = way.props.iter().all(|prop| match prop.as_str() {
        "weights" => !pieces.is_empty(),
        other => has_word(&record.case["home"]["props"], other),
    });
    let walks_with = word(&record.case["function"], "aid") == "stick";
    let stick = !way.needs_stick || walks_with || has_word(&record.case["home"]["props"], "stick");
    pair && props && stick
}
