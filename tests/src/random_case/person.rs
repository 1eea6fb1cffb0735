//! The person, the standing of the case and function.

use super::draw::{Draw, Kind};
use super::{RANDOM_DAY, days_ago};
use jiff::civil::Date;
use rehab::assessment::{Agreement, Case, Sex, StatusKind, UsualSymptom, WalkingAid};
use rehab::diary::SymptomKind;

const FAMILY: &[&str] = &[
    "Aldwin", "Brask", "Corvey", "Dunmere", "Eskelin", "Farrow", "Gantry", "Hollis", "Imber",
    "Jessop", "Kestle", "Lowther", "Marrick", "Norden", "Orrell", "Pellow", "Quenby", "Rusk",
    "Sorley", "Tarrant",
];
const GIVEN: &[&str] = &[
    "Ada", "Bram", "Cleo", "Dorr", "Edda", "Finn", "Greta", "Hal", "Ines", "Jory", "Kaye", "Lorn",
    "Mabel", "Nils", "Orla", "Perrin", "Rhoda", "Silas", "Tess", "Ulric",
];

pub(super) fn draw(draw: &mut Draw, kind: Kind, case: &mut Case) {
    let known = kind.thorough;
    let given = draw.pick(GIVEN);
    let family = draw.pick(FAMILY);
    let sex = draw.pick(&[Sex::Female, Sex::Male, Sex::Male]);
    let born = born(draw, kind.age);
    let tall = if sex == Sex::Male { 174.0 } else { 161.0 };
    let person = &mut case.person;
    person.name = draw.known(known.max(0.9), format!("{given} {family}"));
    person.called = draw.known(known, given.to_owned());
    person.born = draw.known(known.max(0.85), born);
    person.sex = draw.known(known.max(0.85), sex);
    let height = draw.about(tall, 12.0, 1.0).clamp(135.0, 200.0);
    person.height_cm = draw.known(known, height);
    let weight = draw.about(80.0, 20.0, 0.5).clamp(38.0, 160.0);
    person.weight_kg = draw.known(known, weight);
    let language = draw.pick(&["en-GB", "en-GB", "cy-GB", "pa-IN"]);
    person.language = draw.known(known, language.to_owned());
    if draw.chance(known) {
        person.telephones.push("01632 960 100".to_owned());
    }
    person.emergency_contact = draw.known(0.7 * known, "a neighbour, 01632 960 101".to_owned());
    person.doctor = draw.known(known, "Dr Sena, Ellerdale".to_owned());
    person.interpreter = draw.known(0.05, "Punjabi".to_owned());
    person.hearing = draw.known(0.2, "better on the left".to_owned());
    person.sight = draw.known(0.2, "reads large print".to_owned());
    person.reading = draw.known(0.2, "easy".to_owned());
    person.memory = draw.known(0.1, "forgets dates".to_owned());
    person.consent = draw.known(known, "given in writing".to_owned());
    person.address = draw.known(known, "6 Tannery Steps".to_owned());
    status(draw, kind, case);
    function(draw, kind, case);
    usual(draw, case);
    if draw.chance(0.7) {
        case.agreement = Some(Agreement {
            doctor: "Dr Sena".to_owned(),
            date: days_ago(draw.whole(0, 60)),
        });
    }
}

fn born(draw: &mut Draw, age: i32) -> Date {
    let days = age * 365 + age / 4 + draw.whole(0, 364);
    rehab::calendar::days_after(RANDOM_DAY, -days)
}

fn status(draw: &mut Draw, kind: Kind, case: &mut Case) {
    case.status.kind = match draw.whole(0, 99) {
        0..=3 => StatusKind::Referred,
        4 => StatusKind::Declined,
        5..=6 => StatusKind::WaitingForClearance,
        7..=8 => StatusKind::Paused,
        9 => StatusKind::InHospital,
        10 => StatusKind::Discharged,
        11 => StatusKind::Died,
        _ => StatusKind::Active,
    };
    // Mostly before the examination, sometimes after it, as when somebody came back.
    let days = if draw.chance(0.95) {
        draw.whole(20, 120)
    } else {
        draw.whole(0, 10)
    };
    case.status.since = draw.known(kind.thorough, days_ago(days));
}

fn function(draw: &mut Draw, kind: Kind, case: &mut Case) {
    let frail = f64::from(kind.age - 60).clamp(0.0, 35.0) / 100.0;
    let aid = if draw.chance(frail) {
        draw.pick(&[WalkingAid::Stick, WalkingAid::Stick, WalkingAid::Frame])
    } else {
        WalkingAid::None
    };
    case.function.aid = draw.known(kind.thorough, aid);
    let falls = if draw.chance(frail) {
        draw.whole(1, 4)
    } else {
        0
    };
    case.function.falls_12_months = draw.known(kind.thorough, falls.unsigned_abs());
}

fn usual(draw: &mut Draw, case: &mut Case) {
    for kind in SymptomKind::ALL {
        if draw.chance(0.03) {
            let score = draw.number(1.0, 7.0, 1.0);
            case.usual_symptoms.push(UsualSymptom {
                kind: *kind,
                score: draw.known(0.7, score),
            });
        }
    }
}
