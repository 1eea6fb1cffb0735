//! Where a body would pass through the furniture.

use crate::body::{Segment, Side};
use crate::posture::Posture;
use crate::room::{Chair, Room, Step, Worktop};
use crate::space::Vector;

/// A piece of furniture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Furniture {
    /// The chair.
    Chair,
    /// The worktop.
    Worktop,
    /// The step.
    Step,
    /// The bar.
    Bar,
}

/// What lies on something may be this deep in it. Ours.
const TOUCHES_M: f64 = 0.001;
/// How thick the seat of a chair is. Ours.
const SEAT_THICKNESS_M: f64 = 0.06;
/// How far the calf lies behind the line of the shank, of stature. Ours.
const CALF: f64 = 0.03;
/// How far the belly lies in front of the line of the trunk, of stature. Ours.
const BELLY: f64 = 0.06;
/// How far the buttocks lie behind the hips, of stature. Ours.
const BUTTOCKS: f64 = 0.05;

/// Every segment that is inside a piece of furniture, and how deep.
pub fn clashes(posture: &Posture, room: &Room) -> Vec<(Segment, Furniture, f64)> {
    let mut found = Vec::new();
    let mut add = |furniture, inside: Vec<(Segment, f64)>| {
        let deep = inside.into_iter().filter(|(_, by_m)| *by_m > 0.0);
        found.extend(deep.map(|(segment, by_m)| (segment, furniture, by_m)));
    };
    if let Some(chair) = room.chair {
        add(Furniture::Chair, in_chair(posture, &chair));
    }
    if let Some(worktop) = room.worktop {
        add(Furniture::Worktop, in_worktop(posture, &worktop));
    }
    if let Some(step) = room.step {
        add(Furniture::Step, in_step(posture, &step));
    }
    if let Some(bar) = room.bar {
        add(Furniture::Bar, belly_beyond(posture, bar.x, bar.top_m));
    }
    found
}

fn in_chair(posture: &Posture, chair: &Chair) -> Vec<(Segment, f64)> {
    let body = posture.body();
    let front_m = chair.front_m(body);
    let hips = posture.frame(Segment::Pelvis).at;
    let mut found = Vec::new();
    let back_m = chair.back_x * body.stature_m();
    if hips.z > chair.seat_m {
        found.push((
            Segment::Pelvis,
            back_m - (hips.x - BUTTOCKS * body.stature_m()),
        ));
    }
    if hips.x < front_m {
        found.push((Segment::Pelvis, chair.hips_m(body) - hips.z));
    }
    for side in Side::BOTH {
        let thigh = Segment::Thigh(side);
        let (hip, knee) = (posture.frame(thigh).at, posture.end(thigh));
        if hip.x < front_m && knee.x > front_m {
            let share = (front_m - hip.x) / (knee.x - hip.x);
            found.push((thigh, chair.seat_m - (hip.z + (knee.z - hip.z) * share)));
        }
        found.push((
            Segment::Shank(side),
            shank_in_seat(posture, side, chair, front_m),
        ));
    }
    found
}

/// How far the calf is behind the front edge where the shank passes the seat.
fn shank_in_seat(posture: &Posture, side: Side, chair: &Chair, front_m: f64) -> f64 {
    let shank = Segment::Shank(side);
    let calf_m = CALF * posture.body().stature_m();
    along(posture, shank)
        .filter(|point| (chair.seat_m - SEAT_THICKNESS_M..chair.seat_m).contains(&point.z))
        .map(|point| front_m - (point.x - calf_m))
        .fold(0.0, f64::max)
}

/// How far pelvis and abdomen are beyond an edge, where they are below its top.
fn belly_beyond(posture: &Posture, edge_x: f64, top_m: f64) -> Vec<(Segment, f64)> {
    let stature_m = posture.body().stature_m();
    [Segment::Pelvis, Segment::Abdomen]
        .into_iter()
        .map(|segment| {
            let forward = posture.frame(segment).turned.forward;
            let depth = along(posture, segment)
                .map(|point| point + forward * (BELLY * stature_m))
                .filter(|point| point.z < top_m)
                .map(|point| point.x - edge_x * stature_m)
                .fold(0.0, f64::max);
            (segment, depth)
        })
        .collect()
}

/// How deep soles and toes are in the step.
fn in_step(posture: &Posture, step: &Step) -> Vec<(Segment, f64)> {
    let body = posture.body();
    let edge_m = step.edge_x * body.stature_m();
    let deep = |side| {
        [body.heel(), body.ball(), body.toe_tip()]
            .into_iter()
            .map(|inner| posture.foot_point(side, inner))
            .filter(|point| step.is_under(body, *point))
            .map(|point| (step.height_m - point.z).min(point.x - edge_m) - TOUCHES_M)
            .fold(0.0, f64::max)
    };
    Side::BOTH
        .map(|side| (Segment::Foot(side), deep(side)))
        .to_vec()
}

fn in_worktop(posture: &Posture, worktop: &Worktop) -> Vec<(Segment, f64)> {
    let edge_m = worktop.edge_x * posture.body().stature_m();
    let mut found = belly_beyond(posture, worktop.edge_x, worktop.top_m);
    for side in Side::BOTH {
        for segment in [Segment::Forearm(side), Segment::Hand(side)] {
            let depth = along(posture, segment)
                .filter(|point| point.x > edge_m)
                .map(|point| worktop.top_m - point.z)
                .fold(0.0, f64::max);
            found.push((segment, depth));
        }
    }
    found
}

/// Points along the line of a segment.
fn along(posture: &Posture, segment: Segment) -> impl Iterator<Item = Vector> + use<> {
    const PARTS: u32 = 20;
    let (from, to) = (posture.frame(segment).at, posture.end(segment));
    (0..=PARTS).map(move |part| from + (to - from) * (f64::from(part) / f64::from(PARTS)))
}
