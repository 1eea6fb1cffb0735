//! What the newest function test of each kind says beside its norm or threshold.
//!
//! A norm is for the standard course and for people without an aid; a threshold of falls counts with an aid too.

use crate::assessment::{Sex, Test, TestResult};
use crate::evidence::{Finding, Named, Weight};
use crate::function_tests::chair_and_gait as gait;
use crate::function_tests::senior_fitness::{
    AverageRange, CHAIR_STAND, Standing, TWO_MINUTE_STEP, chair_stand_range, two_minute_step_range,
};
use crate::function_tests::six_minute_walk::{self as walk, Walker};
use crate::function_tests::{shuttle_walk, standard};
use crate::inputs::short;
use crate::known::Known;
use std::collections::BTreeSet;

/// What the function tests say.
pub(super) fn findings(known: &Known) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let mut all = Vec::new();
    for test in known.tests() {
        if !seen.insert(test.result.kind()) {
            continue;
        }
        let with_norm = standard(test).is_empty();
        all.extend(thresholds(test));
        if with_norm {
            all.extend(norms(known, test));
        }
        all.extend(standard(test).into_iter().filter(|one| one.ask.is_none()));
    }
    all
}

/// What holds for everybody, with an aid or without.
fn thresholds(test: &Test) -> Option<Finding> {
    match test.result {
        TestResult::FiveSitToStand { seconds } if seconds >= gait::FIVE_STANDS_FALLS_S => Some(
            gait::FIVE_STANDS_FALLS
                .finding(
                    Weight::Adapt,
                    format!("Five stands in {seconds} s: falls recur from 15 s on. Balance and legs first"),
                )
                .with(Named::number("seconds", seconds, "s")),
        ),
        TestResult::TimedUpAndGo { seconds } if seconds >= gait::UP_AND_GO_FALLS_S => Some(
            gait::UP_AND_GO_FALLS
                .finding(
                    Weight::Adapt,
                    format!("Timed up and go {seconds} s: at risk of falls from 12 s on. Support within reach"),
                )
                .with(Named::number("seconds", seconds, "s")),
        ),
        TestResult::Gait4m { seconds } => {
            let speed = gait::gait_speed_m_s(seconds);
            (speed < gait::GAIT_RISK_M_S).then(|| {
                let how = if speed <= gait::GAIT_FRAIL_M_S {
                    "at or under 0.8, it speaks for frailty"
                } else {
                    "under 1.0, it is a risk"
                };
                gait::GAIT
                    .finding(
                        Weight::Adapt,
                        format!("Walks {} m/s over 4 metres: {how}. Strengthen legs and balance", short(speed)),
                    )
                    .with(Named::number("speed_m_s", speed, "m/s"))
            })
        }
        TestResult::SixMinuteWalk { distance_m, .. } if distance_m <= walk::LOWEST_QUARTILE_M => {
            Some(
                walk::LOWEST_QUARTILE
                    .finding(
                        Weight::Caution,
                        format!(
                            "Walked {distance_m} m in six minutes, in the lowest quarter of people with coronary disease \
                             (419 m and less), who had more events: look closely"
                        ),
                    )
                    .with(Named::number("distance_m", distance_m, "m")),
            )
        }
        _ => None,
    }
}

fn norms(known: &Known, test: &Test) -> Option<Finding> {
    let age = known.case.person.age_years(test.date.unwrap_or(known.on))?;
    let sex = known.case.person.sex;
    match test.result {
        TestResult::SixMinuteWalk { distance_m, .. } => six_minutes(known, age, sex?, distance_m),
        TestResult::ShuttleWalk { distance_m, .. } => shuttles(known, age, sex?, distance_m),
        TestResult::FiveSitToStand { .. } | TestResult::TimedUpAndGo { .. } => times(age, test),
        _ => counts(age, sex?, test),
    }
}

