//! Screening, eligibility and what holds a day.

use super::*;

#[test]
fn an_examination_counts_to_its_last_day_and_not_beyond() {
    assert_eq!(
        on(&fenwick(), date(2026, 11, 26)).screening.decision,
        Decision::Exercise
    );
    let after = on(&fenwick(), date(2026, 11, 27));
    assert_eq!(after.screening.decision, Decision::NotToday);
    assert!(speaks(&after, "screening/examination-validity"));
    let never = changed(|case| case.examinations.clear());
    assert_eq!(never.screening.decision, Decision::NotToday);
}

#[test]
fn a_newer_event_medicine_shock_or_return_makes_an_examination_void() {
    let voids = |change: &dyn Fn(&mut Case)| {
        let mut case = fenwick();
        change(&mut case);
        today(&case).screening.decision
    };
    let event = |case: &mut Case, day| {
        let mut event = case.events[0].clone();
        event.date = Some(day);
        event.procedures.clear();
        case.events.push(event);
    };
    assert_eq!(
        voids(&|case| event(case, date(2026, 11, 12))),
        Decision::NotToday
    );
    assert_eq!(
        voids(&|case| case.medicines[0].since = Some(date(2026, 11, 13))),
        Decision::NotToday
    );
    assert_eq!(
        voids(&|case| case.medicines[0].since = Some(date(2026, 11, 12))),
        Decision::Exercise
    );
    assert_eq!(
        voids(&|case| case.medicines[0].until = Some(date(2026, 11, 20))),
        Decision::NotToday
    );
    assert_eq!(
        voids(&|case| case.status.since = Some(date(2026, 11, 20))),
        Decision::NotToday
    );
}

#[test]
fn each_status_that_stops_says_why() {
    for (kind, decision) in [
        (StatusKind::Active, Decision::Exercise),
        (StatusKind::Referred, Decision::Exercise),
        (StatusKind::WaitingForClearance, Decision::NotToday),
        (StatusKind::Paused, Decision::NotToday),
        (StatusKind::Declined, Decision::NotToday),
        (StatusKind::InHospital, Decision::NotToday),
        (StatusKind::Discharged, Decision::NotToday),
        (StatusKind::Died, Decision::NotAtHome),
    ] {
        let assessed = changed(|case| case.status.kind = kind);
        assert_eq!(assessed.screening.decision, decision, "{kind}");
        let stops = decision != Decision::Exercise;
        assert_eq!(speaks(&assessed, "screening/status"), stops, "{kind}");
    }
}

#[test]
fn a_contraindication_holds_and_an_unanswered_one_blocks_signing() {
    let held = changed(|case| case.history.present.push(HistoryItem::UnstableAngina));
    assert_eq!(held.screening.decision, Decision::NotToday);
    let severe = changed(|case| case.history.present.push(HistoryItem::SevereAorticStenosis));
    assert_eq!(severe.screening.decision, Decision::NotAtHome);
    let open = changed(|case| case.history.rest_absent = None);
    assert_eq!(open.screening.decision, Decision::Exercise);
    assert!(open.signing_blocked);
    assert_eq!(
        asks(&open, "contraindication/endocarditis"),
        Some(Weight::BlocksSigning)
    );
    assert_eq!(
        asks(&open, "contraindication/severe-anaemia"),
        Some(Weight::FindOut)
    );
    assert_eq!(open.to_find_out[0].weight, Weight::BlocksSigning);
}

#[test]
fn what_was_not_asked_stays_open_whatever_is_said_of_all_others() {
    let open = changed(|case| case.history.not_asked.push(HistoryItem::Endocarditis));
    assert!(open.signing_blocked);
    assert_eq!(
        asks(&open, "contraindication/endocarditis"),
        Some(Weight::BlocksSigning)
    );
    assert_eq!(asks(&open, "contraindication/thrombophlebitis"), None);
}

#[test]
fn a_reading_not_taken_blocks_signing_and_not_the_decision() {
    let open = changed(|case| case.examinations[0].resting_bp = None);
    assert_eq!(open.screening.decision, Decision::Exercise);
    assert_eq!(
        asks(&open, "day/systolic-high"),
        Some(Weight::BlocksSigning)
    );
    let unasked = changed(|case| case.examinations[0].symptoms = None);
    assert_eq!(unasked.screening.decision, Decision::Exercise);
    assert!(unasked.signing_blocked);
}

