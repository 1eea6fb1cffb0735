//! The answers as diary entries: one for each day done, and one report of the contact itself.

use super::days::page_on;
use super::{Answers, Asking, DayTold, Fall};
use jiff::civil::Date;
use rehab::assessment::Effort;
use rehab::calendar::days_after;
use rehab::diary::{
    DiaryEntry, DiarySymptom, JointPain, NOT_TO_THE_END, Pulse, PulseMoment, SymptomKind,
};

/// The answers as entries. `contact` is a word that no other contact of the case has; it begins every id.
///
/// The effort at the hardest moment of all days stands at each day, so that no day is taken for easier than was told.
/// What was told about the time as a whole stands in a report of the contact's day, which is no session.
pub fn entries(asking: &Asking<'_>, answers: &Answers, contact: &str) -> Vec<DiaryEntry> {
    let days = answers.days.as_deref().unwrap_or_default();
    let mut list: Vec<DiaryEntry> = days
        .iter()
        .map(|day| session(asking, answers, contact, day))
        .collect();
    let mut report = report(asking, answers, contact);
    // The pulses are those of the last session; where no day of it is told, the report keeps them.
    let last = list.iter_mut().max_by_key(|entry| entry.date);
    last.unwrap_or(&mut report).pulses = pulses(answers);
    if let Some(kg) = answers.weight_before_kg {
        let date = days_after(asking.on, -3);
        let mut weighed = empty(format!("{contact}-weight-{date}"), date);
        weighed.symptoms = answers.heart.as_ref().map(|_| Vec::new());
        weighed.weight_kg = Some(kg);
        list.push(weighed);
    }
    if answers.heart.is_none() && report.symptoms.is_some() {
        // What was told without being asked stands by itself, so that the questions left out still show as left out.
        let mut told = empty(format!("{contact}-told"), asking.on);
        told.symptoms = report.symptoms.take();
        list.push(told);
    }
    list.push(report);
    list
}

fn empty(id: String, date: Date) -> DiaryEntry {
    DiaryEntry {
        id,
        date,
        stage: None,
        stations_planned: None,
        stations_done: None,
        effort: None,
        symptoms: None,
        pulses: Vec::new(),
        joint_pain: None,
        eased: Vec::new(),
        rested_s: None,
        stopped_because: None,
        medicine_change: None,
        weight_kg: None,
        pressure: None,
        // No minutes: news, but no session.
        minutes: Some(0.0),
        note: None,
    }
}

fn session(asking: &Asking<'_>, answers: &Answers, contact: &str, day: &DayTold) -> DiaryEntry {
    let effort = answers.effort.map(|value| Effort {
        scale: asking.assessed.limits.effort_scale,
        value,
    });
    let stage = answers.stage.or_else(|| page_on(asking, day.date));
    // A day done whole is every turn of its page; of a part it is not told how many.
    let turns = stage
        .and_then(|number| asking.course.signed_stage(number))
        .filter(|_| !day.part)
        .and_then(|stage| u8::try_from(stage.turns()).ok());
    DiaryEntry {
        stage,
        stations_planned: turns,
        stations_done: turns,
        effort,
        symptoms: answers.heart.as_ref().map(|_| Vec::new()),
        stopped_because: day.part.then(|| NOT_TO_THE_END.to_owned()),
        minutes: None,
        ..empty(format!("{contact}-{}", day.date), day.date)
    }
}

fn pulses(answers: &Answers) -> Vec<Pulse> {
    let told = [
        (PulseMoment::Before, answers.pulse_before_bpm),
        (PulseMoment::AfterCoolDown, answers.pulse_after_bpm),
    ];
    let pulse = |(at, bpm): (PulseMoment, Option<f64>)| {
        let bpm = bpm?;
        Some(Pulse { at, bpm, how: None })
    };
    told.into_iter().filter_map(pulse).collect()
}

fn report(asking: &Asking<'_>, answers: &Answers, contact: &str) -> DiaryEntry {
    let joints = &answers.joints;
    let pain = JointPain {
        during: joints.during,
        worse_next_morning: joints.worse,
    };
    let told = pain.during.is_some() || pain.worse_next_morning.is_some();
    let change = answers.medicine_change.trim();
    let changed = match (answers.has_medicine_change(), change.is_empty()) {
        (Some(true), true) => Some(asking.words.get("call.answer.something").to_owned()),
        (Some(true), false) => Some(change.to_owned()),
        _ => None,
    };
    DiaryEntry {
        symptoms: symptoms(answers),
        joint_pain: told.then_some(pain),
        eased: joints.ease.iter().cloned().collect(),
        medicine_change: changed,
        weight_kg: answers.weight_kg,
        note: own_words(asking, answers),
        ..empty(format!("{contact}-report"), asking.on)
    }
}

/// `None` only where nothing of it was asked: a fall or a used spray that was told is never lost.
fn symptoms(answers: &Answers) -> Option<Vec<DiarySymptom>> {
    let plain = |kind: SymptomKind| DiarySymptom {
        kind,
        usual: None,
        score: None,
        nitrate_used: None,
    };
    let mut list: Vec<DiarySymptom> = answers
        .heart
        .iter()
        .flatten()
        .map(|told| DiarySymptom {
            usual: told.usual,
            ..plain(told.sign.kind())
        })
        .collect();
    if let Some(used) = answers.spray.used {
        let chest = list
            .iter_mut()
            .find(|symptom| symptom.kind == SymptomKind::ChestDiscomfort);
        match chest {
            Some(chest) => chest.nitrate_used = Some(used),
            // What it was used for was not told, and nothing is invented: the use alone is enough to stop.
            None if used => list.push(DiarySymptom {
                nitrate_used: Some(true),
                ..plain(SymptomKind::Other)
            }),
            None => {}
        }
    }
    if answers.low_sugar == Some(true) {
        list.push(plain(SymptomKind::LowSugar));
    }
    match answers.fall {
        Some(Fall::Fallen) => list.push(plain(SymptomKind::Fall)),
        // Nearly is not a fall, but it is a change to be asked about.
        Some(Fall::Nearly) => list.push(plain(SymptomKind::Other)),
        _ => {}
    }
    (answers.heart.is_some() || !list.is_empty()).then_some(list)
}

fn own_words(asking: &Asking<'_>, answers: &Answers) -> Option<String> {
    let told = [
        answers.open.clone(),
        answers.joints.said.clone(),
        super::note::sleep(asking, answers).unwrap_or_default(),
        super::note::mood(asking, answers).unwrap_or_default(),
        answers.own.clone(),
    ];
    let parts: Vec<&str> = told
        .iter()
        .map(|text| text.trim())
        .filter(|text| !text.is_empty())
        .collect();
    (!parts.is_empty()).then(|| parts.join(" / "))
}
