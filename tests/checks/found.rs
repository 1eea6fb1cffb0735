//! What the checker found wrong once, each kept from coming back.

use tests::answers::chain_of_seed;
use tests::checker::{Library, check_programme};
use tests::services::Team;

/// A warm-up made two minutes longer made room for dearer movements as well: the dose of the week grew by 18 per cent,
/// because only rungs with stations were held against the growth.
#[test]
fn law_a_longer_warm_up_keeps_to_the_growth_of_a_week() {
    let exercises = formats::exercises().expect("the library is read");
    let cautious = Team::cautious();
    let answer = chain_of_seed(455, &cautious.service, &exercises);
    let stages = answer.programme["stages"].as_array().expect("rungs");
    assert!(stages.len() >= 2, "the person must climb");
    let levers: Vec<&str> = stages
        .iter()
        .filter_map(|one| one["lever"].as_str())
        .collect();
    assert!(levers.contains(&"longer-warm-up"), "{levers:?}");
    let faults = check_programme(
        &Library::read(),
        &cautious.settings,
        &answer.case,
        &answer.limits,
        &answer.programme,
    );
    assert_eq!(faults, Vec::new());
}

/// What was watched before a new event counted for the first fortnight: four and five sessions a week were planned for
/// people who begin again.
#[test]
fn law_after_a_new_event_the_first_fortnight_begins_again() {
    let exercises = formats::exercises().expect("the library is read");
    let cautious = Team::cautious();
    let answer = chain_of_seed(498, &cautious.service, &exercises);
    assert_eq!(answer.limits["eligibility"]["watched_done"], 0);
    let watched = answer.case["watched"].as_array().map_or(0, Vec::len);
    assert!(watched > 0, "the person was watched before the event");
    let stages = answer.programme["stages"].as_array().expect("rungs");
    assert!(!stages.is_empty(), "the person has a programme");
    for stage in stages {
        assert_eq!(stage["sessions_per_week"], 3, "{}", stage["number"]);
    }
}

/// Under a service without time between stations, whoever should change posture slowly had no pause at all.
#[test]
fn law_who_needs_slow_changes_of_posture_has_a_pause_also_where_a_service_sets_none() {
    let exercises = formats::exercises().expect("the library is read");
    let library = Library::read();
    let team = Team::of_text("name = \"Hasty\"\nchangeover_s = 0\n".to_owned());
    let mut pauses = 0;
    for seed in 0..600 {
        let answer = chain_of_seed(seed, &team.service, &exercises);
        if answer.limits["limits"]["hypotensive"] != true {
            continue;
        }
        let (case, limits) = (&answer.case, &answer.limits);
        let faults = check_programme(&library, &team.settings, case, limits, &answer.programme);
        assert_eq!(faults, Vec::new(), "{seed}");
        let stages = answer.programme["stages"].as_array().expect("rungs").iter();
        let segments = stages.filter_map(|stage| stage["segments"].as_array());
        for between in segments.flatten().filter(|one| one["exercise"].is_null()) {
            pauses += usize::from(between["phase"] == "conditioning");
            assert!(between["seconds"].as_f64() >= Some(15.0), "{seed}");
        }
    }
    assert!(pauses > 50, "{pauses} pauses");
}
