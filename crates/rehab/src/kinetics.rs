//! How fast the heart rate rises and falls: published time constants and the first-order model.
//!
//! `HR(t) = H0 + (Hss - H0) (1 - e^(-t/tau))`; about 95 % after three time constants, so a station of 30 s never shows a
//! steady rate: pulse and effort are read at the end of a cardiovascular station of 60 to 120 s or more (ours).

mod constants;

pub use constants::{KineticsOf, TIME_CONSTANTS, TimeConstant};

use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{refuse, short};
use crate::quantity::HeartRate;

/// Share of the way to the steady state after a time.
pub fn share_reached(seconds: f64, tau_s: f64) -> f64 {
    1.0 - libm::exp(-seconds / tau_s)
}

/// Heart rate after a time, from a start towards a steady state.
pub fn rate_after(start: HeartRate, steady: HeartRate, seconds: f64, tau_s: f64) -> HeartRate {
    let way_bpm = steady.to_bpm() - start.to_bpm();
    HeartRate::bpm(start.to_bpm() + way_bpm * share_reached(seconds, tau_s))
}

/// Work and rest taking turns for ever, each with its steady state and length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turns {
    /// Steady state of the work.
    pub work: HeartRate,
    /// Length of the work in seconds.
    pub work_s: f64,
    /// Steady state of the rest between.
    pub rest: HeartRate,
    /// Length of the rest in seconds.
    pub rest_s: f64,
    /// Time constant in seconds.
    pub tau_s: f64,
}

impl Turns {
    /// Rate at the end of the work and at the end of the rest once the turns repeat themselves:
    /// `peak = [S1 (1-a) + S0 (1-b) a] / (1-ab)`, `trough = [S0 (1-b) + S1 (1-a) b] / (1-ab)`,
    /// `a = e^(-Ton/tau)`, `b = e^(-Toff/tau)`.
    pub fn peak_and_trough(&self) -> (HeartRate, HeartRate) {
        let a = libm::exp(-self.work_s / self.tau_s);
        let b = libm::exp(-self.rest_s / self.tau_s);
        let (work, rest) = (self.work.to_bpm(), self.rest.to_bpm());
        let whole = 1.0 - a * b;
        let peak = (work * (1.0 - a) + rest * (1.0 - b) * a) / whole;
        let trough = (rest * (1.0 - b) + work * (1.0 - a) * b) / whole;
        (HeartRate::bpm(peak), HeartRate::bpm(trough))
    }
}

const TAU: Input = Input::number("tau_s", "s", 1.0, 600.0);
const SECONDS: Input = Input::number("seconds", "s", 0.0, 3600.0);
const START: Input = Input::number("start_bpm", "beats a minute", 25.0, 240.0);
const STEADY: Input = Input::number("steady_bpm", "beats a minute", 25.0, 240.0);

