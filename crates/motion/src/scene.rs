//! A scene: what is seen of a posture, as hulls of discs in millimetres from far to near.
//!
//! Everything is a convex hull of discs: a limb of two or three, a face of a box of four without radius. Print, page and film draw the
//! same hulls.

mod backdrop;
mod furniture;
mod head;
mod look;
mod order;
mod person;
mod stage;

#[cfg(test)]
mod tests;

pub use look::{Hair, Look};
pub use order::Order;
pub use person::{Blueprint, Drawn, Holding, Item, POINTS, Spot, Told};
pub use stage::{Snapshot, Stage};

use crate::room::Room;
use crate::space::{Vector, sin_cos_deg};

/// From where a scene is seen; nothing gets smaller with distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// From the person's right side towards their front.
    pub turn_deg: f64,
    /// From above the level.
    pub above_deg: f64,
}

impl Camera {
    /// For what moves forwards, back, up and down.
    pub const SIDE: Self = Self {
        turn_deg: 26.0,
        above_deg: 7.0,
    };
    /// Between the two others.
    pub const THREE_QUARTER: Self = Self {
        turn_deg: 54.0,
        above_deg: 8.0,
    };
    /// For what moves sideways.
    pub const FRONT: Self = Self {
        turn_deg: 82.0,
        above_deg: 8.0,
    };

    /// For what moves sideways when something to hold stands before the person.
    pub const BACK: Self = Self {
        turn_deg: -66.0,
        above_deg: 8.0,
    };
    /// For who stands before a wall.
    pub const PAST: Self = Self {
        turn_deg: -24.0,
        above_deg: 7.0,
    };

    /// The same from the other side of the person.
    pub const fn mirrored(self) -> Self {
        Self {
            turn_deg: 180.0 - self.turn_deg,
            ..self
        }
    }

    /// Those that pictures of a room are taken from, the first by preference: nothing may stand between the viewer and the person.
    pub fn of_room(room: &Room) -> [Self; 3] {
        let cameras = if room.wall.is_some() {
            [Self::PAST, Self::PAST, Self::BACK]
        } else if room.bar.is_some() || room.worktop.is_some() {
            [Self::SIDE, Self::SIDE, Self::BACK]
        } else {
            [Self::SIDE, Self::THREE_QUARTER, Self::FRONT]
        };
        if room.rail.is_some_and(|rail| rail.y < 0.0) {
            cameras.map(Self::mirrored)
        } else {
            cameras
        }
    }

    /// Where a point falls on the paper.
    pub fn see(&self, point: Vector) -> Point {
        Lens::of(self).see(point).on_paper()
    }

    /// How near a point is to the viewer; more is nearer.
    pub fn nearness_m(&self, point: Vector) -> f64 {
        Lens::of(self).see(point).near_mm / 1000.0
    }
}

/// A camera with its sines worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Lens {
    turn: (f64, f64),
    above: (f64, f64),
}

impl Lens {
    pub(crate) fn of(camera: &Camera) -> Self {
        Self {
            turn: sin_cos_deg(camera.turn_deg),
            above: sin_cos_deg(camera.above_deg),
        }
    }

    /// A point in metres as it is seen; the three numbers are those of a turned room, so angles and lengths are kept.
    pub(crate) fn see(&self, point: Vector) -> Seen {
        let ((sin, cos), (sin_above, cos_above)) = (self.turn, self.above);
        let towards = point.x * sin - point.y * cos;
        Seen {
            x_mm: 1000.0 * (point.x * cos + point.y * sin),
            y_mm: -1000.0 * (point.z * cos_above - towards * sin_above),
            near_mm: 1000.0 * (towards * cos_above + point.z * sin_above),
        }
    }
}

/// A point on the paper with how near it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Seen {
    pub(crate) x_mm: f64,
    pub(crate) y_mm: f64,
    pub(crate) near_mm: f64,
}

impl Seen {
    pub(crate) const fn on_paper(self) -> Point {
        Point {
            x_mm: self.x_mm,
            y_mm: self.y_mm,
        }
    }

    pub(crate) fn towards(self, other: Self, share: f64) -> Self {
        Self {
            x_mm: self.x_mm + (other.x_mm - self.x_mm) * share,
            y_mm: self.y_mm + (other.y_mm - self.y_mm) * share,
            near_mm: self.near_mm + (other.near_mm - self.near_mm) * share,
        }
    }
}

