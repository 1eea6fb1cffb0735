//! The work of lifting the body, and the least METs that it implies.

use crate::cycle::Cycle;
use crate::evidence::{MECHANICAL_BOUND, SourceId};
use crate::posture::Posture;
use crate::settle::Unsettled;

/// Sources of the numbers in this file.
pub const SOURCES: [SourceId; 1] = [MECHANICAL_BOUND];

/// Oxygen for each metre that a kilogram is lifted, and what lowering it again adds, as a factor.
const LIFTING_ML_PER_KG_M: f64 = 1.8;
const LIFTING_AND_LOWERING: f64 = 1.33;
/// Oxygen of one MET.
const MET_ML_PER_KG_MIN: f64 = 3.5;

/// What a body costs that does not lift itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    /// Standing, or rising from a seat.
    Standing,
    /// Sitting throughout.
    Seated,
}

impl Base {
    /// The cost at rest.
    pub const fn mets(self) -> f64 {
        match self {
            Self::Standing => 1.3,
            Self::Seated => 1.2,
        }
    }
}

/// The least cost of lifting and lowering the body's centre of mass by so much, so many times a minute.
///
/// METs = base + 1.8 x 1.33 x rise x rate / 3.5, rise in metres.
/// Source: the vertical term of the stepping equation, and our base; see `mechanical-bound-ours`.
/// Limits: what only swings, holds or steadies is not counted, so marching and all work of the arms cost more than this.
pub fn least_mets(base: Base, rise_m: f64, per_minute: f64) -> f64 {
    base.mets()
        + LIFTING_ML_PER_KG_M * LIFTING_AND_LOWERING * rise_m * per_minute / MET_ML_PER_KG_MIN
}

/// How far one repetition lifts the centre of mass, with what the hands hold, for each kilogram of the body: the sum of all rises from rest to rest.
///
/// Between two rests the body may dip first, as in leaning forwards before rising; that is left out, so this is a lower bound. A
/// movement with fewer than two rests is followed from picture to picture.
///
/// # Errors
/// When a limb does not reach.
pub fn rise_m(cycle: &Cycle) -> Result<f64, Unsettled> {
    let rests: Vec<f64> = cycle
        .knots()
        .filter_map(|(ms, at_rest)| at_rest.then_some(ms))
        .collect();
    let moments = if rests.len() < 2 {
        cycle.frames_ms().map(f64::from).collect()
    } else {
        rests
    };
    let heights = moments
        .into_iter()
        .map(|ms| {
            let posture = Posture::of(cycle.body(), &cycle.at_ms(ms)?);
            Ok(cycle.held().lifted_m(&posture))
        })
        .collect::<Result<Vec<f64>, Unsettled>>()?;
    let next = heights.iter().cycle().skip(1);
    Ok(heights
        .iter()
        .zip(next)
        .map(|(here, next)| (next - here).max(0.0))
        .sum())
}

/// How often a minute it is done at the pace in which it is written down.
pub fn per_minute(cycle: &Cycle) -> f64 {
    60_000.0 / f64::from(cycle.period_ms())
}

#[cfg(test)]
mod tests {
    use super::{Base, least_mets, per_minute, rise_m};
    use crate::body::{Body, Side};
    use crate::cycle::Cycle;
    use crate::held::Held;
    use crate::key::{Arm, Foot, FootOn, Hips, Key, Leg, Pair, Pause, Tilt};
    use crate::movement::Movement;
    use crate::room::{Chair, Room};

