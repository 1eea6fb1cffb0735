//! The pictures: everything that is done, each once, with how to begin, what to do, what is easier. A brisk turn has a
//! sheet of its own under the profile; the others share one.

use super::fit::{Block, LINE_PT, Room, Sheet, bold, flow, heading, mm, title, words};
use super::order::picture_of;
use crate::page::easier;
use crate::profile::{Printed, printed};
use crate::running_order::{Cue, CueKind, RunningOrder};
use maud::{Markup, PreEscaped, html};
use rehab::programme::Phase;

/// Puts every picture on a sheet, in the order of their numbers.
pub(super) fn sheets(order: &RunningOrder, room: Room, sheets: &mut Vec<Sheet>) {
    // What is looked at while moving begins on a sheet of its own.
    let mut own = Vec::new();
    let pictures = in_order(order);
    if pictures.first().is_some_and(|first| first.turn.is_none()) {
        flow(vec![head(order, room)], room, &mut own);
    }
    for cue in pictures {
        if cue.turn.is_some() {
            own.push(Sheet::full(turn(order, cue, room)));
        } else {
            flow(vec![small_block(order, cue, room)], room, &mut own);
        }
    }
    sheets.append(&mut own);
}

fn head(order: &RunningOrder, room: Room) -> Block {
    let (head, why) = (
        order.word("print.list.pictures"),
        order.word("print.list.pictures-why"),
    );
    Block {
        height: title(head, room.width) + 4.0 + words(why, room.width),
        drawn: html! { div { h1 { (head) } p .not { (why) } } },
    }
}

/// What is shown, in the order of its numbers: getting warm, the brisk turns, and the rest.
pub(super) fn in_order(order: &RunningOrder) -> Vec<&Cue> {
    let mut shown = order.shown();
    shown.sort_by_key(|cue| match (cue.phase, cue.turn) {
        (_, Some(_)) => 1,
        (Phase::WarmUp, None) => 0,
        _ => 2,
    });
    shown
}

/// Width of the figure beside the words, with its gap, and its height, as `look/print.css` sets them.
const SMALL_MM: (f64, f64) = (46.0, 42.0);

fn small_block(order: &RunningOrder, cue: &Cue, room: Room) -> Block {
    let column = room.width - mm(SMALL_MM.0);
    let doing = &cue.doing;
    let lines: f64 = doing
        .lines
        .iter()
        .map(|line| words(line, column - 22.0) + 3.0)
        .sum();
    let said = heading(&headed(order, cue), column)
        + told(way_of(order, cue), column)
        + told_bold(&doing.set_up, column)
        + lines
        + told(&doing.tempo, column);
    let facts: f64 = small_facts(order, cue)
        .iter()
        .map(|(head, text)| words(&format!("{head}e: {text}"), room.width) + 2.0)
        .sum();
    Block {
        height: said.max(mm(SMALL_MM.1)) + facts + 24.0,
        drawn: small(order, cue),
    }
}

fn told(text: &str, width: f64) -> f64 {
    match text.is_empty() {
        true => 0.0,
        false => words(text, width),
    }
}

fn told_bold(text: &str, width: f64) -> f64 {
    match text.is_empty() {
        true => 0.0,
        false => bold(text, width),
    }
}

fn headed(order: &RunningOrder, cue: &Cue) -> String {
    let number = picture_of(order, cue).unwrap_or_default();
    format!("{number}  {}", cue.doing.name)
}

/// How it differs from another picture of the same name; empty where no other has it.
fn way_of<'a>(order: &RunningOrder, cue: &'a Cue) -> &'a str {
    let shown = order.shown();
    let namesakes = shown.iter().filter(|one| one.doing.name == cue.doing.name);
    match namesakes.count() {
        0 | 1 => "",
        _ => &cue.doing.way,
    }
}

/// Least height of the figure of a brisk turn in mm, and where the words need more room.
const FIGURE_MM: f64 = 70.0;

/// How high a brisk turn stands without its figure.
fn turn_height(order: &RunningOrder, cue: &Cue, room: Room) -> f64 {
    let column = (room.width - 32.0) / 3.0;
    let lines = cue
        .doing
        .lines
        .iter()
        .map(|line| bold(line, column))
        .fold(0.0, f64::max);
    let facts: f64 = facts_of(order, cue)
        .iter()
        .map(|(_, told)| words(told, room.width - 102.0) + 6.0)
        .sum();
    let serves = if cue.serves.is_empty() { 0.0 } else { LINE_PT };
    room.width / 640.0 * 104.0
        + 14.0
        + 34.0
        + title(&headed(order, cue), room.width)
        + serves
        + 12.0
        + lines
        + 22.0
        + facts
}

