//! Where a body would pass through the furniture, or through itself.

mod own;

use crate::body::{Segment, Side};
use crate::posture::Posture;
use crate::room::{Bar, Chair, Room, Step, Wall, Worktop};
use crate::space::Vector;

pub(crate) use own::crossings;

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
    /// The wall.
    Wall,
    /// The rail.
    Rail,
    /// The walking stick.
    Stick,
}

impl Furniture {
    /// Its word in messages.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Chair => "chair",
            Self::Worktop => "worktop",
            Self::Step => "step",
            Self::Bar => "bar",
            Self::Wall => "wall",
            Self::Rail => "rail",
            Self::Stick => "walking stick",
        }
    }
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
        add(Furniture::Bar, in_bar(posture, &bar));
    }
    if let Some(wall) = room.wall {
        add(Furniture::Wall, in_wall(posture, &wall));
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
    found.extend(arms_in_chair(posture, chair));
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

/// Belly and knees beyond the back of a chair that looks away.
fn in_bar(posture: &Posture, bar: &Bar) -> Vec<(Segment, f64)> {
    /// How far the back of a chair goes down from its top.
    const BACK_M: f64 = 0.46;
    let mut found = belly_beyond(posture, bar.x, bar.top_m);
    found.extend(legs_beyond(posture, bar.x, [bar.top_m - BACK_M, bar.top_m]));
    found
}

/// How far thighs and shanks are beyond an edge between two heights.
fn legs_beyond(posture: &Posture, edge_x: f64, [from_m, to_m]: [f64; 2]) -> Vec<(Segment, f64)> {
    let stature_m = posture.body().stature_m();
    let beyond = |segment| {
        let depth = along(posture, segment)
            .filter(|point| (from_m..to_m).contains(&point.z))
            .map(|point| point.x + (CALF - edge_x) * stature_m)
            .fold(0.0, f64::max);
        (segment, depth)
    };
    Side::BOTH
        .into_iter()
        .flat_map(|side| [Segment::Thigh(side), Segment::Shank(side)])
        .map(beyond)
        .collect()
}

/// How far hands, knees, toes and face are in the wall.
fn in_wall(posture: &Posture, wall: &Wall) -> Vec<(Segment, f64)> {
    let stature_m = posture.body().stature_m();
    let wall_m = wall.x * stature_m;
    let head = posture.frame(Segment::Head);
    let face = head.point(Vector::new(0.06, 0.0, 0.1) * stature_m);
    let mut found = vec![(Segment::Head, face.x - wall_m)];
    for side in Side::BOTH {
        for segment in [Segment::Hand(side), Segment::Foot(side)] {
            found.push((segment, posture.end(segment).x - wall_m));
        }
        let knee = posture.end(Segment::Thigh(side));
        found.push((Segment::Thigh(side), knee.x + CALF * stature_m - wall_m));
    }
    found
}

/// How deep forearms and hands are in seat or back of a chair.
fn arms_in_chair(posture: &Posture, chair: &Chair) -> Vec<(Segment, f64)> {
    /// How thick the back is, and how far it rises above the seat.
    const BACK_M: f64 = 0.04;
    const RISE_M: f64 = 0.46;
    let body = posture.body();
    let (back_m, front_m) = (chair.back_x * body.stature_m(), chair.front_m(body));
    let half_m = chair.breadth_m / 2.0;
    let seat = [
        [back_m, front_m],
        [-half_m, half_m],
        [chair.seat_m - SEAT_THICKNESS_M, chair.seat_m],
    ];
    let back = [
        [back_m - BACK_M, back_m],
        [-half_m, half_m],
        [chair.seat_m, chair.seat_m + RISE_M],
    ];
    let deep = |segment| {
        let depth = along(posture, segment)
            .flat_map(|point| [seat, back].map(|within| inside_m(point, within)))
            .fold(0.0, f64::max);
        (segment, depth - TOUCHES_M)
    };
    Side::BOTH
        .into_iter()
        .flat_map(|side| [Segment::Forearm(side), Segment::Hand(side)])
        .map(deep)
        .collect()
}

/// How far inside a box a point is; less than 0 outside.
fn inside_m(point: Vector, within: [[f64; 2]; 3]) -> f64 {
    [point.x, point.y, point.z]
        .into_iter()
        .zip(within)
        .map(|(at, [low, high])| (at - low).min(high - at))
        .fold(f64::INFINITY, f64::min)
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
    /// How far the doors of a cupboard lie behind the edge of its top.
    const DOORS_BEHIND: f64 = 0.03;
    let mut found = belly_beyond(posture, worktop.edge_x, worktop.top_m);
    let doors_x = worktop.edge_x + DOORS_BEHIND;
    found.extend(legs_beyond(posture, doors_x, [0.0, worktop.top_m]));
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
