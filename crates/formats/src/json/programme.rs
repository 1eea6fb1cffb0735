//! The result of `programme`: rungs with their segments, and with diaries the proposal.

use super::limits::screening;
use super::reasons::{finding, findings, number, reasons, rounded};
use rehab::evidence::Finding;
use rehab::programme::{Alternative, Others, Plan, Segment, Stage, StageSketch, VariantRef};
use rehab::service::Service;
use serde_json::{Value, json};

/// A programme; `proposal` stays null without a review.
pub fn programme(
    case: &rehab::assessment::CaseId,
    plan: &Plan,
    noticed: &[Finding],
    service: &Service,
    review: Option<&rehab::review::Review>,
) -> Value {
    json!({
        "case": case.0,
        "on": plan.assessed.on.to_string(),
        "service": service.name,
        "screening": screening(&plan.assessed.screening),
        "to_find_out": findings(&plan.assessed.to_find_out),
        "signing_blocked": plan.assessed.signing_blocked,
        "stages": plan.stages.iter().map(stage).collect::<Vec<_>>(),
        "sketch": plan.sketch.iter().map(sketch).collect::<Vec<_>>(),
        "findings": findings(noticed),
        "proposal": review.map(|review| super::review::proposal(&review.proposal)),
    })
}

/// One rung.
pub fn stage(stage: &Stage) -> Value {
    // A rung without stations was not composed, so there is nothing to prove.
    let composed = stage.cardiovascular_stations() > 0;
    json!({
        "number": stage.number,
        "lever": stage.lever,
        "sessions_per_week": stage.sessions_per_week,
        "minutes": rounded(stage.minutes(), 2),
        "met_minutes": rounded(stage.met_minutes(), 2),
        "predicted": {
            "peak_hr": stage.predicted.peak_hr.map(|rate| rounded(rate, 2)),
            "ceiling_probability": stage.predicted.ceiling_probability.map(|chance| rounded(chance, 5)),
        },
        "objective": composed.then_some(stage.objective),
        "bound": composed.then_some(stage.bound),
        "proven": composed.then_some(stage.proven),
        "segments": stage.segments.iter().map(segment).collect::<Vec<_>>(),
        "because": reasons(&stage.because),
    })
}

/// What else a turn of a rung could be.
pub fn others(stage: u16, turn: u8, others: &Others) -> Value {
    json!({
        "stage": stage,
        "turn": turn,
        "ways": others.ways.iter().map(alternative).collect::<Vec<_>>(),
        "why_few": others.why_few.as_ref().map(finding),
    })
}

fn alternative(other: &Alternative) -> Value {
    json!({
        "exercise": other.doing.exercise,
        "variant": other.doing.variant,
        "place": (!other.place_name.is_empty()).then_some(&other.place_name),
        "mets": number(other.mets),
        "mets_change": rounded(other.mets_change, 2),
        "predicted_hr": other.predicted_hr.map(|rate| rounded(rate, 2)),
        "new": other.new,
        "to_watch": other.to_watch,
        "because": reasons(&other.because),
    })
}

fn segment(segment: &Segment) -> Value {
    let doing = segment.doing.as_ref();
    json!({
        "phase": segment.phase.word(),
        "kind": segment.kind.word(),
        "exercise": doing.map(|doing| &doing.exercise),
        "variant": doing.map(|doing| &doing.variant),
        "place": (!segment.place_name.is_empty()).then_some(&segment.place_name),
        "round": segment.round,
        "seconds": rounded(f64::from(segment.duration_ms) / 1000.0, 3),
        "per_minute": segment.per_minute.map(number),
        "mets": number(segment.mets),
        "mets_low": number(segment.mets_low),
        "mets_high": number(segment.mets_high),
        "hr_gain": number(segment.hr_gain),
        "predicted_hr": segment.predicted_hr.map(|rate| rounded(rate, 2)),
        "predicted_sd": segment.predicted_sd.map(|spread| rounded(spread, 2)),
        "easier": segment.easier.as_ref().map(variant),
        "to_watch": segment.to_watch,
    })
}

fn variant(variant: &VariantRef) -> Value {
    json!({ "exercise": variant.exercise, "variant": variant.variant })
}

fn sketch(sketch: &StageSketch) -> Value {
    json!({ "number": sketch.number, "lever": sketch.lever, "text": sketch.text })
}