const RATE_AFTER: Rule = Rule {
    id: RuleId("kinetics/first-order"),
    name: "Heart rate after a time",
    statement: "HR(t) = H0 + (Hss - H0) (1 - e^(-t/tau)); about 95 % of the way after three time constants.",
    sources: &[SourceId("babcock-1994"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[START, STEADY, SECONDS, TAU],
    evaluate: |values| {
        let (start, steady) = (values.number("start_bpm")?, values.number("steady_bpm")?);
        let (seconds, tau) = (values.number("seconds")?, values.number("tau_s")?);
        let rate = rate_after(HeartRate::bpm(start), HeartRate::bpm(steady), seconds, tau).to_bpm();
        Ok(Answer::new(
            Value::Number(rate, "bpm"),
            format!(
                "{start} + ({steady} - {start}) x {} = {}",
                short(share_reached(seconds, tau)),
                short(rate)
            ),
        ))
    },
};

const TURNS: Rule = Rule {
    id: RuleId("kinetics/turns"),
    name: "Heart rate of work and rest in turns",
    statement: "Once the turns repeat: peak = [S1 (1-a) + S0 (1-b) a] / (1-ab), trough = [S0 (1-b) + S1 (1-a) b] / (1-ab), a = e^(-Ton/tau), b = e^(-Toff/tau).",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("work_bpm", "beats a minute", 25.0, 240.0),
        Input::number("work_s", "s", 1.0, 3600.0),
        Input::number("rest_bpm", "beats a minute", 25.0, 240.0),
        Input::number("rest_s", "s", 1.0, 3600.0),
        TAU,
    ],
    evaluate: |values| {
        let turns = Turns {
            work: HeartRate::bpm(values.number("work_bpm")?),
            work_s: values.number("work_s")?,
            rest: HeartRate::bpm(values.number("rest_bpm")?),
            rest_s: values.number("rest_s")?,
            tau_s: values.number("tau_s")?,
        };
        let (peak, trough) = turns.peak_and_trough();
        Ok(Answer::new(
            Value::Number(peak.to_bpm(), "bpm"),
            format!(
                "peak {}, trough {}",
                short(peak.to_bpm()),
                short(trough.to_bpm())
            ),
        ))
    },
};

const READ_AT: Rule = Rule {
    id: RuleId("kinetics/read-at-end-of-station"),
    name: "When pulse and effort are read",
    statement: "At the end of a cardiovascular station of 60 s or more (better 120 s); a station of 30 s never shows a steady rate.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[SECONDS],
    evaluate: |values| {
        let seconds = values.number("seconds")?;
        Ok(Answer::new(
            Value::Flag(seconds >= 60.0),
            format!("{seconds} s against 60 s"),
        ))
    },
};

fn constants(values: &Values) -> Result<Answer, RuleError> {
    let Ok(of) = KineticsOf::parse(values.text("of")?) else {
        return refuse("'of' is not one of the list; choose one");
    };
    let rows: Vec<String> = TIME_CONSTANTS
        .iter()
        .filter(|one| one.of == of)
        .map(|one| format!("{} {} s ({})", one.in_whom, one.seconds, one.source))
        .collect();
    Ok(Answer::new(
        Value::Text(rows.join("; ")),
        format!("{} published values", rows.len()),
    ))
}

const CONSTANTS: Rule = Rule {
    id: RuleId("kinetics/time-constants"),
    name: "Published time constants",
    statement: "Time constants of heart rate and oxygen uptake, rising and falling, in health, age and heart disease. The falling of the heart rate after submaximal exercise in rehabilitation was not found.",
    sources: &[
        SourceId("babcock-1994"),
        SourceId("murias-2010"),
        SourceId("front-physiol-2018-kinetics"),
        SourceId("koike-kinetics"),
        SourceId("chatterjee-2013"),
        SourceId("cv-risk-kinetics"),
        SourceId("kriatselis-2012"),
        SourceId("wang-2006"),
    ],
    tag: Tag::Read,
    inputs: &[Input::choice(
        "of",
        &[
            "heart rate rising",
            "heart rate falling",
            "oxygen uptake rising",
            "oxygen uptake falling",
        ],
    )],
    evaluate: constants,
};

/// The rules of kinetics.
pub(crate) const RULES: &[Rule] = &[RATE_AFTER, TURNS, READ_AT, CONSTANTS];

#[cfg(test)]
mod tests {
    use super::*;

    fn near(value: f64, expected: f64, half_digit: f64) {
        assert!(
            libm::fabs(value - expected) < half_digit,
            "{value} is not {expected}"
        );
    }

    // Computed by hand: shares of the way at 30, 60 and 120 s.
    #[test]
    fn worked_shares() {
        for (tau, shares) in [
            (20.0, [0.777, 0.950, 0.998]),
            (28.6, [0.650, 0.877, 0.985]),
            (38.1, [0.545, 0.793, 0.957]),
            (50.0, [0.451, 0.699, 0.909]),
            (60.0, [0.393, 0.632, 0.865]),
        ] {
            for (seconds, share) in [30.0, 60.0, 120.0].into_iter().zip(shares) {
                near(share_reached(seconds, tau), share, 0.000_5);
            }
        }
    }

    // Computed by hand: rest 65, steady 100, tau 38.1.
    #[test]
    fn worked_rates() {
        for (seconds, bpm) in [(30.0, 84.1), (60.0, 92.8), (120.0, 98.5), (180.0, 99.7)] {
            let rate = rate_after(HeartRate::bpm(65.0), HeartRate::bpm(100.0), seconds, 38.1);
            near(rate.to_bpm(), bpm, 0.05);
        }
    }

    // Computed by hand: from 85, turns of 60 s and 30 s towards 105 and 85, tau 38.1: peaks 100.86, 102.35, 102.49.
    #[test]
    fn worked_turns_approach_the_closed_form() {
        let rate = HeartRate::bpm;
        let turns = Turns {
            work: rate(105.0),
            work_s: 60.0,
            rest: rate(85.0),
            rest_s: 30.0,
            tau_s: 38.1,
        };
        let mut now = rate(85.0);
        for expected in [100.86, 102.35, 102.49] {
            now = rate_after(now, turns.work, turns.work_s, turns.tau_s);
            near(now.to_bpm(), expected, 0.005);
            now = rate_after(now, turns.rest, turns.rest_s, turns.tau_s);
        }
        for _ in 0..50 {
            now = rate_after(now, turns.work, turns.work_s, turns.tau_s);
            now = rate_after(now, turns.rest, turns.rest_s, turns.tau_s);
        }
        let (peak, trough) = turns.peak_and_trough();
        near(trough.to_bpm(), now.to_bpm(), 1e-9);
        near(
            peak.to_bpm(),
            rate_after(now, turns.work, turns.work_s, turns.tau_s).to_bpm(),
            1e-9,
        );
    }
}
