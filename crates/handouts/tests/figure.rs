//! The figures: what every picture shows, and what it is not.

mod fixture;

use handouts::figure::{Build, Facts, is_drawn, key_of, still};
use rehab::assessment::{PlaceKind, Support};
use rehab::programme::{ArmHeight, Posture};

fn facts(exercise: &str, posture: Posture) -> Facts<'_> {
    Facts {
        exercise,
        posture,
        support: Support::None,
        arms: ArmHeight::Still,
        props: &[],
        place: Some(PlaceKind::Chair),
        needs_rail: false,
        needs_arms: false,
    }
}

#[test]
fn a_picture_has_its_title_a_start_an_end_and_one_arrow() {
    let drawn = still(
        &facts("march", Posture::Standing),
        Build::First,
        "March & <turn>",
    );
    assert!(
        drawn
            .svg
            .contains("<title>March &amp; &lt;turn&gt;</title>")
    );
    assert!(drawn.svg.contains("fg-ghost"));
    assert_eq!(drawn.svg.matches("fg-arrow\"").count(), 1);
}

#[test]
fn only_what_moves_has_a_ghost() {
    let drawn = still(
        &facts("knee-straightening", Posture::Seated),
        Build::First,
        "",
    );
    let ghost = drawn
        .svg
        .split("<g id=")
        .nth(1)
        .and_then(|rest| rest.split("</g>").next())
        .expect("a ghost");
    // One leg: trousers and shoe.
    assert_eq!(ghost.matches("<path").count(), 2);
}

#[test]
fn an_unknown_exercise_is_drawn_as_its_posture_alone() {
    let drawn = still(&facts("not-yet-known", Posture::Seated), Build::Second, "");
    assert!(!drawn.svg.contains("fg-arrow") && !drawn.svg.contains("fg-ghost"));
    assert!(drawn.svg.contains("fg-wood"));
}

#[test]
fn pictures_are_small_enough_for_a_page_of_thirty() {
    for posture in [Posture::Seated, Posture::Standing] {
        for id in [
            "walk",
            "march",
            "sit-to-stand",
            "half-jacks",
            "step-ups",
            "wall-press",
        ] {
            let drawn = still(&facts(id, posture), Build::First, id);
            assert!(drawn.svg.len() < 11_500, "{id}: {}", drawn.svg.len());
        }
    }
}

#[test]
fn law_same_key_same_picture_and_same_picture_every_time() {
    let one = facts("side-taps", Posture::Standing);
    assert_eq!(
        still(&one, Build::Third, "x"),
        still(&one, Build::Third, "x")
    );
    assert_eq!(key_of(&one), key_of(&facts("side-taps", Posture::Standing)));
    assert_ne!(key_of(&one), key_of(&facts("side-taps", Posture::Seated)));
}

#[test]
fn no_colour_stands_in_a_drawing() {
    let drawn = still(&facts("sit-to-stand", Posture::Rising), Build::Fourth, "");
    assert!(!drawn.svg.contains("fill=\"") && !drawn.svg.contains("style="));
}

#[test]
fn cases_are_spread_over_the_builds_and_each_keeps_its_own() {
    let mut seen = std::collections::BTreeMap::new();
    for i in 0..400 {
        *seen.entry(Build::of(&format!("case-{i:04}"))).or_insert(0) += 1;
    }
    assert_eq!(seen.len(), 4);
    assert!(seen.values().all(|count| *count > 50), "{seen:?}");
    assert_eq!(Build::of("fenwick-1951"), Build::of("fenwick-1951"));
}

#[test]
fn every_variant_of_every_exercise_has_a_picture_of_its_own() {
    let mut without = Vec::new();
    for exercise in fixture::exercises().iter() {
        for variant in &exercise.variants {
            for place in &variant.places {
                if !is_drawn(&Facts::of(exercise, variant, Some(*place))) {
                    without.push(format!("{}/{} at {place}", exercise.id, variant.id));
                }
            }
        }
    }
    assert!(without.is_empty(), "{without:?}");
}
