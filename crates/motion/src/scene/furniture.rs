//! Chair, worktop, step, bar and the shadow on the floor, open to the side from which they are seen.
//!
//! Every size that the room does not give is ours.

use super::{Camera, Disc, Outline, Paint, Part};
use crate::body::{Body, Segment, Side};
use crate::posture::Posture;
use crate::room::{Bar, Chair, Room, Step, Worktop};
use crate::space::{Vector, sin_cos_deg};

/// Thickness of the seat of a chair, and of a worktop.
const SEAT_M: f64 = 0.05;
const TOP_M: f64 = 0.04;
/// How high the back of a chair rises above its seat.
const BACK_M: f64 = 0.46;
/// How far a worktop goes back, and to either side.
const TOP_DEPTH_M: f64 = 0.45;
const TOP_HALF_M: f64 = 0.42;
/// Half the thickness of a leg of a chair.
const POST_MM: f64 = 17.0;

/// What is painted before the person.
pub(super) fn behind(body: &Body, room: &Room, camera: &Camera) -> Vec<Part> {
    let mut parts = Vec::new();
    if let Some(chair) = room.chair {
        parts.extend(chair_behind(body, &chair, camera));
    }
    if let Some(worktop) = room.worktop {
        parts.extend(worktop_parts(body, &worktop, camera));
    }
    if let Some(step) = room.step {
        parts.extend(step_parts(body, &step, camera));
    }
    if let Some(bar) = room.bar {
        parts.extend(bar_parts(body, &bar, camera));
    }
    parts
}

/// What is painted after the person: the leg of the chair at the near front corner.
pub(super) fn before(body: &Body, room: &Room, camera: &Camera) -> Vec<Part> {
    room.chair
        .map(|chair| {
            let (_, front, half) = plan(body, &chair);
            let under_m = chair.seat_m - SEAT_M;
            let foot = Vector::new(front - 0.03, -half + 0.03, 0.0);
            vec![post(Paint::Wood, camera, foot, foot + Vector::UP * under_m)]
        })
        .unwrap_or_default()
}

/// Back and front edge of a seat, and half its breadth.
fn plan(body: &Body, chair: &Chair) -> (f64, f64, f64) {
    let back = chair.back_x * body.stature_m();
    (back, chair.front_m(body), chair.breadth_m / 2.0)
}

fn chair_behind(body: &Body, chair: &Chair, camera: &Camera) -> Vec<Part> {
    let (back, front, half) = plan(body, chair);
    let (seat, under) = (chair.seat_m, chair.seat_m - SEAT_M);
    let top = seat + BACK_M;
    // The back leans a little and its posts go down to the floor.
    let lean = 0.05;
    let at = Vector::new;
    let inset = 0.03;
    vec![
        post(
            Paint::FarWood,
            camera,
            at(front - inset, half - inset, 0.0),
            at(front - inset, half - inset, under),
        ),
        post(
            Paint::FarWood,
            camera,
            at(back - inset, half - inset, 0.0),
            at(back - lean, half - inset, top),
        ),
        face(
            Paint::ShadedCloth,
            camera,
            [
                at(back - 0.02, half - inset, seat + 0.12),
                at(back - lean, half - inset, top),
                at(back - lean, -half + inset, top),
                at(back - 0.02, -half + inset, seat + 0.12),
            ],
        ),
        face(
            Paint::Cloth,
            camera,
            [
                at(back, half, seat),
                at(front, half, seat),
                at(front, -half, seat),
                at(back, -half, seat),
            ],
        ),
        face(
            Paint::ShadedCloth,
            camera,
            [
                at(front, half, seat),
                at(front, half, under),
                at(front, -half, under),
                at(front, -half, seat),
            ],
        ),
        face(
            Paint::DarkCloth,
            camera,
            [
                at(back, -half, seat),
                at(front, -half, seat),
                at(front, -half, under),
                at(back, -half, under),
            ],
        ),
        post(
            Paint::Wood,
            camera,
            at(back - inset, -half + inset, 0.0),
            at(back - lean, -half + inset, top),
        ),
    ]
}

fn worktop_parts(body: &Body, worktop: &Worktop, camera: &Camera) -> Vec<Part> {
    let edge = worktop.edge_x * body.stature_m();
    let (far, half, top) = (edge + TOP_DEPTH_M, TOP_HALF_M, worktop.top_m);
    let at = Vector::new;
    let inset = 0.05;
    let under = top - TOP_M;
    vec![
        face(
            Paint::ShadedCloth,
            camera,
            [
                at(edge + inset, half, 0.0),
                at(edge + inset, half, under),
                at(edge + inset, -half, under),
                at(edge + inset, -half, 0.0),
            ],
        ),
        face(
            Paint::DarkCloth,
            camera,
            [
                at(edge + inset, -half, 0.0),
                at(far, -half, 0.0),
                at(far, -half, under),
                at(edge + inset, -half, under),
            ],
        ),
        face(
            Paint::Cloth,
            camera,
            [
                at(edge, half, top),
                at(far, half, top),
                at(far, -half, top),
                at(edge, -half, top),
            ],
        ),
        face(
            Paint::Wood,
            camera,
            [
                at(edge, -half, top),
                at(far, -half, top),
                at(far, -half, under),
                at(edge, -half, under),
            ],
        ),
    ]
}

