//! The person as a blueprint: points of the body, and the discs between them that each part is the hull of.
//!
//! Every radius is ours, in millimetres at 1.62 m.

mod parts;
mod points;

pub(super) use points::{far_side, points};

use super::head;
use super::look::Look;
use super::{Paint, Seen};
use crate::body::Side;
use crate::held::Held;

/// How many points of the body a picture is drawn from.
pub const POINTS: usize = MIDDLE + 2 * OF_SIDE;
/// Points of trunk and head.
const MIDDLE: usize = 14;
/// Points of an arm and a leg.
const OF_SIDE: usize = 19;

/// The stature at which radii and offsets are given.
pub(super) const DRAWN_AT_M: f64 = 1.62;

// Trunk: seat, waist and chest to the left and right, then the shoulders' ends.
const SEAT: u8 = 0;
const WAIST: u8 = 2;
const CHEST: u8 = 4;
const YOKE: u8 = 6;
const NAPE: u8 = 8;
const NECK: u8 = 9;
/// The middle of the head, then 100 mm forward, left and up of it.
pub(super) const HEAD: u8 = 10;

/// Points of one side, in the order in which they are placed.
#[derive(Clone, Copy)]
enum Limb {
    Shoulder,
    Elbow,
    Wrist,
    Knuckles,
    Tips,
    Thumb,
    Hip,
    Knee,
    Calf,
    Ankle,
    Heel,
    Instep,
    OuterBall,
    InnerBall,
    Toes,
    /// Before and behind a closed hand, where what it holds ends.
    GripFront,
    GripBack,
    /// On the floor, straight below the palm.
    Under,
    /// Where a band goes round the back.
    Back,
}

const fn of(side: Side, limb: Limb) -> u8 {
    let side = match side {
        Side::Left => 0,
        Side::Right => OF_SIDE,
    };
    (MIDDLE + side + limb as usize) as u8
}

/// A disc of a blueprint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spot {
    /// On the way from one point to another.
    Between {
        /// From which point.
        from: u8,
        /// To which.
        to: u8,
        /// How much of the way.
        share: f64,
        /// Its radius in mm.
        radius_mm: f64,
    },
    /// In the head.
    Head {
        /// Forwards, left and up of its middle, in mm.
        at_mm: [f64; 3],
        /// Its radius in mm.
        radius_mm: f64,
    },
}

/// A part of a blueprint.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// What it is painted as; that of the near side where the side does not matter.
    pub paint: Paint,
    /// Whether a rim of paper parts it from what lies behind.
    pub rim: bool,
    /// Whether it only covers the rim between two bones round their joint.
    pub seam: bool,
    /// Which of the pieces it belongs to that are painted together.
    pub item: Item,
    /// Its hulls; of spectacles its lines.
    pub hulls: Vec<Vec<Spot>>,
}

/// What the hands hold, as it is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Holding {
    /// What moves with the hands.
    pub held: Held,
    /// The hand that leans on a walking stick.
    pub leans: Option<Side>,
}

impl Holding {
    /// Nothing.
    pub const NOTHING: Self = Self {
        held: Held::NOTHING,
        leans: None,
    };

    /// Whether a hand is closed.
    fn is_closed(&self, side: Side) -> bool {
        let Held {
            weight_kg,
            stick_between,
            band,
        } = self.held;
        weight_kg.of(side) > 0.0 || stick_between || band.is_some() || self.leans == Some(side)
    }
}

/// What is painted together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item {
    /// From shoulder to elbow.
    UpperArm(Side),
    /// From elbow to finger tips.
    Forearm(Side),
    /// From hip to knee.
    Thigh(Side),
    /// From knee to toes.
    Shank(Side),
    /// Neck.
    Neck,
    /// Trunk.
    Trunk,
    /// Head.
    Head,
}

impl Item {
    pub(super) const COUNT: usize = 11;

