//! What is told of sessions that were done alone: plausible diaries near the prediction.

use super::story::Sessions;
use anyhow::Result;
use jiff::civil::Date;
use rehab::assessment::Effort;
use rehab::diary::{
    DiaryEntry, DiarySymptom, JointPain, Pulse, PulseMethod, PulseMoment, SymptomKind,
};
use rehab::programme::{SegmentKind, Stage};
use rehab::service::Service;

/// One session as it is told: the day, and the number of the session in its row.
pub(super) fn entry(
    case: &str,
    service: &Service,
    stage: &Stage,
    told: &Sessions,
    (date, number): (Date, usize),
) -> Result<DiaryEntry> {
    let planned = stage
        .segments
        .iter()
        .filter(|one| {
            matches!(
                one.kind,
                SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
            )
        })
        .count() as u8;
    let symptom = told.symptom.as_ref().map(|symptom| {
        Ok::<_, rehab::UnknownWord>(DiarySymptom {
            kind: SymptomKind::parse(&symptom.kind)?,
            usual: symptom.usual,
            score: symptom.score,
            nitrate_used: symptom.nitrate_used,
        })
    });
    Ok(DiaryEntry {
        id: format!("{}-{date}", case),
        date,
        stage: Some(stage.number),
        stations_planned: Some(planned),
        stations_done: Some(told.done.unwrap_or(planned).min(planned)),
        effort: Some(Effort {
            scale: service.effort_scale,
            value: told.effort,
        }),
        symptoms: Some(symptom.transpose()?.into_iter().collect()),
        pulses: if told.pulse {
            pulses(stage, number)
        } else {
            Vec::new()
        },
        joint_pain: told.joint.as_ref().map(|joint| JointPain {
            during: Some(joint.during),
            worse_next_morning: Some(joint.worse_next_morning),
        }),
        eased: Vec::new(),
        rested_s: None,
        stopped_because: told.stopped.clone(),
        medicine_change: told.medicine_change.clone(),
        weight_kg: told.weight,
        pressure: None,
        minutes: Some(stage.minutes().round()),
        note: told.session_note.clone(),
    })
}

/// Pulses near the prediction: before, and at the end of the third and last brisk turn; each session a little aside.
fn pulses(stage: &Stage, number: usize) -> Vec<Pulse> {
    const ASIDE: [f64; 7] = [1.0, -3.0, 2.0, 0.0, -2.0, 3.0, -1.0];
    let aside = ASIDE.get(number % ASIDE.len()).copied().unwrap_or(0.0);
    let stations = stage.segments.iter().filter(|one| {
        matches!(
            one.kind,
            SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
        )
    });
    let brisk: Vec<(u8, f64)> = stations
        .enumerate()
        .filter(|(_, one)| one.kind == SegmentKind::Cardiovascular)
        .filter_map(|(place, one)| Some((place as u8 + 1, one.predicted_hr?)))
        .collect();
    let wanted = [brisk.get(2).or(brisk.first()), brisk.last()];
    let mut list: Vec<Pulse> = Vec::new();
    for (station, bpm) in wanted.into_iter().flatten() {
        let at = PulseMoment::EndOfStation(*station);
        if list.iter().all(|pulse| pulse.at != at) {
            // A count over fifteen seconds comes in steps of four.
            let bpm = ((bpm + aside) / 4.0).round() * 4.0;
            list.push(Pulse {
                at,
                bpm,
                how: Some(PulseMethod::Count15s),
            });
        }
    }
    list
}
