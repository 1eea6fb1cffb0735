//! What is missing never loosens: facts are taken away one by one.

use crate::people;
use rehab::assessed::{Decision, RiskClass};
use rehab::assessment::Case;
use rehab::service::Service;
use tests::RANDOM_DAY;

/// What is taken away, by name.
type Taken = (&'static str, fn(&mut Case));

const TAKEN: &[Taken] = &[
    ("ejection fraction", |case| {
        case.heart.ejection_fraction_pct = None
    }),
    ("history", |case| {
        case.history.absent.clear();
        case.history.rest_absent = None;
    }),
    ("tests", |case| case.tests.clear()),
    ("events' course", |case| {
        for event in &mut case.events {
            event.complicated = None;
        }
    }),
    ("aid and falls", |case| {
        case.function.aid = None;
        case.function.falls_12_months = None;
    }),
    ("examinations", |case| case.examinations.clear()),
];

#[test]
fn law_taking_a_fact_away_never_makes_low_risk_or_opens_the_day() {
    for (seed, case) in people() {
        let service = Service::cautious();
        let before = rehab::assess(&case, &service, RANDOM_DAY);
        for (name, take) in TAKEN {
            let mut poorer = case.clone();
            take(&mut poorer);
            let after = rehab::assess(&poorer, &service, RANDOM_DAY);
            if before.risk.class != RiskClass::Low {
                assert_ne!(after.risk.class, RiskClass::Low, "{seed} without {name}");
            }
            if *name == "examinations" {
                assert_ne!(after.screening.decision, Decision::Exercise, "{seed}");
            }
            // Standing on one foot is for those of whom aid, falls and a test are known.
            if *name == "aid and falls" {
                assert!(after.limits.balance_max < 3, "{seed}");
            }
        }
    }
}

#[test]
fn law_a_nearly_empty_record_is_answered_and_asks() {
    let case = Case::unknown(rehab::assessment::CaseId("invented-empty".to_owned()));
    let assessed = rehab::assess(&case, &Service::cautious(), RANDOM_DAY);
    assert_eq!(assessed.screening.decision, Decision::NotToday);
    assert!(assessed.signing_blocked);
    assert!(assessed.to_find_out.len() > 20);
    assert_eq!(assessed.risk.class, RiskClass::Moderate);
    assert!(assessed.risk.provisional);
    assert_eq!(assessed.limits.mets.high.to_mets(), 3.0);
    assert_eq!(assessed.limits.hr, None);
}
