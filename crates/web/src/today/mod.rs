//! Today: who needs what and why, in sentences; the others go on as agreed.

mod gather;
mod name;
mod needy;
mod say;

pub(crate) use name::show as show_for_your_name;
pub(crate) use needy::Needy;

use crate::address;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, page, row};
use crate::phrases::{self, count, counted, sentence};
use axum::extract::Query;
use axum::response::{IntoResponse, Redirect, Response};
use gather::{AT_ONCE, Gathered, MOST_OPENED, People, gather};
use jiff::civil::Date;
use maud::{Markup, html};
use needy::Group;
use records::CaseListing;
use say::Step;
use serde::Deserialize;

/// How many people are opened.
#[derive(Deserialize)]
pub(crate) struct Wanted {
    shown: Option<u32>,
}

pub(crate) async fn show(
    signed: Signed,
    Query(wanted): Query<Wanted>,
) -> Result<Response, PageError> {
    // Whoever only manages users sees nobody; their page is the team.
    let roles = signed.user.roles;
    if !(roles.practitioner || roles.lead) {
        return Ok(Redirect::to("/team").into_response());
    }
    let on = signed.app.clock().today();
    let gathered = gather(&signed, wanted.shown.unwrap_or(AT_ONCE)).await?;
    let title = on.strftime("%A %-d %B").to_string();
    let body = html! {
        (row(&html! {}, &html! { h1.title { (title) } p.lead { (lead(&gathered)) } }, &html! {}))
        @if gathered.is_empty() && gathered.left == 0 { (nobody()) }
        (groups(&gathered, on))
    };
    Ok(page(&signed, &title, Nav::Today, &body).into_response())
}

/// One large line that answers: how many need what.
fn lead(all: &Gathered) -> String {
    if all.is_empty() {
        return match all.left {
            0 => "Nobody is in the record yet.".to_owned(),
            _ => "Nobody is in the programme now; who left is under People.".to_owned(),
        };
    }
    let first = all.of(Group::Lead).count() + all.of(Group::First).count();
    let then = all.opened() - first + all.more.count + all.damaged.len();
    let mut parts = Vec::new();
    match first {
        0 => {}
        1 => parts.push("One person needs your voice first.".to_owned()),
        more => parts.push(format!(
            "{} people need your voice first.",
            sentence(&count(more))
        )),
    }
    match (first, then) {
        (0, 0) => parts.push("Nobody waits for you today.".to_owned()),
        (_, 0) => {}
        (0, then) => parts.push(format!(
            "{} for a step of yours.",
            sentence(&counted(then, "person waits", "people wait"))
        )),
        (_, then) => parts.push(format!(
            "Then {} with a step to take.",
            counted(then, "person", "people")
        )),
    }
    parts.extend(others(all, first + then));
    parts.join(" ")
}

/// Those who go on as agreed.
fn others(all: &Gathered, needy: usize) -> Option<String> {
    let others = all.agreed.count;
    let alone = needy == 0;
    Some(match (all.agreed.is_counted, others) {
        (_, 0) => return None,
        (false, _) => "The others are going on as agreed.".to_owned(),
        (true, 1) if alone => "One person is going on as agreed.".to_owned(),
        (true, 1) => "One other person is going on as agreed.".to_owned(),
        (true, more) if alone => format!("All {} are going on as agreed.", count(more)),
        (true, more) => format!("The other {} are going on as agreed.", count(more)),
    })
}

fn nobody() -> Markup {
    row(
        &html! {},
        &html! {
            p { "Twelve answers make a cautious beginning; what is not known is kept as still to find out." }
            p.acts { a.do href="/people/new" { "Write the first person in" } }
        },
        &html! {},
    )
}

fn groups(all: &Gathered, on: Date) -> Markup {
    // One solid block a page: the first thing to do.
    let first = Group::ALL
        .into_iter()
        .find(|group| all.of(*group).next().is_some());
    html! {
        @for group in Group::ALL { (group_of(all, group, first == Some(group))) }
        @if all.more.count > 0 || !all.damaged.is_empty() { (more(all, on)) }
        @if all.waiting.count > 0 { (waiting(&all.waiting)) }
        @if all.agreed.count > 0 { (agreed(&all.agreed, on)) }
    }
}

