//! The line of hills: a monotone cubic through the middle of each part, level at every crest and dip.

use super::course::Course;
use crate::svg::{PathData, Point, at};

/// Effort at rest, where the ground is, in METs.
pub(super) const GROUND_METS: f64 = 1.0;

/// Where time and effort lie on the paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Field {
    /// x of the begin in px.
    pub(super) left: f64,
    /// Width of the whole session in px.
    pub(super) width: f64,
    /// y of the ground in px.
    pub(super) ground: f64,
    /// Height in px from the ground to `top_mets`.
    pub(super) height: f64,
    /// METs at that height.
    pub(super) top_mets: f64,
    /// Length of the session in ms.
    pub(super) duration_ms: f64,
}

impl Field {
    pub(super) fn x(&self, ms: f64) -> f64 {
        self.left + self.width * ms / self.duration_ms
    }

    pub(super) fn y(&self, mets: f64) -> f64 {
        let span = (self.top_mets - GROUND_METS).max(0.1);
        self.ground - self.height * (mets - GROUND_METS) / span
    }

    pub(super) const fn right(&self) -> f64 {
        self.left + self.width
    }
}

/// A monotone cubic through nodes.
///
/// Between nodes it is the cubic with given end slopes; the slope at a node is the weighted harmonic mean of the two
/// neighbouring secants, and nought where they change sign, so that no hill rises above its own node.
// Source: Fritsch and Carlson, SIAM J Numer Anal 1980;17:238 (monotone piecewise cubic); the mean of Fritsch and Butland 1984.
#[derive(Clone, Debug)]
pub(super) struct Curve {
    nodes: Vec<Point>,
    slopes: Vec<f64>,
}

impl Curve {
    /// The line of a course: from the ground, through the middle of every part, back to the ground.
    pub(super) fn of(course: &Course, field: &Field) -> Self {
        let mut nodes = vec![at(field.left, field.ground)];
        let mut start = 0.0;
        for part in course.parts() {
            let length = f64::from(part.duration_ms);
            nodes.push(at(field.x(start + length / 2.0), field.y(part.mets)));
            start += length;
        }
        nodes.push(at(field.right(), field.ground));
        Self::through(nodes)
    }

    pub(super) fn through(nodes: Vec<Point>) -> Self {
        let secants: Vec<(f64, f64)> = nodes
            .windows(2)
            .map(|pair| {
                let width = pair[1].x - pair[0].x;
                (width, (pair[1].y - pair[0].y) / width)
            })
            .collect();
        let mut slopes = Vec::with_capacity(nodes.len());
        slopes.push(secants.first().map_or(0.0, |one| one.1));
        for pair in secants.windows(2) {
            slopes.push(inner_slope(pair[0], pair[1]));
        }
        slopes.push(secants.last().map_or(0.0, |one| one.1));
        Self { nodes, slopes }
    }

    fn piece(&self, x: f64) -> usize {
        let after = self.nodes.partition_point(|node| node.x <= x);
        after.clamp(1, self.nodes.len() - 1) - 1
    }

    /// Height and slope at x.
    fn value(&self, x: f64) -> (f64, f64) {
        let i = self.piece(x);
        let (a, b) = (self.nodes[i], self.nodes[i + 1]);
        let (h, t) = (b.x - a.x, (x - a.x) / (b.x - a.x));
        let (m0, m1) = (self.slopes[i], self.slopes[i + 1]);
        let y = a.y * (1.0 + 2.0 * t) * (1.0 - t) * (1.0 - t)
            + h * m0 * t * (1.0 - t) * (1.0 - t)
            + b.y * t * t * (3.0 - 2.0 * t)
            + h * m1 * t * t * (t - 1.0);
        let slope = (b.y - a.y) / h * 6.0 * t * (1.0 - t)
            + m0 * (1.0 - t) * (1.0 - 3.0 * t)
            + m1 * t * (3.0 * t - 2.0);
        (y, slope)
    }

    /// Height at x.
    pub(super) fn y(&self, x: f64) -> f64 {
        self.value(x).0
    }

    /// Draws the line from one x to another; the first point is moved to when the path is empty, else joined.
    pub(super) fn draw(&self, from: f64, to: f64, data: &mut PathData) {
        let first = at(from, self.y(from));
        if data.as_str().is_empty() {
            data.move_to(first);
        } else {
            data.line_to(first);
        }
        let mut x = from;
        let mut slope = self.value(from).1;
        while to - x > 1e-9 {
            let end = self.nodes[self.piece(x) + 1].x.min(to);
            // The slope at a node is the same from both sides, so one value serves both pieces.
            let (y_end, slope_end) = self.value_from_left(end);
            let third = (end - x) / 3.0;
            let y = self.y(x);
            data.curve_to(
                at(x + third, y + slope * third),
                at(end - third, y_end - slope_end * third),
                at(end, y_end),
            );
            (x, slope) = (end, slope_end);
        }
    }

    fn value_from_left(&self, x: f64) -> (f64, f64) {
        match self.nodes.iter().position(|node| node.x == x) {
            Some(i) => (self.nodes[i].y, self.slopes[i]),
            None => self.value(x),
        }
    }
}

fn inner_slope((h0, d0): (f64, f64), (h1, d1): (f64, f64)) -> f64 {
    if d0 * d1 <= 0.0 {
        return 0.0;
    }
    let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
    (w0 + w1) / (w0 / d0 + w1 / d1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hills() -> Curve {
        Curve::through(vec![
            at(0.0, 100.0),
            at(10.0, 80.0),
            at(40.0, 40.0),
            at(55.0, 70.0),
            at(70.0, 30.0),
            at(100.0, 100.0),
        ])
    }

    #[test]
    fn law_the_line_passes_through_every_node_and_never_beyond_its_neighbours() {
        let curve = hills();
        for node in &curve.nodes {
            assert!((curve.y(node.x) - node.y).abs() < 1e-9);
        }
        for pair in curve.nodes.windows(2) {
            let (low, high) = (pair[0].y.min(pair[1].y), pair[0].y.max(pair[1].y));
            for step in 0..=50 {
                let x = pair[0].x + (pair[1].x - pair[0].x) * f64::from(step) / 50.0;
                let y = curve.y(x);
                assert!(y >= low - 1e-9 && y <= high + 1e-9, "{x} {y}");
            }
        }
    }

    #[test]
    fn law_crests_and_dips_are_level() {
        let curve = hills();
        for i in [2, 3, 4] {
            assert_eq!(curve.slopes[i], 0.0);
        }
    }

    #[test]
    fn law_a_part_of_the_line_lies_on_the_whole() {
        let curve = hills();
        let mut whole = PathData::new();
        curve.draw(12.0, 61.0, &mut whole);
        // Four pieces: to 40, 55 and the cut at 61.
        assert_eq!(whole.as_str().matches('C').count(), 3);
        assert!(whole.as_str().starts_with("M12 "));
    }
}
