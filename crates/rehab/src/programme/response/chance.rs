//! The probability that the pulse passes a ceiling within one session.

use super::Response;
use super::predict::{Part, Work, parts};

/// Five-point rule for an integral over a standard normal error: nodes and weights, exact for polynomials up to the
/// ninth degree (zeros of the Hermite polynomial He5).
const NODES: [(f64, f64); 5] = [
    (-2.856_970_013_872_806, 0.011_257_411_327_720_69),
    (-1.355_626_179_974_266, 0.222_075_922_005_612_6),
    (0.0, 0.533_333_333_333_333_3),
    (1.355_626_179_974_266, 0.222_075_922_005_612_6),
    (2.856_970_013_872_806, 0.011_257_411_327_720_69),
];

/// Probability that the true rate passes the ceiling at any segment's end.
///
/// Purpose: the rule that it be at most 5 %.
/// Within a segment the rate moves one way, so it is highest at an end. All errors of a session are shared by its
/// moments (level, answer to load, cost, drift, time constant), so the moments are far from independent and adding up
/// their single probabilities would forbid nearly everybody everything. Instead the shared errors are integrated: the
/// level exactly, answer, cost and drift on five nodes each, the time constant on its grid; for each combination the
/// highest moment decides. This is the probability under the model, not a bound on it; a test holds it against drawing at
/// random and against the simple upper bound, the sum over the moments.
/// Limits: as good as the priors; errors of the pulse of single moments (a fright, a stumble) are not in it.
pub fn chance_of_passing(response: &Response, work: &[Work], ceiling_bpm: f64) -> f64 {
    response
        .taus
        .iter()
        .map(|tau| {
            let parts = parts(response, work, tau.tau_s);
            tau.weight * given_tau(response, &parts, ceiling_bpm)
        })
        .sum()
}

fn given_tau(response: &Response, parts: &[Part], ceiling_bpm: f64) -> f64 {
    let mut total = 0.0;
    let answers: Vec<f64> = parts
        .iter()
        .map(|part| response.answer_sd_bpm(part.phi))
        .collect();
    for (answer_z, answer_weight) in NODES {
        for (cost_z, cost_weight) in NODES {
            for (drift_z, drift_weight) in NODES {
                let cost = cost_z * response.slope;
                let drift = response.drift_per_minute + drift_z * response.drift_sd;
                let rate = |(part, answer): (&Part, &f64)| {
                    response.slope * part.phi
                        + answer_z * answer
                        + cost * part.phi_sd
                        + drift * part.drift_min
                };
                // The session begins at rest, so the highest moment is never below the level.
                let rise = parts.iter().zip(&answers).map(rate).fold(0.0, f64::max);
                let room_bpm = ceiling_bpm - response.level_bpm - rise;
                let weight = answer_weight * cost_weight * drift_weight;
                total += weight * upper_tail(room_bpm / response.level_sd_bpm);
            }
        }
    }
    total
}

