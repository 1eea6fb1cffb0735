//! All that was written: every entry in order with its author; corrections are seen, nothing is overwritten.

use super::super::casefile::CaseFile;
use super::keys::{in_words, value_in_words};
use crate::address;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, case_page, row};
use crate::phrases::{self, calendar_day, counted, page_of, sentence};
use axum::Form;
use axum::extract::Path;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use formats::tree::{Content, Node, Table};
use jiff::civil::Date;
use maud::{Markup, html};
use records::{Entry, EntryId, User};
use rehab::assessment::Case;
use rehab::course::{Channel, Happening, SAME_NAME, Stands, is_same_name, less_careful};
use rehab::diary::DiaryEntry;
use serde::Deserialize;
use std::collections::BTreeMap;

pub(crate) async fn show(signed: Signed, Path(id): Path<String>) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "all-that-was-written").await?;
    let users = signed.store.users().await?;
    let text = html! {
        h1.title { "All that was written" }
        p.lead { (file.called()) ". " (sentence(&counted(file.entries.len(), "entry", "entries"))) ", the newest first. Nothing is overwritten; what was struck out can still be read." }
        form method="post" action=(address::of_case(file.id, "note")) {
            div.ask {
                label for="note" { "A note" }
                p.hint id="note-hint" { "Kept beside the course; it changes nothing in it" }
                textarea.field id="note" name="note" rows="2" aria-describedby="note-hint" required {}
            }
            p.acts { button.act.plain type="submit" { "Write it down" } a.act href=(address::case(file.id)) { "Back to " (file.called()) } }
        }
    };
    let body = html! {
        (row(&html! {}, &text, &access(&signed, &file)))
        section.group { @for written in in_order(&file)?.iter().rev() { (entry(written, &users, &file)) } }
    };
    Ok(case_page(
        &signed,
        &file,
        "All that was written",
        Nav::People,
        &body,
    ))
}

/// The way to the access log, for those who may see it.
fn access(signed: &Signed, file: &CaseFile) -> Markup {
    let may = signed.user.roles.lead || signed.user.roles.administrator;
    html! { @if may { p { a href=(address::of_case(file.id, "access")) { "Who opened this case" } } } }
}

/// An entry with what it says, and the case as it was before.
struct Written<'a> {
    entry: &'a Entry,
    happening: Happening,
    before: Option<Case>,
}

fn in_order(file: &CaseFile) -> Result<Vec<Written<'_>>, PageError> {
    let mut before: Option<Case> = None;
    let mut all = Vec::new();
    for entry in &file.entries {
        let happening = formats::journal::read_body(entry.kind.as_str(), &entry.body)?;
        let earlier = before.clone();
        if let (Happening::Case(case), None) = (&happening, entry.superseded_by) {
            before = Some((**case).clone());
        }
        all.push(Written {
            entry,
            happening,
            before: earlier,
        });
    }
    Ok(all)
}

fn entry(written: &Written<'_>, users: &[User], file: &CaseFile) -> Markup {
    let entry = written.entry;
    let author = users
        .iter()
        .find(|user| user.id == entry.author)
        .map_or("somebody who is no longer known", |user| {
            user.full_name.as_str()
        });
    let struck = entry
        .superseded_by
        .and_then(|by| file.entries.iter().find(|one| one.id == by));
    let text = html! {
        div.struck[struck.is_some()] { (said(written, file)) }
        @if let Some(by) = struck { p.small { "Struck out by entry " (by.position) "." } }
    };
    let gutter = html! { b { (calendar_day(entry.effective.date(), file.on)) } br; (entry.effective.strftime("%H:%M")) };
    let is_draft = matches!(written.happening, Happening::Unfinished(_));
    let can_strike =
        struck.is_none() && entry.position > 1 && (is_draft || entry.supersedes.is_none());
    let margin = html! {
        p { "Entry " (entry.position) ", " (author) "." }
        @if can_strike { (strike_form(entry, file)) }
    };
    html! { article.en.written id={ "entry-" (entry.position) } { (row(&gutter, &text, &margin)) } }
}

fn strike_form(entry: &Entry, file: &CaseFile) -> Markup {
    let name = format!("why-{}", entry.position);
    html! {
        details {
            summary.more { "This is wrong" }
            form method="post" action=(address::of_case(file.id, "strike")) {
                input type="hidden" name="entry" value=(entry.id);
                div.ask {
                    label for=(name) { "What is wrong with it" }
                    input.field id=(name) name="why" type="text" autocomplete="off" required;
                }
                p.acts { button.act.plain type="submit" { "Strike it out" } }
            }
        }
    }
}

