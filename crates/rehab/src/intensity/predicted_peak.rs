//! Which maximal-heart-rate equation applies to a person when no test was taken: the service's policy.
//!
//! By condition (ours, from published equations): with a rate-slowing medicine or a coronary disease, or when that is not
//! known, Brawner; without either, Inbar, the lower of the two healthy-adult equations at every age; with a weak left ventricle Keteyian,
//! or where the resting rate is missing the equation for ischaemic heart failure, and never above what the same person
//! would get with a preserved ventricle, so that a weaker heart is never given a higher rate.

use super::hr_max::{self, BETA_BLOCKED_SEE_BPM, ExerciseMode, UK_BETA_BLOCKER_MINUS_BPM};
use super::hr_max_rules::{
    BRAWNER, FOX, GELLISH, GULATI, INBAR, ISCHAEMIC_HF, KETEYIAN, SYDO, TANAKA, keteyian_working,
    line_working,
};
use crate::assessment::{Answered, Sex};
use crate::evidence::{
    Answer, Because, Input, Named, Rule, RuleError, RuleId, SourceId, Tag, Value, Values,
};
use crate::inputs::{AGE, RESTING_HR, refuse, short};
use crate::quantity::HeartRate;
use crate::service::HrMaxPolicy;

/// Age from which UK practice takes Inbar instead of 220 - age.
///
/// The sources say "< 45" and "> 45" and leave 45 itself open. Recorded choice: Inbar from 45 on. At 45 the two differ
/// by 0.025 bpm (175 against 174.975), so no whole beat hangs on it except by rounding.
// Source: uk-acpicr-bacpr (secondary).
pub const UK_INBAR_FROM_AGE_YEARS: f64 = 45.0;

/// What the policy needs to know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PeakFacts {
    /// Completed years; without it nothing can be predicted.
    pub age_years: Option<f64>,
    /// Sex, for the equations that differ by it.
    pub sex: Option<Sex>,
    /// Resting heart rate.
    pub resting: Option<HeartRate>,
    /// Whether a beta-blocker or another rate-slowing medicine is taken.
    pub rate_slowed: Answered,
    /// Whether heart failure is present.
    pub heart_failure: Answered,
    /// Ejection fraction in per cent.
    pub ejection_fraction_pct: Option<f64>,
    /// Whether a coronary disease is known.
    pub coronary_disease: Answered,
    /// On foot or on a cycle; a home programme is on foot (treadmill).
    pub mode: ExerciseMode,
}

/// A predicted peak with its explanation.
#[derive(Clone, Debug, PartialEq)]
pub struct PredictedPeak {
    /// The rate, not rounded.
    pub rate: HeartRate,
    /// The equation, its working, what was assumed and its error.
    pub because: Because,
    /// What other equations give for the same person, on demand.
    pub others: Vec<(RuleId, HeartRate)>,
}

closed_words!(
    /// Why no peak was predicted.
    NoPeak as "reason for no predicted peak" {
        PolicyNone = "the service predicts no maximal heart rate",
        AgeNotKnown = "the date of birth is not known",
        NotForThisPerson = "the service's equation is not for this person's sex, or the sex is not known",
    }
);

/// The maximal heart rate that the service's policy predicts for a person.
///
/// # Errors
/// [`NoPeak`] when the policy predicts none, the age is not known, or the equation isn't for this person.
pub fn predicted_peak(facts: &PeakFacts, policy: HrMaxPolicy) -> Result<PredictedPeak, NoPeak> {
    if policy == HrMaxPolicy::None {
        return Err(NoPeak::PolicyNone);
    }
    let age = facts.age_years.ok_or(NoPeak::AgeNotKnown)?;
    let chosen = match policy {
        HrMaxPolicy::None => return Err(NoPeak::PolicyNone),
        HrMaxPolicy::ByCondition => by_condition(facts, age),
        HrMaxPolicy::UkPractice => uk_practice(facts, age),
        HrMaxPolicy::Fox => single(&FOX, hr_max::FOX_1971, facts, age),
        HrMaxPolicy::Tanaka => single(&TANAKA, hr_max::TANAKA_2001, facts, age),
        HrMaxPolicy::Inbar => single(&INBAR, hr_max::INBAR_1994, facts, age),
        HrMaxPolicy::Gellish => single(&GELLISH, hr_max::GELLISH_2007, facts, age),
        HrMaxPolicy::Gulati => match facts.sex {
            Some(Sex::Female) => single(&GULATI, hr_max::GULATI_2010, facts, age),
            _ => return Err(NoPeak::NotForThisPerson),
        },
        HrMaxPolicy::Sydo => match facts.sex {
            Some(Sex::Male) => single(&SYDO, hr_max::SYDO_2014_MEN, facts, age),
            Some(Sex::Female) => single(&SYDO, hr_max::SYDO_2014_WOMEN, facts, age),
            None => return Err(NoPeak::NotForThisPerson),
        },
    };
    Ok(PredictedPeak {
        rate: chosen.rate,
        others: others(facts, age, chosen.rule.id),
        because: explain(chosen, facts, age, policy),
    })
}

