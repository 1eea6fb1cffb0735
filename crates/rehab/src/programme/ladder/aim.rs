//! What brisk stations aim at: a pulse that ends in the training band, or its effort where no pulse is predicted.

use super::Ground;
use super::shape::Shape;
use crate::evidence::{Answer, Because, Input, Named, Rule, RuleId, SourceId, Tag, Value};
use crate::programme::composer::MOST_OFF_BAND;
use crate::programme::eligible::Way;
use crate::programme::response::decay;

/// METs of one step off the band: less than the cost of a movement is known to. Source: `programme-ours`.
const STEP_METS: f64 = 0.25;
/// Slack on a comparison of METs.
const SLACK: f64 = 1e-9;

/// Efforts at which brisk stations lie within the band.
#[derive(Clone, Copy, Debug)]
pub(super) struct Aim {
    /// METs above rest, as the heart feels them where a pulse is predicted.
    low: f64,
    high: f64,
    /// Upper end of the METs band: nothing above it is aimed at.
    most_mets: f64,
    /// Whether it is the pulse that is aimed at.
    by_pulse: bool,
}

impl Aim {
    /// The aim of a shape's brisk stations.
    pub(super) fn of(ground: &Ground<'_>, shape: Shape) -> Self {
        let limits = &ground.asked.assessed.limits;
        let most_mets = limits.mets.high.to_mets();
        let by_pulse = ground.response.as_ref().zip(limits.hr);
        let (low, high) = match by_pulse {
            Some((response, band)) => {
                let turn = Turn::of(ground, shape, response.tau_s);
                let load = |bpm: f64| {
                    turn.brisk_load((bpm - response.level_bpm) / response.slope.max(1.0))
                };
                (load(band.low.to_bpm()), load(band.high.to_bpm()))
            }
            None => (limits.mets.low.to_mets() - 1.0, most_mets - 1.0),
        };
        Self {
            low: low.min(most_mets - 1.0).max(0.0),
            high,
            most_mets,
            by_pulse: by_pulse.is_some(),
        }
    }

    /// Steps by which a way lies off the band as a brisk station.
    pub(super) fn steps_off(&self, way: &Way<'_>) -> u32 {
        let gain = if self.by_pulse {
            way.exercise.hr_gain
        } else {
            1.0
        };
        let load = (way.mets - 1.0) * gain;
        if way.mets > self.most_mets + SLACK {
            return MOST_OFF_BAND;
        }
        steps((self.low - load).max(load - self.high))
    }

    /// Why.
    pub(super) fn because(&self) -> Because {
        let (low, high) = (
            1.0 + self.low,
            (1.0 + self.high).clamp(1.0 + self.low, self.most_mets),
        );
        let text = if self.by_pulse {
            format!(
                "Brisk stations aim at {low:.1} to {high:.1} METs: turn after turn, the pulse then ends in the training band."
            )
        } else {
            format!("Brisk stations aim at {low:.1} to {high:.1} METs, the band of the effort.")
        };
        AIM.because(Value::Number(low, "METs"), text)
            .with(Named::number("low_mets", low, "METs"))
            .with(Named::number("high_mets", high, "METs"))
            .changes_with("lengths of the stations; pulses logged; an exercise test")
    }
}

fn steps(off_mets: f64) -> u32 {
    let steps = libm::ceil(off_mets.max(0.0) / STEP_METS - SLACK);
    (steps as u32).min(MOST_OFF_BAND)
}

/// One brisk and one easy station with their change-overs, as the first-order response sees them over and over.
#[derive(Clone, Copy, Debug)]
struct Turn {
    /// Share of a difference that is left after the brisk station, and after all that lies between two of them.
    brisk_left: f64,
    easy_left: f64,
    /// METs above rest of what lies between; taken as that of a change-over.
    easy_load: f64,
}

impl Turn {
    fn of(ground: &Ground<'_>, shape: Shape, tau_s: f64) -> Self {
        let easy_s = shape.easy_s + 2 * ground.change_over.seconds;
        Self {
            brisk_left: decay(f64::from(shape.brisk_s), tau_s),
            easy_left: decay(f64::from(easy_s), tau_s),
            easy_load: ground.change_over.mets - 1.0,
        }
    }

    /// METs above rest of a brisk station at whose end the response comes to a value, turn after turn.
    ///
    /// The response repeats itself when `peak (1 - a b) = brisk (1 - a) + easy (1 - b) a`, with `a` and `b` what is left
    /// of a difference after the brisk and after the easy part; here solved for the brisk load.
    fn brisk_load(self, peak: f64) -> f64 {
        let (a, b) = (self.brisk_left, self.easy_left);
        let rise = 1.0 - a;
        if rise <= 0.0 {
            return peak;
        }
        (peak * (1.0 - a * b) - self.easy_load * (1.0 - b) * a) / rise
    }
}

/// The rule.
pub(super) const AIM: Rule = Rule {
    id: RuleId("programme/training-band"),
    name: "What brisk stations aim at",
    statement: "The pulse at the end of a brisk station, turn after turn, within the training band and never above the METs band, which counts as far off as can be; where no pulse is predicted, the METs band. Each quarter of a MET outside is one step, and the composer makes the sum of steps as small as the hard rules allow. The band's lower end still constrains nothing.",
    sources: &[SourceId("uk-acpicr-bacpr"), SourceId("programme-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("load_mets", "METs", 1.0, 25.0),
        Input::number("low_mets", "METs", 1.0, 25.0),
        Input::number("high_mets", "METs", 1.0, 25.0),
    ],
    evaluate: |values| {
        let load = values.number("load_mets")?;
        let (low, high) = (values.number("low_mets")?, values.number("high_mets")?);
        let off = (low - load).max(load - high);
        Ok(Answer::new(
            Value::Whole(i64::from(steps(off)), "steps"),
            format!("{load} against {low} to {high}, in steps of {STEP_METS} METs"),
        ))
    },
};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::programme::response::step;

    #[test]
    fn reference_turn_after_turn_the_response_comes_to_the_value_aimed_at() {
        // Rate on 60 s and off 30 s with a time constant of 60 s, in steps instead of the closed form.
        for (brisk_s, easy_s, tau_s) in
            [(60.0, 60.0, 75.0), (120.0, 45.0, 60.0), (30.0, 90.0, 40.0)]
        {
            let turn = Turn {
                brisk_left: decay(brisk_s, tau_s),
                easy_left: decay(easy_s, tau_s),
                easy_load: 1.3,
            };
            let load = turn.brisk_load(2.4);
            let (mut now, mut end) = (0.0, 0.0);
            for _ in 0..60 {
                end = step(now, load, brisk_s, tau_s);
                now = step(end, 1.3, easy_s, tau_s);
            }
            assert!((end - 2.4).abs() < 1e-6, "{end}");
        }
    }

    #[test]
    fn a_quarter_of_a_met_is_one_step_and_a_little_more_is_two() {
        assert_eq!(
            [steps(-1.0), steps(0.0), steps(0.25), steps(0.26)],
            [0, 0, 1, 2]
        );
        assert_eq!(steps(1e9), MOST_OFF_BAND);
    }
}
