//! Moving figures: the still with its ghost, the drawing that moves by itself, and the numbers for the page.

#[allow(dead_code)]
#[path = "../../motion/tests/trials/movements.rs"]
mod movements;

use handouts::figure::{
    Build, MOST_BYTES, MOST_FRAMES, MOST_NUMBERS_BYTES, SCRIPT, blueprint, drawn, numbers, turning,
};
use motion::body::Body;
use motion::cycle::Cycle;
use motion::reel::{Reel, Views};
use motion::scene::{Camera, Holding};
use serde_json::Value;

fn cycle(movement: &motion::movement::Movement, build: Build) -> Cycle {
    let body = Body::of_stature_m(build.stature_m()).expect("an adult");
    Cycle::of(&body.drawn(), movement).expect("the movement can be made")
}

fn named(name: &str) -> Cycle {
    let trials = movements::all();
    let trial = trials.iter().find(|trial| trial.name == name);
    cycle(&trial.expect("it is there").movement, Build::First)
}

fn reel(name: &str) -> Reel {
    Reel::of(
        &named(name),
        &Camera::SIDE,
        &Build::First.look(),
        MOST_FRAMES,
    )
    .expect("every limb reaches")
}

/// Every movement in two builds from its cameras.
fn everything(mut look_at: impl FnMut(&str, &Cycle, &Camera, Build)) {
    for (place, trial) in movements::all().iter().enumerate() {
        for build in [Build::ALL[place % 4], Build::ALL[(place + 3) % 4]] {
            let cycle = cycle(&trial.movement, build);
            let views = Views::of(&cycle).expect("every limb reaches");
            for camera in [Some(views.main), views.second].into_iter().flatten() {
                look_at(trial.name, &cycle, &camera, build);
            }
        }
    }
}

#[test]
fn law_every_drawing_keeps_to_its_size() {
    everything(|name, cycle, camera, build| {
        let numbers = numbers(cycle, camera, build).expect("every limb reaches");
        assert!(
            numbers.len() <= MOST_NUMBERS_BYTES,
            "{name}: {} bytes of numbers",
            numbers.len()
        );
        let turning = turning(cycle, camera, build, ["m", name]).expect("every limb reaches");
        assert!(
            turning.len() <= MOST_BYTES,
            "{name}: {} bytes",
            turning.len()
        );
        let reel = Reel::of(cycle, camera, &build.look(), MOST_FRAMES).expect("every limb reaches");
        let still = drawn(&reel, build, name).svg;
        assert!(
            still.len() < 16_000,
            "{name}: {} bytes in print",
            still.len()
        );
        for text in [&still, &turning] {
            assert!(!text.contains("NaN") && !text.contains("inf"), "{name}");
        }
    });
}

#[test]
fn a_still_has_its_title_a_ghost_behind_the_person_and_one_arrow() {
    let still = drawn(&reel("sit to stand"), Build::First, "Rise & <wait>");
    assert!(still.svg.contains("<title>Rise &amp; &lt;wait&gt;</title>"));
    assert_eq!(still.svg.matches("fg-arrow\"").count(), 1);
    let place = |class: &str| {
        still
            .svg
            .find(&format!("\"fg-{class}\""))
            .expect("it is painted")
    };
    assert!(
        place("cloth") < place("ghost-edge") && place("ghost-edge") < place("near"),
        "{}",
        still.svg
    );
    for class in [
        "near", "far", "sleeve", "mid", "skin", "hair", "shoe", "shoe2", "wood", "shadow",
        "shadow2",
    ] {
        place(class);
    }
    assert!(
        (1600..1950).contains(&still.height_mm),
        "{}",
        still.height_mm
    );
}

#[test]
fn a_ghost_holds_only_what_moved() {
    let still = drawn(&reel("seated march"), Build::First, "").svg;
    let edge = still
        .split("<g class=\"fg-ghost-edge\">")
        .nth(1)
        .expect("a ghost");
    let edge = edge.split("</g>").next().expect("its end");
    // A thigh, a shank and a shoe.
    assert_eq!(edge.matches("<path").count(), 3, "{edge}");
}

/// The lists of an attribute of every animation.
fn lists<'a>(svg: &'a str, attribute: &str) -> Vec<Vec<&'a str>> {
    let begin = format!(" {attribute}=\"");
    svg.split(begin.as_str())
        .skip(1)
        .map(|rest| {
            rest.split('"')
                .next()
                .unwrap_or_default()
                .split(';')
                .collect()
        })
        .collect()
}

