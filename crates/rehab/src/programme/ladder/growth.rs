//! How much the dose of a week may grow from one rung to the next.

use super::before::{Before, dose, is_station};
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::programme::{Segment, SegmentKind, Stage};

/// Slack on a comparison of doses, MET-minutes.
const SLACK: f64 = 1e-6;
/// METs (thousandths) times ms in one MET-minute.
const MILLI_MET_MS: f64 = 60_000_000.0;

/// The most that one session may be, MET-minutes: the rung before grown by the cap, or by its stations' dearest pair.
///
/// Times a week are the same from rung to rung, so a session grows as a week does.
pub(super) fn most_met_minutes(before: f64, cap_pct: f64, pair: f64) -> f64 {
    (before * (1.0 + cap_pct / 100.0)).max(before + pair)
}

/// Dose of the dearest brisk and the dearest easy station of a session with their change-overs, MET-minutes.
pub(super) fn dearest_pair(segments: &[Segment]) -> f64 {
    let dearest = |kind: SegmentKind| {
        let stations = segments
            .iter()
            .filter(|one| is_station(one) && one.kind == kind);
        stations.map(dose).max().unwrap_or(0)
    };
    let between = segments
        .iter()
        .filter(|one| one.round > 0 && !is_station(one))
        .map(dose)
        .min()
        .unwrap_or(0);
    let sum =
        dearest(SegmentKind::Cardiovascular) + dearest(SegmentKind::ActiveRecovery) + 2 * between;
    sum as f64 / MILLI_MET_MS
}

/// Whether a rung keeps to the growth after the one before it; the pair is the dearest of either.
pub(super) fn keeps_to(before: &Before, stage: &Stage, cap_pct: f64) -> bool {
    before.met_minutes.is_none_or(|met_minutes| {
        let pair = before.dearest_pair.max(dearest_pair(&stage.segments));
        stage.met_minutes() <= most_met_minutes(met_minutes, cap_pct, pair) + SLACK
    })
}

/// A dose in MET-minutes as METs (thousandths) times ms, rounded down.
pub(super) fn in_milli_met_ms(met_minutes: f64) -> i64 {
    libm::floor(met_minutes * MILLI_MET_MS) as i64
}

/// The growth rule.
pub(super) const GROWTH: Rule = Rule {
    id: RuleId("ladder/growth"),
    name: "Growth of the dose in a week",
    statement: "From one rung to the next the MET-minutes of a week (low ends) grow by at most 15 per cent (service setting) or by one brisk and one easy station (the dearest of either rung), whichever is more. Recommended growth is 10 to 20 per cent a week (recalled).",
    sources: &[
        SourceId("acsm-getp"),
        SourceId("service-ours"),
        SourceId("programme-ours"),
    ],
    tag: Tag::Ours,
    inputs: &[
        Input::number("before_met_minutes", "MET-minutes", 0.0, 2000.0),
        Input::number("pair_met_minutes", "MET-minutes", 0.0, 200.0),
        Input::number("cap_pct", "per cent", 0.0, 100.0).or_none(),
    ],
    evaluate: |values| {
        let (before, pair) = (
            values.number("before_met_minutes")?,
            values.number("pair_met_minutes")?,
        );
        let cap = values.optional_number("cap_pct").unwrap_or(15.0);
        let most = most_met_minutes(before, cap, pair);
        Ok(Answer::new(
            Value::Number(most, "MET-minutes"),
            format!(
                "the more of {before} x {} and {before} + {pair}",
                1.0 + cap / 100.0
            ),
        ))
    },
};
