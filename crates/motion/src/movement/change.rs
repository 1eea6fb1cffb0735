//! One movement from another: smaller, or at another pace.

use super::Movement;
use crate::key::{Arm, Foot, FootOn, Hips, Key, Leg, Pair, Pause, Tilt};

/// The most that ways between key poses are slowed; what is left of a longer time is rest. Ours: slower than this nobody moves.
const MOST_SLOWED: f64 = 1.7;

impl Movement {
    /// The same with every way from the first key pose made smaller or greater by a factor; where the weight is stays.
    #[must_use]
    pub fn scaled(&self, range: f64) -> Self {
        let Some(first) = self.keys.first().copied() else {
            return self.clone();
        };
        let keys = self.keys.iter().map(|key| nearer(&first, key, range));
        Self {
            keys: keys.collect(),
            ..self.clone()
        }
    }

    /// The same with one repetition as long as told, to a whole number of pictures.
    ///
    /// Ways are stretched alike. When they would become slower than anybody moves, the rest of the time is spent at rest in the first
    /// key pose, if that one rests.
    #[must_use]
    pub fn lasting_ms(&self, period_ms: f64) -> Self {
        let halves = if self.alternates { 2.0 } else { 1.0 };
        let frame_ms = f64::from(Self::FRAME_MS);
        let whole_ms = libm::round(period_ms / frame_ms).max(1.0) * frame_ms / halves;
        let natural_ms: f64 = self
            .keys
            .iter()
            .map(|key| f64::from(key.to_next_ms + key.rest_ms()))
            .sum();
        let rests = self
            .keys
            .first()
            .is_some_and(|key| key.pause != Pause::Pass);
        let factor = whole_ms / natural_ms;
        let factor = if rests {
            factor.min(MOST_SLOWED)
        } else {
            factor
        };
        let scaled = |ms: u32| libm::round(f64::from(ms) * factor) as u32;
        let mut other = self.clone();
        for key in &mut other.keys {
            key.to_next_ms = scaled(key.to_next_ms).max(1);
            if let Pause::Hold { ms } = &mut key.pause {
                *ms = scaled(*ms);
            }
        }
        let now_ms: u32 = other
            .keys
            .iter()
            .map(|key| key.to_next_ms + key.rest_ms())
            .sum();
        let left_ms = whole_ms as i64 - i64::from(now_ms);
        let add = |ms: u32| u32::try_from(i64::from(ms) + left_ms).unwrap_or(1);
        match other
            .keys
            .first_mut()
            .map(|key| (&mut key.pause, &mut key.to_next_ms))
        {
            Some((Pause::Hold { ms }, _)) if left_ms >= 0 => *ms = add(*ms),
            Some((_, to_next_ms)) => *to_next_ms = add(*to_next_ms),
            None => {}
        }
        other
    }
}

fn between(from: f64, to: f64, range: f64) -> f64 {
    from + (to - from) * range
}

fn all<const N: usize>(from: [f64; N], to: [f64; N], range: f64) -> [f64; N] {
    core::array::from_fn(|place| between(from[place], to[place], range))
}

fn nearer(first: &Key, key: &Key, range: f64) -> Key {
    let legs = |side: fn(&Pair<Leg>) -> Leg| leg(side(&first.legs), side(&key.legs), range);
    let arms = |side: fn(&Pair<Arm>) -> Arm| arm(side(&first.arms), side(&key.arms), range);
    Key {
        hips: hips(first.hips, key.hips, range),
        tilt: Tilt {
            forward_deg: between(first.tilt.forward_deg, key.tilt.forward_deg, range),
            left_deg: between(first.tilt.left_deg, key.tilt.left_deg, range),
            turn_deg: between(first.tilt.turn_deg, key.tilt.turn_deg, range),
        },
        middle_deg: all(first.middle_deg, key.middle_deg, range),
        legs: Pair {
            left: legs(|pair| pair.left),
            right: legs(|pair| pair.right),
        },
        arms: Pair {
            left: arms(|pair| pair.left),
            right: arms(|pair| pair.right),
        },
        girdle: Pair {
            left: all(first.girdle.left, key.girdle.left, range),
            right: all(first.girdle.right, key.girdle.right, range),
        },
        ..*key
    }
}

