//! The chain from referral to eligibility: each link answers in one line and says why.

use super::link::Link;
use crate::casefile::CaseFile;
use crate::layout::{State, because, reasons, why};
use crate::phrases::{self, calendar_day, counted, days_in_words, on_day, sentence};
use jiff::civil::Date;
use maud::{Markup, html};
use rehab::assessed::{Decision, Met, RiskClass};
use rehab::assessment::{Examination, Pressure};
use rehab::evidence::{Finding, Weight};
use rehab::service::HomeConsequence;

pub(super) fn referral(file: &CaseFile) -> Link<'static> {
    let case = &file.course.case;
    let first = file.entries.first().map(|entry| entry.effective.date());
    let seen = case.examinations.iter().map(|one| one.date).min();
    let answer = match (&case.person.doctor, first) {
        (None, _) => "The doctor is not known.".to_owned(),
        (Some(_), Some(date)) => format!("In the record since {}.", calendar_day(date, file.on)),
        (Some(_), None) => "In the record.".to_owned(),
    };
    let text = match seen {
        Some(date) => format!("First examined {}.", on_day(date, file.on)),
        None => "Not examined by the team yet.".to_owned(),
    };
    Link {
        name: "Referral",
        when: String::new(),
        state: if case.person.doctor.is_some() {
            State::Settled
        } else {
            State::Provisional
        },
        answer: html! { (answer) },
        text: html! { p { (text) } },
        margin: html! {},
    }
}

pub(super) fn screening(file: &CaseFile) -> Link<'static> {
    let screening = &file.assessed.screening;
    let answer = match screening.decision {
        Decision::Exercise => "Exercise: yes.",
        Decision::NotToday => "Not today.",
        Decision::NotAtHome => "Not at home.",
    };
    let spoke: Vec<&Finding> = screening.findings.iter().collect();
    let examined = file
        .course
        .case
        .examinations
        .iter()
        .filter(|one| one.examines())
        .max_by_key(|one| one.date);
    let state = match (screening.decision, screening.examined) {
        (Decision::Exercise, Some(_)) => State::Settled,
        (_, None) => State::Open,
        _ => State::Provisional,
    };
    let holding: Vec<&Finding> = screening
        .findings
        .iter()
        .filter(|one| holds_back(one))
        .take(3)
        .collect();
    // Where something holds back, it says itself that an examination is wanted.
    let runs_out =
        holding.is_empty() || screening.valid_until.is_some_and(|until| until >= file.on);
    let text = html! {
        @if let Some(one) = examined { p { (measured(one)) } }
        @for one in &holding { p { b { (days_in_words(&one.text, file.on)) "." } } }
        @if runs_out { p {
            @match screening.valid_until {
                Some(until) if until >= file.on => { "The examination counts " b { "until " (phrases::day(until, file.on)) } "." },
                Some(until) => { "The examination ran out " (on_day(until, file.on)) "; examine again." },
                None => "No examination counts on this day; examine first.",
            }
        } }
    };
    Link {
        name: "Screening",
        when: screening
            .examined
            .map_or_else(String::new, |date| calendar_day(date, file.on)),
        state,
        answer: html! { (answer) },
        text,
        margin: reasons(
            "screening",
            &format!(
                "Because: the set of cut-offs \u{201c}{}\u{201d}",
                screening.set
            ),
            &spoke,
        ),
    }
}

fn holds_back(finding: &Finding) -> bool {
    matches!(
        finding.weight,
        Weight::NotToday | Weight::NotAtHome | Weight::BlocksSigning
    )
}

/// What was measured, in a sentence.
fn measured(one: &Examination) -> String {
    let pressure = |bp: Pressure| format!("{}/{}", bp.systolic_mmhg, bp.diastolic_mmhg);
    let mut parts = Vec::new();
    parts.extend(
        one.resting_bp
            .map(|bp| format!("pressure {}", pressure(bp))),
    );
    parts.extend(
        one.standing_bp
            .map(|bp| format!("standing {}", pressure(bp))),
    );
    parts.extend(one.resting_hr_bpm.map(|bpm| format!("pulse {bpm}")));
    parts.extend(one.spo2_pct.map(|pct| format!("oxygen {pct} per cent")));
    parts.extend(one.weight_kg.map(|kg| format!("weight {kg} kg")));
    let felt = match &one.symptoms {
        None => "symptoms not asked".to_owned(),
        Some(none) if none.is_empty() => "no symptoms".to_owned(),
        Some(some) => phrases::list(
            &some
                .iter()
                .map(|one| one.word().replace('-', " "))
                .collect::<Vec<_>>(),
        ),
    };
    parts.push(felt);
    format!("{}.", sentence(&parts.join(", ")))
}

