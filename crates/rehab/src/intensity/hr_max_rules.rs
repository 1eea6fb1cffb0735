//! The equations for the maximal heart rate as rules that can be listed and evaluated.

use super::hr_max::{self, AgeLine, ExerciseMode, MeckiFacts};
use crate::assessment::Sex;
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{AGE, RESTING_HR, SEX, refuse, sex_of, short};
use crate::quantity::HeartRate;

/// A person taking a beta-blocker must not be given these without a word.
const NOT_BETA_BLOCKED: &str =
    "made on people without a beta-blocker, which lowers the peak by 20 to 40 bpm";
const GROUP_MEAN: &str = "a mean of a group; one person may lie 10 to 20 bpm away";

fn bpm(rate: HeartRate, working: String) -> Answer {
    Answer::new(Value::Number(rate.to_bpm(), "bpm"), working).keep_in_mind(GROUP_MEAN)
}

fn along(line: AgeLine, values: &Values) -> Result<Answer, RuleError> {
    let age = values.number("age_years")?;
    let rate = line.at(age);
    Ok(bpm(rate, line_working(line, age)))
}

/// `208 - 0.7 x 60 = 166`.
pub(super) fn line_working(line: AgeLine, age_years: f64) -> String {
    let rate = short(line.at(age_years).to_bpm());
    if line.bpm_per_year == 1.0 {
        return format!("{} - {age_years} = {rate}", line.intercept_bpm);
    }
    format!(
        "{} - {} x {age_years} = {rate}",
        line.intercept_bpm, line.bpm_per_year
    )
}

/// `119 + 0.5 x 70 - 0.5 x 60 - 0 = 124`.
pub(super) fn keteyian_working(age_years: f64, resting: HeartRate, mode: ExerciseMode) -> String {
    let rate = hr_max::keteyian_2012(age_years, resting, mode);
    let cycle = if mode == ExerciseMode::Cycle { 5 } else { 0 };
    format!(
        "119 + 0.5 x {} - 0.5 x {age_years} - {cycle} = {}",
        short(resting.to_bpm()),
        short(rate.to_bpm())
    )
}

macro_rules! age_rule {
    ($name:ident, $id:literal, $title:literal, $statement:literal, [$($source:literal),+], $line:expr) => {
        pub(super) const $name: Rule = Rule {
            id: RuleId($id),
            name: $title,
            statement: $statement,
            sources: &[$(SourceId($source)),+],
            tag: Tag::Read,
            inputs: &[AGE],
            evaluate: |values| Ok(along($line, values)?.keep_in_mind(NOT_BETA_BLOCKED)),
        };
    };
}

age_rule!(
    FOX,
    "hr-max/fox-1971",
    "Maximal heart rate, general",
    "HRmax = 220 - age (years), bpm; SD 10 to 12 bpm; general population without a beta-blocker.",
    ["fox-1971", "robergs-landwehr-2002"],
    hr_max::FOX_1971
);
age_rule!(
    TANAKA,
    "hr-max/tanaka-2001",
    "Maximal heart rate, healthy adults",
    "HRmax = 208 - 0.7 x age (years), bpm; healthy adults without a beta-blocker.",
    ["tanaka-2001"],
    hr_max::TANAKA_2001
);
age_rule!(
    INBAR,
    "hr-max/inbar-1994",
    "Maximal heart rate, healthy adults",
    "HRmax = 205.8 - 0.685 x age (years), bpm; healthy adults without a beta-blocker.",
    ["inbar-1994"],
    hr_max::INBAR_1994
);
age_rule!(
    GELLISH,
    "hr-max/gellish-2007",
    "Maximal heart rate, healthy adults",
    "HRmax = 206.9 - 0.67 x age (years), bpm; healthy adults without a beta-blocker.",
    ["gellish-2007"],
    hr_max::GELLISH_2007
);
age_rule!(
    GULATI,
    "hr-max/gulati-2010",
    "Maximal heart rate, women",
    "HRmax = 206 - 0.88 x age (years), bpm; women (n = 5437) without a beta-blocker.",
    ["gulati-2010"],
    hr_max::GULATI_2010
);

pub(super) const SYDO: Rule = Rule {
    id: RuleId("hr-max/sydo-2014"),
    name: "Maximal heart rate, clinic cohort by sex",
    statement: "Men HRmax = 220 - 0.95 x age, women HRmax = 210 - 0.79 x age (years), bpm; clinic cohort without a beta-blocker.",
    sources: &[SourceId("sydo-2014")],
    tag: Tag::Read,
    inputs: &[AGE, SEX],
    evaluate: |values| {
        let line = match sex_of(values)? {
            Sex::Male => hr_max::SYDO_2014_MEN,
            Sex::Female => hr_max::SYDO_2014_WOMEN,
        };
        Ok(along(line, values)?.keep_in_mind(NOT_BETA_BLOCKED))
    },
};

pub(super) const BRAWNER: Rule = Rule {
    id: RuleId("hr-max/brawner-2004"),
    name: "Maximal heart rate, coronary disease on a beta-blocker",
    statement: "HRmax = 164 - 0.7 x age (years), bpm; r squared 0.13, SEE 18 bpm; coronary disease on a beta-blocker with preserved left ventricle, treadmill.",
    sources: &[SourceId("brawner-2004")],
    tag: Tag::Read,
    inputs: &[AGE],
    evaluate: |values| along(hr_max::BRAWNER_2004, values),
};

