//! The chain from record to limits: worked cases, clear answers and both sides of what decides.

use super::assess;
use crate::assessed::{Assessed, CeilingKind, Decision};
use crate::assessment::{
    Agreement, Case, CaseId, Device, Event, EventKind, Examination, ExaminationSymptom,
    ExerciseTest, History, HistoryItem, Medicine, Pacemaker, PacingMode, Pressure,
    PressureResponse, Procedure, ProcedureKind, Rhythm, Sex, StatusKind, Technique, Test,
    TestResult, WalkingAid, Watched,
};
use crate::evidence::Weight;
use crate::service::Service;
use jiff::civil::{Date, date};

const ON: Date = date(2026, 11, 25);

/// An invented person on whom everything needed is known and nothing holds: 75, stent in August, bisoprolol.
fn fenwick() -> Case {
    let mut case = Case::unknown(CaseId("fenwick-1951".to_owned()));
    case.person.born = Some(date(1951, 5, 17));
    case.person.sex = Some(Sex::Female);
    case.events.push(Event {
        kind: EventKind::MyocardialInfarction,
        date: Some(date(2026, 8, 30)),
        procedures: vec![Procedure {
            kind: ProcedureKind::Stent,
            date: Some(date(2026, 8, 30)),
            access: Some("wrist".to_owned()),
        }],
        complicated: Some(false),
        residual_disease: Some(false),
    });
    case.heart.ejection_fraction_pct = Some(52.0);
    case.heart.rhythm = Some(Rhythm::Sinus);
    case.history = History {
        present: vec![HistoryItem::KneeOsteoarthritis],
        rest_absent: Some("letter of 2026-10-01 and by asking".to_owned()),
        ..History::unasked()
    };
    case.medicines.push(Medicine {
        name: "bisoprolol".to_owned(),
        dose: Some("2.5 mg".to_owned()),
        since: Some(date(2026, 8, 31)),
        until: None,
        times: None,
        as_needed: None,
    });
    case.nitrate.prescribed = Some(true);
    case.nitrate.in_date = Some(true);
    case.nitrate.taught = Some(true);
    case.function.aid = Some(WalkingAid::None);
    case.function.falls_12_months = Some(0);
    case.examinations.push(Examination {
        nyha: Some(1),
        resting_hr_bpm: Some(64.0),
        pulse_regular: Some(true),
        resting_bp: Some(pressure(128.0, 74.0)),
        standing_bp: Some(pressure(122.0, 72.0)),
        weight_kg: Some(71.5),
        symptoms: Some(Vec::new()),
        ..Examination::on(date(2026, 11, 12))
    });
    case.home.alone_when_exercising = Some(true);
    case.home.telephone = Some(true);
    case
}

fn pressure(systolic_mmhg: f64, diastolic_mmhg: f64) -> Pressure {
    Pressure {
        systolic_mmhg,
        diastolic_mmhg,
    }
}

fn exercise_test(exercise: ExerciseTest) -> Test {
    Test {
        date: Some(date(2026, 10, 1)),
        place: None,
        aid: None,
        effort: None,
        beta_blocked: Some(true),
        result: TestResult::Exercise(exercise),
    }
}

fn clean_test(peak_mets: f64, peak_hr_bpm: f64) -> ExerciseTest {
    ExerciseTest {
        peak_hr_bpm: Some(peak_hr_bpm),
        peak_mets: Some(peak_mets),
        symptoms: Some(Vec::new()),
        arrhythmia: Some(false),
        st_depression_mm: Some(0.0),
        bp_response: Some(PressureResponse::Normal),
        ..ExerciseTest::unknown()
    }
}

fn on(case: &Case, day: Date) -> Assessed {
    assess(case, &Service::cautious(), day)
}

fn today(case: &Case) -> Assessed {
    on(case, ON)
}

fn changed(change: impl FnOnce(&mut Case)) -> Assessed {
    let mut case = fenwick();
    change(&mut case);
    today(&case)
}

fn speaks(assessed: &Assessed, rule: &str) -> bool {
    assessed
        .screening
        .findings
        .iter()
        .chain(&assessed.findings)
        .any(|one| one.rule.0 == rule)
}

