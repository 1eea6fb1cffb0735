//! Which rules speak, each with its action and its reason.

use super::alerts::Alert;
use super::propose::Action;
use super::sessions::{days_here, is_unfinished, last_three};
use super::symptoms::{SymptomClass, SymptomReading};
use super::{ReviewInput, Silence, begin_again, decide, recent, rules, standing, trends};
use crate::assessed::{CeilingKind, Decision};
use crate::calendar::days_between;
use crate::diary::DiaryEntry;
use crate::evidence::{Because, Named, RuleId, Value};

/// Every rule that speaks; empty means nothing keeps the person from the next rung.
pub(super) fn all(
    input: &ReviewInput<'_>,
    entries: &[&DiaryEntry],
    symptoms: &[SymptomReading],
    silence: &Silence,
    alerts: &[Alert],
) -> Vec<Spoken> {
    let mut spoken = from_alerts(alerts);
    spoken.extend(from_symptoms(input, symptoms));
    spoken.extend(from_news(input, entries, silence));
    spoken.extend(begin_again::after_gap(input, entries));
    spoken.extend(begin_again::after_return(input, entries));
    spoken.extend(begin_again::after_stop(input));
    spoken.extend(from_effort(input, entries));
    spoken.extend(from_pulse(input, entries));
    spoken.extend(from_joints(input, entries));
    spoken.extend(from_standing(input, entries));
    spoken
}

/// One rule that spoke.
pub(super) struct Spoken {
    pub(super) action: Action,
    pub(super) because: Because,
}

pub(super) fn speak(action: Action, rule: RuleId, text: String, inputs: Vec<Named>) -> Spoken {
    let item = rules::rule(rule);
    Spoken {
        action,
        because: Because {
            rule,
            text,
            value: Value::Text(action.word().to_owned()),
            working: None,
            inputs,
            sources: item.sources.to_vec(),
            tag: item.tag,
            assumed: Vec::new(),
            unsure: None,
            changes_with: None,
        },
    }
}

fn from_alerts(alerts: &[Alert]) -> Vec<Spoken> {
    alerts
        .iter()
        .filter_map(|alert| {
            let action = rules::action_of_alert(alert.rule)?;
            Some(speak(
                action,
                alert.rule,
                alert.text.clone(),
                vec![Named::date("since", alert.since)],
            ))
        })
        .collect()
}

/// Settled or not, a red or changed symptom of the last fortnight keeps a person where they are.
fn from_symptoms(input: &ReviewInput<'_>, symptoms: &[SymptomReading]) -> Option<Spoken> {
    let latest = symptoms
        .iter()
        .filter(|reading| matches!(reading.class, SymptomClass::Red | SymptomClass::Changed))
        .filter(|reading| days_between(reading.date, input.on) <= rules::QUIET_DAYS)
        .max_by_key(|reading| reading.date)?;
    Some(speak(
        Action::Hold,
        rules::HOLD_SYMPTOM,
        format!(
            "{}; nobody is moved on within {} days of it",
            latest.text,
            rules::QUIET_DAYS
        ),
        vec![Named::date("symptom_on", latest.date)],
    ))
}

/// No or contradictory news.
fn from_news(input: &ReviewInput<'_>, entries: &[&DiaryEntry], silence: &Silence) -> Vec<Spoken> {
    let mut spoken = Vec::new();
    if silence.silent || entries.is_empty() {
        let text = match silence.days {
            Some(days) => format!(
                "last heard from {days} days ago; agreed were {}",
                silence.agreed_days
            ),
            None => "nothing has come back yet".to_owned(),
        };
        spoken.push(speak(
            Action::AskFirst,
            rules::ASK_SILENCE,
            text,
            Vec::new(),
        ));
    }
    for entry in recent(entries, input.on, rules::QUIET_DAYS) {
        if entry.symptoms.is_none() && !entry.is_morning_after() {
            let text = format!(
                "the entry of {} does not say whether there were symptoms",
                entry.date
            );
            spoken.push(speak(
                Action::AskFirst,
                rules::ASK_NOT_TOLD,
                text,
                vec![Named::date("entry", entry.date)],
            ));
        }
        if let Some(why) = contradiction(input, entry) {
            let text = format!("the entry of {} contradicts itself: {why}", entry.date);
            spoken.push(speak(
                Action::AskFirst,
                rules::ASK_CONTRADICTION,
                text,
                vec![Named::date("entry", entry.date)],
            ));
        }
    }
    spoken
}

