//! The result of `review`: trends, symptoms, silence, alerts and the proposal.

use super::reasons::{number, reasons};
use jiff::civil::Date;
use rehab::assessment::CaseId;
use rehab::review::{Alert, Proposal, Review, Silence, SymptomReading, Trends, Week};
use rehab::service::Service;
use serde_json::{Value, json};

/// What a review comes to.
pub fn review(case: &CaseId, on: Date, review: &Review, service: &Service) -> Value {
    json!({
        "case": case.0,
        "on": on.to_string(),
        "service": service.name,
        "proposal": proposal(&review.proposal),
        "alerts": review.alerts.iter().map(alert).collect::<Vec<_>>(),
        "symptoms": review.symptoms.iter().map(symptom).collect::<Vec<_>>(),
        "own_words": review.own_words.iter().map(|(day, text)| json!({ "date": day.to_string(), "text": text })).collect::<Vec<_>>(),
        "silence": silence(&review.silence),
        "trends": trends(&review.trends),
    })
}

/// What to do next, and why.
pub fn proposal(proposal: &Proposal) -> Value {
    json!({
        "action": proposal.action.word(),
        "from_stage": proposal.from_stage,
        "to_stage": proposal.to_stage,
        "ease": proposal.ease,
        "watch_first": proposal.watch_first,
        "because": reasons(&proposal.because),
    })
}

fn alert(alert: &Alert) -> Value {
    json!({
        "key": alert.key,
        "id": alert.rule.0,
        "urgency": alert.urgency.word(),
        "since": alert.since.to_string(),
        "text": alert.text,
        "to_lead_on": alert.to_lead_on.to_string(),
    })
}

fn symptom(reading: &SymptomReading) -> Value {
    json!({
        "entry": reading.entry,
        "date": reading.date.to_string(),
        "kind": reading.kind.word(),
        "class": reading.class.word(),
    })
}

fn silence(silence: &Silence) -> Value {
    json!({
        "last_heard": silence.last_heard.map(|day| day.to_string()),
        "days": silence.days,
        "since": silence.since.map(|day| day.to_string()),
        "agreed_days": silence.agreed_days,
        "silent": silence.silent,
    })
}

fn trends(trends: &Trends) -> Value {
    let pulses = |list: &[(Date, f64)]| {
        let pulses = list
            .iter()
            .map(|(day, bpm)| json!({ "date": day.to_string(), "bpm": number(*bpm) }));
        pulses.collect::<Vec<_>>()
    };
    let efforts = trends.effort.iter().map(|(day, effort)| {
        json!({ "date": day.to_string(), "scale": effort.scale.word(), "value": number(effort.value) })
    });
    json!({
        "weeks": trends.weeks.iter().map(week).collect::<Vec<_>>(),
        "done_in_14_days": trends.done_in_14_days,
        "planned_in_14_days": trends.planned_in_14_days,
        "stations_done": trends.stations.0,
        "stations_planned": trends.stations.1,
        "effort": efforts.collect::<Vec<_>>(),
        "station_pulse": pulses(&trends.station_pulse),
        "pulse_before": pulses(&trends.pulse_before),
    })
}

fn week(week: &Week) -> Value {
    json!({
        "from": week.from.to_string(),
        "done": week.done,
        "planned": week.planned,
        "load": week.load.map(number),
    })
}
