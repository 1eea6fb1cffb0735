//! Furniture with open sides, so that the person behind it is seen, and what is held in the hand.

use super::body::{ArmJoints, Body};
use super::shape::{Disc, chain, circle, disc, face, hull};
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
}

/// What is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Held {
    Nothing,
    /// A small weight in each hand.
    Weights,
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
const STEP_DEEP: f64 = 330.0;

/// Shapes of the furniture: behind the ghost, and between ghost and person.
#[derive(Clone, Debug, Default)]
pub(super) struct Set {
    pub(super) behind: String,
    pub(super) before: String,
}

struct Painter {
    camera: Camera,
    out: String,
}

impl Painter {
    fn path(&mut self, class: &str, data: &str) {
        self.out += &format!("<path class=\"{class}\" d=\"{data}\"/>");
    }

    fn bar(&mut self, class: &str, from: V3, to: V3, radius: f64) {
        let data = chain(&[
            disc(self.camera.see(from), radius),
            disc(self.camera.see(to), radius),
        ]);
        self.path(class, &data);
    }

    fn face(&mut self, class: &str, points: &[V3]) {
        let seen: Vec<_> = points.iter().map(|point| self.camera.see(*point)).collect();
        self.path(class, &face(&seen));
    }
}

/// Draws the furniture.
pub(super) fn furnish(furniture: Furniture, camera: Camera) -> Set {
    let mut behind = Painter {
        camera,
        out: String::new(),
    };
    let mut before = Painter {
        camera,
        out: String::new(),
    };
    match furniture {
        Furniture::Nothing => {}
        Furniture::Chair => chair(&mut behind, SEAT_FRONT),
        Furniture::Armchair => armchair(&mut behind, &mut before),
        Furniture::ChairBack => chair_back(&mut behind),
        Furniture::ChairBeside => chair_beside(&mut behind),
        Furniture::Worktop => worktop(&mut behind),
        Furniture::Wall => wall(&mut behind),
        Furniture::Step => step(&mut behind, false),
        Furniture::StepRail => step(&mut behind, true),
        Furniture::Path => path(&mut behind),
    }
    Set {
        behind: behind.out,
        before: before.out,
    }
}

/// A plain chair: seat, four legs, two posts and two rails of the back.
fn chair(p: &mut Painter, front: f64) {
    let (back, half) = (front - 440.0, 215.0);
    let foot = |x: f64, z: f64| v(x, 16.0, z);
    p.bar(
        "fg-wood2",
        v(back, SEAT, -half),
        foot(back - 30.0, -half),
        19.0,
    );
    p.bar(
        "fg-wood2",
        v(front - 30.0, SEAT, -half),
        foot(front - 20.0, -half),
        19.0,
    );
    let post = |z: f64| (v(back, SEAT, z), v(back - 90.0, 930.0, z));
    for (z, class) in [(-half, "fg-wood2"), (half, "fg-wood")] {
        let (low, high) = post(z);
        p.bar(class, low, high, 20.0);
    }
    for share in [0.62, 0.95] {
        let (one, two) = (post(-half), post(half));
        p.bar(
            "fg-wood2",
            one.0.towards(one.1, share),
            two.0.towards(two.1, share),
            20.0,
        );
    }
    let top = SEAT;
    p.face(
        "fg-cloth",
        &[
            v(back, top, half),
            v(front, top, half),
            v(front, top, -half),
            v(back, top, -half),
        ],
    );
    p.face(
        "fg-cloth3",
        &[
            v(back, top, half),
            v(front, top, half),
            v(front, top - 46.0, half),
            v(back, top - 46.0, half),
        ],
    );
    p.face(
        "fg-cloth2",
        &[
            v(front, top, half),
            v(front, top, -half),
            v(front, top - 46.0, -half),
            v(front, top - 46.0, half),
        ],
    );
    p.bar(
        "fg-wood",
        v(back, SEAT - 60.0, half),
        foot(back - 30.0, half),
        21.0,
    );
    p.bar(
        "fg-wood",
        v(front - 30.0, SEAT - 60.0, half),
        foot(front - 20.0, half),
        21.0,
    );
}

