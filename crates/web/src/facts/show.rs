//! A form drawn: questions in their parts, each with label, hint, what is wrong and what was typed.

use super::ask::{Ask, Choices, Form, Kind, Part};
use super::given::Given;
use super::read::Wrong;
use crate::layout::row;
use crate::phrases::{counted, sentence};
use maud::{Markup, html};

/// Where a form goes, and the words of its ways out.
pub(crate) struct Ways<'a> {
    pub(crate) to: &'a str,
    pub(crate) button: &'a str,
    pub(crate) back: &'a str,
    /// Whether sending it is the thing to do on its page.
    pub(crate) is_next: bool,
    /// What the form was opened on: it is not written over what somebody else wrote meanwhile.
    pub(crate) opened: Option<Opened>,
}

/// The position that the next entry had when a form was opened.
#[derive(Clone, Copy)]
pub(crate) struct Opened {
    pub(crate) position: u64,
    /// Somebody has written since.
    pub(crate) stale: bool,
}

impl Opened {
    /// A form opened now.
    pub(crate) const fn at(position: u64) -> Self {
        Self {
            position,
            stale: false,
        }
    }

    /// A form that came back, held against the position that the next entry has now.
    pub(crate) fn of(given: &Given, position: u64) -> Self {
        Self {
            position,
            stale: given.one("position") != position.to_string(),
        }
    }
}

/// Draws a form.
pub(crate) fn show(form: &Form, given: &Given, wrong: &Wrong, ways: &Ways<'_>) -> Markup {
    let class = if ways.is_next { "do" } else { "act plain" };
    html! {
        form method="post" action=(ways.to) novalidate {
            @if let Some(opened) = ways.opened {
                input type="hidden" name="position" value=(opened.position);
                @if opened.stale { (row(&html! {}, &html! { p.wrong role="alert" { "Somebody has written here since this form was opened, so nothing was kept yet. What you typed is here: look in a second window at what changed, then write it down once more" } }, &html! {})) }
            }
            @if !wrong.0.is_empty() { (row(&html! {}, &summary(form, wrong), &html! {})) }
            @for part in &form.parts {
                (row(
                    &html! { b { (part.title) } },
                    &questions(part, given, wrong),
                    &html! { @if !part.about.is_empty() { p { (part.about) } }
                        @if !part.sources.is_empty() {
                            details { summary.more { "Where these come from" } dl.from-where { @for (label, from) in &part.sources { dt { (label) } dd { (from) } } } }
                        } },
                ))
            }
            (row(&html! {}, &html! { p.acts { button class=(class) type="submit" { (ways.button) } a.act href=(ways.back) { "Leave it" } } }, &html! {}))
        }
    }
}

/// The questions of a part; those that are wanted seldom stand folded, open where one of them is answered or wrong.
fn questions(part: &Part, given: &Given, wrong: &Wrong) -> Markup {
    let (folded, open): (Vec<&Ask>, Vec<&Ask>) = part.asks.iter().partition(|ask| ask.folded);
    let is_used = |ask: &&Ask| given.has(&ask.path) || wrong.0.contains_key(&ask.path);
    html! {
        div.asks { @for ask in open { (question(ask, given, wrong)) } }
        @if !folded.is_empty() {
            details open[folded.iter().any(is_used)] {
                summary.more { "More details" }
                div.asks { @for ask in folded { (question(ask, given, wrong)) } }
            }
        }
    }
}

/// What is wrong, at the top, each a link to its field.
fn summary(form: &Form, wrong: &Wrong) -> Markup {
    html! {
        div.wrongs role="alert" {
            p { b { "Nothing was kept yet: " (sentence(&counted(wrong.0.len(), "answer", "answers"))) " cannot be as written." } }
            ul {
                @for (name, message) in &wrong.0 {
                    li {
                        @match form.asks().find(|ask| ask.path == *name) {
                            Some(ask) => a href={ "#" (id(name)) } { (ask.label) },
                            None => (message),
                        }
                    }
                }
            }
        }
    }
}

/// The path as the id of a field.
fn id(path: &str) -> String {
    path.replace(['.', '[', ']'], "-")
}

fn question(ask: &Ask, given: &Given, wrong: &Wrong) -> Markup {
    let wrong = wrong.0.get(&ask.path).map(String::as_str);
    match &ask.kind {
        Kind::Ticks { of, none } => ticks(ask, of, *none, given, wrong),
        Kind::Kinds(of) => ticks(ask, of, None, given, wrong),
        Kind::Asked => asked(ask, given, wrong),
        Kind::Places => ticks(ask, &super::places::words(), None, given, wrong),
        _ => one(ask, given, wrong),
    }
}

