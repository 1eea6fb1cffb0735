//! Six-minute walk: what a person like this walks, and what a distance says of capacity.
//!
//! Standard: 30 m course, two tests at least 30 minutes apart (Holland 2014, register `holland-2014`). The four reference
//! equations differ by more than 200 m for one man, so a percentage is never given without the name of its equation.

use crate::assessment::Sex;
use crate::evidence::{Answer, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{AGE, DISTANCE, HEIGHT, SEX, WEIGHT, sex_of, short};
use crate::quantity::OxygenUptake;

/// Standard course in metres.
// Source: holland-2014.
pub const COURSE_M: f64 = 30.0;

/// Standard error of estimate of the capacity of one person, mL/kg/min (26.7 %); of a group mean 1.1.
// Source: ross-2010 (errors read).
pub const ROSS_SEE_ML_PER_KG_MIN: f64 = 3.82;

/// Upper end of the lowest quartile of people with coronary disease, who had four times the events, in metres.
// Source: beatty-2012.
pub const LOWEST_QUARTILE_M: f64 = 419.0;

/// What the reference equations take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walker {
    /// Sex.
    pub sex: Sex,
    /// Age in years.
    pub age_years: f64,
    /// Height in cm.
    pub height_cm: f64,
    /// Weight in kg.
    pub weight_kg: f64,
}

/// A reference distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reference {
    /// Expected distance in metres.
    pub distance_m: f64,
    /// Lower limit of normal in metres, where the source has one.
    pub lower_limit_m: Option<f64>,
}

impl Reference {
    /// A walked distance as per cent of the expected one.
    pub fn per_cent(self, walked_m: f64) -> f64 {
        100.0 * walked_m / self.distance_m
    }
}

/// Enright and Sherrill 1998: men `7.57 cm - 5.02 age - 1.76 kg - 309`, women `2.11 cm - 2.29 kg - 5.78 age + 667`;
/// lower limit of normal 153 m and 139 m below (recalled). Source: register `enright-sherrill-1998`.
pub fn enright_sherrill_1998(walker: &Walker) -> Reference {
    let Walker {
        age_years,
        height_cm,
        weight_kg,
        ..
    } = *walker;
    let (distance_m, below_m) = match walker.sex {
        Sex::Male => (
            7.57 * height_cm - 5.02 * age_years - 1.76 * weight_kg - 309.0,
            153.0,
        ),
        Sex::Female => (
            2.11 * height_cm - 2.29 * weight_kg - 5.78 * age_years + 667.0,
            139.0,
        ),
    };
    Reference {
        distance_m,
        lower_limit_m: Some(distance_m - below_m),
    }
}

/// Troosters 1999: `218 + 5.14 cm - 5.32 age - 1.80 kg + 51.31 (men)`. Source: register `troosters-1999`.
pub fn troosters_1999(walker: &Walker) -> Reference {
    let men = if walker.sex == Sex::Male { 51.31 } else { 0.0 };
    Reference {
        distance_m: 218.0 + 5.14 * walker.height_cm
            - 5.32 * walker.age_years
            - 1.80 * walker.weight_kg
            + men,
        lower_limit_m: None,
    }
}

/// Enright 2003: men 510, women 493, `+ 2.2 cm - 0.93 kg - 5.3 age`. Source: register `enright-2003`.
pub fn enright_2003(walker: &Walker) -> Reference {
    let base = match walker.sex {
        Sex::Male => 510.0,
        Sex::Female => 493.0,
    };
    Reference {
        distance_m: base + 2.2 * walker.height_cm
            - 0.93 * walker.weight_kg
            - 5.3 * walker.age_years,
        lower_limit_m: None,
    }
}

/// Gibbons 2001: `868.8 - 2.99 age - 74.7 (women)`. Source: register `gibbons-2001`.
pub fn gibbons_2001(age_years: f64, sex: Sex) -> Reference {
    let women = if sex == Sex::Female { 74.7 } else { 0.0 };
    Reference {
        distance_m: 868.8 - 2.99 * age_years - women,
        lower_limit_m: None,
    }
}

/// Mean peak oxygen uptake of a group that walked a distance: `4.948 + 0.023 m`.
///
/// Source: Ross 2010 (register `ross-2010`; coefficients recalled, errors read). Its authors say: not for an individual;
/// for one person the standard error is [`ROSS_SEE_ML_PER_KG_MIN`].
pub fn ross_2010(distance_m: f64) -> OxygenUptake {
    OxygenUptake::ml_per_kg_min(4.948 + 0.023 * distance_m)
}

/// The caution that goes with every use of [`ross_2010`] for one person.
pub const ROSS_NOT_FOR_ONE: &str =
    "a mean of groups; its authors say not for one person (SEE 3.82 mL/kg/min, 26.7 %)";

