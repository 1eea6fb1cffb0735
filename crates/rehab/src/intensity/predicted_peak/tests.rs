use super::*;

fn facts() -> PeakFacts {
    PeakFacts {
        age_years: Some(60.0),
        sex: Some(Sex::Male),
        resting: Some(HeartRate::bpm(70.0)),
        rate_slowed: Answered::Present,
        heart_failure: Answered::Absent,
        ejection_fraction_pct: Some(55.0),
        coronary_disease: Answered::Absent,
        mode: ExerciseMode::Treadmill,
    }
}

fn check(facts: PeakFacts, policy: HrMaxPolicy, rule: &str, bpm: f64) {
    let peak = predicted_peak(&facts, policy).expect("facts are enough");
    assert_eq!(peak.because.rule.0, rule);
    assert!(
        libm::fabs(peak.rate.to_bpm() - bpm) < 0.000_5,
        "{:?} is not {bpm}",
        peak.rate
    );
    assert!(peak.because.unsure.is_some());
}

#[test]
fn by_condition_follows_medicine_and_ventricle() {
    use HrMaxPolicy::ByCondition;
    check(facts(), ByCondition, "hr-max/brawner-2004", 122.0);
    let unknown = PeakFacts {
        rate_slowed: Answered::NotKnown,
        ..facts()
    };
    check(unknown, ByCondition, "hr-max/brawner-2004", 122.0);
    let free = PeakFacts {
        rate_slowed: Answered::Absent,
        ..facts()
    };
    check(free, ByCondition, "hr-max/inbar-1994", 164.7);
    // Of the two equations the lower one, also where nobody says that the coronary arteries are sound.
    for coronary_disease in [Answered::Present, Answered::NotKnown] {
        let coronary = PeakFacts {
            coronary_disease,
            ..free
        };
        check(coronary, ByCondition, "hr-max/brawner-2004", 122.0);
    }
    let weak = PeakFacts {
        ejection_fraction_pct: Some(30.0),
        resting: Some(HeartRate::bpm(60.0)),
        ..facts()
    };
    check(weak, ByCondition, "hr-max/keteyian-2012", 119.0);
    let no_rest = PeakFacts {
        resting: None,
        age_years: Some(72.0),
        ..weak
    };
    check(no_rest, ByCondition, "hr-max/ischaemic-hf-2012", 113.28);
}

#[test]
fn heart_failure_without_an_ejection_fraction_counts_as_weak() {
    let failing = PeakFacts {
        heart_failure: Answered::Present,
        ejection_fraction_pct: None,
        resting: Some(HeartRate::bpm(60.0)),
        ..facts()
    };
    check(
        failing,
        HrMaxPolicy::ByCondition,
        "hr-max/keteyian-2012",
        119.0,
    );
    let preserved = PeakFacts {
        ejection_fraction_pct: Some(55.0),
        ..failing
    };
    check(
        preserved,
        HrMaxPolicy::ByCondition,
        "hr-max/brawner-2004",
        122.0,
    );
}

// Inbar - 30 at 60 years is 134.7 and at 72 years 126.48 in the reference's table of checks.
#[test]
fn worked_uk_practice() {
    use HrMaxPolicy::UkPractice;
    check(facts(), UkPractice, "hr-max/uk-practice", 134.7);
    check(
        PeakFacts {
            age_years: Some(72.0),
            ..facts()
        },
        UkPractice,
        "hr-max/uk-practice",
        126.48,
    );
    let free = PeakFacts {
        rate_slowed: Answered::Absent,
        ..facts()
    };
    check(
        PeakFacts {
            age_years: Some(44.0),
            ..free
        },
        UkPractice,
        "hr-max/uk-practice",
        176.0,
    );
    let failing = PeakFacts {
        age_years: Some(72.0),
        resting: Some(HeartRate::bpm(64.0)),
        heart_failure: Answered::Present,
        ..facts()
    };
    check(failing, UkPractice, "hr-max/keteyian-2012", 115.0);
}