/// A chair with cushions and open wooden arms.
fn armchair(behind: &mut Painter, before: &mut Painter) {
    let (front, back, half, arm) = (SEAT_FRONT, -470.0, 235.0, 660.0);
    behind.bar(
        "fg-wood2",
        v(front - 10.0, 20.0, -half),
        v(front - 10.0, arm, -half),
        22.0,
    );
    behind.bar(
        "fg-wood2",
        v(back - 40.0, 20.0, -half),
        v(back - 90.0, arm, -half),
        22.0,
    );
    behind.bar(
        "fg-wood2",
        v(back - 90.0, arm + 10.0, -half),
        v(front + 30.0, arm - 10.0, -half),
        24.0,
    );
    let (low, high) = (
        v(back + 20.0, SEAT - 60.0, 0.0),
        v(back - 100.0, 1040.0, 0.0),
    );
    let side = |point: V3, z: f64, x: f64| point.plus(v(x, 0.0, z));
    behind.face(
        "fg-cloth2",
        &[
            side(high, half, -100.0),
            side(high, half, 0.0),
            side(high, -half, 0.0),
            side(high, -half, -100.0),
        ],
    );
    behind.face(
        "fg-cloth",
        &[
            side(low, half, 0.0),
            side(high, half, 0.0),
            side(high, -half, 0.0),
            side(low, -half, 0.0),
        ],
    );
    behind.face(
        "fg-cloth3",
        &[
            side(low, half, -100.0),
            side(high, half, -100.0),
            side(high, half, 0.0),
            side(low, half, 0.0),
        ],
    );
    let (top, under) = (SEAT, SEAT - 118.0);
    behind.face(
        "fg-cloth2",
        &[
            v(front, under, half),
            v(front, top, half),
            v(front, top, -half),
            v(front, under, -half),
        ],
    );
    behind.face(
        "fg-cloth3",
        &[
            v(back, under, half),
            v(front, under, half),
            v(front, top, half),
            v(back, top, half),
        ],
    );
    behind.face(
        "fg-cloth",
        &[
            v(back, top, half),
            v(front, top, half),
            v(front, top, -half),
            v(back, top, -half),
        ],
    );
    before.bar(
        "fg-wood",
        v(back - 40.0, 16.0, half),
        v(back - 95.0, arm, half),
        23.0,
    );
    before.bar(
        "fg-wood",
        v(back - 50.0, 300.0, half),
        v(front - 10.0, 296.0, half),
        20.0,
    );
    before.bar(
        "fg-wood",
        v(front - 10.0, 16.0, half),
        v(front - 10.0, arm - 10.0, half),
        23.0,
    );
    before.bar(
        "fg-wood",
        v(back - 95.0, arm + 14.0, half),
        v(front + 36.0, arm - 6.0, half),
        26.0,
    );
}

/// The back of a chair that faces away.
fn chair_back(p: &mut Painter) {
    let half = 215.0;
    let post = |z: f64| (v(RAIL_X + 50.0, 16.0, z), v(RAIL_X, RAIL_TOP, z));
    let front = RAIL_X + 480.0;
    p.bar(
        "fg-wood2",
        v(front, SEAT, -half),
        v(front + 10.0, 16.0, -half),
        19.0,
    );
    p.face(
        "fg-cloth",
        &[
            v(RAIL_X + 40.0, SEAT, half),
            v(front, SEAT, half),
            v(front, SEAT, -half),
            v(RAIL_X + 40.0, SEAT, -half),
        ],
    );
    p.face(
        "fg-cloth3",
        &[
            v(RAIL_X + 40.0, SEAT, half),
            v(front, SEAT, half),
            v(front, SEAT - 46.0, half),
            v(RAIL_X + 40.0, SEAT - 46.0, half),
        ],
    );
    p.face(
        "fg-cloth2",
        &[
            v(front, SEAT, half),
            v(front, SEAT, -half),
            v(front, SEAT - 46.0, -half),
            v(front, SEAT - 46.0, half),
        ],
    );
    p.bar(
        "fg-wood",
        v(front - 10.0, SEAT - 60.0, half),
        v(front, 16.0, half),
        20.0,
    );
    for (z, class) in [(-half, "fg-wood2"), (half, "fg-wood")] {
        let (low, high) = post(z);
        p.bar(class, low, high, 20.0);
    }
    for (share, radius) in [(0.7, 18.0), (0.98, 24.0)] {
        let (one, two) = (post(-half), post(half));
        p.bar(
            "fg-wood",
            one.0.towards(one.1, share),
            two.0.towards(two.1, share),
            radius,
        );
    }
}

/// A chair at the far side that faces away to the side.
fn chair_beside(p: &mut Painter) {
    let (near, far, half) = (-330.0, -770.0, 205.0);
    for (x, class) in [(40.0 - half, "fg-wood2"), (40.0 + half, "fg-wood")] {
        p.bar(class, v(x, SEAT, far), v(x, 16.0, far), 19.0);
        p.bar(class, v(x, 16.0, near - 30.0), v(x, RAIL_TOP, near), 20.0);
    }
    let corner = |x: f64, z: f64, y: f64| v(40.0 + x * half, y, z);
    let (top, under) = (SEAT, SEAT - 46.0);
    p.face(
        "fg-cloth",
        &[
            corner(-1.0, near - 20.0, top),
            corner(1.0, near - 20.0, top),
            corner(1.0, far, top),
            corner(-1.0, far, top),
        ],
    );
    p.face(
        "fg-cloth3",
        &[
            corner(1.0, near - 20.0, top),
            corner(1.0, far, top),
            corner(1.0, far, under),
            corner(1.0, near - 20.0, under),
        ],
    );
    for y in [RAIL_TOP - 250.0, RAIL_TOP - 16.0] {
        p.bar("fg-wood", corner(-1.0, near, y), corner(1.0, near, y), 21.0);
    }
}

