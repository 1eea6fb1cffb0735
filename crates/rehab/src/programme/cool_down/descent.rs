//! The way down: the response to everything so far, so that nothing lets it rise again.

use crate::programme::Segment;
use crate::programme::ground::Ground;
use crate::programme::response::{TAU_S, decay, drift, step};

/// How far the predicted pulse may rise above the lowest so far on the way down, bpm: a quarter of what a count over 15 s
/// can tell apart. Source: `programme-ours`.
const RISE_BPM: f64 = 1.0;
/// The same with the drift of long exercise, which nothing open may be easy enough to make good for, bpm: where nothing
/// else takes its turn. Source: `programme-ours`.
const RISE_WITH_DRIFT_BPM: f64 = 1.9;
/// The first in METs where no pulse is predicted, at about the prior's rise a MET. Source: `programme-ours`.
const RISE_METS: f64 = 0.075;

/// How far down the way is: the mean rate above its level in bpm, or METs above rest where no pulse is predicted.
#[derive(Clone, Copy)]
pub(super) struct Descent {
    slope: f64,
    tau_s: f64,
    drift_per_minute: f64,
    drift_begins_s: f64,
    /// How far it may rise, and how far with its drift.
    rise: f64,
    rise_with_drift: f64,
    /// Response to METs above rest.
    now: f64,
    at_s: f64,
    lowest: f64,
    /// The lowest of the response alone, without drift.
    lowest_now: f64,
}

impl Descent {
    /// After what stood before.
    pub(super) fn after(ground: &Ground<'_>, before: &[&[Segment]]) -> Self {
        let response = ground.response.as_ref();
        let mut descent = Self {
            slope: response.map_or(1.0, |one| one.slope),
            tau_s: response.map_or(TAU_S, |one| one.tau_s),
            drift_per_minute: response.map_or(0.0, |one| one.drift_per_minute),
            drift_begins_s: response.map_or(0.0, |one| one.drift_begins_s),
            rise: response.map_or(RISE_METS, |_| RISE_BPM),
            rise_with_drift: response.map_or(RISE_METS, |_| RISE_WITH_DRIFT_BPM),
            now: 0.0,
            at_s: 0.0,
            lowest: f64::INFINITY,
            lowest_now: f64::INFINITY,
        };
        for segment in before.iter().copied().flatten() {
            let load = (segment.mets - 1.0) * segment.hr_gain;
            descent.goes_on(load, segment.duration_ms);
        }
        descent.lowest = descent.height();
        descent.lowest_now = descent.now;
        descent
    }

    /// Height above the level at which the session began.
    fn height(&self) -> f64 {
        self.slope * self.now + drift(self.at_s, self.drift_per_minute, self.drift_begins_s)
    }

    /// Where a load leads to.
    fn with(mut self, load: f64, length_ms: u32) -> Self {
        let seconds = f64::from(length_ms) / 1000.0;
        self.now = step(self.now, load, seconds, self.tau_s);
        self.at_s += seconds;
        self
    }

    /// The largest load, in METs above rest as the heart feels them, that keeps it from rising.
    pub(super) fn most_load(&self, length_ms: u32) -> f64 {
        self.load_up_to(self.lowest + self.rise, length_ms)
    }

    /// The same where what the drift adds is not made good for.
    pub(super) fn most_load_beside_drift(&self, length_ms: u32) -> f64 {
        let with_drift = self.load_up_to(self.lowest + self.rise_with_drift, length_ms);
        let idle = self.with(0.0, length_ms);
        let drift = idle.height() - self.slope * idle.now;
        let alone = self.slope * self.lowest_now + self.rise + drift;
        self.load_up_to(alone, length_ms).min(with_drift)
    }

    /// The load that leads to a height.
    fn load_up_to(&self, height: f64, length_ms: u32) -> f64 {
        let idle = self.with(0.0, length_ms);
        let left = decay(f64::from(length_ms) / 1000.0, self.tau_s);
        (height - idle.height()) / (self.slope.max(f64::MIN_POSITIVE) * (1.0 - left)) + 1e-9
    }

    /// Goes on under a load.
    pub(super) fn goes_on(&mut self, load: f64, length_ms: u32) {
        *self = self.with(load, length_ms);
        self.lowest = self.lowest.min(self.height());
        self.lowest_now = self.lowest_now.min(self.now);
    }
}
