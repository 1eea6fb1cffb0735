//! A rung as it is stored with its signature: whole, so that what was signed can be shown again to the millisecond.

use super::word;
use rehab::evidence::{Because, Named, Rule, RuleId, SourceId, Tag, Value};
use rehab::programme::{Phase, Predicted, Segment, SegmentKind, Stage, VariantRef};
use serde::{Deserialize, Serialize};

/// Rungs in the bytes in which they are stored.
pub(crate) fn stored_stages(stages: &[Stage]) -> Vec<u8> {
    let stored: Vec<StoredStage> = stages.iter().map(StoredStage::from).collect();
    serde_json::to_vec(&stored).expect("a rung has only text and numbers")
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StoredStage {
    number: u16,
    lever: String,
    sessions_per_week: u8,
    segments: Vec<StoredSegment>,
    peak_hr: Option<f64>,
    ceiling_probability: Option<f64>,
    objective: i64,
    bound: i64,
    proven: bool,
    because: Vec<StoredBecause>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredSegment {
    #[serde(with = "word")]
    phase: Phase,
    #[serde(with = "word")]
    kind: SegmentKind,
    exercise: Option<String>,
    variant: Option<String>,
    place: Option<usize>,
    place_name: String,
    round: u8,
    duration_ms: u32,
    per_minute: Option<f64>,
    mets: f64,
    mets_low: f64,
    mets_high: f64,
    hr_gain: f64,
    predicted_hr: Option<f64>,
    predicted_sd: Option<f64>,
    easier_exercise: Option<String>,
    easier_variant: Option<String>,
    to_watch: bool,
}

/// A reason in words: ids are kept as they were, values as they were shown.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredBecause {
    rule: String,
    text: String,
    value: String,
    working: Option<String>,
    inputs: Vec<(String, String)>,
    unsure: Option<String>,
    changes_with: Option<String>,
}

impl From<&Stage> for StoredStage {
    fn from(stage: &Stage) -> Self {
        Self {
            number: stage.number,
            lever: stage.lever.clone(),
            sessions_per_week: stage.sessions_per_week,
            segments: stage.segments.iter().map(StoredSegment::from).collect(),
            peak_hr: stage.predicted.peak_hr,
            ceiling_probability: stage.predicted.ceiling_probability,
            objective: stage.objective,
            bound: stage.bound,
            proven: stage.proven,
            because: stage.because.iter().map(StoredBecause::from).collect(),
        }
    }
}

impl From<StoredStage> for Stage {
    fn from(stored: StoredStage) -> Self {
        Self {
            number: stored.number,
            lever: stored.lever,
            sessions_per_week: stored.sessions_per_week,
            segments: stored.segments.into_iter().map(Segment::from).collect(),
            predicted: Predicted {
                peak_hr: stored.peak_hr,
                ceiling_probability: stored.ceiling_probability,
            },
            objective: stored.objective,
            bound: stored.bound,
            proven: stored.proven,
            because: stored
                .because
                .into_iter()
                .map(StoredBecause::reason)
                .collect(),
        }
    }
}

impl From<&Segment> for StoredSegment {
    fn from(segment: &Segment) -> Self {
        let (exercise, variant) = split(segment.doing.as_ref());
        let (easier_exercise, easier_variant) = split(segment.easier.as_ref());
        Self {
            phase: segment.phase,
            kind: segment.kind,
            exercise,
            variant,
            place: segment.place,
            place_name: segment.place_name.clone(),
            round: segment.round,
            duration_ms: segment.duration_ms,
            per_minute: segment.per_minute,
            mets: segment.mets,
            mets_low: segment.mets_low,
            mets_high: segment.mets_high,
            hr_gain: segment.hr_gain,
            predicted_hr: segment.predicted_hr,
            predicted_sd: segment.predicted_sd,
            easier_exercise,
            easier_variant,
            to_watch: segment.to_watch,
        }
    }
}

impl From<StoredSegment> for Segment {
    fn from(stored: StoredSegment) -> Self {
        Self {
            phase: stored.phase,
            kind: stored.kind,
            doing: join(stored.exercise, stored.variant),
            place: stored.place,
            place_name: stored.place_name,
            round: stored.round,
            duration_ms: stored.duration_ms,
            per_minute: stored.per_minute,
            mets: stored.mets,
            mets_low: stored.mets_low,
            mets_high: stored.mets_high,
            hr_gain: stored.hr_gain,
            predicted_hr: stored.predicted_hr,
            predicted_sd: stored.predicted_sd,
            easier: join(stored.easier_exercise, stored.easier_variant),
            to_watch: stored.to_watch,
        }
    }
}

fn split(named: Option<&VariantRef>) -> (Option<String>, Option<String>) {
    match named {
        Some(named) => (Some(named.exercise.clone()), Some(named.variant.clone())),
        None => (None, None),
    }
}

fn join(exercise: Option<String>, variant: Option<String>) -> Option<VariantRef> {
    Some(VariantRef {
        exercise: exercise?,
        variant: variant?,
    })
}

impl From<&Because> for StoredBecause {
    fn from(because: &Because) -> Self {
        Self {
            rule: because.rule.0.to_owned(),
            text: because.text.clone(),
            value: because.value.to_string(),
            working: because.working.clone(),
            inputs: because
                .inputs
                .iter()
                .map(|named| (named.name.to_owned(), named.value.to_string()))
                .collect(),
            unsure: because.unsure.clone(),
            changes_with: because.changes_with.clone(),
        }
    }
}

/// An input again under its name; one that the rule does not name keeps it within its words, however often it is stored.
fn input(rule: Option<&Rule>, name: &str, value: String) -> Named {
    const OTHER: &str = "given";
    let own = rule.and_then(|rule| rule.inputs.iter().find(|one| one.name == name));
    match own {
        Some(own) => Named::text(own.name, value),
        None if name == OTHER => Named::text(OTHER, value),
        None => Named::text(OTHER, format!("{name} {value}")),
    }
}

impl StoredBecause {
    /// The reason again. Sources and tag come from the rule as the program knows it; a rule that is no longer known
    /// keeps its words and says so.
    fn reason(self) -> Because {
        let known = rehab::rules::rules().find(|rule| rule.id.0 == self.rule);
        let inputs = self
            .inputs
            .into_iter()
            .map(|(name, value)| input(known, &name, value));
        Because {
            rule: known.map_or(RuleId("stored/no-longer-known"), |rule| rule.id),
            text: self.text,
            value: Value::Text(self.value),
            working: self.working,
            inputs: inputs.collect(),
            sources: known.map_or_else(Vec::<SourceId>::new, |rule| rule.sources.to_vec()),
            tag: known.map_or(Tag::Ours, |rule| rule.tag),
            assumed: Vec::new(),
            unsure: self.unsure,
            changes_with: self.changes_with,
        }
    }
}
