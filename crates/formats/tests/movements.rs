//! The library of movements: every file is read, every movement is done by bodies of its statures, and what is missing is told.

use formats::movement::{self, Figure, Movements, faults, marks_of};
use formats::{exercises, movements};
use motion::cycle::{Bearing, Cycle};
use motion::grip::Contact;
use motion::key::Hips;
use motion::movement::Movement;
use rehab::assessment::Support;
use rehab::programme::{Exercises, Posture, Variant, VariantRef};

/// Variants that no movement is drawn for yet, at most. It only goes down.
const MOST_MISSING: usize = 47;

fn library() -> (Exercises, Movements) {
    let exercises = exercises().expect("the exercises are read");
    let movements = movements(&exercises).expect("the movements are read");
    (exercises, movements)
}

fn variant<'e>(figure: &Figure, exercises: &'e Exercises) -> &'e Variant {
    let named = VariantRef {
        exercise: figure.exercise.clone(),
        variant: figure.variant.clone(),
    };
    exercises.find(&named).expect("its variant is there").1
}

fn name(figure: &Figure) -> String {
    format!("{}/{}", figure.exercise, figure.variant)
}

#[test]
fn law_every_movement_of_the_library_can_be_done_and_keeps_its_marks() {
    let (exercises, movements) = library();
    let mut wrong = Vec::new();
    for figure in movements.iter() {
        let marks = marks_of(variant(figure, &exercises));
        let said = faults(figure, &marks).into_iter();
        wrong.extend(said.map(|fault| format!("{}: {fault}", name(figure))));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn law_every_movement_goes_at_the_pace_of_its_exercise_in_whole_pictures() {
    let (exercises, movements) = library();
    for figure in movements.iter() {
        let period_ms = figure.movement.period_ms().expect("it has times");
        assert_eq!(period_ms % Movement::FRAME_MS, 0, "{}", name(figure));
        let Some(per_minute) = variant(figure, &exercises).per_minute else {
            continue;
        };
        let found = f64::from(figure.repetitions) * 60_000.0 / f64::from(period_ms);
        let differs = (found / per_minute - 1.0).abs();
        assert!(differs < 0.02, "{}: {found} {per_minute}", name(figure));
    }
}

#[test]
fn law_hands_hold_what_the_exercise_says() {
    let (exercises, movements) = library();
    for figure in movements.iter() {
        let variant = variant(figure, &exercises);
        let body = motion::body::Body::of_stature_m(1.62)
            .expect("an adult")
            .drawn();
        let cycle = Cycle::of(&body, &figure.movement).expect("it can be made");
        let holds = |bearing: Bearing| {
            [bearing.hands.left, bearing.hands.right]
                .into_iter()
                .filter(|hand| matches!(hand, Some(Contact::On(_))))
                .count()
        };
        // Who rises with the hands on the arms of the chair lets go of them above it.
        let moments = cycle
            .frames_ms()
            .map(|ms| holds(cycle.bearing(f64::from(ms))));
        let least = match variant.posture {
            Posture::Rising => moments.max(),
            _ => moments.min(),
        };
        let expected = match variant.support {
            Support::None => 0,
            Support::OneHand => 1,
            Support::TwoHands => 2,
            _ => continue,
        };
        assert_eq!(least, Some(expected), "{}", name(figure));
    }
}

#[test]
fn law_seated_variants_sit_and_standing_ones_stand() {
    let (exercises, movements) = library();
    for figure in movements.iter() {
        let seated = figure
            .movement
            .keys
            .iter()
            .all(|key| matches!(key.hips, Hips::Seated { .. }));
        let says = variant(figure, &exercises).posture == Posture::Seated;
        assert_eq!(seated, says, "{}", name(figure));
    }
}

#[test]
fn weights_are_those_of_the_exercise() {
    let (exercises, movements) = library();
    let kg = |named: &str| {
        let named = VariantRef {
            exercise: "arm-curls".to_owned(),
            variant: named.to_owned(),
        };
        let figure = movements.find(&named).expect("curls are drawn");
        assert!(exercises.find(&named).is_some());
        figure.movement.held.weight_kg.left
    };
    assert_eq!(kg("standing-3kg"), 3.0);
    assert_eq!(kg("seated-tins"), 0.5);
    assert_eq!(kg("seated-no-weights"), 0.0);
}

#[test]
fn what_has_no_movement_yet_is_listed_and_only_grows_less() {
    let (exercises, movements) = library();
    let missing = movements.missing(&exercises);
    let names: Vec<String> = missing
        .iter()
        .map(|one| format!("{}/{}", one.exercise, one.variant))
        .collect();
    println!("no movement yet ({}):\n{}", names.len(), names.join("\n"));
    let all = movements.iter().count() + missing.len();
    let variants: usize = exercises
        .iter()
        .map(|exercise| exercise.variants.len())
        .sum();
    assert_eq!(all, variants, "each variant moves once or is missing");
    assert!(missing.len() <= MOST_MISSING, "{}", missing.len());
}

#[test]
fn law_what_is_written_is_read_again_alike() {
    let (_, movements) = library();
    for figure in movements.iter() {
        let text = movement::write(std::slice::from_ref(figure));
        let again = movement::parse(&text, "again.toml");
        let again = again.unwrap_or_else(|why| panic!("{}: {why}\n{text}", name(figure)));
        assert_eq!(again, std::slice::from_ref(figure), "{text}");
    }
}

#[test]
fn a_smaller_one_like_another_goes_less_far_and_holds_what_it_says() {
    let text = r#"
id = "march"
[[movement]]
variant = "free"
alternates = true
pose = [{ hold_ms = 0 }, { left_foot = { on = "air", lift = 0.1 } }]
[[movement]]
variant = "small"
like = "free"
range = 0.5
room = { chair_back = {} }
every = { arms = { on = "chair-back" } }
"#;
    let figures = movement::parse(text, "march.toml").expect("it is read");
    let lift = |figure: &Figure| match figure.movement.keys[1].legs.left {
        motion::key::Leg::Placed(foot) => foot.on,
        motion::key::Leg::Angles(_) => panic!("a foot of a file is placed"),
    };
    assert_eq!(lift(&figures[0]), motion::key::FootOn::Air { lift: 0.1 });
    assert_eq!(lift(&figures[1]), motion::key::FootOn::Air { lift: 0.05 });
    assert!(figures[1].movement.room.bar.is_some() && figures[1].movement.alternates);
}

#[test]
fn every_mistake_is_told_with_key_and_line() {
    let rows = [
        (
            "variant = \"free\"\nlike = \"slow\"",
            "movement[1].like",
            4,
            "is not there to be like",
        ),
        (
            "variant = \"free\"",
            "movement[1].variant",
            3,
            "no key poses",
        ),
        (
            "variant = \"free\"\npose = [{ kne_deg = 3 }]",
            "movement[1].pose[1].kne_deg",
            4,
            "did you mean 'knee_deg'",
        ),
        (
            "variant = \"free\"\npose = [{ knee_deg = 300 }]",
            "movement[1].pose[1].knee_deg",
            4,
            "180",
        ),
        (
            "variant = \"free\"\npose = [{ seat_x = -0.2, knee_deg = 5 }]",
            "movement[1].pose[1].seat_x",
            4,
            "the seat bears",
        ),
        (
            "variant = \"free\"\npose = [{ left_foot = { on = \"air\" } }]",
            "movement[1].pose[1].left_foot.on",
            4,
            "needs 'lift'",
        ),
        (
            "variant = \"free\"\npose = [{ arms = { on = \"wall\", elbow_deg = 4 } }]",
            "movement[1].pose[1].arms.on",
            4,
            "keep one of the two",
        ),
        (
            "variant = \"free\"\npose = [{ arms = { on = \"ceiling\" } }]",
            "movement[1].pose[1].arms.on",
            4,
            "ceiling",
        ),
        (
            "variant = \"free\"\npose = [{ hold_ms = 5, pass = true }]",
            "movement[1].pose[1].pass",
            4,
            "either rests or is passed",
        ),
    ];
    for (body, key_path, line, part) in rows {
        let text = format!("id = \"march\"\n[[movement]]\n{body}\n");
        let problems = movement::parse(&text, "march.toml").expect_err(body).0;
        let found = problems.iter().find(|one| one.key_path == key_path);
        let found = found.unwrap_or_else(|| panic!("{body}: {problems:?}"));
        assert_eq!(found.line, Some(line), "{body}");
        assert!(found.message.contains(part), "{}", found.message);
    }
}

#[test]
fn a_movement_that_nobody_can_do_is_told_by_the_check() {
    let falls = r#"
id = "march"
[[movement]]
variant = "free"
pose = [{ hold_ms = 200, weight_along = 1.6 }, { to_next_ms = 400 }]
"#;
    let said = movement::check(falls, "march.toml")
        .expect_err("it falls")
        .to_string();
    assert!(said.contains("outside of what bears the body"), "{said}");
    let (file, text) = (
        "gentle-march.toml",
        include_str!("../../../data/movements/gentle-march.toml"),
    );
    assert_eq!(movement::check(text, file), Ok(()));
}
