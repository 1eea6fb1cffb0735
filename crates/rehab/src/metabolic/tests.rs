use super::*;

fn near(value: f64, expected: f64, half_digit: f64) {
    assert!(
        libm::fabs(value - expected) < half_digit,
        "{value} is not {expected}"
    );
}

fn ml(cost: Cost) -> f64 {
    cost.uptake.to_ml_per_kg_min()
}

// Source: bushman-2020, printed: 30 steps a minute on 12 inches (0.3048 m) is 31.4 mL/kg/min.
#[test]
fn published_stepping() {
    near(ml(stepping(30.0, 0.3048)), 31.4, 0.05);
    near(ml(stepping(30.0, 0.3048)), 31.391, 0.000_5);
}

// Source: bushman-2020, printed: 10 METs at 68 kg is 11.9 kcal a minute, 357 in 30 minutes; 4.3 METs at 70 kg is 5.27
// a minute and 237 in 45 minutes; 8 METs at 70 kg is 9.8 a minute.
#[test]
fn published_kilocalories() {
    near(kcal_per_minute(Mets::of(10.0), 68.0), 11.9, 0.05);
    near(kcal_per_minute(Mets::of(10.0), 68.0) * 30.0, 357.0, 0.5);
    near(kcal_per_minute(Mets::of(4.3), 70.0), 5.27, 0.005);
    near(kcal_per_minute(Mets::of(4.3), 70.0) * 45.0, 237.0, 0.5);
    near(kcal_per_minute(Mets::of(8.0), 70.0), 9.8, 0.05);
}

// Computed by hand from the equations.
#[test]
fn worked_costs() {
    near(ml(walking(80.0, 0.0)), 11.5, 0.000_5);
    near(walking(80.0, 0.0).uptake.to_mets().to_mets(), 3.29, 0.005);
    near(ml(walking(4000.0 / 60.0, 0.0)), 10.167, 0.000_5);
    near(ml(walking(5600.0 / 60.0, 0.01)), 14.513, 0.000_5);
    near(ml(stepping(20.0, 0.20)), 17.076, 0.000_5);
    near(ml(stepping(24.0, 0.15)), 16.918, 0.000_5);
    near(ml(running(160.8, 0.0)), 35.66, 0.005);
    near(ml(running(160.8, 0.02)), 38.554, 0.000_5);
    near(
        ml(arm_cycling(kgm_min_of_watts(25.0), 80.0)),
        9.2375,
        0.000_05,
    );
    near(ml(arm_cycling(25.0 * 6.0, 80.0)), 9.125, 0.000_5);
    near(
        ml(leg_cycling(kgm_min_of_watts(50.0), 80.0)),
        13.885,
        0.000_5,
    );
    near(ml(leg_cycling(50.0 * 6.0, 80.0)), 13.75, 0.005);
}

// Computed by hand: 50 % of the reserve of 25 mL/kg/min is 14.25, a level speed of 107.5 m/min or 6.45 km/h, outside
// the range of the walking equation.
#[test]
fn worked_speed_outside_the_range_is_flagged() {
    let speed = walking_speed_for(OxygenUptake::ml_per_kg_min(14.25), 0.0);
    near(speed, 107.5, 0.05);
    near(speed * 0.06, 6.45, 0.005);
    assert!(walking(speed, 0.0).outside.is_some());
    assert!(walking(80.0, 0.0).outside.is_none());
}

#[test]
fn the_limits_of_each_equation_are_flagged() {
    assert!(walking(49.9, 0.0).outside.is_some());
    assert!(walking(100.1, 0.0).outside.is_some());
    assert!(running(134.0, 0.0).outside.is_some());
    assert!(running(134.1, 0.0).outside.is_none());
    assert!(leg_cycling(299.0, 80.0).outside.is_some());
    assert!(arm_cycling(751.0, 80.0).outside.is_some());
    assert!(stepping(31.0, 0.2).outside.is_some());
    assert!(stepping(20.0, 0.41).outside.is_some());
}
