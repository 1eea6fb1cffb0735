//! Negative controls: for every rule of the checker a good answer is broken on purpose, and the rule must say so.

use crate::breaks::{Broken, breaks};
use std::collections::BTreeMap;
use tests::answers::{ChainAnswer, chain_of_seed};
use tests::checker::{Library, RULES, check_limits, check_programme};
use tests::services::Team;

/// People among whom a good answer to break is looked for.
const PEOPLE: u64 = 4_000;
/// People on whom a break is tried.
const TRIED: usize = 3;

fn faults_of(library: &Library, broken: &Broken) -> Vec<&'static str> {
    let mut faults = check_limits(library, &broken.settings, &broken.case, &broken.limits);
    faults.extend(check_programme(
        library,
        &broken.settings,
        &broken.case,
        &broken.limits,
        &broken.programme,
    ));
    faults.iter().map(|one| one.rule).collect()
}

#[test]
fn law_every_rule_of_the_checker_catches_an_answer_broken_on_purpose() {
    let (library, cautious) = (Library::read(), Team::cautious());
    let exercises = formats::exercises().expect("the library is read");
    let breaks = breaks();
    let mut tried: BTreeMap<(&str, usize), usize> = BTreeMap::new();
    let mut missed = Vec::new();
    for seed in 0..PEOPLE {
        let wanted =
            |at: usize, rule: &'static str| tried.get(&(rule, at)).copied().unwrap_or(0) < TRIED;
        let open: Vec<usize> = (0..breaks.len())
            .filter(|at| wanted(*at, breaks[*at].0))
            .collect();
        if open.is_empty() {
            break;
        }
        let good: ChainAnswer = chain_of_seed(seed, &cautious.service, &exercises);
        for at in open {
            let (rule, change) = breaks[at];
            let mut broken = Broken {
                case: good.case.clone(),
                limits: good.limits.clone(),
                programme: good.programme.clone(),
                settings: cautious.settings.clone(),
                library: &library,
            };
            if change(&mut broken).is_none() {
                continue;
            }
            *tried.entry((rule, at)).or_default() += 1;
            let told = faults_of(&library, &broken);
            if !told.contains(&rule) {
                missed.push(format!(
                    "{rule} (break {at}) on person {seed}: told {told:?}"
                ));
            }
        }
    }
    assert!(missed.is_empty(), "not caught: {missed:#?}");
    let without: Vec<_> = (0..breaks.len())
        .filter(|at| !tried.contains_key(&(breaks[*at].0, *at)))
        .map(|at| (at, breaks[at].0))
        .collect();
    assert!(without.is_empty(), "no person to break for {without:?}");
}

#[test]
fn law_no_rule_of_the_checker_is_without_its_negative_control() {
    let breaks = breaks();
    let without: Vec<_> = RULES
        .iter()
        .filter(|rule| breaks.iter().all(|(broken, _)| broken != *rule))
        .collect();
    assert!(without.is_empty(), "{without:?}");
}
