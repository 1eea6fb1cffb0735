//! Chairs: sat on, stood behind, stood beside.

use super::furniture::Painter;
use super::props::{RAIL_TOP, RAIL_X, SEAT, SEAT_FRONT};
use super::space::{V3, v};

/// A plain chair: seat, four legs, two posts and two rails of the back.
pub(super) fn chair(p: &mut Painter, front: f64) {
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
pub(super) fn armchair(behind: &mut Painter, before: &mut Painter) {
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
pub(super) fn chair_back(p: &mut Painter) {
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
pub(super) fn chair_beside(p: &mut Painter) {
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
