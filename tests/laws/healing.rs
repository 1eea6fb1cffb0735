//! What heals is left alone, and what a page says of a condition is what the page does.

use rehab::assessed::Decision;
use rehab::assessment::{Event, EventKind, HistoryItem, Procedure, ProcedureKind};
use rehab::calendar::days_after;
use rehab::programme::{
    Choices, Exercise, ExerciseKind, Exercises, MuscleGroup, Phase, Plan, RestrictionEffect,
    RestrictionReason, Stage, Variant, VariantRef, plan_with,
};
use rehab::service::Service;
use rehab::wording::Words;
use std::collections::BTreeSet;
use tests::services::teams;
use tests::{RANDOM_DAY, random_case};

/// Weeks during which the breastbone heals. Source: sternal-precautions.
const HEALS_WEEKS: i32 = 12;
/// The first turns in heart failure come to no more than this. Source: ccs-heart-failure.
const FAILURE_MOST_S: u32 = 15 * 60;
/// People that are looked at.
const PEOPLE: u64 = 300;

/// Words by which a movement draws an arm across the chest or the chest apart.
const PULLS: &[&str] = &[
    "across your body",
    "behind your neck",
    "behind your back",
    "on the seat behind you",
    "open your chest",
    "round yourself",
];
/// Stretches of the shoulder girdle that pull on nothing: both arms together, close to the body, nobody's hand drawing.
const GENTLE: &[&str] = &["upper-back-stretch/seated-small"];

fn pulls_on_the_breastbone(exercise: &Exercise, variant: &Variant, words: &Words) -> bool {
    let named = VariantRef {
        exercise: exercise.id.clone(),
        variant: variant.id.clone(),
    };
    let said = words.exercise(&named).expect("every variant has words");
    let said = format!("{} {}", said.set_up, said.say.join(" "));
    let girdle = [
        MuscleGroup::Chest,
        MuscleGroup::UpperBack,
        MuscleGroup::Triceps,
        MuscleGroup::Deltoid,
        MuscleGroup::RotatorCuff,
    ];
    let stretched = exercise.is(ExerciseKind::Stretch)
        && exercise
            .muscles
            .iter()
            .any(|muscle| girdle.contains(muscle));
    let gentle = GENTLE.contains(&format!("{}/{}", exercise.id, variant.id).as_str());
    !gentle && (stretched || PULLS.iter().any(|words| said.contains(words)))
}

fn pulling(exercises: &Exercises) -> BTreeSet<(String, String)> {
    let words = formats::words("en-GB").expect("the words are read");
    exercises
        .iter()
        .flat_map(|exercise| exercise.variants.iter().map(move |one| (exercise, one)))
        .filter(|(exercise, variant)| pulls_on_the_breastbone(exercise, variant, &words))
        .map(|(exercise, variant)| (exercise.id.clone(), variant.id.clone()))
        .collect()
}

/// The arm drawn across the body stood open four weeks after the breastbone had been cut.
#[test]
fn law_what_pulls_across_the_breastbone_is_closed_while_it_heals() {
    let exercises = formats::exercises().expect("the library is read");
    let pulling = pulling(&exercises);
    assert!(pulling.contains(&("upper-arm-stretch".into(), "seated-across".into())));
    assert!(pulling.len() > 8, "{pulling:?}");
    for (id, way) in &pulling {
        let exercise = exercises.iter().find(|one| one.id == *id);
        let variants = exercise
            .map(|one| one.variants.iter())
            .expect("it is there");
        let variant = variants.into_iter().find(|one| one.id == *way);
        let closed = variant.is_some_and(|variant| {
            variant.restrictions.iter().any(|one| {
                one.reason == RestrictionReason::Sternotomy
                    && one.effect == RestrictionEffect::Exclude
                    && one
                        .weeks
                        .is_none_or(|weeks| weeks >= f64::from(HEALS_WEEKS))
            })
        });
        assert!(closed, "{id}/{way}");
    }
}

