//! What the hands hold between them, and how hard somebody leans on a wall.

use super::{Kind, ROUNDING_M, STILL_M, Worst};
use crate::body::Side;
use crate::clash::Furniture;
use crate::cycle::{Bearing, Cycle};
use crate::grip::Contact;
use crate::held::palm;
use crate::posture::Posture;
use crate::space::Vector;

/// What is between the hands, followed through the whole cycle.
#[derive(Default)]
pub(super) struct Holding {
    /// The least and the greatest distance of the hands.
    apart_m: Option<[f64; 2]>,
    /// How long the band is at most, in lengths at rest.
    stretch: Option<f64>,
}

impl Holding {
    pub(super) fn follow(
        &mut self,
        cycle: &Cycle,
        posture: &Posture,
        at_ms: f64,
        worst: &mut Worst,
    ) {
        let held = cycle.held();
        if held.stick_between {
            let apart_m = palm(posture, Side::Left).distance(palm(posture, Side::Right));
            let [least, most] = self.apart_m.unwrap_or([apart_m, apart_m]);
            let range_m = [least.min(apart_m), most.max(apart_m)];
            self.apart_m = Some(range_m);
            worst.note(Kind::StickSlides, at_ms, range_m[1] - range_m[0], STILL_M);
        }
        if let Some(stretch) = held.stretch(posture) {
            self.stretch = Some(self.stretch.map_or(stretch, |known| known.max(stretch)));
            let over_m = held.overstretched_m(posture);
            worst.note(Kind::BandOverstretched, at_ms, over_m, ROUNDING_M);
        }
    }

    pub(super) fn finish(self, worst: &mut Worst) {
        if let Some(stretch) = self.stretch {
            worst.note(Kind::BandSlack, 0.0, 1.0 - stretch, 0.0);
        }
    }
}

/// How hard the feet of somebody who leans on a wall are pushed along the floor, as a share of the weight: what the hands push is as
/// far from the floor as they are high, and holds what hangs over the middle of the feet.
pub(super) fn push_along_floor(cycle: &Cycle, posture: &Posture, bearing: &Bearing) -> f64 {
    let on_wall = |side| bearing.hands.of(side) == Some(Contact::On(Furniture::Wall));
    let hands: Vec<Vector> = Side::BOTH
        .into_iter()
        .filter(|side| on_wall(*side))
        .map(|side| palm(posture, side))
        .collect();
    let feet: Vec<Vector> = Side::BOTH
        .into_iter()
        .filter(|side| bearing.feet.of(*side))
        .map(|side| posture.foot_point(side, cycle.body().ball()))
        .collect();
    let (Some(hand), Some(foot)) = (hands.first(), feet.first()) else {
        return 0.0;
    };
    let centre = cycle.held().centre_of_mass(posture);
    ((centre.x - foot.x) / hand.z).abs()
}
