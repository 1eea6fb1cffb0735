//! Whole chains of random people: every rung up to the sixth.

use crate::assert_none;
use serde_json::Value;
use std::sync::atomic::{AtomicU64, Ordering};
use tests::answers::{chain_of_seed, on_all_cores, people};
use tests::checker::{Library, check_limits, check_programme};
use tests::services::{team_of, teams};

/// Rungs of a programme that have stations.
fn stations(programme: &Value) -> u64 {
    let stages = programme["stages"].as_array().into_iter().flatten();
    stages.filter(|one| one["objective"].is_i64()).count() as u64
}

/// How many chains without the environment variable.
const CHAINS: u64 = 2_000;

#[test]
fn law_no_rung_of_random_people_is_broken_by_the_checkers_reading() {
    let (library, teams) = (Library::read(), teams());
    let exercises = formats::exercises().expect("the library is read");
    let count = people("HEARTHPACE_CHAINS", CHAINS);
    let rungs: Vec<_> = teams.iter().map(|_| AtomicU64::new(0)).collect();
    let found = on_all_cores(count, |seed| {
        let team = team_of(&teams, seed);
        let answer = chain_of_seed(seed, &team.service, &exercises);
        let (case, limits) = (&answer.case, &answer.limits);
        let with_stations = stations(&answer.programme);
        let at = teams.iter().position(|one| std::ptr::eq(one, team));
        rungs[at.expect("one of them")].fetch_add(with_stations, Ordering::Relaxed);
        let settings = &team.settings;
        let mut faults = check_limits(&library, settings, case, limits);
        faults.extend(check_programme(
            &library,
            settings,
            case,
            limits,
            &answer.programme,
        ));
        (!faults.is_empty()).then_some(faults)
    });
    let rungs: Vec<u64> = rungs.into_iter().map(AtomicU64::into_inner).collect();
    println!("{count} chains checked; rungs with stations by service: {rungs:?}");
    assert!(rungs.iter().all(|one| *one > 0), "{rungs:?}");
    assert_none(&found);
}
