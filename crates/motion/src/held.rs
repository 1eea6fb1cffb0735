//! What the hands hold: weights, a stick between them, a stretch band.

use crate::body::{Segment, Side};
use crate::evidence::{HELD_OURS, SourceId};
use crate::key::Pair;
use crate::posture::Posture;
use crate::space::Vector;

/// Sources of the numbers in this file.
pub const SOURCES: [SourceId; 1] = [HELD_OURS];

/// What the hands hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// The weight in each hand.
    pub weight_kg: Pair<f64>,
    /// Whether a stick is held between the hands.
    pub stick_between: bool,
    /// A stretch band from hand to hand.
    pub band: Option<Band>,
}

/// A stretch band from hand to hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// How long it is at rest, in shares of stature.
    pub rest: f64,
    /// What it goes round on its way.
    pub round: Round,
}

/// What a band goes round on its way from hand to hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Round {
    /// Nothing.
    Nothing,
    /// The back, below the shoulder blades.
    Back,
    /// The soles of both feet.
    Feet,
}

/// Mass of a body for each square metre of its stature.
const KG_PER_M2: f64 = 24.0;
/// A band reaches this many times its length at rest.
const MOST_STRETCH: f64 = 2.5;
/// How far the back lies behind the middle of the chest, of stature.
const BACK: f64 = 0.06;

impl Held {
    /// Nothing.
    pub const NOTHING: Self = Self {
        weight_kg: Pair::both(0.0),
        stick_between: false,
        band: None,
    };

    /// The weight in a hand as a share of the mass of the body.
    fn share(&self, posture: &Posture, side: Side) -> f64 {
        let stature_m = posture.body().stature_m();
        self.weight_kg.of(side) / (KG_PER_M2 * stature_m * stature_m)
    }

    /// The centre of mass of a body together with what its hands hold.
    pub fn centre_of_mass(&self, posture: &Posture) -> Vector {
        let [left, right] = Side::BOTH.map(|side| self.share(posture, side));
        let weights = palm(posture, Side::Left) * left + palm(posture, Side::Right) * right;
        (posture.centre_of_mass() + weights) * (1.0 / (1.0 + left + right))
    }

    /// How high everything that must be lifted is, for each kilogram of the body alone.
    pub fn lifted_m(&self, posture: &Posture) -> f64 {
        Side::BOTH
            .map(|side| palm(posture, side).z * self.share(posture, side))
            .iter()
            .sum::<f64>()
            + posture.centre_of_mass().z
    }

    /// The points between which the band runs straight.
    pub fn band_points(&self, posture: &Posture) -> Vec<Vector> {
        let Some(band) = self.band else {
            return Vec::new();
        };
        let body = posture.body();
        let round = match band.round {
            Round::Nothing => Vec::new(),
            Round::Back => {
                let chest = posture.frame(Segment::Thorax);
                let back = |side: Side| {
                    let inner = Vector::new(-BACK, side.sign() * 0.07, 0.04) * body.stature_m();
                    chest.point(inner)
                };
                Side::BOTH.map(back).to_vec()
            }
            Round::Feet => Side::BOTH
                .map(|side| posture.foot_point(side, body.ball()))
                .to_vec(),
        };
        let hands = Side::BOTH.map(|side| palm(posture, side));
        [&hands[..1], &round, &hands[1..]].concat()
    }

    /// How many times its length at rest the band is long; none without a band.
    pub fn stretch(&self, posture: &Posture) -> Option<f64> {
        let rest_m = self.band?.rest * posture.body().stature_m();
        let points = self.band_points(posture);
        let long_m: f64 = points
            .windows(2)
            .map(|ends| ends[0].distance(ends[1]))
            .sum();
        Some(long_m / rest_m)
    }

    /// By how much a band is stretched beyond what it can, in metres; 0 or less where it is not.
    pub(crate) fn overstretched_m(&self, posture: &Posture) -> f64 {
        let rest_m = self.band.map_or(0.0, |band| band.rest) * posture.body().stature_m();
        self.stretch(posture)
            .map_or(0.0, |stretch| (stretch - MOST_STRETCH) * rest_m)
    }
}

/// The middle of a palm.
pub fn palm(posture: &Posture, side: Side) -> Vector {
    let hand = Segment::Hand(side);
    (posture.frame(hand).at + posture.end(hand)) * 0.5
}
