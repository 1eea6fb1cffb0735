//! The heart rate of a session, integrated numerically from its segments and compared with what is predicted.

use super::pulse::no_target;
use super::record::Record;
use super::{Faults, list, number, word};
use serde_json::Value;

/// Drift of long exercise, bpm a minute after ten minutes. Sources: `drew-drift`, `thow-2006`.
const DRIFT_PER_S: f64 = 0.15 / 60.0;
const DRIFT_FROM_S: f64 = 600.0;
/// Slope without an exercise test, bpm a MET (our default).
const SLOPE_WITHOUT_TEST: f64 = 13.5;
/// What rounding of METs, slope and prediction may come to.
const ROUNDED_BPM: f64 = 0.03;
/// Allowance of the probability for its rounding, and as a share for the time constant: the printed error folds its spread
/// into a normal one, while the probability takes each of its values by itself.
const ROUNDED_CHANCE: f64 = 0.003;
const CHANCE_SHARE: f64 = 0.25;
/// Far out in the tail the values of the time constant weigh more than a normal error lets them; being told too much chance
/// is the cautious side, so above only the order of size is held.
const CHANCE_ABOVE: f64 = 4.0;
/// Most that a session may have as its chance of passing a hard ceiling.
const CHANCE_MOST: f64 = 0.05;

/// What the equation needs.
struct Parameters {
    rest: f64,
    slope: f64,
    tau_s: f64,
}

/// A moment of the integrated curve.
struct Moment {
    bpm: f64,
    /// Index of the segment that ends here.
    ends: Option<usize>,
}

pub(super) fn check(
    record: &Record<'_>,
    limits: &Value,
    stage: &Value,
    findings: &[Value],
    faults: &mut Faults,
) {
    let segments = list(stage, "segments");
    let printed = |segment: &Value| number(segment, "predicted_hr");
    let model = limits["limits"]["pulse_model"].as_bool() == Some(true);
    if no_target(record) || !model {
        let none = segments.iter().all(|one| printed(one).is_none())
            && stage["predicted"]["peak_hr"].is_null()
            && stage["predicted"]["ceiling_probability"].is_null();
        faults.expect(none, "heart/none", || {
            "a predicted pulse where the pulse says nothing".to_owned()
        });
        return;
    }
    let Some(rest) = record.resting_hr() else {
        return;
    };
    let Some(parameters) = parameters(record, limits, stage, rest, faults) else {
        return;
    };
    let curve = integrate(&parameters, segments);
    for moment in &curve {
        let Some(segment) = moment.ends.and_then(|at| segments.get(at)) else {
            continue;
        };
        let near = printed(segment).is_some_and(|bpm| (bpm - moment.bpm).abs() <= ROUNDED_BPM);
        faults.expect(near, "heart/prediction", || {
            format!(
                "{} printed {}, integrated {:.3}",
                segment["exercise"], segment["predicted_hr"], moment.bpm
            )
        });
    }
    let highest = curve.iter().map(|one| one.bpm).fold(0.0, f64::max);
    let peak = number(&stage["predicted"], "peak_hr");
    faults.expect(
        peak.is_some_and(|peak| (peak - highest).abs() <= ROUNDED_BPM),
        "heart/peak",
        || format!("peak {peak:?}, integrated {highest:.3}"),
    );
    check_warm_up(record, limits, segments, &curve, findings, faults);
    let last = curve.last().map_or(rest, |one| one.bpm);
    // Where nothing easier brings it down the program says so, so that somebody stays and counts.
    let told = findings
        .iter()
        .any(|one| word(one, "id") == "cool-down/near-rest");
    faults.expect(
        last <= rest + record.settings.cool_down_within + ROUNDED_BPM || told,
        "heart/cool-down",
        || format!("ends at {last:.2}, rest {rest}"),
    );
    check_ceiling(limits, stage, &curve, highest, faults);
}