fn said(written: &Written<'_>, file: &CaseFile) -> Markup {
    match &written.happening {
        Happening::Case(case) => facts(case, written.before.as_ref()),
        Happening::Status(kind) => html! { p { "Standing: " (phrases::status(*kind)) "." } },
        Happening::Signed(plan) => {
            let pages: Vec<String> = plan
                .stages
                .iter()
                .map(|stage| page_of(stage.number))
                .collect();
            html! {
                p { (sentence(&phrases::list(&pages))) " signed by " (plan.by.name) ", " (plan.by.role) "." }
                (crate::drafted::seconded(plan))
            }
        }
        // Written with the signature: sessions may still have to be watched before it may be handed over.
        Happening::Released { stage } => html! {
            p { (sentence(&page_of(*stage))) " is their page from here on; it is handed over once it waits for nothing." }
        },
        Happening::Watched(session) => super::session::said(file.app.words(), session),
        Happening::Diary { channel, entries } => html! {
            p { "News " (way(*channel)) ": " (counted(entries.len(), "entry", "entries")) " of the diary." }
            (days_told(entries, file.on))
        },
        Happening::Called(call) => html! {
            p { @if call.reached { "Spoken with, " } @else { "Not reached, " } (call.contact.kind) "." }
            @if !call.note.is_empty() { p { (call.note) } }
        },
        Happening::Unfinished(sheet) => html! {
            p { "A call sheet kept as a draft; nothing in it counts." }
            p { "What would have followed: " (sheet.follows) }
            dl.changes { @for (name, value) in &sheet.answers { dt { (name.replace(['-', '_'], " ")) } dd { (value) } } }
        },
        Happening::Settled(settled) => html! { p { "Answered: " (settled.done) } },
        Happening::Chosen(choices) => html! {
            p { "Chosen for " (page_of(choices.stage)) ": "
                (phrases::counted(choices.pins.len(), "turn fixed", "turns fixed")) ", "
                (phrases::counted(choices.bans.len(), "exercise never", "exercises never")) "." }
        },
        Happening::Note(note) => html! { p.lines { (note) } },
    }
}

/// The days that were told: those without words in one line, the others each with theirs.
fn days_told(entries: &[DiaryEntry], on: Date) -> Markup {
    let silent = entries.iter().filter(|one| one.note.is_none());
    let days: Vec<String> = silent.map(|one| calendar_day(one.date, on)).collect();
    html! {
        @if !days.is_empty() { p.small { "For " (phrases::list(&days)) "." } }
        @for one in entries { @if let Some(note) = &one.note { p.small { (calendar_day(one.date, on)) ": " (phrases::stopped(note)) } } }
    }
}

const fn way(channel: Channel) -> &'static str {
    match channel {
        Channel::Call => "by telephone",
        Channel::Visit => "at a visit",
        Channel::Paper => "on paper",
        Channel::Code => "by spoken code",
        Channel::File => "as a file",
        Channel::Page => "from the session page",
    }
}

/// Most changes that are shown without asking.
const AT_ONCE: usize = 12;

/// What a written case changed; the first is told as a count.
fn facts(case: &Case, before: Option<&Case>) -> Markup {
    let now = lines_of(case);
    let Some(before) = before else {
        return html! { p { "First written, with " (counted(now.len(), "fact", "facts")) "." } };
    };
    let old = lines_of(before);
    // What was watched stands in entries of its own; a case that is written again only carries it along.
    let changed: Vec<(&String, Option<&String>, Option<&String>)> = now
        .keys()
        .chain(old.keys().filter(|key| !now.contains_key(*key)))
        .filter(|key| !key.starts_with("watched"))
        .map(|key| (key, old.get(key), now.get(key)))
        .filter(|(_, old, new)| old != new)
        .collect();
    let part = |key: &str| key.split_once(", ").map_or("", |(part, _)| part).to_owned();
    let list = html! {
        @for of in changed.chunk_by(|one, other| part(one.0) == part(other.0)) {
            @let name = part(of[0].0);
            @if !name.is_empty() { p.small { (sentence(&name.replace('_', " "))) } }
            dl.changes {
                @for (key, old, new) in of {
                    dt { (in_words(key.strip_prefix(&format!("{name}, ")).unwrap_or(key))) }
                    dd {
                        @if let Some(old) = old { s { (value_in_words(key, old)) } " " }
                        @match new { Some(new) => (value_in_words(key, new)), None => "taken out" }
                    }
                }
            }
        }
    };
    html! {
        p { "Facts written: " (counted(changed.len(), "change", "changes")) "." }
        @if changed.len() > AT_ONCE { details { summary.more { "Show them" } (list) } }
        @else { (list) }
    }
}

/// Every fact of a case on a line of its own.
pub(crate) fn lines_of(case: &Case) -> BTreeMap<String, String> {
    let mut lines = BTreeMap::new();
    table(&formats::case::to_table(case), "", &mut lines);
    lines
}

