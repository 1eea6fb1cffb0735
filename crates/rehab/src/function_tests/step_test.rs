//! Incremental step test: oxygen cost of each stage, line of best fit, peak uptake at the maximal heart rate.
//!
//! 15 steps a minute, 5 more every 2 minutes, five stages; stop at 80 % of 220 - age or at an effort of 15 (6 to 20).
//! Source: Sykes and Roberts 2004 (register `sykes-roberts-2004`), validated on 0.30 m, r .92, SEE 3.9 mL/kg/min; the
//! cost of a stage is 11 to 19 % off and a practice trial is needed (register `buckley-2004`).

use crate::metabolic;
use crate::quantity::{HeartRate, OxygenUptake};

/// Steps a minute of the five stages.
pub const STEPS_PER_MINUTE: [f64; 5] = [15.0, 20.0, 25.0, 30.0, 35.0];

/// Standard error of estimate of the peak uptake, mL/kg/min.
// Source: sykes-roberts-2004.
pub const SEE_ML_PER_KG_MIN: f64 = 3.9;

/// Limits of agreement with a measured peak in a population, mL/kg/min: above and below.
// Source: reed-2020.
pub const LIMITS_OF_AGREEMENT_ML_PER_KG_MIN: (f64, f64) = (15.0, -12.3);

closed_words!(
    /// Which table gives the cost of a stage; with the same readings they differ by about 13 %.
    StageCosts as "table of stage costs" { Equation = "stepping-equation", Manual = "manual" }
);

/// Costs of the manual by step height, mL/kg/min.
// Source: step-test-manual (recalled, unverified).
const MANUAL: [(f64, [f64; 5]); 4] = [
    (0.15, [11.0, 14.0, 18.0, 21.0, 25.0]),
    (0.20, [12.0, 17.0, 21.0, 25.0, 29.0]),
    (0.25, [14.0, 19.0, 24.0, 28.0, 33.0]),
    (0.30, [16.0, 21.0, 27.0, 32.0, 37.0]),
];

/// Oxygen cost of a stage (1 to 5) on a step; the manual knows four heights only, the equation any.
pub fn stage_cost(costs: StageCosts, step_height_m: f64, stage: usize) -> Option<OxygenUptake> {
    let at = stage.checked_sub(1)?;
    let rate = *STEPS_PER_MINUTE.get(at)?;
    match costs {
        StageCosts::Equation => Some(metabolic::stepping(rate, step_height_m).uptake),
        StageCosts::Manual => {
            let row = MANUAL
                .iter()
                .find(|(height, _)| libm::fabs(height - step_height_m) < 0.002_5)?;
            Some(OxygenUptake::ml_per_kg_min(row.1[at]))
        }
    }
}

/// The heart rate at which the test stops: 80 % of 220 - age.
///
/// Source: register `sykes-roberts-2004`. An effort of 15 of 20 stops it too; other pages say above 14.
pub fn stop_rate(age_years: f64) -> HeartRate {
    HeartRate::bpm(0.8 * (220.0 - age_years))
}

/// The step to choose: 0.15 m over 40 years and inactive or overweight, 0.20 m under 40 and inactive, 0.25 m over 40 and
/// active, 0.30 m under 40 and active. Source: register `step-choice` (secondary).
///
/// The source leaves 40 itself open; the lower step is taken there (recorded choice, ours).
pub fn step_to_choose_m(age_years: f64, active: bool, overweight: bool) -> f64 {
    match (age_years >= 40.0, active && !overweight) {
        (true, false) => 0.15,
        (false, false) => 0.20,
        (true, true) => 0.25,
        (false, true) => 0.30,
    }
}

/// What the estimate takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepReadings<'a> {
    /// Height of the step in metres.
    pub step_height_m: f64,
    /// Heart rate at the end of each stage, lowest first.
    pub rates: &'a [HeartRate],
    /// Table of costs.
    pub costs: StageCosts,
    /// Maximal heart rate to extrapolate to.
    pub peak: HeartRate,
    /// Whether that maximum is right for the person's medicines: without a rate-slowing one, or from an equation for it.
    pub peak_fits_medicine: bool,
}

/// The line and where it ends.
#[derive(Clone, Debug, PartialEq)]
pub struct StepEstimate {
    /// mL/kg/min for each beat.
    pub slope: f64,
    /// mL/kg/min at no beat at all.
    pub intercept: f64,
    /// Peak uptake at the maximal heart rate.
    pub peak: OxygenUptake,
    /// What to keep in mind.
    pub cautions: Vec<&'static str>,
}