fn walker_of(values: &Values) -> Result<Walker, RuleError> {
    Ok(Walker {
        sex: sex_of(values)?,
        age_years: values.number("age_years")?,
        height_cm: values.number("height_cm")?,
        weight_kg: values.number("weight_kg")?,
    })
}

fn answer(values: &Values, reference: Reference, working: String) -> Answer {
    let mut working = format!("{working} = {} m", short(reference.distance_m));
    if let Some(limit) = reference.lower_limit_m {
        working.push_str(&format!("; lower limit of normal {} m", short(limit)));
    }
    if let Some(walked) = values.optional_number("distance_m") {
        working.push_str(&format!(
            "; {walked} m is {} %",
            short(reference.per_cent(walked))
        ));
    }
    Answer::new(Value::Number(reference.distance_m, "m"), working)
        .keep_in_mind("30 m course without an aid; the equations differ by more than 200 m, so name this one beside its result")
}

/// The first reference equation, for findings elsewhere.
pub const ENRIGHT_SHERRILL: Rule = Rule {
    id: RuleId("six-minute-walk/enright-sherrill-1998"),
    name: "Expected six-minute walk, Enright and Sherrill",
    statement: "Men 7.57 cm - 5.02 age - 1.76 kg - 309 m; women 2.11 cm - 2.29 kg - 5.78 age + 667 m; lower limit of normal 153 m and 139 m below (recalled).",
    sources: &[SourceId("enright-sherrill-1998")],
    tag: Tag::Recalled,
    inputs: &[SEX, AGE, HEIGHT, WEIGHT, DISTANCE.or_none()],
    evaluate: |values| {
        let w = walker_of(values)?;
        let working = match w.sex {
            Sex::Male => format!(
                "7.57 x {} - 5.02 x {} - 1.76 x {} - 309",
                w.height_cm, w.age_years, w.weight_kg
            ),
            Sex::Female => format!(
                "2.11 x {} - 2.29 x {} - 5.78 x {} + 667",
                w.height_cm, w.weight_kg, w.age_years
            ),
        };
        Ok(answer(values, enright_sherrill_1998(&w), working))
    },
};

const TROOSTERS: Rule = Rule {
    id: RuleId("six-minute-walk/troosters-1999"),
    name: "Expected six-minute walk, Troosters",
    statement: "218 + 5.14 cm - 5.32 age - 1.80 kg + 51.31 (men) m.",
    sources: &[SourceId("troosters-1999")],
    tag: Tag::Read,
    inputs: &[SEX, AGE, HEIGHT, WEIGHT, DISTANCE.or_none()],
    evaluate: |values| {
        let w = walker_of(values)?;
        let men = if w.sex == Sex::Male { " + 51.31" } else { "" };
        let working = format!(
            "218 + 5.14 x {} - 5.32 x {} - 1.80 x {}{men}",
            w.height_cm, w.age_years, w.weight_kg
        );
        Ok(answer(values, troosters_1999(&w), working))
    },
};

const ENRIGHT_2003: Rule = Rule {
    id: RuleId("six-minute-walk/enright-2003"),
    name: "Expected six-minute walk, Enright 2003",
    statement: "Men 510, women 493, + 2.2 cm - 0.93 kg - 5.3 age m.",
    sources: &[SourceId("enright-2003")],
    tag: Tag::Read,
    inputs: &[SEX, AGE, HEIGHT, WEIGHT, DISTANCE.or_none()],
    evaluate: |values| {
        let w = walker_of(values)?;
        let base = if w.sex == Sex::Male { 510 } else { 493 };
        let working = format!(
            "{base} + 2.2 x {} - 0.93 x {} - 5.3 x {}",
            w.height_cm, w.weight_kg, w.age_years
        );
        Ok(answer(values, enright_2003(&w), working))
    },
};

const GIBBONS: Rule = Rule {
    id: RuleId("six-minute-walk/gibbons-2001"),
    name: "Expected six-minute walk, Gibbons",
    statement: "868.8 - 2.99 age - 74.7 (women) m.",
    sources: &[SourceId("gibbons-2001")],
    tag: Tag::Read,
    inputs: &[SEX, AGE, DISTANCE.or_none()],
    evaluate: |values| {
        let (age, sex) = (values.number("age_years")?, sex_of(values)?);
        let women = if sex == Sex::Female { " - 74.7" } else { "" };
        Ok(answer(
            values,
            gibbons_2001(age, sex),
            format!("868.8 - 2.99 x {age}{women}"),
        ))
    },
};

