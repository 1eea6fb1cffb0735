//! Writes a page with every figure: `cargo run -p handouts --example figures -- OUT.html [grey|dark]`.

use handouts::figure::{Build, Facts, still};
use handouts::look;
use rehab::assessment::{PlaceKind, Prop, Support};
use rehab::programme::{ArmHeight, Posture};

const SEATED: &[&str] = &[
    "quiet-breathing",
    "seated-march",
    "seated-march-with-arms",
    "heel-digs",
    "knee-straightening",
    "heel-slides",
    "heel-raises",
    "toe-raises",
    "ankle-circles",
    "seated-punches",
    "seated-half-jacks",
    "reach-and-pull",
    "seated-rows",
    "shoulder-rolls",
    "neck-turns",
    "side-bends",
    "trunk-turns",
    "hamstring-stretch",
    "chest-stretch",
    "upper-back-stretch",
    "upper-arm-stretch",
    "side-raises",
    "sit-to-stand",
    "calf-stretch",
    "thigh-stretch",
];
const STANDING: &[&str] = &[
    "gentle-march",
    "march",
    "march-with-arms",
    "knee-lifts",
    "side-steps",
    "side-taps",
    "heel-digs",
    "heel-digs-with-curls",
    "half-jacks",
    "punches",
    "box-steps",
    "small-squats",
    "squats-with-reach",
    "walk",
    "slow-walk",
    "brisk-walk",
    "heel-to-toe-walk",
    "wall-press",
    "calf-stretch",
    "step-ups",
    "arm-curls",
    "front-raises",
    "side-raises",
    "overhead-press",
    "arm-press-back",
    "upright-rows",
    "band-pulls",
    "stick-raises",
    "small-arm-circles",
    "chest-stretch",
];
const HELD: &[&str] = &[
    "march",
    "knee-lifts",
    "taps-back",
    "leg-curls",
    "heel-raises",
    "toe-raises",
    "back-leg-lifts",
    "side-leg-lifts",
    "one-leg-stand",
    "back-lunges",
    "small-squats",
    "thigh-stretch",
    "hip-stretch",
    "heel-toe-rocking",
    "step-ups",
];

fn main() {
    let out = std::env::args().nth(1).expect("give the file to write");
    let mode = std::env::args().nth(2).unwrap_or_default();
    let mut body = String::new();
    let mut sizes = Vec::new();
    let mut draw = |exercise: &str, posture, support, place, i: usize| {
        let weights = [
            "arm-curls",
            "overhead-press",
            "arm-press-back",
            "upright-rows",
        ];
        let props: &[Prop] = if weights.contains(&exercise) {
            &[Prop::Weights]
        } else if exercise == "stick-raises" {
            &[Prop::Stick]
        } else {
            &[]
        };
        let facts = Facts {
            exercise,
            posture,
            support,
            arms: ArmHeight::Still,
            props,
            place,
            needs_rail: false,
            needs_arms: exercise == "sit-to-stand",
        };
        let drawn = still(&facts, Build::ALL[i % 4], exercise);
        sizes.push((drawn.svg.len(), exercise.to_owned()));
        body += &format!(
            "<figure>{}<figcaption>{exercise} {support}</figcaption></figure>",
            drawn.svg
        );
    };
    for (i, id) in SEATED.iter().enumerate() {
        draw(
            id,
            Posture::Seated,
            Support::Seated,
            Some(PlaceKind::Chair),
            i,
        );
    }
    for (i, id) in STANDING.iter().enumerate() {
        draw(
            id,
            Posture::Standing,
            Support::None,
            Some(PlaceKind::Floor),
            i,
        );
    }
    for (i, id) in HELD.iter().enumerate() {
        let place = if i % 2 == 0 {
            PlaceKind::Chair
        } else {
            PlaceKind::Worktop
        };
        let support = if i % 3 == 0 {
            Support::OneHand
        } else {
            Support::TwoHands
        };
        draw(id, Posture::Standing, support, Some(place), i);
    }
    sizes.sort();
    let total: usize = sizes.iter().map(|one| one.0).sum();
    println!(
        "{} figures, {} bytes on average, largest {:?}",
        sizes.len(),
        total / sizes.len(),
        sizes.last()
    );
    let room = match mode.as_str() {
        "grey" => "data-ink=\"grey\"",
        "dark" => "data-room=\"dark\"",
        _ => "",
    };
    let page = format!(
        "<!doctype html><html lang=en-GB {room}><meta charset=utf-8><title>Figures</title><style>{}{}{}body{{background:var(--paper);margin:10px;font:13px/18px var(--face);color:var(--ink);display:flex;flex-wrap:wrap}}figure{{margin:4px;width:196px}}figure svg{{width:196px;height:230px}}</style>{body}</html>",
        look::faces(),
        look::TOKENS,
        look::DRAWINGS
    );
    std::fs::write(out, page).expect("the file can be written");
}
