//! The profile in a margin and a hill in a row of a list: line, caps, ground.

use super::caps::caps_of;
use super::course::Course;
use super::curve::{Curve, Field};
use crate::svg::{Drawing, Frame, PathData, at};

/// Draws the profile as a margin mark, 104 px wide or as asked; `stopped_ms` marks where a session broke off.
pub fn tiny(
    course: &Course,
    width_px: u16,
    top_mets: f64,
    stopped_ms: Option<u64>,
    title: &str,
) -> String {
    let width = f64::from(width_px);
    let field = Field {
        left: 1.0,
        width: width - 2.0,
        ground: 22.0,
        height: 18.0,
        top_mets,
        duration_ms: (course.duration_ms() as f64).max(1.0),
    };
    let curve = Curve::of(course, &field);
    let mut out = Drawing::new();
    for cap in caps_of(course, &field) {
        out.path("pf-hill", &cap.area(&curve));
    }
    out.line(
        "pf-ground",
        at(field.left, field.ground),
        at(field.right(), field.ground),
    );
    let mut line = PathData::new();
    curve.draw(field.left, field.right(), &mut line);
    out.path("pf-line tiny", &line);
    if let Some(ms) = stopped_ms {
        let x = field.x((ms as f64).min(field.duration_ms));
        out.line("pf-stop", at(x, curve.y(x)), at(x, 24.0));
    }
    out.finish(&Frame {
        class: "pf pf-tiny",
        width,
        height: 24.0,
        title,
        description: "",
        group: false,
    })
}

/// One hill as it would be with other METs, the present one dotted, between ceiling and ground.
pub fn hill(course: &Course, turn: u16, mets: f64, top_mets: f64, title: &str) -> String {
    let (width, height) = (104.0, 48.0);
    let turns = course.turns();
    let field = Field {
        left: 0.0,
        width: 1000.0,
        ground: 40.0,
        height: 34.0,
        top_mets,
        duration_ms: (course.duration_ms() as f64).max(1.0),
    };
    let mut out = Drawing::new();
    if let Some(i) = turns.iter().position(|one| one.number == turn) {
        let cap = caps_of(course, &field)[i];
        // The window shows the hill and a third of its width either side.
        let wide = (cap.to - cap.from) * 5.0 / 3.0;
        let scale = width / wide;
        let left = (cap.from + cap.to) / 2.0 - wide / 2.0;
        let zoomed = Field {
            left: -left * scale,
            width: field.width * scale,
            ..field
        };
        let other = Curve::of(&course.with_mets(turns[i].part, mets), &zoomed);
        let now = Curve::of(course, &zoomed);
        let (from, to) = (zoomed.left.max(0.0), zoomed.right().min(width));
        let mut land = PathData::new();
        other.draw(from, to, &mut land);
        land.line_to(at(to, field.ground))
            .line_to(at(from, field.ground))
            .close();
        out.path("pf-land", &land);
        let caps = caps_of(&course.with_mets(turns[i].part, mets), &zoomed);
        out.path("pf-hill", &caps[i].area(&other));
        let mut was = PathData::new();
        now.draw(from, to, &mut was);
        out.path("pf-was", &was);
        let mut line = PathData::new();
        other.draw(from, to, &mut line);
        out.path("pf-line tiny", &line);
    }
    out.line("pf-limit", at(0.0, 6.0), at(width, 6.0));
    out.line("pf-ground", at(0.0, field.ground), at(width, field.ground));
    out.finish(&Frame {
        class: "pf pf-one",
        width,
        height,
        title,
        description: "",
        group: false,
    })
}
