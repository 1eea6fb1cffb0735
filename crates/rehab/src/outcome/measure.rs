//! The one number of each test.

use crate::assessment::TestResult;
use crate::function_tests::{activity_status, chair_and_gait};
use crate::instruments::{gad_7, phq_9, who_5};

/// What a number is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Measure {
    pub(super) name: &'static str,
    pub(super) unit: &'static str,
}

const fn of(name: &'static str, unit: &'static str) -> Measure {
    Measure { name, unit }
}

/// The measure and number of a test; `None` where it has none, as a questionnaire with open answers.
pub(super) fn read(result: &TestResult) -> Option<(Measure, f64)> {
    Some(match result {
        TestResult::Exercise(test) => (of("Exercise test", "METs"), test.peak_mets?),
        TestResult::TwoMinuteStep { count } => (of("Two-minute step", "raises"), *count),
        TestResult::SixMinuteWalk { distance_m, .. } => (of("Six-minute walk", "m"), *distance_m),
        TestResult::ShuttleWalk { distance_m, .. } => (of("Shuttle walk", "m"), *distance_m),
        // Its estimate hangs on a predicted peak; the stages themselves are no single number.
        TestResult::Step { .. } => return None,
        TestResult::ChairStand30s { count } => (of("Chair stands in 30 s", "stands"), *count),
        TestResult::SitToStand1Min { count } => (of("Chair stands in a minute", "stands"), *count),
        TestResult::FiveSitToStand { seconds } => (of("Five stands", "s"), *seconds),
        TestResult::TimedUpAndGo { seconds } => (of("Timed up and go", "s"), *seconds),
        TestResult::Gait4m { seconds } => (
            of("Walking speed over 4 metres", "m/s"),
            chair_and_gait::gait_speed_m_s(*seconds),
        ),
        TestResult::ActivityStatus { yes } => (
            of("Activity questionnaire", "points"),
            activity_status::score(yes).ok()?,
        ),
        TestResult::Phq9 { answers } => (
            of("Mood, nine items", "points"),
            f64::from(phq_9(answers).ok()?.score),
        ),
        TestResult::Gad7 { answers } => (
            of("Worry, seven items", "points"),
            f64::from(gad_7(answers).ok()?.score),
        ),
        TestResult::Who5 { answers } => (
            of("Well-being, five items", "of 100"),
            f64::from(who_5(answers).ok()?.score),
        ),
    })
}
