//! The limits of random people.

use crate::assert_none;
use rehab::service::Service;
use tests::answers::{limits_of, on_all_cores, people};
use tests::checker::{Library, check_limits};
use tests::random_case;

/// How many people without the environment variable.
const PEOPLE: u64 = 100_000;

#[test]
fn law_no_limit_of_random_people_is_broken_by_the_checkers_reading() {
    let (library, service) = (Library::read(), Service::cautious());
    let count = people("HEARTHPACE_LIMITS", PEOPLE);
    let found = on_all_cores(count, |seed| {
        let answer = limits_of(&random_case(seed), &service);
        let faults = check_limits(&library, &answer.case, &answer.limits);
        (!faults.is_empty()).then_some(faults)
    });
    println!("limits of {count} people checked");
    assert_none(&found);
}
