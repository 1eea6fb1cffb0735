//! The invented people are what they are said to be.

use super::*;
use rehab::assessed::{Decision, RiskClass};
use rehab::assessment::{EventKind, ExaminationSymptom, HistoryItem, Rhythm, StatusKind};
use rehab::service::Service;
use std::collections::BTreeSet;

const PEOPLE: u64 = 4_000;

#[test]
fn the_same_seed_is_the_same_person() {
    for seed in 0..200 {
        assert_eq!(random_case(seed), random_case(seed));
    }
    assert_ne!(random_case(1), random_case(2));
}

#[test]
fn every_word_of_the_closed_lists_is_met_and_also_missing() {
    let mut seen: BTreeSet<&'static str> = BTreeSet::new();
    let mut kinds: BTreeSet<&'static str> = BTreeSet::new();
    let mut gaps = 0;
    for seed in 0..PEOPLE {
        let case = random_case(seed);
        seen.extend(case.events.iter().map(|one| one.kind.word()));
        seen.extend(case.history.present.iter().map(|one| one.word()));
        seen.extend(case.heart.rhythm.map(Rhythm::word));
        seen.insert(case.status.kind.word());
        let symptoms = case
            .examinations
            .iter()
            .flat_map(|one| one.symptoms.iter().flatten());
        seen.extend(symptoms.map(|one| one.word()));
        kinds.extend(case.tests.iter().map(|one| one.result.kind()));
        gaps += usize::from(case.heart.rhythm.is_none());
    }
    let wanted = EventKind::ALL.iter().map(|one| one.word());
    let wanted = wanted.chain(HistoryItem::ALL.iter().map(|one| one.word()));
    let wanted = wanted.chain(Rhythm::ALL.iter().map(|one| one.word()));
    let wanted = wanted.chain(StatusKind::ALL.iter().map(|one| one.word()));
    let wanted = wanted.chain(ExaminationSymptom::ALL.iter().map(|one| one.word()));
    for word in wanted {
        assert!(seen.contains(word), "{word} is never drawn");
    }
    assert_eq!(kinds.len(), 14);
    assert!(gaps > 100);
}

#[test]
fn people_of_every_answer_and_class_are_among_them() {
    let service = Service::cautious();
    let mut decisions = [0_usize; 3];
    let mut classes = [0_usize; 3];
    let mut signable = 0;
    for seed in 0..PEOPLE {
        let assessed = rehab::assess(&random_case(seed), &service, RANDOM_DAY);
        decisions[assessed.screening.decision as usize] += 1;
        classes[assessed.risk.class as usize] += 1;
        signable += usize::from(!assessed.signing_blocked);
    }
    println!("decisions {decisions:?}, classes {classes:?}, signable {signable} of {PEOPLE}");
    let tenth = PEOPLE as usize / 20;
    assert!(
        decisions[Decision::Exercise as usize] > 4 * tenth,
        "{decisions:?}"
    );
    assert!(
        decisions[Decision::NotToday as usize] > tenth,
        "{decisions:?}"
    );
    assert!(
        decisions[Decision::NotAtHome as usize] > tenth,
        "{decisions:?}"
    );
    assert!(classes[RiskClass::Low as usize] > 20, "{classes:?}");
    assert!(classes[RiskClass::Moderate as usize] > tenth, "{classes:?}");
    assert!(classes[RiskClass::High as usize] > tenth, "{classes:?}");
    assert!(signable > tenth);
}
