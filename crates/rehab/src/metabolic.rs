//! Oxygen cost of walking, running, cycling and stepping, and what it is in METs and kilocalories.
//!
//! Source: register `bushman-2020` (equations and worked examples read; limits of running, cycling and stepping
//! recalled). Steady work in mL/kg/min; outside the limits the value is given with a warning, never withheld.

use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value};
use crate::inputs::{WEIGHT, refuse, short};
use crate::quantity::{Mets, OxygenUptake};

/// Metres a minute in one mile an hour.
pub const METRES_PER_MINUTE_PER_MPH: f64 = 26.8;

/// Kilogram-metres a minute in one watt; some texts take 6, which gives 1 % less.
pub const KGM_PER_MINUTE_PER_WATT: f64 = 6.12;

/// Oxygen of one MET in people of 60 years and more, mL/kg/min.
// Source: willis-2024.
pub const MET_60_PLUS_ML_PER_KG_MIN: f64 = 2.7;

/// Oxygen cost at rest in mL/kg/min, the 3.5 of every equation.
const REST_ML_PER_KG_MIN: f64 = 3.5;

/// A cost with what to keep in mind when it lies outside the range the equation was made for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cost {
    /// Oxygen uptake at steady work.
    pub uptake: OxygenUptake,
    /// Why it may be wrong: outside the validated range.
    pub outside: Option<&'static str>,
}

fn cost(ml_per_kg_min: f64, inside: bool, outside: &'static str) -> Cost {
    Cost {
        uptake: OxygenUptake::ml_per_kg_min(ml_per_kg_min),
        outside: (!inside).then_some(outside),
    }
}

/// Walking: `3.5 + 0.1 S + 1.8 S G`; S in m/min (50 to 100), G rise over run.
///
/// ```
/// // 80 m/min on the level: 3.5 + 0.1 x 80 = 11.5 mL/kg/min, 3.29 METs.
/// let cost = rehab::metabolic::walking(80.0, 0.0);
/// assert!((cost.uptake.to_ml_per_kg_min() - 11.5).abs() < 1e-9);
/// assert!((cost.uptake.to_mets().to_mets() - 3.29).abs() < 0.005);
/// // Faster than the equation was made for, the value comes with a warning.
/// assert!(rehab::metabolic::walking(120.0, 0.0).outside.is_some());
/// ```
pub fn walking(speed_m_min: f64, grade: f64) -> Cost {
    let inside = (50.0..=100.0).contains(&speed_m_min);
    let value = REST_ML_PER_KG_MIN + 0.1 * speed_m_min + 1.8 * speed_m_min * grade;
    cost(
        value,
        inside,
        "outside 50 to 100 m/min, the range of the walking equation",
    )
}

/// The walking speed in m/min that costs an uptake, on a grade; outside 50 to 100 m/min it is to be flagged.
pub fn walking_speed_for(uptake: OxygenUptake, grade: f64) -> f64 {
    (uptake.to_ml_per_kg_min() - REST_ML_PER_KG_MIN) / (0.1 + 1.8 * grade)
}

/// Running: `3.5 + 0.2 S + 0.9 S G`; S in m/min (above 134), G rise over run.
pub fn running(speed_m_min: f64, grade: f64) -> Cost {
    let value = REST_ML_PER_KG_MIN + 0.2 * speed_m_min + 0.9 * speed_m_min * grade;
    cost(
        value,
        speed_m_min > 134.0,
        "at or below 134 m/min, under the range of the running equation",
    )
}

/// Leg cycling: `3.5 + 3.5 + 1.8 W / M`; W in kgm/min (300 to 1200), M in kg.
pub fn leg_cycling(work_kgm_min: f64, weight_kg: f64) -> Cost {
    let inside = (300.0..=1200.0).contains(&work_kgm_min);
    let value = 2.0 * REST_ML_PER_KG_MIN + 1.8 * work_kgm_min / weight_kg;
    cost(
        value,
        inside,
        "outside 300 to 1200 kgm/min, the range of the leg-cycling equation",
    )
}

/// Arm cycling: `3.5 + 3 W / M`; W in kgm/min (150 to 750), M in kg.
pub fn arm_cycling(work_kgm_min: f64, weight_kg: f64) -> Cost {
    let inside = (150.0..=750.0).contains(&work_kgm_min);
    let value = REST_ML_PER_KG_MIN + 3.0 * work_kgm_min / weight_kg;
    cost(
        value,
        inside,
        "outside 150 to 750 kgm/min, the range of the arm-cycling equation",
    )
}

