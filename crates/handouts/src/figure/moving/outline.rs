//! The outline of a hull of discs as path data, in whole mm.

use core::fmt::Write;
use motion::scene::{Disc, Point};

/// Directions in which the outermost disc is looked for.
const DIRECTIONS: usize = 72;

/// The outline with its arcs: from tangent to tangent.
pub(super) fn exact(discs: &[Disc], data: &mut String) {
    let runs = runs(discs);
    let [first] = runs[..] else {
        return tangents(discs, &runs, data);
    };
    let Disc { at, radius_mm } = discs[first.0];
    let radius = whole(radius_mm);
    let _ = write!(
        data,
        "M{} {}a{radius} {radius} 0 1 1 {} 0a{radius} {radius} 0 1 1 {} 0z",
        whole(at.x_mm) - radius,
        whole(at.y_mm),
        2 * radius,
        -2 * radius
    );
}

/// A disc that is outermost, and the direction from which on it is.
type Run = (usize, f64);

/// Those that are outermost one after another, going round once.
fn runs(discs: &[Disc]) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for step in 0..DIRECTIONS {
        let angle = core::f64::consts::TAU * step as f64 / DIRECTIONS as f64;
        let outermost = outermost(discs, angle);
        if runs.last().is_none_or(|(last, _)| *last != outermost) {
            runs.push((outermost, angle));
        }
    }
    if runs.len() > 1 && runs.first().map(|run| run.0) == runs.last().map(|run| run.0) {
        runs.remove(0);
    }
    runs
}

fn outermost(discs: &[Disc], angle: f64) -> usize {
    let (sin, cos) = libm::sincos(angle);
    let reach = |disc: &Disc| disc.at.x_mm * cos + disc.at.y_mm * sin + disc.radius_mm;
    let mut best = (0, f64::NEG_INFINITY);
    for (place, disc) in discs.iter().enumerate() {
        let reach = reach(disc);
        if reach > best.1 + 1e-9 {
            best = (place, reach);
        }
    }
    best.0
}

/// Where the outline leaves one disc for the next, as points on both.
fn crossing(from: &Disc, to: &Disc, near_angle: f64) -> [Point; 2] {
    let (dx, dy) = (to.at.x_mm - from.at.x_mm, to.at.y_mm - from.at.y_mm);
    let distance = libm::hypot(dx, dy).max(1e-9);
    let line = libm::atan2(dy, dx);
    let off = libm::acos(((from.radius_mm - to.radius_mm) / distance).clamp(-1.0, 1.0));
    let apart = |angle: f64| {
        let turns = (angle - near_angle) / core::f64::consts::TAU;
        (turns - libm::round(turns)).abs()
    };
    let angle = if apart(line - off) < apart(line + off) {
        line - off
    } else {
        line + off
    };
    let (sin, cos) = libm::sincos(angle);
    [from, to].map(|disc| Point {
        x_mm: disc.at.x_mm + disc.radius_mm * cos,
        y_mm: disc.at.y_mm + disc.radius_mm * sin,
    })
}

fn tangents(discs: &[Disc], runs: &[Run], data: &mut String) {
    let crossings: Vec<[Point; 2]> = (0..runs.len())
        .map(|place| {
            let (from, (to, angle)) = (runs[place].0, runs[(place + 1) % runs.len()]);
            crossing(&discs[from], &discs[to], angle)
        })
        .collect();
    let mut at = round(crossings[runs.len() - 1][1]);
    let _ = write!(data, "M{} {}", at.0, at.1);
    for (place, (disc, _)) in runs.iter().enumerate() {
        let [leave, arrive] = crossings[place].map(round);
        let radius = whole(discs[*disc].radius_mm);
        if radius > 0 && leave != at {
            let half_turn = is_long(discs[*disc].at, at, leave);
            let _ = write!(data, "a{radius} {radius} 0 {} 1", i32::from(half_turn));
            step(at, leave, data);
            at = leave;
        }
        if arrive != at && place + 1 < runs.len() {
            data.push('l');
            step(at, arrive, data);
            at = arrive;
        }
    }
    data.push('z');
}

/// Whether the way round from one point to the other, clockwise on the paper, is more than half a turn.
fn is_long(middle: Point, from: (i64, i64), to: (i64, i64)) -> bool {
    let off = |point: (i64, i64)| (point.0 as f64 - middle.x_mm, point.1 as f64 - middle.y_mm);
    let ((ax, ay), (bx, by)) = (off(from), off(to));
    ax * by - ay * bx < 0.0
}

/// The outline by the outermost points in so many directions: always as many, so that one outline can move into another.
pub(super) fn sampled(discs: &[Disc], directions: usize) -> Vec<(i64, i64)> {
    (0..directions)
        .map(|step| {
            let angle = core::f64::consts::TAU * step as f64 / directions as f64;
            let disc = discs[outermost(discs, angle)];
            let (sin, cos) = libm::sincos(angle);
            // A polygon round a circle of the same area.
            let radius = disc.radius_mm * 1.012;
            (
                whole(disc.at.x_mm + radius * cos),
                whole(disc.at.y_mm + radius * sin),
            )
        })
        .collect()
}

/// A line from disc to disc.
pub(super) fn line(discs: &[Disc], data: &mut String) {
    let mut at = None;
    for disc in discs {
        let point = round(disc.at);
        match at {
            None => {
                let _ = write!(data, "M{} {}", point.0, point.1);
            }
            Some(before) => {
                data.push('l');
                step(before, point, data);
            }
        }
        at = Some(point);
    }
}

/// A closed polygon.
pub(super) fn polygon(points: &[(i64, i64)], data: &mut String) {
    let mut at = points[0];
    let _ = write!(data, "M{} {}l", at.0, at.1);
    for (place, point) in points.iter().enumerate().skip(1) {
        if place > 1 && point.0 >= at.0 {
            data.push(' ');
        }
        step(at, *point, data);
        at = *point;
    }
    data.push('z');
}

/// The step from one point to another, with a space only where no sign parts the two numbers.
fn step(from: (i64, i64), to: (i64, i64), data: &mut String) {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let between = if dy < 0 { "" } else { " " };
    let _ = write!(data, "{dx}{between}{dy}");
}

fn round(point: Point) -> (i64, i64) {
    (whole(point.x_mm), whole(point.y_mm))
}

fn whole(value: f64) -> i64 {
    libm::round(value) as i64
}
