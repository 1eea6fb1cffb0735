//! Controls of hazards, each held on whole chains of people who have the hazard.

use rehab::assessment::{
    Case, Event, EventKind, ExerciseTest, ExerciseTestSymptom, HistoryItem, PressureResponse,
    ProcedureKind, Rhythm, Test, TestResult,
};
use rehab::calendar::days_after;
use rehab::service::Service;
use serde_json::Value;
use std::collections::BTreeMap;
use tests::answers::{ChainAnswer, RUNGS, chain_of, on_all_cores};
use tests::checker::{Library, check_limits, check_programme};
use tests::services::Team;
use tests::{Draw, RANDOM_DAY, random_case};

/// People that each hazard is given to; most of them may not exercise for other reasons.
const PEOPLE: u64 = 1_500;
/// Chains with rungs that must be among them.
const LEAST: usize = 60;

/// Chains with at least one rung of people to whom something was done.
fn chains(give: impl Fn(&mut Case, &mut Draw) + Sync) -> Vec<(u64, ChainAnswer)> {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let people = if tests::tools::unoptimised() {
        PEOPLE / 3
    } else {
        PEOPLE
    };
    let found = on_all_cores(people, |seed| {
        let mut case = random_case(seed);
        give(&mut case, &mut Draw::new(seed ^ 0x4A2A));
        let answer = chain_of(&case, &service, &exercises, RUNGS);
        (!stages(&answer).is_empty()).then_some(answer)
    });
    let least = if people < PEOPLE { LEAST / 3 } else { LEAST };
    assert!(found.len() >= least, "{} chains only", found.len());
    found
}

fn stages(answer: &ChainAnswer) -> &[Value] {
    answer.programme["stages"]
        .as_array()
        .map_or(&[], Vec::as_slice)
}

fn segments(stage: &Value) -> &[Value] {
    stage["segments"].as_array().map_or(&[], Vec::as_slice)
}

fn assert_checked(library: &Library, seed: u64, answer: &ChainAnswer) {
    let settings = Team::cautious().settings;
    let (case, limits) = (&answer.case, &answer.limits);
    let mut faults = check_limits(library, &settings, case, limits);
    faults.extend(check_programme(
        library,
        &settings,
        case,
        limits,
        &answer.programme,
    ));
    assert_eq!(faults, Vec::new(), "{seed}");
}

/// H-12: after a transplant there is no pulse target, no predicted pulse and no ceiling from a peak; effort leads.
#[test]
fn law_a_transplanted_heart_has_no_pulse_target_in_any_rung() {
    let library = Library::read();
    let found = chains(|case, _| {
        case.heart.rhythm = Some(Rhythm::Sinus);
        case.events.push(Event {
            kind: EventKind::Transplant,
            date: Some(days_after(RANDOM_DAY, -400)),
            procedures: Vec::new(),
            complicated: Some(false),
            residual_disease: Some(false),
        });
    });
    for (seed, answer) in &found {
        let limits = &answer.limits["limits"];
        assert!(limits["hr"].is_null(), "{seed}");
        assert_ne!(limits["hr_ceiling_kind"], "guiding", "{seed}");
        assert!(limits["effort"]["high"].as_f64() > Some(0.0), "{seed}");
        for stage in stages(answer) {
            assert!(stage["predicted"]["peak_hr"].is_null(), "{seed}");
            let silent = segments(stage)
                .iter()
                .all(|one| one["predicted_hr"].is_null());
            assert!(silent, "{seed}");
        }
        assert_checked(&library, *seed, answer);
    }
}