#[test]
fn readings_on_the_wrong_side_hold_the_day() {
    let decide = |change: &dyn Fn(&mut Examination)| {
        let mut case = fenwick();
        change(&mut case.examinations[0]);
        today(&case).screening.decision
    };
    let bp = |systolic, diastolic| {
        decide(&move |one| one.resting_bp = Some(pressure(systolic, diastolic)))
    };
    assert_eq!(bp(179.0, 74.0), Decision::Exercise);
    assert_eq!(bp(180.0, 74.0), Decision::NotToday);
    assert_eq!(bp(128.0, 99.0), Decision::Exercise);
    assert_eq!(bp(128.0, 100.0), Decision::NotToday);
    let rate = |bpm| decide(&move |one| one.resting_hr_bpm = Some(bpm));
    assert_eq!(rate(99.0), Decision::Exercise);
    assert_eq!(rate(100.0), Decision::NotToday);
    assert_eq!(rate(39.0), Decision::NotToday);
    let falls = |dizzy: bool| {
        decide(&move |one| {
            one.standing_bp = Some(pressure(108.0, 72.0));
            if dizzy {
                one.symptoms = Some(vec![ExaminationSymptom::DizzinessOnStanding]);
            }
        })
    };
    assert_eq!(falls(false), Decision::Exercise);
    assert_eq!(falls(true), Decision::NotToday);
}

#[test]
fn a_gain_of_weight_is_seen_from_the_examinations_before() {
    let gain = |day: Date, kg: f64| {
        let mut case = fenwick();
        case.examinations.insert(
            0,
            Examination {
                weight_kg: Some(kg),
                ..Examination::on(day)
            },
        );
        today(&case).screening.decision
    };
    assert_eq!(gain(date(2026, 11, 9), 69.8), Decision::Exercise);
    assert_eq!(gain(date(2026, 11, 9), 69.7), Decision::NotToday);
    assert_eq!(gain(date(2026, 11, 8), 69.0), Decision::Exercise);
}

#[test]
fn high_risk_waits_for_an_agreement_given_after_the_newest_event() {
    let high = |agreed: Option<Date>| {
        changed(|case| {
            case.heart.ejection_fraction_pct = Some(38.0);
            case.agreement = agreed.map(|date| Agreement {
                doctor: "Dr Sena".to_owned(),
                date,
            });
        })
    };
    assert_eq!(high(None).screening.decision, Decision::NotAtHome);
    let agreed = high(Some(date(2026, 10, 1)));
    assert_eq!(agreed.screening.decision, Decision::Exercise);
    assert_eq!(
        (agreed.limits.effort.low, agreed.limits.effort.high),
        (2.0, 3.0)
    );
    let before = high(Some(date(2026, 8, 1)));
    assert_eq!(before.screening.decision, Decision::NotAtHome);
}

#[test]
fn alone_without_a_telephone_is_not_at_home() {
    let decision = |alone, telephone| {
        let assessed = changed(|case| {
            case.home.alone_when_exercising = alone;
            case.home.telephone = telephone;
        });
        (assessed.screening.decision, assessed.signing_blocked)
    };
    assert_eq!(decision(Some(true), Some(false)).0, Decision::NotAtHome);
    assert_eq!(
        decision(Some(false), Some(false)),
        (Decision::Exercise, false)
    );
    assert_eq!(decision(None, None), (Decision::Exercise, true));
}

#[test]
fn watched_days_open_the_way_to_alone_and_end_the_gentle_beginning() {
    let after = |days: &[Date]| {
        changed(|case| case.watched = days.iter().map(|day| watched(*day)).collect())
    };
    let none = after(&[]);
    assert!(!none.eligibility.alone_now);
    assert_eq!(none.eligibility.watched_needed, 2);
    assert_eq!(none.limits.effort.high, 3.0);
    let one_day = after(&[date(2026, 11, 12), date(2026, 11, 12)]);
    assert_eq!(one_day.eligibility.watched_done, 1);
    assert!(!one_day.eligibility.alone_now);
    let two = after(&[date(2026, 11, 11), date(2026, 11, 12)]);
    assert!(two.eligibility.alone_now);
    assert_eq!(two.limits.effort.high, 4.0);
    let thirteen_days = after(&[date(2026, 11, 12)]);
    assert_eq!(thirteen_days.limits.effort.high, 3.0);
}

#[test]
fn an_older_record_can_be_asked_again() {
    let mut case = fenwick();
    case.examinations.push(Examination {
        symptoms: Some(vec![ExaminationSymptom::ChestPainAtRest]),
        ..Examination::on(date(2026, 12, 1))
    });
    assert_eq!(today(&case), today(&fenwick()));
}

#[test]
fn a_pulse_felt_irregular_is_new_unless_the_rhythm_explains_it() {
    let felt = |rhythm| {
        changed(|case| {
            case.examinations[0].pulse_regular = Some(false);
            case.heart.rhythm = rhythm;
        })
        .screening
        .decision
    };
    assert_eq!(felt(Some(Rhythm::Sinus)), Decision::NotToday);
    assert_eq!(felt(None), Decision::NotToday);
    assert_eq!(felt(Some(Rhythm::AtrialFibrillation)), Decision::Exercise);
}

/// A pulse that was told to be irregular held the day, and stopped holding it once it was felt to be irregular too, where
/// the recorded rhythm was neither sinus nor fibrillation.
#[test]
fn feeling_an_irregular_pulse_never_takes_back_what_was_told() {
    for rhythm in [None, Some(Rhythm::Sinus), Some(Rhythm::Other)] {
        let told = |pulse_regular| {
            changed(|case| {
                case.examinations[0].symptoms = Some(vec![ExaminationSymptom::IrregularPulse]);
                case.examinations[0].pulse_regular = pulse_regular;
                case.heart.rhythm = rhythm;
            })
            .screening
            .decision
        };
        assert_eq!(told(Some(true)), Decision::NotToday, "{rhythm:?}");
        assert_eq!(told(Some(false)), Decision::NotToday, "{rhythm:?}");
    }
}