#[test]
fn exactly_forty_five_is_a_recorded_choice_of_no_consequence() {
    let at = PeakFacts {
        age_years: Some(45.0),
        rate_slowed: Answered::Absent,
        ..facts()
    };
    check(at, HrMaxPolicy::UkPractice, "hr-max/uk-practice", 174.975);
    let difference = hr_max::fox_1971(45.0).to_bpm() - hr_max::inbar_1994(45.0).to_bpm();
    assert!(
        libm::fabs(difference) < 0.03,
        "the choice at 45 would matter: {difference} bpm"
    );
}

#[test]
fn law_a_lower_ejection_fraction_never_raises_the_peak() {
    for policy in [HrMaxPolicy::ByCondition, HrMaxPolicy::UkPractice] {
        for slowed in Answered::ALL {
            for failing in Answered::ALL {
                for age in (20..100).step_by(5) {
                    for rest in (40..140).step_by(10) {
                        let mut before = f64::INFINITY;
                        for fraction in [60.0, 50.0, 49.0, 40.0, 39.0, 20.0] {
                            let person = PeakFacts {
                                age_years: Some(f64::from(age)),
                                resting: Some(HeartRate::bpm(f64::from(rest))),
                                rate_slowed: *slowed,
                                heart_failure: *failing,
                                ejection_fraction_pct: Some(fraction),
                                ..facts()
                            };
                            let rate = predicted_peak(&person, policy)
                                .expect("known")
                                .rate
                                .to_bpm();
                            assert!(rate <= before, "{person:?} rises from {before} to {rate}");
                            before = rate;
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn law_a_rate_slowing_medicine_never_raises_the_peak() {
    for policy in [HrMaxPolicy::ByCondition, HrMaxPolicy::UkPractice] {
        for age in 16..110 {
            let with = |rate_slowed| {
                let person = PeakFacts {
                    age_years: Some(f64::from(age)),
                    rate_slowed,
                    ..facts()
                };
                predicted_peak(&person, policy).expect("known").rate
            };
            assert!(with(Answered::Present) <= with(Answered::Absent));
            assert!(with(Answered::NotKnown) <= with(Answered::Absent));
        }
    }
}

#[test]
fn law_a_coronary_disease_never_raises_the_peak() {
    for policy in HrMaxPolicy::ALL {
        for slowed in Answered::ALL {
            for age in 16..110 {
                for fraction in [None, Some(30.0), Some(45.0), Some(60.0)] {
                    let with = |coronary_disease| {
                        let person = PeakFacts {
                            age_years: Some(f64::from(age)),
                            rate_slowed: *slowed,
                            ejection_fraction_pct: fraction,
                            coronary_disease,
                            ..facts()
                        };
                        predicted_peak(&person, *policy)
                            .ok()
                            .map(|peak| peak.rate.to_bpm())
                    };
                    let absent = with(Answered::Absent);
                    assert!(with(Answered::Present) <= absent, "{policy} {age}");
                    assert!(with(Answered::NotKnown) <= absent, "{policy} {age}");
                }
            }
        }
    }
}

#[test]
fn no_age_no_peak_and_a_policy_of_none_predicts_none() {
    let ageless = PeakFacts {
        age_years: None,
        ..facts()
    };
    assert_eq!(
        predicted_peak(&ageless, HrMaxPolicy::ByCondition),
        Err(NoPeak::AgeNotKnown)
    );
    assert_eq!(
        predicted_peak(&facts(), HrMaxPolicy::None),
        Err(NoPeak::PolicyNone)
    );
    assert_eq!(
        predicted_peak(&facts(), HrMaxPolicy::Gulati),
        Err(NoPeak::NotForThisPerson)
    );
}

#[test]
fn a_single_equation_says_that_a_beta_blocker_makes_it_too_high() {
    let peak = predicted_peak(&facts(), HrMaxPolicy::Tanaka).expect("known");
    assert!(
        peak.because
            .assumed
            .iter()
            .any(|text| text.contains("predicts too high"))
    );
    assert!(
        peak.others
            .iter()
            .any(|(id, _)| id.0 == "hr-max/brawner-2004")
    );
}
