//! Observations: vital signs, laboratory values, function; and what we wrote ourselves.

use super::bundle::Resource;
use super::codes_observation::{Meaning, Slot, functional_class, meaning};
use super::concept::{Concept, short};
use super::gather::{Gather, Parts, Source, Why};
use super::own_observation;
use super::units::{Target, contradiction, convert};
use crate::shape::ClosedWord;
use crate::tree::Node;
use jiff::civil::Date;
use rehab::assessment::{Pressure, Rhythm, Test, TestResult};
use rehab::quantity::check_bounds;

pub(super) fn take(resource: &Resource<'_>, gather: &mut Gather) {
    let concept = Concept::at(resource, "code");
    match resource.text("status").unwrap_or("unknown") {
        "final" | "amended" | "corrected" | "preliminary" => {}
        "entered-in-error" => {
            return gather.list(
                resource,
                Why::LeftOut,
                format!("{} was entered in error", concept.shown()),
            );
        }
        other => {
            let message = format!(
                "{}: its status is '{}', no result yet",
                concept.shown(),
                short(other)
            );
            return gather.list(resource, Why::LeftOut, message);
        }
    }
    if own_observation::take(resource, &concept, gather) {
        return;
    }
    let Some(meaning) = meaning(&concept) else {
        let message = format!(
            "{} has no code that is known; add it by hand if it matters",
            concept.shown()
        );
        return gather.list(resource, Why::NotRead, message);
    };
    let Ok(day) = day_of(resource, gather) else {
        return;
    };
    match meaning {
        Meaning::Number(slot) => {
            if let Some(value) = quantity(resource, resource.node("valueQuantity"), slot, gather) {
                number(resource, slot, value, day, gather);
            }
        }
        Meaning::Pressure { standing } => panel(resource, standing, day, gather),
        Meaning::FunctionalClass => class(resource, day, gather),
        Meaning::Rhythm => rhythm(resource, gather),
        Meaning::SixMinuteWalk => walk(resource, day, gather),
        Meaning::Sum(kind) => {
            let message = format!(
                "only the sum of the {kind} is given; a case holds the single answers, ask for them"
            );
            gather.list(resource, Why::ToAsk, message);
        }
    }
}

/// The day of a reading: `Ok(None)` when none is said, `Err` when one is said that cannot be (which is listed).
fn day_of(resource: &Resource<'_>, gather: &mut Gather) -> Result<Option<Date>, ()> {
    let paths = [
        "effectiveDateTime",
        "effectiveInstant",
        "effectivePeriod.start",
    ];
    let said = paths.iter().any(|path| resource.text(path).is_some());
    let day = gather.day(resource, &paths);
    if said && day.is_none() {
        Err(())
    } else {
        Ok(day)
    }
}

/// The number of a quantity in our unit and within its bounds; what is not is listed.
fn quantity(
    resource: &Resource<'_>,
    node: Option<&Node>,
    slot: Slot,
    gather: &mut Gather,
) -> Option<f64> {
    let what = slot.bound();
    let Some((node, value)) = node.and_then(|node| Some((node, node.number("value")?))) else {
        let message = format!("no number is given for {what}; ask for it");
        gather.list(resource, Why::NotRead, message);
        return None;
    };
    if let Some(comparator) = node.text("comparator") {
        let message = format!(
            "{what} is given only as '{} {value}'; ask for the number",
            short(comparator)
        );
        gather.list(resource, Why::ToAsk, message);
        return None;
    }
    if let Some(message) = contradiction(node, slot.target()) {
        gather.list(resource, Why::ToAsk, format!("{what}: {message}"));
        return None;
    }
    let unit = node
        .text("code")
        .or_else(|| node.text("unit"))
        .unwrap_or("");
    let converted = convert(value, unit, slot.target());
    // Pulse and per cent are written without a unit often enough, and can be nothing else.
    let plain = unit.is_empty() && matches!(slot.target(), Target::PerMinute | Target::PerCent);
    let Some(value) = converted.or(plain.then_some(value)) else {
        let message = format!(
            "the unit '{}' of {value} is not known for {what}; convert it by hand",
            short(unit)
        );
        gather.list(resource, Why::NotRead, message);
        return None;
    };
    match check_bounds(what, value) {
        Ok(value) => Some(value),
        Err(error) => {
            gather.list(resource, Why::LeftOut, error.message);
            None
        }
    }
}

