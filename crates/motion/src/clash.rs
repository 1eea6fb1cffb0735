//! Where a body would pass through the furniture.

use crate::body::{Body, Segment, Side};
use crate::posture::Posture;
use crate::room::{Chair, Room, Worktop};
use crate::space::Vector;

/// A piece of furniture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Furniture {
    /// The chair.
    Chair,
    /// The worktop.
    Worktop,
}

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
    let chair = room.chair.into_iter().flat_map(|chair| {
        in_chair(posture, &chair)
            .into_iter()
            .map(|(segment, by_m)| (segment, Furniture::Chair, by_m))
    });
    let worktop = room.worktop.into_iter().flat_map(|worktop| {
        in_worktop(posture, &worktop)
            .into_iter()
            .map(|(segment, by_m)| (segment, Furniture::Worktop, by_m))
    });
    chair
        .chain(worktop)
        .filter(|(_, _, by_m)| *by_m > 0.0)
        .collect()
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

fn in_worktop(posture: &Posture, worktop: &Worktop) -> Vec<(Segment, f64)> {
    let body: &Body = posture.body();
    let edge_m = worktop.edge_x * body.stature_m();
    let mut found: Vec<(Segment, f64)> = [Segment::Pelvis, Segment::Abdomen]
        .into_iter()
        .map(|segment| {
            let front = posture
                .frame(segment)
                .turned
                .apply(Vector::FORWARD * (BELLY * body.stature_m()));
            let depth = along(posture, segment)
                .map(|point| point + front)
                .filter(|point| point.z < worktop.top_m)
                .map(|point| point.x - edge_m)
                .fold(0.0, f64::max);
            (segment, depth)
        })
        .collect();
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
