//! Joining two values in time without a jump of speed or of force.

/// A polynomial of fifth degree from one value to another, with a speed and no acceleration at either end.
///
/// With s from 0 to 1, rest to rest, it is the movement of least jerk: 10 s^3 - 15 s^4 + 6 s^5.
/// Source: Flash and Hogan 1985, recalled; speeds at the ends are ours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Join {
    from: f64,
    /// Factors of s, s^3, s^4 and s^5.
    factors: [f64; 4],
}

impl Join {
    /// From one value to another; the speeds are those for the whole length of the join.
    pub(crate) fn of(from: f64, to: f64, speeds: [f64; 2]) -> Self {
        let [start, end] = speeds;
        let way = to - from;
        Self {
            from,
            factors: [
                start,
                10.0 * way - 6.0 * start - 4.0 * end,
                -15.0 * way + 8.0 * start + 7.0 * end,
                6.0 * way - 3.0 * start - 3.0 * end,
            ],
        }
    }

    /// The value at a share of the way, 0 to 1.
    pub(crate) fn at(&self, share: f64) -> f64 {
        let [first, third, fourth, fifth] = self.factors;
        let cube = share * share * share;
        self.from + first * share + cube * (third + share * (fourth + share * fifth))
    }
}

/// The speed at which a value passes through the middle one of three: none where it turns, else a mean of the speeds before and
/// after that never swings beyond either value.
///
/// The mean is the weighted harmonic one of monotone interpolation.
pub(crate) fn passing_speed(values: [f64; 3], lengths: [f64; 2]) -> f64 {
    let [before, here, after] = values;
    let [length_before, length_after] = lengths;
    let slopes = [
        (here - before) / length_before,
        (after - here) / length_after,
    ];
    if slopes[0] * slopes[1] <= 0.0 {
        return 0.0;
    }
    let weights = [
        2.0 * length_after + length_before,
        length_after + 2.0 * length_before,
    ];
    (weights[0] + weights[1]) / (weights[0] / slopes[0] + weights[1] / slopes[1])
}

#[cfg(test)]
mod tests {
    use super::{Join, passing_speed};
    use proptest::prelude::*;

    #[test]
    fn published_least_jerk_passes_the_middle_at_fifteen_eighths_of_the_mean_speed() {
        // flash-hogan-1985: the greatest speed of a movement of least jerk is 1.875 times its mean speed
        let join = Join::of(0.0, 1.0, [0.0, 0.0]);
        assert!((join.at(0.5) - 0.5).abs() < 1e-12);
        let speed = (join.at(0.5 + 1e-5) - join.at(0.5 - 1e-5)) / 2e-5;
        assert!((speed - 1.875).abs() < 1e-6, "{speed}");
        assert!((join.at(0.25) - 0.103_515_625).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn law_ends_and_speeds_are_as_told(from in -9.0..9.0, to in -9.0..9.0, start in -9.0..9.0, end in -9.0..9.0) {
            let join = Join::of(from, to, [start, end]);
            prop_assert!((join.at(0.0) - from).abs() < 1e-12 && (join.at(1.0) - to).abs() < 1e-9);
            let near = 1e-6;
            prop_assert!(((join.at(near) - from) / near - start).abs() < 1e-4);
            prop_assert!(((join.at(1.0) - join.at(1.0 - near)) / near - end).abs() < 1e-4);
        }

        #[test]
        fn law_a_value_that_only_rises_never_swings_beyond_its_keys(
            steps in proptest::array::uniform3(0.0..5.0), lengths in proptest::array::uniform3(0.2..3.0)
        ) {
            let values = [0.0, steps[0], steps[0] + steps[1], steps[0] + steps[1] + steps[2]];
            let speeds = [
                passing_speed([values[0], values[1], values[2]], [lengths[0], lengths[1]]),
                passing_speed([values[1], values[2], values[3]], [lengths[1], lengths[2]]),
            ];
            let join = Join::of(values[1], values[2], speeds.map(|speed| speed * lengths[1]));
            let mut last = values[1];
            for tick in 0..=200 {
                let value = join.at(f64::from(tick) / 200.0);
                prop_assert!(value >= values[1] - 1e-9 && value <= values[2] + 1e-9);
                last = value.max(last);
            }
            prop_assert!(last <= values[2] + 1e-9);
        }
    }
}