fn asks(assessed: &Assessed, rule: &str) -> Option<Weight> {
    assessed
        .to_find_out
        .iter()
        .find(|one| one.rule.0 == rule)
        .map(|one| one.weight)
}

fn band(assessed: &Assessed) -> Option<(f64, f64)> {
    assessed
        .limits
        .hr
        .map(|band| (band.low.to_bpm(), band.high.to_bpm()))
}

fn ceiling(assessed: &Assessed) -> Option<(f64, CeilingKind)> {
    assessed
        .limits
        .ceiling
        .map(|ceiling| (ceiling.rate.to_bpm(), ceiling.kind))
}

// Worked by hand: 164 - 0.7 x 75 = 111.5 (Brawner 2004); 64 + 0.4 x 47.5 = 83; 64 + 0.7 x 47.5 = 97.25.
#[test]
fn worked_case_on_a_beta_blocker_without_a_test() {
    let assessed = today(&fenwick());
    assert_eq!(assessed.screening.decision, Decision::Exercise);
    assert_eq!(assessed.screening.valid_until, Some(date(2026, 11, 26)));
    assert_eq!(band(&assessed), Some((83.0, 97.0)));
    assert_eq!(ceiling(&assessed), Some((97.0, CeilingKind::Guiding)));
    assert!(!assessed.signing_blocked, "{:?}", assessed.to_find_out);
    let because = |id: &str| {
        let found = assessed.limits.because.iter().find(|one| one.rule.0 == id);
        found.expect("every number has its reason").clone()
    };
    let high = because("limits/hr-high");
    assert_eq!(
        high.working.as_deref(),
        Some("164 - 0.7 x 75 = 111.5; 64 + 0.7 x (111.5 - 64) = 97.25")
    );
    assert!(high.sources.iter().any(|source| source.0 == "brawner-2004"));
    assert!(high.unsure.is_some() && high.changes_with.is_some());
    for id in [
        "limits/hr-low",
        "limits/mets-low",
        "limits/mets-high",
        "limits/mets-station-high",
        "limits/effort",
        "limits/balance",
    ] {
        assert!(!because(id).sources.is_empty(), "{id}");
    }
}

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
fn a_defibrillator_without_its_rate_gives_no_ceiling_and_no_signing() {
    let with = |lowest_treated_bpm| {
        changed(|case| {
            case.heart.device = Some(Device {
                lowest_treated_bpm,
                last_shock: None,
                subcutaneous: None,
            });
        })
    };
    let unknown = with(None);
    assert_eq!((band(&unknown), ceiling(&unknown)), (None, None));
    assert_eq!(
        asks(&unknown, "ceiling/device-rate-known"),
        Some(Weight::BlocksSigning)
    );
    // 170 - 20 and 110 - 20, the service's margin of 20.
    assert_eq!(
        ceiling(&with(Some(170.0))),
        Some((150.0, CeilingKind::Hard))
    );
    let low = with(Some(110.0));
    assert_eq!(ceiling(&low), Some((90.0, CeilingKind::Hard)));
    assert_eq!(band(&low), Some((83.0, 90.0)));
}

#[test]
fn fibrillation_has_no_pulse_target_and_keeps_the_ceiling_of_a_device() {
    let assessed = changed(|case| {
        case.heart.rhythm = Some(Rhythm::AtrialFibrillation);
        case.heart.device = Some(Device {
            lowest_treated_bpm: Some(170.0),
            last_shock: None,
            subcutaneous: None,
        });
    });
    assert_eq!(band(&assessed), None);
    assert!(!assessed.limits.pulse_model);
    assert_eq!(ceiling(&assessed), Some((150.0, CeilingKind::Hard)));
    assert!(speaks(&assessed, "limits/pulse-target"));
    let without = changed(|case| case.heart.rhythm = Some(Rhythm::AtrialFibrillation));
    assert_eq!((band(&without), ceiling(&without)), (None, None));
    for change in [
        (|case: &mut Case| case.events[0].kind = EventKind::Transplant) as fn(&mut Case),
        |case| case.heart.rhythm = Some(Rhythm::AtrialFlutter),
        |case| {
            case.heart.rhythm = Some(Rhythm::Paced);
            case.heart.pacemaker = Some(Pacemaker {
                mode: Some(PacingMode::Vvi),
                base_bpm: Some(60.0),
                upper_tracking_bpm: None,
                rate_response: None,
                resynchronisation: None,
            });
        },
    ] {
        assert_eq!(band(&changed(change)), None);
    }
}

