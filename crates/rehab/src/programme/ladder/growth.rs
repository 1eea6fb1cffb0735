//! How much the dose of a week may grow from one rung to the next.

use super::Ground;
use super::before::{Before, dose, is_station};
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::programme::at_home::{Dose, SLACK};
use crate::programme::{Segment, SegmentKind, Stage};

/// METs (thousandths) times ms in one MET-minute.
const MILLI_MET_MS: f64 = 60_000_000.0;

/// The most that one session may be, MET-minutes: the one before grown by the cap, or by a pair of stations.
pub(crate) fn most_met_minutes(before: f64, cap_pct: f64, pair: f64) -> f64 {
    (before * (1.0 + cap_pct / 100.0)).max(before + pair)
}

/// What a rung is held against: the rung before it, and the page that lies at home.
#[derive(Clone, Copy)]
pub(super) struct Growth<'g> {
    before: &'g Before,
    home: Option<&'g Dose>,
    cap_pct: f64,
}

impl<'g> Growth<'g> {
    pub(super) fn of(ground: &'g Ground<'_>, before: &'g Before, number: u16) -> Self {
        Self {
            before,
            home: ground
                .at_home
                .as_ref()
                .filter(|_| before.held_to_home)
                .and_then(|home| home.of(number)),
            cap_pct: ground.asked.service.growth_cap_pct,
        }
    }

    /// Whether a page lies at home that counts here.
    pub(super) const fn is_held_to_home(&self) -> bool {
        self.home.is_some()
    }

    /// The same as if no page lay at home.
    pub(super) const fn away_from_home(self) -> Self {
        Self { home: None, ..self }
    }

    /// The most that one session may be, MET-minutes, where its dearest pair of stations comes to `pair` or less than
    /// that of the page it is held against; `None` where nothing came before.
    pub(super) fn most(&self, pair: f64) -> Option<f64> {
        let of_ladder = self
            .before
            .met_minutes
            .map(|most| most_met_minutes(most, self.cap_pct, self.before.dearest_pair.max(pair)));
        let times = self.before.times_a_week;
        let of_home = self
            .home
            .map(|home| home.most_after(self.cap_pct, pair, times));
        match (of_ladder, of_home) {
            (Some(ladder), Some(home)) => Some(ladder.min(home)),
            (one, other) => one.or(other),
        }
    }

    /// Whether a rung keeps to the growth; the pair is the dearest of either.
    pub(super) fn allows(&self, stage: &Stage) -> bool {
        let pair = dearest_pair(&stage.segments);
        self.most(pair)
            .is_none_or(|most| stage.met_minutes() <= most + SLACK)
    }
}

/// Dose of the dearest brisk and the dearest easy station of a session with their change-overs, MET-minutes.
pub(crate) fn dearest_pair(segments: &[Segment]) -> f64 {
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

/// A dose in MET-minutes as METs (thousandths) times ms, rounded down.
pub(super) fn in_milli_met_ms(met_minutes: f64) -> i64 {
    libm::floor(met_minutes * MILLI_MET_MS) as i64
}

/// The growth rule.
pub(super) const GROWTH: Rule = Rule {
    id: RuleId("ladder/growth"),
    name: "Growth of the dose in a week",
    statement: "From one rung to the next the MET-minutes of a week (low ends) grow by at most 15 per cent (service setting) or by one brisk and one easy station (the dearest of either rung), whichever is more. So does a page that is made anew against the page that lies at home, session and week; where it would not, an earlier page or fewer times a week are offered. Recommended growth is 10 to 20 per cent a week (recalled).",
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