/// Stepping: `3.5 + 0.2 f + 1.33 x 1.8 H f`; f steps a minute (12 to 30), H in m (0.04 to 0.40).
pub fn stepping(steps_per_minute: f64, height_m: f64) -> Cost {
    let inside = (12.0..=30.0).contains(&steps_per_minute) && (0.04..=0.40).contains(&height_m);
    let value =
        REST_ML_PER_KG_MIN + 0.2 * steps_per_minute + 1.33 * 1.8 * height_m * steps_per_minute;
    cost(
        value,
        inside,
        "outside 12 to 30 steps a minute or 0.04 to 0.40 m, the range of the stepping equation",
    )
}

/// Kilocalories a minute: `METs x 3.5 x kg / 200`.
pub fn kcal_per_minute(mets: Mets, weight_kg: f64) -> f64 {
    mets.to_oxygen_uptake().to_ml_per_kg_min() * weight_kg / 200.0
}

/// Watts as kgm/min.
pub fn kgm_min_of_watts(watts: f64) -> f64 {
    watts * KGM_PER_MINUTE_PER_WATT
}

fn answer(cost: Cost, working: String) -> Result<Answer, RuleError> {
    let uptake = cost.uptake.to_ml_per_kg_min();
    let mets = short(cost.uptake.to_mets().to_mets());
    let answer = Answer::new(
        Value::Number(uptake, "mL/kg/min"),
        format!("{working} = {} mL/kg/min ({mets} METs)", short(uptake)),
    );
    Ok(match cost.outside {
        Some(why) => answer.keep_in_mind(why),
        None => answer,
    })
}

const SPEED: Input = Input::number("speed_m_min", "m/min", 0.0, 400.0);
const GRADE: Input = Input::number("grade_pct", "per cent", 0.0, 30.0);
const WATTS: Input = Input::number("load_w", "W", 0.0, 500.0);
const READ: &[SourceId] = &[SourceId("bushman-2020")];

const WALKING: Rule = Rule {
    id: RuleId("metabolic/walking"),
    name: "Oxygen cost of walking",
    statement: "VO2 = 3.5 + 0.1 S + 1.8 S G mL/kg/min; S speed in m/min, valid 50 to 100; G grade as a fraction.",
    sources: READ,
    tag: Tag::Read,
    inputs: &[SPEED, GRADE],
    evaluate: |values| {
        let (speed, grade) = (
            values.number("speed_m_min")?,
            values.number("grade_pct")? / 100.0,
        );
        answer(
            walking(speed, grade),
            format!("3.5 + 0.1 x {speed} + 1.8 x {speed} x {}", short(grade)),
        )
    },
};

const WALKING_SPEED: Rule = Rule {
    id: RuleId("metabolic/walking-speed"),
    name: "Walking speed that costs an uptake",
    statement: "S = (VO2 - 3.5) / (0.1 + 1.8 G) m/min, the walking equation turned round; valid 50 to 100 m/min.",
    sources: READ,
    tag: Tag::Read,
    inputs: &[
        Input::number("vo2_ml_kg_min", "mL/kg/min", 3.5, 90.0),
        GRADE,
    ],
    evaluate: |values| {
        let (uptake, grade) = (
            values.number("vo2_ml_kg_min")?,
            values.number("grade_pct")? / 100.0,
        );
        let speed = walking_speed_for(OxygenUptake::ml_per_kg_min(uptake), grade);
        let answer = Answer::new(
            Value::Number(speed, "m/min"),
            format!(
                "({uptake} - 3.5) / (0.1 + 1.8 x {}) = {} m/min = {} km/h",
                short(grade),
                short(speed),
                short(speed * 0.06)
            ),
        );
        Ok(match walking(speed, grade).outside {
            Some(why) => answer.keep_in_mind(why),
            None => answer,
        })
    },
};

const RUNNING: Rule = Rule {
    id: RuleId("metabolic/running"),
    name: "Oxygen cost of running",
    statement: "VO2 = 3.5 + 0.2 S + 0.9 S G mL/kg/min; S speed in m/min, valid above 134 (recalled); G grade as a fraction.",
    sources: READ,
    tag: Tag::Recalled,
    inputs: &[SPEED, GRADE],
    evaluate: |values| {
        let (speed, grade) = (
            values.number("speed_m_min")?,
            values.number("grade_pct")? / 100.0,
        );
        answer(
            running(speed, grade),
            format!("3.5 + 0.2 x {speed} + 0.9 x {speed} x {}", short(grade)),
        )
    },
};

