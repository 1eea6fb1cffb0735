//! A review for people: what to do next and why, who needs an answer, and what came back.

use super::columns::{hanging, wrapped};
use super::reasons::{because, item};
use jiff::civil::Date;
use rehab::assessment::Case;
use rehab::review::{Action, Proposal, Review, Silence, SymptomClass, Trends};

/// Proposal, alerts, symptoms, silence and trends.
pub(crate) fn review(case: &Case, on: Date, review: &Review, why: bool) -> String {
    let name = case.person.name.as_deref().unwrap_or("Name not known");
    let mut out = wrapped(&format!("{name} ({}), on {on}", case.id.0), 0);
    out.push_str(&proposal(&review.proposal, why));
    if !review.alerts.is_empty() {
        out.push_str("\nTo be answered by name\n");
        for alert in &review.alerts {
            let urgency = alert.urgency.word().replace('-', " ");
            out.push_str(&item(&format!(
                "{urgency}, since {}: {}",
                alert.since, alert.text
            )));
        }
    }
    let telling: Vec<_> = review
        .symptoms
        .iter()
        .filter(|one| one.class != SymptomClass::Usual)
        .collect();
    if !telling.is_empty() {
        out.push_str("\nSymptoms\n");
        out.extend(
            telling
                .iter()
                .map(|one| item(&format!("{}: {}", one.date, one.text))),
        );
    }
    out.push_str(&heard(&review.silence));
    out.push_str(&trends(&review.trends));
    out
}

/// What to do next, and why.
pub(super) fn proposal(proposal: &Proposal, why: bool) -> String {
    let to = proposal
        .to_stage
        .map_or_else(String::new, |stage| format!(": rung {stage}"));
    let action = match proposal.action {
        Action::Advance => "move on",
        Action::Hold => "stay",
        Action::StepBack => "step back",
        Action::ReEnter => "begin again lower",
        Action::AskFirst => "ask first",
        Action::StopAndContact => "stop and make contact",
    };
    let mut out = format!("\nProposal: {action}{to}\n");
    for reason in &proposal.because {
        out.push_str(&item(&reason.text));
        if why {
            out.push_str(&because(reason));
        }
    }
    if !proposal.ease.is_empty() {
        out.push_str(&item(&format!("Ease: {}.", names(&proposal.ease))));
    }
    if !proposal.watch_first.is_empty() {
        out.push_str(&item(&format!(
            "To be watched first: {}.",
            names(&proposal.watch_first)
        )));
    }
    out
}

/// Exercises by their ids, as words.
fn names(ids: &[String]) -> String {
    let names: Vec<String> = ids.iter().map(|id| id.replace('-', " ")).collect();
    names.join(", ")
}

fn heard(silence: &Silence) -> String {
    let text = match (silence.last_heard, silence.days) {
        (Some(day), Some(days)) => format!(
            "Last heard from on {day}, {}; news was agreed every {} days.",
            rehab::calendar::ago(days),
            silence.agreed_days
        ),
        _ => "Never heard from yet.".to_owned(),
    };
    let silent = if silence.silent {
        " That is silence, and no news is never good news."
    } else {
        ""
    };
    format!("\n{}", wrapped(&format!("{text}{silent}"), 0))
}

/// How many of those planned; where none were planned, how many.
fn out_of(done: u64, planned: u64, what: &str) -> String {
    match planned {
        0 => format!("{done} {what}"),
        _ => format!("{done} of {planned} {what}"),
    }
}

fn trends(trends: &Trends) -> String {
    let mut out = String::from("\nWhat was done\n");
    out.push_str(&wrapped(
        &format!(
            "In 14 days {}; {} in all.",
            out_of(
                u64::from(trends.done_in_14_days),
                u64::from(trends.planned_in_14_days),
                "sessions"
            ),
            out_of(
                u64::from(trends.stations.0),
                u64::from(trends.stations.1),
                "stations"
            )
        ),
        2,
    ));
    for (day, effort) in &trends.effort {
        let pulse = trends.station_pulse.iter().find(|(other, _)| other == day);
        let pulse = pulse.map_or_else(String::new, |(_, bpm)| format!(", highest pulse {bpm}"));
        out.push_str(&hanging(
            &format!("{day}: effort {} on {}{pulse}", effort.value, effort.scale),
            2,
            4,
        ));
    }
    out
}