    /// In the order in which they are painted where nothing else is known, seen from the right.
    pub(super) const ALL: [Self; Self::COUNT] = {
        use Side::{Left, Right};
        [
            Self::UpperArm(Left),
            Self::Forearm(Left),
            Self::Shank(Left),
            Self::Thigh(Left),
            Self::Shank(Right),
            Self::Thigh(Right),
            Self::Neck,
            Self::Trunk,
            Self::Head,
            Self::UpperArm(Right),
            Self::Forearm(Right),
        ]
    };

    pub(super) const fn index(self) -> usize {
        use Side::{Left, Right};
        match self {
            Self::UpperArm(Left) => 0,
            Self::Forearm(Left) => 1,
            Self::Shank(Left) => 2,
            Self::Thigh(Left) => 3,
            Self::Shank(Right) => 4,
            Self::Thigh(Right) => 5,
            Self::Neck => 6,
            Self::Trunk => 7,
            Self::Head => 8,
            Self::UpperArm(Right) => 9,
            Self::Forearm(Right) => 10,
        }
    }
}

/// All parts of a person, whatever the posture.
#[derive(Clone, Debug, PartialEq)]
pub struct Blueprint {
    /// In the order of [`Item::ALL`], each item's own parts from far to near; those of the head in no order.
    pub parts: Vec<Drawn>,
}

impl Blueprint {
    /// That of one who is drawn.
    pub fn of(look: &Look, holding: &Holding) -> Self {
        let mut parts = Vec::new();
        for item in Item::ALL {
            match item {
                Item::UpperArm(side) => parts.push(parts::upper_arm(side, look)),
                Item::Forearm(side) => {
                    parts.extend(parts::held_in(side, holding));
                    parts.extend(parts::forearm(side, look));
                }
                Item::Thigh(side) => parts.push(parts::thigh(side, look)),
                Item::Shank(side) => parts.extend(parts::shank(side, look)),
                Item::Neck => parts.push(parts::neck()),
                Item::Trunk => parts.push(parts::trunk(look)),
                Item::Head => parts.extend(head::parts(look)),
            }
        }
        for side in Side::BOTH {
            parts.push(parts::patch(
                Item::Forearm(side),
                Paint::Sleeve,
                [Limb::Shoulder, Limb::Elbow, Limb::Wrist].map(|limb| of(side, limb)),
                [58.0, 42.0, 45.0].map(|radius| radius * look.girth),
            ));
            parts.push(parts::patch(
                Item::Shank(side),
                Paint::Leg,
                [Limb::Hip, Limb::Knee, Limb::Ankle].map(|limb| of(side, limb)),
                [93.0, 56.0, 39.0].map(|radius| radius * look.girth),
            ));
        }
        Self { parts }
    }

    /// The numbers of the points that something is drawn from, in order.
    pub fn points(&self) -> Vec<usize> {
        let spots = self
            .parts
            .iter()
            .flat_map(|part| part.hulls.iter().flatten());
        let mut points: Vec<usize> = (HEAD..HEAD + 4).map(usize::from).collect();
        for spot in spots {
            if let Spot::Between { from, to, .. } = spot {
                points.extend([usize::from(*from), usize::from(*to)]);
            }
        }
        points.sort_unstable();
        points.dedup();
        points
    }
}

impl Spot {
    /// Where it is, and its radius in mm at 1.62 m.
    pub(super) fn seen(&self, points: &[Seen; POINTS], stature_scale: f64) -> (Seen, f64) {
        match *self {
            Self::Between {
                from,
                to,
                share,
                radius_mm,
            } => {
                let at = points[from as usize].towards(points[to as usize], share);
                (at, radius_mm * stature_scale)
            }
            Self::Head { at_mm, radius_mm } => {
                let [middle, forward, left, up] =
                    core::array::from_fn(|place| points[HEAD as usize + place]);
                let [x, y, z] = at_mm.map(|mm| mm / 100.0);
                let sum = |of: fn(Seen) -> f64| {
                    let at = of(middle);
                    at + x * (of(forward) - at) + y * (of(left) - at) + z * (of(up) - at)
                };
                let at = Seen {
                    x_mm: sum(|seen| seen.x_mm),
                    y_mm: sum(|seen| seen.y_mm),
                    near_mm: sum(|seen| seen.near_mm),
                };
                (at, radius_mm * stature_scale)
            }
        }
    }
}

