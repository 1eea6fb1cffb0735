//! The pulse expected and the pulses taken, scaled so that their own ceiling lies on the ceiling of effort.

use super::course::Course;
use super::curve::Field;
use crate::svg::{Drawing, PathData, Point, at};

/// What the pulse is drawn by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PulseScale {
    /// Pulse at rest in bpm: the ground.
    pub resting_bpm: f64,
    /// The ceiling in bpm, hard or guiding: the ceiling line.
    pub ceiling_bpm: f64,
    /// Time constant in s of the response within a part; only the shape between two predicted ends depends on it.
    pub tau_s: f64,
}

impl PulseScale {
    fn y(&self, field: &Field, bpm: f64) -> f64 {
        let span = (self.ceiling_bpm - self.resting_bpm).max(1.0);
        field.ground - field.height * (bpm - self.resting_bpm) / span
    }
}

/// A pulse that was taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TakenPulse {
    /// When, in ms of the session.
    pub at_ms: u64,
    /// Rate in bpm.
    pub bpm: f64,
}

/// Points inside one part at which the curve is drawn.
const STEPS: u32 = 6;

/// Draws the band of one standard deviation either way.
pub(super) fn draw_band(course: &Course, field: &Field, scale: &PulseScale, out: &mut Drawing) {
    let Some(run) = expected(course, scale) else {
        return;
    };
    let place = |point: &Expected, side: f64| {
        at(
            field.x(point.ms),
            scale.y(field, (point.bpm + side * point.sd).max(scale.resting_bpm)),
        )
    };
    let upper = run.iter().map(|point| place(point, 1.0));
    let lower = run.iter().rev().map(|point| place(point, -1.0));
    let mut data = joined(upper.chain(lower));
    data.close();
    out.path("pf-band", &data);
}

/// Draws the mean.
pub(super) fn draw_mean(course: &Course, field: &Field, scale: &PulseScale, out: &mut Drawing) {
    let Some(run) = expected(course, scale) else {
        return;
    };
    let points = run
        .iter()
        .map(|point| at(field.x(point.ms), scale.y(field, point.bpm)));
    out.path("pf-pulse", &joined(points));
}

/// Draws each pulse taken as a diamond.
pub(super) fn draw_taken(
    taken: &[TakenPulse],
    field: &Field,
    scale: &PulseScale,
    out: &mut Drawing,
) {
    for pulse in taken {
        let (x, y) = (field.x(pulse.at_ms as f64), scale.y(field, pulse.bpm));
        let mut data = PathData::new();
        data.move_to(at(x, y - 6.0)).raw("l5 6l-5 6l-5-6Z");
        out.path("pf-log", &data);
    }
}

struct Expected {
    ms: f64,
    bpm: f64,
    sd: f64,
}

/// The mean and its spread along the session; `None` when the pulse is not predicted.
///
/// Between the predicted ends the first-order response is the only exponential through both with the time constant,
/// so nothing is recomputed here: the ends are the plan's own.
fn expected(course: &Course, scale: &PulseScale) -> Option<Vec<Expected>> {
    let mut run = vec![Expected {
        ms: 0.0,
        bpm: scale.resting_bpm,
        sd: 0.0,
    }];
    let mut ms = 0.0;
    for part in course.parts() {
        let (bpm, sd) = (part.pulse?, part.pulse_sd.unwrap_or(0.0));
        let from = run.last().map(|last| (last.bpm, last.sd))?;
        let length = f64::from(part.duration_ms);
        let whole = 1.0 - libm::exp(-length / 1000.0 / scale.tau_s);
        for step in 1..=STEPS {
            let share = f64::from(step) / f64::from(STEPS);
            let way = if scale.tau_s > 0.0 && whole > 0.0 {
                (1.0 - libm::exp(-share * length / 1000.0 / scale.tau_s)) / whole
            } else {
                share
            };
            run.push(Expected {
                ms: ms + share * length,
                bpm: from.0 + (bpm - from.0) * way,
                sd: from.1 + (sd - from.1) * share,
            });
        }
        ms += length;
    }
    Some(run)
}

fn joined(points: impl Iterator<Item = Point>) -> PathData {
    let mut data = PathData::new();
    for (i, point) in points.enumerate() {
        if i == 0 {
            data.move_to(point);
        } else {
            data.line_to(point);
        }
    }
    data
}
