//! The step test as rules that can be listed and evaluated.

use super::step_test::{self, StageCosts, StepReadings};
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{AGE, PEAK_HR, refuse, short, whole, yes_no};
use crate::quantity::HeartRate;

const HEIGHT: Input = Input::number("step_height_m", "m", 0.05, 0.45);
const STAGE: Input = Input::number("stage", "stage", 1.0, 5.0);

fn costs(values: &Values, table: StageCosts) -> Result<Answer, RuleError> {
    let height = values.number("step_height_m")?;
    let stage = whole(values, "stage")? as usize;
    let Some(uptake) = step_test::stage_cost(table, height, stage) else {
        return refuse(step_test::NoStepEstimate::HeightNotInTable.word());
    };
    let rate = step_test::STEPS_PER_MINUTE[stage - 1];
    Ok(Answer::new(
        Value::Number(uptake.to_ml_per_kg_min(), "mL/kg/min"),
        format!(
            "stage {stage}, {rate} steps a minute on {height} m: {}",
            short(uptake.to_ml_per_kg_min())
        ),
    ))
}

const EQUATION_COSTS: Rule = Rule {
    id: RuleId("step-test/costs-equation"),
    name: "Stage costs by the stepping equation",
    statement: "Oxygen cost of a stage (15, 20, 25, 30, 35 steps a minute) by the stepping equation, any height.",
    sources: &[SourceId("bushman-2020"), SourceId("sykes-roberts-2004")],
    tag: Tag::Read,
    inputs: &[HEIGHT, STAGE],
    evaluate: |values| costs(values, StageCosts::Equation),
};

const MANUAL_COSTS: Rule = Rule {
    id: RuleId("step-test/costs-manual"),
    name: "Stage costs of the manual",
    statement: "Oxygen cost of a stage as in the manual, for 0.15, 0.20, 0.25 and 0.30 m; recalled and not verified; 13 % above the equation in a worked case.",
    sources: &[SourceId("step-test-manual")],
    tag: Tag::Recalled,
    inputs: &[HEIGHT, STAGE],
    evaluate: |values| {
        Ok(costs(values, StageCosts::Manual)?
            .keep_in_mind("recalled, not verified against the manual"))
    },
};

/// The estimate, for reasons elsewhere.
pub const ESTIMATE: Rule = Rule {
    id: RuleId("step-test/estimate"),
    name: "Capacity from the step test",
    statement: "Line of best fit of stage cost on heart rate, extrapolated to the maximal rate; three stages, two at the least; SEE 3.9 mL/kg/min. With a rate-slowing medicine only to a maximum made for it (ours).",
    sources: &[
        SourceId("sykes-roberts-2004"),
        SourceId("buckley-2004"),
        SourceId("reed-2020"),
    ],
    tag: Tag::Read,
    inputs: &[
        HEIGHT,
        Input::numbers("hr_bpm", "beats a minute", 25.0, 240.0),
        PEAK_HR,
        Input::choice("costs", &["stepping-equation", "manual"]),
    ],
    evaluate: |values| {
        let Ok(costs) = StageCosts::parse(values.text("costs")?) else {
            return refuse("'costs' is stepping-equation or manual; write one of them");
        };
        let rates: Vec<HeartRate> = values
            .numbers("hr_bpm")?
            .into_iter()
            .map(HeartRate::bpm)
            .collect();
        let readings = StepReadings {
            step_height_m: values.number("step_height_m")?,
            rates: &rates,
            costs,
            peak: HeartRate::bpm(values.number("peak_hr_bpm")?),
            peak_fits_medicine: true,
        };
        let found = match step_test::estimate(&readings) {
            Ok(found) => found,
            Err(why) => return refuse(why.word()),
        };
        let peak = found.peak.to_ml_per_kg_min();
        Ok(Answer {
            value: Value::Number(peak, "mL/kg/min"),
            working: format!(
                "{} x {} {} {} = {} mL/kg/min ({} METs)",
                libm::round(found.slope * 1e6) / 1e6,
                short(readings.peak.to_bpm()),
                if found.intercept < 0.0 { '-' } else { '+' },
                short(libm::fabs(found.intercept)),
                short(peak),
                short(found.peak.to_mets().to_mets())
            ),
            cautions: found.cautions.into_iter().map(str::to_owned).collect(),
        })
    },
};

const STOP: Rule = Rule {
    id: RuleId("step-test/stop"),
    name: "When the step test stops",
    statement: "At 80 % of 220 - age, or an effort of 15 on 6 to 20 (other pages: above 14), or a symptom.",
    sources: &[SourceId("sykes-roberts-2004")],
    tag: Tag::Read,
    inputs: &[AGE],
    evaluate: |values| {
        let age = values.number("age_years")?;
        let rate = step_test::stop_rate(age).to_bpm();
        Ok(Answer::new(
            Value::Number(rate, "bpm"),
            format!("0.8 x (220 - {age}) = {}", short(rate)),
        )
        .keep_in_mind(
            "with a beta-blocker this rate may never come: effort and symptoms stop the test",
        ))
    },
};

const CHOICE: Rule = Rule {
    id: RuleId("step-test/choice-of-step"),
    name: "Which step to choose",
    statement: "0.15 m over 40 years and inactive or overweight; 0.20 m under 40 and inactive; 0.25 m over 40 and active; 0.30 m under 40 and active. At 40 itself the lower step (ours).",
    sources: &[SourceId("step-choice")],
    tag: Tag::Read,
    inputs: &[AGE, Input::flag("active"), Input::flag("overweight")],
    evaluate: |values| {
        let age = values.number("age_years")?;
        let height =
            step_test::step_to_choose_m(age, values.flag("active")?, values.flag("overweight")?);
        Ok(Answer::new(
            Value::Number(height, "m"),
            format!(
                "{} years, active: {}, overweight: {}",
                short(age),
                yes_no(values.flag("active")?),
                yes_no(values.flag("overweight")?)
            ),
        ))
    },
};

/// The rules of the step test.
pub(super) const RULES: &[Rule] = &[EQUATION_COSTS, MANUAL_COSTS, ESTIMATE, STOP, CHOICE];
