//! The session profile as it is drawn: order of painting, words, links, and what a patient never sees.

use handouts::profile::{
    Captions, Course, Full, Pace, Part, Patient, PulseScale, TakenPulse, full, patient, tiny, way,
};
use rehab::programme::Phase;

fn course(rounds: u8) -> Course {
    let part = |phase, pace, round, seconds: u32, mets, place: &str| Part {
        phase,
        pace,
        place: place.to_owned(),
        round,
        duration_ms: seconds * 1000,
        mets,
        pulse: Some(64.0 + 10.0 * mets),
        pulse_sd: Some(3.0),
    };
    let mut parts = vec![part(Phase::WarmUp, Pace::Slope, 0, 600, 1.9, "armchair")];
    for round in 1..=rounds {
        parts.push(part(
            Phase::Conditioning,
            Pace::Brisk,
            round,
            60,
            2.9,
            "hall",
        ));
        parts.push(part(
            Phase::Conditioning,
            Pace::Easy,
            round,
            30,
            1.9,
            "armchair",
        ));
        parts.push(part(
            Phase::Conditioning,
            Pace::Brisk,
            round,
            60,
            2.7,
            "<b>stair</b>",
        ));
    }
    parts.push(part(Phase::CoolDown, Pace::Slope, 0, 600, 1.6, "armchair"));
    Course::new(parts)
}

fn captions() -> Captions {
    Captions {
        title: "Session profile".to_owned(),
        description: "Two brisk turns".to_owned(),
        ceiling: "Her ceiling".to_owned(),
        ceiling_note: "effort 4 of 10".to_owned(),
        legend: "fine band: pulse expected".to_owned(),
        phases: [
            "warm-up".to_owned(),
            "turns".to_owned(),
            "way down".to_owned(),
        ],
        ends: ["warm-up".to_owned(), "way down".to_owned()],
        turns: vec!["Turn 1, hall".to_owned(), "Turn 2, stair".to_owned()],
    }
}

fn drawn(width_px: u16, chosen: Option<u16>) -> String {
    drawn_with(width_px, chosen, &[])
}

fn drawn_with(width_px: u16, chosen: Option<u16>, taken: &[TakenPulse]) -> String {
    let captions = captions();
    let link = |number: u16| format!("/case/a?b=1&turn={number}");
    full(
        &course(1),
        &Full {
            width_px,
            top_mets: 3.1,
            pulse: Some(PulseScale {
                resting_bpm: 64.0,
                ceiling_bpm: 97.0,
                tau_s: 60.0,
            }),
            taken,
            chosen,
            alternative_mets: Some(2.4),
            captions: &captions,
            link: Some(&link),
        },
    )
}

#[test]
fn it_is_painted_land_band_caps_pulse_ceiling_line_alternative_ground() {
    let svg = drawn(1200, Some(2));
    let order = [
        "pf-land",
        "pf-band",
        "\"pf-hill",
        "\"pf-pulse",
        "\"pf-limit",
        "\"pf-line\"",
        "pf-line is-chosen",
        "\"pf-alt",
        "\"pf-ground",
        "\"pf-no",
    ];
    let places: Vec<usize> = order
        .iter()
        .map(|class| svg.find(class).expect(class))
        .collect();
    assert!(places.is_sorted(), "{places:?}");
}

/// The middle of each diamond.
fn diamonds(svg: &str) -> Vec<(f64, f64)> {
    let paths = svg.split("class=\"pf-log\" d=\"M").skip(1);
    let number = |text: &str| text.parse::<f64>().expect("a number");
    paths
        .map(|rest| {
            let (x, rest) = rest.split_once(' ').expect("x");
            let (y, _) = rest.split_once('l').expect("y");
            (number(x), number(y) + 6.0)
        })
        .collect()
}

fn line_y(svg: &str, class: &str) -> f64 {
    let at = svg
        .split(&format!("class=\"{class}\""))
        .nth(1)
        .expect(class);
    let (_, rest) = at.split_once(" d=\"M").expect("a path");
    let (_, y) = rest.split_once(' ').expect("x");
    let end = y
        .find(|sign: char| !(sign.is_ascii_digit() || sign == '.'))
        .expect("its end");
    y[..end].parse().expect("the line has a height")
}