/// The warm-up ends near the training band; where nothing that is open comes nearer the program says so.
fn check_warm_up(
    record: &Record<'_>,
    limits: &Value,
    segments: &[Value],
    curve: &[Moment],
    findings: &[Value],
    faults: &mut Faults,
) {
    let Some(low) = number(&limits["limits"]["hr"], "low") else {
        return;
    };
    let end = segments
        .iter()
        .rposition(|one| word(one, "phase") == "warm-up");
    let bpm = end.and_then(|end| curve.iter().find(|one| one.ends == Some(end)));
    let told = findings
        .iter()
        .any(|one| word(one, "id") == "warm-up/near-band");
    let near = bpm.is_some_and(|one| one.bpm >= low - record.settings.warm_up_within - ROUNDED_BPM);
    faults.expect(near || told, "heart/warm-up", || {
        format!(
            "ends at {:?}, the band begins at {low}",
            bpm.map(|one| one.bpm)
        )
    });
}

/// The printed parameters, each held against the record.
fn parameters(
    record: &Record<'_>,
    limits: &Value,
    stage: &Value,
    rest: f64,
    faults: &mut Faults,
) -> Option<Parameters> {
    let reason = |id: &str| {
        let found = list(stage, "because")
            .iter()
            .find(|one| word(one, "id") == id);
        found.and_then(|one| number(one, "value"))
    };
    let (slope, tau_s) = (reason("response/slope"), reason("response/time-constant"));
    let printed = &limits["limits"];
    let capacity = number(&limits["capacity"], "mets")
        .filter(|mets| limits["capacity"]["measured"].as_bool() == Some(true) && *mets >= 1.5);
    let own = match (number(printed, "peak_hr"), capacity) {
        (Some(peak), Some(mets))
            if printed["peak_hr_measured"].as_bool() == Some(true) && peak > rest =>
        {
            (peak - rest) / (mets - 1.0)
        }
        _ => SLOPE_WITHOUT_TEST,
    };
    let slow = record.age_years().is_some_and(|age| age >= 70.0)
        || record.present("heart-failure")
        || record.had("heart-failure")
        || word(printed, "rate_slowed") == "present";
    let own_tau = if slow { 75.0 } else { 60.0 };
    // A peak and METs printed with one and three decimals give a slope to about a hundredth of itself.
    let holds = slope.is_some_and(|slope| (slope - own).abs() <= 0.002 + 0.005 * own)
        && tau_s == Some(own_tau);
    faults.expect(holds, "heart/parameters", || {
        format!("slope {slope:?} and time constant {tau_s:?}, by the record {own:.3} and {own_tau}")
    });
    Some(Parameters {
        rest,
        slope: slope?,
        tau_s: tau_s?,
    })
}

/// Runge-Kutta steps of a second, the last of a segment shorter: a moment at every second and every segment's end.
fn integrate(parameters: &Parameters, segments: &[Value]) -> Vec<Moment> {
    let (mut rise, mut at_s) = (0.0, 0.0);
    let mut curve = Vec::new();
    for (index, segment) in segments.iter().enumerate() {
        let gain = number(segment, "hr_gain").unwrap_or(1.0);
        let load = (number(segment, "mets").unwrap_or(1.0) - 1.0) * gain;
        let target = parameters.slope * load;
        let speed = |rise: f64| (target - rise) / parameters.tau_s;
        let mut left = number(segment, "seconds").unwrap_or(0.0);
        while left > 1e-9 {
            let step = left.min(1.0);
            let first = speed(rise);
            let second = speed(rise + first * step / 2.0);
            let third = speed(rise + second * step / 2.0);
            let fourth = speed(rise + third * step);
            rise += step * (first + 2.0 * second + 2.0 * third + fourth) / 6.0;
            at_s += step;
            left -= step;
            let drift = DRIFT_PER_S * f64::max(0.0, at_s - DRIFT_FROM_S);
            curve.push(Moment {
                bpm: parameters.rest + rise + drift,
                ends: (left <= 1e-9).then_some(index),
            });
        }
    }
    curve
}

