//! What follows, in words: the decision in one line, the sentence to say, and whether a letter is due.

use super::{Asking, said_day};
use crate::running_order::page_letter;
use jiff::civil::Date;
use rehab::review::{Action, Proposal};

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

/// What to say to the person about what was decided.
pub fn say(
    asking: &Asking<'_>,
    proposal: &Proposal,
    action: Action,
    to_stage: Option<u16>,
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
        Action::Hold => hold(proposal),
        Action::StepBack => "call.say.step-back",
        Action::ReEnter => "call.say.re-enter",
        Action::AskFirst => "call.say.ask-first",
        Action::StopAndContact => "call.say.stop-and-contact",
    };
    let mut parts = vec![words.fill(id, &[("letter", &letter)])];
    if !stops {
        parts.extend(
            proposal
                .ease
                .iter()
                .filter_map(|exercise| ease_words(asking, exercise)),
        );
        let brings = !no_page && brings_a_page(asking, action, to_stage);
        let goes_back = matches!(action, Action::StepBack | Action::ReEnter) && !no_page;
        if goes_back && !brings {
            parts.push(words.get("call.say.same-page").to_owned());
        }
        parts.extend(next.map(said_day).map(|day| {
            let id = match brings {
                true => "call.say.new-page",
                false => "call.say.next-call",
            };
            words.fill(id, &[("day", &day)])
        }));
        // The page they have asks for more than they shall do, and the lower one they were told to throw away.
        if goes_back && brings {
            parts.push(words.get("call.say.no-session-until").to_owned());
        }
        parts.push(words.get("call.say.ring-us").to_owned());
    }
    parts.join(" ")
}

/// Whether a page is brought: only where it is another one than they have.
fn brings_a_page(asking: &Asking<'_>, action: Action, to_stage: Option<u16>) -> bool {
    action != Action::Hold && to_stage != asking.course.current_stage
}

/// Days until the next contact, counted from today. Source: service-ours. A step back waits for no call day: until the
/// lower page is there, nobody shall do a session.
pub fn days_to_next(
    asking: &Asking<'_>,
    action: Action,
    to_stage: Option<u16>,
    call_every_days: u16,
) -> i32 {
    match action {
        Action::StopAndContact => 0,
        Action::AskFirst => 1,
        Action::StepBack | Action::ReEnter if brings_a_page(asking, action, to_stage) => 1,
        _ => i32::from(call_every_days),
    }
}

/// Rules that keep somebody on a page with the sentence that goes with each, the gravest first.
const HOLDS: [(&str, &str); 12] = [
    ("review/red-", "call.say.hold-symptom"),
    ("review/changed-symptom", "call.say.hold-symptom"),
    ("review/hold-recent-symptom", "call.say.hold-symptom"),
    ("review/step-back-effort", "call.say.hold-effort"),
    ("review/hold-effort", "call.say.hold-effort"),
    ("review/hold-guiding-pulse", "call.say.hold-effort"),
    ("review/hold-after-cool-down", "call.say.hold-way-down"),
    ("review/step-back-unfinished", "call.say.hold-unfinished"),
    ("review/hold-unfinished", "call.say.hold-unfinished"),
    ("review/hold-joint", "call.say.hold-joint"),
    // In the first days of a page nobody has done too little of it yet.
    ("review/hold-early", "call.say.hold-plain"),
    ("review/hold-few-sessions", "call.say.hold-more-days"),
];

/// Why the page stays, in words for the person: praise only where nothing spoke against going on.
fn hold(proposal: &Proposal) -> &'static str {
    let spoken = proposal.because.iter().map(|one| one.rule.0);
    if proposal.action == Action::Advance
        || spoken.clone().all(|rule| rule == "review/hold-last-page")
    {
        return "call.say.hold";
    }
    HOLDS
        .iter()
        .find(|(rule, _)| {
            spoken
                .clone()
                .any(|one| one == *rule || (rule.ends_with('-') && one.starts_with(rule)))
        })
        .map_or("call.say.hold-plain", |(_, words)| words)
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
