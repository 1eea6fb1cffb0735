//! Shapes on the paper: tapered capsules along a limb, and convex hulls of circles, all in whole mm.

use super::space::P2;
use core::fmt::Write;

/// A circle on the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Disc {
    pub(super) at: P2,
    pub(super) radius: f64,
}

pub(super) const fn disc(at: P2, radius: f64) -> Disc {
    Disc { at, radius }
}

fn whole(value: f64) -> i64 {
    libm::round(value) as i64
}

/// A chain of tapered capsules as one path.
pub(super) fn chain(discs: &[Disc]) -> String {
    let mut data = String::new();
    for pair in discs.windows(2) {
        capsule(pair[0], pair[1], &mut data);
    }
    data
}

/// The outline of two circles and their common tangents.
fn capsule(a: Disc, b: Disc, data: &mut String) {
    let (dx, dy) = (b.at.x - a.at.x, b.at.y - a.at.y);
    let distance = libm::sqrt(dx * dx + dy * dy);
    if distance <= (a.radius - b.radius).abs() + 0.5 {
        let big = if a.radius >= b.radius { a } else { b };
        circle(big, data);
        return;
    }
    let turn = libm::acos(((a.radius - b.radius) / distance).clamp(-1.0, 1.0));
    let heading = libm::atan2(dy, dx);
    let on = |disc: Disc, angle: f64| {
        (
            whole(disc.at.x + disc.radius * libm::cos(angle)),
            whole(disc.at.y + disc.radius * libm::sin(angle)),
        )
    };
    let (one, two) = (heading + turn, heading - turn);
    let (p, q) = (on(a, one), on(a, two));
    let (r, s) = (on(b, two), on(b, one));
    // On the bigger end the arc goes the long way round.
    let (long_a, long_b) = (
        i32::from(a.radius > b.radius),
        i32::from(b.radius > a.radius),
    );
    let (ra, rb) = (whole(a.radius), whole(b.radius));
    // Steps from point to point are shorter to write than places.
    let step = |from: (i64, i64), to: (i64, i64)| pair((to.0 - from.0, to.1 - from.1));
    let _ = write!(
        data,
        "M{}a{ra} {ra} 0 {long_a} 1{}l{}a{rb} {rb} 0 {long_b} 1{}z",
        pair(p),
        spaced(&step(p, q)),
        step(q, r),
        spaced(&step(r, s))
    );
}

/// Two whole numbers, with a space only where no sign parts them.
fn pair(point: (i64, i64)) -> String {
    if point.1 < 0 {
        format!("{}{}", point.0, point.1)
    } else {
        format!("{} {}", point.0, point.1)
    }
}

fn spaced(text: &str) -> String {
    if text.starts_with('-') {
        text.to_owned()
    } else {
        format!(" {text}")
    }
}

/// A whole circle as a path.
pub(super) fn circle(disc: Disc, data: &mut String) {
    let r = whole(disc.radius);
    let (x, y) = (whole(disc.at.x), whole(disc.at.y));
    let _ = write!(
        data,
        "M{} {y}a{r} {r} 0 1 1 {} 0a{r} {r} 0 1 1 {} 0Z",
        x - r,
        2 * r,
        -2 * r
    );
}

/// The convex hull of circles as a path.
pub(super) fn hull(discs: &[Disc]) -> String {
    const STEPS: u32 = 13;
    let mut points: Vec<(i64, i64)> = Vec::new();
    for disc in discs {
        for step in 0..STEPS {
            let angle = f64::from(step) * 2.0 * core::f64::consts::PI / f64::from(STEPS);
            points.push((
                whole(disc.at.x + disc.radius * libm::cos(angle)),
                whole(disc.at.y + disc.radius * libm::sin(angle)),
            ));
        }
    }
    polygon(&convex(points))
}

/// A closed polygon as a path.
pub(super) fn polygon(points: &[(i64, i64)]) -> String {
    let mut data = String::new();
    let mut before = (0, 0);
    for (i, point) in points.iter().enumerate() {
        let (letter, step) = match i {
            0 => ("M", *point),
            1 => ("l", (point.0 - before.0, point.1 - before.1)),
            _ => ("", (point.0 - before.0, point.1 - before.1)),
        };
        let step = pair(step);
        data += letter;
        data += &if i < 2 { step } else { spaced(&step) };
        before = *point;
    }
    data.push('z');
    data
}

/// A closed polygon of points on the paper.
pub(super) fn face(points: &[P2]) -> String {
    let points: Vec<(i64, i64)> = points.iter().map(|p| (whole(p.x), whole(p.y))).collect();
    polygon(&points)
}

/// The convex hull of points (monotone chain), without points on its edges.
fn convex(mut points: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    points.sort_unstable();
    points.dedup();
    let turn = |a: (i64, i64), b: (i64, i64), c: (i64, i64)| {
        (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
    };
    let half = |run: &mut dyn Iterator<Item = (i64, i64)>| {
        let mut out: Vec<(i64, i64)> = Vec::new();
        for point in run {
            while out.len() >= 2 && turn(out[out.len() - 2], out[out.len() - 1], point) <= 0 {
                out.pop();
            }
            out.push(point);
        }
        out.pop();
        out
    };
    let mut lower = half(&mut points.iter().copied());
    let upper = half(&mut points.iter().rev().copied());
    lower.extend(upper);
    lower
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_hull_holds_every_point_and_turns_one_way() {
        let points = vec![(0, 0), (10, 0), (5, 5), (10, 10), (0, 10), (5, 0)];
        let hull = convex(points);
        assert_eq!(hull, [(0, 0), (10, 0), (10, 10), (0, 10)]);
    }

    #[test]
    fn a_circle_inside_another_is_not_lost() {
        let at = P2 { x: 0.0, y: 0.0 };
        let data = chain(&[disc(at, 50.0), disc(P2 { x: 5.0, y: 0.0 }, 20.0)]);
        assert!(data.contains("a50 50"));
    }
}
