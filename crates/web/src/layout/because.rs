//! Because: the reason of a number, closed in the margin until it is asked for.

use maud::{Markup, html};
use rehab::evidence::Because;

/// A number in the text that has a reason: a link to it.
pub(crate) fn why(id: &str, shown: &str) -> Markup {
    html! { a.why href={ "#because-" (id) } { (shown) } }
}

/// The reason itself: value, working, from, source, unsure, changes. `id` is that of [`why`].
pub(crate) fn because(id: &str, label: &str, reason: &Because) -> Markup {
    html! {
        details.bc id={ "because-" (id) } {
            summary { (label) }
            @if let Some(working) = &reason.working {
                p.sum { (working) }
            } @else {
                p.sum { (reason.text) }
            }
            dl {
                @if !reason.inputs.is_empty() {
                    dt { "From" }
                    dd { (from(reason)) }
                }
                dt { "Source" }
                dd { (source(reason)) }
                @if !reason.assumed.is_empty() {
                    dt { "Assumed" }
                    dd { (reason.assumed.join("; ")) }
                }
                @if let Some(unsure) = &reason.unsure {
                    dt { "Unsure" }
                    dd { (unsure) }
                }
                @if let Some(changes) = &reason.changes_with {
                    dt { "Changes" }
                    dd { (changes) }
                }
                dt { "Rule" }
                dd.rule { (reason.rule) }
            }
        }
    }
}

fn from(reason: &Because) -> String {
    let parts: Vec<String> = reason
        .inputs
        .iter()
        .map(|input| format!("{} {}", input.name.replace('_', " "), input.value))
        .collect();
    parts.join("; ")
}

fn source(reason: &Because) -> String {
    let ids: Vec<&str> = reason.sources.iter().map(|source| source.0).collect();
    match ids.is_empty() {
        true => reason.tag.word().to_owned(),
        false => format!("{}. {}", ids.join(", "), sentence(reason.tag.word())),
    }
}

fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
