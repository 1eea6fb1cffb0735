//! The last pages: when you have done, and the diary with three big boxes for each session.

use super::fit::{Room, title, words};
use crate::running_order::RunningOrder;
use maud::{Markup, html};
use rehab::assessment::EffortScale;

/// Height in pt of one row of the diary: day, three boxes, the space between.
const ROW_PT: f64 = 136.0;
/// What a second line beside the day takes.
const LINE_PT: f64 = 34.0;
/// Rows of a whole page at most.
const MOST_ROWS: usize = 6;

pub(super) fn pages(order: &RunningOrder, room: Room) -> Vec<Markup> {
    let head = title(order.word("print.end.head"), room.width);
    let lines = last_lines(order);
    let last: f64 = lines
        .iter()
        .map(|line| words(line, room.width - 26.0) + 5.0)
        .sum();
    let intro = 28.0 + words(&how_words(order), room.width) + 56.0;
    let fitting = |used: f64| {
        let rows = (1..=MOST_ROWS)
            .rev()
            .find(|rows| room.holds(used + *rows as f64 * row_pt(order)));
        rows.unwrap_or(1)
    };
    let tail = words(order.word("print.diary.read-out"), room.width) + 10.0;
    vec![
        html! {
            h1 { (order.word("print.end.head")) }
            ul .marks .last { @for line in &lines { li { (line) } } }
            h2 { (order.word("print.diary.head")) }
            (rows(order, fitting(head + last + 22.0 + intro)))
        },
        html! {
            h1 { (order.word("print.diary.head")) }
            (rows(order, fitting(36.0 + intro + tail)))
            p .gap { (order.word("print.diary.read-out")) " " b { (order.team.number) } }
        },
    ]
}

fn row_pt(order: &RunningOrder) -> f64 {
    ROW_PT + if has_two_lines(order) { LINE_PT } else { 0.0 }
}

/// Two pulses leave room for the weight or the spray beside the day, not for both.
fn has_two_lines(order: &RunningOrder) -> bool {
    order.closing.pulse_s.is_some() && order.closing.weight.is_some() && order.closing.spray
}

fn last_lines(order: &RunningOrder) -> [String; 4] {
    ["stay-up", "near-telephone", "no-hot-bath", "write"]
        .map(|id| order.word(&format!("print.end.{id}")).to_owned())
}

fn how_words(order: &RunningOrder) -> String {
    format!(
        "{} {}",
        order.word("print.diary.how"),
        order.closing.scale_words
    )
}

/// The questions once over the columns, then a row for each session.
fn rows(order: &RunningOrder, count: usize) -> Markup {
    let (least, most) = match order.closing.scale {
        EffortScale::ZeroToTen => ("0", "10"),
        EffortScale::SixToTwenty => ("6", "20"),
    };
    let number = order
        .word("print.diary.how-number")
        .replace("{least}", least)
        .replace("{most}", most);
    html! {
        p .not { (how_words(order)) " " (number) }
        div .entry .asked {
            b { (order.word("print.diary.done")) }
            b { (order.word("print.diary.effort")) }
            b { (order.word("print.diary.signs")) }
        }
        @for _ in 0..count { (row(order)) }
    }
}

fn row(order: &RunningOrder) -> Markup {
    html! {
        div .entry {
            p .day {
                span { (order.word("print.diary.date")) }
                @if order.closing.pulse_s.is_some() {
                    span { (order.word("print.diary.pulse-before")) }
                    span { (order.word("print.diary.pulse-after")) }
                }
                @if !has_two_lines(order) { (further(order)) }
            }
            @if has_two_lines(order) { p .day { (further(order)) } }
            div .box { (ring(order, "print.diary.all")) (ring(order, "print.diary.some")) (ring(order, "print.diary.none")) }
            div .box {}
            div .box { (ring(order, "print.diary.nothing")) (ring(order, "print.diary.as-usual")) (ring(order, "print.diary.new")) }
        }
    }
}

fn further(order: &RunningOrder) -> Markup {
    html! {
        @if order.closing.weight.is_some() { span { (order.word("print.diary.weight")) } }
        @if order.closing.spray { span .ring { (order.word("print.diary.spray")) } }
    }
}

fn ring(order: &RunningOrder, id: &str) -> Markup {
    html! { span .ring { (order.word(id)) } }
}
