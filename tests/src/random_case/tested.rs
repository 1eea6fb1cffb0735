//! Tests, what was watched, and what hurts.

use super::draw::{Draw, Kind};
use super::{RANDOM_DAY, days_ago};
use rehab::assessment::{
    Case, Effort, EffortScale, ExerciseTest, ExerciseTestSymptom, Joint, Pain, Pressure,
    PressureResponse, StepStage, Support, Technique, Test, TestPlace, TestResult, WalkingAid,
    Watched,
};
use rehab::diary::SymptomKind;

pub(super) fn draw(draw: &mut Draw, kind: Kind, case: &mut Case) {
    let fit = draw.about(1.0, 0.3, 0.01).clamp(0.45, 1.7) * f64::from(140 - kind.age) / 70.0;
    let makers: [fn(&mut Draw, Kind, f64) -> TestResult; 12] = [
        |draw, kind, fit| TestResult::Exercise(exercise(draw, kind, fit)),
        |draw, _, fit| TestResult::TwoMinuteStep {
            count: (80.0 * fit + draw.number(-15.0, 15.0, 1.0))
                .round()
                .clamp(20.0, 150.0),
        },
        |draw, _, fit| TestResult::SixMinuteWalk {
            distance_m: (400.0 * fit + draw.number(-60.0, 60.0, 1.0))
                .round()
                .clamp(80.0, 760.0),
            course_m: if draw.chance(0.8) {
                Some(30.0)
            } else {
                draw.known(0.5, 20.0)
            },
        },
        |draw, _, fit| TestResult::ShuttleWalk {
            distance_m: (36.0 * fit + draw.number(-8.0, 8.0, 1.0))
                .round()
                .clamp(3.0, 102.0)
                * 10.0,
            course_m: if draw.chance(0.85) {
                Some(10.0)
            } else {
                draw.known(0.5, 9.0)
            },
        },
        step,
        |draw, _, fit| TestResult::ChairStand30s {
            count: (13.0 * fit + draw.number(-3.0, 3.0, 1.0))
                .round()
                .clamp(0.0, 35.0),
        },
        |draw, _, fit| TestResult::SitToStand1Min {
            count: (26.0 * fit + draw.number(-5.0, 5.0, 1.0))
                .round()
                .clamp(3.0, 60.0),
        },
        |draw, _, fit| TestResult::FiveSitToStand {
            seconds: (12.0 / fit + draw.number(-2.0, 3.0, 0.1)).clamp(4.0, 60.0),
        },
        |draw, _, fit| TestResult::TimedUpAndGo {
            seconds: (9.5 / fit + draw.number(-1.5, 3.0, 0.1)).clamp(4.0, 60.0),
        },
        |draw, _, fit| TestResult::Gait4m {
            seconds: (3.8 / fit + draw.number(-0.5, 1.0, 0.1)).clamp(1.8, 20.0),
        },
        |draw, _, fit| TestResult::ActivityStatus {
            yes: (1..=12)
                .filter(|_| draw.chance((0.6 * fit).clamp(0.1, 1.0)))
                .collect(),
        },
        mood,
    ];
    let often = [
        0.35, 0.15, 0.3, 0.2, 0.15, 0.3, 0.15, 0.2, 0.3, 0.25, 0.3, 0.5,
    ];
    for (make, often) in makers.into_iter().zip(often) {
        while draw.chance(often * kind.thorough) {
            let result = make(draw, kind, fit);
            case.tests.push(with_conditions(draw, kind, case, result));
            if draw.chance(0.7) {
                break;
            }
        }
    }
    watched(draw, case);
    pains(draw, case);
}

fn with_conditions(draw: &mut Draw, kind: Kind, case: &Case, result: TestResult) -> Test {
    // Three in four tests were taken since the newest event, the others at any time.
    let newest = case.events.iter().filter_map(|event| event.date).max();
    let since = newest.map_or(100, |date| rehab::calendar::days_between(date, RANDOM_DAY));
    let most = if draw.chance(0.75) { since } else { 200 };
    let date = days_ago(draw.whole(0, most.max(0)));
    let place = draw.pick(TestPlace::ALL);
    let aid = case.function.aid.unwrap_or(WalkingAid::None);
    let blocked = case.medicines.iter().any(|one| one.name == "bisoprolol");
    let effort = effort(draw);
    Test {
        date: draw.known(kind.thorough.max(0.9), date),
        place: draw.known(kind.thorough, place),
        aid: draw.known(kind.thorough, aid),
        effort: draw.known(0.6 * kind.thorough, effort),
        beta_blocked: draw.known(kind.thorough, blocked),
        result,
    }
}

fn effort(draw: &mut Draw) -> Effort {
    if draw.chance(0.8) {
        Effort {
            scale: EffortScale::ZeroToTen,
            value: draw.number(1.0, 8.0, 1.0),
        }
    } else {
        Effort {
            scale: EffortScale::SixToTwenty,
            value: draw.number(8.0, 17.0, 1.0),
        }
    }
}

