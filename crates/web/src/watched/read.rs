//! The form of a watched session into what was watched.

use crate::casefile::CaseFile;
use crate::typed::{Typed, Wrong};
use handouts::call::HeartSign;
use rehab::assessment::{Effort, EffortScale, Pressure, Support, Technique, Watched};
use rehab::course::{Channel, Happening, TeachBack, WatchedSession};
use rehab::diary::{DiaryEntry, DiarySymptom, Pulse, PulseMoment, SymptomKind};
use rehab::programme::{Phase, SegmentKind, Stage, VariantRef};

/// Longest note.
const NOTE: usize = 4000;

/// One thing to watch, in the order of the session.
pub(super) struct Turn {
    /// Place in the list, from 1; its fields end with it.
    pub(super) number: usize,
    pub(super) doing: VariantRef,
    pub(super) place: String,
    pub(super) phase: Phase,
    pub(super) per_minute: Option<f64>,
    pub(super) seconds: u32,
    /// Number in the round, from 1.
    pub(super) station: Option<u8>,
    /// Whether pulse, pressure, effort and support are asked: in the round, and on a page without one in the brisk part of
    /// the warm-up, because somebody watches that page too.
    pub(super) measured: bool,
}

/// Everything to watch of a page, each variant once, in the order of the session.
pub(super) fn turns(stage: &Stage) -> Vec<Turn> {
    let mut list: Vec<Turn> = Vec::new();
    let mut stations = 0;
    for segment in &stage.segments {
        let Some(doing) = &segment.doing else {
            continue;
        };
        let in_round = segment.phase == Phase::Conditioning;
        let is_station = matches!(
            segment.kind,
            SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
        );
        stations += u8::from(in_round && is_station);
        let station = in_round.then_some(stations.max(1));
        if let Some(turn) = list.iter_mut().find(|turn| turn.doing == *doing) {
            turn.station = turn.station.or(station);
            turn.measured |= station.is_some();
            continue;
        }
        list.push(Turn {
            number: list.len() + 1,
            doing: doing.clone(),
            place: segment.place_name.clone(),
            phase: segment.phase,
            per_minute: segment.per_minute,
            seconds: segment.duration_ms / 1000,
            station,
            measured: station.is_some(),
        });
    }
    if list.iter().all(|turn| !turn.measured) {
        measure_warm_up(stage, &mut list);
    }
    list
}

/// On a page without a round: what raises the pulse in its warm-up, else the last of the warm-up.
fn measure_warm_up(stage: &Stage, list: &mut [Turn]) {
    let raises = |turn: &Turn| {
        let mut segments = stage.segments.iter();
        segments.any(|one| {
            one.doing.as_ref() == Some(&turn.doing) && one.kind == SegmentKind::PulseRaising
        })
    };
    for turn in list.iter_mut() {
        turn.measured = turn.phase == Phase::WarmUp && raises(turn);
    }
    if list.iter().all(|turn| !turn.measured) {
        let mut warm_up = list.iter_mut();
        if let Some(last) = warm_up.rfind(|turn| turn.phase == Phase::WarmUp) {
            last.measured = true;
        }
    }
}

pub(super) fn session(
    file: &CaseFile,
    stage: &Stage,
    felt: Option<&[DiarySymptom]>,
    typed: &Typed,
    wrong: &mut Wrong,
) -> WatchedSession {
    let symptoms: Option<Vec<SymptomKind>> =
        felt.map(|felt| felt.iter().map(|one| one.kind).collect());
    let stations: Vec<Watched> = turns(stage)
        .iter()
        .filter_map(|turn| station(file, turn, typed, wrong))
        .map(|one| Watched {
            symptoms: symptoms.clone(),
            ..one
        })
        .collect();
    if stations.is_empty() && wrong.is_empty() {
        wrong.say(
            "save",
            "nothing is marked as watched yet; say of at least one turn how it looked",
        );
    }
    WatchedSession {
        date: file.on,
        stations,
        shown: TeachBack::ALL
            .iter()
            .copied()
            .filter(|one| typed.has("shown", one.word()))
            .collect(),
        note: wrong.words(typed, "note", NOTE),
    }
}

