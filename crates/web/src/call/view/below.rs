//! What follows: the alerts to be answered, the decision, the sentence to say, and what was written for signing.

use super::{Sheet, fields};
use crate::alone;
use crate::call::follow::{Waiting, done_field};
use crate::casefile::CaseFile;
use crate::layout::{because, row, why};
use crate::phrases::{counted, days_in_words, full_day, sentence};
use handouts::running_order::page_letter;
use maud::{Markup, html};
use rehab::review::{Action, Urgency};

pub(super) fn page(sheet: &Sheet<'_>) -> Markup {
    html! {
        @if sheet.follows.waiting.iter().any(|one| stands(sheet, one)) { (alerts(sheet)) }
        @if sheet.is_blank() { (unasked()) } @else if !sheet.follows.unread.is_empty() { (to_mend(sheet)) } @else { (decision(sheet)) (written(sheet)) (sign(sheet)) }
    }
}

/// Before the first answer nothing is claimed of what was said.
fn unasked() -> Markup {
    let text = html! {
        p.ans { "Nothing was asked yet." }
        p.quiet { "The decision, the note and the next day stand here from the first answer on." }
        p.acts { button.act.wordlike name="act" value="follow" data-follow-button="" { "See what follows" } }
    };
    html! { div.end { (row(&html! { b { "What follows" } }, &text, &html! {})) } }
}

/// An answer that could not be read may be the one that speaks against going on.
fn to_mend(sheet: &Sheet<'_>) -> Markup {
    let unread = &sheet.follows.unread;
    let text = html! {
        p.ans { "Nothing is proposed yet: " (counted(unread.count(), "answer", "answers")) " could not be read." }
        ul.find { @for (name, message) in unread.fields() { li { b { (field_in_words(name)) ": " } (message) "." } } }
        p.acts { button.act.wordlike name="act" value="follow" data-follow-button="" { "See what follows" }
            button.act.wordlike name="act" value="draft" formnovalidate { "Keep as a draft" } }
    };
    // What was written before stays in the form until the answers are put right.
    let kept = [
        "note",
        "drafted-note",
        "letter",
        "drafted-letter",
        "next",
        "drafted-next",
        "decide",
        "reason",
        "second-name",
    ];
    html! {
        div.end { (row(&html! { b { "To be put right" } }, &text, &html! {})) }
        @for name in kept { @if !sheet.typed.get(name).is_empty() { input type="hidden" name=(name) value=(sheet.typed.get(name)); } }
    }
}

/// The label of a field, for the list of those to be put right.
fn field_in_words(name: &str) -> String {
    let words = match name {
        "joint-during" => "joints, during",
        "spray-date" => "date on the spray",
        "weight" => "weight this morning",
        "weight-before" => "weight three days ago",
        "heart" => "chest, breath, dizziness",
        "open" => "how they have been",
        other => &other.replace('-', " "),
    };
    sentence(words)
}

/// Before the first answer only what was open before is to be answered: an empty sheet raises nothing.
fn stands(sheet: &Sheet<'_>, one: &Waiting) -> bool {
    !(one.new && sheet.is_blank())
}

fn alerts(sheet: &Sheet<'_>) -> Markup {
    let text = html! {
        @for one in sheet.follows.waiting.iter().filter(|one| stands(sheet, one)) { (alert(sheet, one)) }
    };
    let margin = html! {
        p { "Each stays with the team until somebody writes what was done. What came up just now does not soften the decision below." }
    };
    html! {
        div.end { (row(&html! { b { "To be answered" } }, &text, &margin)) }
    }
}

fn alert(sheet: &Sheet<'_>, one: &Waiting) -> Markup {
    let name = done_field(&one.alert.key);
    let soon = match one.alert.urgency {
        Urgency::Today => "today",
        Urgency::ThisWeek => "this week",
    };
    html! {
        label.done {
            span.spoken {
                (sentence(&days_in_words(&one.alert.text, sheet.file.on))) ". "
                span.quiet { @if one.new { "New, answer " } @else { "Open, answer " } (soon) "." }
            }
            (fields::wrong(sheet, &name))
            textarea.field name=(name) rows="2" placeholder="what was done, in words" { (one.done) }
        }
    }
}

fn decision(sheet: &Sheet<'_>) -> Markup {
    let follows = sheet.follows;
    let reasons: Vec<String> = follows
        .deciding()
        .map(|one| format!("{}.", sentence(&days_in_words(&one.text, sheet.file.on))))
        .collect();
    let otherwise = follows.action != follows.proposal.action;
    let text = html! {
        input type="hidden" name="seen" value=(follows.seen());
        p.ans { (follows.headline) }
        p.quiet {
            @if otherwise { "Proposed was: " (follows.proposal.action.word().replace('-', " ")) ". " }
            (reasons.join(" ")) " "
            @if !follows.reasons.is_empty() { (why("follows", "Because")) }
        }
        @if follows.proposal.watch_first.len() > 1 || !follows.proposal.watch_first.is_empty() {
            p.quiet { "To be watched before it is done alone: " (watched_names(sheet)) "." }
        }
        p.sayit { span { "Say" } q { (follows.say) } }
        @if let Some(refused) = &follows.refused { p.wrong { (sentence(refused)) } }
        (fields::wrong(sheet, "decide"))
        p.acts { button.act.wordlike name="act" value="follow" data-follow-button="" { "See what follows" } }
    };
    let margin = html! {
        (otherwise_form(sheet))
        @for (at, reason) in follows.reasons.iter().enumerate() {
            @let id = if at == 0 { "follows".to_owned() } else { format!("follows-{at}") };
            (because(&id, &sentence(&days_in_words(&reason.text, sheet.file.on)), reason))
        }
    };
    html! { div.end { (row(&html! { b { "What follows" } }, &text, &margin)) } }
}

