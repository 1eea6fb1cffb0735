//! What the program prints for invented people, held against an independent checker.
//!
//! `HEARTHPACE_LIMITS` and `HEARTHPACE_CHAINS` set how many people are tried; without them 100,000 and 2,000, a tenth of
//! that in the unoptimised build. Of ten people seven are answered under the built-in cautious settings, one each under
//! those of the demonstration and under two services at the ends of what may be set.

mod alike;
mod breaks;
mod chains;
mod controls;
mod found;
mod hazards;
mod limits;
mod looser;
mod settings;
mod severer;
mod share;

use tests::checker::Fault;

/// Fails with the faults of the first few people, and how often each rule was broken.
fn assert_none(found: &[(u64, Vec<Fault>)]) {
    if found.is_empty() {
        return;
    }
    let mut counts = std::collections::BTreeMap::new();
    let mut told = std::collections::BTreeMap::new();
    for (seed, faults) in found {
        for fault in faults {
            *counts.entry(fault.rule).or_insert(0_u32) += 1;
            let list: &mut Vec<String> = told.entry(fault.rule).or_default();
            if list.len() < 3 {
                list.push(format!("person {seed}: {}", fault.text));
            }
        }
    }
    panic!("{} people: {counts:#?} {told:#?}", found.len());
}
