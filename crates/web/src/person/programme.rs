//! The programme that was given, drawn as its profile, and under whose name.

use super::link::Link;
use crate::address;
use crate::alone;
use crate::casefile::{CaseFile, is_open};
use crate::layout::State;
use crate::phrases::{self, calendar_day, counted, page_of, sentence};
use crate::profile::{Look, drawn};
use maud::{Markup, html};
use rehab::assessed::Decision;
use rehab::evidence::Weight;
use rehab::programme::{Exercises, Stage};

/// The page the person is on; before one was given, the first page in draft.
pub(super) fn programme(file: &CaseFile, exercises: &Exercises) -> Option<Markup> {
    match file.course.stage() {
        Some(stage) => Some(given(file, stage)),
        None => drafted(file, exercises),
    }
}

fn given(file: &CaseFile, stage: &Stage) -> Markup {
    let since = file.course.stage_since.map_or_else(String::new, |date| {
        format!("since {}", calendar_day(date, file.on))
    });
    let text = html! { (profile(file, stage)) };
    row_across(&since, State::Settled, &in_one_line(stage, ""), &text)
}

/// The first page as the program drafts it: nothing of it reaches anybody unsigned.
fn drafted(file: &CaseFile, exercises: &Exercises) -> Option<Markup> {
    let case = &file.course.case;
    if !is_open(case.status.kind) || file.assessed.screening.decision != Decision::Exercise {
        return None;
    }
    let (plan, findings) = file
        .course
        .draft(&file.service, exercises, &file.assessed, 1);
    let Some(first) = plan.stages.first() else {
        let text = html! { @for one in findings.iter().take(6) { p { (phrases::stopped(&phrases::days_in_words(&one.text, file.on))) } } };
        return Some(row_across("", State::Open, "No page fits yet.", &text));
    };
    let further = plan.stages.iter().skip(1).map(shortly);
    let sketched = plan.sketch.iter();
    let sketched = sketched.map(|one| one.text.trim_end_matches('.').to_owned());
    let then: Vec<String> = further.chain(sketched).collect();
    let text = html! {
        div.drafted {
            (profile(file, first))
            @if !then.is_empty() { p.small { "Then: " (then.iter().take(3).map(String::as_str).collect::<Vec<_>>().join("; ")) "." } }
        }
        p.acts { a.act href=(address::of_case(file.id, "builder")) { "Look at it in the builder" } }
    };
    Some(row_across(
        "in draft",
        State::Provisional,
        &in_one_line(first, ", in draft"),
        &text,
    ))
}

/// A further page in a few words.
fn shortly(stage: &Stage) -> String {
    format!(
        "{} with {}, {:.0} minutes",
        page_of(stage.number),
        parts(stage),
        stage.minutes()
    )
}

fn parts(stage: &Stage) -> String {
    match stage.cardiovascular_stations() {
        0 => "warm-up and cool-down".to_owned(),
        turns => counted(turns, "brisk turn", "brisk turns"),
    }
}

/// Letter, turns, minutes and times a week.
fn in_one_line(stage: &Stage, draft: &str) -> String {
    format!(
        "{}{draft}: {}, {:.0} minutes, {}.",
        sentence(&page_of(stage.number)),
        parts(stage),
        stage.minutes(),
        phrases::times_a_week(stage.sessions_per_week)
    )
}

fn row_across(when: &str, state: State, answer: &str, text: &Markup) -> Markup {
    html! {
        section.row.li id="programme" {
            div.gut { b { "Programme" } @if !when.is_empty() { br; (when) } }
            div.txt.across {
                span.dot { (crate::layout::ring(state)) }
                h2.ans { (answer) }
                (text)
            }
        }
    }
}

fn profile(file: &CaseFile, stage: &Stage) -> Markup {
    html! {
        div.pfw {
            div.wide-only { (drawn(file, stage, &Look { width_px: 1022, ..Look::default() })) }
            div.mid-only { (drawn(file, stage, &Look { width_px: 842, ..Look::default() })) }
        }
    }
}

/// `next` says whether this is the thing to do now: then it bears the page's one solid block.
pub(super) fn sign_off(file: &CaseFile, next: bool) -> Link<'static> {
    let class = if next { "do" } else { "act" };
    let assessed = &file.assessed;
    let open = is_open(file.course.case.status.kind);
    let blocking = assessed
        .to_find_out
        .iter()
        .chain(&assessed.findings)
        .chain(&assessed.screening.findings)
        .filter(|one| one.weight == Weight::BlocksSigning)
        .count();
    let waits = match assessed.screening.decision {
        _ if !open => Some("Nothing is signed for somebody who left.".to_owned()),
        Decision::NotToday => {
            Some("Nothing can be signed while the answer is not today.".to_owned())
        }
        Decision::NotAtHome => {
            Some("Nothing can be signed while the answer is not at home.".to_owned())
        }
        Decision::Exercise if assessed.signing_blocked => Some(format!(
            "Signing waits for {}.",
            counted(blocking.max(1), "answer", "answers")
        )),
        Decision::Exercise => None,
    };
    let signed = file.course.signed.as_ref();
    let answer = match (signed, &waits) {
        (Some(plan), _) => {
            let pages: Vec<String> = plan
                .stages
                .iter()
                .map(|stage| page_of(stage.number))
                .collect();
            format!("{} signed.", sentence(&phrases::list(&pages)))
        }
        (None, Some(_)) => "Nothing is signed yet.".to_owned(),
        (None, None) => "A first page can be signed.".to_owned(),
    };
    let sign = address::of_case(file.id, "sign");
    let text = html! {
        @if let Some(plan) = signed {
            p { (plan.by.name) ", " (plan.by.role) ", " (calendar_day(plan.on, file.on)) "."
                @if let Some(until) = plan.valid_until { " The examination behind it counts until " (calendar_day(until, file.on)) "." } }
            (crate::drafted::seconded(plan))
        }
        @if let Some(present) = file.course.stage().filter(|_| open) {
            @for why in alone::outdated(file, present) {
                p.wrong { (sentence(&page_of(present.number))) " at home is to be signed anew: " (alone::outdated_in_words(&why, file, file.app.words())) "." }
            }
        }
        @if let Some(waits) = &waits { p { (waits) } }
        p.acts {
            @if waits.is_some() {
                span.do.wait aria-disabled="true" { "Sign a page" }
                @if open { a class=(class) href=(address::of_case(file.id, "facts")) { "Write down what is missing" } }
            } @else {
                a class=(class) href=(sign) { @if signed.is_some() { "See what can be signed next" } @else { "Look at the first page and sign" } }
            }
        }
    };
    Link {
        name: "Sign-off",
        when: String::new(),
        state: match (signed, &waits) {
            (Some(_), None) => State::Settled,
            (Some(_), Some(_)) => State::Provisional,
            (None, _) => State::Open,
        },
        answer: html! { (answer) },
        text,
        margin: html! {},
    }
}
