//! What was said last time, beside each question.

use super::{Asking, Question, plain};
use rehab::calendar::days_between;
use rehab::diary::{DiaryEntry, PulseMoment, SymptomKind};

/// Days before the newest entry that count as last time.
const LAST_TIME_DAYS: i32 = 7;

/// What was said last time to a question; `None` where nothing was.
pub(super) fn said(asking: &Asking<'_>, question: Question) -> Option<String> {
    let newest = before(asking).map(|entry| entry.date).max()?;
    let told: Vec<&DiaryEntry> = before(asking)
        .filter(|entry| days_between(entry.date, newest) < LAST_TIME_DAYS)
        .collect();
    match question {
        Question::Open | Question::Own => told.iter().rev().find_map(|entry| entry.note.clone()),
        Question::Days => Some(sessions(asking, &told)),
        Question::Effort => effort(asking, &told),
        Question::Pulse => pulse(asking, &told),
        Question::Heart => heart(asking, &told),
        Question::Spray => spray(asking, &told),
        Question::Medicines => medicines(&told),
        Question::Weight => weight(asking),
        Question::Sugar | Question::Sleep | Question::Mood => None,
        Question::Falls => falls(asking, &told),
        Question::Joints => joints(asking, &told),
    }
}

fn before<'a>(asking: &Asking<'a>) -> impl Iterator<Item = &'a DiaryEntry> {
    let on = asking.on;
    asking
        .course
        .entries
        .iter()
        .filter(move |entry| entry.date < on)
}

fn sessions(asking: &Asking<'_>, told: &[&DiaryEntry]) -> String {
    let mut days: Vec<_> = told
        .iter()
        .filter(|entry| entry.is_session())
        .map(|entry| entry.date)
        .collect();
    days.sort_unstable();
    days.dedup();
    let count = days.len().to_string();
    match days.len() {
        1 => asking.words.get("call.last.session").to_owned(),
        _ => asking
            .words
            .fill("call.last.sessions", &[("count", &count)]),
    }
}

fn effort(asking: &Asking<'_>, told: &[&DiaryEntry]) -> Option<String> {
    let mut values: Vec<f64> = told
        .iter()
        .filter_map(|entry| Some(entry.effort?.value))
        .collect();
    values.sort_by(f64::total_cmp);
    let (least, most) = (*values.first()?, *values.last()?);
    if least < most {
        let (low, high) = (plain(least), plain(most));
        return Some(
            asking
                .words
                .fill("call.last.between", &[("low", &low), ("high", &high)]),
        );
    }
    Some(format!("{}.", plain(most)))
}

/// Of the newest session that tells a pulse before it or after its cool-down.
fn pulse(asking: &Asking<'_>, told: &[&DiaryEntry]) -> Option<String> {
    let of = |entry: &DiaryEntry| {
        let parts: Vec<String> = entry
            .pulses
            .iter()
            .filter_map(|pulse| {
                let id = match pulse.at {
                    PulseMoment::Before => "call.last.pulse-before",
                    PulseMoment::AfterCoolDown => "call.last.pulse-after",
                    PulseMoment::EndOfStation(_) | PulseMoment::SixtySecondsAfter => return None,
                };
                Some(asking.words.fill(id, &[("value", &plain(pulse.bpm))]))
            })
            .collect();
        (!parts.is_empty()).then(|| (entry.date, parts.join(" ")))
    };
    let newest = told.iter().filter_map(|entry| of(entry));
    newest.max_by_key(|(date, _)| *date).map(|(_, text)| text)
}

fn heart(asking: &Asking<'_>, told: &[&DiaryEntry]) -> Option<String> {
    let known: Vec<_> = told
        .iter()
        .filter_map(|entry| entry.symptoms.as_ref())
        .collect();
    if known.is_empty() {
        return None;
    }
    let mut names: Vec<String> = known
        .iter()
        .flat_map(|symptoms| symptoms.iter())
        .filter(|symptom| symptom.kind != SymptomKind::Fall)
        .map(|symptom| symptom.kind.word().replace('-', " "))
        .collect();
    names.sort();
    names.dedup();
    Some(match names.is_empty() {
        true => format!("{}.", asking.words.get("call.answer.none")),
        false => format!("{}.", names.join(", ")),
    })
}

fn spray(asking: &Asking<'_>, told: &[&DiaryEntry]) -> Option<String> {
    let symptoms: Vec<_> = told
        .iter()
        .filter_map(|entry| entry.symptoms.as_ref())
        .flatten()
        .collect();
    let used = symptoms
        .iter()
        .any(|symptom| symptom.nitrate_used == Some(true));
    let date = match asking.course.case.nitrate.is_in_date(asking.on) {
        Some(true) => "call.last.spray-in-date",
        Some(false) => "call.last.spray-out-of-date",
        None => "call.last.spray-date-not-asked",
    };
    let date = asking.words.get(date);
    Some(match used {
        true => format!("{}. {date}", asking.words.get("call.answer.used")),
        false => date.to_owned(),
    })
}

/// Only a change leaves a trace: whether it was asked is not known, so nothing is said without one.
fn medicines(told: &[&DiaryEntry]) -> Option<String> {
    told.iter()
        .rev()
        .find_map(|entry| entry.medicine_change.clone())
}

fn weight(asking: &Asking<'_>) -> Option<String> {
    let told = before(asking).filter_map(|entry| Some((entry.date, entry.weight_kg?)));
    let measured = asking
        .course
        .case
        .examinations
        .iter()
        .filter_map(|one| Some((one.date, one.weight_kg?)));
    let (date, kg) = told.chain(measured).max_by_key(|(date, _)| *date)?;
    Some(format!("{} kg, {}.", plain(kg), date.strftime("%-d %B")))
}

/// Only a fall leaves a trace: "no" would say that it was asked.
fn falls(asking: &Asking<'_>, told: &[&DiaryEntry]) -> Option<String> {
    let fallen = told
        .iter()
        .filter_map(|entry| entry.symptoms.as_ref())
        .flatten()
        .any(|symptom| symptom.kind == SymptomKind::Fall);
    fallen.then(|| format!("{}.", asking.words.get("call.answer.fallen")))
}

fn joints(asking: &Asking<'_>, told: &[&DiaryEntry]) -> Option<String> {
    let pain = told.iter().rev().find_map(|entry| entry.joint_pain)?;
    let score = pain.during.map(|value| {
        asking
            .words
            .fill("call.last.joint-score", &[("score", &plain(value))])
    });
    let morning = pain.worse_next_morning.map(|worse| {
        asking
            .words
            .get(if worse {
                "call.last.morning-worse"
            } else {
                "call.last.morning-usual"
            })
            .to_owned()
    });
    let parts: Vec<String> = score.into_iter().chain(morning).collect();
    (!parts.is_empty()).then(|| parts.join(" "))
}