fn instant<'t>(resource: &Resource<'t>) -> &'t str {
    [
        "effectiveDateTime",
        "effectiveInstant",
        "effectivePeriod.start",
    ]
    .iter()
    .find_map(|path| resource.text(path))
    .unwrap_or("")
}

fn number(resource: &Resource<'_>, slot: Slot, value: f64, day: Option<Date>, gather: &mut Gather) {
    let whole_course = matches!(
        slot,
        Slot::Height | Slot::EjectionFraction | Slot::Haemoglobin
    );
    let undated_weight = slot == Slot::Weight && day.is_none();
    let key = if whole_course || undated_weight {
        None
    } else {
        day
    };
    if key.is_none() && !whole_course && !undated_weight {
        let message = format!(
            "{} {value} has no day; ask when it was measured",
            slot.bound()
        );
        return gather.list(resource, Why::ToAsk, message);
    }
    if let (Slot::Systolic { standing } | Slot::Diastolic { standing }, Some(day)) = (slot, day) {
        let systolic = matches!(slot, Slot::Systolic { .. });
        return part(resource, systolic, standing, day, value, gather);
    }
    if !gather.keep(Source::of(resource), key, slot.bound(), instant(resource)) {
        return;
    }
    match (slot, day) {
        (Slot::Height, _) => gather.case.person.height_cm = Some(value),
        (Slot::EjectionFraction, _) => gather.case.heart.ejection_fraction_pct = Some(value),
        (Slot::Haemoglobin, _) => gather.case.heart.haemoglobin_g_dl = Some(value),
        (Slot::Weight, None) => gather.case.person.weight_kg = Some(value),
        (_, Some(day)) => {
            let examination = gather.examination(day);
            match slot {
                Slot::Weight => examination.weight_kg = Some(value),
                Slot::RestingRate => examination.resting_hr_bpm = Some(value),
                Slot::Saturation => examination.spo2_pct = Some(value),
                Slot::Temperature => examination.temperature_c = Some(value),
                Slot::Glucose => examination.glucose_mmol_l = Some(value),
                Slot::Ketones => examination.ketones_mmol_l = Some(value),
                _ => {}
            }
        }
        (_, None) => {}
    }
}

fn part(
    resource: &Resource<'_>,
    systolic: bool,
    standing: bool,
    day: Date,
    value: f64,
    gather: &mut Gather,
) {
    let parts = gather
        .pressures
        .entry((day, standing, instant(resource).to_owned()))
        .or_insert_with(|| Parts {
            systolic_mmhg: None,
            diastolic_mmhg: None,
            source: Source::of(resource),
        });
    if systolic {
        parts.systolic_mmhg = Some(value);
    } else {
        parts.diastolic_mmhg = Some(value);
    }
}

fn panel(resource: &Resource<'_>, standing: bool, day: Option<Date>, gather: &mut Gather) {
    let Some(day) = day else {
        return gather.list(
            resource,
            Why::ToAsk,
            "a pressure without a day; ask when it was measured",
        );
    };
    for component in resource.all("component") {
        let concept = component.find("code").map(Concept::of);
        let slot = match concept.as_ref().and_then(meaning) {
            Some(Meaning::Number(slot @ (Slot::Systolic { .. } | Slot::Diastolic { .. }))) => slot,
            _ => {
                let shown = concept.map_or_else(
                    || "a part without code".to_owned(),
                    |concept| concept.shown(),
                );
                gather.list(
                    resource,
                    Why::NotRead,
                    format!("{shown} is no part of a pressure that is known"),
                );
                continue;
            }
        };
        if let Some(value) = quantity(resource, component.find("valueQuantity"), slot, gather) {
            part(
                resource,
                matches!(slot, Slot::Systolic { .. }),
                standing,
                day,
                value,
                gather,
            );
        }
    }
}

