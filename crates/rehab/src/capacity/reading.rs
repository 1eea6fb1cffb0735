//! The number that each kind of test gives for capacity, with its working and its error.

use crate::assessment::{Answered, HistoryItem, StepStage, Test, TestResult};
use crate::evidence::{
    Answer, Because, Finding, Named, Rule, RuleId, SourceId, Tag, Value, Weight,
};
use crate::function_tests::{
    STEP_ESTIMATE, activity_status, shuttle_walk, six_minute_walk, step_test,
};
use crate::inputs::{PEAK_METS, short};
use crate::intensity::hr_max::ExerciseMode;
use crate::intensity::{PeakFacts, predicted_peak};
use crate::known::Known;
use crate::quantity::{HeartRate, Mets, OxygenUptake};
use crate::service::HrMaxPolicy;

/// A measured capacity.
pub(super) const MEASURED: Rule = Rule {
    id: RuleId("capacity/exercise-test"),
    name: "Capacity from an exercise test",
    statement: "The peak METs of the newest symptom-limited exercise test since the newest event: measured, it comes \
                before every estimate.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[PEAK_METS],
    evaluate: |values| {
        let mets = values.number("peak_mets")?;
        Ok(Answer::new(
            Value::Number(mets, "METs"),
            format!("measured, {mets}"),
        ))
    },
};

/// The number of a test before it is known whether it counts.
pub(super) struct Reading {
    pub(super) mets: Mets,
    pub(super) error_mets: Option<f64>,
    pub(super) measured: bool,
    pub(super) because: Because,
    pub(super) cautions: Vec<String>,
    /// Why the number is no capacity and only holds the limits lower.
    pub(super) doubt: Option<String>,
}

/// What a test gives.
pub(super) enum Read {
    /// A number.
    Number(Box<Reading>),
    /// None, and why where there is something to say.
    NoNumber(Option<Finding>),
}

/// A test in plain words.
pub(super) fn name(test: &Test) -> String {
    test.result.kind().replace('-', " ")
}

/// Reads a test.
pub(super) fn read(known: &Known, test: &Test) -> Read {
    let found = match &test.result {
        TestResult::Exercise(exercise) => match exercise.peak_mets {
            Some(peak) => Ok(measured(peak)),
            None => return Read::NoNumber(None),
        },
        TestResult::SixMinuteWalk { distance_m, .. } => Ok(six_minutes(test, *distance_m)),
        TestResult::ShuttleWalk { distance_m, .. } => Ok(shuttles(test, *distance_m)),
        TestResult::ActivityStatus { yes } => activities(test, yes),
        TestResult::Step {
            step_height_m,
            stages,
        } => read_step(known, *step_height_m, stages, test),
        _ => return Read::NoNumber(None),
    };
    match found {
        Ok(mut reading) => {
            if let Some(date) = test.date {
                reading.because = reading.because.with(Named::date("test", date));
            }
            Read::Number(Box::new(reading))
        }
        Err(finding) => Read::NoNumber(Some(*finding)),
    }
}

fn measured(peak: f64) -> Reading {
    Reading {
        mets: Mets::of(peak),
        error_mets: None,
        measured: true,
        because: MEASURED
            .because(
                Value::Number(peak, "METs"),
                "Measured in a symptom-limited exercise test.",
            )
            .working(format!("measured, {} METs", short(peak)))
            .with(Named::number("peak_mets", peak, "METs"))
            .changes_with("a new exercise test"),
        cautions: Vec::new(),
        doubt: None,
    }
}

/// The reason of an estimated uptake.
fn estimated(rule: &Rule, test: &Test, uptake: OxygenUptake, working: &str) -> Because {
    let mets = uptake.to_mets();
    rule.because(
        Value::Number(mets.to_mets(), "METs"),
        format!("Estimated from the {}, not measured.", name(test)),
    )
    .working(format!(
        "{working} = {} mL/kg/min; / 3.5 = {} METs",
        short(uptake.to_ml_per_kg_min()),
        short(mets.to_mets())
    ))
    .changes_with("an exercise test, or the same test again")
}

fn six_minutes(test: &Test, distance_m: f64) -> Reading {
    let uptake = six_minute_walk::ross_2010(distance_m);
    let working = format!("4.948 + 0.023 x {}", short(distance_m));
    Reading {
        mets: uptake.to_mets(),
        error_mets: Some(six_minute_walk::ROSS_SEE_ML_PER_KG_MIN / 3.5),
        measured: false,
        because: estimated(&six_minute_walk::ROSS, test, uptake, &working)
            .with(Named::number("distance_m", distance_m, "m"))
            .unsure(
                "for one person it may be out by 3.82 mL/kg/min (1.1 METs) either way; its authors say not for an \
                 individual",
            ),
        cautions: vec![six_minute_walk::ROSS_NOT_FOR_ONE.to_owned()],
        doubt: None,
    }
}