/// Probability that a standard normal value lies above `z`.
pub(super) fn upper_tail(z: f64) -> f64 {
    0.5 * libm::erfc(z / core::f64::consts::SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::super::parameters::{Basis, TauWeight};
    use super::super::predict::predict;
    use super::*;

    fn response() -> Response {
        Response {
            level_bpm: 64.0,
            level_sd_bpm: 5.4,
            model_sd_bpm: 6.0,
            slope: 12.0,
            slope_sd: 3.0,
            drift_per_minute: 0.15,
            drift_sd: 0.10,
            drift_begins_s: 600.0,
            tau_s: 60.0,
            taus: vec![
                TauWeight {
                    tau_s: 45.0,
                    weight: 0.3,
                },
                TauWeight {
                    tau_s: 60.0,
                    weight: 0.4,
                },
                TauWeight {
                    tau_s: 90.0,
                    weight: 0.3,
                },
            ],
            basis: Basis::Prior,
        }
    }

    fn session() -> Vec<Work> {
        let block = |mets: f64, seconds: u32| Work {
            duration_ms: seconds * 1000,
            mets,
            mets_low: mets - 0.5,
            mets_high: mets + 0.6,
            hr_gain: 1.0,
        };
        let mut list = vec![block(1.6, 240), block(2.2, 300), block(2.5, 240)];
        for _ in 0..5 {
            list.extend([block(3.3, 60), block(2.0, 30), block(2.3, 15)]);
        }
        list.extend([block(2.0, 240), block(1.3, 240)]);
        list
    }

    /// Draws of a small linear generator, two uniform numbers to one normal.
    struct Draws(u64);

    impl Draws {
        fn uniform(&mut self) -> f64 {
            self.0 = self
                .0
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            ((self.0 >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
        }

        fn normal(&mut self) -> f64 {
            let radius = libm::sqrt(-2.0 * libm::log(self.uniform()));
            radius * libm::cos(core::f64::consts::TAU * self.uniform())
        }
    }

    /// Share of drawn sessions that pass the ceiling.
    fn drawn(response: &Response, work: &[Work], ceiling_bpm: f64, sessions: u32) -> f64 {
        let mut draws = Draws(20_261_125);
        let per_tau: Vec<(f64, Vec<Part>)> = response
            .taus
            .iter()
            .map(|tau| (tau.weight, parts(response, work, tau.tau_s)))
            .collect();
        let mut passed = 0;
        for _ in 0..sessions {
            let pick = draws.uniform();
            let mut sum = 0.0;
            let parts = per_tau
                .iter()
                .find(|(weight, _)| {
                    sum += weight;
                    pick <= sum
                })
                .map_or(&per_tau[0].1, |(_, parts)| parts);
            let level = response.level_bpm + response.level_sd_bpm * draws.normal();
            let answer = draws.normal();
            let cost = response.slope * draws.normal();
            let drift = response.drift_per_minute + response.drift_sd * draws.normal();
            let passes = level > ceiling_bpm
                || parts.iter().any(|part| {
                    let load =
                        response.slope * part.phi + answer * response.answer_sd_bpm(part.phi);
                    level + load + cost * part.phi_sd + drift * part.drift_min > ceiling_bpm
                });
            passed += u32::from(passes);
        }
        f64::from(passed) / f64::from(sessions)
    }

    #[test]
    fn reference_the_probability_agrees_with_drawing_at_random() {
        let (response, work) = (response(), session());
        for ceiling in [92.0, 100.0, 106.0, 112.0, 118.0] {
            let sessions = 200_000;
            let by_draws = drawn(&response, &work, ceiling, sessions);
            let computed = chance_of_passing(&response, &work, ceiling);
            // Four standard errors of the draws, and one in a thousand for the nodes.
            let error = 4.0 * libm::sqrt(by_draws * (1.0 - by_draws) / f64::from(sessions));
            assert!(
                (computed - by_draws).abs() <= error + 0.001,
                "ceiling {ceiling}: computed {computed}, drawn {by_draws}"
            );
        }
    }

    #[test]
    fn law_it_lies_between_the_worst_moment_and_the_sum_of_all() {
        let (response, work) = (response(), session());
        for ceiling in [95.0, 105.0, 115.0] {
            let single: Vec<f64> = predict(&response, &work)
                .iter()
                .map(|moment| upper_tail((ceiling - moment.mean_bpm) / moment.sd_bpm))
                .collect();
            let worst = single.iter().copied().fold(0.0, f64::max);
            let sum: f64 = single.iter().sum();
            let chance = chance_of_passing(&response, &work, ceiling);
            // The single moments take the spread of the time constant as normal, so they are not exact themselves.
            assert!(chance >= worst - 0.005, "{ceiling}: {chance} and {worst}");
            assert!(
                chance <= sum.min(1.0) + 1e-9,
                "{ceiling}: {chance} and {sum}"
            );
        }
    }

    #[test]
    fn law_harder_work_or_a_lower_ceiling_is_never_less_likely_to_pass() {
        let (response, work) = (response(), session());
        let harder: Vec<Work> = work
            .iter()
            .map(|one| Work {
                mets: one.mets + 0.2,
                ..*one
            })
            .collect();
        let mut before = 1.0;
        for ceiling in 80..130 {
            let chance = chance_of_passing(&response, &work, f64::from(ceiling));
            assert!(chance <= before);
            assert!(chance <= chance_of_passing(&response, &harder, f64::from(ceiling)));
            before = chance;
        }
    }
}