/// "Brisk turn 3, at the armchair", for every place of it that the session has.
fn place_line(order: &RunningOrder, cue: &Cue) -> String {
    let mut lines: Vec<String> = Vec::new();
    for one in all_of(order, cue) {
        let line = match one.place.is_empty() {
            true => one.short.clone(),
            false => order
                .word("print.station.slope")
                .replace("{part}", &one.short)
                .replace("{place}", &one.place),
        };
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines.join("; ")
}

/// Every brisk turn that a picture shows.
fn all_of<'a>(order: &'a RunningOrder, cue: &'a Cue) -> impl Iterator<Item = &'a Cue> {
    let turns = order.cues.iter().filter(|one| one.turn.is_some());
    turns.filter(|one| one.is_shown_as(cue))
}

fn figure(order: &RunningOrder, cue: &Cue) -> Markup {
    let still = cue
        .doing
        .figure
        .as_ref()
        .and_then(|key| order.figures.get(key));
    html! { div .fw { @if let Some(still) = still { (PreEscaped(&still.svg)) } } }
}

fn name(order: &RunningOrder, cue: &Cue) -> Markup {
    html! {
        @if let Some(number) = picture_of(order, cue) { b .pic { (number) } " " }
        span .called { (cue.doing.name) }
    }
}

/// A brisk turn; where the words need more room the figure gives way.
fn turn(order: &RunningOrder, cue: &Cue, room: Room) -> Markup {
    let tight = !room.holds(turn_height(order, cue, room) + mm(FIGURE_MM));
    let title = order
        .word("page.profile.chosen")
        .replace("{title}", &cue.title);
    let drawn = printed(
        &order.course,
        &Printed {
            width_px: 640,
            top_mets: order.top_mets,
            chosen: cue.turn.map(|turn| turn.through),
            ends: [
                order.word("page.profile.warm-up"),
                order.word("page.profile.way-down"),
            ],
            title: &title,
        },
    );
    html! {
        div .station .tight[tight] {
            div .top { (PreEscaped(drawn)) }
            p .place { (place_line(order, cue)) }
            h1 { (name(order, cue)) }
            @if !cue.serves.is_empty() { p .for { (cue.serves) } }
            (figure(order, cue))
            ul .do3 { @for line in &cue.doing.lines { li { (line) } } }
            dl {
                @for (head, told) in facts_of(order, cue) {
                    dt { (head) }
                    dd { (told) }
                }
            }
        }
    }
}

/// Anything else: figure beside the words.
fn small(order: &RunningOrder, cue: &Cue) -> Markup {
    let doing = &cue.doing;
    let way = way_of(order, cue);
    html! {
        div .half {
            (figure(order, cue))
            div {
                h2 { (name(order, cue)) }
                @if !way.is_empty() { p .how { (crate::running_order::capital(way)) } }
                @if !doing.set_up.is_empty() { p .begin { (doing.set_up) } }
                ul .plain { @for line in &doing.lines { li { (line) } } }
                @if !doing.tempo.is_empty() { p { (doing.tempo) } }
            }
            div .facts {
                @for (head, text) in small_facts(order, cue) {
                    p { b { (head) ":" } " " (text) }
                }
            }
        }
    }
}

/// What is told under a small picture. The words for what has no easier way of its own stand once, beside the lists.
fn small_facts<'a>(order: &'a RunningOrder, cue: &Cue) -> Vec<(&'a str, String)> {
    let mut facts = Vec::new();
    if cue.doing.what != cue.easier.what {
        facts.push((order.word("print.station.easier"), easier(cue)));
    }
    if !cue.doing.care.is_empty() {
        facts.push((order.word("page.session.care"), cue.doing.care.clone()));
    }
    facts
}

/// The easy turn that follows a brisk one, where it is the same each time.
fn next_easy(order: &RunningOrder, cue: &Cue) -> Option<String> {
    let after = |cue: &Cue| {
        let after = order.cues.iter().filter(|one| one.start_ms >= cue.end_ms());
        let next = after
            .take_while(|one| one.kind != CueKind::Brisk)
            .find(|one| one.kind == CueKind::Easy)?;
        let told = order
            .word("print.station.then-easy")
            .replace("{exercise}", &next.doing.name)
            .replace("{place}", &next.place);
        Some(told)
    };
    let told = after(cue)?;
    let same = all_of(order, cue).all(|one| after(one).as_ref() == Some(&told));
    same.then_some(told)
}

/// What is told beside the sentences of a brisk turn: how to begin, how long, what to feel, what is easier.
fn facts_of<'a>(order: &'a RunningOrder, cue: &Cue) -> Vec<(&'a str, String)> {
    let mut facts = Vec::new();
    if !cue.doing.set_up.is_empty() {
        facts.push((order.word("print.station.set-up"), cue.doing.set_up.clone()));
    }
    // Where it is not equally long each time, the list says how long.
    let same = all_of(order, cue).all(|one| one.length == cue.length);
    let length = if same { cue.length.as_str() } else { "" };
    let long = format!("{length} {}", cue.doing.tempo_long);
    if !long.trim().is_empty() {
        facts.push((order.word("print.station.how-long"), long.trim().to_owned()));
    }
    if !cue.feel.is_empty() {
        facts.push((order.word("print.station.feel"), cue.feel.clone()));
    }
    facts.push((order.word("print.station.easier"), easier(cue)));
    if !cue.doing.care.is_empty() {
        facts.push((order.word("page.session.care"), cue.doing.care.clone()));
    }
    if let Some(next) = next_easy(order, cue) {
        facts.push((order.word("print.station.then"), next));
    }
    facts
}
