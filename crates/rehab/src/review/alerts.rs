//! Alerts: what a named person must answer. Each stays until somebody writes what was done.

use super::symptoms::{SymptomClass, SymptomReading};
use super::{Action, RULES, ReviewInput, Silence, decide, earlier, rules, standing, told, watched};
use crate::assessed::Decision;
use crate::assessment::{Answered, StatusKind};
use crate::calendar::{days_after, days_between};
use crate::diary::DiaryEntry;
use crate::evidence::RuleId;
use jiff::civil::Date;

closed_words!(
    /// How soon an alert wants an answer.
    Urgency as "urgency" { Today = "today", ThisWeek = "this-week" }
);

/// Something a named person must answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Alert {
    /// Stable key: the same cause raises the same key, so that it is settled once.
    pub key: String,
    /// The rule that raised it.
    pub rule: RuleId,
    /// How soon.
    pub urgency: Urgency,
    /// Day of its cause.
    pub since: Date,
    /// In words.
    pub text: String,
    /// Day from which it is the lead's too, if nobody has answered it: the service's hours in whole days, rounded up.
    pub to_lead_on: Date,
}

impl Alert {
    /// Whether it is the lead's too by that day, because nobody has answered it in the service's time.
    pub fn is_with_lead(&self, on: Date) -> bool {
        on >= self.to_lead_on
    }

    /// Whether it ends only with a decision on a page, not with words on what was done.
    pub fn ends_with_decision(&self) -> bool {
        self.rule == rules::ASK_STOPPED
    }
}

/// Alerts raised by entries, symptoms, weight, pulse and silence, without the settled ones; most urgent and oldest first.
pub(super) fn open(
    input: &ReviewInput<'_>,
    entries: &[&DiaryEntry],
    readings: &[SymptomReading],
    silence: &Silence,
) -> Vec<Alert> {
    let mut alerts = Vec::new();
    if input.case.status.kind == StatusKind::Died {
        return alerts;
    }
    for reading in readings {
        if let Some(alert) = of_symptom(input, reading) {
            alerts.push(alert);
        }
    }
    for entry in entries {
        alerts.extend(of_entry(input, entry));
    }
    alerts.extend(of_weight(input, entries));
    alerts.extend(earlier::raised(input, entries));
    alerts.extend(of_watched(input, entries));
    alerts.extend(of_standing(input));
    alerts.extend(of_silence(input, silence));
    alerts.retain(|alert| !input.settled.contains(&alert.key));
    alerts.extend(of_stop(input));
    alerts.retain(|alert| alert.urgency == Urgency::Today || !has_left(input));
    alerts.sort_by(|a, b| (a.urgency, a.since, &a.key).cmp(&(b.urgency, b.since, &b.key)));
    alerts.dedup_by(|a, b| a.key == b.key);
    alerts
}

fn alert(input: &ReviewInput<'_>, rule: RuleId, since: Date, cause: &str, text: String) -> Alert {
    Alert {
        key: key(rule, cause),
        rule,
        urgency: urgency_of(rule),
        since,
        text,
        to_lead_on: to_lead(input, since),
    }
}

/// The key of a rule and its cause.
pub(super) fn key(rule: RuleId, cause: &str) -> String {
    format!("{rule}:{cause}")
}

/// What stops, or takes a page away, wants an answer today.
fn urgency_of(rule: RuleId) -> Urgency {
    match rules::action_of_alert(rule) {
        Some(Action::StopAndContact | Action::StepBack) => Urgency::Today,
        _ => Urgency::ThisWeek,
    }
}

/// Journals know days, not hours, so a part of a day counts as a whole one.
fn to_lead(input: &ReviewInput<'_>, raised: Date) -> Date {
    let days = input.service.alert_to_lead_hours.div_ceil(24);
    days_after(raised, i32::from(days))
}

fn of_symptom(input: &ReviewInput<'_>, reading: &SymptomReading) -> Option<Alert> {
    if matches!(reading.class, SymptomClass::Usual | SymptomClass::Joint) {
        return None;
    }
    let cause = format!("{}:{}", reading.entry, reading.kind);
    Some(alert(
        input,
        reading.rule,
        reading.date,
        &cause,
        reading.text.clone(),
    ))
}