/// A pulse that was taken stands at its moment, and on the ceiling exactly where it is the ceiling's.
#[test]
fn a_pulse_taken_is_a_diamond_at_its_time_and_height() {
    let whole_ms = course(1).duration_ms();
    let taken = |at_ms, bpm| TakenPulse { at_ms, bpm };
    let svg = drawn_with(
        1200,
        None,
        &[
            taken(0, 64.0),
            taken(whole_ms / 2, 97.0),
            taken(whole_ms, 80.5),
        ],
    );
    let found = diamonds(&svg);
    assert_eq!(found.len(), 3, "{svg}");
    let (ground, ceiling) = (line_y(&svg, "pf-ground"), line_y(&svg, "pf-limit"));
    let expected = [
        (0.0, ground),
        (600.0, ceiling),
        (1200.0, (ground + ceiling) / 2.0),
    ];
    for ((x, y), (at_x, at_y)) in found.iter().zip(expected) {
        assert!(
            (x - at_x).abs() < 0.1 && (y - at_y).abs() < 0.1,
            "{found:?}"
        );
    }
    assert!(diamonds(&drawn(1200, None)).is_empty());
    let line = svg.find("\"pf-line\"").expect("line");
    assert!(
        svg.find("pf-log").expect("diamond") > line,
        "painted over the line"
    );
}

#[test]
fn every_turn_is_a_named_link_and_names_cannot_break_out() {
    let svg = drawn(720, Some(1));
    assert!(svg.contains("id=\"turn-1\" href=\"/case/a?b=1&amp;turn=1\" aria-label=\"Turn 1, hall\" aria-current=\"true\""));
    assert!(svg.contains("id=\"turn-2\""));
    assert!(!svg.contains("<b>stair"));
    assert!(svg.contains("role=\"group\""));
}

#[test]
fn the_narrow_form_says_the_chosen_turn_in_one_line() {
    let svg = drawn(360, Some(2));
    assert!(svg.contains(">Turn 2, stair</text>"));
    assert!(!svg.contains("pf-place"));
}

#[test]
fn no_type_is_smaller_than_13_px() {
    // The only sizes are those of the classes, and drawings carry no transform that could shrink them.
    for size in handouts::look::DRAWINGS.split("font-size: ").skip(1) {
        let px: f64 = size
            .split("px")
            .next()
            .and_then(|text| text.parse().ok())
            .expect("a size in px");
        assert!(px >= 13.0, "{px}");
    }
    assert!(!drawn(320, None).contains("transform"));
}

#[test]
fn the_patients_picture_holds_place_start_and_end_and_nothing_else() {
    let course = course(2);
    let svg = patient(
        &course,
        &Patient {
            width_px: 354,
            top_mets: 3.1,
            at_ms: Some(630_000),
            place: "hall",
            ends: ["start", "end"],
            title: "You are in the hall",
        },
    );
    let words: Vec<&str> = svg
        .split("<text")
        .skip(1)
        .filter_map(|one| one.split(['>', '<']).nth(1))
        .collect();
    assert_eq!(words, ["hall", "start", "end"]);
    assert!(!svg.contains("pf-limit") && !svg.contains("pf-band") && !svg.contains("\"pf-no\""));
}

#[test]
fn law_the_dot_walks_on_the_drawn_line() {
    let course = course(2);
    let way = way(&course, 354, 3.1, 350);
    assert_eq!(way.heights.len(), 351);
    assert!(
        (way.heights[0] - way.ground).abs() < 0.06 && (way.heights[350] - way.ground).abs() < 0.06
    );
    // The highest point of the line is a crest at 2.9 of 3.1 METs, reached within the rounding of the table.
    let top = way.heights.iter().copied().fold(f64::INFINITY, f64::min);
    let height = way.ground - top;
    let whole = height * 2.1 / 1.9;
    assert!((whole - 67.0).abs() < 2.0, "{whole}");
}

#[test]
fn a_session_without_turns_is_drawn_too() {
    let course = course(0);
    assert!(course.turns().is_empty());
    let svg = tiny(&course, 104, 3.1, None, "warm-up alone");
    assert!(svg.contains("pf-line tiny") && !svg.contains("pf-hill"));
}

#[test]
fn same_course_same_text() {
    assert_eq!(drawn(1200, Some(1)), drawn(1200, Some(1)));
}
