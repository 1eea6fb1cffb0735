//! What follows from limits that are no looser: a programme that the milder record would have allowed too, and a review
//! that proposes no further page.

use rehab::assessed::{Assessed, CeilingKind};
use rehab::assessment::{Case, Effort};
use rehab::calendar::days_after;
use rehab::diary::{DiaryEntry, DiarySymptom, Pulse, PulseMoment, SymptomKind};
use rehab::programme::{Choices, Exercises, SegmentKind, Stage, plan_from};
use rehab::review::{Contact, ContactKind, Review, ReviewInput, review};
use rehab::service::Service;
use tests::{Draw, RANDOM_DAY};

/// Rounding of a mean of METs.
const ROUNDING: f64 = 1e-6;
/// The rung up to which a programme is looked at, and the one a review is for.
const STAGE: u16 = 3;

/// What of the severer person's programme the milder record would not have allowed.
pub(crate) fn looser_programme(
    before: &Assessed,
    severer: (&Case, &Assessed),
    service: &Service,
    exercises: &Exercises,
) -> (usize, Vec<String>) {
    let (case, after) = severer;
    let choices = Choices {
        stage: STAGE,
        ..Choices::none()
    };
    let (plan, _) = plan_from(case, service, exercises, after.clone(), &choices);
    let mut found = Vec::new();
    for stage in &plan.stages {
        found.extend(
            against(before, case, exercises, stage)
                .into_iter()
                .map(|what| format!("rung {}: {what}", stage.number)),
        );
    }
    (plan.stages.len(), found)
}

fn against(before: &Assessed, case: &Case, exercises: &Exercises, stage: &Stage) -> Vec<String> {
    let limits = &before.limits;
    let mut found = Vec::new();
    let stations = stage.segments.iter().filter(|one| {
        matches!(
            one.kind,
            SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
        )
    });
    let (mut load, mut seconds) = (0.0, 0.0);
    for station in stations {
        load += station.mets * f64::from(station.duration_ms);
        seconds += f64::from(station.duration_ms);
        let doing = station.doing.as_ref();
        let watched = case.watched.iter().any(|one| {
            doing.is_some_and(|doing| {
                (&doing.exercise, &doing.variant) == (&one.exercise, &one.variant)
            })
        });
        if !watched && station.mets > limits.mets_station_high.to_mets() + ROUNDING {
            found.push(format!("a station of {} METs", station.mets));
        }
        let variant = doing
            .and_then(|doing| exercises.find(doing))
            .map(|(_, one)| one);
        if variant.is_some_and(|one| one.balance > limits.balance_max) {
            found.push(format!("a station for better balance: {doing:?}"));
        }
    }
    if seconds > 0.0 && load / seconds > limits.mets.high.to_mets() + ROUNDING {
        found.push(format!("a mean of {} METs", load / seconds));
    }
    let hard = limits
        .ceiling
        .filter(|one| one.kind == CeilingKind::Hard)
        .map(|one| one.rate.to_bpm());
    let peak = stage.predicted.peak_hr;
    if hard.zip(peak).is_some_and(|(hard, peak)| peak > hard) {
        found.push(format!("a pulse of {peak:?} over the ceiling of {hard:?}"));
    }
    found
}

/// Diaries of the last days, now and then with something in them.
fn entries(draw: &mut Draw, assessed: &Assessed) -> Vec<DiaryEntry> {
    let limits = &assessed.limits;
    let calm = draw.chance(0.7);
    (0..4)
        .map(|at| DiaryEntry {
            id: format!("entry-{at}"),
            date: days_after(RANDOM_DAY, -2 - 3 * at),
            stage: Some(STAGE),
            stations_planned: Some(4),
            stations_done: Some(if calm || draw.chance(0.8) { 4 } else { 1 }),
            effort: Some(Effort {
                scale: limits.effort_scale,
                value: limits.effort.low + draw.number(0.0, if calm { 1.0 } else { 3.0 }, 0.5),
            }),
            symptoms: Some(if calm || draw.chance(0.7) {
                Vec::new()
            } else {
                vec![DiarySymptom {
                    kind: draw.pick(SymptomKind::ALL),
                    usual: Some(true),
                    score: None,
                    nitrate_used: None,
                }]
            }),
            pulses: if draw.chance(0.5) {
                vec![Pulse {
                    at: PulseMoment::EndOfStation(3),
                    bpm: draw.number(75.0, 125.0, 1.0),
                    how: None,
                }]
            } else {
                Vec::new()
            },
            joint_pain: None,
            eased: Vec::new(),
            rested_s: None,
            stopped_because: None,
            medicine_change: None,
            weight_kg: None,
            pressure: None,
            minutes: Some(35.0),
            note: None,
        })
        .collect()
}

fn reviewed(case: &Case, service: &Service, assessed: &Assessed, entries: &[DiaryEntry]) -> Review {
    review(&ReviewInput {
        case,
        service,
        assessed,
        stages: &[],
        current_stage: STAGE,
        stage_since: Some(days_after(RANDOM_DAY, -13)),
        given: &[],
        entries,
        heard: &[],
        earlier: &[],
        contacts: &[Contact {
            date: days_after(RANDOM_DAY, -13),
            kind: ContactKind::Visit,
        }],
        keeps_diary: true,
        settled: &[],
        stopped: None,
        on: RANDOM_DAY,
    })
}

/// Whether the review of the same diaries proposes a further page for the severer person; and whether the milder one is
/// given any.
pub(crate) fn looser_review(
    milder: (&Case, &Assessed),
    severer: (&Case, &Assessed),
    service: &Service,
    draw: &mut Draw,
) -> (bool, Option<String>) {
    // What is severer can also answer a question that blocked signing: then what waited for the answer waits no more.
    if milder.1.signing_blocked && !severer.1.signing_blocked {
        return (false, None);
    }
    let entries = entries(draw, milder.1);
    let [before, after] = [milder, severer].map(|(case, assessed)| {
        let proposal = reviewed(case, service, assessed, &entries).proposal;
        (proposal.to_stage.unwrap_or(0), proposal)
    });
    let looser = (after.0 > before.0).then(|| {
        format!(
            "page {} for {:?}, then {} for {:?}",
            before.0,
            before.1.because.first().map(|one| &one.text),
            after.0,
            after.1.because.first().map(|one| &one.text)
        )
    });
    (before.0 > 0, looser)
}
