//! The predicted mean and its error at the end of every segment.

use super::Response;
use super::first_order::{decay, drift, step};

/// What the prediction needs of one segment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Work {
    /// Length in ms.
    pub duration_ms: u32,
    /// METs, best estimate.
    pub mets: f64,
    /// METs, low end.
    pub mets_low: f64,
    /// METs, high end.
    pub mets_high: f64,
    /// Factor on the heart-rate rise.
    pub hr_gain: f64,
}

impl Work {
    /// METs above rest as the heart feels them.
    pub(super) fn load(&self) -> f64 {
        (self.mets - 1.0) * self.hr_gain
    }

    /// Error of the cost in the same unit, sd.
    ///
    /// The range from low to high is taken as two standard errors either way (ours).
    pub(super) fn load_sd(&self) -> f64 {
        (self.mets_high - self.mets_low).max(0.0) * self.hr_gain / 4.0
    }

    pub(super) fn seconds(&self) -> f64 {
        f64::from(self.duration_ms) / 1000.0
    }
}

/// The prediction at one segment's end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Seconds from the beginning of the session.
    pub at_s: f64,
    /// Mean rate in bpm.
    pub mean_bpm: f64,
    /// Error of the rate itself, sd in bpm; a reading adds [`READING_SD_BPM`](super::READING_SD_BPM).
    pub sd_bpm: f64,
}

/// One segment's end under one time constant: the parts that the parameters multiply.
#[derive(Clone, Copy, Debug)]
pub(super) struct Part {
    /// Response to METs above rest.
    pub(super) phi: f64,
    /// The same of the cost error.
    pub(super) phi_sd: f64,
    /// Minutes of drift.
    pub(super) drift_min: f64,
    /// Seconds from the beginning.
    pub(super) at_s: f64,
}

/// The parts at every segment's end. The session begins at rest.
pub(super) fn parts(response: &Response, work: &[Work], tau_s: f64) -> Vec<Part> {
    let (mut phi, mut phi_sd, mut at_s) = (0.0, 0.0, 0.0);
    work.iter()
        .map(|one| {
            let seconds = one.seconds();
            at_s += seconds;
            phi = step(phi, one.load(), seconds, tau_s);
            // A person whose movements cost more than the table says pays more in each of them, so cost errors are
            // taken as going the same way: their sum is then never too small.
            phi_sd = one.load_sd() + (phi_sd - one.load_sd()) * decay(seconds, tau_s);
            Part {
                phi,
                phi_sd,
                drift_min: drift(at_s, 1.0, response.drift_begins_s),
                at_s,
            }
        })
        .collect()
}

impl Response {
    /// The mean of one part.
    pub(super) fn mean_bpm(&self, part: &Part) -> f64 {
        self.level_bpm + self.slope * part.phi + self.drift_per_minute * part.drift_min
    }

    /// Error of the answer to load, sd in bpm: that of the slope, and that of the model, which is whole from one MET
    /// above rest on.
    pub(crate) fn answer_sd_bpm(&self, phi: f64) -> f64 {
        let slope = self.slope_sd * phi;
        let model = self.model_sd_bpm * phi.clamp(0.0, 1.0);
        libm::sqrt(slope * slope + model * model)
    }

    /// Variance of one part beside that of the time constant.
    fn variance(&self, part: &Part) -> f64 {
        let answer = self.answer_sd_bpm(part.phi);
        let cost = self.slope * part.phi_sd;
        let drift = self.drift_sd * part.drift_min;
        self.level_sd_bpm * self.level_sd_bpm + answer * answer + cost * cost + drift * drift
    }
}

/// Mean and error at every segment's end.
///
/// The mean is that of the mean parameters and the median time constant, so that it can be integrated again by
/// anybody; the spread of the constant goes into the error, as the weighted square distance from that mean.
pub fn predict(response: &Response, work: &[Work]) -> Vec<Moment> {
    let middle = parts(response, work, response.tau_s);
    let mut spread = vec![0.0; work.len()];
    for tau in &response.taus {
        let other = parts(response, work, tau.tau_s);
        for (sum, (a, b)) in spread.iter_mut().zip(other.iter().zip(&middle)) {
            let apart = response.slope * (a.phi - b.phi);
            *sum += tau.weight * apart * apart;
        }
    }
    middle
        .iter()
        .zip(spread)
        .map(|(part, spread)| Moment {
            at_s: part.at_s,
            mean_bpm: response.mean_bpm(part),
            sd_bpm: libm::sqrt(response.variance(part) + spread),
        })
        .collect()
}
