//! Laws that hold for every person: nothing panics, the same record gives the same answer, more severe is never looser,
//! and what is missing never loosens.

mod boundaries;
mod common_practice;
mod further;
mod growth;
mod healing;
mod looser;
mod paper;
mod programme;
mod severer;
mod slopes;

use rehab::assessment::Case;
use rehab::service::{HrMaxPolicy, ScreeningSet, Service};
use tests::{RANDOM_DAY, random_case};

/// How many invented people each law is tried on.
const PEOPLE: u64 = 1_500;

fn people() -> impl Iterator<Item = (u64, Case)> {
    (0..PEOPLE).map(|seed| (seed, random_case(seed)))
}

/// Settings that differ in every choice that changes a rule, one after another over the people.
fn service_of(seed: u64) -> Service {
    let mut service = Service::cautious();
    let at = seed as usize;
    service.screening_set = ScreeningSet::ALL[at % ScreeningSet::ALL.len()];
    service.hr_max_policy = HrMaxPolicy::ALL[(at / 2) % HrMaxPolicy::ALL.len()];
    service
}

#[test]
fn law_every_person_is_assessed_alike_twice_and_every_number_has_its_reason() {
    for (seed, case) in people() {
        let service = service_of(seed);
        let assessed = rehab::assess(&case, &service, RANDOM_DAY);
        assert_eq!(
            assessed,
            rehab::assess(&case, &service, RANDOM_DAY),
            "{seed}"
        );
        let limits = &assessed.limits;
        let mut needed = vec![
            "limits/mets-low",
            "limits/mets-high",
            "limits/mets-station-high",
            "limits/effort",
        ];
        if limits.hr.is_some() {
            needed.extend(["limits/hr-low", "limits/hr-high"]);
        }
        for id in needed {
            let reasons = limits.because.iter().filter(|one| one.rule.0 == id);
            assert_eq!(reasons.count(), 1, "{seed} {id}");
        }
        let ceilings = limits
            .because
            .iter()
            .filter(|one| one.rule.0.starts_with("ceiling/"));
        assert_eq!(ceilings.count() > 0, limits.ceiling.is_some(), "{seed}");
        let used = assessed.capacity.used.iter().map(|one| &one.because);
        let whole = [&assessed.risk.because, &assessed.eligibility.because];
        for because in limits.because.iter().chain(used).chain(whole) {
            let id = because.rule;
            assert!(
                !because.sources.is_empty() && !because.text.is_empty(),
                "{seed} {id}"
            );
            assert!(because.working.is_some(), "{seed} {id} without its working");
            assert!(
                because.changes_with.is_some(),
                "{seed} {id} without what changes it"
            );
        }
    }
}

#[test]
fn law_limits_keep_their_own_order() {
    for (seed, case) in people() {
        let service = service_of(seed);
        let limits = rehab::assess(&case, &service, RANDOM_DAY).limits;
        assert!(limits.mets.low <= limits.mets.high, "{seed}");
        assert!(limits.mets.high <= limits.mets_station_high, "{seed}");
        assert!(limits.effort.low <= limits.effort.high, "{seed}");
        assert!(limits.balance_max <= 3, "{seed}");
        if let Some(band) = limits.hr {
            assert!(band.low <= band.high && limits.pulse_model, "{seed}");
            let ceiling = limits.ceiling.expect("a band comes with a ceiling");
            assert!(band.high <= ceiling.rate, "{seed}");
            assert_eq!(band.low.to_bpm().fract(), 0.0);
            assert_eq!(band.high.to_bpm().fract(), 0.0);
        }
    }
}

#[test]
fn law_a_question_says_whom_to_ask_and_what_blocks_signing_comes_first() {
    for (seed, case) in people() {
        let assessed = rehab::assess(&case, &Service::cautious(), RANDOM_DAY);
        let weights: Vec<_> = assessed.to_find_out.iter().map(|one| one.weight).collect();
        assert!(weights.is_sorted(), "{seed}");
        for question in &assessed.to_find_out {
            let ask = question
                .ask
                .as_ref()
                .expect("a question has somebody to ask");
            assert!(!ask.whom.is_empty(), "{seed} {}", question.text);
        }
        let findings = assessed.screening.findings.iter().chain(&assessed.findings);
        for finding in findings {
            assert!(finding.ask.is_none(), "{seed} {}", finding.text);
        }
    }
}

#[test]
fn law_every_rule_that_speaks_stands_in_the_list_of_rules() {
    for (seed, case) in people() {
        let assessed = rehab::assess(&case, &service_of(seed), RANDOM_DAY);
        let findings = assessed
            .screening
            .findings
            .iter()
            .chain(&assessed.findings)
            .chain(&assessed.to_find_out)
            .chain(&assessed.capacity.findings);
        let ids = findings.map(|one| one.rule);
        let ids = ids.chain(assessed.risk.criteria.iter().map(|one| one.rule));
        let ids = ids.chain(assessed.limits.because.iter().map(|one| one.rule));
        for id in ids {
            assert!(
                rehab::rules::rule(id.0).is_some(),
                "{seed}: {id} is not in the list"
            );
        }
    }
}

#[test]
fn law_an_outcome_gives_a_word_only_to_what_can_be_compared() {
    use rehab::outcome::Verdict;
    let mut words = 0;
    for (seed, case) in people() {
        for change in rehab::outcome::outcome(&case, &service_of(seed), RANDOM_DAY) {
            assert!(change.first.0 <= change.last.0, "{seed}");
            let judged = matches!(
                change.verdict,
                Verdict::Better | Verdict::Worse | Verdict::Less | Verdict::SourcesDiffer
            );
            words += usize::from(judged);
            if judged {
                assert!(
                    change.findings.is_empty() && !change.sources.is_empty(),
                    "{seed}"
                );
            }
        }
    }
    assert!(words > 20, "only {words} changes were judged");
}

/// Marks of the program talking to itself: debug forms and truth values.
fn debug_form(text: &str) -> bool {
    let marks = ["Some(", "None,", "Ok(", "Err(", "{", "}"];
    let words = ["None", "true", "false", "NaN", "inf"];
    marks.iter().any(|mark| text.contains(mark))
        || text
            .split(|c: char| !c.is_ascii_alphanumeric())
            .any(|word| words.contains(&word))
}

#[test]
fn law_nothing_said_of_a_person_is_a_debug_form() {
    for (seed, case) in people() {
        let assessed = rehab::assess(&case, &service_of(seed), RANDOM_DAY);
        let findings = assessed
            .screening
            .findings
            .iter()
            .chain(&assessed.findings)
            .chain(&assessed.to_find_out)
            .chain(&assessed.capacity.findings)
            .map(|one| one.text.clone());
        let used = assessed.capacity.used.iter().map(|one| &one.because);
        let reasons = assessed.limits.because.iter().chain(used);
        let reasons = reasons
            .chain([&assessed.risk.because, &assessed.eligibility.because])
            .flat_map(|one| {
                let working = one.working.clone();
                [Some(one.text.clone()), working, one.unsure.clone()]
            });
        let criteria = assessed.risk.criteria.iter().map(|one| one.text.clone());
        for text in findings.chain(reasons.flatten()).chain(criteria) {
            assert!(!debug_form(&text), "{seed}: {text}");
        }
    }
}