/// How far an equation for healthy adults lies off, in the healthy and in the diseased.
// Source: fox-1971; cleveland-1988 (139 people with a narrowed coronary artery, medicines not recorded).
const AGE_LINE_ERROR: &str = "SD of age equations about 10 to 12 bpm in the healthy (as published for 220 - age); in people with narrowed coronary arteries they lay 24 to 30 bpm too high on average, with an SD of 23";

/// Said where the equation for people on a beta-blocker counts without one. Source: `cleveland-1988`.
const NOT_SLOWED: &str = "made on people with a beta-blocker; none is taken here, but the equations for healthy adults lie too high in most coronary disease, so the lower one is taken";
const NOT_SLOWED_ERROR: &str = " on a beta-blocker; in people with narrowed coronary arteries it lay 15 bpm too low on average, with an SD of 23";

/// One equation with what it gave.
struct Chosen {
    rule: &'static Rule,
    rate: HeartRate,
    working: String,
    assumed: Vec<String>,
    error: String,
}

fn single(rule: &'static Rule, line: hr_max::AgeLine, facts: &PeakFacts, age: f64) -> Chosen {
    let mut assumed = Vec::new();
    if facts.rate_slowed != Answered::Absent {
        assumed.push(
            "the service's equation is for people without a rate-slowing medicine; with one it predicts too high"
                .to_owned(),
        );
    }
    Chosen {
        rule,
        rate: line.at(age),
        working: line_working(line, age),
        assumed,
        error: AGE_LINE_ERROR.to_owned(),
    }
}

/// The equation for a preserved ventricle under the policy by condition.
fn preserved_by_condition(facts: &PeakFacts, age: f64) -> Chosen {
    let not_slowed = facts.rate_slowed == Answered::Absent;
    if not_slowed && facts.coronary_disease == Answered::Absent {
        return single(&INBAR, hr_max::INBAR_1994, facts, age);
    }
    let mut assumed: Vec<String> = medicine_not_known(facts).into_iter().collect();
    let mut error = format!("standard error of estimate {BETA_BLOCKED_SEE_BPM} bpm");
    if not_slowed {
        assumed.push(NOT_SLOWED.to_owned());
        error.push_str(NOT_SLOWED_ERROR);
        if facts.coronary_disease == Answered::NotKnown {
            let text = "whether there is a coronary disease is not known; counted as present";
            assumed.push(text.to_owned());
        }
    }
    Chosen {
        rule: &BRAWNER,
        rate: hr_max::brawner_2004(age),
        working: line_working(hr_max::BRAWNER_2004, age),
        assumed,
        error,
    }
}

fn medicine_not_known(facts: &PeakFacts) -> Option<String> {
    (facts.rate_slowed == Answered::NotKnown).then(|| {
        "whether a rate-slowing medicine is taken is not known; counted as taken".to_owned()
    })
}

fn by_condition(facts: &PeakFacts, age: f64) -> Chosen {
    let preserved = preserved_by_condition(facts, age);
    if weak_ventricle(facts) {
        for_weak_ventricle(facts, age, preserved)
    } else {
        preserved
    }
}

fn preserved_uk(facts: &PeakFacts, age: f64) -> Chosen {
    let (line, name) = if age < UK_INBAR_FROM_AGE_YEARS {
        (hr_max::FOX_1971, "220 - age under 45 years")
    } else {
        (hr_max::INBAR_1994, "Inbar from 45 years")
    };
    let mut assumed = vec![name.to_owned()];
    if facts.rate_slowed == Answered::Absent {
        return Chosen {
            rule: &UK_PRACTICE,
            assumed,
            ..single(&INBAR, line, facts, age)
        };
    }
    assumed.extend(medicine_not_known(facts));
    let rate = HeartRate::bpm(line.at(age).to_bpm() - UK_BETA_BLOCKER_MINUS_BPM);
    Chosen {
        rule: &UK_PRACTICE,
        rate,
        working: format!(
            "{}; {} - {UK_BETA_BLOCKER_MINUS_BPM} = {}",
            line_working(line, age),
            short(line.at(age).to_bpm()),
            short(rate.to_bpm())
        ),
        assumed,
        error: "no error is published for taking off 30; a beta-blocker takes off 20 to 40 bpm"
            .to_owned(),
    }
}