/// Puts the parts of pressures together, once all are known.
pub(super) fn place_pressures(gather: &mut Gather) {
    for ((day, standing, instant), parts) in core::mem::take(&mut gather.pressures) {
        let (Some(systolic_mmhg), Some(diastolic_mmhg)) =
            (parts.systolic_mmhg, parts.diastolic_mmhg)
        else {
            let message = "only one number of the pressure is known; measure it again";
            gather.list_source(&parts.source, Why::ToAsk, message);
            continue;
        };
        if systolic_mmhg <= diastolic_mmhg {
            let message = format!(
                "systolic {systolic_mmhg} and diastolic {diastolic_mmhg} look swapped; measure again"
            );
            gather.list_source(&parts.source, Why::LeftOut, message);
            continue;
        }
        let what = if standing {
            "standing pressure"
        } else {
            "resting pressure"
        };
        if gather.keep(parts.source, Some(day), what, &instant) {
            let pressure = Some(Pressure {
                systolic_mmhg,
                diastolic_mmhg,
            });
            let examination = gather.examination(day);
            if standing {
                examination.standing_bp = pressure;
            } else {
                examination.resting_bp = pressure;
            }
        }
    }
}

fn class(resource: &Resource<'_>, day: Option<Date>, gather: &mut Gather) {
    let by_number = resource
        .number("valueInteger")
        .or_else(|| resource.number("valueQuantity.value"));
    let class = match by_number {
        Some(number) => [1_u8, 2, 3, 4]
            .into_iter()
            .find(|class| f64::from(*class) == number),
        None => resource
            .node("valueCodeableConcept")
            .and_then(|node| functional_class(&Concept::of(node))),
    };
    match (class, day) {
        (Some(class), Some(day)) => {
            if gather.keep(
                Source::of(resource),
                Some(day),
                "functional class",
                instant(resource),
            ) {
                gather.examination(day).nyha = Some(class);
            }
        }
        (None, _) => gather.list(
            resource,
            Why::NotRead,
            "the functional class is none of I to IV; ask for it",
        ),
        (_, None) => gather.list(
            resource,
            Why::ToAsk,
            "a functional class without a day; ask when it was judged",
        ),
    }
}

fn rhythm(resource: &Resource<'_>, gather: &mut Gather) {
    let concept = Concept::at(resource, "valueCodeableConcept");
    let rhythm = concept.ours("rhythm").and_then(Rhythm::read).or_else(|| {
        match super::codes_condition::meaning(&concept) {
            Some(super::codes_condition::Meaning::Rhythm(rhythm)) => Some(rhythm),
            _ => None,
        }
    });
    match rhythm {
        Some(rhythm) => {
            if gather.keep(Source::of(resource), None, "rhythm", instant(resource)) {
                gather.case.heart.rhythm = Some(rhythm);
            }
        }
        None => gather.list(
            resource,
            Why::ToAsk,
            format!(
                "the rhythm {} is not known; write it by hand",
                concept.shown()
            ),
        ),
    }
}

fn walk(resource: &Resource<'_>, day: Option<Date>, gather: &mut Gather) {
    let node = resource.node("valueQuantity");
    if let Some(comparator) = node.and_then(|node| node.text("comparator")) {
        let message = format!(
            "the distance of the walk is given only as '{}' a number; ask for it",
            short(comparator)
        );
        return gather.list(resource, Why::ToAsk, message);
    }
    let wrong = node.and_then(|node| contradiction(node, Target::Metres));
    if let Some(message) = wrong {
        return gather.list(resource, Why::ToAsk, format!("the walk: {message}"));
    }
    let value = node.and_then(|node| {
        let unit = node
            .text("code")
            .or_else(|| node.text("unit"))
            .unwrap_or("");
        convert(node.number("value")?, unit, Target::Metres)
    });
    let Some(distance_m) = value else {
        return gather.list(
            resource,
            Why::NotRead,
            "the distance of the walk has no number in metres; ask for it",
        );
    };
    match check_bounds("distance_m", distance_m) {
        Ok(distance_m) => gather.case.tests.push(Test {
            date: day,
            place: None,
            aid: None,
            effort: None,
            beta_blocked: None,
            result: TestResult::SixMinuteWalk {
                distance_m,
                course_m: None,
            },
        }),
        Err(error) => gather.list(resource, Why::LeftOut, error.message),
    }
}
