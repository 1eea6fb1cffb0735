//! The equations of the response as items that can be listed, read and evaluated.

use super::first_order::drift;
use super::parameters::{SLOPE_PRIOR, SLOW_FROM_YEARS, TAU_S, TAU_SLOW_S};
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{AGE, PEAK_HR, PEAK_METS, RESTING_HR, refuse, short};

/// Highest probability of passing a hard ceiling within one session. Source: `response-ours`.
pub(crate) const CHANCE_MOST: f64 = 0.05;
/// Standard normal value that 5 % lie above.
pub(crate) const Z_95: f64 = 1.645;

pub(super) const SLOPE_ID: RuleId = RuleId("response/slope");
pub(super) const TAU_ID: RuleId = RuleId("response/time-constant");
/// The one rule of the ceiling.
pub(crate) const CEILING_ID: RuleId = RuleId("response/hard-ceiling");

const METS: Input = Input::number("mets", "METs", 1.0, 25.0);
const GAIN: Input = Input::number("hr_gain", "times", 0.5, 2.0);
const SLOPE: Input = Input::number("slope_bpm_per_met", "bpm a MET", 0.0, 60.0);
const CEILING: Input = Input::number("ceiling_bpm", "beats a minute", 25.0, 260.0);
const SD: Input = Input::number("sd_bpm", "beats a minute", 0.1, 60.0);

/// The table.
pub(crate) const RULES: &[Rule] = &[
    Rule {
        id: RuleId("response/steady-state"),
        name: "Heart rate that an effort leads to",
        statement: "target = rest + slope x (METs - 1) x gain, bpm; gain 1.10 for work of the arms alone and 1.15 above the shoulder.",
        sources: &[SourceId("response-ours")],
        tag: Tag::Ours,
        inputs: &[RESTING_HR, SLOPE, METS, GAIN.or_none()],
        evaluate: |values| {
            let (rest, slope) = (
                values.number("resting_hr_bpm")?,
                values.number("slope_bpm_per_met")?,
            );
            let (mets, gain) = (
                values.number("mets")?,
                values.optional_number("hr_gain").unwrap_or(1.0),
            );
            let target = rest + slope * (mets - 1.0) * gain;
            let working = format!(
                "{rest} + {slope} x ({mets} - 1) x {gain} = {}",
                short(target)
            );
            Ok(Answer::new(Value::Number(target, "bpm"), working))
        },
    },
    Rule {
        id: SLOPE_ID,
        name: "Rise of the heart rate a MET",
        statement: "(peak - rest) / (peak METs - 1), bpm a MET, where an exercise test measured both; else the prior of 13.5. Error 3 bpm a MET (sd) at 13.5, the same share of a measured slope.",
        sources: &[SourceId("response-ours")],
        tag: Tag::Ours,
        inputs: &[RESTING_HR, PEAK_HR.or_none(), PEAK_METS.or_none()],
        evaluate: slope,
    },
    Rule {
        id: TAU_ID,
        name: "Time constant of the heart rate",
        statement: "60 s; 75 s from 70 years, with a rate-slowing medicine and in heart failure. Two thirds of people lie between 0.67 and 1.5 times it.",
        sources: &[
            SourceId("treadmill-kinetics-2015"),
            SourceId("older-kinetics"),
            SourceId("response-ours"),
        ],
        tag: Tag::Ours,
        inputs: &[
            AGE,
            Input::flag("rate_slowed"),
            Input::flag("heart_failure"),
        ],
        evaluate: |values| {
            let old = values.number("age_years")? >= SLOW_FROM_YEARS;
            let slow = old || values.flag("rate_slowed")? || values.flag("heart_failure")?;
            let tau = if slow { TAU_SLOW_S } else { TAU_S };
            let why = if slow { "slower" } else { "as in the healthy" };
            Ok(Answer::new(Value::Number(tau, "s"), why))
        },
    },
    Rule {
        id: RuleId("response/drift"),
        name: "Drift of the heart rate in long exercise",
        statement: "0.15 bpm for every minute after the tenth (sd 0.10): 1 to 4 bpm were measured, a textbook allows 10 in a session.",
        sources: &[
            SourceId("drew-drift"),
            SourceId("thow-2006"),
            SourceId("response-ours"),
        ],
        tag: Tag::Ours,
        inputs: &[Input::number("minutes", "minutes", 0.0, 240.0)],
        evaluate: |values| {
            let minutes = values.number("minutes")?;
            let rise = drift(minutes * 60.0, 0.15, 600.0);
            let working = format!("0.15 x max(0, {minutes} - 10) = {}", short(rise));
            Ok(Answer::new(Value::Number(rise, "bpm"), working))
        },
    },
    Rule {
        id: CEILING_ID,
        name: "Staying under a hard ceiling",
        statement: "At each segment's end the predicted mean is at most the band's upper end and at most the ceiling less 1.645 standard errors, and the probability of passing the ceiling within the session is at most 5 %. A guiding ceiling is shown and never blocks. Evaluated: the probability of one moment.",
        sources: &[SourceId("response-ours")],
        tag: Tag::Ours,
        inputs: &[
            Input::number("mean_bpm", "beats a minute", 25.0, 240.0),
            SD,
            CEILING,
        ],
        evaluate: |values| {
            let (mean, sd) = (values.number("mean_bpm")?, values.number("sd_bpm")?);
            let ceiling = values.number("ceiling_bpm")?;
            let chance = super::chance::upper_tail((ceiling - mean) / sd);
            let working = format!(
                "1 - Phi(({ceiling} - {mean}) / {sd}) = {}; margin {} bpm",
                short(chance),
                short(Z_95 * sd)
            );
            Ok(Answer::new(Value::Number(chance, ""), working))
        },
    },
];

fn slope(values: &Values) -> Result<Answer, RuleError> {
    let rest = values.number("resting_hr_bpm")?;
    let ends = values
        .optional_number("peak_hr_bpm")
        .zip(values.optional_number("peak_mets"));
    let Some((peak, mets)) = ends else {
        return Ok(Answer::new(
            Value::Number(SLOPE_PRIOR, "bpm a MET"),
            "no test: the prior",
        ));
    };
    if peak <= rest || mets <= 1.0 {
        return refuse("the peak must lie above rest, in beats and in METs; read the test again");
    }
    let slope = (peak - rest) / (mets - 1.0);
    let working = format!("({peak} - {rest}) / ({mets} - 1) = {}", short(slope));
    Ok(Answer::new(Value::Number(slope, "bpm a MET"), working))
}