/// A worktop: a slab on a pale front.
fn worktop(p: &mut Painter) {
    let (x, deep, half) = (WORKTOP_X, 430.0, 430.0);
    p.face(
        "fg-cloth2",
        &[
            v(x + 50.0, 0.0, half),
            v(x + 50.0, WORKTOP - 50.0, half),
            v(x + 50.0, WORKTOP - 50.0, -half),
            v(x + 50.0, 0.0, -half),
        ],
    );
    p.face(
        "fg-cloth3",
        &[
            v(x + 50.0, 0.0, half),
            v(x + deep, 0.0, half),
            v(x + deep, WORKTOP - 50.0, half),
            v(x + 50.0, WORKTOP - 50.0, half),
        ],
    );
    p.face(
        "fg-cloth",
        &[
            v(x, WORKTOP, half),
            v(x + deep, WORKTOP, half),
            v(x + deep, WORKTOP, -half),
            v(x, WORKTOP, -half),
        ],
    );
    p.bar(
        "fg-wood",
        v(x + 4.0, WORKTOP - 22.0, half),
        v(x + deep, WORKTOP - 22.0, half),
        24.0,
    );
    p.bar(
        "fg-wood",
        v(x + 4.0, WORKTOP - 22.0, half),
        v(x + 4.0, WORKTOP - 22.0, -half),
        24.0,
    );
}

/// A stretch of wall with its skirting.
fn wall(p: &mut Painter) {
    let (x, half) = (WALL_X, 330.0);
    p.face(
        "fg-cloth",
        &[
            v(x, 0.0, half),
            v(x, 1720.0, half),
            v(x, 1720.0, -half),
            v(x, 0.0, -half),
        ],
    );
    p.bar("fg-wood2", v(x, 40.0, half), v(x, 40.0, -half), 14.0);
}

/// One stair and the edge of the next; with a rail on the far side.
fn step(p: &mut Painter, rail: bool) {
    let (x, half, deep, high) = (STEP_X, 380.0, STEP_DEEP, STEP);
    if rail {
        let at = |x: f64| v(x, RAIL_AT + (x - STEP_X) * 0.45, -half + 60.0);
        p.bar(
            "fg-wood2",
            v(x - 60.0, 0.0, -half + 60.0),
            at(x - 60.0),
            22.0,
        );
        p.bar("fg-wood2", at(x - 90.0), at(x + 560.0), 25.0);
    }
    let second = x + deep;
    p.face(
        "fg-cloth3",
        &[
            v(second, high, half),
            v(second, high * 2.0, half),
            v(second, high * 2.0, -half),
            v(second, high, -half),
        ],
    );
    p.face(
        "fg-cloth2",
        &[
            v(second, high * 2.0, half),
            v(second + 150.0, high * 2.0, half),
            v(second + 150.0, high * 2.0, -half),
            v(second, high * 2.0, -half),
        ],
    );
    p.face(
        "fg-cloth",
        &[
            v(x, high, half),
            v(second, high, half),
            v(second, high, -half),
            v(x, high, -half),
        ],
    );
    p.face(
        "fg-cloth3",
        &[
            v(x, 0.0, half),
            v(x, high, half),
            v(x, high, -half),
            v(x, 0.0, -half),
        ],
    );
    p.face(
        "fg-cloth2",
        &[
            v(x, 0.0, half),
            v(second + 150.0, 0.0, half),
            v(second + 150.0, high * 2.0, half),
            v(second, high * 2.0, half),
            v(second, high, half),
            v(x, high, half),
        ],
    );
}

/// Height of the rail above the front edge of the step.
pub(super) const RAIL_AT: f64 = 960.0;

/// Marks on the floor along the way.
fn path(p: &mut Painter) {
    for x in [-620.0, -330.0, 430.0, 720.0] {
        p.bar(
            "fg-shadow",
            v(x, 0.0, 190.0),
            v(x + 150.0, 0.0, 190.0),
            15.0,
        );
    }
}

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
    let mut p = Painter {
        camera,
        out: String::new(),
    };
    let grip = |arm: &ArmJoints| arm.knuckles;
    match held {
        Held::Nothing => {}
        Held::Weights => {
            for (arm, class) in [(&body.far_arm, "fg-wood2"), (&body.near_arm, "fg-wood")] {
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