closed_words!(
    /// Why a step test gives no estimate.
    NoStepEstimate as "reason for no estimate" {
        TooFewStages = "fewer than two stages: a line needs three, two at the least; repeat the test",
        TooManyStages = "more than five stages: the test has five; read the form again",
        HeightNotInTable = "the manual has no cost for this step height; use the stepping equation",
        RatesDoNotRise = "the heart rate did not rise with the stages: no line can be drawn; repeat the test",
        PeakNotAboveStages = "the maximal rate is not above the last stage: nothing to extrapolate to; use effort",
        PeakNotForMedicine = "the maximal rate is not for a person with a rate-slowing medicine: do not extrapolate",
    }
);

/// Peak uptake by the line of best fit of uptake on heart rate, extrapolated to the maximal heart rate.
///
/// # Errors
/// [`NoStepEstimate`] with what to do.
pub fn estimate(readings: &StepReadings<'_>) -> Result<StepEstimate, NoStepEstimate> {
    let found = along_the_line(readings)?;
    if readings.rates.iter().any(|rate| *rate >= readings.peak) {
        return Err(NoStepEstimate::PeakNotAboveStages);
    }
    Ok(found)
}

/// The same line read at a maximal rate that isn't above the last stage: no capacity, for the person did more than it
/// says; it only holds the limits lower, so that a lower prediction never gives more (ours).
///
/// # Errors
/// [`NoStepEstimate`] with what to do.
pub fn held_at_peak(readings: &StepReadings<'_>) -> Result<StepEstimate, NoStepEstimate> {
    along_the_line(readings)
}

fn along_the_line(readings: &StepReadings<'_>) -> Result<StepEstimate, NoStepEstimate> {
    let count = readings.rates.len();
    if count < 2 {
        return Err(NoStepEstimate::TooFewStages);
    }
    if count > STEPS_PER_MINUTE.len() {
        return Err(NoStepEstimate::TooManyStages);
    }
    if !readings.peak_fits_medicine {
        return Err(NoStepEstimate::PeakNotForMedicine);
    }
    let mut points = Vec::with_capacity(count);
    for (at, rate) in readings.rates.iter().enumerate() {
        let cost = stage_cost(readings.costs, readings.step_height_m, at + 1)
            .ok_or(NoStepEstimate::HeightNotInTable)?;
        points.push((rate.to_bpm(), cost.to_ml_per_kg_min()));
    }
    let (slope, intercept) = line(&points).ok_or(NoStepEstimate::RatesDoNotRise)?;
    Ok(StepEstimate {
        slope,
        intercept,
        peak: OxygenUptake::ml_per_kg_min(slope * readings.peak.to_bpm() + intercept),
        cautions: cautions(readings),
    })
}