/// Discs by which an item is set before or behind others: joints and what lies between them, without where it hangs on another.
pub(super) fn samples(item: Item) -> [(u8, u8, f64, f64); 4] {
    let way = |side, [from, to]: [Limb; 2], shares: [f64; 4], radius: f64| {
        shares.map(|share| (of(side, from), of(side, to), share, radius))
    };
    match item {
        Item::UpperArm(side) => way(
            side,
            [Limb::Shoulder, Limb::Elbow],
            [0.1, 0.4, 0.7, 1.0],
            50.0,
        ),
        Item::Forearm(side) => way(
            side,
            [Limb::Elbow, Limb::Knuckles],
            [0.1, 0.4, 0.7, 1.2],
            38.0,
        ),
        Item::Thigh(side) => way(side, [Limb::Hip, Limb::Knee], [0.1, 0.4, 0.7, 1.0], 68.0),
        Item::Shank(side) => {
            let [knee, ankle, toes] =
                [Limb::Knee, Limb::Ankle, Limb::Toes].map(|limb| of(side, limb));
            [
                (knee, ankle, 0.15, 52.0),
                (knee, ankle, 0.5, 48.0),
                (knee, ankle, 0.95, 40.0),
                (ankle, toes, 0.7, 32.0),
            ]
        }
        Item::Neck => [(NAPE, NECK, 0.5, 46.0); 4],
        Item::Trunk => [
            (SEAT, SEAT + 1, 0.5, 120.0),
            (WAIST, WAIST + 1, 0.5, 120.0),
            (CHEST, CHEST + 1, 0.5, 120.0),
            (YOKE, YOKE + 1, 0.5, 100.0),
        ],
        Item::Head => [(HEAD, HEAD + 3, 0.2, 90.0); 4],
    }
}

impl Paint {
    /// What a part is painted as when its side is far.
    pub const fn far(self) -> Self {
        match self {
            Self::Sleeve => Self::FarSleeve,
            Self::Leg => Self::FarLeg,
            Self::Skin => Self::FarSkin,
            Self::Shoe => Self::FarShoe,
            other => other,
        }
    }
}

impl Item {
    /// Of which side it is, if of one.
    pub const fn side(self) -> Option<Side> {
        match self {
            Self::UpperArm(side) | Self::Forearm(side) | Self::Thigh(side) | Self::Shank(side) => {
                Some(side)
            }
            Self::Neck | Self::Trunk | Self::Head => None,
        }
    }
}

/// The points by which a movement is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    /// The middle of the head.
    Head,
    /// The seat, on the left.
    Hips,
    /// The knuckles of a hand.
    Hand(Side),
    /// A knee.
    Knee(Side),
    /// The ankle of a foot.
    Foot(Side),
}

impl Told {
    /// All but the hips, those of the right side before those of the left.
    pub const ALL: [Self; 7] = {
        use Side::{Left, Right};
        [
            Self::Head,
            Self::Foot(Right),
            Self::Foot(Left),
            Self::Hand(Right),
            Self::Hand(Left),
            Self::Knee(Right),
            Self::Knee(Left),
        ]
    };

    /// Its number among the points of a snapshot.
    pub const fn point(self) -> usize {
        let point = match self {
            Self::Head => HEAD,
            Self::Hips => SEAT,
            Self::Hand(side) => of(side, Limb::Knuckles),
            Self::Knee(side) => of(side, Limb::Knee),
            Self::Foot(side) => of(side, Limb::Ankle),
        };
        point as usize
    }
}
