//! How the sheet looks: gutter, question, what was said last time; then what follows.

mod below;
mod fields;

use super::follow::Follows;
use crate::address;
use crate::casefile::CaseFile;
use crate::guard::Signed;
use crate::layout::{Nav, case_page as shell, row};
use crate::phrases::{calendar_day, counted};
use crate::typed::{Typed, Wrong};
use handouts::call::{Answers, Asking, Question, Row, rows};
use maud::{Markup, html};
use rehab::review::ContactKind;

/// Everything the page is made from.
pub(super) struct Sheet<'a> {
    pub(super) signed: &'a Signed,
    pub(super) file: &'a CaseFile,
    pub(super) asking: &'a Asking<'a>,
    pub(super) answers: &'a Answers,
    pub(super) follows: &'a Follows,
    pub(super) typed: &'a Typed,
    pub(super) wrong: &'a Wrong,
    pub(super) time: &'a str,
    pub(super) stale: bool,
}

impl Sheet<'_> {
    fn word(&self, id: &str) -> &str {
        self.asking.words.find(id).unwrap_or_default()
    }

    /// Nothing was asked yet: which page it was is answered by itself.
    fn is_blank(&self) -> bool {
        let mut answers = self.answers.clone();
        answers.stage = None;
        answers == Answers::unasked()
            && self.wrong.is_empty()
            && self.typed.get("decide").is_empty()
    }

    fn is_visit(&self) -> bool {
        self.asking.kind == ContactKind::Visit
    }
}

pub(super) fn page(sheet: &Sheet<'_>) -> Markup {
    let called = sheet.asking.called().to_owned();
    let head = if sheet.is_visit() {
        "call.head-visit"
    } else {
        "call.head-call"
    };
    let title = sheet.asking.words.fill(head, &[("called", &called)]);
    let kind = if sheet.is_visit() { "visit" } else { "call" };
    let body = html! {
        form.sheet method="post" action=(address::of_case(sheet.file.id, "call")) data-follow="follows" data-keep="" autocomplete="off" {
            // Enter in a field presses the first button of a form: it must be the one that changes nothing.
            button.sr name="act" value="follow" tabindex="-1" aria-hidden="true" { "See what follows" }
            input type="hidden" name="kind" value=(kind);
            input type="hidden" name="position" value=(sheet.file.next_position());
            (begin(sheet, &title))
            (super::draft::told(sheet.file, sheet.typed))
            @if sheet.stale { (stale()) }
            div.talk {
                @for one in rows(sheet.asking) { (question(sheet, &one)) }
            }
            div id="follows" aria-live="polite" { (below::page(sheet)) }
        }
    };
    shell(sheet.signed, sheet.file, &title, Nav::Today, &body)
}

fn begin(sheet: &Sheet<'_>, title: &str) -> Markup {
    let tries = tries(sheet);
    let gutter = html! {
        b { (sheet.time) }
        @if !sheet.is_visit() {
            br; (tries)
            br; button.wordlike name="act" value="no-answer" formnovalidate { (sheet.word("call.no-answer")) }
        }
    };
    let person = &sheet.file.course.case.person;
    let margin = html! {
        p { (heard(sheet)) }
        p.links {
            @if sheet.is_visit() {
                a href="?kind=call" { "By telephone instead" }
            } @else {
                a href="?kind=visit" { "A visit instead" }
            }
            " "
            a href=(address::of_case(sheet.file.id, "call/paper")) { "Blank sheet to print" }
            " "
            a href=(address::of_case(sheet.file.id, "inbox")) { "Read a diary file" }
        }
    };
    let text = html! {
        h1.title { (title) }
        p.lead {
            @if let Some(number) = person.telephones.first() { (number) ". " }
            @if let Some(hearing) = &person.hearing { (sentence_of(hearing)) " " }
            @if let Some(interpreter) = &person.interpreter { "Interpreter: " (sentence_of(interpreter)) }
        }
    };
    row(&gutter, &text, &margin)
}

fn sentence_of(text: &str) -> String {
    let text = crate::phrases::sentence(text.trim());
    match text.ends_with('.') {
        true => text,
        false => format!("{text}."),
    }
}

fn tries(sheet: &Sheet<'_>) -> String {
    let today = sheet
        .file
        .course
        .calls
        .iter()
        .filter(|call| !call.reached && call.contact.date == sheet.file.on)
        .count();
    match today {
        0 => sheet.word("call.first-try").to_owned(),
        1 => sheet.word("call.second-try").to_owned(),
        more => counted(more, "try without an answer", "tries without an answer"),
    }
}

fn heard(sheet: &Sheet<'_>) -> String {
    let newest = sheet
        .file
        .course
        .entries
        .iter()
        .map(|entry| entry.date)
        .max();
    match newest {
        Some(date) => format!(
            "What was said last time stands here, beside each question. Newest of it: {}.",
            calendar_day(date, sheet.file.on)
        ),
        None => "Nothing has come back yet, so nothing stands beside the questions.".to_owned(),
    }
}

fn stale() -> Markup {
    row(
        &html! {},
        &html! { p.wrong { "Somebody has written in this case since this sheet was opened. Everything you typed is here; look at what follows again before you sign" } },
        &html! {},
    )
}

/// Whether the answers fit beside the question.
fn is_short(one: &Row) -> bool {
    one.asked
        && matches!(
            one.question,
            Question::Medicines | Question::Falls | Question::Sugar
        )
}

fn question(sheet: &Sheet<'_>, one: &Row) -> Markup {
    let answer = one.asked.then(|| fields::of(sheet, one.question));
    let text = html! {
        @if one.asked {
            p.spoken { "\u{201c}" (one.text) "\u{201d}" @if one.question == Question::Spray { " \u{201c}" (sheet.word("call.ask.spray-date")) "\u{201d}" } }
        } @else {
            p.spoken { span.quiet { (one.text) } }
        }
        @if let Some(answer) = answer { (answer) }
    };
    let margin = html! { @if let Some(last) = &one.last { p { (last) } } };
    html! {
        fieldset.qu.inl[is_short(one)].unasked[!one.asked] {
            legend.sr { (one.label) }
            (row(&html! { (one.label) }, &text, &margin))
        }
    }
}
