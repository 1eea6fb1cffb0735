//! Whole chains of random people: every rung up to the sixth.

use crate::assert_none;
use rehab::service::Service;
use tests::answers::{chain_of_seed, on_all_cores, people};
use tests::checker::{Library, check_limits, check_programme};

/// How many chains without the environment variable.
const CHAINS: u64 = 2_000;

#[test]
fn law_no_rung_of_random_people_is_broken_by_the_checkers_reading() {
    let (library, service) = (Library::read(), Service::cautious());
    let exercises = formats::exercises().expect("the library is read");
    let count = people("HEARTHPACE_CHAINS", CHAINS);
    let found = on_all_cores(count, |seed| {
        let answer = chain_of_seed(seed, &service, &exercises);
        let (case, limits) = (&answer.case, &answer.limits);
        let mut faults = check_limits(&library, case, limits);
        faults.extend(check_programme(&library, case, limits, &answer.programme));
        (!faults.is_empty()).then_some(faults)
    });
    println!("{count} chains checked");
    assert_none(&found);
}
