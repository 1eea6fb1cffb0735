//! The arrow of a movement: the way that its most moving end goes, beside the body.

use core::fmt::Write;
use motion::reel::Reel;
use motion::scene::{POINTS, Point, Told};

/// How far the arrow stands off what it follows, in mm.
const OFF_MM: f64 = 120.0;
/// Shorter ways get no arrow; short ones are drawn as long as this.
const SHORTEST_MM: f64 = 25.0;
const DRAWN_MM: f64 = 150.0;
/// The head of the arrow.
const HEAD_MM: f64 = 74.0;
const HEAD_HALF_MM: f64 = 44.0;

/// An arrow with what it touches.
pub(super) struct Arrow {
    pub(super) svg: String,
    pub(super) corners: [Point; 2],
}

/// None where nothing goes far enough on the paper.
pub(super) fn arrow(reel: &Reel) -> Option<Arrow> {
    let frames = &reel.frames()[..=reel.farthest()];
    let points: Vec<[Point; POINTS]> = frames.iter().map(|frame| frame.snapshot.points()).collect();
    let (first, last) = (points.first()?, points.last()?);
    let way = |told: Told| first[told.point()].distance_mm(last[told.point()]);
    let farthest = Told::ALL.map(way).into_iter().fold(0.0, f64::max);
    // The head tells most, where it goes nearly as far as anything.
    let told = if way(Told::Head) > 0.5 * farthest {
        Told::Head
    } else {
        Told::ALL.into_iter().find(|told| way(*told) >= farthest)?
    };
    if farthest < SHORTEST_MM {
        return None;
    }
    let followed: Vec<Point> = points.iter().map(|frame| frame[told.point()]).collect();
    let trunk = mix(last[Told::Hips.point()], last[Told::Head.point()], 0.4);
    Some(beside(&followed, trunk, told))
}

fn beside(followed: &[Point], trunk: Point, told: Told) -> Arrow {
    let (from, to) = (followed[0], followed[followed.len() - 1]);
    let stretch = (DRAWN_MM / from.distance_mm(to)).max(1.0);
    let to = mix(from, to, stretch);
    let straight = mix(from, to, 0.5);
    let away = match told {
        Told::Head => Point {
            x_mm: -0.55,
            y_mm: -0.83,
        },
        _ => direction(trunk, straight),
    };
    // The way bulges where the end does, and never less than a little away from the body.
    let passed = followed[followed.len() / 2];
    let bulge = if stretch > 1.0 || told == Told::Head {
        straight
    } else {
        mix(straight, passed, 1.0)
    };
    let off_mm = if told == Told::Head {
        OFF_MM
    } else {
        0.75 * OFF_MM
    };
    let (from, to) = (moved(from, away, off_mm), moved(to, away, off_mm));
    let control = moved(
        mix(straight, bulge, 1.2),
        away,
        off_mm + 0.18 * from.distance_mm(to) + 20.0,
    );
    drawn([from, control, to])
}

fn drawn([from, control, to]: [Point; 3]) -> Arrow {
    let heading = direction(control, to);
    let side = Point {
        x_mm: -heading.y_mm,
        y_mm: heading.x_mm,
    };
    let tip = moved(to, heading, HEAD_MM);
    let barb = |by: f64| moved(moved(to, side, by), heading, -14.0);
    let (one, two) = (barb(HEAD_HALF_MM), barb(-HEAD_HALF_MM));
    let mut svg = String::new();
    let text = |point: Point| format!("{:.0} {:.0}", point.x_mm, point.y_mm);
    let _ = write!(
        svg,
        "<path class=\"fg-arrow\" d=\"M{}Q{} {}\"/><path class=\"fg-arrowhead\" d=\"M{}L{}L{}L{}Z\"/>",
        text(from),
        text(control),
        text(to),
        text(tip),
        text(one),
        text(to),
        text(two)
    );
    let all = [from, mix(mix(from, to, 0.5), control, 0.5), tip, one, two];
    let corner = |of: fn(f64, f64) -> f64| Point {
        x_mm: all.iter().map(|point| point.x_mm).fold(all[0].x_mm, of),
        y_mm: all.iter().map(|point| point.y_mm).fold(all[0].y_mm, of),
    };
    Arrow {
        svg,
        corners: [corner(f64::min), corner(f64::max)],
    }
}

fn direction(from: Point, to: Point) -> Point {
    let length = from.distance_mm(to).max(1e-9);
    Point {
        x_mm: (to.x_mm - from.x_mm) / length,
        y_mm: (to.y_mm - from.y_mm) / length,
    }
}

fn mix(a: Point, b: Point, share: f64) -> Point {
    Point {
        x_mm: a.x_mm + (b.x_mm - a.x_mm) * share,
        y_mm: a.y_mm + (b.y_mm - a.y_mm) * share,
    }
}

fn moved(point: Point, way: Point, by_mm: f64) -> Point {
    Point {
        x_mm: point.x_mm + way.x_mm * by_mm,
        y_mm: point.y_mm + way.y_mm * by_mm,
    }
}
