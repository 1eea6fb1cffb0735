//! What is painted before what: for every two things that lie over each other on the paper, the farther one first.
//!
//! Things that do not meet on the paper are left free, so one order often serves a whole movement.

use super::Seen;
use super::backdrop::{Backdrop, outside, piece_in_front};
use super::furniture::Shape;
use super::person::{HEAD, Item, POINTS, samples};

/// The most things that an order can hold.
pub(super) const MOST: usize = 64;

/// For every thing those that are painted before it, by their bits: first the items of the person, then the furniture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Before {
    count: usize,
    masks: [u64; MOST],
}

/// An order of painting, from far to near.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Order {
    count: usize,
    places: [u8; MOST],
}

impl Order {
    pub(super) fn things(&self) -> &[u8] {
        &self.places[..self.count]
    }
}

/// A disc by which a thing is compared.
#[derive(Clone, Copy)]
struct Sample {
    at: Seen,
    radius_mm: f64,
}

/// The samples of an item and the box that holds them.
struct Outline {
    samples: [Sample; 4],
    low: [f64; 2],
    high: [f64; 2],
}

impl Outline {
    fn of(item: Item, points: &[Seen; POINTS], scale: f64) -> Self {
        let samples = samples(item).map(|(from, to, share, radius_mm)| Sample {
            at: points[from as usize].towards(points[to as usize], share),
            radius_mm: radius_mm * scale,
        });
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for sample in samples {
            for (axis, value) in [sample.at.x_mm, sample.at.y_mm].into_iter().enumerate() {
                low[axis] = low[axis].min(value - sample.radius_mm);
                high[axis] = high[axis].max(value + sample.radius_mm);
            }
        }
        Self { samples, low, high }
    }

    fn meets(&self, low: [f64; 2], high: [f64; 2]) -> bool {
        (0..2).all(|axis| self.low[axis] < high[axis] && low[axis] < self.high[axis])
    }
}

/// Differences of nearness beyond this say no more than this, in mm.
const ENOUGH_MM: f64 = 100.0;

/// What overlaps and differs by less than this, in square mm, may be painted either way.
const MATTERS: f64 = 700.0;

/// How much a first thing is in front of a second: over all places where they meet, how much they overlap times how much nearer it is.
fn in_front(one: &Outline, other: &Outline) -> f64 {
    if !one.meets(other.low, other.high) {
        return 0.0;
    }
    let mut sum = 0.0;
    for a in &one.samples {
        for b in &other.samples {
            let (dx, dy) = (a.at.x_mm - b.at.x_mm, a.at.y_mm - b.at.y_mm);
            let reach = a.radius_mm + b.radius_mm;
            let square = dx * dx + dy * dy;
            if square < reach * reach {
                let nearer = (a.at.near_mm - b.at.near_mm).clamp(-ENOUGH_MM, ENOUGH_MM);
                sum += (reach - libm::sqrt(square)) * nearer;
            }
        }
    }
    sum
}

/// What stands this far inside of furniture is still painted before it, since no part of a body can be there.
const INSIDE_MM: f64 = 15.0;

/// How much an item of the person is in front of a piece of furniture.
fn before_piece(outline: &Outline, piece: &Backdrop) -> f64 {
    if !outline.meets(piece.low, piece.high) {
        return 0.0;
    }
    let over = |faces: &[[Seen; 4]], sample: &Sample| {
        let nearest = faces.iter().map(|face| outside(face, sample.at));
        let (apart, [x, y]) = nearest
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .unwrap_or((f64::INFINITY, [0.0; 2]));
        let overlap = sample.radius_mm - apart;
        if overlap <= 0.0 {
            return 0.0;
        }
        // Of what lies beside the face its nearest place counts.
        let moved = apart.max(0.0);
        let at = Seen {
            x_mm: sample.at.x_mm - x * moved,
            y_mm: sample.at.y_mm - y * moved,
            ..sample.at
        };
        overlap * (piece.above(at) + INSIDE_MM).clamp(-ENOUGH_MM, ENOUGH_MM)
    };
    let weigh = |sample: &Sample| match &piece.shape {
        Shape::Face(face) => over(core::slice::from_ref(face), sample),
        Shape::Solid(faces) => over(faces, sample),
        Shape::Post([from, to], radius_mm) => {
            let share = nearest_share(*from, *to, sample.at);
            let on = from.towards(*to, share);
            let apart = libm::hypot(on.x_mm - sample.at.x_mm, on.y_mm - sample.at.y_mm);
            let overlap = sample.radius_mm + radius_mm - apart;
            overlap.max(0.0) * (sample.at.near_mm - on.near_mm).clamp(-ENOUGH_MM, ENOUGH_MM)
        }
    };
    outline.samples.iter().map(weigh).sum()
}

fn nearest_share(from: Seen, to: Seen, at: Seen) -> f64 {
    let (dx, dy) = (to.x_mm - from.x_mm, to.y_mm - from.y_mm);
    let square = dx * dx + dy * dy;
    if square < 1e-9 {
        return 0.5;
    }
    let along = (at.x_mm - from.x_mm) * dx + (at.y_mm - from.y_mm) * dy;
    (along / square).clamp(0.0, 1.0)
}

impl Before {
    /// That of the furniture alone.
    pub(super) fn of_furniture(pieces: &[Backdrop]) -> Self {
        let mut before = Self {
            count: Item::COUNT + pieces.len(),
            masks: [0; MOST],
        };
        for (i, one) in pieces.iter().enumerate() {
            for (j, other) in pieces.iter().enumerate().skip(i + 1) {
                before.set(Item::COUNT + i, Item::COUNT + j, piece_in_front(one, other));
            }
        }
        before
    }

