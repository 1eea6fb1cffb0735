//! Which tests of capacity count now, and what to keep in mind of them.

use super::reading::{MEASURED, Read, name, read};
use crate::assessed::CapacityEstimate;
use crate::assessment::{Answered, Test, TestResult};
use crate::calendar::days_between;
use crate::evidence::{Finding, Weight};
use crate::function_tests::standard;
use crate::known::Known;
use crate::limits::pulse_says_work;
use crate::medicine::rate_slowing_changed;
use crate::quantity::Mets;

/// Methods in order of trust, by the kind of their test.
pub(super) const ORDER: &[&str] = &[
    "exercise-test",
    "step",
    "shuttle-walk",
    "six-minute-walk",
    "activity-status",
];

/// A test older than this is told to be old, in days.
// Source: service-ours.
const OLD_DAYS: i32 = 365;

/// What a test comes to.
pub(super) enum Outcome {
    /// It counts.
    Usable(CapacityEstimate),
    /// It gives a number that does not count now, with what may be asked about it.
    NotUsed(NotUsed),
    /// It gives no number.
    Nothing(Option<Finding>),
}

/// A number that does not count now.
pub(super) struct NotUsed {
    pub(super) estimate: CapacityEstimate,
    /// Taken under standard conditions: only from before the newest event, or with a line that ends too early.
    pub(super) standard: bool,
    /// What is to be asked about it.
    pub(super) asked: Vec<Finding>,
}

/// What a test says of capacity, and whether it counts.
pub(super) fn estimate(known: &Known, test: &Test, rate_slowed: Answered) -> Outcome {
    let reading = match read(known, test) {
        Read::Number(reading) => *reading,
        Read::NoNumber(finding) => return Outcome::Nothing(finding),
    };
    let mut cautions = reading.cautions;
    let (mut doubts, asked) = doubts(known, test);
    doubts.extend(reading.doubt);
    cautions.extend(doubts.iter().cloned());
    cautions.extend(keep_in_mind(known, test, rate_slowed));
    let estimate = CapacityEstimate {
        mets: reading.mets.max(Mets::of(1.0)),
        error_mets: reading.error_mets,
        method: test.result.kind().to_owned(),
        measured: reading.measured,
        date: test.date,
        because: reading.because,
        cautions,
    };
    if doubts.is_empty() {
        Outcome::Usable(estimate)
    } else {
        Outcome::NotUsed(NotUsed {
            estimate,
            standard: test.date.is_some() && standard(test).is_empty(),
            asked,
        })
    }
}

/// Why a test does not count now, with what is to be asked.
fn doubts(known: &Known, test: &Test) -> (Vec<String>, Vec<Finding>) {
    let mut doubts = Vec::new();
    let mut asked = Vec::new();
    if test.date.is_none() {
        doubts.push("its day is not recorded: not used".to_owned());
        asked.push(
            MEASURED
                .finding(
                    Weight::FindOut,
                    format!(
                        "When was the {} taken? Without its day it is not used",
                        name(test)
                    ),
                )
                .asking("who took the test", "whether it counts"),
        );
    } else if !known.since_newest_event(test) {
        doubts.push("from before the newest event: not used".to_owned());
    }
    for finding in standard(test) {
        doubts.push(finding.text.clone());
        if finding.ask.is_some() {
            asked.push(finding);
        }
    }
    let by_pulse = matches!(test.result, TestResult::Step { .. });
    if by_pulse && !pulse_says_work(known) {
        doubts.push(
            "in this rhythm the pulse does not say how hard the heart works: not used".to_owned(),
        );
    }
    (doubts, asked)
}

/// What to keep in mind of a test that counts.
fn keep_in_mind(known: &Known, test: &Test, rate_slowed: Answered) -> Vec<String> {
    let mut found = Vec::new();
    let Some(date) = test.date else {
        return found;
    };
    if days_between(date, known.on) > OLD_DAYS {
        found.push("more than a year old".to_owned());
    }
    if matches!(test.result, TestResult::ActivityStatus { .. }) {
        return found;
    }
    let changed = rate_slowing_changed(
        &known.case.medicines,
        &known.service.medicine_names,
        date,
        known.on,
    );
    let other_then = test.beta_blocked == Some(false) && rate_slowed == Answered::Present
        || test.beta_blocked == Some(true) && rate_slowed == Answered::Absent;
    if changed == Answered::Present || other_then {
        found.push(
            "a rate-slowing medicine began, ended or changed since: not comparable with a later test"
                .to_owned(),
        );
    }
    found
}