/// Under a hard ceiling the mean never passes it at any second, stays within the band at every segment's end, and the
/// chance of passing is at most 5 per cent and agrees with the printed means and errors.
fn check_ceiling(
    limits: &Value,
    stage: &Value,
    curve: &[Moment],
    highest: f64,
    faults: &mut Faults,
) {
    let printed = &limits["limits"];
    if word(printed, "hr_ceiling_kind") != "hard" {
        return;
    }
    let ceiling = number(printed, "hr_ceiling").unwrap_or(0.0);
    faults.expect(highest <= ceiling + ROUNDED_BPM, "heart/ceiling", || {
        format!("{highest:.2} passes {ceiling}")
    });
    if let Some(top) = number(&printed["hr"], "high") {
        let above = curve
            .iter()
            .filter(|one| one.ends.is_some())
            .map(|one| one.bpm)
            .fold(0.0, f64::max);
        faults.expect(above <= top + ROUNDED_BPM, "heart/band-top", || {
            format!("{above:.2} at a segment's end above {top}")
        });
    }
    let chance = number(&stage["predicted"], "ceiling_probability");
    let each: Vec<f64> = list(stage, "segments")
        .iter()
        .map(|one| {
            let mean = number(one, "predicted_hr").unwrap_or(f64::NAN);
            let sd = number(one, "predicted_sd").unwrap_or(f64::NAN);
            upper_tail((ceiling - mean) / sd)
        })
        .collect();
    let (least, most) = (
        each.iter().copied().fold(0.0, f64::max),
        each.iter().sum::<f64>().min(1.0),
    );
    let holds = chance.is_some_and(|chance| {
        chance <= CHANCE_MOST
            && chance >= least * (1.0 - CHANCE_SHARE) - ROUNDED_CHANCE
            && chance <= most * CHANCE_ABOVE + ROUNDED_CHANCE
    });
    faults.expect(holds, "heart/chance", || {
        format!("chance {chance:?}, by the means and errors {least:.4} to {most:.4}")
    });
}

/// Share of the standard normal distribution above a value, to 1e-7. Source: Abramowitz and Stegun, formula 26.2.17.
fn upper_tail(z: f64) -> f64 {
    if z < 0.0 {
        return 1.0 - upper_tail(-z);
    }
    let t = 1.0 / (1.0 + 0.231_641_9 * z);
    let series = t
        * (0.319_381_530
            + t * (-0.356_563_782
                + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    series * (-z * z / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    /// The worked example of eighteen one-minute blocks, here with time constant 60 s: means at the ends of the minutes.
    #[test]
    fn reference_the_integrated_curve_is_that_of_the_worked_example() {
        let blocks = [2.0, 2.3, 2.3, 2.6, 2.8, 3.8, 2.3, 4.0, 2.3];
        let ends = [
            67.1303, 71.8925, 73.6444, 76.4280, 78.8781, 86.9098, 79.1690, 88.4428, 79.7329,
        ];
        let segments: Vec<Value> = blocks
            .iter()
            .map(|mets| json!({ "mets": mets, "hr_gain": 1, "seconds": 60 }))
            .collect();
        let parameters = Parameters {
            rest: 60.0,
            slope: 11.28,
            tau_s: 60.0,
        };
        let curve = integrate(&parameters, &segments);
        let found = curve.iter().filter(|one| one.ends.is_some());
        for (moment, expected) in found.zip(ends) {
            assert!((moment.bpm - expected).abs() <= 0.000_05, "{}", moment.bpm);
        }
    }

    #[test]
    fn published_tails_of_the_normal_distribution() {
        for (z, tail) in [
            (0.0, 0.5),
            (1.0, 0.158_655),
            (1.645, 0.049_985),
            (3.0, 0.001_35),
        ] {
            assert!((upper_tail(z) - tail).abs() < 5e-7, "{z}");
        }
        assert!((upper_tail(-1.0) - 0.841_345).abs() < 5e-7);
    }
}
