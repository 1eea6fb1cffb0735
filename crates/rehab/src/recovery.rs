//! Fall of the heart rate after an exercise test.
//!
//! The cut-offs belong to their cool-down: without the same one they do not apply, and no answer is given (ours).

use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::refuse;
use crate::quantity::HeartRate;

/// Fall in the first minute at or below which recovery is abnormal, bpm.
// Source: cole-1999 (n = 2428, 26 % abnormal, relative risk 4.0).
pub const ONE_MINUTE_ABNORMAL_BPM: f64 = 12.0;

/// Fall in two minutes at or below which recovery is abnormal, bpm.
// Source: cole-2000.
pub const TWO_MINUTES_ABNORMAL_BPM: f64 = 42.0;

closed_words!(
    /// What was done after the peak.
    CoolDown as "cool-down after the test" {
        UprightTwoMinutes = "upright-two-minutes",
        Other = "other",
        NotKnown = "not known",
    }
);

/// Fall from the peak to a later rate, in bpm.
pub fn fall_bpm(peak: HeartRate, later: HeartRate) -> f64 {
    peak.to_bpm() - later.to_bpm()
}

/// Whether the fall in the first minute is abnormal; `None` when the cool-down wasn't the one of the source.
///
/// Source: Cole 1999 (register `cole-1999`); the upright cool-down of two minutes is recalled.
pub fn one_minute_abnormal(fall_bpm: f64, cool_down: CoolDown) -> Option<bool> {
    (cool_down == CoolDown::UprightTwoMinutes).then_some(fall_bpm <= ONE_MINUTE_ABNORMAL_BPM)
}

/// Whether the fall in two minutes is abnormal; `None` when the test was not followed as in the source.
///
/// Source: Cole 2000 (register `cole-2000`).
pub fn two_minutes_abnormal(fall_bpm: f64, as_in_source: bool) -> Option<bool> {
    as_in_source.then_some(fall_bpm <= TWO_MINUTES_ABNORMAL_BPM)
}

/// One minute.
pub const ONE_MINUTE: Rule = Rule {
    id: RuleId("hr-recovery/one-minute"),
    name: "Fall of the heart rate in one minute",
    statement: "12 bpm or less in the first minute of an upright cool-down of two minutes is abnormal; improves with rehabilitation. With another cool-down the cut-off does not apply.",
    sources: &[SourceId("cole-1999"), SourceId("service-ours")],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("hr_recovery_1min_bpm", "beats a minute", -20.0, 100.0),
        Input::choice("cool_down", &["upright-two-minutes", "other", "not known"]),
    ],
    evaluate: |values| {
        let fall = values.number("hr_recovery_1min_bpm")?;
        let cool_down = CoolDown::parse(values.text("cool_down")?).unwrap_or(CoolDown::NotKnown);
        let Some(abnormal) = one_minute_abnormal(fall, cool_down) else {
            return refuse(
                "the cut-off belongs to an upright cool-down of two minutes; find out how the test ended",
            );
        };
        let sign = if abnormal { "<=" } else { ">" };
        Ok(Answer::new(
            Value::Flag(abnormal),
            format!("{fall} {sign} {ONE_MINUTE_ABNORMAL_BPM}"),
        ))
    },
};

/// Two minutes.
pub const TWO_MINUTES: Rule = Rule {
    id: RuleId("hr-recovery/two-minutes"),
    name: "Fall of the heart rate in two minutes",
    statement: "42 bpm or less at two minutes is abnormal, after a test as in the source.",
    sources: &[SourceId("cole-2000"), SourceId("service-ours")],
    tag: Tag::Read,
    inputs: &[
        Input::number("fall_bpm", "beats a minute", -20.0, 150.0),
        Input::flag("as_in_source"),
    ],
    evaluate: |values| {
        let fall = values.number("fall_bpm")?;
        let Some(abnormal) = two_minutes_abnormal(fall, values.flag("as_in_source")?) else {
            return refuse(
                "the cut-off belongs to the test of its source; find out how this one ended",
            );
        };
        let sign = if abnormal { "<=" } else { ">" };
        Ok(Answer::new(
            Value::Flag(abnormal),
            format!("{fall} {sign} {TWO_MINUTES_ABNORMAL_BPM}"),
        ))
    },
};

/// The rules of recovery.
pub(crate) const RULES: &[Rule] = &[ONE_MINUTE, TWO_MINUTES];

#[cfg(test)]
mod tests {
    use super::*;

    // Source: cole-1999, printed: 12 beats or less is abnormal; cole-2000: 42 or less at two minutes.
    #[test]
    fn published_cut_offs_include_their_own_value() {
        let upright = CoolDown::UprightTwoMinutes;
        assert_eq!(one_minute_abnormal(12.0, upright), Some(true));
        assert_eq!(one_minute_abnormal(13.0, upright), Some(false));
        assert_eq!(two_minutes_abnormal(42.0, true), Some(true));
        assert_eq!(two_minutes_abnormal(43.0, true), Some(false));
    }

    #[test]
    fn another_cool_down_gives_no_answer() {
        assert_eq!(one_minute_abnormal(5.0, CoolDown::Other), None);
        assert_eq!(one_minute_abnormal(30.0, CoolDown::NotKnown), None);
        assert_eq!(two_minutes_abnormal(10.0, false), None);
        assert_eq!(fall_bpm(HeartRate::bpm(131.0), HeartRate::bpm(119.0)), 12.0);
    }
}
