//! The session page: one HTML file with everything inside, from a file, a memory stick or the team's server.
//!
//! The page holds no clinical rule: rows, bounds, outcomes and easier ways come ready in the running order. Without a
//! script the whole programme stands there to be read.

mod data;
mod document;
mod script;
mod shared;

pub(crate) use document::easier;

use crate::base64;
use crate::look;
use crate::profile::{Walking, walking};
use crate::running_order::RunningOrder;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use sha2::{Digest, Sha256};
use shared::share;
use std::collections::BTreeSet;

/// Style of the page beside tokens and drawings.
const STYLE: &str = include_str!("../../look/session.css");

/// Makes the session page.
pub fn session_page(order: &RunningOrder) -> String {
    let style = look::faces() + &look::plain(&[look::TOKENS, look::DRAWINGS, STYLE].concat());
    let script = script::script();
    let policy = format!(
        "default-src 'none'; script-src '{}'; style-src '{}'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'",
        digest(&script),
        digest(&style)
    );
    let title = order.word("page.title").to_owned();
    let shared = share(&[
        document::document(order).into_string(),
        stores(order).into_string(),
    ]);
    html! {
        (DOCTYPE)
        html lang=(order.language) {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(policy);
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="referrer" content="no-referrer";
                meta name="format-detection" content="telephone=no";
                title { (title) }
                style { (PreEscaped(&style)) }
            }
            body {
                @if order.is_draft() { p .draft { (order.approval_words) } }
                main #app hidden {}
                @for drawing in &shared.drawings { (PreEscaped(drawing)) }
                (PreEscaped(&shared.held))
                script type="application/json" id="order" { (PreEscaped(data::data(order))) }
                script { (PreEscaped(&script)) }
            }
        }
    }
    .into_string()
}

/// Drawings that only the script shows: the walking profile, and the figures of the easier ways.
fn stores(order: &RunningOrder) -> Markup {
    let in_document: BTreeSet<&String> = order
        .cues
        .iter()
        .filter(|cue| cue.doing.what.is_some())
        .filter_map(|cue| cue.doing.figure.as_ref())
        .collect();
    let drawn = walking(
        &order.course,
        &Walking {
            width_px: data::WAY_PX,
            top_mets: order.top_mets,
            ends: [
                order.word("page.profile.start"),
                order.word("page.profile.end"),
            ],
            title: &order
                .word("page.profile.whole")
                .replace("{sum}", &order.sum),
        },
    );
    html! {
        div hidden {
            div #way-template { (PreEscaped(drawn)) }
            @for (key, still) in &order.figures {
                @if !in_document.contains(key) {
                    div data-fig=(key) { (PreEscaped(&still.svg)) }
                }
            }
        }
    }
}

/// A number as it is dialled: digits and a leading plus.
pub(crate) fn dialled(number: &str) -> String {
    number
        .char_indices()
        .filter(|(i, sign)| sign.is_ascii_digit() || (*i == 0 && *sign == '+'))
        .map(|(_, sign)| sign)
        .collect()
}

/// A digest as the security policy names it.
fn digest(text: &str) -> String {
    format!(
        "sha256-{}",
        base64::encode(&Sha256::digest(text.as_bytes()))
    )
}