fn station(file: &CaseFile, turn: &Turn, typed: &Typed, wrong: &mut Wrong) -> Option<Watched> {
    let field = |name: &str| format!("{name}-{}", turn.number);
    let scale = file.assessed.limits.effort_scale;
    let bound = match scale {
        EffortScale::ZeroToTen => "effort_0_10",
        EffortScale::SixToTwenty => "effort_6_20",
    };
    let effort = wrong
        .number(typed, &field("effort"), bound)
        .map(|value| Effort { scale, value });
    let hr_bpm = wrong.number(typed, &field("pulse"), "hr_bpm");
    let bp = pressure(typed, &field("pressure"), wrong);
    let support = Support::parse(typed.get(&field("support"))).ok();
    let Ok(technique) = Technique::parse(typed.get(&field("technique"))) else {
        if effort.is_some() || hr_bpm.is_some() || bp.is_some() || support.is_some() {
            wrong.say(
                &field("technique"),
                "something was taken here; say how it looked too, or take it away",
            );
        }
        return None;
    };
    Some(Watched {
        date: file.on,
        exercise: turn.doing.exercise.clone(),
        variant: turn.doing.variant.clone(),
        effort,
        hr_bpm,
        bp,
        technique,
        support,
        symptoms: None,
    })
}

/// "128/74": swapped or impossible values are refused.
fn pressure(typed: &Typed, name: &str, wrong: &mut Wrong) -> Option<Pressure> {
    let text = typed.get(name);
    if text.is_empty() {
        return None;
    }
    let parts: Vec<f64> = text
        .split(['/', ' ', '-'])
        .filter(|part| !part.is_empty())
        .filter_map(|part| part.parse().ok())
        .collect();
    let [systolic, diastolic] = parts[..] else {
        wrong.say(
            name,
            format!("'{text}' is not a pressure; write it as 128/74"),
        );
        return None;
    };
    for (bound, value) in [("systolic_mmhg", systolic), ("diastolic_mmhg", diastolic)] {
        if let Err(error) = rehab::quantity::check_bounds(bound, value) {
            wrong.say(name, error.to_string());
            return None;
        }
    }
    if systolic <= diastolic {
        wrong.say(
            name,
            format!("{systolic} over {diastolic} is the wrong way round; write the higher first"),
        );
        return None;
    }
    Some(Pressure {
        systolic_mmhg: systolic,
        diastolic_mmhg: diastolic,
    })
}

/// What was felt and measured during it is news like any other: it is reviewed, and what is red stops.
pub(super) fn news(
    file: &CaseFile,
    stage: &Stage,
    watched: &WatchedSession,
    symptoms: Option<Vec<DiarySymptom>>,
) -> Option<Happening> {
    let pulses = pulses(stage, watched);
    let efforts = watched.stations.iter().filter_map(|one| one.effort);
    let effort = efforts.reduce(|a, b| if b.value > a.value { b } else { a });
    if symptoms.is_none() && pulses.is_empty() && effort.is_none() {
        return None;
    }
    Some(Happening::Diary {
        channel: Channel::Visit,
        entries: vec![DiaryEntry {
            id: format!("watched-{}", file.next_position()),
            date: file.on,
            stage: Some(stage.number),
            stations_planned: None,
            stations_done: None,
            effort,
            symptoms,
            pulses,
            joint_pain: None,
            eased: Vec::new(),
            rested_s: None,
            stopped_because: None,
            medicine_change: None,
            weight_kg: None,
            pressure: None,
            // A session under somebody's eyes is not one done alone: it counts towards no page.
            minutes: Some(0.0),
            note: None,
        }],
    })
}

/// The pulses at the ends of turns, by their number in the round.
fn pulses(stage: &Stage, watched: &WatchedSession) -> Vec<Pulse> {
    let turns = turns(stage);
    let of = |station: &Watched| {
        let turn = turns.iter().find(|turn| {
            turn.doing.exercise == station.exercise && turn.doing.variant == station.variant
        })?;
        Some(Pulse {
            at: PulseMoment::EndOfStation(turn.station?),
            bpm: station.hr_bpm?,
            how: None,
        })
    };
    watched.stations.iter().filter_map(of).collect()
}

/// What was felt; nothing marked is not said.
pub(super) fn felt(typed: &Typed, wrong: &mut Wrong) -> Option<Vec<DiarySymptom>> {
    let told: Vec<HeartSign> = HeartSign::ALL
        .into_iter()
        .filter(|sign| typed.has("felt", sign.word()))
        .collect();
    let none = typed.has("felt", "none");
    if none && !told.is_empty() {
        wrong.say(
            "felt",
            "'None' is marked and a sign too; take away the one that is not so",
        );
    }
    if !none && told.is_empty() {
        return None;
    }
    let symptoms = told.into_iter().map(|sign| DiarySymptom {
        kind: sign.kind(),
        usual: None,
        score: None,
        nitrate_used: None,
    });
    Some(symptoms.collect())
}
