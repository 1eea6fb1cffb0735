//! Furniture with open sides, so that the person behind it is seen, and what is held in the hand.

use super::body::{ArmJoints, Body};
use super::furniture::Painter;
use super::shape::{Disc, chain, circle, disc, hull};
use super::space::{Camera, V3, v};

/// What stands round the person.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Furniture {
    Nothing,
    /// A chair without arms, sat on.
    Chair,
    /// A chair with arms, sat on.
    Armchair,
    /// The back of a chair in front of the person.
    ChairBack,
    /// A chair at the far side, its back within reach.
    ChairBeside,
    /// A worktop in front of the person.
    Worktop,
    /// A wall in front of the person.
    Wall,
    /// A step in front of the person.
    Step,
    /// A step with a rail on the far side.
    StepRail,
    /// A way to walk.
    Path,
    /// A wall along the way, on the far side.
    WallBeside,
}

/// What is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Held {
    Nothing,
    /// A small weight in each hand.
    Weights,
    /// One in the near hand: the other holds on.
    OneWeight,
    /// A walking stick in the far hand.
    Cane,
    /// A band between the hands.
    Band,
    /// A band from the hands round the feet.
    BandToFeet,
    /// A stick between the hands.
    Stick,
}

/// Height of the seat in mm.
pub(super) const SEAT: f64 = 450.0;
/// Front edge of the seat.
pub(super) const SEAT_FRONT: f64 = 0.0;
/// Height of the back of the chair in front, and where it stands.
pub(super) const RAIL_TOP: f64 = 900.0;
pub(super) const RAIL_X: f64 = 330.0;
/// Edge of the worktop.
pub(super) const WORKTOP_X: f64 = 330.0;
pub(super) const WORKTOP: f64 = 905.0;
/// The wall.
pub(super) const WALL_X: f64 = 520.0;
/// The step: height, front edge and depth.
pub(super) const STEP: f64 = 170.0;
pub(super) const STEP_X: f64 = 190.0;
/// Height of the rail above the front edge of the step.
pub(super) const RAIL_AT: f64 = 960.0;

/// The shade on the floor under feet and legs of furniture.
pub(super) fn shade(furniture: Furniture, bodies: &[&Body], camera: Camera) -> String {
    let mut points: Vec<V3> = Vec::new();
    for body in bodies {
        for leg in [&body.near_leg, &body.far_leg] {
            let lowest = leg.ankle.y;
            if lowest < 420.0 {
                points.push(v(leg.ankle.x - 20.0, 0.0, leg.ankle.z));
                points.push(v(leg.ankle.x + 120.0, 0.0, leg.ankle.z));
            }
        }
    }
    if matches!(furniture, Furniture::Chair | Furniture::Armchair) {
        for (x, z) in [
            (-480.0, 215.0),
            (-480.0, -215.0),
            (-20.0, 215.0),
            (-20.0, -215.0),
        ] {
            points.push(v(x, 0.0, z));
        }
    }
    if points.is_empty() {
        return String::new();
    }
    let discs: Vec<Disc> = points
        .iter()
        .map(|point| disc(camera.see(*point), 62.0))
        .collect();
    format!("<path class=\"fg-shadow\" d=\"{}\"/>", hull(&discs))
}

/// What the hands hold, painted over them; the far one first.
pub(super) fn held(held: Held, body: &Body, camera: Camera) -> String {
    let mut p = Painter::new(camera);
    let grip = |arm: &ArmJoints| arm.knuckles;
    match held {
        Held::Nothing => {}
        Held::Cane => {
            let hand = grip(&body.far_arm);
            p.bar("fg-wood2", hand, v(hand.x + 90.0, 0.0, hand.z), 15.0);
        }
        Held::Weights | Held::OneWeight => {
            let both = [(&body.far_arm, "fg-wood2"), (&body.near_arm, "fg-wood")];
            let first = usize::from(held == Held::OneWeight);
            for (arm, class) in &both[first..] {
                let mut data = String::new();
                let at = grip(arm);
                data += &chain(&[
                    disc(camera.see(at.plus(v(0.0, 0.0, -64.0))), 40.0),
                    disc(camera.see(at.plus(v(0.0, 0.0, 64.0))), 40.0),
                ]);
                p.path(class, &data);
                let mut end = String::new();
                circle(disc(camera.see(at.plus(v(0.0, 0.0, 64.0))), 40.0), &mut end);
                p.path("fg-cloth3", &end);
            }
        }
        Held::BandToFeet => {
            for (arm, leg) in [
                (&body.far_arm, &body.far_leg),
                (&body.near_arm, &body.near_leg),
            ] {
                let sole = leg.ankle.plus(v(70.0, -60.0, 0.0));
                p.bar("fg-wood", grip(arm), sole, 11.0);
            }
        }
        Held::Band | Held::Stick => {
            let radius = if held == Held::Band { 12.0 } else { 17.0 };
            let (far, near) = (grip(&body.far_arm), grip(&body.near_arm));
            let over = near.minus(far).unit().times(90.0);
            p.bar("fg-wood", far.minus(over), near.plus(over), radius);
        }
    }
    p.out
}
