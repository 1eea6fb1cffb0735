//! What is usual in home circuits and has no source: our ranges contain it, or every composed programme keeps to it.

use rehab::evidence::{InputKind, Value, Values};
use rehab::programme::{ArmHeight, Choices, Phase, SegmentKind, Stage, plan_with};
use rehab::rules::rule;
use rehab::service::Service;
use tests::tools::root;
use tests::{RANDOM_DAY, random_case};

/// The rule that holds the table.
const TABLE: &str = "session/common-practice";
/// People whose programmes are looked at, each at the rung where a habit shows.
const PEOPLE: u64 = 120;

/// The usual values of a habit that is a setting, as lines of a service file; none where it is a rule.
fn settings(of: &str) -> &'static [&'static str] {
    match of {
        "brisk-station" => &["cardiovascular_s = { least_s = 60, first_s = 60, most_s = 60 }"],
        "easy-station" => &["active_recovery_s = { least_s = 30, first_s = 30, most_s = 30 }"],
        "effort" => &[
            "effort_band = [3, 4]",
            "effort_band = [3, 5]",
            "effort_band = [4, 5]",
        ],
        "stretch" => &[
            "warm_up_stretch_s = { least_s = 8, first_s = 8, most_s = 10 }",
            "warm_up_stretch_s = { least_s = 8, first_s = 10, most_s = 10 }",
        ],
        "raises" | "step-ups" | "second-round" | "warm-up-alone" => &[],
        other => panic!("the table has a new habit, {other}: hold it here"),
    }
}

/// Common practice, no source. The built-in values and the ranges that a service may set hold every value.
#[test]
fn law_our_ranges_contain_what_is_usual() {
    let table = rule(TABLE).expect("the table is a rule");
    let InputKind::Choice(habits) = table.inputs[0].kind else {
        panic!("the table is chosen from by a word");
    };
    assert_eq!(habits.len(), 8);
    for habit in habits {
        let given = [("of".to_owned(), (*habit).to_owned())];
        let values = Values::check(table, &given).expect("one of the table");
        let answer = (table.evaluate)(&values).expect("every habit is answered");
        assert!(matches!(answer.value, Value::Text(_)));
        let held = settings(habit);
        let named = answer.working.contains("setting");
        assert_eq!(named, !held.is_empty(), "{habit}: {}", answer.working);
        for line in held {
            let text = format!("name = \"Usual\"\n{line}\n");
            if let Err(problems) = formats::service::read("usual.toml", text.as_bytes()) {
                panic!("{habit}: {problems}");
            }
            let setting = line.split_whitespace().next().unwrap_or_default();
            assert!(answer.working.contains(setting), "{habit}: {setting}");
        }
    }
    let lengths = Service::cautious().lengths;
    for (times, usual) in [
        (lengths.cardiovascular_s, 60..=60),
        (lengths.active_recovery_s, 30..=30),
        (lengths.warm_up_stretch_s, 8..=10),
    ] {
        assert!(times.least_s <= *usual.start() && *usual.end() <= times.most_s);
        assert!(usual.contains(&times.first_s), "{times:?}");
    }
}

/// Common practice, no source: raises go no higher than the shoulder, both legs lead in step-ups.
#[test]
fn law_raises_end_at_the_shoulder_and_both_legs_lead() {
    let exercises = formats::exercises().expect("the library is read");
    let (mut raises, mut steps) = (0, 0);
    for exercise in exercises.iter() {
        if exercise.id.ends_with("-raises") {
            for variant in &exercise.variants {
                raises += 1;
                assert_ne!(variant.arms, ArmHeight::AboveShoulder, "{}", exercise.id);
            }
        }
        if exercise.id.contains("step-ups") {
            let path = root().join(format!("data/words/en-GB/exercises/{}.toml", exercise.id));
            let text = std::fs::read_to_string(path).expect("every exercise has its words");
            for line in text.lines().filter(|line| line.starts_with("say = ")) {
                steps += 1;
                let both = ["change the foot that goes first", "change feet"]
                    .iter()
                    .any(|words| line.contains(words));
                assert!(both, "{}: {line}", exercise.id);
            }
        }
    }
    assert!(
        raises >= 10 && steps >= 4,
        "{raises} raises, {steps} step-ups"
    );
}

/// Common practice, no source: whatever the rounds, one warm-up before all and one cool-down after all; the
/// first rung may be a warm-up and cool-down alone, and is a session of the week like any other.
#[test]
fn law_a_second_round_has_no_second_warm_up_and_a_warm_up_alone_is_a_session() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let (mut second, mut alone) = (0, 0);
    for seed in 0..PEOPLE {
        for stage in [1, 12] {
            let choices = Choices {
                stage,
                ..Choices::none()
            };
            let case = random_case(seed);
            let (plan, _) = plan_with(&case, &service, &exercises, RANDOM_DAY, &choices);
            for one in &plan.stages {
                let phases: Vec<Phase> = one.segments.iter().map(|one| one.phase).collect();
                assert!(phases.is_sorted(), "{seed}");
                assert_eq!(phases.last(), Some(&Phase::CoolDown), "{seed}");
                second += usize::from(one.segments.iter().any(|part| part.round == 2));
                if !has_stations(one) {
                    alone += 1;
                    assert!(
                        one.sessions_per_week >= 1 && one.met_minutes() > 0.0,
                        "{seed}"
                    );
                }
            }
        }
    }
    println!("{second} rungs with a second round, {alone} of a warm-up alone");
    assert!(second > 5 && alone > 50, "{second} and {alone}");
}

fn has_stations(stage: &Stage) -> bool {
    let mut kinds = stage.segments.iter().map(|one| one.kind);
    kinds.any(|kind| {
        matches!(
            kind,
            SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
        )
    })
}