    /// The first thing is painted after the second when the number is far enough above 0, before it when below.
    fn set(&mut self, first: usize, second: usize, in_front: f64) {
        if in_front > MATTERS {
            self.masks[first] |= 1 << second;
        } else if in_front < -MATTERS {
            self.masks[second] |= 1 << first;
        }
    }

    /// With the person in it.
    pub(super) fn with_person(
        mut self,
        points: &[Seen; POINTS],
        scale: f64,
        pieces: &[Backdrop],
    ) -> Self {
        let outlines = Item::ALL.map(|item| Outline::of(item, points, scale));
        for (i, one) in outlines.iter().enumerate() {
            for (j, other) in outlines.iter().enumerate().skip(i + 1) {
                let weight = joined(Item::ALL[i], Item::ALL[j], points, scale)
                    .unwrap_or_else(|| in_front(one, other));
                self.set(i, j, weight);
            }
            for (j, piece) in pieces.iter().enumerate() {
                self.set(i, Item::COUNT + j, before_piece(one, piece));
            }
        }
        self
    }

    /// Both together; none when they contradict each other.
    pub(super) fn and(&self, other: &Self) -> Option<Self> {
        let mut both = *self;
        for (mask, more) in both.masks.iter_mut().zip(other.masks) {
            *mask |= more;
        }
        both.sorted(false).map(|_| both)
    }

    /// Without what its own order does not keep, so that no ring is left.
    pub(super) fn without_rings(&self) -> Self {
        let order = self.order();
        let mut kept = *self;
        let mut painted = 0_u64;
        for thing in order.things() {
            kept.masks[*thing as usize] &= painted;
            painted |= 1 << thing;
        }
        kept
    }

    /// Of a ring what is painted first: furniture, so that the person is seen.
    fn in_ring(&self, painted: u64) -> Option<usize> {
        const PERSON: u64 = (1 << Item::COUNT) - 1;
        let open = |thing: &usize| painted & (1 << thing) == 0;
        let furniture = |thing: &usize| self.masks[*thing] & !painted & !PERSON == 0;
        (Item::COUNT..self.count)
            .find(|thing| open(thing) && furniture(thing))
            .or_else(|| (0..self.count).find(open))
    }

    /// The order of painting.
    pub(super) fn order(&self) -> Order {
        self.sorted(true).unwrap_or(Order {
            count: 0,
            places: [0; MOST],
        })
    }

    fn sorted(&self, rings: bool) -> Option<Order> {
        let mut order = Order {
            count: 0,
            places: [0; MOST],
        };
        let mut painted = 0_u64;
        while order.count < self.count {
            let open = |thing: &usize| painted & (1 << thing) == 0;
            let free = |thing: &usize| open(thing) && self.masks[*thing] & !painted == 0;
            // Furniture first where either may be: a ghost or a shadow then lies over it.
            let next = (Item::COUNT..self.count)
                .chain(0..Item::COUNT)
                .find(free)
                .or_else(|| self.in_ring(painted).filter(|_| rings))?;
            order.places[order.count] = next as u8;
            order.count += 1;
            painted |= 1 << next;
        }
        Some(order)
    }
}

/// Which of two items that hang together is in front, above 0 for the first; none for others.
fn joined(one: Item, other: Item, points: &[Seen; POINTS], scale: f64) -> Option<f64> {
    let forwards = ahead(one, other, points, scale);
    forwards.or_else(|| ahead(other, one, points, scale).map(|ahead| -ahead))
}

/// How much the first is ahead of the second, for the pairs that hang together in this order.
fn ahead(first: Item, second: Item, points: &[Seen; POINTS], scale: f64) -> Option<f64> {
    // Ours: a thigh that comes towards the viewer lies over the trunk, a hanging arm over its rim; of a limb's two bones either may
    // lie over the other until one plainly comes forwards.
    const THIGH_MM: f64 = 150.0;
    const ARM_MM: f64 = 40.0;
    const HEAD_MM: f64 = 60.0;
    const BONE_MM: f64 = 110.0;
    let near = |item: Item, sample: usize| {
        let (from, to, share, _) = samples(item)[sample];
        points[from as usize]
            .towards(points[to as usize], share)
            .near_mm
            / scale
    };
    let plain = |ahead_mm: f64| {
        let beyond = (ahead_mm.abs() - BONE_MM).max(0.0);
        beyond * ahead_mm.signum()
    };
    let ahead_mm = match (first, second) {
        (Item::Forearm(a), Item::UpperArm(b)) if a == b => plain(near(first, 3) - near(second, 0)),
        (Item::Shank(a), Item::Thigh(b)) if a == b => plain(near(first, 2) - near(second, 0)),
        (Item::Thigh(_), Item::Trunk) => near(first, 3) - near(second, 0) - THIGH_MM,
        (Item::UpperArm(_), Item::Trunk) => near(first, 1) - near(second, 2) + ARM_MM,
        (Item::Trunk | Item::Head, Item::Neck) => 1.0,
        (Item::Head, Item::Trunk) => {
            points[HEAD as usize].near_mm / scale - near(second, 3) + HEAD_MM
        }
        _ => return None,
    };
    Some(ahead_mm.signum() * if ahead_mm == 0.0 { 0.0 } else { 2.0 * MATTERS })
}

/// The item in which the joint between two bones is covered: the one painted later.
pub(super) const fn partner(item: Item) -> Option<Item> {
    match item {
        Item::Forearm(side) => Some(Item::UpperArm(side)),
        Item::Shank(side) => Some(Item::Thigh(side)),
        _ => None,
    }
}