fn shuttles(test: &Test, distance_m: f64) -> Reading {
    let uptake = shuttle_walk::singh_1994(distance_m);
    let working = format!("4.19 + 0.025 x {}", short(distance_m));
    Reading {
        mets: uptake.to_mets(),
        error_mets: None,
        measured: false,
        because: estimated(&shuttle_walk::SINGH, test, uptake, &working)
            .with(Named::number("distance_m", distance_m, "m"))
            .unsure("made on people with lung disease; its error for one person is not recorded"),
        cautions: Vec::new(),
        doubt: None,
    }
}

fn activities(test: &Test, yes: &[u8]) -> Result<Reading, Box<Finding>> {
    let score = activity_status::score(yes).map_err(|why| {
        Box::new(activity_status::HLATKY.finding(
            Weight::Caution,
            format!("The activity questionnaire gives no score: {}", why.word()),
        ))
    })?;
    let uptake = activity_status::hlatky_1989(score);
    let (above, below) = activity_status::LIMITS_OF_AGREEMENT_ML_PER_KG_MIN;
    let working = format!("0.43 x {} + 9.6", short(score));
    Ok(Reading {
        mets: uptake.to_mets(),
        // Half the width of limits of agreement is 1.96 standard deviations.
        error_mets: Some((above - below) / 2.0 / 1.96 / 3.5),
        measured: false,
        because: estimated(&activity_status::HLATKY, test, uptake, &working)
            .with(Named::number("score", score, "points"))
            .unsure("limits of agreement with a measured peak +13.8 and -11.8 mL/kg/min (3.9 and 3.4 METs)"),
        cautions: vec!["what they say they can do, not what was seen".to_owned()],
        doubt: None,
    })
}

/// A step test by the line of its stages, extrapolated to the peak that fits the medicines of its day.
fn read_step(
    known: &Known,
    step_height_m: f64,
    stages: &[StepStage],
    test: &Test,
) -> Result<Reading, Box<Finding>> {
    let refuse = |why: &str| {
        Box::new(STEP_ESTIMATE.finding(
            Weight::Caution,
            format!("The step test gives no capacity: {why}"),
        ))
    };
    let slowed_then = match test.beta_blocked {
        Some(true) => Answered::Present,
        Some(false) => Answered::Absent,
        None => Answered::NotKnown,
    };
    let facts = PeakFacts {
        age_years: known.case.person.age_years(known.on),
        sex: known.case.person.sex,
        resting: known.resting_hr().map(|(bpm, _)| HeartRate::bpm(bpm)),
        rate_slowed: slowed_then,
        heart_failure: known.answer(HistoryItem::HeartFailure),
        coronary_disease: known.coronary_disease(),
        ejection_fraction_pct: known.case.heart.ejection_fraction_pct,
        mode: ExerciseMode::Treadmill,
    };
    let policy = known.service.hr_max_policy;
    let peak = predicted_peak(&facts, policy).map_err(|why| refuse(why.word()))?;
    let fits = slowed_then == Answered::Absent
        || matches!(policy, HrMaxPolicy::ByCondition | HrMaxPolicy::UkPractice);
    let rates: Vec<HeartRate> = stages
        .iter()
        .map(|stage| HeartRate::bpm(stage.hr_bpm))
        .collect();
    let readings = step_test::StepReadings {
        step_height_m,
        rates: &rates,
        costs: step_test::StageCosts::Equation,
        peak: peak.rate,
        peak_fits_medicine: fits,
    };
    let (found, doubt) = match step_test::estimate(&readings) {
        Err(why @ step_test::NoStepEstimate::PeakNotAboveStages) => {
            let held = step_test::held_at_peak(&readings).map_err(|why| refuse(why.word()))?;
            (held, Some(format!("{}: not used", why.word())))
        }
        other => (other.map_err(|why| refuse(why.word()))?, None),
    };
    let mets = found.peak.to_mets();
    let mut because = STEP_ESTIMATE
        .because(
            Value::Number(mets.to_mets(), "METs"),
            "Estimated from the step test, not measured.",
        )
        .working(format!(
            "{} x {} + {} = {} mL/kg/min; / 3.5 = {} METs",
            short(found.slope),
            short(peak.rate.to_bpm()),
            short(found.intercept),
            short(found.peak.to_ml_per_kg_min()),
            short(mets.to_mets())
        ))
        .also_from(&peak.because.sources, peak.because.tag)
        .with(Named::number("step_height_m", step_height_m, "m"))
        .with(Named::number("peak_hr_bpm", peak.rate.to_bpm(), "bpm"))
        .unsure("for one person it may be out by 3.9 mL/kg/min (1.1 METs), and more through the predicted peak")
        .changes_with("an exercise test, or the step test again");
    for stage in stages {
        because = because.with(Named::number("stage_hr_bpm", stage.hr_bpm, "bpm"));
    }
    Ok(Reading {
        mets,
        error_mets: Some(step_test::SEE_ML_PER_KG_MIN / 3.5),
        measured: false,
        because,
        cautions: found.cautions.into_iter().map(str::to_owned).collect(),
        doubt,
    })
}
