//! The session at a glance and the lists: what is done, in order, how long, and which picture shows it.

use super::fit::{Block, Room, heading, title, words};
use crate::profile::{Printed, printed};
use crate::running_order::{Cue, CueKind, Part, Row, RunningOrder};
use core::ops::Range;
use maud::{Markup, PreEscaped, html};

/// Widths in pt of the columns beside the one that says what is done, as `look/print.css` sets them, with their gaps.
const BESIDE_PT: f64 = 48.0 + 92.0 + 34.0 + 8.0;
/// What a row has beside its lines.
const ROW_PT: f64 = 4.0;

/// The glance, then a list for each part; one that is longer than a sheet goes on under its own head.
pub(super) fn blocks(order: &RunningOrder, room: Room) -> Vec<Block> {
    let mut blocks = vec![glance(order, room)];
    for part in &order.parts {
        blocks.extend(listed(order, part, room));
    }
    blocks
}

/// What the page is for, in small words.
pub(super) fn intended(order: &RunningOrder, room: Room) -> Block {
    let told = format!(
        "{} {}",
        order.word("page.intended.use"),
        order.word("page.intended.doctor-first")
    );
    Block {
        // Smaller words than those that are measured: never too low.
        height: 12.0 + words(&told, room.width),
        drawn: html! { p .signed { (told) } },
    }
}

fn glance(order: &RunningOrder, room: Room) -> Block {
    let sum = format!("{} {}", order.sum, order.often);
    let advice = advice(order);
    let title_words = order
        .word("page.profile.whole")
        .replace("{sum}", &order.sum);
    let drawn = printed(
        &order.course,
        &Printed {
            width_px: 640,
            top_mets: order.top_mets,
            chosen: None,
            ends: [
                order.word("page.profile.warm-up"),
                order.word("page.profile.way-down"),
            ],
            title: &title_words,
        },
    );
    let head = order.word("print.session.head");
    Block {
        height: title(head, room.width)
            + 4.0
            + words(&sum, room.width)
            + 14.0
            + room.width / 640.0 * 104.0
            + 10.0
            + order.parts.len() as f64 * 28.0
            + 10.0
            + words(&advice, room.width)
            + 16.0,
        drawn: html! {
            div .glance {
                h1 { (head) }
                p .not { (sum) }
                div .top { (PreEscaped(drawn)) }
                table .way {
                    tbody {
                        @for part in &order.parts {
                            tr { td { b { (part.head) } } td { (part.turns) } td { (part.length) } }
                        }
                    }
                }
                p .gap { (advice) }
            }
        },
    }
}

fn advice(order: &RunningOrder) -> String {
    let mut places: Vec<&str> = order.cues.iter().map(|cue| cue.place.as_str()).collect();
    places.retain(|place| !place.is_empty());
    places.sort_unstable();
    places.dedup();
    let walks = (places.len() > 1).then_some("print.session.walk-between");
    let told = [
        "print.list.how",
        "page.session.slower-fine",
        "print.list.too-much",
        "page.session.talk-test",
        "page.start.own-pace",
    ];
    let told = walks.into_iter().chain(told);
    told.map(|id| order.word(id)).collect::<Vec<_>>().join(" ")
}

/// The list of a part, in as many blocks as it needs sheets.
fn listed(order: &RunningOrder, part: &Part, room: Room) -> Vec<Block> {
    let head = |rows: f64| {
        let place = if part.place.is_empty() { 0.0 } else { 22.0 };
        heading(&head_words(part), room.width) + place + 24.0 + rows + 16.0
    };
    if let Some(again) = &part.again {
        let told = format!("{again} {}.", part.length);
        return vec![Block {
            height: head(words(&told, room.width)),
            drawn: html! { div .list { h2 { (head_words(part)) } p .again { (told) } } },
        }];
    }
    let column = room.width - BESIDE_PT;
    let heights: Vec<f64> = part
        .rows
        .iter()
        .map(|row| words(&plain(order, row), column) + ROW_PT)
        .collect();
    divided(&heights, |height| room.holds(head(height)))
        .into_iter()
        .map(|rows| Block {
            height: head(heights[rows.clone()].iter().sum()),
            drawn: list(order, part, &part.rows[rows]),
        })
        .collect()
}

