//! Drawing the furniture: chairs, worktop, wall, stair and way.

use super::chairs::{armchair, chair, chair_back, chair_beside};
use super::props::{Furniture, RAIL_AT, SEAT_FRONT, STEP, STEP_X, WALL_X, WORKTOP, WORKTOP_X};
use super::shape::{chain, disc, face};
use super::space::{Camera, P2, V3, v};

/// Depth of a stair in mm.
const STEP_DEEP: f64 = 330.0;

/// Shapes of the furniture: behind the ghost, and between ghost and person.
#[derive(Clone, Debug, Default)]
pub(super) struct Set {
    pub(super) behind: String,
    pub(super) before: String,
    pub(super) corners: Vec<P2>,
}

/// Draws the furniture.
pub(super) fn furnish(furniture: Furniture, camera: Camera) -> Set {
    let mut behind = Painter::new(camera);
    let mut before = Painter::new(camera);
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
        Furniture::WallBeside => wall_beside(&mut behind),
    }
    let mut corners = behind.corners;
    corners.extend(before.corners);
    Set {
        behind: behind.out,
        before: before.out,
        corners,
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

/// A stretch of wall along the way.
fn wall_beside(p: &mut Painter) {
    let (left, right, z) = (-620.0, 560.0, -360.0);
    p.face(
        "fg-cloth",
        &[
            v(left, 0.0, z),
            v(left, 1500.0, z),
            v(right, 1500.0, z),
            v(right, 0.0, z),
        ],
    );
    p.bar("fg-wood2", v(left, 40.0, z), v(right, 40.0, z), 14.0);
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

/// Paints bars and faces.
pub(super) struct Painter {
    pub(super) camera: Camera,
    pub(super) out: String,
    /// Ends of bars and corners of faces, for the frame.
    pub(super) corners: Vec<P2>,
}

impl Painter {
    pub(super) const fn new(camera: Camera) -> Self {
        Self {
            camera,
            out: String::new(),
            corners: Vec::new(),
        }
    }

    pub(super) fn path(&mut self, class: &str, data: &str) {
        self.out += &format!("<path class=\"{class}\" d=\"{data}\"/>");
    }

    pub(super) fn bar(&mut self, class: &str, from: V3, to: V3, radius: f64) {
        self.corners
            .extend([self.camera.see(from), self.camera.see(to)]);
        let data = chain(&[
            disc(self.camera.see(from), radius),
            disc(self.camera.see(to), radius),
        ]);
        self.path(class, &data);
    }

    pub(super) fn face(&mut self, class: &str, points: &[V3]) {
        let seen: Vec<_> = points.iter().map(|point| self.camera.see(*point)).collect();
        self.path(class, &face(&seen));
        self.corners.extend(seen);
    }
}