fn table(table_of: &Table, path: &str, lines: &mut BTreeMap<String, String>) {
    for entry in &table_of.entries {
        let path = if path.is_empty() {
            entry.key.clone()
        } else {
            format!("{path}, {}", entry.key)
        };
        node(&entry.node, &path, lines);
    }
}

fn node(one: &Node, path: &str, lines: &mut BTreeMap<String, String>) {
    let value = match &one.content {
        Content::Table(inner) => return table(inner, path, lines),
        Content::List(list)
            if list
                .iter()
                .any(|one| matches!(one.content, Content::Table(_))) =>
        {
            for (place, inner) in list.iter().enumerate() {
                node(inner, &format!("{path} {}", place + 1), lines);
            }
            return;
        }
        _ => plain(one),
    };
    lines.insert(path.to_owned(), value);
}

/// A value as it is said: a list with commas, yes and no.
fn plain(one: &Node) -> String {
    match &one.content {
        Content::Flag(true) => "yes".to_owned(),
        Content::Flag(false) => "no".to_owned(),
        Content::List(list) if list.is_empty() => "none".to_owned(),
        Content::List(list) => list.iter().map(plain).collect::<Vec<_>>().join(", "),
        _ => formats::tree::to_json(one)
            .to_string()
            .trim_matches('"')
            .to_owned(),
    }
}

#[derive(Deserialize)]
pub(crate) struct Strike {
    entry: String,
    why: String,
    #[serde(default, rename = "second-name")]
    second_name: String,
}

/// Strikes an entry out: a note that supersedes it says why; the entry stays readable.
pub(crate) async fn strike(
    signed: Signed,
    Path(id): Path<String>,
    Form(typed): Form<Strike>,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "strike-out").await?;
    let gone = || {
        PageError::Refused(
            "This entry is not in the case, or was struck out already. Load the page again"
                .to_owned(),
        )
    };
    let entry = EntryId::parse(&typed.entry).map_err(|_| gone())?;
    let wrong = file
        .entries
        .iter()
        .find(|one| one.id == entry && one.superseded_by.is_none() && one.position > 1)
        .ok_or_else(gone)?;
    let why = typed.why.trim();
    if why.is_empty() {
        return Err(PageError::Refused(
            "It is not said what is wrong with the entry, so it stays. Go back and write why"
                .to_owned(),
        ));
    }
    let less = loses(&file, wrong)?;
    let second = typed.second_name.trim();
    let own = is_same_name(&signed.user.full_name, second);
    if !less.is_empty() && (second.is_empty() || own) {
        let page = ask_second(&signed, &file, wrong, &typed, &less);
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
    }
    let second = match less.is_empty() {
        true => String::new(),
        false => format!(". Second name: {second}"),
    };
    let note = Happening::Note(format!(
        "Entry {} struck out: {why}{second}",
        wrong.position
    ));
    file.supersede(&signed, wrong, note).await?;
    Ok(Redirect::to(&address::of_case(file.id, "written")).into_response())
}

/// In what the case would be less careful without an entry.
fn loses(file: &CaseFile, entry: &Entry) -> Result<Vec<&'static str>, PageError> {
    let after = file.without(entry)?;
    let (review, review_after) = (file.review(), after.review());
    let before = Stands {
        course: &file.course,
        assessed: &file.assessed,
        review: &review,
    };
    let after = Stands {
        course: &after.course,
        assessed: &after.assessed,
        review: &review_after,
    };
    Ok(less_careful(before, after))
}

/// Asks for the second name; what was typed stays.
fn ask_second(
    signed: &Signed,
    file: &CaseFile,
    entry: &Entry,
    typed: &Strike,
    less: &[&'static str],
) -> Markup {
    let own = !typed.second_name.trim().is_empty();
    let text = html! {
        h1.title { "Strike out entry " (entry.position) "?" }
        p.lead { "Without it less care would be taken, so a second person of the team looks at it with you." }
        ul.waits { @for one in less { li { (sentence(one)) "." } } }
        form method="post" action=(address::of_case(file.id, "strike")) {
            input type="hidden" name="entry" value=(entry.id);
            div.ask {
                label for="why" { "What is wrong with it" }
                input.field id="why" name="why" type="text" autocomplete="off" value=(typed.why) required;
            }
            div.ask {
                label for="second-name" { "Second name" }
                @if own { p.wrong id="second-wrong" { (sentence(SAME_NAME)) } }
                input.field id="second-name" name="second-name" type="text" autocomplete="off" value=(typed.second_name) required;
            }
            p.acts { button.do type="submit" { "Strike it out" } a.act href=(address::of_case(file.id, "written")) { "Leave it" } }
        }
    };
    let body = row(&html! {}, &text, &html! {});
    case_page(signed, file, "Strike an entry out", Nav::People, &body)
}