fn planned(seed: u64, exercises: &Exercises, weeks: i32) -> Plan {
    let mut case = random_case(seed);
    let date = Some(days_after(RANDOM_DAY, -7 * weeks - 1));
    for event in &mut case.events {
        event.procedures.clear();
        event.date = event.date.map(|_| days_after(RANDOM_DAY, -4000));
    }
    case.history
        .present
        .retain(|one| *one != HistoryItem::SternumUnstable);
    case.events.push(Event {
        kind: EventKind::BypassSurgery,
        date,
        procedures: vec![Procedure {
            kind: ProcedureKind::Sternotomy,
            date,
            access: None,
        }],
        complicated: Some(false),
        residual_disease: Some(false),
    });
    let choices = Choices {
        stage: 1 + (seed % 5) as u16,
        ..Choices::none()
    };
    plan_with(&case, &Service::cautious(), exercises, RANDOM_DAY, &choices).0
}

#[test]
fn law_nobody_whose_breastbone_heals_is_given_what_pulls_across_it() {
    let exercises = formats::exercises().expect("the library is read");
    let pulling = pulling(&exercises);
    let pulled = |plan: &Plan| -> usize {
        let segments = plan.stages.iter().flat_map(|stage| &stage.segments);
        let named = segments.flat_map(|one| one.doing.iter().chain(one.easier.iter()));
        let named = named.map(|one| (one.exercise.clone(), one.variant.clone()));
        named.filter(|one| pulling.contains(one)).count()
    };
    let (mut pages, mut healed) = (0, 0);
    for seed in 0..PEOPLE {
        let weeks = 2 + (seed % 10) as i32;
        let plan = planned(seed, &exercises, weeks);
        pages += plan.stages.len();
        assert_eq!(pulled(&plan), 0, "{seed}, {weeks} weeks after");
        healed += pulled(&planned(seed, &exercises, HEALS_WEEKS + 1));
    }
    assert!(pages > 100, "only {pages} pages were looked at");
    assert!(
        healed > 20,
        "the law looks at nothing: {healed} once healed"
    );
}

fn seconds(stage: &Stage, phase: Phase) -> u32 {
    let of_phase = stage.segments.iter().filter(|one| one.phase == phase);
    of_phase.map(|one| one.duration_ms / 1000).sum()
}

/// "10 to 15 minutes" stood beside a first page of half an hour: the minutes are those of the turns, and the first turns
/// keep to them.
#[test]
fn law_in_heart_failure_the_first_turns_are_as_short_as_is_said() {
    let exercises = formats::exercises().expect("the library is read");
    let mut looked = 0;
    for team in teams() {
        let (name, service) = (&team.service.name, &team.service);
        for seed in 0..PEOPLE {
            let mut case = random_case(seed);
            case.history
                .absent
                .retain(|one| *one != HistoryItem::HeartFailure);
            case.history.present.push(HistoryItem::HeartFailure);
            let (plan, findings) =
                plan_with(&case, service, &exercises, RANDOM_DAY, &Choices::none());
            if plan.assessed.screening.decision != Decision::Exercise {
                continue;
            }
            let said = findings.iter().chain(&plan.assessed.findings);
            let mut said = said.filter(|one| one.rule.0 == "adapt/heart-failure");
            assert!(
                said.any(|one| one.text.contains("first page is these alone")),
                "{name} {seed}"
            );
            let turns: Vec<u32> = plan
                .stages
                .iter()
                .map(|stage| seconds(stage, Phase::Conditioning))
                .collect();
            assert_eq!(turns.first().copied().unwrap_or(0), 0, "{name} {seed}");
            if let Some(first) = turns.iter().find(|turns| **turns > 0) {
                assert!(*first <= FAILURE_MOST_S, "{name} {seed}: {first} s");
                looked += 1;
            }
            assert!(
                plan.stages.iter().all(|one| one.sessions_per_week <= 3),
                "{name} {seed}"
            );
        }
    }
    assert!(looked > 50, "only {looked} pages with turns were looked at");
}