fn uk_practice(facts: &PeakFacts, age: f64) -> Chosen {
    let preserved = preserved_uk(facts, age);
    if weak_ventricle(facts) || facts.heart_failure == Answered::Present {
        for_weak_ventricle(facts, age, preserved)
    } else {
        preserved
    }
}

/// Whether the left ventricle counts as weak: ejection fraction below 40, or heart failure without a preserved one.
fn weak_ventricle(facts: &PeakFacts) -> bool {
    match facts.ejection_fraction_pct {
        Some(fraction) if fraction < 40.0 => true,
        Some(fraction) if fraction >= 50.0 => false,
        _ => facts.heart_failure == Answered::Present,
    }
}

fn for_weak_ventricle(facts: &PeakFacts, age: f64, preserved: Chosen) -> Chosen {
    let mut weak = match facts.resting {
        Some(resting) => Chosen {
            rule: &KETEYIAN,
            rate: hr_max::keteyian_2012(age, resting, facts.mode),
            working: keteyian_working(age, resting, facts.mode),
            assumed: vec![format!("{}, as for exercise on foot or cycle", facts.mode)],
            error: format!("standard error of estimate {BETA_BLOCKED_SEE_BPM} bpm"),
        },
        None => Chosen {
            rule: &ISCHAEMIC_HF,
            rate: hr_max::ischaemic_heart_failure_2012(age),
            working: line_working(hr_max::ISCHAEMIC_HF_2012, age),
            assumed: vec!["the resting rate is not known, so the equation by age alone".to_owned()],
            error: "its error is not recorded; kindred equations have 18 bpm".to_owned(),
        },
    };
    if facts.rate_slowed == Answered::Absent {
        weak.assumed
            .push("made on people with a beta-blocker; none is taken here".to_owned());
    }
    if preserved.rate >= weak.rate {
        return weak;
    }
    let mut capped = preserved;
    capped.assumed.push(format!(
        "{} gives {} bpm; a weak ventricle is never given more than a preserved one",
        weak.rule.id,
        short(weak.rate.to_bpm())
    ));
    capped
}

fn explain(chosen: Chosen, facts: &PeakFacts, age: f64, policy: HrMaxPolicy) -> Because {
    let mut inputs = vec![Named::number("age_years", age, "years")];
    if let Some(resting) = facts.resting {
        inputs.push(Named::number("resting_hr_bpm", resting.to_bpm(), "bpm"));
    }
    if let Some(fraction) = facts.ejection_fraction_pct {
        inputs.push(Named::number("ejection_fraction_pct", fraction, "per cent"));
    }
    inputs.push(Named::text("rate_slowed", facts.rate_slowed.word()));
    inputs.push(Named::text("heart_failure", facts.heart_failure.word()));
    inputs.push(Named::text(
        "coronary_disease",
        facts.coronary_disease.word(),
    ));
    inputs.push(Named::text("policy", policy.word()));
    Because {
        working: Some(chosen.working),
        inputs,
        assumed: chosen.assumed,
        unsure: Some(chosen.error),
        changes_with: Some("an exercise test; a change of a rate-slowing medicine".to_owned()),
        ..chosen.rule.because(
            Value::Number(chosen.rate.to_bpm(), "bpm"),
            "Maximal heart rate predicted, not measured: it gives a guiding ceiling only.",
        )
    }
}

fn others(facts: &PeakFacts, age: f64, used: RuleId) -> Vec<(RuleId, HeartRate)> {
    let mut all = vec![
        (FOX.id, hr_max::fox_1971(age)),
        (TANAKA.id, hr_max::tanaka_2001(age)),
        (INBAR.id, hr_max::inbar_1994(age)),
        (GELLISH.id, hr_max::gellish_2007(age)),
    ];
    if facts.sex == Some(Sex::Female) {
        all.push((GULATI.id, hr_max::gulati_2010(age)));
    }
    if let Some(sex) = facts.sex {
        all.push((SYDO.id, hr_max::sydo_2014(age, sex)));
    }
    if facts.rate_slowed != Answered::Absent {
        all.push((BRAWNER.id, hr_max::brawner_2004(age)));
        all.push((UK_PRACTICE.id, preserved_uk(facts, age).rate));
    }
    if weak_ventricle(facts) {
        all.push((ISCHAEMIC_HF.id, hr_max::ischaemic_heart_failure_2012(age)));
        if let Some(resting) = facts.resting {
            all.push((KETEYIAN.id, hr_max::keteyian_2012(age, resting, facts.mode)));
        }
    }
    all.retain(|(id, _)| *id != used);
    all
}

