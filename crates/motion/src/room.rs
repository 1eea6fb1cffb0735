//! What stands in the room: chair and worktop, which bear a part of the body.
//!
//! Heights are those of the furniture, in metres. Where it stands is given in shares of stature, because it is put where the
//! person needs it.

use crate::body::Body;

/// What stands in the room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// A chair behind the person, if there is one.
    pub chair: Option<Chair>,
    /// A worktop before the person, if there is one.
    pub worktop: Option<Worktop>,
}

impl Room {
    /// Nothing but the floor.
    pub const EMPTY: Self = Self {
        chair: None,
        worktop: None,
    };
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

impl Worktop {
    /// How high the middle of a hand is that lies on it.
    pub const fn hand_m(&self, body: &Body) -> f64 {
        self.top_m + PALM_DEPTH * body.stature_m()
    }
}