    /// Sitting with the thighs level and upright, folded arms, and standing: 1 s up and 1 s down.
    fn sit_to_stand(body: &Body) -> Cycle {
        let stature_m = body.stature_m();
        let room = Room {
            chair: Some(Chair {
                seat_m: (0.285 - 0.05) * stature_m,
                back_x: -0.33,
                depth_m: 0.40,
                breadth_m: 0.45,
                arms_m: None,
            }),
            ..Room::EMPTY
        };
        let foot = |side: Side| {
            Leg::Placed(Foot {
                x: 0.0,
                y: side.sign() * 0.0955,
                on: FootOn::Floor,
                heading_deg: 0.0,
                pitch_deg: 0.0,
            })
        };
        let sitting = Key {
            pause: Pause::Hold { ms: 0 },
            to_next_ms: 1000,
            hips: Hips::Seated { x: -0.245 },
            tilt: Tilt::NONE,
            middle_deg: [0.0; 6],
            legs: Pair {
                left: foot(Side::Left),
                right: foot(Side::Right),
            },
            arms: Pair::both(Arm::Angles([0.0, 0.0, 0.0, 90.0, 0.0, 0.0, 0.0])),
            girdle: Pair::both([0.0; 2]),
        };
        let standing = Key {
            hips: Hips::Borne {
                knee_deg: 0.5,
                along: 0.3,
                to_left: 0.5,
            },
            ..sitting
        };
        let movement = Movement {
            room,
            keys: vec![sitting, standing],
            alternates: false,
            held: Held::NOTHING,
        };
        Cycle::of(body, &movement).unwrap()
    }

    #[test]
    fn published_slope_of_sit_to_stand_is_met_within_two_per_cent() {
        // nakagata-2019: 12 men of 171.2 cm, arms folded, 1 s up and 1 s down, at 1/6/10/15/20/30 a minute
        let measured = [
            (1.0, 1.5),
            (6.0, 2.7),
            (10.0, 3.6),
            (15.0, 4.8),
            (20.0, 5.9),
            (30.0, 8.1),
        ];
        let count = measured.len() as f64;
        let mean = |part: fn(&(f64, f64)) -> f64| measured.iter().map(part).sum::<f64>() / count;
        let (mean_rate, mean_mets) = (mean(|row| row.0), mean(|row| row.1));
        let along: f64 = measured
            .iter()
            .map(|(rate, mets)| (rate - mean_rate) * (mets - mean_mets))
            .sum();
        let spread: f64 = measured
            .iter()
            .map(|(rate, _)| (rate - mean_rate) * (rate - mean_rate))
            .sum();
        let measured_slope = along / spread;
        let cycle = sit_to_stand(&Body::of_stature_m(1.712).unwrap());
        let rise_m = rise_m(&cycle).unwrap();
        let slope =
            least_mets(Base::Standing, rise_m, 1.0) - least_mets(Base::Standing, rise_m, 0.0);
        let ratio = slope / measured_slope;
        assert!(
            (ratio - 1.0).abs() < 0.02,
            "{slope} against {measured_slope}"
        );
        // The intercept of the measurement is the cost of standing still.
        let intercept = mean_mets - measured_slope * mean_rate;
        assert!(
            (intercept - Base::Standing.mets()).abs() < 0.05,
            "{intercept}"
        );
        assert_eq!(per_minute(&cycle), 30.0);
    }

    #[test]
    fn reference_costs_worked_out_from_rises() {
        // mechanical-bound-ours: rise in metres to four decimals, times a minute, METs to two decimals
        let rows = [
            (Base::Standing, 0.3221, 8.0, 3.06),
            (Base::Standing, 0.3221, 12.0, 3.94),
            (Base::Standing, 0.3221, 20.0, 5.71),
            (Base::Standing, 0.0678, 15.0, 2.00),
            (Base::Standing, 0.1304, 15.0, 2.64),
            (Base::Standing, 0.0291, 20.0, 1.70),
            (Base::Standing, 0.0237, 60.0, 2.27),
            (Base::Standing, 0.0145, 40.0, 1.70),
            (Base::Seated, 0.0155, 30.0, 1.52),
            (Base::Seated, 0.0149, 80.0, 2.01),
        ];
        for (base, rise_m, per_minute, expected) in rows {
            let found = least_mets(base, rise_m, per_minute);
            let of_rise = least_mets(base, 0.00005, per_minute) - base.mets();
            let differs = (found - expected).abs();
            assert!(
                differs < 0.005 + of_rise,
                "{rise_m} m: {found} not {expected}"
            );
        }
    }

    #[test]
    fn law_the_taller_body_lifts_more_and_the_seated_one_lifts_nothing() {
        let of =
            |stature_m| rise_m(&sit_to_stand(&Body::of_stature_m(stature_m).unwrap())).unwrap();
        assert!(of(1.5) < of(1.6) && of(1.6) < of(1.9));
        assert!(least_mets(Base::Seated, 0.0, 30.0) < least_mets(Base::Standing, 0.0, 30.0));
    }
}