/// What one entry tells.
pub(super) fn of_entry(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Vec<Alert> {
    told::of_entry(input, entry)
        .into_iter()
        .map(|one| alert(input, one.rule, one.date, &one.entry, one.text))
        .collect()
}

/// Weight that rose fast in heart failure: against every weight of the three days before it.
pub(super) fn of_weight(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Vec<Alert> {
    // Not asked is not absent.
    if input.case.heart_failure() == Answered::Absent {
        return Vec::new();
    }
    let mut weights: Vec<(Date, f64)> = entries
        .iter()
        .filter_map(|entry| Some((entry.date, entry.weight_kg?)))
        .collect();
    weights.extend(
        input
            .case
            .examinations
            .iter()
            .filter_map(|one| Some((one.date, one.weight_kg?))),
    );
    weights.retain(|(date, _)| *date <= input.on);
    weights.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut alerts = Vec::new();
    for (position, (date, weight)) in weights.iter().enumerate() {
        let before = weights.get(..position).unwrap_or_default();
        let least = before
            .iter()
            .filter(|(earlier, kg)| {
                decide::weight(weight - kg, days_between(*earlier, *date)).is_some()
            })
            .min_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((from, least)) = least {
            let text = format!(
                "weight rose from {least} kg to {weight} kg within {} days, {date}",
                days_between(*from, *date)
            );
            alerts.push(alert(
                input,
                rules::RED_WEIGHT,
                *date,
                &date.to_string(),
                text,
            ));
        }
    }
    alerts
}

fn of_watched(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Vec<Alert> {
    watched::of_watched(input, entries)
        .into_iter()
        .map(|(rule, date, text)| alert(input, rule, date, &date.to_string(), text))
        .collect()
}

fn of_standing(input: &ReviewInput<'_>) -> Option<Alert> {
    let screening = &input.assessed.screening;
    let holds = screening.decision != Decision::Exercise;
    if !holds || !is_active(input) || standing::only_ran_out(screening) {
        return None;
    }
    let examined = screening
        .examined
        .map_or("no-examination".to_owned(), |date| date.to_string());
    let causes = standing::causes(screening);
    let answered = answered_causes(input, &examined);
    let open: Vec<String> = causes
        .iter()
        .filter(|cause| !answered.contains(&cause.as_str()))
        .cloned()
        .collect();
    if open.is_empty() && !answered.is_empty() {
        return None;
    }
    let text = format!("screening on {} says {}", input.on, screening.decision);
    let since = standing::since(input);
    let cause = format!("{examined}:{}", open.join("+"));
    Some(alert(input, rules::STOP_SCREENING, since, &cause, text))
}

/// What of the screening after one examination was answered already: a new cause speaks again, an answered one does not.
fn answered_causes<'a>(input: &ReviewInput<'a>, examined: &str) -> Vec<&'a str> {
    let begins = format!("{}:{examined}:", rules::STOP_SCREENING);
    input
        .settled
        .iter()
        .filter_map(|key| key.strip_prefix(&begins))
        .flat_map(|causes| causes.split('+'))
        .collect()
}

fn of_silence(input: &ReviewInput<'_>, silence: &Silence) -> Option<Alert> {
    let since = silence.since?;
    if !silence.silent || !is_active(input) {
        return None;
    }
    let text = match (silence.last_heard, silence.days) {
        (Some(date), Some(days)) => {
            format!("last heard from {}, on {date}", crate::calendar::ago(days))
        }
        _ => format!("nothing has been heard since the page began on {since}"),
    };
    // Silence begins when it has lasted longer than agreed, not on the day of the last news.
    let begun = days_after(since, silence.agreed_days + 1).min(input.on);
    let cause = since.to_string();
    let alert = alert(input, rules::ASK_SILENCE, since, &cause, text);
    Some(Alert {
        to_lead_on: to_lead(input, begun),
        ..alert
    })
}

/// A stop that nobody has ended yet: words alone do not, only a decision on a page does.
fn of_stop(input: &ReviewInput<'_>) -> Option<Alert> {
    let since = input.stopped?;
    let text = format!("stopped since {since}; nobody has decided on a page again");
    let cause = since.to_string();
    Some(alert(input, rules::ASK_STOPPED, since, &cause, text))
}

/// Whether an alert of this key, once answered, leaves a stop behind. The screening needs none: it speaks for itself on
/// every day.
pub fn leaves_a_stop(key: &str) -> bool {
    let rule = key.split(':').next().unwrap_or(key);
    RULES.iter().any(|one| {
        one.id.0 == rule
            && one.id != rules::STOP_SCREENING
            && rules::action_of_alert(one.id) == Some(Action::StopAndContact)
    })
}

fn is_active(input: &ReviewInput<'_>) -> bool {
    input.case.status.kind == StatusKind::Active
}

/// Of whoever declined or was discharged only what is red still speaks. The dead raise no alert: nobody rings a widow to
/// ask for a diary.
fn has_left(input: &ReviewInput<'_>) -> bool {
    matches!(
        input.case.status.kind,
        StatusKind::Declined | StatusKind::Discharged
    )
}