fn contradiction(input: &ReviewInput<'_>, entry: &DiaryEntry) -> Option<&'static str> {
    if entry
        .stations_done
        .zip(entry.stations_planned)
        .is_some_and(|(done, planned)| done > planned)
    {
        return Some("more turns done than were planned");
    }
    if input
        .stage_since
        .is_some_and(|since| entry.stage == Some(input.current_stage) && entry.date < since)
    {
        return Some("a page was done before it was given");
    }
    let hard = entry
        .effort
        .is_some_and(|effort| effort.value >= rules::hardest(effort.scale));
    let resting = input
        .assessed
        .limits
        .resting_hr
        .zip(trends::highest_station_pulse(entry));
    if hard && resting.is_some_and(|(rest, pulse)| pulse <= rest.to_bpm()) {
        return Some("the hardest effort with a pulse no higher than at rest");
    }
    None
}

fn from_effort(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Vec<Spoken> {
    let limits = &input.assessed.limits;
    let last = last_three(entries);
    let efforts: Vec<f64> = last
        .iter()
        .filter_map(|entry| {
            entry
                .effort
                .filter(|effort| effort.scale == limits.effort_scale)
        })
        .map(|effort| effort.value)
        .collect();
    let mut spoken = Vec::new();
    if let Some(action) = decide::effort(&efforts, limits.effort.high, limits.effort_scale) {
        let above = efforts
            .iter()
            .filter(|value| **value > limits.effort.high)
            .count();
        let text = format!(
            "effort above the agreed {} in {above} of the last {} sessions",
            limits.effort.high,
            efforts.len()
        );
        let rule = if action == Action::Hold {
            rules::HOLD_EFFORT
        } else {
            rules::BACK_EFFORT
        };
        spoken.push(speak(action, rule, text, Vec::new()));
    }
    let unfinished = last.iter().filter(|entry| is_unfinished(entry)).count();
    if let Some(action) = decide::unfinished(unfinished) {
        let text = format!("{unfinished} of the last three sessions ended well before their end");
        let rule = if action == Action::Hold {
            rules::HOLD_UNFINISHED
        } else {
            rules::BACK_UNFINISHED
        };
        spoken.push(speak(action, rule, text, Vec::new()));
    }
    spoken
}

fn from_pulse(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Vec<Spoken> {
    let mut spoken = Vec::new();
    let highest: Vec<f64> = last_three(entries)
        .into_iter()
        .filter_map(trends::highest_station_pulse)
        .collect();
    if let Some(ceiling) = input.assessed.limits.ceiling {
        let rate = ceiling.rate.to_bpm();
        if let Some(action) = decide::pulse(&highest, rate, ceiling.kind) {
            let text = format!(
                "pulse above the {} ceiling of {rate} in the last three sessions",
                ceiling.kind
            );
            let rule = match ceiling.kind {
                CeilingKind::Hard => rules::OVER_CEILING,
                CeilingKind::Guiding => rules::HOLD_GUIDING,
            };
            spoken.push(speak(action, rule, text, Vec::new()));
        }
    }
    let before = recent(entries, input.on, rules::QUIET_DAYS)
        .into_iter()
        .filter_map(trends::pulse_before);
    if let Some(action) = before.reduce(f64::max).and_then(decide::fast_before) {
        let text = format!(
            "a pulse of {} or more before a session",
            rules::FAST_BEFORE_BPM
        );
        spoken.push(speak(action, rules::ASK_FAST_BEFORE, text, Vec::new()));
    }
    spoken
}

fn from_joints(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Option<Spoken> {
    let sore = recent(entries, input.on, rules::QUIET_DAYS)
        .into_iter()
        .rfind(|entry| is_sore(entry))?;
    Some(speak(
        Action::Hold,
        rules::HOLD_JOINT,
        format!(
            "a joint was sore on {}: that exercise is eased and nothing else changes",
            sore.date
        ),
        vec![Named::date("entry", sore.date)],
    ))
}

pub(super) fn is_sore(entry: &DiaryEntry) -> bool {
    entry
        .joint_pain
        .is_some_and(|pain| decide::joint(pain.during, pain.worse_next_morning).is_some())
}

/// What of the person's standing keeps them on the rung.
fn from_standing(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Vec<Spoken> {
    let mut spoken = Vec::new();
    if standing::only_ran_out(&input.assessed.screening) {
        let text =
            "the last examination has run out; examine again before the next page".to_owned();
        spoken.push(speak(
            Action::Hold,
            rules::HOLD_EXAMINATION,
            text,
            Vec::new(),
        ));
    } else if input.assessed.screening.decision != Decision::Exercise {
        let text = format!("screening says {}", input.assessed.screening.decision);
        spoken.push(speak(
            Action::StopAndContact,
            rules::STOP_SCREENING,
            text,
            Vec::new(),
        ));
    }
    let here = days_here(input, entries);
    let wanted = decide::sessions_wanted(sessions_a_week(input));
    if here < wanted {
        let text = format!("{here} sessions on this page; {wanted} are wanted before the next");
        spoken.push(speak(Action::Hold, rules::HOLD_FEW, text, Vec::new()));
    }
    if input
        .stage_since
        .is_some_and(|since| days_between(since, input.on) < rules::LEAST_DAYS)
    {
        let text = format!("less than {} days on this page", rules::LEAST_DAYS);
        spoken.push(speak(Action::Hold, rules::HOLD_EARLY, text, Vec::new()));
    }
    if input.assessed.signing_blocked {
        let text = "something to find out blocks signing, so nothing new can be given".to_owned();
        spoken.push(speak(Action::Hold, rules::HOLD_FIND_OUT, text, Vec::new()));
    }
    let effort_known = last_three(entries)
        .iter()
        .filter(|entry| entry.effort.is_some())
        .count();
    if effort_known < last_three(entries).len() {
        let text = "effort is not told for each of the last three sessions".to_owned();
        spoken.push(speak(
            Action::Hold,
            rules::HOLD_EFFORT_UNKNOWN,
            text,
            Vec::new(),
        ));
    }
    if !input.stages.is_empty()
        && !input
            .stages
            .iter()
            .any(|stage| stage.number == input.current_stage + 1)
    {
        let text = "there is no further page within the limits".to_owned();
        spoken.push(speak(Action::Hold, rules::HOLD_LAST, text, Vec::new()));
    }
    spoken
}

fn sessions_a_week(input: &ReviewInput<'_>) -> usize {
    input
        .stages
        .iter()
        .find(|stage| stage.number == input.current_stage)
        .map_or(rules::LEAST_SESSIONS, |stage| {
            usize::from(stage.sessions_per_week)
        })
}

/// Nothing speaks against the next rung.
pub(super) fn ready(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Spoken {
    let done = days_here(input, entries);
    speak(
        Action::Advance,
        rules::ADVANCE,
        format!(
            "{done} sessions done on this page, effort inside the agreed range, no red or changed symptom"
        ),
        vec![Named::whole("sessions", done as i64, "sessions")],
    )
}