const LEG_CYCLING: Rule = Rule {
    id: RuleId("metabolic/leg-cycling"),
    name: "Oxygen cost of leg cycling",
    statement: "VO2 = 3.5 + 3.5 + 1.8 W / M mL/kg/min; W in kgm/min (1 W = 6.12 kgm/min), valid 300 to 1200 (recalled); M weight in kg.",
    sources: READ,
    tag: Tag::Recalled,
    inputs: &[WATTS, WEIGHT],
    evaluate: |values| {
        let (watts, weight) = (values.number("load_w")?, values.number("weight_kg")?);
        let work = kgm_min_of_watts(watts);
        answer(
            leg_cycling(work, weight),
            format!("3.5 + 3.5 + 1.8 x {} / {weight}", short(work)),
        )
    },
};

const ARM_CYCLING: Rule = Rule {
    id: RuleId("metabolic/arm-cycling"),
    name: "Oxygen cost of arm cycling",
    statement: "VO2 = 3.5 + 3 W / M mL/kg/min; W in kgm/min (1 W = 6.12 kgm/min), valid 150 to 750; M weight in kg.",
    sources: READ,
    tag: Tag::Read,
    inputs: &[WATTS, WEIGHT],
    evaluate: |values| {
        let (watts, weight) = (values.number("load_w")?, values.number("weight_kg")?);
        let work = kgm_min_of_watts(watts);
        answer(
            arm_cycling(work, weight),
            format!("3.5 + 3 x {} / {weight}", short(work)),
        )
    },
};

const STEPPING: Rule = Rule {
    id: RuleId("metabolic/stepping"),
    name: "Oxygen cost of stepping",
    statement: "VO2 = 3.5 + 0.2 f + 1.33 x 1.8 H f mL/kg/min; f steps a minute, valid 12 to 30; H height in m, valid 0.04 to 0.40 (limits recalled).",
    sources: READ,
    tag: Tag::Recalled,
    inputs: &[
        Input::number("steps_per_minute", "steps a minute", 1.0, 60.0),
        Input::number("step_height_m", "m", 0.04, 0.45),
    ],
    evaluate: |values| {
        let (rate, height) = (
            values.number("steps_per_minute")?,
            values.number("step_height_m")?,
        );
        answer(
            stepping(rate, height),
            format!("3.5 + 0.2 x {rate} + 1.33 x 1.8 x {height} x {rate}"),
        )
    },
};

const KCAL: Rule = Rule {
    id: RuleId("metabolic/kcal"),
    name: "Kilocalories from METs",
    statement: "kcal a minute = METs x 3.5 x weight in kg / 200.",
    sources: READ,
    tag: Tag::Read,
    inputs: &[
        Input::number("mets", "METs", 0.5, 25.0),
        WEIGHT,
        Input::number("minutes", "minutes", 0.0, 240.0).or_none(),
    ],
    evaluate: |values| {
        let (mets, weight) = (values.number("mets")?, values.number("weight_kg")?);
        let rate = kcal_per_minute(Mets::of(mets), weight);
        let working = format!(
            "{mets} x 3.5 x {weight} / 200 = {} kcal a minute",
            short(rate)
        );
        Ok(match values.optional_number("minutes") {
            Some(minutes) => Answer::new(
                Value::Number(rate * minutes, "kcal"),
                format!("{working}; x {minutes} = {}", short(rate * minutes)),
            ),
            None => Answer::new(Value::Number(rate, "kcal a minute"), working),
        })
    },
};

const MET: Rule = Rule {
    id: RuleId("metabolic/met"),
    name: "METs of an uptake",
    statement: "1 MET = 3.5 mL/kg/min; for people of 60 years and more the compendium takes 2.7, and a table made with it must say so.",
    sources: &[SourceId("bushman-2020"), SourceId("willis-2024")],
    tag: Tag::Read,
    inputs: &[
        Input::number("vo2_ml_kg_min", "mL/kg/min", 0.0, 90.0),
        Input::choice("met", &["standard", "60-plus"]),
    ],
    evaluate: |values| {
        let uptake = values.number("vo2_ml_kg_min")?;
        let one = match values.text("met")? {
            "standard" => REST_ML_PER_KG_MIN,
            "60-plus" => MET_60_PLUS_ML_PER_KG_MIN,
            _ => return refuse("'met' is standard or 60-plus; write one of them"),
        };
        Ok(Answer::new(
            Value::Number(uptake / one, "METs"),
            format!("{uptake} / {one} = {}", short(uptake / one)),
        ))
    },
};

/// The metabolic equations.
pub(crate) const RULES: &[Rule] = &[
    WALKING,
    WALKING_SPEED,
    RUNNING,
    LEG_CYCLING,
    ARM_CYCLING,
    STEPPING,
    KCAL,
    MET,
];

#[cfg(test)]
mod tests;
