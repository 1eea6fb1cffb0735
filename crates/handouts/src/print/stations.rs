//! The stations: a brisk turn has a page of its own under the profile, everything else shares one by twos.

use super::fit::{LINE_PT, Room, bold, mm, title, words};
use crate::page::easier;
use crate::profile::{Printed, printed};
use crate::running_order::{Cue, CueKind, RunningOrder};
use maud::{Markup, PreEscaped, html};
use rehab::programme::Phase;

pub(super) fn pages(order: &RunningOrder, room: Room) -> Vec<Markup> {
    let stations = order.stations();
    let of = |phase: Phase, kind: CueKind| -> Vec<&Cue> {
        let wanted = stations
            .iter()
            .filter(|cue| cue.phase == phase && cue.kind == kind);
        wanted.copied().collect()
    };
    let mut pages = by_twos(order, &of(Phase::WarmUp, CueKind::Slope), room);
    let brisk = of(Phase::Conditioning, CueKind::Brisk);
    pages.extend(brisk.iter().map(|cue| turn(order, cue, room)));
    // Every brisk page names the easy turn after it; the easy turns stand together behind them.
    pages.extend(by_twos(
        order,
        &of(Phase::Conditioning, CueKind::Easy),
        room,
    ));
    pages.extend(by_twos(order, &of(Phase::CoolDown, CueKind::Slope), room));
    pages
}

/// As many to a page as it holds, two at most.
fn by_twos(order: &RunningOrder, cues: &[&Cue], room: Room) -> Vec<Markup> {
    let mut pages = Vec::new();
    let mut rest = cues;
    while let Some((first, after)) = rest.split_first() {
        let second = after.first().filter(|second| {
            room.holds(small_height(order, first, room) + small_height(order, second, room))
        });
        pages.push(html! {
            (small(order, first))
            @if let Some(second) = second { (small(order, second)) }
        });
        rest = if second.is_some() { &after[1..] } else { after };
    }
    pages
}

/// How high half a page stands: as `look/print.css` sets it.
fn small_height(order: &RunningOrder, cue: &Cue, room: Room) -> f64 {
    let column = room.width - mm(54.0);
    let lines: f64 = cue
        .doing
        .lines
        .iter()
        .map(|line| words(line, column - 22.0) + 3.0)
        .sum();
    let facts: f64 = facts_of(order, cue)
        .iter()
        .map(|(_, told)| words(told, room.width - 102.0) + 6.0)
        .sum();
    let said = bold(&place_line(order, cue), column) + 28.0 + lines;
    said.max(mm(50.0)) + facts + 24.0
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
        + title(&cue.doing.name, room.width)
        + serves
        + 12.0
        + lines
        + 22.0
        + facts
}

/// "Brisk turn 3, at the armchair".
fn place_line(order: &RunningOrder, cue: &Cue) -> String {
    if cue.place.is_empty() {
        return cue.short.clone();
    }
    order
        .word("print.station.slope")
        .replace("{part}", &cue.short)
        .replace("{place}", &cue.place)
}

fn figure(order: &RunningOrder, cue: &Cue) -> Markup {
    let still = cue
        .doing
        .figure
        .as_ref()
        .and_then(|key| order.figures.get(key));
    html! { div .fw { @if let Some(still) = still { (PreEscaped(&still.svg)) } } }
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
            h1 { (cue.doing.name) }
            @if !cue.serves.is_empty() { p .for { (cue.serves) } }
            (figure(order, cue))
            ul .do3 { @for line in &cue.doing.lines { li { (line) } } }
            (facts(order, cue))
        }
    }
}

/// Anything else: figure beside the words.
fn small(order: &RunningOrder, cue: &Cue) -> Markup {
    html! {
        div .half {
            (figure(order, cue))
            div {
                p .place { (place_line(order, cue)) }
                h2 { (cue.doing.name) }
                ul .plain { @for line in &cue.doing.lines { li { (line) } } }
            }
            (facts(order, cue))
        }
    }
}

fn facts(order: &RunningOrder, cue: &Cue) -> Markup {
    html! {
        dl {
            @for (head, told) in facts_of(order, cue) {
                dt { (head) }
                dd { (told) }
            }
        }
    }
}

/// The easy turn that follows a brisk one.
fn next_easy(order: &RunningOrder, cue: &Cue) -> Option<String> {
    let after = order.cues.iter().filter(|one| one.start_ms >= cue.end_ms());
    let next = after
        .take_while(|one| one.kind != CueKind::Brisk)
        .find(|one| one.kind == CueKind::Easy)?;
    let fill = |id: &str| {
        order
            .word(id)
            .replace("{exercise}", &next.doing.name)
            .replace("{place}", &next.place)
    };
    (cue.kind == CueKind::Brisk).then(|| fill("print.station.then-easy"))
}

/// What is told beside the sentences: how to begin, how long, what to feel, what is easier.
fn facts_of<'a>(order: &'a RunningOrder, cue: &Cue) -> Vec<(&'a str, String)> {
    let brisk = cue.kind == CueKind::Brisk;
    let mut facts = Vec::new();
    if brisk && !cue.doing.set_up.is_empty() {
        facts.push((order.word("print.station.set-up"), cue.doing.set_up.clone()));
    }
    let long = format!("{} {}", cue.length, cue.doing.tempo_long);
    facts.push((
        order.word("print.station.how-long"),
        long.trim_end().to_owned(),
    ));
    if brisk && !cue.feel.is_empty() {
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