pub(super) const ISCHAEMIC_HF: Rule = Rule {
    id: RuleId("hr-max/ischaemic-hf-2012"),
    name: "Maximal heart rate, ischaemic heart failure on a beta-blocker",
    statement: "HRmax = 168 - 0.76 x age (years), bpm; ischaemic heart failure on a beta-blocker.",
    sources: &[SourceId("ischaemic-hf-2012")],
    tag: Tag::Read,
    inputs: &[AGE],
    evaluate: |values| along(hr_max::ISCHAEMIC_HF_2012, values),
};

pub(super) const KETEYIAN: Rule = Rule {
    id: RuleId("hr-max/keteyian-2012"),
    name: "Maximal heart rate, heart failure on a beta-blocker",
    statement: "HRmax = 119 + 0.5 x resting rate - 0.5 x age - (0 treadmill, 5 cycle), bpm; R squared 0.28, SEE 18 bpm; heart failure with reduced ejection fraction on a beta-blocker. Its authors advise against prescribing from it.",
    sources: &[SourceId("keteyian-2012")],
    tag: Tag::Read,
    inputs: &[
        AGE,
        RESTING_HR,
        Input::choice("mode", &["treadmill", "cycle"]),
    ],
    evaluate: |values| {
        let Ok(mode) = ExerciseMode::parse(values.text("mode")?) else {
            return refuse("'mode' is treadmill or cycle; write one of them");
        };
        let age = values.number("age_years")?;
        let resting = HeartRate::bpm(values.number("resting_hr_bpm")?);
        let rate = hr_max::keteyian_2012(age, resting, mode);
        Ok(bpm(rate, keteyian_working(age, resting, mode))
            .keep_in_mind("its authors advise against prescribing from it"))
    },
};

pub(super) const MECKI: Rule = Rule {
    id: RuleId("hr-max/mecki"),
    name: "Maximal heart rate, heart failure with ejection fraction and haemoglobin",
    statement: "HRmax = 109 - 0.5 x age + 0.5 x resting rate + 0.2 x ejection fraction (per cent) - (5 if haemoglobin < 11 g/dL), bpm; heart failure; 75 to 80 % of it is about the rate at the anaerobic threshold.",
    sources: &[SourceId("mecki-hr")],
    tag: Tag::Read,
    inputs: &[
        AGE,
        RESTING_HR,
        Input::number("ejection_fraction_pct", "per cent", 5.0, 85.0),
        Input::number("haemoglobin_g_dl", "g/dL", 3.0, 25.0),
    ],
    evaluate: |values| {
        let facts = MeckiFacts {
            age_years: values.number("age_years")?,
            resting: HeartRate::bpm(values.number("resting_hr_bpm")?),
            ejection_fraction_pct: values.number("ejection_fraction_pct")?,
            haemoglobin_g_dl: values.number("haemoglobin_g_dl")?,
        };
        let rate = hr_max::mecki(facts);
        let anaemia = if facts.haemoglobin_g_dl < 11.0 { 5 } else { 0 };
        Ok(bpm(
            rate,
            format!(
                "109 - 0.5 x {} + 0.5 x {} + 0.2 x {} - {anaemia} = {}",
                facts.age_years,
                short(facts.resting.to_bpm()),
                facts.ejection_fraction_pct,
                short(rate.to_bpm())
            ),
        ))
    },
};

pub(super) const BETA_BLOCKER_EFFECT: Rule = Rule {
    id: RuleId("hr-max/beta-blocker-effect"),
    name: "What a beta-blocker takes off the pulse",
    statement: "A beta-blocker lowers submaximal and peak heart rate by 20 to 40 bpm.",
    sources: &[SourceId("thow-2006")],
    tag: Tag::Read,
    inputs: &[],
    evaluate: |_| {
        Ok(Answer::new(
            Value::Text("20 to 40 bpm lower".to_owned()),
            "a fact, nothing is computed",
        )
        .keep_in_mind("read in a secondary text; page not recorded"))
    },
};

pub(super) const PREDICTED_IS_GUIDING: Rule = Rule {
    id: RuleId("hr-max/predicted-is-guiding"),
    name: "A predicted maximum gives a guiding ceiling only",
    statement: "Without an exercise test effort and the talk test lead; a ceiling from a predicted maximum is guiding. In the source 0 to 61 % of such prescriptions fell within range (predicted 123 +/- 9, measured 133 +/- 21 bpm).",
    sources: &[SourceId("keteyian-2023"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[],
    evaluate: |_| {
        Ok(Answer::new(
            Value::Text("guiding".to_owned()),
            "a rule, nothing is computed",
        ))
    },
};

/// The equations and facts of this module.
pub(super) const RULES: &[Rule] = &[
    FOX,
    TANAKA,
    INBAR,
    GELLISH,
    GULATI,
    SYDO,
    BRAWNER,
    ISCHAEMIC_HF,
    KETEYIAN,
    MECKI,
    BETA_BLOCKER_EFFECT,
    PREDICTED_IS_GUIDING,
];
