//! May a field walk be taken today: its own cut-offs, which are not those of a session.

use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value, Values};

// Source: holland-2014, table 4.
const HOLLAND_SYSTOLIC_MMHG: f64 = 200.0;
const HOLLAND_DIASTOLIC_MMHG: f64 = 120.0;
const HOLLAND_SATURATION_PCT: f64 = 85.0;
// Source: ats-2002 (recalled).
const OLDER_SYSTOLIC_MMHG: f64 = 180.0;
const OLDER_DIASTOLIC_MMHG: f64 = 100.0;
const OLDER_RATE_BPM: f64 = 120.0;

/// Readings before a field walk; what was not measured is `None`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeforeWalk {
    /// Systolic pressure in mmHg.
    pub systolic_mmhg: Option<f64>,
    /// Diastolic pressure in mmHg.
    pub diastolic_mmhg: Option<f64>,
    /// Resting heart rate in bpm.
    pub resting_hr_bpm: Option<f64>,
    /// Oxygen saturation in room air in per cent.
    pub spo2_pct: Option<f64>,
}

/// What readings say of a field walk.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FieldWalk {
    /// What speaks against it.
    pub against: Vec<&'static str>,
    /// What is still to find out: not known never counts as good.
    pub to_find_out: Vec<&'static str>,
}

impl FieldWalk {
    /// In one word: what speaks against comes first, then what is not known.
    pub const fn word(&self) -> &'static str {
        if !self.against.is_empty() {
            "not today"
        } else if !self.to_find_out.is_empty() {
            "not before it is measured"
        } else {
            "may be taken"
        }
    }

    fn ask(
        &mut self,
        value: Option<f64>,
        what: &'static str,
        stops: fn(f64) -> bool,
        why: &'static str,
    ) {
        match value {
            Some(value) if stops(value) => self.against.push(why),
            Some(_) => {}
            None => self.to_find_out.push(what),
        }
    }
}

/// A field walk by the statement of Holland 2014.
///
/// Source: register `holland-2014`, table 4: saturation of 85 per cent or less in room air, and relative: pressure of
/// 200/120 or more.
pub fn field_walk(before: &BeforeWalk) -> FieldWalk {
    let mut walk = FieldWalk::default();
    walk.ask(
        before.systolic_mmhg,
        "systolic pressure",
        |mmhg| mmhg >= HOLLAND_SYSTOLIC_MMHG,
        "systolic pressure of 200 or more (relative)",
    );
    walk.ask(
        before.diastolic_mmhg,
        "diastolic pressure",
        |mmhg| mmhg >= HOLLAND_DIASTOLIC_MMHG,
        "diastolic pressure of 120 or more (relative)",
    );
    walk.ask(
        before.spo2_pct,
        "oxygen saturation in room air",
        |pct| pct <= HOLLAND_SATURATION_PCT,
        "oxygen saturation of 85 per cent or less in room air",
    );
    walk
}

/// A six-minute walk by the older statement.
///
/// Source: register `ats-2002` (recalled): pressure above 180/100 (relative), resting rate above 120.
pub fn older_six_minute_walk(before: &BeforeWalk) -> FieldWalk {
    let mut walk = FieldWalk::default();
    walk.ask(
        before.systolic_mmhg,
        "systolic pressure",
        |mmhg| mmhg > OLDER_SYSTOLIC_MMHG,
        "systolic pressure above 180 (relative)",
    );
    walk.ask(
        before.diastolic_mmhg,
        "diastolic pressure",
        |mmhg| mmhg > OLDER_DIASTOLIC_MMHG,
        "diastolic pressure above 100 (relative)",
    );
    walk.ask(
        before.resting_hr_bpm,
        "resting rate",
        |bpm| bpm > OLDER_RATE_BPM,
        "resting rate above 120",
    );
    walk
}

const SYSTOLIC: Input = Input::number("systolic_mmhg", "mmHg", 50.0, 280.0).or_none();
const DIASTOLIC: Input = Input::number("diastolic_mmhg", "mmHg", 20.0, 180.0).or_none();
const RATE: Input = Input::number("resting_hr_bpm", "beats a minute", 25.0, 220.0).or_none();
const SATURATION: Input = Input::number("spo2_pct", "per cent", 50.0, 100.0).or_none();

