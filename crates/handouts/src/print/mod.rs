//! The printable version of the running order: pages of A4 or Letter, words of 16 pt and more, fit for one black ink.
//!
//! What goes on which sheet is measured beforehand, so every sheet has its own foot; a sheet that holds more all the same
//! grows, and nothing is ever cut off.

mod diary;
mod fit;
mod front;
mod order;
mod pictures;

use crate::look;
use crate::running_order::RunningOrder;
use fit::{Room, flow, tuck};
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Style of the printed pages beside tokens and drawings.
const STYLE: &str = include_str!("../../look/print.css");

/// Size of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

/// What the printer has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// Colours.
    Colour,
    /// Black only: greys that survive a weary printer and a photocopy.
    Grey,
}

/// Makes the printable pages.
pub fn printed_pages(order: &RunningOrder, paper: Paper, ink: Ink) -> String {
    let (size, class) = match paper {
        Paper::A4 => ("@page{size:A4;margin:0}", "a4"),
        Paper::Letter => ("@page{size:letter;margin:0}", "letter"),
    };
    let style =
        look::faces() + size + &look::plain(&[look::TOKENS, look::DRAWINGS, STYLE].concat());
    let ink = match ink {
        Ink::Colour => "colour",
        Ink::Grey => "grey",
    };
    let title = format!("{}, {}", order.identity, order.word("print.booklet.page"));
    let room = Room::of(paper, order.is_draft());
    html! {
        (DOCTYPE)
        html lang=(order.language) data-ink=(ink) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(&style)) }
            }
            body class=(class) {
                @for (i, page) in pages(order, room).iter().enumerate() {
                    (framed(order, page, i + 1))
                }
            }
        }
    }
    .into_string()
}

/// Every page in order.
fn pages(order: &RunningOrder, room: Room) -> Vec<Markup> {
    let (first, next) = front::sheets(order, room);
    let mut sheets = vec![first];
    flow(next, room, &mut sheets);
    flow(order::blocks(order, room), room, &mut sheets);
    pictures::sheets(order, room, &mut sheets);
    tuck(order::intended(order, room), room, &mut sheets);
    let mut pages: Vec<Markup> = sheets.iter().map(fit::Sheet::drawn).collect();
    pages.extend(diary::pages(order, room));
    pages
}

/// A page with what every page bears: whose it is, letter, date, and the mark of a draft.
fn framed(order: &RunningOrder, page: &Markup, number: usize) -> Markup {
    html! {
        section .sheet {
            @if order.is_draft() { p .draft { (order.approval_words) } }
            div .body { (page) }
            footer {
                b { (order.identity) }
                span { (order.word("page.printed")) }
                b .no { (number) }
                @if !order.is_draft() { span .by { (order.approval_words) } }
            }
        }
    }
}