#[test]
fn glucose_is_asked_where_a_medicine_can_make_it_fall() {
    let with = |name: &str, glucose_mmol_l| {
        changed(|case| {
            case.history.present.push(HistoryItem::Diabetes);
            case.medicines.push(Medicine {
                name: name.to_owned(),
                ..case.medicines[0].clone()
            });
            case.examinations[0].glucose_mmol_l = glucose_mmol_l;
        })
    };
    let missing = with("gliclazide", None);
    assert_eq!(
        asks(&missing, "day/glucose-measured"),
        Some(Weight::BlocksSigning)
    );
    assert_eq!(asks(&with("metformin", None), "day/glucose-measured"), None);
    let low = with("gliclazide", Some(3.9));
    assert_eq!(low.screening.decision, Decision::NotToday);
}

#[test]
fn a_spray_out_of_date_or_not_looked_at_blocks_signing() {
    let with = |in_date| changed(|case| case.nitrate.in_date = in_date);
    for in_date in [None, Some(false)] {
        assert_eq!(
            asks(&with(in_date), "readiness/nitrate"),
            Some(Weight::BlocksSigning)
        );
    }
    assert_eq!(asks(&with(Some(true)), "readiness/nitrate"), None);
}

#[test]
fn the_ninth_question_of_mood_speaks_and_a_low_mood_is_no_diagnosis() {
    let assessed = changed(|case| {
        case.tests.push(Test {
            result: TestResult::Phq9 {
                answers: vec![2, 2, 2, 2, 2, 0, 0, 0, 1],
            },
            ..exercise_test(ExerciseTest::unknown())
        });
    });
    assert!(speaks(&assessed, "instrument/phq-9-ninth-item"));
    assert!(speaks(&assessed, "instrument/phq-9"));
    assert_eq!(assessed.risk, today(&fenwick()).risk);
}

#[test]
fn a_pressure_that_fell_while_watched_holds_until_examined_again() {
    let fell = |systolic: f64, day| {
        changed(|case| {
            case.watched.push(Watched {
                bp: Some(pressure(systolic, 70.0)),
                ..watched(day)
            });
        })
        .screening
        .decision
    };
    assert_eq!(fell(109.0, date(2026, 11, 12)), Decision::Exercise);
    assert_eq!(fell(108.0, date(2026, 11, 12)), Decision::NotToday);
    assert_eq!(fell(108.0, date(2026, 11, 11)), Decision::Exercise);
}

fn weighed(day: Date) -> Examination {
    Examination {
        weight_kg: Some(71.5),
        ..Examination::on(day)
    }
}

/// A weight written two weeks later made "exercise, counts until" of an examination that had run out, and hid a pressure
/// that held the day.
#[test]
fn a_weighing_alone_is_no_examination_and_takes_nothing_back() {
    let mut case = fenwick();
    case.examinations.push(weighed(date(2026, 11, 24)));
    let counted = today(&case).screening;
    assert_eq!(counted, today(&fenwick()).screening);
    let late = on(&case, date(2026, 11, 27)).screening;
    assert_eq!(late.decision, Decision::NotToday, "14 days from the 12th");
    case.examinations[0].resting_bp = Some(pressure(190.0, 74.0));
    assert_eq!(today(&case).screening.decision, Decision::NotToday);
    case.examinations = vec![weighed(ON)];
    assert_eq!(today(&case).screening.decision, Decision::NotToday);
    assert_eq!(today(&case).screening.examined, None);
}

#[test]
fn what_is_taken_or_told_alone_is_heard_beside_the_examination() {
    let later = |change: &dyn Fn(&mut Examination)| {
        let mut case = fenwick();
        let mut alone = Examination::on(date(2026, 11, 24));
        change(&mut alone);
        case.examinations.push(alone);
        today(&case).screening.decision
    };
    assert_eq!(later(&|_| {}), Decision::Exercise);
    assert_eq!(
        later(&|one| one.temperature_c = Some(38.6)),
        Decision::NotToday
    );
    let told = |symptom| later(&|one| one.symptoms = Some(vec![symptom]));
    assert_eq!(
        told(ExaminationSymptom::ChestPainAtRest),
        Decision::NotToday
    );
}

#[test]
fn a_symptom_told_at_the_examination_is_not_taken_back_by_a_telephone_call() {
    let mut case = fenwick();
    case.examinations[0].symptoms = Some(vec![ExaminationSymptom::ChestPainAtRest]);
    case.examinations.push(Examination {
        symptoms: Some(Vec::new()),
        ..Examination::on(date(2026, 11, 24))
    });
    assert_eq!(today(&case).screening.decision, Decision::NotToday);
}
