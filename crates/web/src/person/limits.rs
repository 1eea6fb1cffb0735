//! Limits and what is still to find out.

use super::chain::{at_most, short};
use super::link::Link;
use crate::casefile::CaseFile;
use crate::facts::questions;
use crate::layout::{State, because, source, why};
use crate::phrases::{self, counted, days_in_words, sentence};
use maud::{Markup, html};
use rehab::assessed::{CeilingKind, Limits};
use rehab::evidence::{Because, Finding, Value, Weight};

pub(super) fn limits(file: &CaseFile) -> Link<'static> {
    let limits = &file.assessed.limits;
    let agreed = phrases::effort(limits.effort_scale, limits.effort);
    let effort = format!("Effort {agreed}");
    // A defibrillator whose rate is not known gives no ceiling; that must not read like a free pulse.
    let device_rate_missing = file.assessed.device_rate_question().is_some();
    let settled = limits.peak_hr_measured && limits.band_binds_station;
    Link {
        name: "Limits",
        when: phrases::calendar_day(file.on, file.on),
        state: if settled {
            State::Settled
        } else {
            State::Provisional
        },
        answer: html! { (why("limits/effort", &effort)) " leads." },
        text: html! { dl.lims { (rows(limits, device_rate_missing)) } (adapted(file)) },
        // Closed they are one line, so that the column stays as long as the answers; each number opens its own.
        margin: html! {
            details.bc.many {
                summary { "Because: " (counted(limits.because.len(), "reason", "reasons")) }
                div.reason { @for one in &limits.because { (because(one.rule.0, &label(one), one)) } }
            }
        },
    }
}

fn rows(limits: &Limits, device_rate_missing: bool) -> Markup {
    let mets = format!(
        "{} to {} METs",
        short(limits.mets.low.to_mets()),
        at_most(limits.mets.high.to_mets())
    );
    html! {
        div {
            dt { @if limits.band_binds_station { "Each turn" } @else { "A round, on average" } }
            dd { (why("limits/mets-high", &mets)) }
        }
        div {
            dt { "One turn, at most" }
            dd { (why("limits/mets-station-high", &format!("{} METs", at_most(limits.mets_station_high.to_mets())))) }
        }
        div { dt { "Pulse" } dd { @if device_rate_missing { "no ceiling yet: the rate at which the device treats is missing" } @else { (pulse(limits)) } } }
        div { dt { "Balance" } dd { (why("limits/balance", balance(limits.balance_max))) } }
        @if limits.hypotensive { div { dt { "Posture" } dd { "changes slowly; feet keep moving at the end" } } }
    }
}

fn pulse(limits: &Limits) -> Markup {
    let ceiling = limits
        .ceiling
        .map(|ceiling| (ceiling.rate.to_bpm(), ceiling.kind));
    match (limits.hr, ceiling) {
        (Some(band), ceiling) => html! {
            (why("limits/hr-low", &short(band.low.to_bpm()))) " to " (why("limits/hr-high", &short(band.high.to_bpm())))
            @match ceiling {
                Some((_, CeilingKind::Guiding)) => " (guiding)",
                Some((rate, CeilingKind::Hard)) => { ", never above " (why(ceiling_rule(limits, rate), &short(rate))) },
                None => ", no ceiling",
            }
        },
        (None, Some((rate, CeilingKind::Hard))) => {
            html! { "no band; never above " (why(ceiling_rule(limits, rate), &short(rate))) }
        }
        (None, Some((rate, CeilingKind::Guiding))) => {
            html! { "no band; " (short(rate)) " as a guide" }
        }
        (None, None) => html! { "no target; effort and the talk test lead" },
    }
}

/// The rule that a hard ceiling comes from: the one that gives this very rate.
fn ceiling_rule(limits: &Limits, rate: f64) -> &'static str {
    let gives =
        |one: &&Because| matches!(one.value, Value::Number(value, _) if value.floor() == rate);
    let of_ceiling = |one: &&Because| one.rule.0.starts_with("ceiling/");
    let rules = limits.because.iter().filter(of_ceiling);
    rules
        .clone()
        .find(gives)
        .or_else(|| rules.clone().next())
        .map_or("limits/hr-high", |one| one.rule.0)
}

const fn balance(level: u8) -> &'static str {
    match level {
        0 => "seated, or both hands held",
        1 => "standing on both feet",
        2 => "up to one leg for a moment",
        _ => "up to standing on one leg",
    }
}

/// What must be adapted, and what else is to mind.
fn adapted(file: &CaseFile) -> Markup {
    let assessed = &file.assessed;
    let adaptations = assessed
        .limits
        .adaptations
        .iter()
        .map(|one| (&one.finding, one.until));
    let cautions = assessed
        .findings
        .iter()
        .filter(|one| {
            !assessed
                .limits
                .adaptations
                .iter()
                .any(|other| other.finding == **one)
        })
        .map(|one| (one, None));
    let all: Vec<(&Finding, _)> = adaptations.chain(cautions).collect();
    html! {
        @if !all.is_empty() {
            details.minds {
                summary.more { (sentence(&counted(all.len(), "thing", "things"))) " to mind" }
                @for (one, until) in all {
                    p.small {
                        (days_in_words(&one.text, file.on)) "."
                        @if let Some(until) = until { " Until " (phrases::calendar_day(until, file.on)) "." }
                        " " span.quiet { (source(&one.sources, one.tag)) }
                    }
                }
            }
        }
    }
}