/// Tests that count.
fn counts(age: f64, sex: Sex, test: &Test) -> Option<Finding> {
    match test.result {
        TestResult::ChairStand30s { count } => {
            let range = chair_stand_range(age, sex)?;
            below(range, count).then(|| {
                CHAIR_STAND
                    .finding(
                        Weight::Adapt,
                        format!(
                            "{count} chair stands in 30 s, below average ({} to {}): strengthen the legs",
                            range.low, range.high
                        ),
                    )
                    .with(Named::number("count", count, "stands"))
            })
        }
        TestResult::TwoMinuteStep { count } => {
            let range = two_minute_step_range(age, sex)?;
            below(range, count).then(|| {
                TWO_MINUTE_STEP
                    .finding(
                        Weight::Note,
                        format!(
                            "{count} raises in two minutes, below average ({} to {})",
                            range.low, range.high
                        ),
                    )
                    .with(Named::number("count", count, "raises"))
            })
        }
        TestResult::SitToStand1Min { count } => {
            let middle = gait::one_minute_stands(age, sex)?;
            (count < middle.lower_quartile).then(|| {
                gait::ONE_MINUTE_STANDS
                    .finding(
                        Weight::Adapt,
                        format!(
                            "{count} chair stands in a minute, under the lowest quarter of the age ({}): strengthen the legs",
                            middle.lower_quartile
                        ),
                    )
                    .with(Named::number("count", count, "stands"))
            })
        }
        _ => None,
    }
}

/// Tests against the clock.
fn times(age: f64, test: &Test) -> Option<Finding> {
    match test.result {
        TestResult::FiveSitToStand { seconds } => {
            let slow = gait::five_stands_slow_above_s(age)?;
            (seconds > slow && seconds < gait::FIVE_STANDS_FALLS_S).then(|| {
                gait::FIVE_STANDS
                    .finding(
                        Weight::Adapt,
                        format!("Five stands in {seconds} s, slower than average ({slow} s): strengthen the legs"),
                    )
                    .with(Named::number("seconds", seconds, "s"))
            })
        }
        TestResult::TimedUpAndGo { seconds } => {
            let mean = gait::up_and_go(age)?;
            (seconds > mean.high_s && seconds < gait::UP_AND_GO_FALLS_S).then(|| {
                gait::UP_AND_GO
                    .finding(
                        Weight::Note,
                        format!(
                            "Timed up and go {seconds} s, slower than average ({} s)",
                            mean.high_s
                        ),
                    )
                    .with(Named::number("seconds", seconds, "s"))
            })
        }
        _ => None,
    }
}

fn below(range: AverageRange, count: f64) -> bool {
    range.standing(count) == Standing::Below
}

fn six_minutes(known: &Known, age_years: f64, sex: Sex, distance_m: f64) -> Option<Finding> {
    let reference = walk::enright_sherrill_1998(&Walker {
        sex,
        age_years,
        height_cm: known.case.person.height_cm?,
        weight_kg: known.weight_kg()?,
    });
    let under = reference
        .lower_limit_m
        .is_some_and(|limit| distance_m < limit);
    let word = if under {
        "under the lower limit"
    } else {
        "within the normal range"
    };
    let text = format!(
        "{distance_m} m are {} per cent of {} m by Enright and Sherrill 1998, {word}; other equations differ by more than \
         200 m",
        libm::round(reference.per_cent(distance_m)),
        libm::round(reference.distance_m)
    );
    Some(
        walk::ENRIGHT_SHERRILL
            .finding(Weight::Note, text)
            .with(Named::number("expected_m", reference.distance_m, "m")),
    )
}

fn shuttles(known: &Known, age_years: f64, sex: Sex, distance_m: f64) -> Option<Finding> {
    let height_m = known.case.person.height_cm? / 100.0;
    let body_mass_index = known.weight_kg()? / (height_m * height_m);
    let expected = shuttle_walk::probst_2012(age_years, sex, body_mass_index);
    if expected <= 0.0 {
        return None;
    }
    let text = format!(
        "{distance_m} m are {} per cent of {} m by Probst 2012",
        libm::round(100.0 * distance_m / expected),
        libm::round(expected)
    );
    Some(
        shuttle_walk::PROBST
            .finding(Weight::Note, text)
            .with(Named::number("expected_m", expected, "m")),
    )
}
