//! The chain from record to limits: worked cases, clear answers and both sides of what decides.

mod adapted;
mod before;
mod day;
mod load;
mod pulse;
mod record;
mod tested;
mod warning_signs;
mod watched;
mod whatever_the_set;

use super::assess;
use crate::assessed::{Assessed, CeilingKind, Decision};
use crate::assessment::{
    Agreement, Case, CaseId, Device, Event, EventKind, Examination, ExaminationSymptom,
    ExerciseTest, History, HistoryItem, Medicine, Pacemaker, PacingMode, Pressure,
    PressureResponse, Procedure, ProcedureKind, Rhythm, Sex, StatusKind, Technique, Test,
    TestResult, WalkingAid, Watched,
};
use crate::evidence::Weight;
use crate::service::Service;
use jiff::civil::{Date, date};

const ON: Date = date(2026, 11, 25);

/// An invented person on whom everything needed is known and nothing holds: 75, stent in August, bisoprolol.
fn fenwick() -> Case {
    let mut case = Case::unknown(CaseId("fenwick-1951".to_owned()));
    case.person.born = Some(date(1951, 5, 17));
    case.person.sex = Some(Sex::Female);
    case.events.push(Event {
        kind: EventKind::MyocardialInfarction,
        date: Some(date(2026, 8, 30)),
        procedures: vec![Procedure {
            kind: ProcedureKind::Stent,
            date: Some(date(2026, 8, 30)),
            access: Some("wrist".to_owned()),
        }],
        complicated: Some(false),
        residual_disease: Some(false),
    });
    case.heart.ejection_fraction_pct = Some(52.0);
    case.heart.rhythm = Some(Rhythm::Sinus);
    case.history = History {
        present: vec![HistoryItem::KneeOsteoarthritis],
        rest_absent: Some("letter of 2026-10-01 and by asking".to_owned()),
        ..History::unasked()
    };
    case.medicines.push(Medicine {
        name: "bisoprolol".to_owned(),
        dose: Some("2.5 mg".to_owned()),
        since: Some(date(2026, 8, 31)),
        until: None,
        times: None,
        as_needed: None,
    });
    case.nitrate.prescribed = Some(true);
    case.nitrate.in_date = Some(true);
    case.nitrate.taught = Some(true);
    case.function.aid = Some(WalkingAid::None);
    case.function.falls_12_months = Some(0);
    case.examinations.push(Examination {
        nyha: Some(1),
        resting_hr_bpm: Some(64.0),
        pulse_regular: Some(true),
        resting_bp: Some(pressure(128.0, 74.0)),
        standing_bp: Some(pressure(122.0, 72.0)),
        weight_kg: Some(71.5),
        symptoms: Some(Vec::new()),
        ..Examination::on(date(2026, 11, 12))
    });
    case.home.alone_when_exercising = Some(true);
    case.home.telephone = Some(true);
    case
}

fn pressure(systolic_mmhg: f64, diastolic_mmhg: f64) -> Pressure {
    Pressure {
        systolic_mmhg,
        diastolic_mmhg,
    }
}

fn exercise_test(exercise: ExerciseTest) -> Test {
    Test {
        date: Some(date(2026, 10, 1)),
        place: None,
        aid: None,
        effort: None,
        beta_blocked: Some(true),
        result: TestResult::Exercise(exercise),
    }
}

fn clean_test(peak_mets: f64, peak_hr_bpm: f64) -> ExerciseTest {
    ExerciseTest {
        peak_hr_bpm: Some(peak_hr_bpm),
        peak_mets: Some(peak_mets),
        symptoms: Some(Vec::new()),
        arrhythmia: Some(false),
        st_depression_mm: Some(0.0),
        bp_response: Some(PressureResponse::Normal),
        ..ExerciseTest::unknown()
    }
}

fn on(case: &Case, day: Date) -> Assessed {
    assess(case, &Service::cautious(), day)
}

fn today(case: &Case) -> Assessed {
    on(case, ON)
}

fn changed(change: impl FnOnce(&mut Case)) -> Assessed {
    let mut case = fenwick();
    change(&mut case);
    today(&case)
}

fn speaks(assessed: &Assessed, rule: &str) -> bool {
    assessed
        .screening
        .findings
        .iter()
        .chain(&assessed.findings)
        .any(|one| one.rule.0 == rule)
}

fn asks(assessed: &Assessed, rule: &str) -> Option<Weight> {
    assessed
        .to_find_out
        .iter()
        .find(|one| one.rule.0 == rule)
        .map(|one| one.weight)
}

fn band(assessed: &Assessed) -> Option<(f64, f64)> {
    assessed
        .limits
        .hr
        .map(|band| (band.low.to_bpm(), band.high.to_bpm()))
}

fn ceiling(assessed: &Assessed) -> Option<(f64, CeilingKind)> {
    assessed
        .limits
        .ceiling
        .map(|ceiling| (ceiling.rate.to_bpm(), ceiling.kind))
}

fn watched(day: Date) -> Watched {
    Watched {
        date: day,
        exercise: "march".to_owned(),
        variant: "standing".to_owned(),
        effort: None,
        hr_bpm: None,
        bp: None,
        technique: Technique::Good,
        support: None,
        symptoms: None,
    }
}

fn walk(distance_m: f64, course_m: Option<f64>) -> Test {
    Test {
        aid: Some(WalkingAid::None),
        result: TestResult::SixMinuteWalk {
            distance_m,
            course_m,
        },
        ..exercise_test(ExerciseTest::unknown())
    }
}
