//! The drafted note: short sentences from the answers, for a person to change and sign.

use super::{Answers, Asking, Fall, InThemself, asked_for, days, plain, said_day};
use crate::running_order::page_letter;
use jiff::civil::Date;
use rehab::review::{ContactKind, SymptomClass, classify};

/// What the note says beside the answers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Closing<'a> {
    /// Local time, "11:20".
    pub time: &'a str,
    /// The decision in one line.
    pub decision: &'a str,
    /// Day of the next contact.
    pub next: Option<Date>,
}

/// Drafts the note.
pub fn note(asking: &Asking<'_>, answers: &Answers, closing: &Closing<'_>) -> String {
    let words = asking.words;
    let how = match asking.kind {
        ContactKind::Visit => "call.how.visit",
        _ => "call.how.call",
    };
    let day = said_day(asking.on);
    let mut parts = vec![words.fill(
        "call.written.opening",
        &[
            ("how", words.get(how)),
            ("day", &day),
            ("time", closing.time),
        ],
    )];
    parts.extend(own(&answers.open));
    parts.extend(sessions(asking, answers));
    parts.push(effort(asking, answers));
    parts.extend(pulse(asking, answers));
    parts.extend(heart(asking, answers));
    parts.extend(spray(asking, answers));
    parts.push(medicines(asking, answers));
    parts.extend(
        answers
            .weight_kg
            .map(|kg| words.fill("call.written.weight", &[("value", &plain(kg))])),
    );
    parts.extend(sugar(asking, answers));
    parts.extend(falls(asking, answers));
    parts.extend(joints(asking, answers));
    parts.extend(sleep(asking, answers));
    parts.extend(mood(asking, answers));
    parts.extend(own(&answers.own));
    parts.push(words.fill(
        "call.written.decision",
        &[("text", closing.decision.trim_end_matches('.'))],
    ));
    if let Some(next) = closing.next {
        parts.push(words.fill("call.written.next", &[("text", &said_day(next))]));
    }
    parts.join(" ")
}

fn own(text: &str) -> Option<String> {
    let text = text.trim();
    (!text.is_empty()).then(|| match text.ends_with(['.', '!', '?']) {
        true => text.to_owned(),
        false => format!("{text}."),
    })
}

/// Sleep in one sentence, as it was told.
pub(super) fn sleep(asking: &Asking<'_>, answers: &Answers) -> Option<String> {
    let ids = ["call.written.sleep-usual", "call.written.sleep-worse"];
    in_themself(asking, &answers.sleep, ids)
}

/// Mood in one sentence, as it was told.
pub(super) fn mood(asking: &Asking<'_>, answers: &Answers) -> Option<String> {
    let ids = ["call.written.mood-usual", "call.written.mood-low"];
    in_themself(asking, &answers.mood, ids)
}

fn in_themself(
    asking: &Asking<'_>,
    told: &InThemself,
    [usual, worse]: [&str; 2],
) -> Option<String> {
    let id = told
        .worse
        .map(|is_worse| if is_worse { worse } else { usual });
    let answer = id.map(|id| asking.words.get(id).to_owned());
    let parts: Vec<String> = answer.into_iter().chain(own(&told.said)).collect();
    (!parts.is_empty()).then(|| parts.join(" "))
}

fn sessions(asking: &Asking<'_>, answers: &Answers) -> Option<String> {
    asking.course.current_stage?;
    let line = days(asking);
    let span = line.len().to_string();
    let Some(told) = &answers.days else {
        return Some(asking.words.get("call.written.sessions-unknown").to_owned());
    };
    let known = line.iter().filter(|day| day.known).count();
    let done = told.len() + known;
    if done == 0 {
        return Some(
            asking
                .words
                .fill("call.written.sessions-none", &[("days", &span)]),
        );
    }
    let letter = answers.stage.map(page_letter).or_else(|| asking.letter());
    let letter = letter.map_or_else(String::new, |letter| letter.to_string());
    let asked = asked_for(asking, &line).map_or_else(String::new, |asked| asked.to_string());
    let mut text = asking.words.fill(
        "call.written.sessions",
        &[
            ("done", &done.to_string()),
            ("letter", &letter),
            ("days", &span),
            ("asked", &asked),
        ],
    );
    let part = told.iter().filter(|day| day.part).count();
    if part > 0 {
        text.push(' ');
        text.push_str(
            &asking
                .words
                .fill("call.written.part", &[("count", &part.to_string())]),
        );
    }
    Some(text)
}

fn effort(asking: &Asking<'_>, answers: &Answers) -> String {
    match answers.effort {
        Some(value) => asking
            .words
            .fill("call.written.effort", &[("value", &plain(value))]),
        None => asking.words.get("call.written.effort-unknown").to_owned(),
    }
}

