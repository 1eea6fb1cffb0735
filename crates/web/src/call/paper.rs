//! The sheet on paper, blank: the same questions, to be filled in by hand.

use handouts::call::{Asking, Question, Row, days, rows, signs, stations};
use maud::{DOCTYPE, Markup, html};
use rehab::assessment::EffortScale;

pub(super) fn page(asking: &Asking<'_>) -> Markup {
    let called = asking.called();
    let born = asking
        .course
        .case
        .person
        .born
        .map(|date| date.year().to_string());
    html! {
        (DOCTYPE)
        html lang="en-GB" data-ink="grey" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (asking.words.get("call.blank")) }
                link rel="stylesheet" href="/static/hearthpace.css";
                link rel="icon" href="data:,";
            }
            body.paper {
                main {
                    h1 { (called) @if let Some(born) = &born { ", born " (born) } }
                    p.quiet { (asking.words.get("call.blank")) ". Day ______________ time __________ reached / no answer, by ______________" }
                    @for one in rows(asking) { (question(asking, &one)) }
                    section.pq { h2 { (asking.words.get("call.row.follows")) } div { (blank_line()) (blank_line()) } }
                    section.pq { h2 { (asking.words.get("call.row.next")) } div { (blank_line()) } }
                    p.quiet { "Ring the number on the page if anything cannot wait. This sheet is typed in afterwards; throw it away then as your service says." }
                }
            }
        }
    }
}

fn blank_line() -> Markup {
    html! { div.blank {} }
}

fn boxes(words: &[&str]) -> Markup {
    html! { p.boxes { @for word in words { span { i {} (word) } } } }
}

fn question(asking: &Asking<'_>, one: &Row) -> Markup {
    html! {
        section.pq {
            h2 { (one.label) }
            div {
                p.spoken { (one.text) }
                @if one.asked { (answer(asking, one.question)) }
                @if let Some(last) = &one.last { p.last { "Last time: " (last) } }
            }
        }
    }
}

fn answer(asking: &Asking<'_>, question: Question) -> Markup {
    let word = |id: &str| asking.words.find(id).unwrap_or_default();
    match question {
        Question::Days => {
            let line = days(asking);
            html! {
                p.pdays { @for day in &line { span { i.known[day.known] {} (day.date.strftime("%a %-d")) } } }
                p.small { "Page letter ____   not to the end on ________________" }
            }
        }
        Question::Effort => {
            let scale = match asking.assessed.limits.effort_scale {
                EffortScale::ZeroToTen => 0..=10,
                EffortScale::SixToTwenty => 6..=20,
            };
            html! { p.pdays { @for step in scale { span { i {} (step) } } } }
        }
        Question::Pulse => {
            html! { p.small { (word("call.answer.pulse-before")) " ________   " (word("call.answer.pulse-after")) " ________" } }
        }
        Question::Heart => {
            let names: Vec<String> = signs(asking)
                .into_iter()
                .map(|sign| word(&format!("call.answer.{}", sign.word())).to_owned())
                .collect();
            let mut list = vec![word("call.answer.none")];
            list.extend(names.iter().map(String::as_str));
            html! { (boxes(&list)) (boxes(&[word("call.answer.usual"), word("call.answer.changed")])) }
        }
        Question::Spray => html! {
            (boxes(&[word("call.answer.not-used"), word("call.answer.used")]))
            p.small { (word("call.ask.spray-date")) " ____ / ________" }
        },
        Question::Medicines => {
            html! { (boxes(&[word("call.answer.nothing"), word("call.answer.something")])) (blank_line()) }
        }
        Question::Weight => {
            html! { p.small { "this morning ________ kg   three days ago ________ kg" } }
        }
        Question::Sugar => boxes(&[word("call.answer.no-low"), word("call.answer.low")]),
        Question::Falls => boxes(&[
            word("call.answer.no"),
            word("call.answer.nearly"),
            word("call.answer.fallen"),
        ]),
        Question::Joints => html! {
            p.small { "during, 0 to 10: ____" }
            (boxes(&[word("call.answer.usual"), word("call.answer.worse")]))
            @if !stations(asking).is_empty() { p.small { (word("call.ask.easier")) " ________________" } }
        },
        Question::Sleep => html! {
            (boxes(&[word("call.answer.usual"), word("call.answer.worse")])) (blank_line())
        },
        Question::Mood => html! {
            (boxes(&[word("call.answer.usual"), word("call.answer.low-or-worried")])) (blank_line())
        },
        Question::Open | Question::Own => blank_line(),
    }
}