fn cautions(readings: &StepReadings<'_>) -> Vec<&'static str> {
    let mut found = vec![
        "SEE 3.9 mL/kg/min, limits of agreement +15.0 and -12.3; the cost of a stage is 11 to 19 % off; a practice trial is needed",
    ];
    if readings.rates.len() == 2 {
        found.push("two stages only: the line hangs on single beats");
    }
    if libm::fabs(readings.step_height_m - 0.30) > 0.002_5 {
        found.push("validated on a step of 0.30 m");
    }
    if readings.costs == StageCosts::Equation && readings.rates.len() == 5 {
        found.push("35 steps a minute lie above the range of the stepping equation");
    }
    found
}

/// Least squares of the second on the first; `None` when the first has no spread or the line doesn't rise.
fn line(points: &[(f64, f64)]) -> Option<(f64, f64)> {
    let count = points.len() as f64;
    let mean_x = points.iter().map(|(x, _)| x).sum::<f64>() / count;
    let mean_y = points.iter().map(|(_, y)| y).sum::<f64>() / count;
    let mut across = 0.0;
    let mut squares = 0.0;
    for (x, y) in points {
        across += (x - mean_x) * (y - mean_y);
        squares += (x - mean_x) * (x - mean_x);
    }
    if squares <= 0.0 || across <= 0.0 {
        return None;
    }
    let slope = across / squares;
    Some((slope, mean_y - slope * mean_x))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(value: f64, expected: f64, half_digit: f64) {
        assert!(
            libm::fabs(value - expected) < half_digit,
            "{value} is not {expected}"
        );
    }

    fn rates(bpm: &[f64]) -> Vec<HeartRate> {
        bpm.iter().copied().map(HeartRate::bpm).collect()
    }

    // Computed by hand from the stepping equation: costs of stages 1 to 5 on four steps.
    #[test]
    fn worked_stage_costs() {
        let expected = [
            (0.15, [11.89, 14.68, 17.48, 20.27, 23.07]),
            (0.20, [13.68, 17.08, 20.47, 23.86, 27.26]),
            (0.25, [15.48, 19.47, 23.46, 27.46, 31.45]),
            (0.30, [17.27, 21.86, 26.46, 31.05, 35.64]),
        ];
        for (height, costs) in expected {
            for (at, cost) in costs.into_iter().enumerate() {
                let ours = stage_cost(StageCosts::Equation, height, at + 1).unwrap();
                near(ours.to_ml_per_kg_min(), cost, 0.005_001);
            }
        }
    }

    // Computed by hand: 60 years, 0.20 m, rates 96, 108, 121, maximum 160.
    #[test]
    fn worked_estimate_and_what_the_cost_table_changes() {
        let rates = rates(&[96.0, 108.0, 121.0]);
        let readings = StepReadings {
            step_height_m: 0.20,
            rates: &rates,
            costs: StageCosts::Equation,
            peak: HeartRate::bpm(160.0),
            peak_fits_medicine: true,
        };
        let found = estimate(&readings).unwrap();
        near(found.slope, 0.271_375, 0.000_000_5);
        near(found.intercept, -12.323_0, 0.000_05);
        near(found.peak.to_ml_per_kg_min(), 31.097, 0.000_5);
        near(found.peak.to_mets().to_mets(), 8.88, 0.005);
        near(stop_rate(60.0).to_bpm(), 128.0, 0.5);
        let manual = estimate(&StepReadings {
            costs: StageCosts::Manual,
            ..readings
        })
        .unwrap();
        near(manual.peak.to_ml_per_kg_min(), 35.23, 0.005);
        near(
            manual.peak.to_ml_per_kg_min() / found.peak.to_ml_per_kg_min(),
            1.13,
            0.005,
        );
    }

    #[test]
    fn what_cannot_be_extrapolated_is_refused_with_why() {
        let check = |bpm: &[f64], height: f64, peak: f64, costs, fits, why| {
            let rates = rates(bpm);
            let readings = StepReadings {
                step_height_m: height,
                rates: &rates,
                costs,
                peak: HeartRate::bpm(peak),
                peak_fits_medicine: fits,
            };
            assert_eq!(estimate(&readings).unwrap_err(), why);
        };
        use StageCosts::{Equation, Manual};
        check(
            &[96.0],
            0.2,
            160.0,
            Equation,
            true,
            NoStepEstimate::TooFewStages,
        );
        check(
            &[90.0, 95.0, 100.0, 105.0, 110.0, 115.0],
            0.2,
            160.0,
            Equation,
            true,
            NoStepEstimate::TooManyStages,
        );
        check(
            &[96.0, 108.0],
            0.17,
            160.0,
            Manual,
            true,
            NoStepEstimate::HeightNotInTable,
        );
        check(
            &[96.0, 96.0],
            0.2,
            160.0,
            Equation,
            true,
            NoStepEstimate::RatesDoNotRise,
        );
        check(
            &[108.0, 96.0],
            0.2,
            160.0,
            Equation,
            true,
            NoStepEstimate::RatesDoNotRise,
        );
        check(
            &[96.0, 122.0],
            0.2,
            120.0,
            Equation,
            true,
            NoStepEstimate::PeakNotAboveStages,
        );
        check(
            &[96.0, 108.0],
            0.2,
            160.0,
            Equation,
            false,
            NoStepEstimate::PeakNotForMedicine,
        );
    }

    #[test]
    fn the_step_is_chosen_by_age_and_activity() {
        assert_eq!(step_to_choose_m(65.0, false, false), 0.15);
        assert_eq!(step_to_choose_m(65.0, true, true), 0.15);
        assert_eq!(step_to_choose_m(65.0, true, false), 0.25);
        // At 40 itself, which the source leaves open, the lower of the two steps.
        assert_eq!(step_to_choose_m(40.0, false, false), 0.15);
        assert_eq!(step_to_choose_m(40.0, true, false), 0.25);
        assert_eq!(step_to_choose_m(39.9, false, false), 0.20);
        assert_eq!(step_to_choose_m(35.0, false, false), 0.20);
        assert_eq!(step_to_choose_m(35.0, true, false), 0.30);
    }
}