/// H-10: with ischaemia at a rate the ceiling is ten beats under it and hard; no station and no second passes it.
#[test]
fn law_no_rung_passes_an_ischaemic_ceiling() {
    let library = Library::read();
    let found = chains(|case, draw| {
        case.heart.rhythm = Some(Rhythm::Sinus);
        // A defibrillator without its rate takes every ceiling away and blocks signing: another rule, another test.
        case.heart.device = None;
        for event in &mut case.events {
            event
                .procedures
                .retain(|one| one.kind != ProcedureKind::Icd);
        }
        case.tests
            .retain(|test| !matches!(test.result, TestResult::Exercise(_)));
        case.tests.push(Test {
            date: Some(RANDOM_DAY),
            place: None,
            aid: None,
            effort: None,
            beta_blocked: Some(true),
            result: TestResult::Exercise(ischaemic(draw)),
        });
    });
    let mut predicted = 0;
    for (seed, answer) in &found {
        let tests = answer.case["test"].as_array().expect("there is a test");
        let onset = tests
            .iter()
            .filter_map(|test| test["ischaemia_hr_bpm"].as_f64());
        let most = onset.fold(f64::INFINITY, f64::min) - 10.0;
        let limits = &answer.limits["limits"];
        assert_eq!(limits["hr_ceiling_kind"], "hard", "{seed}");
        assert!(limits["hr_ceiling"].as_f64() <= Some(most), "{seed}");
        for segment in stages(answer).iter().flat_map(segments) {
            if let Some(bpm) = segment["predicted_hr"].as_f64() {
                predicted += 1;
                assert!(bpm <= most, "{seed}: {segment}");
            }
        }
        assert_checked(&library, *seed, answer);
    }
    assert!(predicted > 1_000, "{predicted} moments only");
}

fn ischaemic(draw: &mut Draw) -> ExerciseTest {
    let peak = draw.number(112.0, 150.0, 1.0);
    ExerciseTest {
        peak_hr_bpm: Some(peak),
        peak_mets: Some(draw.number(4.0, 8.0, 0.1)),
        symptoms: Some(vec![ExerciseTestSymptom::Angina]),
        arrhythmia: Some(false),
        ischaemia_hr_bpm: Some(peak - draw.number(0.0, 12.0, 1.0)),
        st_depression_mm: Some(1.0),
        bp_response: Some(PressureResponse::Normal),
        ..ExerciseTest::unknown()
    }
}

/// H-25: whose pressure falls on standing never changes posture between stations twice running, has a change-over before
/// every station, and does nothing that the data forbid for it, sitting and standing up among them.
#[test]
fn law_the_hypotensive_never_change_posture_twice_running() {
    let library = Library::read();
    let postures = postures();
    let found = chains(|case, _| {
        case.history
            .absent
            .retain(|item| *item != HistoryItem::OrthostaticHypotension);
        case.history
            .present
            .push(HistoryItem::OrthostaticHypotension);
    });
    let (mut changes, mut rising) = (0, 0);
    for (seed, answer) in &found {
        assert_eq!(answer.limits["limits"]["hypotensive"], true, "{seed}");
        for stage in stages(answer) {
            let list = segments(stage);
            let mut before: Option<&str> = None;
            let mut changed = false;
            for (at, segment) in list.iter().enumerate() {
                let kind = segment["kind"].as_str().unwrap_or("");
                if kind != "cardiovascular" && kind != "active-recovery" {
                    continue;
                }
                let between = list[at - 1]["kind"].as_str().unwrap_or("");
                assert!(
                    ["march", "walk", "rest"].contains(&between)
                        && list[at - 1]["seconds"].as_f64() >= Some(10.0),
                    "{seed}: no pause before {segment}"
                );
                let name = (
                    segment["exercise"].as_str().unwrap_or("").to_owned(),
                    segment["variant"].as_str().unwrap_or("").to_owned(),
                );
                let posture = postures[&name].as_str();
                rising += usize::from(posture == "rising");
                let changes_now = before.is_some_and(|before| before != posture);
                assert!(
                    !(changed && changes_now),
                    "{seed}, rung {}",
                    stage["number"]
                );
                changes += usize::from(changes_now);
                changed = changes_now;
                before = Some(posture);
            }
        }
        assert_checked(&library, *seed, answer);
    }
    println!(
        "{} chains, {changes} changes of posture, {rising} stations of rising",
        found.len()
    );
    assert!(changes > 50, "{changes} changes of posture only");
}

/// The posture of every way: seated, up (standing or walking) or rising.
fn postures() -> BTreeMap<(String, String), String> {
    let exercises = formats::exercises().expect("the library is read");
    let mut all = BTreeMap::new();
    for exercise in exercises.iter() {
        for variant in &exercise.variants {
            let posture = match variant.posture.word() {
                "walking" | "standing" => "up",
                other => other,
            };
            all.insert(
                (exercise.id.clone(), variant.id.clone()),
                posture.to_owned(),
            );
        }
    }
    all
}