/// A point on the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right.
    pub x_mm: f64,
    /// Downwards.
    pub y_mm: f64,
}

impl Point {
    /// How far the other point is.
    pub fn distance_mm(self, other: Self) -> f64 {
        libm::hypot(self.x_mm - other.x_mm, self.y_mm - other.y_mm)
    }
}

/// A circle on the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disc {
    /// Its middle.
    pub at: Point,
    /// Its radius; 0 for a corner.
    pub radius_mm: f64,
}

/// What a part is painted as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paint {
    /// The outer shadow on the floor.
    SoftShadow,
    /// The inner shadow.
    Shadow,
    /// Wood that is near.
    Wood,
    /// Wood that is far.
    FarWood,
    /// A face that looks up.
    Cloth,
    /// A face that looks to the front or back.
    ShadedCloth,
    /// A face that looks to the side.
    DarkCloth,
    /// Sleeve of the near arm.
    Sleeve,
    /// Sleeve of the far arm.
    FarSleeve,
    /// Near trouser leg.
    Leg,
    /// Far trouser leg.
    FarLeg,
    /// What the trunk wears.
    Trunk,
    /// Near hand, neck, face.
    Skin,
    /// Far hand.
    FarSkin,
    /// Near shoe.
    Shoe,
    /// Far shoe.
    FarShoe,
    /// Hair.
    Hair,
    /// What a hand holds.
    Held,
    /// A stretch band: a line.
    Band,
    /// A wall.
    Wall,
    /// The nose of a face that is turned to the viewer: a line from disc to disc.
    Nose,
    /// Spectacles: lines likewise.
    Line,
}

impl Paint {
    /// Whether it is lines from disc to disc, not hulls.
    pub const fn is_line(self) -> bool {
        matches!(self, Self::Nose | Self::Line | Self::Band)
    }
}

/// One part: some hulls painted as one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is painted as.
    pub paint: Paint,
    /// Whether a rim of paper parts it from what lies behind.
    pub rim: bool,
    /// Whether it only covers the rim between two bones round their joint.
    pub seam: bool,
    /// What it is, the same number in every picture of a stage.
    pub piece: u16,
    /// Whether it is a part of the person.
    pub person: bool,
    hulls: [u16; 2],
}

/// What is seen of a posture.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scene {
    parts: Vec<Part>,
    /// Where each hull ends among the discs.
    ends: Vec<u16>,
    discs: Vec<Disc>,
}

impl Scene {
    /// All parts from far to near.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// The hulls of one of its parts, each with its discs.
    pub fn hulls(&self, part: &Part) -> impl Iterator<Item = &[Disc]> {
        let [from, to] = part.hulls.map(usize::from);
        (from..to).map(|hull| {
            let start = hull.checked_sub(1).map_or(0, |before| self.ends[before]);
            &self.discs[usize::from(start)..usize::from(self.ends[hull])]
        })
    }

    /// The least and the greatest corner of everything.
    pub fn corners(&self) -> Option<[Point; 2]> {
        let moved = |disc: &Disc, by: f64| Point {
            x_mm: disc.at.x_mm + by * disc.radius_mm,
            y_mm: disc.at.y_mm + by * disc.radius_mm,
        };
        let pick = |a: Point, b: Point, of: fn(f64, f64) -> f64| Point {
            x_mm: of(a.x_mm, b.x_mm),
            y_mm: of(a.y_mm, b.y_mm),
        };
        self.discs
            .iter()
            .map(|disc| [moved(disc, -1.0), moved(disc, 1.0)])
            .reduce(|[least, most], [low, high]| {
                [pick(least, low, f64::min), pick(most, high, f64::max)]
            })
    }

    fn start_part(&mut self, paint: Paint, piece: u16) {
        let from = self.ends.len() as u16;
        self.parts.push(Part {
            paint,
            rim: true,
            seam: false,
            piece,
            person: false,
            hulls: [from, from],
        });
    }

    fn add_hull(&mut self, discs: impl IntoIterator<Item = Disc>) {
        self.discs.extend(discs);
        self.ends.push(self.discs.len() as u16);
        if let Some(part) = self.parts.last_mut() {
            part.hulls[1] = self.ends.len() as u16;
        }
    }
}
