//! What stands in the room and bears a part of the body: chair, worktop, step, wall, and what is held: bar, rail, walking stick.
//!
//! Heights are those of the furniture, in metres. Where it stands is given in shares of stature, because it is put where the
//! person needs it.

use crate::body::Body;
use crate::space::Vector;

/// What stands in the room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// A chair behind the person, if there is one.
    pub chair: Option<Chair>,
    /// A worktop before the person, if there is one.
    pub worktop: Option<Worktop>,
    /// A step before the person, if there is one.
    pub step: Option<Step>,
    /// A bar before the person, if there is one.
    pub bar: Option<Bar>,
    /// A wall before the person, if there is one.
    pub wall: Option<Wall>,
    /// A rail beside the person, if there is one.
    pub rail: Option<Rail>,
    /// A walking stick, if there is one.
    pub stick: Option<Stick>,
}

impl Room {
    /// Nothing but the floor.
    pub const EMPTY: Self = Self {
        chair: None,
        worktop: None,
        step: None,
        bar: None,
        wall: None,
        rail: None,
        stick: None,
    };

    /// How high the ground is under a point: the floor, or the top of the step.
    pub fn ground_m(&self, body: &Body, under: Vector) -> f64 {
        match self.step {
            Some(step) if step.is_under(body, under) => step.height_m,
            _ => 0.0,
        }
    }

    /// How far the middle of a hand lies above what its palm is on.
    pub(crate) const fn palm_to_middle_m(body: &Body) -> f64 {
        PALM_DEPTH * body.stature_m()
    }
}

/// A chair that looks the same way as the person.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chair {
    /// Height of the seat.
    pub seat_m: f64,
    /// Where the front of its back is, in shares of stature.
    pub back_x: f64,
    /// From its back to its front edge.
    pub depth_m: f64,
    /// Breadth of the seat.
    pub breadth_m: f64,
    /// Height of its arms, if it has any.
    pub arms_m: Option<f64>,
}

/// A worktop along the left and right of the person.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worktop {
    /// Height of its top.
    pub top_m: f64,
    /// Where its near edge is, in shares of stature.
    pub edge_x: f64,
}

/// How far the hips lie above what is sat on, of stature. Ours: half the thickness of the thigh at the hip.
const SEAT_TO_HIP: f64 = 0.05;
/// How far the middle of the hand lies above what its palm is on, of stature. Ours.
const PALM_DEPTH: f64 = 0.015;

impl Chair {
    /// How high the hips of somebody are who sits on it.
    pub const fn hips_m(&self, body: &Body) -> f64 {
        self.seat_m + SEAT_TO_HIP * body.stature_m()
    }

    /// Where the front edge of the seat is, for somebody of this stature.
    pub const fn front_m(&self, body: &Body) -> f64 {
        self.back_x * body.stature_m() + self.depth_m
    }
}

/// A step along the left and right of the person, which goes up forwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// How high it is.
    pub height_m: f64,
    /// Where its edge is, in shares of stature.
    pub edge_x: f64,
    /// From its edge to its far end.
    pub depth_m: f64,
}

impl Step {
    /// Whether a point is over it.
    pub fn is_under(&self, body: &Body, point: Vector) -> bool {
        let edge_m = self.edge_x * body.stature_m();
        (edge_m..edge_m + self.depth_m).contains(&point.x)
    }
}

/// A wall along the left and right of the person.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// Where it is, in shares of stature.
    pub x: f64,
}

/// What a rail is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RailOf {
    /// A rail.
    Stairs,
    /// The back of a chair that stands sideways.
    Chair,
    /// The edge of a worktop.
    Worktop,
    /// A wall.
    Wall,
}

/// Something to hold that runs forwards beside the person, level, or up along stairs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rail {
    /// What it is.
    pub of: RailOf,
    /// How far to the left it is, in shares of stature; less than 0 to the right.
    pub y: f64,
    /// Height of its top beside the person, above where they stand first.
    pub top_m: f64,
    /// How steeply it rises forwards.
    pub slope_deg: f64,
}

/// A walking stick that a hand leans on from above; its foot stands on the floor straight below.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stick {
    /// How long it is.
    pub long_m: f64,
}

/// Something to hold that runs from left to right: the back of a chair that looks away, or a rail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// Height of its top.
    pub top_m: f64,
    /// Where it is, in shares of stature.
    pub x: f64,
}
