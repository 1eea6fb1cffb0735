//! The profile for the patient: the line, the done part, a dot, the place's name; nothing to be read off.

use super::caps::caps_of;
use super::course::Course;
use super::curve::{Curve, Field};
use crate::measure::{Weight, width_px};
use crate::svg::{Drawing, Frame, PathData, at, num};

/// What the patient's profile shows.
#[derive(Clone, Copy, Debug)]
pub struct Patient<'a> {
    /// Width in px.
    pub width_px: u16,
    /// METs at the full height: the most for one turn.
    pub top_mets: f64,
    /// Where the person is, in ms; `None` draws no dot.
    pub at_ms: Option<u64>,
    /// The name of the place under the dot.
    pub place: &'a str,
    /// Words for begin and end.
    pub ends: [&'a str; 2],
    /// Title for those who do not see it.
    pub title: &'a str,
}

/// The line of the patient's profile as heights, for a dot that walks along it.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// x of the begin in px.
    pub left: f64,
    /// x of the end in px.
    pub right: f64,
    /// y of the ground in px.
    pub ground: f64,
    /// y of the line at equal steps of time from begin to end.
    pub heights: Vec<f64>,
}

const DOT_PX: f64 = 10.0;

fn field_of(course: &Course, width: f64, top_mets: f64) -> Field {
    // About 70 px of height at 360, so the hills stay gentle; room for the dot above them.
    let height = libm::round((width * 0.19).clamp(56.0, 110.0));
    Field {
        left: 2.0,
        width: width - 4.0,
        ground: height + DOT_PX + 6.0,
        height,
        top_mets,
        duration_ms: (course.duration_ms() as f64).max(1.0),
    }
}

/// The heights of the line for [`patient`] at the same width.
pub fn way(course: &Course, width_px: u16, top_mets: f64, steps: u16) -> Way {
    let field = field_of(course, f64::from(width_px), top_mets);
    let curve = Curve::of(course, &field);
    let steps = f64::from(steps.max(1));
    let heights = (0..=steps as u32)
        .map(|i| {
            let y = curve.y(field.left + field.width * f64::from(i) / steps);
            libm::round(y * 10.0) / 10.0
        })
        .collect();
    Way {
        left: field.left,
        right: field.right(),
        ground: field.ground,
        heights,
    }
}

/// Draws the patient's profile.
pub fn patient(course: &Course, ask: &Patient<'_>) -> String {
    let width = f64::from(ask.width_px);
    let field = field_of(course, width, ask.top_mets);
    let curve = Curve::of(course, &field);
    let mut out = Drawing::new();
    let mut line = PathData::new();
    curve.draw(field.left, field.right(), &mut line);
    let mut land = line.clone();
    land.close();
    out.path("pf-land", &land);
    for cap in caps_of(course, &field) {
        out.path("pf-hill", &cap.area(&curve));
    }
    let dot = ask
        .at_ms
        .map(|ms| field.x((ms as f64).min(field.duration_ms)));
    if let Some(x) = dot {
        let mut done = PathData::new();
        curve.draw(field.left, x, &mut done);
        done.line_to(at(x, field.ground)).close();
        out.path("pf-done", &done);
    }
    out.line(
        "pf-ground",
        at(field.left, field.ground),
        at(field.right(), field.ground),
    );
    out.path("pf-line big", &line);
    if let Some(x) = dot {
        out.line("pf-drop", at(x, curve.y(x)), at(x, field.ground));
        out.circle("pf-dot", at(x, curve.y(x)), DOT_PX);
    }
    draw_words(ask, &field, dot, &mut out);
    out.finish(&Frame {
        class: "pf pf-patient",
        width,
        height: field.ground + 36.0,
        title: ask.title,
        description: "",
        group: false,
    })
}

/// Place under the dot, begin and end where they are free.
fn draw_words(ask: &Patient<'_>, field: &Field, dot: Option<f64>, out: &mut Drawing) {
    let y = field.ground + 28.0;
    let mut taken = (f64::INFINITY, f64::NEG_INFINITY);
    if let Some(x) = dot {
        let half = width_px(ask.place, 19.0, Weight::Bold) / 2.0;
        let x = x.clamp(
            field.left + half,
            (field.right() - half).max(field.left + half),
        );
        out.words("pf-now", at(x, y), ask.place);
        taken = (x - half - 12.0, x + half + 12.0);
    }
    let [first, last] = ask.ends;
    if field.left + width_px(first, 17.0, Weight::Regular) <= taken.0 {
        out.words("pf-end", at(field.left, y), first);
    }
    if field.right() - width_px(last, 17.0, Weight::Regular) >= taken.1 {
        out.words("pf-end r", at(field.right(), y), last);
    }
}

/// What the printed profile shows: one turn marked.
#[derive(Clone, Copy, Debug)]
pub struct Printed<'a> {
    /// Width in px.
    pub width_px: u16,
    /// METs at the full height.
    pub top_mets: f64,
    /// The marked turn, by its number through the session.
    pub chosen: Option<u16>,
    /// Words for begin and end.
    pub ends: [&'a str; 2],
    /// Title for those who do not see it.
    pub title: &'a str,
}

