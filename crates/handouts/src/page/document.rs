//! The whole programme as a readable document: what stands there without a script, and behind "read it all".

use crate::profile::{Patient, patient};
use crate::running_order::{Cue, Doing, Part, Row, RunningOrder};
use maud::{Markup, PreEscaped, html};

/// The document.
pub(super) fn document(order: &RunningOrder) -> Markup {
    html! {
        main #whole {
            noscript { p .note { (order.word("page.start.no-script")) } }
            p .only-js { button #back-to-app type="button" .b.ink { (order.word("page.buttons.close")) } }
            h1 { (order.word("print.booklet.title")) }
            p { b { (order.identity) } ". " (order.word("page.printed")) }
            p .quiet { (order.approval_words) }
            (check(order))
            (stop(order))
            (session(order))
            section {
                h2 { (order.word("page.end.head")) }
                ul .plain { @for line in &order.closing.last { li { (line) } } }
            }
            p .quiet { (order.word("page.intended.use")) " " (order.word("page.intended.doctor-first")) }
        }
    }
}

fn check(order: &RunningOrder) -> Markup {
    html! {
        section {
            h2 { (order.word("check.head")) }
            p { b { (order.word("check.print.leave-it")) } " " (order.word("check.print.if-one")) }
            ul .marks {
                @for row in &order.check { @for line in &row.paper { li { (line) } } }
            }
            h2 { (order.word("page.ready.head")) }
            ol .ready { @for line in &order.ready { li { (line) } } }
        }
    }
}

fn stop(order: &RunningOrder) -> Markup {
    html! {
        section .halt {
            h2 { (order.word("print.stop.head")) }
            p { (order.stop.when) }
            p { a .num href=(format!("tel:{}", super::dialled(&order.emergency.number))) { (order.word("page.call")) } }
            p { (order.stop.call_if) " " (order.emergency.text) }
            p { a .num href=(format!("tel:{}", super::dialled(&order.team.number))) { (order.team.number) } }
            p { (order.word("page.team")) "."
                @if let Some(otherwise) = &order.team.otherwise {
                    " " (order.word("page.out-of-hours").replace("{text}", otherwise.trim_end_matches('.'))) "."
                }
            }
            @if let Some(shock) = &order.stop.shock { p { (shock) } }
            p { (order.stop.afterwards) }
            @if !order.nitrate.is_empty() {
                h3 { (order.word("print.spray.head")) }
                p { (order.word("print.spray.sitting")) " " (order.word("print.spray.faint")) }
                ol { @for step in &order.nitrate { li { (step) } } }
            }
            p { b { (order.word("page.nobody-watching")) } " " (order.word("page.does-not-tell")) }
        }
    }
}

fn session(order: &RunningOrder) -> Markup {
    let title = order
        .word("page.profile.whole")
        .replace("{sum}", &order.sum);
    let drawn = patient(
        &order.course,
        &Patient {
            width_px: super::data::WAY_PX,
            top_mets: order.top_mets,
            at_ms: None,
            place: "",
            ends: [
                order.word("page.profile.start"),
                order.word("page.profile.end"),
            ],
            title: &title,
        },
    );
    html! {
        section {
            h2 { (order.word("print.session.head")) }
            p { (order.sum) " " (order.often) }
            p { (order.word("page.start.own-pace")) " " (order.word("page.session.talk-test")) }
            div #whole-way-template .way { (PreEscaped(drawn)) }
            @for part in &order.parts { (listed(order, part)) }
        }
    }
}

/// A part with everything that is done in it. What was shown in an earlier round stands there by name and length.
fn listed(order: &RunningOrder, part: &Part) -> Markup {
    html! {
        h2 { (part.head) ", " (part.length) }
        @if let Some(again) = &part.again {
            p { b { (again) " " (part.length) "." } }
        } @else {
            @for row in &part.rows { (one(order, part, row)) }
        }
    }
}

fn one(order: &RunningOrder, part: &Part, row: &Row) -> Markup {
    let cue = &order.cues[row.cue];
    html! {
        @if cue.doing.what.is_none() {
            p .between { (cue.told()) " " (row.length) "." }
        } @else if part.round > 1 && is_told_before(order, row.cue) {
            p { (cue.title) ": " b { (cue.doing.name) } @if !cue.place.is_empty() { ", " (cue.place) } ". " (row.length) "." }
        } @else {
            (station(order, cue, &row.length))
        }
    }
}

fn is_told_before(order: &RunningOrder, index: usize) -> bool {
    let (before, from_here) = order.cues.split_at(index);
    before.iter().any(|one| one.is_shown_as(&from_here[0]))
}

fn station(order: &RunningOrder, cue: &Cue, length: &str) -> Markup {
    let doing = &cue.doing;
    let figure = doing
        .figure
        .as_ref()
        .and_then(|key| order.figures.get(key).map(|still| (key, still)));
    html! {
        article .station {
            @if let Some((key, still)) = figure {
                div .fig data-fig=(key) { (PreEscaped(&still.svg)) }
            }
            div {
                p .place { (cue.title) @if !cue.place.is_empty() { ", " (cue.place) } }
                h3 { (doing.name) }
                @if !cue.serves.is_empty() { p .quiet { (cue.serves) } }
                @if !doing.set_up.is_empty() { p { (doing.set_up) } }
                ul .plain { @for line in &doing.lines { li { (line) } } }
                dl {
                    dt { (order.word("page.session.how-long")) }
                    dd { (length) ". " (doing.tempo_long) }
                    @if !cue.feel.is_empty() {
                        dt { (order.word("page.session.what-to-feel")) }
                        dd { (cue.feel) }
                    }
                    @if !doing.care.is_empty() {
                        dt { (order.word("page.session.care")) }
                        dd { (doing.care) }
                    }
                    dt { (order.word("page.session.easier")) }
                    dd { (easier(cue)) }
                }
            }
        }
    }
}

/// The easier way in words: of the same exercise how it differs, of another its name and what to do.
pub(crate) fn easier(cue: &Cue) -> String {
    let (doing, easier) = (&cue.doing, &cue.easier);
    let told = easier_way(doing, easier);
    match easier.care.is_empty() || easier.care == doing.care {
        true => told,
        false => format!("{told} {}", easier.care),
    }
}

fn easier_way(doing: &Doing, easier: &Doing) -> String {
    let same = doing.what.as_ref().map(|one| &one.exercise)
        == easier.what.as_ref().map(|one| &one.exercise);
    let way = crate::running_order::capital(&easier.way);
    match (same, way.is_empty()) {
        (true, false) if easier.lines == doing.lines => format!("{way}."),
        (true, false) => format!("{way}. {}", easier.lines.join(" ")),
        (true, true) => easier.lines.join(" "),
        (false, true) => format!("{}. {}", easier.name, easier.lines.join(" ")),
        (false, false) => format!(
            "{}, {}. {}",
            easier.name,
            easier.way,
            easier.lines.join(" ")
        ),
    }
}