fn answer(values: &Values, asks: fn(&BeforeWalk) -> FieldWalk) -> Answer {
    let before = BeforeWalk {
        systolic_mmhg: values.optional_number("systolic_mmhg"),
        diastolic_mmhg: values.optional_number("diastolic_mmhg"),
        resting_hr_bpm: values.optional_number("resting_hr_bpm"),
        spo2_pct: values.optional_number("spo2_pct"),
    };
    let walk = asks(&before);
    let mut parts = walk.against.clone();
    if parts.is_empty() {
        parts.push("nothing that was measured speaks against it");
    }
    let mut answer = Answer::new(Value::Text(walk.word().to_owned()), parts.join("; "));
    for what in &walk.to_find_out {
        answer = answer.keep_in_mind(format!("{what} is not known: measure it first"));
    }
    answer
}

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: RuleId("field-test/holland-2014"),
        name: "May a field walk be taken",
        statement: "No field walk with oxygen saturation of 85 per cent or less in room air; relative: pressure of 200/120 \
                    or more. What was not measured is measured first.",
        sources: &[SourceId("holland-2014")],
        tag: Tag::Read,
        inputs: &[SYSTOLIC, DIASTOLIC, SATURATION],
        evaluate: |values| Ok(answer(values, field_walk)),
    },
    Rule {
        id: RuleId("field-test/ats-2002"),
        name: "May a six-minute walk be taken, older statement",
        statement: "No six-minute walk with a resting rate above 120; relative: pressure above 180/100 (recalled). What was \
                    not measured is measured first.",
        sources: &[SourceId("ats-2002")],
        tag: Tag::Recalled,
        inputs: &[SYSTOLIC, DIASTOLIC, RATE],
        evaluate: |values| Ok(answer(values, older_six_minute_walk)),
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    const WELL: BeforeWalk = BeforeWalk {
        systolic_mmhg: Some(128.0),
        diastolic_mmhg: Some(74.0),
        resting_hr_bpm: Some(64.0),
        spo2_pct: Some(97.0),
    };

    fn systolic(mmhg: f64) -> BeforeWalk {
        BeforeWalk {
            systolic_mmhg: Some(mmhg),
            ..WELL
        }
    }

    fn diastolic(mmhg: f64) -> BeforeWalk {
        BeforeWalk {
            diastolic_mmhg: Some(mmhg),
            ..WELL
        }
    }

    fn saturation(pct: f64) -> BeforeWalk {
        BeforeWalk {
            spo2_pct: Some(pct),
            ..WELL
        }
    }

    fn rate(bpm: f64) -> BeforeWalk {
        BeforeWalk {
            resting_hr_bpm: Some(bpm),
            ..WELL
        }
    }

    // Source: Holland 2014, table 4; ATS 2002 (recalled). Both sides of each boundary.
    #[test]
    fn published_field_test_boundaries() {
        let holland = |before: BeforeWalk| field_walk(&before).against.len();
        assert_eq!(holland(WELL), 0);
        assert_eq!((holland(systolic(199.0)), holland(systolic(200.0))), (0, 1));
        assert_eq!(
            (holland(diastolic(119.0)), holland(diastolic(120.0))),
            (0, 1)
        );
        assert_eq!(
            (holland(saturation(86.0)), holland(saturation(85.0))),
            (0, 1)
        );
        let older = |before: BeforeWalk| older_six_minute_walk(&before).against.len();
        assert_eq!((older(systolic(180.0)), older(systolic(181.0))), (0, 1));
        assert_eq!((older(diastolic(100.0)), older(diastolic(101.0))), (0, 1));
        assert_eq!((older(rate(120.0)), older(rate(121.0))), (0, 1));
    }

    #[test]
    fn what_was_not_measured_is_measured_before_a_field_walk() {
        let unmeasured = BeforeWalk {
            spo2_pct: None,
            ..WELL
        };
        let walk = field_walk(&unmeasured);
        assert_eq!(walk.to_find_out, ["oxygen saturation in room air"]);
        assert_eq!(walk.word(), "not before it is measured");
        assert_eq!(older_six_minute_walk(&unmeasured).word(), "may be taken");
        // What speaks against it stands, whatever else is missing.
        let high = BeforeWalk {
            systolic_mmhg: Some(205.0),
            ..unmeasured
        };
        assert_eq!(field_walk(&high).word(), "not today");
    }

    #[test]
    fn the_rule_shows_its_working_and_lists_what_is_missing() {
        let given = [("systolic_mmhg", "128"), ("diastolic_mmhg", "74")];
        let pairs: Vec<(String, String)> = given
            .iter()
            .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()))
            .collect();
        let values = Values::check(&RULES[0], &pairs).unwrap();
        let answer = (RULES[0].evaluate)(&values).unwrap();
        assert_eq!(answer.value.to_string(), "not before it is measured");
        assert!(!answer.working.is_empty());
        assert_eq!(
            answer.cautions,
            ["oxygen saturation in room air is not known: measure it first"]
        );
    }
}
