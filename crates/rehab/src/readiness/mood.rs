//! Mood, worry and well-being: the newest answers, and what is asked while there are none.

use super::MOOD;
use crate::assessment::{Answered, HistoryItem, TestResult};
use crate::evidence::{Finding, Named, Rule, Weight};
use crate::instruments::{
    GAD_7, NotScored, PHQ_9, Scored, Severity, WHO_5, gad_7, ninth_item_alert, phq_9, who_5,
};
use crate::known::Known;
use std::collections::BTreeSet;

/// What is asked.
pub(super) fn questions(known: &Known) -> Vec<Finding> {
    let asked = known.tests().into_iter().any(|test| {
        matches!(
            test.result,
            TestResult::Phq9 { .. } | TestResult::Gad7 { .. } | TestResult::Who5 { .. }
        )
    });
    if asked {
        return Vec::new();
    }
    vec![
        MOOD.finding(
            Weight::FindOut,
            "How is the mood? The questions were not asked yet",
        )
        .asking("the patient, at the next visit", ""),
    ]
}

/// What the newest answers of each questionnaire say.
pub(super) fn findings(known: &Known) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let mut all = Vec::new();
    for test in known.tests() {
        if !seen.insert(test.result.kind()) {
            continue;
        }
        match &test.result {
            TestResult::Phq9 { answers } => {
                all.extend(ninth_item_alert(answers));
                all.extend(mood(known, phq_9(answers)));
            }
            TestResult::Gad7 { answers } => all.extend(scored(&GAD_7, "Worry", gad_7(answers))),
            TestResult::Who5 { answers } => all.extend(well_being(answers)),
            _ => {}
        }
    }
    all
}

/// Low mood is not a diagnosis; while clinical depression is not answered it is a reason to ask about it.
fn mood(known: &Known, score: Result<Scored, NotScored>) -> Option<Finding> {
    let mut finding = scored(&PHQ_9, "Mood", score)?;
    if known.answer(HistoryItem::ClinicalDepression) == Answered::NotKnown {
        finding
            .text
            .push_str("; ask the doctor about clinical depression, it counts for the risk class");
    }
    Some(finding)
}

fn scored(rule: &Rule, what: &str, score: Result<Scored, NotScored>) -> Option<Finding> {
    match score {
        Ok(one) if one.severity >= Severity::Moderate => Some(
            rule.finding(
                Weight::Caution,
                format!(
                    "{what}: {} points, {}. Ask how they are and tell the doctor",
                    one.score, one.severity
                ),
            )
            .with(Named::whole("score", i64::from(one.score), "points")),
        ),
        Ok(_) => None,
        Err(why) => Some(rule.finding(Weight::Note, format!("{what}: no score, {}", why.word()))),
    }
}

fn well_being(answers: &[u8]) -> Option<Finding> {
    match who_5(answers) {
        Ok(found) if found.low => {
            let how = if found.very_low {
                "as low as in depression: ask about mood today"
            } else {
                "low: ask about mood"
            };
            Some(
                WHO_5
                    .finding(
                        Weight::Caution,
                        format!("Well-being {} of 100, {how}", found.score),
                    )
                    .with(Named::whole("score", i64::from(found.score), "of 100")),
            )
        }
        Ok(_) => None,
        Err(why) => Some(WHO_5.finding(
            Weight::Note,
            format!("Well-being: no score, {}", why.word()),
        )),
    }
}