/// A low box: its top, its near side and its far end.
fn step_parts(body: &Body, step: &Step, camera: &Camera) -> Vec<Part> {
    let edge = step.edge_x * body.stature_m();
    let (far, half, top) = (edge + step.depth_m, TOP_HALF_M, step.height_m);
    let at = Vector::new;
    let face = |paint, corners| face(paint, camera, corners);
    vec![
        face(
            Paint::ShadedCloth,
            [
                at(far, half, 0.0),
                at(far, half, top),
                at(far, -half, top),
                at(far, -half, 0.0),
            ],
        ),
        face(
            Paint::DarkCloth,
            [
                at(edge, -half, 0.0),
                at(edge, -half, top),
                at(far, -half, top),
                at(far, -half, 0.0),
            ],
        ),
        face(
            Paint::Cloth,
            [
                at(edge, half, top),
                at(far, half, top),
                at(far, -half, top),
                at(edge, -half, top),
            ],
        ),
    ]
}

/// The bar as the back of a chair that looks away.
fn bar_parts(body: &Body, bar: &Bar, camera: &Camera) -> Vec<Part> {
    let (x, half) = (bar.x * body.stature_m(), 0.21);
    let (front, seat) = (x + 0.40, bar.top_m - BACK_M);
    let at = Vector::new;
    let face = |paint, corners| face(paint, camera, corners);
    let post = |paint, from, to| post(paint, camera, from, to);
    let leg = |paint, x, y, height| post(paint, at(x, y, 0.0), at(x, y, height));
    vec![
        leg(Paint::FarWood, front, half, seat),
        leg(Paint::FarWood, x, half, bar.top_m),
        face(
            Paint::Cloth,
            [
                at(x, half, seat),
                at(front, half, seat),
                at(front, -half, seat),
                at(x, -half, seat),
            ],
        ),
        face(
            Paint::DarkCloth,
            [
                at(x, -half, seat),
                at(front, -half, seat),
                at(front, -half, seat - SEAT_M),
                at(x, -half, seat - SEAT_M),
            ],
        ),
        leg(Paint::Wood, front, -half, seat - SEAT_M),
        face(
            Paint::ShadedCloth,
            [
                at(x, half, seat + 0.14),
                at(x, half, bar.top_m),
                at(x, -half, bar.top_m),
                at(x, -half, seat + 0.14),
            ],
        ),
        leg(Paint::Wood, x, -half, bar.top_m),
        post(Paint::Wood, at(x, half, bar.top_m), at(x, -half, bar.top_m)),
    ]
}

/// One soft patch under the person and, where there is one, the chair.
pub(super) fn shadow(posture: &Posture, room: &Room, camera: &Camera) -> Part {
    const ROUND_M: f64 = 0.13;
    const STEPS: u32 = 12;
    let body = posture.body();
    let mut under: Vec<Vector> = Side::BOTH
        .into_iter()
        .flat_map(|side| {
            [
                posture.frame(Segment::Foot(side)).at,
                posture.end(Segment::Foot(side)),
            ]
        })
        .collect();
    if let Some(chair) = room.chair {
        let (back, front, half) = plan(body, &chair);
        under.extend(
            [(back, half), (front, half), (back, -half), (front, -half)]
                .map(|(x, y)| Vector::new(x, y, 0.0)),
        );
    }
    let corners: Vec<Disc> = under
        .into_iter()
        .flat_map(|point| {
            (0..STEPS).map(move |step| {
                let (sin, cos) = sin_cos_deg(f64::from(step) * 360.0 / f64::from(STEPS));
                Vector::new(point.x + ROUND_M * cos, point.y + ROUND_M * sin, 0.0)
            })
        })
        .map(|point| Disc {
            at: camera.see(point),
            radius_mm: 0.0,
        })
        .collect();
    Part {
        paint: Paint::Shadow,
        outline: Outline::Hulls(vec![corners]),
    }
}

fn post(paint: Paint, camera: &Camera, from: Vector, to: Vector) -> Part {
    let discs = [from, to].map(|at| Disc {
        at: camera.see(at),
        radius_mm: POST_MM,
    });
    Part {
        paint,
        outline: Outline::Chain(discs.to_vec()),
    }
}

fn face(paint: Paint, camera: &Camera, corners: [Vector; 4]) -> Part {
    Part {
        paint,
        outline: Outline::Face(corners.map(|corner| camera.see(corner)).to_vec()),
    }
}