fn group_of(all: &Gathered, group: Group, leads: bool) -> Markup {
    let title = match group {
        Group::Lead => "With you as the lead",
        Group::First => "First",
        Group::Unfinished => "Begun and not finished",
        Group::Ring => "To ring",
        Group::Due => "Agreed for today",
        Group::Begin => "To begin",
    };
    html! {
        @if all.of(group).next().is_some() {
            section.group {
                (row(&html! {}, &html! { h2.part { (title) } }, &html! {}))
                @for (place, one) in all.of(group).enumerate() { (entry(one, Step::of(group), leads && place == 0)) }
            }
        }
    }
}

fn entry(needy: &Needy, step: Step, block: bool) -> Markup {
    let (address, words) = say::step(needy, step);
    let class = if block { "do" } else { "act" };
    let text = html! {
        div.say { (needy.said) }
        @if block || step != Step::Case { p.acts { a class=(class) href=(address) { (words) } } }
    };
    let margin = html! {
        @if let Some(heard) = &needy.heard { (heard) }
        @if let Some(unanswered) = &needy.unanswered { p { (unanswered) } }
    };
    html! { article.en { (row(&needy.hills, &text, &margin)) } }
}

fn more(all: &Gathered, on: Date) -> Markup {
    let because = |one: &CaseListing| {
        let summary = &one.summary;
        if summary.open_alert_count > 0 {
            "something to answer".to_owned()
        } else if let Some(due) = summary.due_on.filter(|due| *due <= on) {
            format!("due {}", phrases::on_day(due, on))
        } else {
            "silent".to_owned()
        }
    };
    let unnamed = all.more.count.saturating_sub(all.more.named.len());
    let can_open = all.opened() < MOST_OPENED as usize;
    let text = html! {
        h2.part { "And " (counted(all.more.count + all.damaged.len(), "more", "more")) }
        p.quiet {
            @for one in &all.more.named { (link(one)) ", " (because(one)) ". " }
            @if unnamed > 0 { "And " (count(unnamed)) " more." }
        }
        @if all.more.count > 0 && can_open { p.acts { a.act href=(format!("/?shown={}", all.next())) { "Show more" } } }
        @for one in &all.damaged {
            p { (link(one)) " could not be opened: something in this case was changed outside the program or is damaged. Ask the lead to check the record." }
        }
    };
    html! { section.group { (row(&html! {}, &text, &html! {})) } }
}

fn waiting(new: &People) -> Markup {
    let rest = new.count.saturating_sub(new.named.len());
    let text = html! {
        h2.part { "New to us" }
        p.quiet {
            @for one in &new.named {
                (link(one)) ", "
                @if one.summary.status.as_str() == "referred" { "referred, not yet seen" } @else { "waiting for clearance" }
                ". "
            }
            @if rest > 0 { a href="/people?status=referred" { "And " @if new.is_counted { (count(rest)) " " } "more" } "." }
        }
    };
    html! { section.group { (row(&html! {}, &text, &html! {})) } }
}

fn agreed(all: &People, on: Date) -> Markup {
    let rest = all.count.saturating_sub(all.named.len());
    let text = html! {
        h2.part { "As agreed" }
        p.quiet {
            @for one in &all.named {
                (link(one))
                @if let Some(heard) = one.summary.heard_on { ", " (phrases::day(heard, on)) }
                ". "
            }
            @if rest > 0 {
                a href="/people?status=active" { "And " @if all.is_counted { (count(rest)) " " } "more" }
                ", each heard from within the days that were set."
            }
        }
    };
    let key = html! {
        p.key { "On the line of four weeks a stroke is a session done, a dot is when you spoke, a dotted end is silence." }
    };
    html! { section.group { (row(&html! {}, &text, &key)) } }
}

fn link(one: &CaseListing) -> Markup {
    let called = one
        .personal
        .as_ref()
        .map_or("A case that cannot be read", |personal| {
            personal.called.as_str()
        });
    html! { a.name href=(address::case(one.case)) { (called) } }
}
