//! What follows, in words: the decision in one line, the sentence to say, and whether a letter is due.

use super::{Asking, said_day};
use crate::running_order::page_letter;
use jiff::civil::Date;
use rehab::review::Action;

/// The decision in one line: "Stay on page B. Ease sit and stand."
pub fn headline(
    asking: &Asking<'_>,
    action: Action,
    to_stage: Option<u16>,
    ease: &[String],
) -> String {
    let letter = to_stage.or(asking.course.current_stage).map(page_letter);
    let letter = letter.map_or_else(String::new, |letter| letter.to_string());
    let no_page = asking.course.current_stage.is_none()
        && !matches!(action, Action::AskFirst | Action::StopAndContact);
    let id = match (no_page, action) {
        (true, _) => "call.decision.no-page",
        (_, Action::Advance) => "call.decision.advance",
        (_, Action::Hold) => "call.decision.hold",
        (_, Action::StepBack) => "call.decision.step-back",
        (_, Action::ReEnter) => "call.decision.re-enter",
        (_, Action::AskFirst) => "call.decision.ask-first",
        (_, Action::StopAndContact) => "call.decision.stop-and-contact",
    };
    let mut parts = vec![asking.words.fill(id, &[("letter", &letter)])];
    if !matches!(action, Action::AskFirst | Action::StopAndContact) {
        parts.extend(ease.iter().map(|exercise| {
            let name = asking.exercise_name(exercise);
            asking
                .words
                .fill("call.decision.eased", &[("exercise", &name)])
        }));
    }
    format!("{}.", parts.join(". "))
}

/// What to say to the person.
pub fn say(
    asking: &Asking<'_>,
    action: Action,
    to_stage: Option<u16>,
    ease: &[String],
    next: Option<Date>,
) -> String {
    let words = asking.words;
    let letter = to_stage.or(asking.course.current_stage).map(page_letter);
    let letter = letter.map_or_else(String::new, |letter| letter.to_string());
    let stops = matches!(action, Action::AskFirst | Action::StopAndContact);
    let no_page = asking.course.current_stage.is_none() && !stops;
    let id = match action {
        _ if no_page => "call.say.thank",
        Action::Advance => "call.say.advance",
        Action::Hold => "call.say.hold",
        Action::StepBack => "call.say.step-back",
        Action::ReEnter => "call.say.re-enter",
        Action::AskFirst => "call.say.ask-first",
        Action::StopAndContact => "call.say.stop-and-contact",
    };
    let mut parts = vec![words.fill(id, &[("letter", &letter)])];
    if !stops {
        parts.extend(
            ease.iter()
                .filter_map(|exercise| ease_words(asking, exercise)),
        );
        let next = next.map(said_day);
        parts.extend(next.map(|day| {
            let id = match action {
                Action::Hold => "call.say.next-call",
                _ if no_page => "call.say.next-call",
                _ => "call.say.new-page",
            };
            words.fill(id, &[("day", &day)])
        }));
        parts.push(words.get("call.say.ring-us").to_owned());
    }
    parts.join(" ")
}

/// The easier way that stands ready for an exercise of the page.
fn ease_words(asking: &Asking<'_>, exercise: &str) -> Option<String> {
    let easier = asking
        .course
        .stage()?
        .segments
        .iter()
        .filter(|segment| {
            segment
                .doing
                .as_ref()
                .is_some_and(|doing| doing.exercise == exercise)
        })
        .find_map(|segment| segment.easier.as_ref())?;
    let way = &asking.words.exercise(easier)?.way;
    (!way.is_empty()).then(|| {
        let name = asking.exercise_name(exercise);
        asking
            .words
            .fill("call.say.ease", &[("exercise", &name), ("way", way)])
    })
}

/// Whether the doctor is written to: at every change of page and at every stop.
pub fn letter_due(asking: &Asking<'_>, action: Action, to_stage: Option<u16>) -> bool {
    action == Action::StopAndContact
        || (to_stage.is_some() && to_stage != asking.course.current_stage)
}

/// The letter's draft, in plain words: what changes and why.
pub fn letter_text(asking: &Asking<'_>, headline: &str, reasons: &[String]) -> String {
    let person = &asking.course.case.person;
    let name = person.name.as_deref().unwrap_or(asking.called());
    let born = person
        .born
        .map_or_else(String::new, |date| date.strftime("%-d %B %Y").to_string());
    let doctor = person
        .doctor
        .as_deref()
        .and_then(|doctor| doctor.split(',').next())
        .unwrap_or_else(|| asking.words.get("call.letter.doctor"));
    asking.words.fill(
        "call.letter.text",
        &[
            ("doctor", doctor),
            ("name", name),
            ("born", &born),
            ("day", &said_day(asking.on)),
            ("decision", headline),
            ("reasons", &reasons.join(" ")),
            ("practitioner", asking.practitioner),
            ("team", asking.team()),
        ],
    )
}
