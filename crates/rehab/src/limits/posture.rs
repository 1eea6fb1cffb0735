//! Who needs slow changes of posture.

use crate::assessment::{Examination, ExaminationSymptom, HistoryItem, PressureResponse};
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::inputs::yes_no;
use crate::known::Known;

// Source: freeman-2011 (recalled): 20 mmHg systolic or 10 mmHg diastolic within 3 minutes of standing.
const ORTHOSTATIC_SYSTOLIC_MMHG: f64 = 20.0;
const ORTHOSTATIC_DIASTOLIC_MMHG: f64 = 10.0;
// Source: day-gate-practice (recalled).
const LOW_SYSTOLIC_MMHG: f64 = 100.0;

const SLOW: Rule = Rule {
    id: RuleId("limits/slow-changes-of-posture"),
    name: "Slow changes of posture",
    statement: "A fall of 20 mmHg systolic or 10 diastolic on standing, a systolic pressure under 100, dizziness on \
                standing, known orthostatic hypotension, severely low pressure after an exercise test (our default) or a vasodilating medicine (nitrate, ACE inhibitor, alpha \
                blocker ...) ask for slow changes of posture, moving feet and a long cool-down.",
    sources: &[
        SourceId("freeman-2011"),
        SourceId("thow-2006"),
        SourceId("day-gate-practice"),
        SourceId("service-ours"),
    ],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("fall_systolic_mmhg", "mmHg", -100.0, 200.0).or_none(),
        Input::number("fall_diastolic_mmhg", "mmHg", -100.0, 150.0).or_none(),
        Input::number("systolic_mmhg", "mmHg", 50.0, 280.0).or_none(),
        Input::flag("vasodilator").or_none(),
    ],
    evaluate: |values| {
        let over = |name, limit| {
            values
                .optional_number(name)
                .is_some_and(|fall| fall >= limit)
        };
        let slow = over("fall_systolic_mmhg", ORTHOSTATIC_SYSTOLIC_MMHG)
            || over("fall_diastolic_mmhg", ORTHOSTATIC_DIASTOLIC_MMHG)
            || values
                .optional_number("systolic_mmhg")
                .is_some_and(|pressure| pressure < LOW_SYSTOLIC_MMHG)
            || values.optional_text("vasodilator") == Some("yes");
        Ok(Answer::new(
            Value::Flag(slow),
            format!("slow: {}", yes_no(slow)),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[SLOW];

/// Whether slow changes are needed, whether pressure itself was seen to fall, and why.
pub(crate) struct Posture {
    pub(crate) slow_changes: bool,
    pub(crate) hypotension_seen: bool,
    pub(crate) findings: Vec<Finding>,
}

/// Posture of the record on its day; `vasodilators` are the names of those taken.
pub(crate) fn posture(known: &Known, vasodilators: &[String]) -> Posture {
    let mut seen = Vec::new();
    if known.has(HistoryItem::OrthostaticHypotension) {
        seen.push("orthostatic hypotension is known".to_owned());
    }
    if known.reports(ExaminationSymptom::DizzinessOnStanding) == Some(true) {
        seen.push("dizziness on standing".to_owned());
    }
    if let Some(examination) = known.examination() {
        seen.extend(measured(&examination));
    }
    if fell_after_a_test(known) {
        seen.push("pressure was severely low after the exercise test".to_owned());
    }
    let hypotension_seen = !seen.is_empty();
    let mut reasons = seen;
    if !vasodilators.is_empty() {
        reasons.push(format!("takes {}", vasodilators.join(", ")));
    }
    let findings = if reasons.is_empty() {
        Vec::new()
    } else {
        let text = format!(
            "Slow changes of posture, feet moving, a long cool-down: {}",
            reasons.join("; ")
        );
        vec![
            SLOW.finding(Weight::Adapt, text)
                .with(Named::flag("hypotension_seen", hypotension_seen)),
        ]
    };
    Posture {
        slow_changes: !reasons.is_empty(),
        hypotension_seen,
        findings,
    }
}

/// The newest exercise tests that tell the pressure decide, all of one day together; one without a day always counts.
fn fell_after_a_test(known: &Known) -> bool {
    let tests = known.exercise_tests();
    let mut told = tests
        .iter()
        .filter_map(|(test, exercise)| Some((test.date, exercise.bp_response?)));
    let newest = told.clone().map(|(date, _)| date).max().flatten();
    told.any(|(date, answer)| {
        answer == PressureResponse::FallAfter && (date.is_none() || date == newest)
    })
}

fn measured(examination: &Examination) -> Vec<String> {
    let mut seen = Vec::new();
    let Some(resting) = examination.resting_bp else {
        return seen;
    };
    if resting.systolic_mmhg < LOW_SYSTOLIC_MMHG {
        seen.push(format!("pressure {} at rest", resting.systolic_mmhg));
    }
    if let Some(standing) = examination.standing_bp {
        let systolic = resting.systolic_mmhg - standing.systolic_mmhg;
        let diastolic = resting.diastolic_mmhg - standing.diastolic_mmhg;
        if systolic >= ORTHOSTATIC_SYSTOLIC_MMHG || diastolic >= ORTHOSTATIC_DIASTOLIC_MMHG {
            seen.push(format!(
                "pressure falls by {systolic}/{diastolic} on standing"
            ));
        }
    }
    seen
}
