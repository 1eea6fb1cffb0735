//! A scene: what is seen of a posture, as flat shapes in millimetres from far to near.

mod figure;
mod furniture;

#[cfg(test)]
mod tests;

use crate::body::Body;
use crate::posture::Posture;
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
    /// For what moves sideways.
    pub const FRONT: Self = Self {
        turn_deg: 64.0,
        above_deg: 7.0,
    };

    /// Where a point falls on the paper.
    pub fn see(&self, point: Vector) -> Point {
        let (sin, cos) = sin_cos_deg(self.turn_deg);
        let (sin_above, cos_above) = sin_cos_deg(self.above_deg);
        let towards = point.x * sin - point.y * cos;
        Point {
            x_mm: 1000.0 * (point.x * cos + point.y * sin),
            y_mm: -1000.0 * (point.z * cos_above - towards * sin_above),
        }
    }

    /// How near a point is to the viewer; more is nearer.
    pub fn nearness_m(&self, point: Vector) -> f64 {
        let (sin, cos) = sin_cos_deg(self.turn_deg);
        let (sin_above, cos_above) = sin_cos_deg(self.above_deg);
        (point.x * sin - point.y * cos) * cos_above + point.z * sin_above
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

/// A circle on the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disc {
    /// Its middle.
    pub at: Point,
    /// Its radius; 0 for a corner.
    pub radius_mm: f64,
}

/// The shape of one part.
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// From disc to disc, each joined to the next by their tangents.
    Chain(Vec<Disc>),
    /// Several convex hulls of discs, painted as one.
    Hulls(Vec<Vec<Disc>>),
    /// A flat face with its corners.
    Face(Vec<Point>),
    /// A head about its middle.
    Head(Head),
}

/// Where a head is; hair and face belong to who is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Head {
    /// Its middle.
    pub at: Point,
    /// How far its crown is turned to the right on the paper.
    pub tilt_deg: f64,
    /// How far its face is turned to the viewer: 0 from the side, looking to the right, 90 full face.
    pub facing_deg: f64,
    /// From its middle to its crown.
    pub crown_mm: f64,
}

/// What a part is painted as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paint {
    /// The shadow on the floor.
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
    /// Near hand, neck.
    Skin,
    /// Far hand.
    FarSkin,
    /// Near shoe.
    Shoe,
    /// Far shoe.
    FarShoe,
    /// Head; its shape has colours of its own.
    Head,
}

/// One shape and its paint.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is painted as.
    pub paint: Paint,
    /// Its shape.
    pub outline: Outline,
}

/// What is seen of a posture.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// From far to near.
    pub parts: Vec<Part>,
}

impl Scene {
    /// A person in a room, with the shadow on the floor.
    pub fn of(posture: &Posture, room: &Room, camera: &Camera) -> Self {
        let mut parts = vec![furniture::shadow(posture, room, camera)];
        parts.extend(furniture::behind(posture.body(), room, camera));
        parts.extend(figure::parts(posture, camera));
        parts.extend(furniture::before(posture.body(), room, camera));
        Self { parts }
    }

    /// Only the person.
    pub fn of_person(posture: &Posture, camera: &Camera) -> Self {
        Self {
            parts: figure::parts(posture, camera),
        }
    }

    /// The least and the greatest corner of everything.
    pub fn corners(&self) -> Option<[Point; 2]> {
        let all = self.parts.iter().flat_map(|part| part.outline.discs());
        all.map(|disc| {
            let radius_mm = disc.radius_mm;
            let moved = |by_mm: f64| Point {
                x_mm: disc.at.x_mm + by_mm,
                y_mm: disc.at.y_mm + by_mm,
            };
            [moved(-radius_mm), moved(radius_mm)]
        })
        .reduce(|[least, most], [low, high]| {
            let pick = |a: Point, b: Point, of: fn(f64, f64) -> f64| Point {
                x_mm: of(a.x_mm, b.x_mm),
                y_mm: of(a.y_mm, b.y_mm),
            };
            [pick(least, low, f64::min), pick(most, high, f64::max)]
        })
    }
}

impl Outline {
    /// The discs between which it lies.
    pub fn discs(&self) -> Vec<Disc> {
        let corner = |at: &Point| Disc {
            at: *at,
            radius_mm: 0.0,
        };
        match self {
            Self::Chain(discs) => discs.clone(),
            Self::Hulls(hulls) => hulls.concat(),
            Self::Face(corners) => corners.iter().map(corner).collect(),
            Self::Head(head) => vec![Disc {
                at: head.at,
                radius_mm: head.crown_mm,
            }],
        }
    }
}

/// A disc about a point in space; radii are those of somebody of 1.62 m and grow with stature.
fn disc(body: &Body, camera: &Camera, at: Vector, radius_mm: f64) -> Disc {
    const DRAWN_AT_M: f64 = 1.62;
    Disc {
        at: camera.see(at),
        radius_mm: radius_mm * body.stature_m() / DRAWN_AT_M,
    }
}