/// Ids of hint and error, for the field to name.
fn described(ask: &Ask, wrong: Option<&str>) -> Option<String> {
    let id = id(&ask.path);
    let mut parts = Vec::new();
    if !ask.hint.is_empty() {
        parts.push(format!("{id}-hint"));
    }
    if wrong.is_some() {
        parts.push(format!("{id}-wrong"));
    }
    (!parts.is_empty()).then(|| parts.join(" "))
}

fn around(ask: &Ask, wrong: Option<&str>, field: &Markup) -> Markup {
    let id = id(&ask.path);
    let wide = ask.wide || matches!(ask.kind, Kind::Medicines) || ask.hint.len() > 60;
    html! {
        div.ask.wide[wide] {
            label for=(id) { (ask.label) }
            @if !ask.hint.is_empty() { p.hint id={ (id) "-hint" } { (ask.hint) } }
            @if let Some(wrong) = wrong { p.wrong id={ (id) "-wrong" } { (wrong) } }
            (field)
        }
    }
}

fn one(ask: &Ask, given: &Given, wrong: Option<&str>) -> Markup {
    let (id, value) = (id(&ask.path), given.one(&ask.path));
    let (described, invalid) = (described(ask, wrong), wrong.map(|_| "true"));
    let select = |of: &Choices| {
        html! {
            select.field id=(id) name=(ask.path) aria-describedby=[described.as_deref()] aria-invalid=[invalid] {
                option value="" selected[value.is_empty()] { "not known" }
                @for (word, label) in of { option value=(word) selected[value == *word] { (label) } }
            }
        }
    };
    let field = match &ask.kind {
        Kind::Choice(of) => select(of),
        Kind::YesNo => select(&vec![("yes", "yes".to_owned()), ("no", "no".to_owned())]),
        Kind::Device => select(&vec![
            ("none", "none".to_owned()),
            ("pacemaker", "a pacemaker".to_owned()),
            ("icd", "a defibrillator".to_owned()),
        ]),
        Kind::Medicines => html! {
            textarea.field id=(id) name=(ask.path) rows="5" aria-describedby=[described.as_deref()] aria-invalid=[invalid] { (value) }
        },
        // A sentence is seen whole while it is written.
        Kind::Text if ask.wide => html! {
            textarea.field.sentence id=(id) name=(ask.path) rows="2" autocomplete="off" aria-describedby=[described.as_deref()] aria-invalid=[invalid] { (value) }
        },
        kind => {
            let (input, mode) = match kind {
                Kind::Day => ("date", None),
                Kind::Number => ("text", Some("decimal")),
                _ => ("text", None),
            };
            html! {
                input.field id=(id) name=(ask.path) type=(input) inputmode=[mode] value=(value) autocomplete="off"
                    aria-describedby=[described.as_deref()] aria-invalid=[invalid];
            }
        }
    };
    around(ask, wrong, &field)
}

/// An item of the history on one line, with its three answers.
fn asked(ask: &Ask, given: &Given, wrong: Option<&str>) -> Markup {
    let (id, chosen) = (id(&ask.path), given.one(&ask.path));
    html! {
        div.asked.wide id=(id) role="radiogroup" aria-labelledby={ (id) "-item" } aria-describedby=[described(ask, wrong)] {
            p id={ (id) "-item" } { (ask.label) }
            @if let Some(wrong) = wrong { p.wrong id={ (id) "-wrong" } { (wrong) } }
            div.opts {
                @for (word, label) in super::history::answers() {
                    label.opt { input type="radio" name=(ask.path) value=(word) checked[chosen == word]; span { (label) } }
                }
            }
        }
    }
}

fn ticks(
    ask: &Ask,
    of: &Choices,
    none: Option<&'static str>,
    given: &Given,
    wrong: Option<&str>,
) -> Markup {
    let id = id(&ask.path);
    let chosen: Vec<&str> = given.all(&ask.path).collect();
    html! {
        fieldset.ask.wide id=(id) aria-describedby=[described(ask, wrong)] {
            legend { (ask.label) }
            @if !ask.hint.is_empty() { p.hint id={ (id) "-hint" } { (ask.hint) } }
            @if let Some(wrong) = wrong { p.wrong id={ (id) "-wrong" } { (wrong) } }
            div.ticks {
                @for (word, label) in of {
                    label.tick { input type="checkbox" name=(ask.path) value=(word) checked[chosen.contains(word)]; span { (label) } }
                }
                @if let Some(none) = none {
                    label.tick { input type="checkbox" name=(ask.path) value="none" checked[chosen.contains(&"none")]; span { b { (none) } } }
                }
            }
        }
    }
}