#[test]
fn a_lower_end_above_the_ceiling_is_explained() {
    let assessed = changed(|case| {
        case.tests.push(exercise_test(ExerciseTest {
            ischaemia_hr_bpm: Some(92.0),
            ..clean_test(6.0, 112.0)
        }));
    });
    // 92 - 10 lies under 64 + 0.4 x (112 - 64) = 83.2, rounded up to 84.
    assert_eq!(ceiling(&assessed), Some((82.0, CeilingKind::Hard)));
    assert_eq!(band(&assessed), None);
    assert!(speaks(&assessed, "limits/no-pulse-band"));
}

// Worked by hand from the reference's checks: onset 118 gives 108; the measured peak is never passed.
#[test]
fn worked_ceilings_from_a_test() {
    let with = |exercise: ExerciseTest| changed(|case| case.tests.push(exercise_test(exercise)));
    let ischaemic = with(ExerciseTest {
        ischaemia_hr_bpm: Some(118.0),
        st_depression_mm: Some(1.0),
        ..clean_test(6.0, 131.0)
    });
    assert_eq!(ceiling(&ischaemic), Some((108.0, CeilingKind::Hard)));
    let clean = with(clean_test(6.0, 131.0));
    assert_eq!(ceiling(&clean), Some((131.0, CeilingKind::Hard)));
    assert!(clean.limits.peak_hr_measured);
    // 64 + 0.4 x 67 = 90.8 and 64 + 0.7 x 67 = 110.9.
    assert_eq!(band(&clean), Some((91.0, 110.0)));
    let without_rate = with(ExerciseTest {
        st_depression_mm: Some(1.5),
        ..clean_test(6.0, 131.0)
    });
    assert_eq!(
        asks(&without_rate, "limits/ischaemic-rate"),
        Some(Weight::BlocksSigning)
    );
    assert_eq!(ceiling(&without_rate), Some((121.0, CeilingKind::Hard)));
}

#[test]
fn a_test_from_before_the_blocker_gives_no_hard_ceiling() {
    let assessed = changed(|case| {
        let mut test = exercise_test(clean_test(6.0, 150.0));
        test.beta_blocked = Some(false);
        case.tests.push(test);
    });
    assert_eq!(ceiling(&assessed), Some((97.0, CeilingKind::Guiding)));
    assert!(speaks(&assessed, "limits/measured-peak"));
}

// Worked by hand: 1 + 0.4 x 5 = 3 and 1 + 0.7 x 5 = 4.5; in high risk 1 + 0.6 x 5 = 4.
#[test]
fn worked_mets_by_capacity_and_risk() {
    let test = exercise_test(clean_test(6.0, 131.0));
    let measured = changed(|case| case.tests.push(test.clone()));
    let mets = |assessed: &Assessed| {
        let limits = &assessed.limits;
        let round = |value: f64| libm::round(value * 1000.0) / 1000.0;
        (
            round(limits.mets.low.to_mets()),
            round(limits.mets.high.to_mets()),
            round(limits.mets_station_high.to_mets()),
        )
    };
    assert_eq!(mets(&measured), (3.0, 4.5, 4.5));
    assert!(measured.limits.band_binds_station);
    let high = changed(|case| {
        case.tests.push(test);
        case.heart.ejection_fraction_pct = Some(38.0);
    });
    assert_eq!(mets(&high), (3.0, 4.0, 4.0));
    let none = today(&fenwick());
    assert_eq!(mets(&none), (1.8, 3.0, 3.0));
    assert_eq!(asks(&none, "capacity/order"), Some(Weight::FindOut));
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

fn watched(day: Date) -> Watched {
    Watched {
        date: day,
        exercise: "march".to_owned(),
        variant: "standing".to_owned(),
        effort: None,
        hr_bpm: None,
        bp: None,
        technique: Technique::Good,
        support: None,
    }
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
