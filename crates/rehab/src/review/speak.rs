//! Which rules speak, each with its action and its reason.

use super::agreed::effort_most;
use super::alerts::Alert;
use super::propose::Action;
use super::sessions::{days_here, is_finished, last_measured, last_three};
use super::symptoms::{SymptomClass, SymptomReading};
use super::told::{self, Told};
use super::{ReviewInput, Silence, begin_again, decide, recent, rules, standing, trends};
use crate::assessed::{CeilingKind, Decision};
use crate::calendar::days_between;
use crate::diary::DiaryEntry;
use crate::evidence::{Because, Named, RuleId, Value};
use crate::inputs::counted;

/// Every rule that speaks; empty means nothing keeps the person from the next rung.
pub(super) fn all(
    input: &ReviewInput<'_>,
    entries: &[&DiaryEntry],
    symptoms: &[SymptomReading],
    silence: &Silence,
    alerts: &[Alert],
) -> Vec<Spoken> {
    let mut spoken = from_alerts(input, alerts);
    spoken.extend(from_symptoms(input, entries, symptoms));
    spoken.extend(from_news(input, entries, silence));
    spoken.extend(begin_again::after_gap(input, entries));
    spoken.extend(begin_again::after_return(input, entries));
    spoken.extend(begin_again::after_stop(input));
    spoken.extend(from_effort(input, entries));
    spoken.extend(from_pulse(input, entries));
    spoken.extend(from_joints(input, entries));
    spoken.extend(from_standing(input, entries));
    said_once(spoken)
}