fn pulse(asking: &Asking<'_>, answers: &Answers) -> Vec<String> {
    let told = [
        ("call.written.pulse-before", answers.pulse_before_bpm),
        ("call.written.pulse-after", answers.pulse_after_bpm),
    ];
    let said =
        |(id, bpm): (&str, Option<f64>)| Some(asking.words.fill(id, &[("value", &plain(bpm?))]));
    told.into_iter().filter_map(said).collect()
}

/// Signs by what they mean for this person.
fn heart(asking: &Asking<'_>, answers: &Answers) -> Vec<String> {
    let words = asking.words;
    let Some(told) = &answers.heart else {
        return vec![words.get("call.written.symptoms-unknown").to_owned()];
    };
    let named = |class: SymptomClass| -> String {
        let of_class = told.iter().filter(|one| {
            let symptom = rehab::diary::DiarySymptom {
                kind: one.sign.kind(),
                usual: one.usual,
                score: None,
                nitrate_used: None,
            };
            classify(&asking.course.case, &symptom).0 == class
        });
        let names: Vec<String> = of_class
            .map(|one| {
                words
                    .get(&format!("call.answer.{}", one.sign.word()))
                    .to_lowercase()
            })
            .collect();
        names.join(", ")
    };
    let (red, changed, usual) = (
        named(SymptomClass::Red),
        named(SymptomClass::Changed),
        named(SymptomClass::Usual),
    );
    let mut parts = Vec::new();
    if red.is_empty() && changed.is_empty() {
        parts.push(words.get("call.written.no-red").to_owned());
    }
    for (id, list) in [
        ("call.written.red", &red),
        ("call.written.changed", &changed),
        ("call.written.usual-symptoms", &usual),
    ] {
        if !list.is_empty() {
            parts.push(words.fill(id, &[("list", list)]));
        }
    }
    parts
}

fn spray(asking: &Asking<'_>, answers: &Answers) -> Vec<String> {
    let words = asking.words;
    let used = answers.spray.used.map(|used| match used {
        true => "call.written.spray-used",
        false => "call.written.spray-not-used",
    });
    let used = used.map(|id| words.get(id).to_owned());
    let date = answers.spray.until.map(|date| {
        let month = date.strftime("%B %Y").to_string();
        let id = match date >= asking.on {
            true => "call.written.spray-date",
            false => "call.written.spray-out-of-date",
        };
        words.fill(id, &[("date", &month)])
    });
    used.into_iter().chain(date).collect()
}

fn medicines(asking: &Asking<'_>, answers: &Answers) -> String {
    let words = asking.words;
    match answers.has_medicine_change() {
        None => words.get("call.written.tablets-unknown").to_owned(),
        Some(false) => words.get("call.written.tablets-same").to_owned(),
        Some(true) => {
            let text = answers.medicine_change.trim().trim_end_matches('.');
            let text = if text.is_empty() {
                words.get("call.written.not-said-what")
            } else {
                text
            };
            words.fill("call.written.tablets-changed", &[("text", text)])
        }
    }
}

fn sugar(asking: &Asking<'_>, answers: &Answers) -> Option<String> {
    answers.low_sugar.map(|low| {
        let id = match low {
            true => "call.written.sugar-low",
            false => "call.written.sugar-not-low",
        };
        asking.words.get(id).to_owned()
    })
}

fn falls(asking: &Asking<'_>, answers: &Answers) -> Option<String> {
    let words = asking.words;
    answers.fall.map(|fall| match fall {
        Fall::No => words.get("call.written.falls-none").to_owned(),
        Fall::Nearly => words.fill(
            "call.written.falls",
            &[("text", &words.get("call.answer.nearly").to_lowercase())],
        ),
        Fall::Fallen => words.fill(
            "call.written.falls",
            &[("text", &words.get("call.answer.fallen").to_lowercase())],
        ),
    })
}

fn joints(asking: &Asking<'_>, answers: &Answers) -> Vec<String> {
    let (words, joints) = (asking.words, &answers.joints);
    let mut parts = Vec::new();
    if let Some(during) = joints.during {
        parts.push(words.fill("call.written.joints-during", &[("score", &plain(during))]));
    }
    if let Some(worse) = joints.worse {
        let id = match worse {
            true => "call.written.joints-morning-worse",
            false => "call.written.joints-morning-usual",
        };
        parts.push(words.get(id).to_owned());
    }
    parts.extend(own(&joints.said));
    if let Some(exercise) = &joints.ease {
        let name = asking.exercise_name(exercise);
        parts.push(words.fill("call.written.eased", &[("exercise", &name)]));
    }
    parts
}
