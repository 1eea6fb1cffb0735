//! Warm-up and cool-down: exercises take turns, the pulse never rises again on the way down, and where too little is open to
//! take turns with, it is told what to find.

use rehab::assessment::{Case, Place, PlaceKind};
use rehab::evidence::Finding;
use rehab::programme::{Choices, Exercises, Phase, Plan, Stage, plan_with};
use rehab::service::Service;
use tests::{RANDOM_DAY, random_case};

/// How many invented people.
const PEOPLE: u64 = 400;
/// Blocks that one exercise goes on for; its variants count as one (`slope/repeats`).
const RUNNING_MOST: usize = 3;
/// How far the predicted pulse may rise above the lowest so far on the way down, bpm, beside the drift of long exercise.
const RISE_BPM: f64 = 1.0;
/// Drift of long exercise, bpm a minute after ten minutes. Sources: `drew-drift`, `thow-2006`.
const DRIFT_PER_S: f64 = 0.15 / 60.0;
const DRIFT_FROM_S: f64 = 600.0;
/// What rounding of a sum may come to, bpm.
const ROUNDED_BPM: f64 = 1e-6;

/// A home with one kind of place, or without one.
type Home = fn(&mut Case);

fn as_drawn(_: &mut Case) {}

fn without_a_chair(case: &mut Case) {
    // Where no place is known a chair is assumed, so there is one other place at least.
    case.home
        .places
        .push(place("the worktop", PlaceKind::Worktop));
    case.home.places.retain(|one| one.kind != PlaceKind::Chair);
}

fn worktops_only(case: &mut Case) {
    case.home.places = vec![place("the worktop", PlaceKind::Worktop)];
}

fn chair_only(case: &mut Case) {
    case.home.places = vec![place("the chair", PlaceKind::Chair)];
}

fn place(name: &str, kind: PlaceKind) -> Place {
    Place {
        name: name.to_owned(),
        kind,
        seat_cm: None,
        arms: None,
        height_cm: None,
        rail: None,
        metres_to_next: None,
    }
}

fn planned(
    seed: u64,
    home: Home,
    service: &Service,
    exercises: &Exercises,
) -> (Plan, Vec<Finding>) {
    let mut case = random_case(seed);
    home(&mut case);
    let choices = Choices {
        stage: 1 + (seed % 6) as u16,
        ..Choices::none()
    };
    plan_with(&case, service, exercises, RANDOM_DAY, &choices)
}

/// The most blocks that one exercise goes on for in a part of a session.
fn longest_run(stage: &Stage, phase: Phase, exercises: &Exercises) -> usize {
    let part = stage.segments.iter().filter(|one| one.phase == phase);
    let names: Vec<Option<&str>> = part
        .map(|one| {
            let doing = one.doing.as_ref()?;
            let found = exercises
                .find(doing)
                .expect("what is planned is in the library");
            Some(found.0.alike.as_str())
        })
        .collect();
    let runs = names.chunk_by(|one, next| one == next);
    runs.filter(|run| run[0].is_some())
        .map(<[_]>::len)
        .max()
        .unwrap_or(0)
}

#[test]
fn law_no_exercise_goes_on_and_on_in_warm_up_or_cool_down() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let homes: [(&str, Home, usize); 4] = [
        ("as drawn", as_drawn, 100),
        ("a chair only", chair_only, 100),
        ("worktops only", worktops_only, 10),
        ("no chair", without_a_chair, 10),
    ];
    for (name, home, one_in) in homes {
        let (mut people, mut longer) = (0, 0);
        for seed in 0..PEOPLE {
            let (plan, findings) = planned(seed, home, &service, &exercises);
            if plan.stages.is_empty() {
                continue;
            }
            people += 1;
            let told = findings.iter().any(|one| one.rule.0 == "slope/repeats");
            let runs = plan.stages.iter().flat_map(|stage| {
                [Phase::WarmUp, Phase::CoolDown].map(|phase| longest_run(stage, phase, &exercises))
            });
            let most = runs.max().unwrap_or(0);
            longer += usize::from(most > RUNNING_MOST);
            assert!(
                most <= RUNNING_MOST || told,
                "{name} {seed}: {most} blocks, not told"
            );
        }
        println!(
            "{name}: {longer} of {people} with more than {RUNNING_MOST} blocks of one exercise, each told"
        );
        assert!(people > 100, "the people must hold such: {people}");
        assert!(longer * one_in <= people, "{name}: {longer} of {people}");
    }
}

#[test]
fn law_the_pulse_never_rises_again_on_the_way_down() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let (mut people, mut with_drift) = (0, 0);
    for seed in 0..PEOPLE {
        let (plan, _) = planned(seed, as_drawn, &service, &exercises);
        let mut most = 0.0_f64;
        for stage in &plan.stages {
            let (mut at_s, mut lowest, mut lowest_alone) = (0.0, f64::INFINITY, f64::INFINITY);
            for segment in &stage.segments {
                at_s += f64::from(segment.duration_ms) / 1000.0;
                let Some(bpm) = segment.predicted_hr else {
                    continue;
                };
                let alone = bpm - DRIFT_PER_S * f64::max(0.0, at_s - DRIFT_FROM_S);
                if segment.phase != Phase::CoolDown {
                    (lowest, lowest_alone) = (bpm, alone);
                    continue;
                }
                let rise = alone - lowest_alone;
                assert!(
                    rise <= RISE_BPM + ROUNDED_BPM,
                    "{seed} page {}: rises by {rise} at {at_s} s",
                    stage.number
                );
                most = most.max(bpm - lowest);
                lowest = lowest.min(bpm);
                lowest_alone = lowest_alone.min(alone);
            }
        }
        people += usize::from(!plan.stages.is_empty());
        with_drift += usize::from(most > RISE_BPM);
    }
    println!(
        "{with_drift} of {people} rise by more than {RISE_BPM} bpm with the drift of long exercise"
    );
    assert!(people > 100, "the people must hold such: {people}");
    assert!(with_drift * 20 <= people, "{with_drift} of {people}");
}

/// Where nothing to sit on is known and too little is open standing, a chair is asked for, and with one there is a page.
#[test]
fn law_who_has_nothing_to_sit_on_and_too_little_to_take_turns_with_is_asked_for_a_chair() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let (mut asked, mut opened) = (0, 0);
    for seed in 0..2 * PEOPLE {
        let (plan, findings) = planned(seed, worktops_only, &service, &exercises);
        let why = findings.iter().find(|one| {
            one.rule.0 == "ladder/no-warm-up" && one.text.contains("Nothing to sit on")
        });
        let Some(why) = why else { continue };
        assert!(plan.stages.is_empty(), "{seed}");
        assert!(
            why.text.contains("no chair in the home"),
            "{seed}: {}",
            why.text
        );
        asked += 1;
        let with_chair = |case: &mut Case| {
            worktops_only(case);
            case.home.places.push(place("the chair", PlaceKind::Chair));
        };
        let (plan, findings) = planned(seed, with_chair, &service, &exercises);
        let ceiling = findings
            .iter()
            .any(|one| one.text.contains("hard pulse ceiling"));
        opened += usize::from(!plan.stages.is_empty());
        assert!(!plan.stages.is_empty() || ceiling, "{seed}: {findings:?}");
    }
    println!("{asked} are asked for a chair, with one {opened} have a page");
    assert!(asked > 5 && opened * 2 > asked, "{opened} of {asked}");
}