/// Rows over as few sheets as hold them, about as many on each: no row stands alone on the last one.
fn divided(heights: &[f64], holds: impl Fn(f64) -> bool) -> Vec<Range<usize>> {
    let filled = |most: f64| {
        let mut sheets = Vec::new();
        let (mut from, mut height) = (0, 0.0);
        for (i, own) in heights.iter().enumerate() {
            let more = height + own;
            if i > from && (more > most || !holds(more)) {
                sheets.push(from..i);
                (from, height) = (i, 0.0);
            }
            height += own;
        }
        sheets.push(from..heights.len());
        sheets
    };
    let full = filled(f64::INFINITY);
    let all: f64 = heights.iter().sum();
    let largest = heights.iter().copied().fold(0.0, f64::max);
    let even = filled(all / full.len() as f64 + largest);
    if even.len() == full.len() { even } else { full }
}

/// "Getting warm, 15 minutes".
fn head_words(part: &Part) -> String {
    format!("{}, {}", part.head, part.length)
}

fn list(order: &RunningOrder, part: &Part, rows: &[Row]) -> Markup {
    html! {
        div .list {
            h2 { (head_words(part)) }
            @if !part.place.is_empty() { p .place { (part.place) } }
            table .turns {
                thead {
                    tr {
                        th { (order.word("print.list.from")) }
                        th {}
                        th { (order.word("page.session.how-long")) }
                        th .no { (order.word("print.list.picture")) }
                    }
                }
                tbody { @for row in rows { (drawn(order, row)) } }
            }
        }
    }
}

fn drawn(order: &RunningOrder, row: &Row) -> Markup {
    let cue = &order.cues[row.cue];
    let picture = picture_of(order, cue);
    html! {
        tr .over[picture.is_none()] {
            td .from { (row.from) }
            td .what {
                @if let Some(turn) = lead(cue) { (turn) ": " }
                @if cue.doing.what.is_some() { b { (cue.doing.name) } } @else { (cue.told()) }
                @if !row.how.is_empty() { span .how { ", " (row.how) } }
            }
            td .long { (row.length) }
            td .no { @if let Some(picture) = picture { (picture) } }
        }
    }
}

/// What stands before the name of a turn.
fn lead(cue: &Cue) -> Option<&str> {
    matches!(cue.kind, CueKind::Brisk | CueKind::Easy).then_some(cue.short.as_str())
}

/// The words of a row, as they are measured.
fn plain(order: &RunningOrder, row: &Row) -> String {
    let cue = &order.cues[row.cue];
    // The name is bold and so a little wider.
    let wider = "e".repeat(cue.doing.name.chars().count() / 12);
    let name = match cue.doing.what {
        Some(_) => format!("{}{wider}", cue.doing.name),
        None => cue.told(),
    };
    let lead = lead(cue).map_or_else(String::new, |lead| format!("{lead}: "));
    match row.how.is_empty() {
        true => format!("{lead}{name}"),
        false => format!("{lead}{name}, {}", row.how),
    }
}

/// The number of the picture that shows a thing.
pub(super) fn picture_of(order: &RunningOrder, cue: &Cue) -> Option<usize> {
    let pictures = super::pictures::in_order(order);
    let place = pictures.iter().position(|one| one.is_shown_as(cue))?;
    Some(place + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_rows_are_divided_evenly_and_none_is_lost() {
        for count in 1..60 {
            let heights = vec![24.0; count];
            let sheets = divided(&heights, |height| height <= 20.0 * 24.0);
            assert_eq!(sheets.len(), count.div_ceil(20));
            assert_eq!(sheets.first().map(|rows| rows.start), Some(0));
            assert_eq!(sheets.last().map(|rows| rows.end), Some(count));
            assert!(sheets.windows(2).all(|pair| pair[0].end == pair[1].start));
            let least = sheets.iter().map(|rows| rows.len()).min();
            assert!(sheets.len() == 1 || least >= Some(8), "{count}: {sheets:?}");
        }
    }
}
