//! The first-order step of the heart rate: exact for any length, linear in METs.

/// Seconds of one minute.
const MINUTE_S: f64 = 60.0;

/// Value after a time under a constant target: `target + (from - target) e^(-t / tau)`.
///
/// Purpose: the exact solution of `dh/dt = (target - h) / tau`, so that no step size enters the prediction.
/// Symbols: `from` and `target` in the same unit (bpm, or METs above rest), `seconds` and `tau_s` in s.
/// Source: first-order fits of heart rate on the treadmill (register `treadmill-kinetics-2015`); the same constant up
/// and down. Limits: below the peak; after peak exercise recovery is slower (register `kriatselis-2012`).
/// A time constant of nought or less is a step without delay.
pub fn step(from: f64, target: f64, seconds: f64, tau_s: f64) -> f64 {
    target + (from - target) * decay(seconds, tau_s)
}

/// Share of a difference that is left after a time.
pub fn decay(seconds: f64, tau_s: f64) -> f64 {
    if tau_s <= 0.0 {
        0.0
    } else {
        libm::exp(-seconds / tau_s)
    }
}

/// Rise above the first-order response in long exercise: `rate x (minutes - 10)`, nought before.
pub fn drift(seconds: f64, per_minute: f64, begins_s: f64) -> f64 {
    per_minute * (seconds - begins_s).max(0.0) / MINUTE_S
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One-minute blocks of the worked example, METs.
    const BLOCKS: [f64; 18] = [
        2.0, 2.3, 2.3, 2.6, 2.8, 3.8, 2.3, 4.0, 2.3, 4.2, 2.3, 3.8, 2.3, 4.0, 2.3, 2.3, 2.0, 1.5,
    ];

    /// The worked example: rest 60 bpm, peak 116.4 bpm at 6 METs, so 11.28 bpm a MET; tau 60 s; start at rest.
    // Source: computed beforehand outside this program, against a numerical solution to 1.5e-9.
    const AT_MINUTE_ENDS: [f64; 18] = [
        67.1303, 71.8925, 73.6444, 76.4280, 78.8781, 86.9098, 79.1690, 88.4428, 79.7329, 90.0764,
        80.3339, 87.4453, 79.3660, 88.5153, 79.7596, 76.5386, 73.2145, 68.4265,
    ];

    /// Half of the last printed digit.
    const PRINTED_BPM: f64 = 0.000_05;

    #[test]
    fn reference_worked_example_of_eighteen_minutes() {
        let slope = (116.4 - 60.0) / (6.0 - 1.0);
        let mut hr = 60.0;
        for (mets, expected) in BLOCKS.iter().zip(AT_MINUTE_ENDS) {
            hr = step(hr, 60.0 + slope * (mets - 1.0), 60.0, 60.0);
            assert!((hr - expected).abs() <= PRINTED_BPM, "{hr} for {expected}");
        }
    }

    #[test]
    fn reference_two_components_are_two_filters_added() {
        let expected = [
            68.1563, 72.3589, 73.6396, 76.6508, 79.0622, 87.9096, 77.7343, 89.8565, 78.2440,
            91.7101, 78.6949, 88.6432, 78.0804, 90.0123, 78.3140, 76.2446, 72.9262, 67.9308,
        ];
        let (mut fast, mut slow) = (60.0, 60.0);
        for (mets, expected) in BLOCKS.iter().zip(expected) {
            let target = 60.0 + 11.28 * (mets - 1.0);
            fast = step(fast, target, 60.0, 15.0);
            slow = step(slow, target, 60.0, 75.0);
            let hr = 0.4 * fast + 0.6 * slow;
            assert!((hr - expected).abs() <= PRINTED_BPM, "{hr} for {expected}");
        }
    }

    #[test]
    fn reference_approach_from_65_to_100() {
        // Rest 65, steady 100, tau 38.1 s.
        for (seconds, expected) in [(30.0, 84.1), (60.0, 92.8), (120.0, 98.5), (180.0, 99.7)] {
            let hr = step(65.0, 100.0, seconds, 38.1);
            assert!((hr - expected).abs() <= 0.05, "{hr} for {expected}");
        }
    }

    #[test]
    fn reference_shares_reached_at_30_60_and_120_seconds() {
        let table = [
            (20.0, [0.777, 0.950, 0.998]),
            (28.6, [0.650, 0.877, 0.985]),
            (38.1, [0.545, 0.793, 0.957]),
            (50.0, [0.451, 0.699, 0.909]),
            (60.0, [0.393, 0.632, 0.865]),
        ];
        for (tau_s, shares) in table {
            for (seconds, expected) in [30.0, 60.0, 120.0].into_iter().zip(shares) {
                let share = 1.0 - decay(seconds, tau_s);
                assert!(
                    (share - expected).abs() <= 0.000_51,
                    "{tau_s} {seconds}: {share}"
                );
            }
        }
    }

    #[test]
    fn law_the_step_solves_its_differential_equation() {
        // Independent: fourth-order steps of 0.01 s.
        let (target, tau) = (95.0, 47.0);
        let slope = |h: f64| (target - h) / tau;
        let (mut h, dt) = (62.0, 0.01);
        for _ in 0..9_000 {
            let k1 = slope(h);
            let k2 = slope(h + dt * k1 / 2.0);
            let k3 = slope(h + dt * k2 / 2.0);
            let k4 = slope(h + dt * k3);
            h += dt * (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0;
        }
        assert!((h - step(62.0, target, 90.0, tau)).abs() < 1e-9);
    }

    #[test]
    fn drift_begins_after_its_time() {
        assert!(drift(590.0, 0.15, 600.0) < f64::EPSILON);
        assert!((drift(1_800.0, 0.15, 600.0) - 3.0).abs() < 1e-12);
    }
}