pub(super) fn capacity(file: &CaseFile) -> Link<'static> {
    let capacity = &file.assessed.capacity;
    let Some(used) = &capacity.used else {
        return Link {
            name: "Capacity",
            when: String::new(),
            state: State::Open,
            answer: html! { "Not known yet." },
            text: html! {
                p { "No test counts, so the load stays at " (at_most(file.assessed.limits.mets_station_high.to_mets())) " METs and the warm-up pages. A step test at home or a six-minute walk would settle it." }
                (findings(&capacity.findings, file))
            },
            margin: html! {},
        };
    };
    let method = used.method.replace('-', " ");
    let text = html! {
        p {
            @if used.measured { "Measured in an exercise test." } @else { "From the " (method) "." }
            @if let Some(error) = used.error_mets {
                " For one person it may be out by " (short(error)) " either way"
                @if file.assessed.limits.band_binds_station { "." } @else { ", so it binds the round as a whole and not each turn." }
            }
        }
        (findings(&capacity.findings, file))
    };
    let label = if used.measured {
        "Because: measured in an exercise test".to_owned()
    } else {
        format!("Because: {method}, one equation, its error")
    };
    let others = capacity.others.iter().map(|other| {
        let label = format!(
            "Also: {} METs from the {}",
            short(other.mets.to_mets()),
            other.method.replace('-', " ")
        );
        because(&format!("other-{}", other.method), &label, &other.because)
    });
    Link {
        name: "Capacity",
        when: used
            .date
            .map_or_else(String::new, |date| calendar_day(date, file.on)),
        state: if used.measured {
            State::Settled
        } else {
            State::Provisional
        },
        answer: html! { (why("capacity", &format!("{} METs", short(used.mets.to_mets())))) @if !used.measured { ", an estimate" } "." },
        text,
        margin: html! {
            (because("capacity", &label, &used.because))
            @for other in others { (other) }
        },
    }
}

fn findings(list: &[Finding], file: &CaseFile) -> Markup {
    html! { @for one in list { p.small.quiet { (days_in_words(&one.text, file.on)) "." } } }
}

pub(super) fn risk(file: &CaseFile) -> Link<'static> {
    let risk = &file.assessed.risk;
    let class = match risk.class {
        RiskClass::Low => "Low",
        RiskClass::Moderate => "Moderate",
        RiskClass::High => "High",
    };
    let of = |state: Met| risk.criteria.iter().filter(move |one| one.state == state);
    let met: Vec<String> = of(Met::Met).map(|one| one.text.clone()).collect();
    let unknown = of(Met::NotKnown).count();
    let text = html! {
        p {
            @if met.is_empty() { "No criterion of a higher class is met. " }
            @else { (sentence(&met.join("; "))) ". " }
            @if unknown > 0 {
                (sentence(&phrases::count(unknown))) " of " (risk.criteria.len()) " criteria are not known; what is not known never counts for low."
            } @else { "Every criterion is answered." }
        }
    };
    let margin = html! {
        (because("risk", "Because: the class and what decides it", &risk.because))
        details.bc {
            summary { (risk.criteria.len()) " criteria, each with its answer" }
            div.reason {
                dl.criteria {
                    @for one in &risk.criteria { dt { (one.state) } dd { (one.text) " (" (one.class) ")" } }
                }
            }
        }
    };
    Link {
        name: "Risk",
        when: calendar_day(file.on, file.on),
        state: if risk.provisional {
            State::Provisional
        } else {
            State::Settled
        },
        answer: html! { (why("risk", class)) @if risk.provisional { ", provisional" } "." },
        text,
        margin,
    }
}

pub(super) fn at_home(file: &CaseFile) -> Link<'static> {
    let home = &file.assessed.eligibility;
    let held = file.assessed.screening.decision != Decision::Exercise;
    let missing = usize::from(home.watched_needed.saturating_sub(home.watched_done));
    let answer = match (home.home, home.agreed) {
        (HomeConsequence::No, None) => "Not at home, by the service's settings.".to_owned(),
        (HomeConsequence::AfterAgreement, None) => {
            "After the doctor's or lead's agreement.".to_owned()
        }
        _ if held => "Not while the screening holds.".to_owned(),
        _ if missing > 0 => format!(
            "Yes, after {}.",
            counted(missing, "more watched session", "more watched sessions")
        ),
        _ if home.alone_now => "Yes, also alone.".to_owned(),
        _ => "Yes, not alone yet.".to_owned(),
    };
    let state = match (home.home, home.agreed) {
        (HomeConsequence::No | HomeConsequence::AfterAgreement, None) => State::Open,
        _ if held => State::Open,
        _ if home.alone_now => State::Settled,
        _ => State::Provisional,
    };
    let watched = watched_on(file);
    let text = html! {
        p {
            @if watched.is_empty() { "No session watched yet." } @else { "Watched on " (phrases::list(&watched)) "." }
            " A call every " (home.call_every_days) " days."
        }
    };
    Link {
        name: "At home",
        when: home.agreed.map_or_else(String::new, |date| {
            format!("agreed {}", calendar_day(date, file.on))
        }),
        state,
        answer: html! { (answer) },
        text,
        margin: because(
            "at-home",
            "Because: the class and what the service asks for it",
            &home.because,
        ),
    }
}

/// The days on which something was watched, each once; where a day has several sessions it is said that they count as
/// one.
fn watched_on(file: &CaseFile) -> Vec<String> {
    let sessions = &file.course.watched;
    let mut days: Vec<Date> = sessions.iter().map(|one| one.date).collect();
    days.dedup();
    let told = days.into_iter().map(|day| {
        let said = calendar_day(day, file.on);
        match sessions.iter().filter(|one| one.date == day).count() {
            0 | 1 => said,
            many => format!("{said} ({many} sessions, which count as one)"),
        }
    });
    told.collect()
}

/// One figure after the point at most.
pub(super) fn short(value: f64) -> String {
    let rounded = format!("{value:.1}");
    rounded.strip_suffix(".0").unwrap_or(&rounded).to_owned()
}

/// The same for an upper limit: rounded down, so that what is shown never goes beyond what is allowed.
pub(super) fn at_most(limit: f64) -> String {
    // A ten-thousandth of a step keeps 3.1 at 3.1, which is not exact in binary.
    short((limit * 10.0 + 1e-4).floor() / 10.0)
}
