//! Feasibility is a law: who may exercise gets something to do. The share without is counted with its reasons.

use rehab::service::Service;
use serde_json::Value;
use std::collections::BTreeMap;
use tests::answers::{RUNGS, chain_of, on_all_cores, people};
use tests::random_case;

/// How many people without the environment variable.
const CHAINS: u64 = 2_000;
/// First rungs are made for so many times as many people.
const FIRST_RUNGS: u64 = 5;
/// Stations of a round that everyone should come to.
const ROUND: usize = 4;

/// May exercise, has a chair (or nothing is known of the home) and 2.5 METs or more.
fn could(case: &Value, limits: &Value) -> bool {
    let places = case["home"]["place"].as_array();
    let chair =
        places.is_none_or(|all| all.is_empty() || all.iter().any(|place| place["kind"] == "chair"));
    limits["screening"]["decision"] == "exercise"
        && chair
        && limits["capacity"]["mets"]
            .as_f64()
            .is_some_and(|mets| mets >= 2.5)
}

fn most_stations(programme: &Value) -> usize {
    let stages = programme["stages"].as_array().into_iter().flatten();
    let of = |stage: &Value| {
        let list = stage["segments"].as_array().into_iter().flatten();
        list.filter(|one| one["kind"] == "cardiovascular" || one["kind"] == "active-recovery")
            .count()
    };
    stages.map(of).max().unwrap_or(0)
}

fn reasons(programme: &Value) -> String {
    let list = programme["findings"].as_array().into_iter().flatten();
    let words: Vec<&str> = list
        .filter(|one| one["weight"] != "find-out")
        .filter(|one| one["id"] == "ladder/no-stations" || one["weight"] == "caution")
        .filter_map(|one| one["text"].as_str())
        .collect();
    words.join(" | ")
}

/// Counts the answers for all who could, and for those without what is asked the reasons.
fn count(
    upto: u16,
    people: u64,
    has: impl Fn(&Value) -> bool + Sync,
) -> (usize, usize, BTreeMap<String, u32>) {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let answers = on_all_cores(people, |seed| {
        let answer = chain_of(&random_case(seed), &service, &exercises, upto);
        could(&answer.case, &answer.limits).then(|| {
            let without = !has(&answer.programme);
            without.then(|| reasons(&answer.programme))
        })
    });
    let mut why = BTreeMap::new();
    for reason in answers.iter().filter_map(|(_, reason)| reason.as_ref()) {
        *why.entry(reason.clone()).or_insert(0) += 1;
    }
    let without = answers
        .iter()
        .filter(|(_, reason)| reason.is_some())
        .count();
    (answers.len(), without, why)
}

fn tell(what: &str, (all, without, why): &(usize, usize, BTreeMap<String, u32>)) -> f64 {
    let share = 100.0 * *without as f64 / *all as f64;
    println!("{without} of {all} ({share:.2} per cent) without {what}:");
    for (reason, count) in why {
        println!("  {count} x {reason}");
    }
    share
}

/// The target is under 2 per cent; what is above it are people whose hard ceiling lies so close to their resting pulse that
/// even sitting work may pass it. They are told to ask the doctor.
#[test]
fn law_few_who_may_exercise_are_left_without_a_programme() {
    let people = people("HEARTHPACE_CHAINS", CHAINS) * FIRST_RUNGS;
    let counted = count(1, people, |programme| {
        programme["stages"]
            .as_array()
            .is_some_and(|all| !all.is_empty())
    });
    let share = tell("a first rung", &counted);
    assert!(counted.0 > 100, "{} people only", counted.0);
    assert!(share < 3.0, "{share:.2} per cent");
    for reason in counted.2.keys() {
        assert!(
            reason.contains("hard pulse ceiling"),
            "a reason that was not met before: '{reason}'"
        );
    }
}

#[test]
fn law_most_who_get_a_programme_come_to_a_round_of_four_stations() {
    let people = people("HEARTHPACE_CHAINS", CHAINS);
    let counted = count(RUNGS, people, |programme| most_stations(programme) >= ROUND);
    let share = tell("a round of four stations within six rungs", &counted);
    assert!(share < 10.0, "{share:.2} per cent");
    // Who comes to fewer is told why.
    let untold = counted.2.get("").copied().unwrap_or(0);
    assert_eq!(untold, 0);
}