const KNOWN: &[&str] = &["present", "absent", "not known"];

const BY_CONDITION_INPUTS: &[Input] = &[
    AGE,
    RESTING_HR.or_none(),
    Input::choice("rate_slowed", KNOWN),
    Input::choice("heart_failure", KNOWN),
    Input::choice("coronary_disease", KNOWN),
    Input::number("ejection_fraction_pct", "per cent", 5.0, 85.0).or_none(),
];

const UK_INPUTS: &[Input] = &[
    AGE,
    RESTING_HR.or_none(),
    Input::choice("rate_slowed", KNOWN),
    Input::choice("heart_failure", KNOWN),
    Input::number("ejection_fraction_pct", "per cent", 5.0, 85.0).or_none(),
];

fn evaluate(values: &Values, policy: HrMaxPolicy) -> Result<Answer, RuleError> {
    let answered = |name| {
        Answered::parse(values.text(name)?).map_err(|unknown| RuleError {
            message: unknown.to_string(),
        })
    };
    let facts = PeakFacts {
        age_years: Some(values.number("age_years")?),
        sex: None,
        resting: values.optional_number("resting_hr_bpm").map(HeartRate::bpm),
        rate_slowed: answered("rate_slowed")?,
        heart_failure: answered("heart_failure")?,
        ejection_fraction_pct: values.optional_number("ejection_fraction_pct"),
        coronary_disease: match policy {
            HrMaxPolicy::ByCondition => answered("coronary_disease")?,
            _ => Answered::NotKnown,
        },
        mode: ExerciseMode::Treadmill,
    };
    let peak = match predicted_peak(&facts, policy) {
        Ok(peak) => peak,
        Err(why) => return refuse(why.word()),
    };
    let because = peak.because;
    Ok(Answer {
        value: because.value,
        working: format!("{}: {}", because.rule, because.working.unwrap_or_default()),
        cautions: because.assumed.into_iter().chain(because.unsure).collect(),
    })
}

pub(super) const BY_CONDITION: Rule = Rule {
    id: RuleId("hr-max/by-condition"),
    name: "Which equation applies, by condition",
    statement: "Rate-slowing medicine taken or not known: Brawner 2004. None taken: the same, the lower of the two, in coronary disease or where that is not known, because equations for healthy adults lay above the peak of most people with narrowed arteries; without such a disease Inbar 1994. Ejection fraction below 40 %, or heart failure without one of 50 % or more: Keteyian 2012 (without a resting rate 168 - 0.76 x age), never above the equation for a preserved ventricle.",
    sources: &[
        SourceId("brawner-2004"),
        SourceId("inbar-1994"),
        SourceId("keteyian-2012"),
        SourceId("ischaemic-hf-2012"),
        SourceId("cleveland-1988"),
        SourceId("service-ours"),
    ],
    tag: Tag::Ours,
    inputs: BY_CONDITION_INPUTS,
    evaluate: |values| evaluate(values, HrMaxPolicy::ByCondition),
};

pub(super) const UK_PRACTICE: Rule = Rule {
    id: RuleId("hr-max/uk-practice"),
    name: "Which equation applies, UK practice",
    statement: "Under 45 years 220 - age, from 45 Inbar 1994 (at exactly 45 our recorded choice); minus 30 bpm with a beta-blocker; heart failure: Keteyian 2012, never above the equation for a preserved ventricle (ours).",
    sources: &[
        SourceId("uk-acpicr-bacpr"),
        SourceId("fox-1971"),
        SourceId("inbar-1994"),
        SourceId("keteyian-2012"),
    ],
    tag: Tag::Read,
    inputs: UK_INPUTS,
    evaluate: |values| evaluate(values, HrMaxPolicy::UkPractice),
};

/// The policies.
pub(super) const RULES: &[Rule] = &[BY_CONDITION, UK_PRACTICE];

#[cfg(test)]
mod tests;
