//! A plan: its rungs (`stage` in files) and their segments.

use super::VariantRef;
use crate::evidence::Because;

closed_words!(
    /// Part of a session.
    Phase as "phase" { WarmUp = "warm-up", Conditioning = "conditioning", CoolDown = "cool-down" }
);

closed_words!(
    /// What a segment is.
    SegmentKind as "kind of segment" {
        Mobility = "mobility",
        Stretch = "stretch",
        PulseRaising = "pulse-raising",
        Cardiovascular = "cardiovascular",
        ActiveRecovery = "active-recovery",
        March = "march",
        Walk = "walk",
        Rest = "rest",
    }
);

/// One stretch of a session with one thing to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Segment {
    /// Part of the session.
    pub phase: Phase,
    /// What it is.
    pub kind: SegmentKind,
    /// What is done; `None` only for walking between places, marching on the spot and rest.
    pub doing: Option<VariantRef>,
    /// Index into the home's places; `None` when no place is recorded.
    pub place: Option<usize>,
    /// Name of the place as the person calls it.
    pub place_name: String,
    /// Round, from 1; 0 outside the conditioning part.
    pub round: u8,
    /// Length in whole milliseconds.
    pub duration_ms: u32,
    /// Repetitions, cycles or steps a minute.
    pub per_minute: Option<f64>,
    /// METs, best estimate.
    pub mets: f64,
    /// METs, low end.
    pub mets_low: f64,
    /// METs, high end.
    pub mets_high: f64,
    /// Factor on the heart-rate rise.
    pub hr_gain: f64,
    /// Predicted heart rate in bpm at its end; `None` where there is no pulse model.
    pub predicted_hr: Option<f64>,
    /// Standard deviation of that prediction in bpm.
    pub predicted_sd: Option<f64>,
    /// The easier version that stands ready.
    pub easier: Option<VariantRef>,
    /// Whether it must be watched before it may be done alone (not yet watched for this person).
    pub to_watch: bool,
}

/// What a rung is predicted to do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Predicted {
    /// Highest mean heart rate in bpm.
    pub peak_hr: Option<f64>,
    /// Probability of passing a hard ceiling within the session.
    pub ceiling_probability: Option<f64>,
}

/// One rung: a session plan with its times a week.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// Number from 1.
    pub number: u16,
    /// What changed from the rung before, as a rule word ("warm-up-alone", "one-more-pair", "longer-cv" ...).
    pub lever: String,
    /// Times a week.
    pub sessions_per_week: u8,
    /// The session.
    pub segments: Vec<Segment>,
    /// Predictions.
    pub predicted: Predicted,
    /// Objective of the composed list, integer; 0 for a rung without stations.
    pub objective: i64,
    /// Proven bound of the objective.
    pub bound: i64,
    /// Whether the bound proves the list.
    pub proven: bool,
    /// Why it is what it is.
    pub because: Vec<Because>,
}

impl Stage {
    /// Whole length in ms.
    pub fn duration_ms(&self) -> u64 {
        self.segments
            .iter()
            .map(|segment| u64::from(segment.duration_ms))
            .sum()
    }

    /// Length in minutes.
    pub fn minutes(&self) -> f64 {
        self.duration_ms() as f64 / 60_000.0
    }

    /// Dose of one session in MET-minutes, from the low ends, so that a claim is never too high.
    pub fn met_minutes(&self) -> f64 {
        self.segments
            .iter()
            .map(|segment| segment.mets_low * f64::from(segment.duration_ms) / 60_000.0)
            .sum()
    }

    /// Number of turns, brisk and easy: what a diary counts.
    pub fn turns(&self) -> usize {
        let turn = |segment: &&Segment| {
            matches!(
                segment.kind,
                SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
            )
        };
        self.segments.iter().filter(turn).count()
    }

    /// Number of cardiovascular stations.
    pub fn cardiovascular_stations(&self) -> usize {
        self.segments
            .iter()
            .filter(|segment| segment.kind == SegmentKind::Cardiovascular)
            .count()
    }
}

/// A later rung told in outline only.
#[derive(Clone, Debug, PartialEq)]
pub struct StageSketch {
    /// Number from 1.
    pub number: u16,
    /// The lever.
    pub lever: String,
    /// In one sentence.
    pub text: String,
}

/// A programme: rungs in detail and the rest as a sketch.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Everything the limits say (also when there is no rung).
    pub assessed: crate::assessed::Assessed,
    /// Rungs in detail; empty with reasons in the findings unless the decision is to exercise.
    pub stages: Vec<Stage>,
    /// The rest.
    pub sketch: Vec<StageSketch>,
}

/// Page letter of a rung: the first is A. After Z the letters begin again, which no programme reaches.
pub const fn page_letter(stage: u16) -> char {
    let place = stage.saturating_sub(1) % 26;
    (b'A' + place as u8) as char
}

#[cfg(test)]
mod tests {
    use super::page_letter;

    #[test]
    fn pages_are_lettered_from_a() {
        let letters = [1, 2, 26].map(page_letter);
        assert_eq!(letters, ['A', 'B', 'Z']);
    }
}
