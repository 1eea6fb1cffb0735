//! The same input gives the same bytes, by whichever way it comes in.

use rehab::programme::{Choices, plan_with};
use rehab::service::Service;
use tests::answers::{RUNGS, case_text, chain_of, limits_of, on_all_cores, people, read_text};
use tests::{RANDOM_DAY, random_case};

/// People without an environment variable.
const PEOPLE: u64 = 500;

#[test]
fn law_the_same_input_gives_the_same_bytes() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    let count = people("HEARTHPACE_ALIKE", PEOPLE);
    let differing = on_all_cores(count, |seed| {
        let case = random_case(seed);
        let read = match read_text(&case_text(&case)) {
            Ok(read) => read,
            Err(why) => return Some(why),
        };
        let bytes = |case| {
            let chain = chain_of(case, &service, &exercises, RUNGS);
            format!(
                "{}{}{}",
                limits_of(case, &service).limits,
                chain.limits,
                chain.programme
            )
        };
        let first = bytes(&case);
        let same = first == bytes(&case) && first == bytes(&read);
        (!same).then(|| "other bytes".to_owned())
    });
    assert!(differing.is_empty(), "{differing:?}");
}

/// The chain that is checked is what the command prints: its rungs are those of the plan from the first.
#[test]
fn law_the_chain_that_is_checked_is_the_plan_that_is_given() {
    let service = Service::cautious();
    let exercises = formats::exercises().expect("the library is read");
    for seed in 0..150 {
        let case = random_case(seed);
        let chain = chain_of(&case, &service, &exercises, RUNGS).programme;
        for stage in [1, 4] {
            let choices = Choices {
                stage,
                ..Choices::none()
            };
            let (plan, _) = plan_with(&case, &service, &exercises, RANDOM_DAY, &choices);
            for one in &plan.stages {
                let at = usize::from(one.number) - 1;
                assert_eq!(
                    formats::json::stage(one),
                    chain["stages"][at],
                    "{seed}, rung {}",
                    one.number
                );
            }
        }
    }
}
