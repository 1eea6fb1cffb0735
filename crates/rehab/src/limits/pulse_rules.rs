//! The rules of the pulse band and of the ceilings that no other part gives.

use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{PEAK_HR, RESTING_HR, refuse, short, yes_no};
use crate::intensity::karvonen;
use crate::quantity::HeartRate;

/// Beats to stay under the upper tracking rate of a pacemaker.
// Source: pacing-practice (recalled).
pub(super) const UPPER_TRACKING_MARGIN_BPM: f64 = 10.0;

const SHARE: Input = Input::number("share_pct", "per cent of reserve", 0.0, 100.0);

pub(super) const LOW: Rule = Rule {
    id: RuleId("limits/hr-low"),
    name: "Lower end of the pulse band",
    statement: "Rest + share x (peak - rest), share 40 per cent by default, rounded up to a whole beat.",
    sources: &[SourceId("karvonen-1957"), SourceId("service-ours")],
    tag: Tag::Read,
    inputs: &[RESTING_HR, PEAK_HR, SHARE],
    evaluate: |values| end_answer(values, libm::ceil),
};

pub(super) const HIGH: Rule = Rule {
    id: RuleId("limits/hr-high"),
    name: "Upper end of the pulse band",
    statement: "Rest + share x (peak - rest), share 70 per cent by default and 60 in high risk, rounded down to a whole \
                beat, never above a hard ceiling.",
    sources: &[
        SourceId("karvonen-1957"),
        SourceId("uk-acpicr-bacpr"),
        SourceId("service-ours"),
    ],
    tag: Tag::Read,
    inputs: &[RESTING_HR, PEAK_HR, SHARE],
    evaluate: |values| end_answer(values, libm::floor),
};

pub(super) const UPPER_TRACKING: Rule = Rule {
    id: RuleId("ceiling/upper-tracking-rate"),
    name: "Below the upper tracking rate of a pacemaker",
    statement: "The upper rate stays 10 beats under the upper tracking rate of a pacemaker, above which beats are \
                dropped (recalled). Hard.",
    sources: &[SourceId("pacing-practice")],
    tag: Tag::Recalled,
    inputs: &[Input::number(
        "upper_tracking_bpm",
        "beats a minute",
        80.0,
        200.0,
    )],
    evaluate: |values| {
        let upper = values.number("upper_tracking_bpm")?;
        let rate = upper - UPPER_TRACKING_MARGIN_BPM;
        Ok(Answer::new(
            Value::Number(rate, "bpm"),
            format!("{upper} - {UPPER_TRACKING_MARGIN_BPM} = {rate}"),
        ))
    },
};

pub(super) const DEVICE_RATE: Rule = Rule {
    id: RuleId("ceiling/device-rate-known"),
    name: "The rate at which a defibrillator treats is known",
    statement: "Without the lowest rate at which the defibrillator treats there is no pulse band and nothing is signed; \
                of the ceilings only the one below a known ischaemic rate stays, with what lies lower.",
    sources: &[SourceId("pernick-icd"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::flag("known")],
    evaluate: |values| {
        let known = values.flag("known")?;
        Ok(Answer::new(
            Value::Text(if known { "nothing" } else { "blocks-signing" }.to_owned()),
            format!("known: {}", yes_no(known)),
        ))
    },
};

pub(super) const NO_BAND: Rule = Rule {
    id: RuleId("limits/no-pulse-band"),
    name: "No pulse band",
    statement: "Where the lower end of the band lies above its upper end, where the peak does not lie above the resting \
                rate, or where resting rate or peak are not known there is no pulse band: effort leads, and it is said.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("low_bpm", "beats a minute", 25.0, 240.0),
        Input::number("high_bpm", "beats a minute", 25.0, 240.0),
    ],
    evaluate: |values| {
        let (low, high) = (values.number("low_bpm")?, values.number("high_bpm")?);
        let word = if low > high { "no band" } else { "a band" };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("{low} against {high}"),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[LOW, HIGH, UPPER_TRACKING, DEVICE_RATE, NO_BAND];

fn end_answer(values: &Values, round: fn(f64) -> f64) -> Result<Answer, RuleError> {
    let rest = values.number("resting_hr_bpm")?;
    let peak = values.number("peak_hr_bpm")?;
    let pct = values.number("share_pct")?;
    if peak <= rest {
        return refuse("the peak does not lie above the resting rate; check both");
    }
    let exact = karvonen(HeartRate::bpm(rest), HeartRate::bpm(peak), pct / 100.0).to_bpm();
    Ok(Answer::new(
        Value::Number(round(exact), "bpm"),
        working(rest, peak, pct, exact),
    ))
}

/// The working of one end.
pub(super) fn working(rest: f64, peak: f64, pct: f64, exact: f64) -> String {
    format!(
        "{} + {} x ({} - {}) = {}",
        short(rest),
        short(pct / 100.0),
        short(peak),
        short(rest),
        short(exact)
    )
}