/// What a reason is about, for its closed form in the margin.
fn label(reason: &Because) -> String {
    let of = match reason.rule.0 {
        "limits/effort" => "effort",
        "limits/mets-low" => "the lower end of the load",
        "limits/mets-high" => "the upper end of the load",
        "limits/mets-station-high" => "one turn, at most",
        "limits/hr-low" => "the lower end of the pulse",
        "limits/hr-high" => "the upper end of the pulse",
        "limits/balance" => "balance",
        _ => {
            return reason
                .text
                .split('.')
                .next()
                .unwrap_or("the rest")
                .to_owned();
        }
    };
    format!("{}, because", sentence(of))
}

pub(super) fn find_out(file: &CaseFile) -> Link<'static> {
    let open = &file.assessed.to_find_out;
    let left = questions::open(&file.course.notes);
    let blocking = open
        .iter()
        .filter(|one| one.weight == Weight::BlocksSigning)
        .count();
    let answer = match (open.len() + left.len(), blocking) {
        (0, _) => "Nothing.".to_owned(),
        (all, 0) => format!("{}.", sentence(&counted(all, "answer", "answers"))),
        (all, blocking) => format!(
            "{}; signing waits for {}.",
            sentence(&counted(all, "answer", "answers")),
            phrases::count(blocking)
        ),
    };
    let (first, rest): (Vec<&Finding>, Vec<&Finding>) = open
        .iter()
        .partition(|one| one.weight == Weight::BlocksSigning);
    let few = first.len() + rest.len() <= 8;
    let facts = crate::address::of_case(file.id, "facts");
    let text = html! {
        (left_by_the_file(&left, file))
        ul.find { (asked(&first, file)) @if few { (asked(&rest, file)) } }
        @if !few && !rest.is_empty() {
            details {
                summary.more { (sentence(&phrases::count(rest.len()))) " more, which signing does not wait for" }
                ul.find { (asked(&rest, file)) }
            }
        }
        @if !open.is_empty() { p.acts { a.act href=(facts) { "Write down what is known now" } } }
    };
    Link {
        name: "Still to find out",
        when: String::new(),
        state: if open.is_empty() && left.is_empty() {
            State::Settled
        } else {
            State::Open
        },
        answer: html! { (answer) },
        text,
        margin: html! {},
    }
}

/// What the file of the case left to be asked, each with room for its answer.
fn left_by_the_file(left: &[&str], file: &CaseFile) -> Markup {
    html! {
        @for (at, question) in left.iter().enumerate() {
            form method="post" action=(crate::address::of_case(file.id, "note")) {
                input type="hidden" name="of" value=(question);
                div.ask {
                    label for={ "left-" (at) } { "From the file: " (question) "." }
                    input.field id={ "left-" (at) } name="note" type="text" autocomplete="off" required;
                }
                p.acts { button.act.plain type="submit" { "Write the answer down" } }
            }
        }
    }
}

/// How the questions of the history end; they are asked in one breath.
const OF_HISTORY: &str = ": present or absent? Not answered yet";

fn asked(list: &[&Finding], file: &CaseFile) -> Markup {
    let history: Vec<(String, &Finding)> = list
        .iter()
        .filter_map(|one| Some((one.text.strip_suffix(OF_HISTORY)?.to_lowercase(), *one)))
        .collect();
    let names: Vec<String> = history.iter().map(|(name, _)| name.clone()).collect();
    html! {
        @if let Some((_, first)) = history.first() {
            li {
                b { "Present or absent? " } (sentence(&phrases::list(&names))) "."
                (whom(first)) span { " One tick answers all that are absent." }
            }
        }
        @for one in list.iter().filter(|one| !one.text.ends_with(OF_HISTORY)) {
            @let (question, more) = split_question(&days_in_words(&one.text, file.on));
            li { b { (question) } @if !more.is_empty() { " " (more) } (whom(one)) }
        }
    }
}

/// The question, and what is said to it.
fn split_question(text: &str) -> (String, String) {
    match text.split_once("? ") {
        Some((question, more)) => (format!("{question}?"), phrases::stopped(more)),
        None => (phrases::stopped(text), String::new()),
    }
}

fn whom(one: &Finding) -> Markup {
    html! {
        @if let Some(ask) = &one.ask {
            span {
                " " (sentence(&ask.whom)) ". "
                @if ask.blocks.is_empty() { "Nothing waits for it." } @else { (sentence(&ask.blocks)) " waits for it." }
            }
        }
    }
}