fn exercise(draw: &mut Draw, kind: Kind, fit: f64) -> ExerciseTest {
    let known = kind.thorough;
    let peak_mets = (6.2 * fit + draw.number(-1.0, 1.0, 0.1)).clamp(1.8, 14.0);
    let peak_mets = (peak_mets * 10.0).round() / 10.0;
    let peak_hr = draw.about(128.0, 22.0, 1.0).clamp(82.0, 185.0);
    let ischaemic = draw.chance(0.18);
    let st = if ischaemic {
        draw.number(0.5, 3.0, 0.5)
    } else {
        0.0
    };
    let mut symptoms = Vec::new();
    if ischaemic && draw.chance(0.6) {
        symptoms.push(ExerciseTestSymptom::Angina);
    }
    if draw.chance(0.08) {
        symptoms.push(draw.pick(&[
            ExerciseTestSymptom::Breathlessness,
            ExerciseTestSymptom::Dizziness,
            ExerciseTestSymptom::Other,
        ]));
    }
    let symptom_mets = (peak_mets * draw.number(0.5, 1.0, 0.05) * 10.0).round() / 10.0;
    let onset = (peak_hr * draw.number(0.75, 1.0, 0.01)).round();
    let response = if draw.chance(0.9) {
        PressureResponse::Normal
    } else {
        draw.pick(&[
            PressureResponse::Flat,
            PressureResponse::Fall,
            PressureResponse::FallAfter,
        ])
    };
    let (arrhythmia, slow, recovery) = (draw.chance(0.03), draw.chance(0.05), draw.chance(0.03));
    let fall = draw.number(4.0, 32.0, 1.0);
    let mode = draw.pick(&["treadmill", "cycle"]);
    let any = !symptoms.is_empty();
    ExerciseTest {
        peak_hr_bpm: draw.known(known.max(0.8), peak_hr),
        peak_mets: draw.known(known.max(0.8), peak_mets),
        symptoms: draw.known(known, symptoms),
        symptom_mets: if any {
            draw.known(0.7, symptom_mets.max(1.0))
        } else {
            None
        },
        symptom_in_recovery: draw.known(0.6 * known, recovery),
        arrhythmia: draw.known(known, arrhythmia),
        ischaemia_hr_bpm: if ischaemic {
            draw.known(0.7, onset)
        } else {
            None
        },
        st_depression_mm: draw.known(known, st),
        bp_response: draw.known(known, response),
        chronotropic_incompetence: draw.known(0.6 * known, slow),
        hr_recovery_1min_bpm: draw.known(0.5 * known, fall),
        mode: draw.known(known, mode.to_owned()),
    }
}

fn step(draw: &mut Draw, _: Kind, fit: f64) -> TestResult {
    let first = draw.number(72.0, 92.0, 1.0);
    let rise = (11.0 / fit).clamp(5.0, 18.0);
    let stages = (0..draw.whole(1, 5))
        .map(|stage| StepStage {
            hr_bpm: (first + rise * f64::from(stage) + draw.number(-2.0, 2.0, 1.0)).round(),
            // Possible on either scale: that of the test's own effort is meant.
            effort: draw.known(0.7, f64::from(6 + stage)),
        })
        .collect();
    TestResult::Step {
        step_height_m: draw.pick(&[0.15, 0.15, 0.2, 0.25, 0.17]),
        stages,
    }
}

fn mood(draw: &mut Draw, kind: Kind, _: f64) -> TestResult {
    let mut answers = |count: usize, most: i32| -> Vec<u8> {
        (0..count)
            .map(|_| {
                let high = if draw.chance(0.1 + kind.unwell) {
                    most
                } else {
                    1
                };
                draw.whole(0, high).unsigned_abs() as u8
            })
            .collect()
    };
    let (nine, seven, five) = (answers(9, 3), answers(7, 3), answers(5, 5));
    match draw.whole(0, 2) {
        0 => TestResult::Phq9 { answers: nine },
        1 => TestResult::Gad7 { answers: seven },
        _ => TestResult::Who5 { answers: five },
    }
}

const DONE: &[(&str, &str)] = &[
    ("march", "free"),
    ("sit-to-stand", "arms-of-chair"),
    ("seated-march", "steady"),
];

fn watched(draw: &mut Draw, case: &mut Case) {
    for _ in 0..draw.whole(0, 4) {
        let (exercise, variant) = draw.pick(DONE);
        let date = days_ago(draw.whole(0, 40));
        let effort = effort(draw);
        let rate = draw.number(70.0, 118.0, 1.0);
        let pressure = Pressure {
            systolic_mmhg: draw.number(120.0, 185.0, 1.0),
            diastolic_mmhg: draw.number(60.0, 95.0, 1.0),
        };
        let support = draw.pick(Support::ALL);
        case.watched.push(Watched {
            date,
            exercise: exercise.to_owned(),
            variant: variant.to_owned(),
            effort: draw.known(0.9, effort),
            hr_bpm: draw.known(0.7, rate),
            bp: draw.known(0.3, pressure),
            technique: draw.pick(&[
                Technique::Good,
                Technique::Good,
                Technique::NeededHelp,
                Technique::NotForThem,
            ]),
            support: draw.known(0.7, support),
            symptoms: felt(rate),
        });
    }
}

/// What was felt, by the rate drawn, so that nothing drawn after it changes.
fn felt(rate: f64) -> Option<Vec<SymptomKind>> {
    match rate {
        rate if rate > 117.0 => Some(vec![SymptomKind::ChestDiscomfort]),
        rate if rate > 116.0 => Some(vec![SymptomKind::Dizziness]),
        rate if rate > 110.0 => Some(Vec::new()),
        _ => None,
    }
}

fn pains(draw: &mut Draw, case: &mut Case) {
    for joint in Joint::ALL {
        if draw.chance(0.08) {
            let date = days_ago(draw.whole(0, 60));
            let (during, worse) = (draw.number(0.0, 9.0, 1.0), draw.chance(0.2));
            case.pains.push(Pain {
                joint: Some(*joint),
                during: draw.known(0.8, during),
                settled_2h: None,
                worse_next_morning: draw.known(0.8, worse),
                date: draw.known(0.8, date),
                exercise: draw.known(0.4, "sit-to-stand".to_owned()),
            });
        }
    }
}
