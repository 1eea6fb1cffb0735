use super::*;

const fn at(systolic_mmhg: f64, diastolic_mmhg: f64) -> Pressure {
    Pressure {
        systolic_mmhg,
        diastolic_mmhg,
    }
}

/// Four readings a day, the same within a day.
fn week(days: &[(f64, f64)]) -> Vec<HomeReading> {
    let mut readings = Vec::new();
    for (day, (high, low)) in (1_u8..).zip(days) {
        readings.extend(
            [HomeReading {
                day,
                pressure: at(*high, *low),
            }; 4],
        );
    }
    readings
}

// Worked by hand from the rule: day 1 (160/100) dropped; (136+132+134)/3 = 134, (84+86+82)/3 = 84.
#[test]
fn worked_home_mean_drops_the_first_day() {
    let found = home_mean(&week(&[
        (160.0, 100.0),
        (136.0, 84.0),
        (132.0, 86.0),
        (134.0, 82.0),
    ]))
    .unwrap();
    assert_eq!(found.mean, at(134.0, 84.0));
    assert_eq!((found.counted, found.cautions.len()), (12, 0));
    assert_eq!(home_level(found.mean), PressureLevel::Usual);
    // With the first day it would be 140.5/88 and high: the rule matters.
    assert_eq!(home_level(at(140.5, 88.0)), PressureLevel::High);
}

// Source: nice-ng136, printed limits.
#[test]
fn published_home_limits() {
    assert_eq!(home_level(at(134.9, 84.9)), PressureLevel::Usual);
    assert_eq!(home_level(at(135.0, 70.0)), PressureLevel::High);
    assert_eq!(home_level(at(120.0, 85.0)), PressureLevel::High);
    assert_eq!(home_level(at(150.0, 70.0)), PressureLevel::VeryHigh);
    assert_eq!(home_level(at(120.0, 95.0)), PressureLevel::VeryHigh);
}

#[test]
fn too_few_days_give_a_caution_and_one_day_no_mean() {
    assert_eq!(home_mean(&[]), Err(NoHomeMean::NoReading));
    assert_eq!(
        home_mean(&week(&[(140.0, 80.0)])),
        Err(NoHomeMean::OnlyFirstDay)
    );
    let found = home_mean(&week(&[(140.0, 80.0), (130.0, 78.0)])).unwrap();
    assert_eq!(found.cautions, ["fewer than four days"]);
}

#[test]
fn each_protocol_counts_its_own_readings() {
    let readings = [at(150.0, 90.0), at(140.0, 86.0), at(144.0, 84.0)];
    let of = |protocol| of_sitting(protocol, &readings).unwrap();
    assert_eq!(of(PressureProtocol::NiceClinic), at(140.0, 86.0));
    assert_eq!(of(PressureProtocol::Esc2024), at(142.0, 85.0));
    assert_eq!(of(PressureProtocol::Canada2025).systolic_mmhg, 434.0 / 3.0);
    assert_eq!(of_sitting(PressureProtocol::Esc2024, &readings[..2]), None);
    assert!(another_reading(
        PressureProtocol::NiceClinic,
        &readings[..1],
        false
    ));
    assert!(!another_reading(
        PressureProtocol::NiceClinic,
        &[at(130.0, 80.0)],
        false
    ));
    assert!(another_reading(
        PressureProtocol::NiceClinic,
        &[at(130.0, 80.0)],
        true
    ));
}
