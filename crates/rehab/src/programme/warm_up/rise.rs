//! The way up: the response to the work so far, so that nothing lets it fall back.

use super::{BEGIN_METS, suits};
use crate::programme::eligible::Way;
use crate::programme::ground::Ground;
use crate::programme::response::{TAU_S, step};
use crate::programme::slope::seated;
use crate::programme::{ExerciseKind, Segment};

/// How far the predicted pulse may fall back on the way up, bpm: half of what a count over 15 s can tell apart (one beat
/// is 4 a minute), so that nobody who counts sees a valley. Source: `programme-ours`.
pub(super) const FALL_BPM: f64 = 2.0;
/// The same in METs where no pulse is predicted, at about the prior's rise a MET. Source: `programme-ours`.
const FALL_METS: f64 = 0.15;

/// How far up the way is: the response to the work so far, in METs above rest.
pub(super) struct Rise {
    pub(super) top: f64,
    /// Effort of the stretches, METs; the top where none is open or it lies lower.
    pub(super) stretching: f64,
    tau_s: f64,
    now: f64,
    highest: f64,
    /// How far it may fall back.
    fall: f64,
}

impl Rise {
    pub(super) fn new(ground: &Ground<'_>, top: f64) -> Self {
        let open = |kind: ExerciseKind| ground.ways(kind).filter(move |way| suits(way, kind));
        let stands = open(ExerciseKind::PulseRaising)
            .any(|way| !seated(way) && way.mets <= top.max(BEGIN_METS));
        let stretches = open(ExerciseKind::Stretch).filter(|way| stands || seated(way));
        let stretching = stretches.map(|way| way.mets).reduce(f64::max);
        let response = ground.response.as_ref();
        Self {
            top,
            stretching: stretching.unwrap_or(top).min(top),
            tau_s: response.map_or(TAU_S, |one| one.tau_s),
            now: 0.0,
            highest: 0.0,
            fall: response.map_or(FALL_METS, |one| FALL_BPM / one.slope.max(1.0)),
        }
    }

    pub(super) fn after(&mut self, segment: &Segment) {
        let load = (segment.mets - 1.0) * segment.hr_gain;
        let seconds = f64::from(segment.duration_ms) / 1000.0;
        self.now = step(self.now, load, seconds, self.tau_s);
        self.highest = self.highest.max(self.now);
    }

    /// Whether a way does not let the pulse fall back.
    pub(super) fn keeps_up(&self, way: &Way<'_>) -> bool {
        (way.mets - 1.0) * way.exercise.hr_gain >= self.highest - self.fall
    }
}