#[test]
fn law_a_drawing_that_moves_ends_where_it_begins_and_keeps_its_corners() {
    everything(|name, cycle, camera, build| {
        let svg = turning(cycle, camera, build, ["m", name]).expect("every limb reaches");
        let (times, values) = (lists(&svg, "keyTimes"), lists(&svg, "values"));
        assert!(!values.is_empty() && times.len() == values.len(), "{name}");
        for (times, values) in times.iter().zip(&values) {
            assert_eq!(times.len(), values.len(), "{name}");
            let shares: Vec<f64> = times
                .iter()
                .map(|time| time.parse().expect("a share"))
                .collect();
            assert!(
                shares[0] == 0.0 && shares.windows(2).all(|pair| pair[0] < pair[1]),
                "{name}: {times:?}"
            );
            if values[0].starts_with(['n', 'i']) {
                continue;
            }
            assert_eq!(values.first(), values.last(), "{name}");
            assert_eq!(shares.last(), Some(&1.0), "{name}");
            let corners = |data: &str| data.matches(['-', ' ', 'l', 'M', 'z']).count();
            let letters = |data: &str| data.replace(|sign: char| !sign.is_ascii_alphabetic(), "");
            assert!(
                values
                    .iter()
                    .all(|value| letters(value) == letters(values[0])),
                "{name}"
            );
            assert!(corners(values[0]) > 0, "{name}");
        }
    });
}

#[test]
fn the_numbers_are_the_points_of_the_reel() {
    let cycle = named("march");
    let text = numbers(&cycle, &Camera::SIDE, Build::First).expect("every limb reaches");
    let value: Value = serde_json::from_str(&text).expect("JSON");
    assert_eq!(value["p"], 1760);
    let signs = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_";
    let text_of = |key: &str| value[key].as_str().expect("text").to_owned();
    let read = |text: &str| -> Vec<f64> {
        let number = |sign: u8| signs.find(char::from(sign)).expect("a known sign");
        let pairs = text.as_bytes().chunks(2);
        pairs
            .map(|pair| (64 * number(pair[0]) + number(pair[1])) as f64)
            .collect()
    };
    let moments = read(&text_of("t"));
    let reel =
        Reel::of(&cycle, &Camera::SIDE, &Build::First.look(), moments.len()).expect("it reaches");
    let first = read(&text_of("q"));
    for (place, point) in reel.frames()[0].snapshot.points().iter().enumerate() {
        assert!((first[2 * place] - 2048.0 - point.x_mm).abs() <= 0.5);
        assert!((first[2 * place + 1] - 2048.0 - point.y_mm).abs() <= 0.5);
    }
    let moving: Vec<usize> = text_of("m")
        .chars()
        .map(|sign| signs.find(sign).expect("a known sign"))
        .collect();
    let rest = read(&text_of("f"));
    assert_eq!(rest.len(), 2 * moving.len() * (moments.len() - 1));
    let last = reel.frames().last().expect("a moment").snapshot.points();
    for (place, point) in moving.iter().enumerate() {
        let at = rest.len() - 2 * moving.len() + 2 * place;
        assert!((rest[at] - 2048.0 - last[*point].x_mm).abs() <= 0.5);
    }
    let served: u64 = value["o"]
        .as_array()
        .expect("orders")
        .iter()
        .map(|order| order[0].as_u64().expect("a count"))
        .sum();
    assert_eq!(served, moments.len() as u64);
}

#[test]
fn the_blueprint_is_small_and_the_script_does_no_kinematics() {
    for build in Build::ALL {
        let text = blueprint(build, &Holding::NOTHING);
        let value: Value = serde_json::from_str(&text).expect("JSON");
        assert!(
            value.as_array().expect("parts").len() < 64,
            "one sign a part"
        );
        assert!(text.len() < 4_000, "{}", text.len());
    }
    assert!(SCRIPT.len() < 7_000, "{}", SCRIPT.len());
    for word in ["atan", "acos", "asin", "elbow", "hip"] {
        assert!(!SCRIPT.contains(word), "{word}");
    }
}

/// FNV-1a, a public-domain digest.
fn digest(text: &str) -> u32 {
    text.bytes().fold(0x811c_9dc5, |digest, byte| {
        (digest ^ u32::from(byte)).wrapping_mul(0x0100_0193)
    })
}

#[test]
fn pinned_drawings_and_numbers_are_the_same_on_every_machine() {
    let found: Vec<String> = movements::all()
        .iter()
        .map(|trial| {
            let cycle = cycle(&trial.movement, Build::First);
            let camera = Views::of(&cycle).expect("it reaches").main;
            let reel =
                Reel::of(&cycle, &camera, &Build::First.look(), MOST_FRAMES).expect("it reaches");
            let texts = [
                drawn(&reel, Build::First, trial.name).svg,
                turning(&cycle, &camera, Build::First, ["m", trial.name]).expect("it reaches"),
                numbers(&cycle, &camera, Build::First).expect("it reaches"),
            ];
            let [still, turning, numbers] = texts.map(|text| digest(&text));
            format!("{}: {still:08x} {turning:08x} {numbers:08x}", trial.name)
        })
        .collect();
    assert_eq!(found, PINNED);
}

/// Still, drawing that moves, numbers. Look at the sheet before changing them.
const PINNED: [&str; 8] = [
    "sit to stand: 43e6a0eb 86c2709d eac0485c",
    "march: 6b183983 8ed25510 7f13e8d2",
    "heel raise: b6392d17 6955efec b78aa187",
    "mini squat: 4bee7aa0 2dccbd2e 108a361c",
    "seated march: 5ce88374 958ab7a4 7cee546f",
    "side step: 5cc3dc2e 11be9998 92e9c343",
    "side leg lift: 327b545c e16acc9d 624061e3",
    "step up: 4e551b78 50445c00 5717ba89",
];