fn watched_names(sheet: &Sheet<'_>) -> String {
    let names: Vec<String> = sheet
        .follows
        .proposal
        .watch_first
        .iter()
        .map(|exercise| sheet.asking.exercise_name(exercise).to_lowercase())
        .collect();
    crate::phrases::list(&names)
}

/// Other decisions, from onwards to most careful. The proposed one is the first.
fn otherwise_form(sheet: &Sheet<'_>) -> Markup {
    let Some(here) = sheet.file.course.current_stage else {
        return html! {};
    };
    let chosen = sheet.typed.get("decide");
    let open = !chosen.is_empty() || sheet.follows.refused.is_some();
    let words = |id: &str, stage: u16| {
        sheet
            .asking
            .words
            .fill(id, &[("letter", &page_letter(stage).to_string())])
    };
    let list = [
        ("", "As proposed".to_owned()),
        ("advance", words("call.decision.advance", here + 1)),
        ("hold", words("call.decision.hold", here)),
        (
            "step-back",
            words("call.decision.step-back", here.saturating_sub(1).max(1)),
        ),
        (
            "ask-first",
            sheet.word("call.decision.ask-first").to_owned(),
        ),
        (
            "stop-and-contact",
            sheet.word("call.decision.stop-and-contact").to_owned(),
        ),
    ];
    html! {
        details.other open[open] {
            summary.act { (sheet.word("call.decision.otherwise")) }
            p { (sheet.word("call.decision.otherwise-caution")) " " (sheet.word("call.decision.otherwise-risk")) }
            @for (value, words) in list {
                label.choice { input type="radio" name="decide" value=(value) checked[chosen == value]; span { (words) } }
            }
            label { span { "Reason" } textarea.field name="reason" rows="2" { (sheet.typed.get("reason")) } }
            label { span { "Second name" } input.field type="text" name="second-name" value=(sheet.typed.get("second-name")); }
        }
    }
}

fn written(sheet: &Sheet<'_>) -> Markup {
    let follows = sheet.follows;
    let next = follows
        .next
        .map_or_else(String::new, |date| date.to_string());
    let proposed = follows.proposed_next(sheet.asking).to_string();
    let text = html! {
        div.drafts {
            div.dr {
                h2 { label for="note" { "Note" } }
                div {
                    (fields::wrong(sheet, "note"))
                    textarea.draft id="note" name="note" rows="7" { (follows.note) }
                    input type="hidden" name="drafted-note" value=(follows.drafted);
                }
            }
            div.dr {
                h2 { "Letter" }
                div {
                    @if let Some(letter) = &follows.letter {
                        (fields::wrong(sheet, "letter"))
                        textarea.draft name="letter" rows="5" aria-label="Letter to the doctor" { (letter) }
                        input type="hidden" name="drafted-letter" value=(follows.drafted_letter);
                    } @else {
                        p { "None due. The doctor is written to when the page or a medicine changes, or exercise stops." }
                    }
                }
            }
            div.dr { h2 { "Page" } div { p { (page_words(sheet)) } } }
            div.dr {
                h2 { label for="next" { "Next" } }
                div {
                    (fields::wrong(sheet, "next"))
                    input.field.short.date id="next" type="date" name="next" value=(next);
                    input type="hidden" name="drafted-next" value=(proposed);
                    @if let Some(until) = follows.assessed.screening.valid_until {
                        p { "The last examination counts until " (full_day(until)) "; examine again at a visit before a new page is given." }
                    }
                }
            }
        }
    };
    row(
        &html! { b { "Written for you" } br; "change any word" },
        &text,
        &html! {},
    )
}

fn page_words(sheet: &Sheet<'_>) -> String {
    let follows = sheet.follows;
    let letter = |stage: u16| page_letter(stage).to_string();
    match (follows.action, follows.to_stage) {
        (Action::AskFirst | Action::StopAndContact, _) => {
            "None to print. No session until somebody has spoken about this.".to_owned()
        }
        (_, None) => "None to print: no page has been given yet.".to_owned(),
        (_, Some(stage)) if Some(stage) == sheet.file.course.current_stage => {
            at_home(sheet.file, stage)
        }
        (_, Some(stage)) => format!(
            "Page {} to print and take along; the older one is thrown away.",
            letter(stage)
        ),
    }
}

/// Whether the page that stays is the one at home: a page that was signed anew since is another.
fn at_home(file: &CaseFile, stage: u16) -> String {
    let course = &file.course;
    let outdated = course
        .stage()
        .is_some_and(|page| !alone::outdated(file, page).is_empty());
    if outdated {
        return format!(
            "Page {} no longer holds by what is known today. Sign it anew, print it and take it along; until then there is no session with the older one.",
            page_letter(stage)
        );
    }
    if course.stage() == course.at_home.as_ref() {
        return "The page at home is the right one; nothing to print.".to_owned();
    }
    format!(
        "Page {} was signed anew and is not the one first given: print it and take it along, unless that was done. The older one is thrown away.",
        page_letter(stage)
    )
}

fn sign(sheet: &Sheet<'_>) -> Markup {
    let wrong = sheet.wrong.count();
    let text = html! {
        (fields::wrong(sheet, "sign"))
        @if wrong > 0 {
            p.wrong { "Some answers could not be read: see " (crate::phrases::counted(wrong, "place", "places")) " above" }
        }
        p.acts {
            button.do name="act" value="sign" { "Sign as " (sheet.asking.practitioner) }
            button.act.wordlike name="act" value="draft" formnovalidate { "Keep as a draft" }
        }
    };
    row(
        &html! {},
        &text,
        &html! { p { "One signature closes the sheet: answers, decision, note and next day are kept together." } },
    )
}
