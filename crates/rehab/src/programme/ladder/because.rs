//! Why a rung is what it is: lever, dose, pulse, stations, proof.

use super::aim::Aim;
use super::before::is_station;
use super::growth::GROWTH;
use super::rules::{ORDER, PROOF, STATION};
use super::{Ground, Rung};
use crate::evidence::{Because, Named, Rule, Value};
use crate::programme::needs::Merit;
use crate::programme::response::{CHANCE_MOST, RULES as RESPONSE};
use crate::programme::{ExerciseKind, Segment, SegmentKind};

/// Every reason of a rung.
pub(super) fn of(ground: &Ground<'_>, rung: &Rung) -> Vec<Because> {
    let stage = &rung.stage;
    let mut list = vec![
        ORDER.because(
            Value::Text(stage.lever.clone()),
            format!("This rung moves one lever: {}.", stage.lever),
        ),
        dose(ground, rung),
    ];
    list.extend(pulse(ground, rung));
    let aim = Aim::of(ground, rung.shape);
    if rung.composed.is_some() {
        list.push(aim.because());
        list.push(proof(rung));
    }
    let mut told: Vec<&Segment> = Vec::new();
    for segment in stage.segments.iter().filter(|segment| is_station(segment)) {
        if segment.round <= 1 {
            told.push(segment);
        }
    }
    list.extend(
        told.iter()
            .enumerate()
            .filter_map(|(at, segment)| station(ground, &aim, at + 1, segment)),
    );
    list
}

fn dose(ground: &Ground<'_>, rung: &Rung) -> Because {
    let stage = &rung.stage;
    let each = stage.met_minutes();
    let week = each * f64::from(stage.sessions_per_week);
    GROWTH
        .because(
            Value::Number(week, "MET-minutes a week"),
            format!(
                "{:.0} MET-minutes a session, {} times a week, counted from the low end of every cost.",
                each, stage.sessions_per_week
            ),
        )
        .working(format!("{each:.1} x {} = {week:.1}", stage.sessions_per_week))
        .with(Named::number("cap_pct", ground.asked.service.growth_cap_pct, "per cent"))
        .unsure("the true dose is higher where the low ends are too low")
        .changes_with("lengths of the session, times a week, the stations")
}

fn pulse(ground: &Ground<'_>, rung: &Rung) -> Vec<Because> {
    let Some(response) = &ground.response else {
        return Vec::new();
    };
    let mut list = response.because();
    let Some(chance) = rung.stage.predicted.ceiling_probability else {
        return list;
    };
    let rule = rule_of(crate::programme::response::CEILING_ID);
    if let (Some(rule), Some(ceiling)) = (rule, rung.ceiling) {
        let what = match ground.asked.assessed.limits.never_passed {
            Some(_) => "highest measured rate",
            None => "ceiling",
        };
        let text = format!(
            "The chance of passing the {what} of {:.0} within a session is {:.1} per cent, at most {:.0}; no mean lies above {:.0}.",
            ceiling.ceiling_bpm,
            chance * 100.0,
            CHANCE_MOST * 100.0,
            libm::floor(ceiling.most_bpm)
        );
        list.push(
            rule.because(Value::Number(chance, ""), text)
                .with(Named::number("ceiling_bpm", ceiling.ceiling_bpm, "bpm"))
                .with(Named::number("sd_bpm", ceiling.sd_bpm, "bpm"))
                .with(Named::number("most_bpm", ceiling.most_bpm, "bpm"))
                .unsure("prior parameters; pulses told do not change them")
                .changes_with("a new exercise test; the device's setting"),
        );
    }
    list
}

fn rule_of(id: crate::evidence::RuleId) -> Option<&'static Rule> {
    RESPONSE.iter().find(|rule| rule.id == id)
}

fn proof(rung: &Rung) -> Because {
    let stage = &rung.stage;
    let text = if stage.proven {
        "No other list that holds every rule comes nearer to the training band (what may not be offered, the hardest station and the ceilings hold it back where it stays below), and of those as near none meets more needs and likes, is more familiar, or changes place and things less often."
    } else {
        "The best list found; the search ended before it could be proven that none is better."
    };
    PROOF
        .because(Value::Whole(stage.objective, ""), text)
        .working(format!(
            "objective {}, bound {}",
            stage.objective, stage.bound
        ))
        .with(Named::whole("objective", stage.objective, ""))
        .with(Named::whole("bound", stage.bound, ""))
}

fn station(ground: &Ground<'_>, aim: &Aim, number: usize, segment: &Segment) -> Option<Because> {
    let way = ground.eligible.way(segment.doing.as_ref()?)?;
    let kind = if segment.kind == SegmentKind::Cardiovascular {
        ExerciseKind::Cardiovascular
    } else {
        ExerciseKind::ActiveRecovery
    };
    let limits = &ground.asked.assessed.limits;
    let merit = Merit::of(ground.asked.case, limits, way, kind);
    let mut why = merit.words();
    if kind == ExerciseKind::Cardiovascular && aim.steps_off(way) == 0 {
        why.insert(0, "its effort is that of the training band");
    }
    if way.watched {
        why.push("it was watched done well");
    } else if way.learned {
        why.push("the exercise is known to them, this way of it is to be watched");
    } else {
        why.push("it is new and to be watched first");
    }
    let at = if segment.place_name.is_empty() {
        String::new()
    } else {
        format!(" at {}", segment.place_name)
    };
    let text = format!(
        "Station {number}: {}, {}{at}: {}.",
        way.exercise.id,
        way.variant.id,
        why.join(", ")
    );
    let mut because = STATION
        .because(Value::Number(segment.mets, "METs"), text)
        .with(Named::number(
            "mets_station_high",
            limits.mets_station_high.to_mets(),
            "METs",
        ))
        .unsure(format!(
            "{:.1} to {:.1} METs",
            segment.mets_low, segment.mets_high
        ))
        .changes_with("a pin or a ban, a wish, what is watched");
    because
        .inputs
        .push(Named::text("exercise", way.exercise.id.clone()));
    because
        .inputs
        .push(Named::text("variant", way.variant.id.clone()));
    Some(because)
}
