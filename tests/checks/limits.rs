//! The limits of random people.

use crate::assert_none;
use rehab::assessment::Case;
use tests::answers::{limits_of, on_all_cores, people};
use tests::checker::{Fault, Library, check_limits};
use tests::random_case;
use tests::services::{Team, team_of, teams};

/// How many people without the environment variable.
const PEOPLE: u64 = 100_000;

#[test]
fn law_no_limit_of_random_people_is_broken_by_the_checkers_reading() {
    let (library, teams) = (Library::read(), teams());
    let count = people("HEARTHPACE_LIMITS", PEOPLE);
    let found = on_all_cores(count, |seed| {
        faults(&library, team_of(&teams, seed), &random_case(seed))
    });
    println!("limits of {count} people checked");
    assert_none(&found);
}

fn faults(library: &Library, team: &Team, case: &Case) -> Option<Vec<Fault>> {
    let answer = limits_of(case, &team.service);
    let faults = check_limits(library, &team.settings, &answer.case, &answer.limits);
    (!faults.is_empty()).then_some(faults)
}

/// Every word that a service may choose for the peak, the cut-offs and the gain of weight.
#[test]
fn law_no_limit_is_broken_under_any_policy_or_set_of_cut_offs() {
    let library = Library::read();
    let policies = rehab::service::HrMaxPolicy::ALL.iter();
    let sets = rehab::service::ScreeningSet::ALL.iter();
    let weights = rehab::service::WeightGainRule::ALL.iter();
    let chosen = policies
        .map(|word| format!("hr_max_policy = \"{word}\""))
        .chain(sets.map(|word| format!("screening_set = \"{word}\"")))
        .chain(weights.map(|word| format!("weight_gain_rule = \"{word}\"")));
    for line in chosen {
        let team = Team::of_text(format!("name = \"Invented\"\n{line}\n"));
        let found = on_all_cores(people("HEARTHPACE_LIMITS", PEOPLE) / 200, |seed| {
            faults(&library, &team, &random_case(seed))
        });
        println!("{line}");
        assert_none(&found);
    }
}
