//! Because: the reason of a number, closed in the margin until it is asked for.

use super::sources::citation;
use crate::phrases::full_day;
use maud::{Markup, html};
use rehab::evidence::{Because, Finding, SourceId, Tag, Value};

/// A number in the text that has a reason: a link to it.
pub(crate) fn why(id: &str, shown: &str) -> Markup {
    html! { a.why href={ "#because-" (slug(id)) } { (shown) } }
}

/// The id of a rule as the id of a part of the page.
fn slug(id: &str) -> String {
    id.replace(['/', ' '], "-")
}

/// The reason itself: value, working, from, source, unsure, changes. `id` is that of [`why`].
pub(crate) fn because(id: &str, label: &str, reason: &Because) -> Markup {
    html! {
        details.bc id={ "because-" (slug(id)) } {
            summary { (label) }
            div.reason {
            @if let Some(working) = &reason.working { p.sum { (working) } }
            p.of { (reason.text) }
            dl {
                @if !reason.inputs.is_empty() {
                    dt { "From" }
                    dd { (from(reason)) }
                }
                dt { "Source" }
                dd { (source(&reason.sources, reason.tag)) }
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
                    dd { "with " (changes) }
                }
                dt { "Rule" }
                dd.rule { (reason.rule) }
            }
            }
        }
    }
}

/// What spoke, each with its source: for answers that rest on several findings.
pub(crate) fn reasons(id: &str, label: &str, findings: &[&Finding]) -> Markup {
    html! {
        @if !findings.is_empty() {
            details.bc id={ "because-" (slug(id)) } {
                summary { (label) }
                div.reason {
                    @for one in findings {
                        p.sum { (one.text) }
                        p.from { (source(&one.sources, one.tag)) " Rule " (one.rule) "." }
                    }
                }
            }
        }
    }
}

/// What went in, each once, with its name in words.
fn from(reason: &Because) -> String {
    let mut parts: Vec<String> = Vec::new();
    for input in &reason.inputs {
        let part = match &input.value {
            Value::Date(date) => format!("{} {}", named(input.name), full_day(*date)),
            value => format!("{} {value}", named(input.name)),
        };
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
    parts.join("; ")
}

/// The name of an input without the unit that its value bears.
fn named(name: &str) -> String {
    const UNITS: [&str; 10] = [
        "_bpm", "_pct", "_years", "_mmhg", "_mets", "_days", "_kg", "_cm", "_m", "_s",
    ];
    let bare = UNITS.iter().find_map(|unit| name.strip_suffix(unit));
    let words = bare.unwrap_or(name).replace('_', " ");
    words.replace("hr", "pulse").replace("bp", "pressure")
}

/// Citations and how well the weakest number is known.
pub(crate) fn source(sources: &[SourceId], tag: Tag) -> String {
    let named: Vec<&str> = sources.iter().map(|source| citation(source.0)).collect();
    let known = match tag {
        Tag::Read => "Read.",
        Tag::Recalled => "Recalled, to be confirmed.",
        Tag::Ours => "Our default.",
        Tag::CommonPractice => "Common practice, no source.",
    };
    match named.is_empty() {
        true => known.to_owned(),
        false => format!("{}. {known}", named.join("; ")),
    }
}