/// Draws the profile over a printed station: the marked hill has its tone, a thicker line and the bold number, so that it
/// is told apart in one ink.
pub fn printed(course: &Course, ask: &Printed<'_>) -> String {
    let width = f64::from(ask.width_px);
    let field = Field {
        left: 2.0,
        width: width - 4.0,
        ground: 74.0,
        height: 64.0,
        top_mets: ask.top_mets,
        duration_ms: (course.duration_ms() as f64).max(1.0),
    };
    let curve = Curve::of(course, &field);
    let mut out = Drawing::new();
    let mut line = PathData::new();
    curve.draw(field.left, field.right(), &mut line);
    let mut land = line.clone();
    land.close();
    out.path("pf-land", &land);
    let (turns, caps) = (course.turns(), caps_of(course, &field));
    let chosen = ask
        .chosen
        .and_then(|number| turns.iter().position(|turn| turn.number == number));
    for (i, cap) in caps.iter().enumerate() {
        let class = if chosen == Some(i) {
            "pf-hill is-chosen"
        } else {
            "pf-hill"
        };
        out.path(class, &cap.area(&curve));
    }
    out.line(
        "pf-ground",
        at(field.left, field.ground),
        at(field.right(), field.ground),
    );
    out.path("pf-line big", &line);
    if let Some(i) = chosen {
        out.path("pf-line is-chosen", &caps[i].line(&curve));
    }
    let middle = |i: usize| field.x((turns[i].start_ms + turns[i].end_ms) as f64 / 2.0);
    let nearest = (1..turns.len())
        .map(|i| middle(i) - middle(i - 1))
        .fold(f64::INFINITY, f64::min);
    let every = libm::ceil(18.0 / nearest.max(2.0)).max(1.0) as u16;
    for (i, turn) in turns.iter().enumerate() {
        let on = chosen == Some(i);
        // The bold number needs its neighbours' room when they crowd.
        let crowded = chosen.is_some_and(|c| c != i && (middle(c) - middle(i)).abs() < 20.0);
        if on || (!crowded && (turn.in_round - 1) % every == 0) {
            let class = if on { "pf-print-no on" } else { "pf-print-no" };
            out.words(class, at(middle(i), 99.0), &turn.in_round.to_string());
        }
    }
    let [first, last] = ask.ends;
    let room = |words: &str| width_px(words, 21.0, Weight::Regular) + 16.0;
    let (first_no, last_no) = if turns.is_empty() {
        (width / 2.0, width / 2.0)
    } else {
        (middle(0), middle(turns.len() - 1))
    };
    if room(first) <= first_no {
        out.words("pf-print-end", at(field.left, 99.0), first);
    }
    if room(last) <= width - last_no {
        out.words("pf-print-end r", at(field.right(), 99.0), last);
    }
    out.finish(&Frame {
        class: "pf pf-printed",
        width,
        height: 104.0,
        title: ask.title,
        description: "",
        group: false,
    })
}

/// What the walking profile is drawn with.
#[derive(Clone, Copy, Debug)]
pub struct Walking<'a> {
    /// Width in px.
    pub width_px: u16,
    /// METs at the full height.
    pub top_mets: f64,
    /// Words for begin and end.
    pub ends: [&'a str; 2],
    /// Title for those who do not see it.
    pub title: &'a str,
}

/// Draws the patient's profile with the parts that a script moves: the darker done part under a clip, the drop, the dot
/// and the place's name. It stands at the begin until it is moved.
pub fn walking(course: &Course, ask: &Walking<'_>) -> String {
    let width = f64::from(ask.width_px);
    let field = field_of(course, width, ask.top_mets);
    let curve = Curve::of(course, &field);
    let mut out = Drawing::new();
    let mut line = PathData::new();
    curve.draw(field.left, field.right(), &mut line);
    let mut land = line.clone();
    land.close();
    out.path("pf-land", &land);
    for cap in caps_of(course, &field) {
        out.path("pf-hill", &cap.area(&curve));
    }
    // A picture inside the picture cuts what lies outside of it: the script only sets its width.
    out.raw(&format!(
        "<svg class=\"pf-clip\" x=\"0\" y=\"0\" width=\"0\" height=\"400\"><path class=\"pf-done\" d=\"{}\"/></svg>",
        land.as_str()
    ));
    out.line(
        "pf-ground",
        at(field.left, field.ground),
        at(field.right(), field.ground),
    );
    out.path("pf-line big", &line);
    let (x, y) = (num(field.left), num(field.ground));
    out.raw(&format!(
        "<line class=\"pf-drop\" x1=\"{x}\" y1=\"{y}\" x2=\"{x}\" y2=\"{y}\"/>"
    ));
    out.circle("pf-dot", at(field.left, field.ground), DOT_PX);
    let below = field.ground + 28.0;
    out.words("pf-now", at(width / 2.0, below), "");
    out.words("pf-end", at(field.left, below), ask.ends[0]);
    out.words("pf-end r", at(field.right(), below), ask.ends[1]);
    out.finish(&Frame {
        class: "pf pf-patient pf-walking",
        width,
        height: field.ground + 36.0,
        title: ask.title,
        description: "",
        group: false,
    })
}