fn hips(first: Hips, hips: Hips, range: f64) -> Hips {
    match (first, hips) {
        (
            Hips::Borne { knee_deg: from, .. },
            Hips::Borne {
                knee_deg,
                along,
                to_left,
            },
        ) => Hips::Borne {
            knee_deg: between(from, knee_deg, range),
            along,
            to_left,
        },
        (
            Hips::Leaning {
                knee_deg: knee_from,
                forward_deg: from,
            },
            Hips::Leaning {
                knee_deg,
                forward_deg,
            },
        ) => Hips::Leaning {
            knee_deg: between(knee_from, knee_deg, range),
            forward_deg: between(from, forward_deg, range),
        },
        (_, other) => other,
    }
}

fn leg(first: Leg, leg: Leg, range: f64) -> Leg {
    match (first, leg) {
        (Leg::Placed(from), Leg::Placed(to)) => {
            let lift = |on| match on {
                FootOn::Air { lift } => lift,
                FootOn::Floor | FootOn::Step => 0.0,
            };
            Leg::Placed(Foot {
                x: between(from.x, to.x, range),
                y: between(from.y, to.y, range),
                heading_deg: between(from.heading_deg, to.heading_deg, range),
                pitch_deg: between(from.pitch_deg, to.pitch_deg, range),
                on: match to.on {
                    FootOn::Air { .. } => FootOn::Air {
                        lift: between(lift(from.on), lift(to.on), range),
                    },
                    ground => ground,
                },
            })
        }
        (Leg::Angles(from), Leg::Angles(to)) => Leg::Angles(all(from, to, range)),
        (_, other) => other,
    }
}

fn arm(first: Arm, arm: Arm, range: f64) -> Arm {
    match (first, arm) {
        (Arm::Angles(from), Arm::Angles(to)) => Arm::Angles(all(from, to, range)),
        (_, other) => other,
    }
}

#[cfg(test)]
mod tests {
    use super::Movement;
    use crate::held::Held;
    use crate::key::{Arm, Foot, FootOn, Hips, Key, Leg, Pair, Pause, Tilt};
    use crate::room::Room;
    use proptest::prelude::*;

    fn movement(times: &[(u32, Option<u32>)], alternates: bool) -> Movement {
        let key = |(to_next_ms, rest): &(u32, Option<u32>)| Key {
            pause: rest.map_or(Pause::Pass, |ms| Pause::Hold { ms }),
            to_next_ms: *to_next_ms,
            hips: Hips::Borne {
                knee_deg: f64::from(*to_next_ms) / 100.0,
                along: 0.4,
                to_left: 0.5,
            },
            tilt: Tilt::NONE,
            middle_deg: [0.0; 6],
            legs: Pair::both(Leg::Placed(Foot {
                x: f64::from(*to_next_ms) / 10_000.0,
                y: 0.05,
                on: FootOn::Floor,
                heading_deg: 0.0,
                pitch_deg: 0.0,
            })),
            arms: Pair::both(Arm::Angles([f64::from(*to_next_ms) / 50.0; 7])),
            girdle: Pair::both([0.0; 2]),
        };
        Movement {
            room: Room::EMPTY,
            keys: times.iter().map(key).collect(),
            alternates,
            held: Held::NOTHING,
        }
    }

    proptest! {
        #[test]
        fn law_another_pace_lasts_a_whole_number_of_pictures_and_as_long_as_told(
            times in proptest::collection::vec((100_u32..2000, proptest::option::of(0_u32..800)), 2..8),
            alternates in proptest::bool::ANY, period_ms in 600.0..15_000.0,
        ) {
            let other = movement(&times, alternates).lasting_ms(period_ms);
            let found_ms = other.period_ms().unwrap();
            prop_assert!((f64::from(found_ms) - period_ms).abs() <= 20.0, "{found_ms} {period_ms}");
        }
    }

    #[test]
    fn a_pace_slower_than_anybody_moves_is_rest() {
        let slow = movement(&[(1000, Some(200)), (1000, None)], false).lasting_ms(10_000.0);
        assert_eq!(slow.keys[0].to_next_ms, 1700);
        assert_eq!(slow.keys[1].to_next_ms, 1700);
        assert_eq!(slow.keys[0].rest_ms(), 6600);
    }

    #[test]
    fn a_smaller_movement_begins_alike_and_goes_less_far() {
        let whole = movement(&[(500, Some(0)), (1000, None)], false);
        let half = whole.scaled(0.5);
        assert_eq!(half.keys[0], whole.keys[0]);
        assert_eq!(half.keys[1].arms.left, Arm::Angles([15.0; 7]));
        assert_eq!(whole.scaled(1.0), whole);
    }
}
