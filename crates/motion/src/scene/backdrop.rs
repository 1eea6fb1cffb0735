//! A piece of furniture as what lies behind or before something: its faces and on which side of them a point is.

use super::Seen;
use super::furniture::Shape;

/// A piece of furniture with what its order needs.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Backdrop {
    pub(super) shape: Shape,
    pub(super) low: [f64; 2],
    pub(super) high: [f64; 2],
    /// Of each face that is not seen edge on: its direction towards the viewer, and how far it lies along that.
    planes: Vec<([f64; 3], f64)>,
}

impl Backdrop {
    pub(super) fn of(shape: &Shape) -> Self {
        let (faces, radius_mm): (&[[Seen; 4]], f64) = match shape {
            Shape::Face(face) => (core::slice::from_ref(face), 0.0),
            Shape::Solid(faces) => (faces, 0.0),
            Shape::Post(_, radius_mm) => (&[], *radius_mm),
        };
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for corner in corners(shape) {
            for (axis, value) in [corner.x_mm, corner.y_mm].into_iter().enumerate() {
                low[axis] = low[axis].min(value - radius_mm);
                high[axis] = high[axis].max(value + radius_mm);
            }
        }
        Self {
            shape: *shape,
            low,
            high,
            planes: faces.iter().filter_map(plane).collect(),
        }
    }

    /// How far a point lies on the viewer's side: of a box it is enough to be there of one face. 0 for what has no face.
    pub(super) fn above(&self, at: Seen) -> f64 {
        let heights = self
            .planes
            .iter()
            .map(|([x, y, near], along)| x * at.x_mm + y * at.y_mm + near * at.near_mm - along);
        heights.reduce(f64::max).unwrap_or(0.0)
    }
}

fn corners(shape: &Shape) -> &[Seen] {
    match shape {
        Shape::Face(corners) => corners,
        Shape::Solid(faces) => faces.as_flattened(),
        Shape::Post(ends, _) => ends,
    }
}

/// None for a face that is seen edge on.
fn plane([a, b, c, _]: &[Seen; 4]) -> Option<([f64; 3], f64)> {
    const EDGE_ON: f64 = 0.01;
    let from = |to: &Seen| [to.x_mm - a.x_mm, to.y_mm - a.y_mm, to.near_mm - a.near_mm];
    let ([ax, ay, an], [bx, by, bn]) = (from(b), from(c));
    let across = [ay * bn - an * by, an * bx - ax * bn, ax * by - ay * bx];
    let length = libm::sqrt(across.iter().map(|part| part * part).sum());
    let unit = across.map(|part| part / length * across[2].signum());
    (unit[2] > EDGE_ON).then(|| {
        let along = unit[0] * a.x_mm + unit[1] * a.y_mm + unit[2] * a.near_mm;
        (unit, along)
    })
}

/// Which of two pieces of furniture is in front, above 0 for the first; by the plane of either face, else where they meet.
pub(super) fn piece_in_front(one: &Backdrop, other: &Backdrop) -> f64 {
    const TOUCHING_MM: f64 = 1.0;
    let meets =
        (0..2).all(|axis| one.low[axis] < other.high[axis] && other.low[axis] < one.high[axis]);
    if !meets {
        return 0.0;
    }
    // All of it on one side of the other's faces.
    let side = |of: &Backdrop, other: &Backdrop| {
        if other.planes.is_empty() {
            return None;
        }
        let heights = corners(&of.shape).iter().map(|corner| other.above(*corner));
        let (low, high) = heights
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), height| {
                (low.min(height), high.max(height))
            });
        if low > -TOUCHING_MM && high > TOUCHING_MM {
            Some(1.0)
        } else if high < TOUCHING_MM && low < -TOUCHING_MM {
            Some(-1.0)
        } else {
            None
        }
    };
    side(one, other)
        .or_else(|| side(other, one).map(|side| -side))
        .unwrap_or_else(|| {
            let middle = |of: &Backdrop| {
                let corners = corners(&of.shape);
                corners.iter().map(|corner| corner.near_mm).sum::<f64>() / corners.len() as f64
            };
            middle(one) - middle(other)
        })
}

/// How far a point lies outside a convex face on the paper, below 0 inside, and the direction outwards.
pub(super) fn outside(corners: &[Seen; 4], at: Seen) -> (f64, [f64; 2]) {
    let turns = area(corners).signum();
    let mut most = (f64::NEG_INFINITY, [0.0; 2]);
    for place in 0..4 {
        let (from, to) = (corners[place], corners[(place + 1) % 4]);
        let (dx, dy) = (to.x_mm - from.x_mm, to.y_mm - from.y_mm);
        let length = turns * libm::sqrt(dx * dx + dy * dy).max(1e-9);
        let outwards = [dy / length, -dx / length];
        let apart = outwards[0] * (at.x_mm - from.x_mm) + outwards[1] * (at.y_mm - from.y_mm);
        if apart > most.0 {
            most = (apart, outwards);
        }
    }
    most
}

/// Twice the area on the paper, with the sense in which the corners go round.
fn area(corners: &[Seen; 4]) -> f64 {
    (0..4)
        .map(|place| {
            let (a, b) = (corners[place], corners[(place + 1) % 4]);
            a.x_mm * b.y_mm - a.y_mm * b.x_mm
        })
        .sum()
}
