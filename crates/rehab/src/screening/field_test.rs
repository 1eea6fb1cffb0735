//! May a field walk be taken today: its own cut-offs, which are not those of a session.

use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};

/// Readings before a field walk.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeforeWalk {
    /// Systolic pressure in mmHg.
    pub systolic_mmhg: f64,
    /// Diastolic pressure in mmHg.
    pub diastolic_mmhg: f64,
    /// Resting heart rate in bpm.
    pub resting_hr_bpm: f64,
    /// Oxygen saturation in room air in per cent.
    pub spo2_pct: Option<f64>,
}

/// Why a field walk is not taken by the statement of Holland 2014; empty when nothing speaks against it.
///
/// Source: register `holland-2014`, table 4: saturation of 85 per cent or less in room air, and relative: pressure of
/// 200/120 or more.
pub fn against_field_walk(before: &BeforeWalk) -> Vec<&'static str> {
    let mut against = Vec::new();
    if before.systolic_mmhg >= 200.0 || before.diastolic_mmhg >= 120.0 {
        against.push("pressure of 200/120 or more (relative)");
    }
    if before.spo2_pct.is_some_and(|pct| pct <= 85.0) {
        against.push("oxygen saturation of 85 per cent or less in room air");
    }
    against
}

/// Why a six-minute walk is not taken by the older statement; empty when nothing speaks against it.
///
/// Source: register `ats-2002` (recalled): pressure above 180/100 (relative), resting rate above 120.
pub fn against_six_minute_walk(before: &BeforeWalk) -> Vec<&'static str> {
    let mut against = Vec::new();
    if before.systolic_mmhg > 180.0 || before.diastolic_mmhg > 100.0 {
        against.push("pressure above 180/100 (relative)");
    }
    if before.resting_hr_bpm > 120.0 {
        against.push("resting rate above 120");
    }
    against
}

const INPUTS: &[Input] = &[
    Input::number("systolic_mmhg", "mmHg", 50.0, 280.0),
    Input::number("diastolic_mmhg", "mmHg", 20.0, 180.0),
    Input::number("resting_hr_bpm", "beats a minute", 25.0, 220.0),
    Input::number("spo2_pct", "per cent", 50.0, 100.0).or_none(),
];

fn evaluate(
    values: &Values,
    against: fn(&BeforeWalk) -> Vec<&'static str>,
) -> Result<Answer, RuleError> {
    let found = against(&BeforeWalk {
        systolic_mmhg: values.number("systolic_mmhg")?,
        diastolic_mmhg: values.number("diastolic_mmhg")?,
        resting_hr_bpm: values.number("resting_hr_bpm")?,
        spo2_pct: values.optional_number("spo2_pct"),
    });
    let word = if found.is_empty() {
        "may be taken"
    } else {
        "not today"
    };
    Ok(Answer::new(Value::Text(word.to_owned()), found.join("; ")))
}

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: RuleId("field-test/holland-2014"),
        name: "May a field walk be taken",
        statement: "No field walk with oxygen saturation of 85 per cent or less in room air; relative: pressure of 200/120 \
                    or more.",
        sources: &[SourceId("holland-2014")],
        tag: Tag::Read,
        inputs: INPUTS,
        evaluate: |values| evaluate(values, against_field_walk),
    },
    Rule {
        id: RuleId("field-test/ats-2002"),
        name: "May a six-minute walk be taken, older statement",
        statement: "No six-minute walk with a resting rate above 120; relative: pressure above 180/100 (recalled).",
        sources: &[SourceId("ats-2002")],
        tag: Tag::Recalled,
        inputs: INPUTS,
        evaluate: |values| evaluate(values, against_six_minute_walk),
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    const WELL: BeforeWalk = BeforeWalk {
        systolic_mmhg: 128.0,
        diastolic_mmhg: 74.0,
        resting_hr_bpm: 64.0,
        spo2_pct: Some(97.0),
    };

    // Source: Holland 2014, table 4; ATS 2002 (recalled). Both sides of each boundary.
    #[test]
    fn published_field_test_boundaries() {
        let holland = |before: BeforeWalk| against_field_walk(&before).len();
        assert_eq!(holland(WELL), 0);
        assert_eq!(
            holland(BeforeWalk {
                systolic_mmhg: 199.0,
                ..WELL
            }),
            0
        );
        assert_eq!(
            holland(BeforeWalk {
                systolic_mmhg: 200.0,
                ..WELL
            }),
            1
        );
        assert_eq!(
            holland(BeforeWalk {
                diastolic_mmhg: 119.0,
                ..WELL
            }),
            0
        );
        assert_eq!(
            holland(BeforeWalk {
                diastolic_mmhg: 120.0,
                ..WELL
            }),
            1
        );
        assert_eq!(
            holland(BeforeWalk {
                spo2_pct: Some(86.0),
                ..WELL
            }),
            0
        );
        assert_eq!(
            holland(BeforeWalk {
                spo2_pct: Some(85.0),
                ..WELL
            }),
            1
        );
        let older = |before: BeforeWalk| against_six_minute_walk(&before).len();
        assert_eq!(
            older(BeforeWalk {
                systolic_mmhg: 180.0,
                ..WELL
            }),
            0
        );
        assert_eq!(
            older(BeforeWalk {
                systolic_mmhg: 181.0,
                ..WELL
            }),
            1
        );
        assert_eq!(
            older(BeforeWalk {
                resting_hr_bpm: 120.0,
                ..WELL
            }),
            0
        );
        assert_eq!(
            older(BeforeWalk {
                resting_hr_bpm: 121.0,
                ..WELL
            }),
            1
        );
    }
}