/// What an open alert says is not said again.
fn said_once(spoken: Vec<Spoken>) -> Vec<Spoken> {
    let mut once: Vec<Spoken> = Vec::new();
    for one in spoken {
        let same = |other: &Spoken| {
            (other.because.rule, &other.because.text) == (one.because.rule, &one.because.text)
        };
        if !once.iter().any(same) {
            once.push(one);
        }
    }
    once
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

fn from_alerts(input: &ReviewInput<'_>, alerts: &[Alert]) -> Vec<Spoken> {
    alerts
        .iter()
        .filter_map(|alert| {
            let action = below_first_page(input, rules::action_of_alert(alert.rule)?, alert.rule);
            let inputs = vec![Named::date("since", alert.since)];
            Some(speak(action, alert.rule, alert.text.clone(), inputs))
        })
        .collect()
}

/// Below the first page there is none: who passes the hard ceiling on it has no page until somebody has asked.
fn below_first_page(input: &ReviewInput<'_>, action: Action, rule: RuleId) -> Action {
    match action {
        Action::StepBack if rule == rules::OVER_CEILING && input.current_stage <= 1 => {
            Action::AskFirst
        }
        _ => action,
    }
}

/// Settled or not, what was red or changed in the last fortnight keeps a person where they are.
fn from_symptoms(
    input: &ReviewInput<'_>,
    entries: &[&DiaryEntry],
    symptoms: &[SymptomReading],
) -> Option<Spoken> {
    let readings = symptoms
        .iter()
        .filter(|reading| matches!(reading.class, SymptomClass::Red | SymptomClass::Changed))
        .map(|reading| (reading.date, reading.text.clone()));
    let stops = |rule| rules::action_of_alert(rule) == Some(Action::StopAndContact);
    let told = recent(entries, input.on, rules::QUIET_DAYS)
        .into_iter()
        .flat_map(|entry| told::of_entry(input, entry))
        .filter(|one| stops(one.rule))
        .map(|one| (one.date, one.text));
    let (date, text) = readings
        .filter(|(date, _)| days_between(*date, input.on) <= rules::QUIET_DAYS)
        .chain(told)
        .max_by_key(|(date, _)| *date)?;
    let text = format!(
        "{text}; nobody is moved on within {} days of it",
        rules::QUIET_DAYS
    );
    let inputs = vec![Named::date("symptom_on", date)];
    Some(speak(Action::Hold, rules::HOLD_SYMPTOM, text, inputs))
}

/// No or contradictory news.
fn from_news(input: &ReviewInput<'_>, entries: &[&DiaryEntry], silence: &Silence) -> Vec<Spoken> {
    let mut spoken = Vec::new();
    if silence.silent || entries.is_empty() {
        let text = match silence.days {
            Some(days) if silence.silent => format!(
                "last heard from {}; agreed was news every {} days",
                crate::calendar::ago(days),
                silence.agreed_days
            ),
            // Not yet silent, and nothing to decide from either.
            _ => "nothing has come back yet".to_owned(),
        };
        spoken.push(speak(
            Action::AskFirst,
            rules::ASK_SILENCE,
            text,
            Vec::new(),
        ));
    }
    let asks = |rule| rules::action_of_alert(rule) == Some(Action::AskFirst);
    let questions = entries
        .iter()
        .flat_map(|entry| told::of_entry(input, entry))
        .filter(|one| asks(one.rule) && is_unanswered(input, one));
    spoken.extend(questions.map(|one| {
        let inputs = vec![Named::date("since", one.date)];
        speak(Action::AskFirst, one.rule, one.text, inputs)
    }));
    spoken
}

/// A change of medicine asks until somebody has examined on a later day, whatever was written about it; everything else
/// for a fortnight.
fn is_unanswered(input: &ReviewInput<'_>, one: &Told) -> bool {
    if one.rule == rules::ASK_MEDICINE {
        let mut examined = input.case.examinations.iter().filter(|one| one.examines());
        return !examined.any(|other| other.date > one.date && other.date <= input.on);
    }
    days_between(one.date, input.on) <= rules::QUIET_DAYS
}

fn from_effort(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Vec<Spoken> {
    let last = last_three(input, entries);
    let mut spoken: Vec<Spoken> = above_the_range(input, entries).into_iter().collect();
    let unfinished = last
        .iter()
        .filter(|entry| is_finished(input, entry) == Some(false))
        .count();
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

/// Effort above the range, each session by what was agreed for its own day.
fn above_the_range(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Option<Spoken> {
    let scale = input.assessed.limits.effort_scale;
    let told: Vec<(f64, f64)> = last_measured(input, entries)
        .into_iter()
        .filter_map(|entry| {
            let effort = entry.effort.filter(|effort| effort.scale == scale)?;
            Some((effort.value, effort_most(input, entry)))
        })
        .collect();
    let over: Vec<f64> = told.iter().map(|(value, most)| value - most).collect();
    let action = decide::effort(&over, 0.0, scale)?;
    let above: Vec<f64> = told
        .iter()
        .filter(|(value, most)| value > most)
        .map(|(_, most)| *most)
        .collect();
    let same = above.iter().all(|most| *most == above[0]);
    let agreed = if same {
        format!("the agreed {}", above[0])
    } else {
        "what was agreed for its day".to_owned()
    };
    let text = format!(
        "effort above {agreed} in {} of the last {}",
        above.len(),
        counted(told.len(), "session", "sessions")
    );
    let rule = if action == Action::Hold {
        rules::HOLD_EFFORT
    } else {
        rules::BACK_EFFORT
    };
    Some(speak(action, rule, text, Vec::new()))
}

fn from_pulse(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Option<Spoken> {
    let ceiling = input.assessed.limits.ceiling?;
    let rule = match ceiling.kind {
        CeilingKind::Hard => rules::OVER_CEILING,
        CeilingKind::Guiding => rules::HOLD_GUIDING,
    };
    let highest: Vec<f64> = last_measured(input, entries)
        .into_iter()
        .filter_map(trends::highest_pulse)
        .collect();
    let rate = ceiling.rate.to_bpm();
    let action = decide::pulse(&highest, rate, ceiling.kind)?;
    let text = format!(
        "pulse above the {} ceiling of {rate} in the last three sessions",
        ceiling.kind
    );
    let action = below_first_page(input, action, rule);
    Some(speak(action, rule, text, Vec::new()))
}

/// A sore joint of the last fortnight, or one of which no later answer tells how the next morning was.
fn from_joints(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Option<Spoken> {
    let list = recent(entries, input.on, rules::QUIET_DAYS);
    let told_later = |date| {
        list.iter().any(|other| {
            other.date > date
                && other
                    .joint_pain
                    .is_some_and(|pain| pain.worse_next_morning.is_some())
        })
    };
    let holds = list.iter().rfind(|entry| {
        let holds = entry
            .joint_pain
            .is_some_and(|pain| decide::joint(pain.during, pain.worse_next_morning).is_some());
        holds && (decide::is_sore(entry) || !told_later(entry.date))
    })?;
    let text = if decide::is_sore(holds) {
        format!(
            "a joint was sore on {}: that exercise is eased and nothing else changes",
            holds.date
        )
    } else {
        format!(
            "a joint hurt on {}, and how it was next morning is not told",
            holds.date
        )
    };
    let inputs = vec![Named::date("entry", holds.date)];
    Some(speak(Action::Hold, rules::HOLD_JOINT, text, inputs))
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
        let here = counted(here, "session", "sessions");
        let text = format!("{here} on this page; {wanted} are wanted before the next");
        spoken.push(speak(Action::Hold, rules::HOLD_FEW, text, Vec::new()));
    }
    let early = match input.stage_since {
        Some(since) => (days_between(since, input.on) < rules::LEAST_DAYS)
            .then(|| format!("less than {} days on this page", rules::LEAST_DAYS)),
        None => Some("since when this page is done is not known".to_owned()),
    };
    if let Some(text) = early {
        spoken.push(speak(Action::Hold, rules::HOLD_EARLY, text, Vec::new()));
    }
    if input.assessed.signing_blocked {
        let open = input.assessed.what_blocks();
        let what = open.map_or_else(String::new, |one| {
            format!(": {}", one.text.trim_end_matches(['.', '?']))
        });
        let text = format!("nothing new can be given before this is found out{what}");
        spoken.push(speak(Action::Hold, rules::HOLD_FIND_OUT, text, Vec::new()));
    }
    let scale = input.assessed.limits.effort_scale;
    let on_scale = |entry: &&DiaryEntry| entry.effort.is_some_and(|effort| effort.scale == scale);
    if !last_three(input, entries).iter().all(on_scale) {
        let text = format!("effort is not told on {scale} for each of the last three sessions");
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
            "{} done on this page, effort inside the agreed range, no red or changed symptom",
            counted(done, "session", "sessions")
        ),
        vec![Named::whole("sessions", done as i64, "sessions")],
    )
}