/// The capacity equation, for reasons elsewhere.
pub const ROSS: Rule = Rule {
    id: RuleId("six-minute-walk/ross-2010"),
    name: "Mean capacity of people who walked a distance in six minutes",
    statement: "Mean VO2peak = 4.948 + 0.023 x metres, mL/kg/min; SEE 3.82 (26.7 %) for one person, 1.1 for a group mean; its authors say not for an individual.",
    sources: &[SourceId("ross-2010")],
    tag: Tag::Recalled,
    inputs: &[DISTANCE],
    evaluate: |values| {
        let distance = values.number("distance_m")?;
        let uptake = ross_2010(distance);
        Ok(Answer::new(
            Value::Number(uptake.to_ml_per_kg_min(), "mL/kg/min"),
            format!(
                "4.948 + 0.023 x {distance} = {} mL/kg/min ({} METs)",
                short(uptake.to_ml_per_kg_min()),
                short(uptake.to_mets().to_mets())
            ),
        )
        .keep_in_mind(ROSS_NOT_FOR_ONE))
    },
};

/// The lowest quartile, for findings elsewhere.
pub const LOWEST_QUARTILE: Rule = Rule {
    id: RuleId("six-minute-walk/lowest-quartile"),
    name: "Lowest quartile of people with coronary disease",
    statement: "People with stable coronary disease in the lowest quartile (87 to 419 m) had four times the events.",
    sources: &[SourceId("beatty-2012")],
    tag: Tag::Read,
    inputs: &[DISTANCE],
    evaluate: |values| {
        let distance = values.number("distance_m")?;
        let lowest = distance <= LOWEST_QUARTILE_M;
        let sign = if lowest { "<=" } else { ">" };
        Ok(Answer::new(
            Value::Flag(lowest),
            format!("{distance} {sign} {LOWEST_QUARTILE_M}"),
        ))
    },
};

/// The rules of the six-minute walk.
pub(super) const RULES: &[Rule] = &[
    ENRIGHT_SHERRILL,
    TROOSTERS,
    ENRIGHT_2003,
    GIBBONS,
    ROSS,
    LOWEST_QUARTILE,
];

#[cfg(test)]
mod tests {
    use super::*;

    const MAN: Walker = Walker {
        sex: Sex::Male,
        age_years: 65.0,
        height_cm: 170.0,
        weight_kg: 80.0,
    };
    const WOMAN: Walker = Walker {
        sex: Sex::Female,
        age_years: 65.0,
        height_cm: 160.0,
        weight_kg: 70.0,
    };

    fn near(value: f64, expected: f64, half_digit: f64) {
        assert!(
            libm::fabs(value - expected) < half_digit,
            "{value} is not {expected}"
        );
    }

    // Computed by hand for a man of 65, 170 cm, 80 kg and a woman of 65, 160 cm, 70 kg.
    #[test]
    fn worked_reference_distances() {
        let enright = enright_sherrill_1998(&MAN);
        near(enright.distance_m, 510.8, 0.05);
        near(enright.lower_limit_m.unwrap(), 357.8, 0.05);
        near(enright.per_cent(400.0), 78.3, 0.05);
        near(enright_sherrill_1998(&WOMAN).distance_m, 468.6, 0.05);
        near(troosters_1999(&MAN).distance_m, 653.31, 0.005);
        near(troosters_1999(&WOMAN).distance_m, 568.6, 0.05);
        near(enright_2003(&MAN).distance_m, 465.1, 0.05);
        near(enright_2003(&WOMAN).distance_m, 435.4, 0.05);
        near(gibbons_2001(65.0, Sex::Male).distance_m, 674.45, 0.005);
        near(gibbons_2001(65.0, Sex::Female).distance_m, 599.75, 0.005);
    }

    #[test]
    fn worked_capacity_of_a_group() {
        near(ross_2010(300.0).to_ml_per_kg_min(), 11.848, 0.000_5);
        near(ross_2010(300.0).to_mets().to_mets(), 3.39, 0.005);
        near(ross_2010(400.0).to_ml_per_kg_min(), 14.148, 0.000_5);
        near(ross_2010(400.0).to_mets().to_mets(), 4.04, 0.005);
    }

    #[test]
    fn the_equations_disagree_by_more_than_200_m_so_the_name_must_stand_beside() {
        let all = [
            enright_sherrill_1998(&MAN).distance_m,
            troosters_1999(&MAN).distance_m,
            enright_2003(&MAN).distance_m,
            gibbons_2001(65.0, Sex::Male).distance_m,
        ];
        let most = all.iter().copied().fold(f64::MIN, f64::max);
        let least = all.iter().copied().fold(f64::MAX, f64::min);
        assert!(most - least > 200.0);
        for rule in &RULES[..4] {
            assert!(rule.name.starts_with("Expected six-minute walk, "));
        }
    }
}
