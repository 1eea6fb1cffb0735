//! What the checker found wrong once, each kept from coming back.

use rehab::service::Service;
use tests::answers::chain_of_seed;
use tests::checker::{Library, check_programme};

/// A warm-up made two minutes longer made room for dearer movements as well: the dose of the week grew by 18 per cent,
/// because only rungs with stations were held against the growth.
#[test]
fn law_a_longer_warm_up_keeps_to_the_growth_of_a_week() {
    let exercises = formats::exercises().expect("the library is read");
    let answer = chain_of_seed(455, &Service::cautious(), &exercises);
    let stages = answer.programme["stages"].as_array().expect("rungs");
    assert!(stages.len() >= 2, "the person must climb");
    let levers: Vec<&str> = stages
        .iter()
        .filter_map(|one| one["lever"].as_str())
        .collect();
    assert!(levers.contains(&"longer-warm-up"), "{levers:?}");
    let faults = check_programme(
        &Library::read(),
        &answer.case,
        &answer.limits,
        &answer.programme,
    );
    assert_eq!(faults, Vec::new());
}
