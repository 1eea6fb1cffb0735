//! Pulse band and ceilings.

use super::*;
use crate::assessment::{EventKind, ExerciseTestSymptom};
use crate::service::EffortBand;

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

/// Flutter with a fixed block is regular: a regular pulse is no rhythm.
#[test]
fn a_regular_pulse_without_a_known_rhythm_gives_no_pulse_band() {
    for regular in [Some(true), Some(false), None] {
        let open = changed(|case| {
            case.heart.rhythm = None;
            case.examinations[0].pulse_regular = regular;
        });
        assert_eq!((band(&open), ceiling(&open)), (None, None), "{regular:?}");
        assert!(!open.limits.pulse_model, "{regular:?}");
        assert_eq!(
            asks(&open, "limits/pulse-target"),
            Some(Weight::FindOut),
            "{regular:?}"
        );
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

#[test]
fn eye_drops_slow_the_heart_and_an_unknown_medicine_counts_as_slowing() {
    use crate::assessment::Answered;
    let with = |name: &str| {
        changed(|case| {
            name.clone_into(&mut case.medicines[0].name);
        })
    };
    let peak = |assessed: &Assessed| assessed.limits.peak_hr.map(|rate| rate.to_bpm());
    let drops = with("timolol eye drops");
    assert_eq!(drops.limits.rate_slowed, Answered::Present);
    assert_eq!(peak(&drops), Some(111.5));
    let unknown = with("grandmother's powder");
    assert_eq!(unknown.limits.rate_slowed, Answered::NotKnown);
    assert_eq!(peak(&unknown), Some(111.5));
    let none = with("atorvastatin");
    assert_eq!(none.limits.rate_slowed, Answered::Absent);
    assert_eq!(peak(&none), Some(111.5), "a coronary disease is known");
    let valve = changed(|case| {
        "atorvastatin".clone_into(&mut case.medicines[0].name);
        case.events.truncate(1);
        case.events[0].kind = EventKind::ValveSurgery;
        case.events[0].procedures.clear();
        case.events[0].residual_disease = None;
    });
    // Inbar: 205.8 - 0.685 x 75 = 154.425.
    assert_eq!(peak(&valve), Some(154.425), "none is known or likely");
}

/// A service sets its bands on its own scale. They were read as 0 to 10 once more and came out as 20 of 20.
#[test]
fn the_bands_of_a_service_on_six_to_twenty_are_shown_as_they_were_set() {
    let scale = crate::assessment::EffortScale::SixToTwenty;
    let service = Service {
        effort_scale: scale,
        effort_band: EffortBand::to_begin(scale),
        effort_band_gentle: EffortBand::gentle(scale),
        ..Service::cautious()
    };
    let mut case = fenwick();
    let band = |case: &Case| {
        let limits = assess(case, &service, ON).limits;
        assert_eq!(limits.effort_scale, scale);
        (limits.effort.low, limits.effort.high)
    };
    assert_eq!(band(&case), (10.0, 12.0));
    case.watched = vec![watched(date(2026, 11, 1))];
    assert_eq!(band(&case), (11.0, 13.0));
}

#[test]
fn the_upper_tracking_rate_of_a_pacemaker_is_a_ceiling() {
    let assessed = changed(|case| {
        case.heart.pacemaker = Some(Pacemaker {
            mode: Some(PacingMode::Dddr),
            base_bpm: Some(60.0),
            upper_tracking_bpm: Some(100.0),
            rate_response: Some(true),
            resynchronisation: None,
        });
    });
    assert_eq!(ceiling(&assessed), Some((90.0, CeilingKind::Hard)));
    assert_eq!(band(&assessed), Some((83.0, 90.0)));
}

#[test]
fn a_peak_from_before_the_event_is_never_passed_and_gives_way_to_a_lower_guiding_one() {
    let before = |peak: f64, device: Option<f64>| {
        changed(|case| {
            let mut test = exercise_test(clean_test(6.0, peak));
            test.date = Some(date(2026, 8, 1));
            case.tests.push(test);
            case.heart.device = device.map(|rate| Device {
                lowest_treated_bpm: Some(rate),
                last_shock: None,
                subcutaneous: None,
            });
        })
    };
    assert_eq!(
        ceiling(&before(131.0, None)),
        Some((97.0, CeilingKind::Guiding))
    );
    assert_eq!(
        ceiling(&before(131.0, Some(190.0))),
        Some((131.0, CeilingKind::Hard))
    );
    // The lower measured peak is taken for the band: 64 + 0.7 x (100 - 64) = 89.2.
    assert_eq!(
        ceiling(&before(100.0, None)),
        Some((89.0, CeilingKind::Guiding))
    );
}

/// Of two tests on one day the one written later was taken for the newer: found clean, it took away the ischaemic rate that
/// the other had found on that very day.
#[test]
fn a_clean_test_of_the_same_day_takes_no_ischaemic_rate_away() {
    let ischaemic = ExerciseTest {
        symptoms: Some(vec![ExerciseTestSymptom::Angina]),
        ischaemia_hr_bpm: Some(104.0),
        ..clean_test(6.0, 120.0)
    };
    for clean_first in [true, false] {
        let assessed = changed(|case| {
            let mut two = [
                exercise_test(ischaemic.clone()),
                exercise_test(clean_test(6.0, 120.0)),
            ];
            if clean_first {
                two.reverse();
            }
            case.tests.extend(two);
        });
        assert_eq!(ceiling(&assessed), Some((94.0, CeilingKind::Hard)));
    }
}
