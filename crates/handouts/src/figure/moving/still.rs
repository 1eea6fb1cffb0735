//! The still of a movement for print: where it ends, where it begins as a pale ghost, and the way between as an arrow.

use super::super::Build;
use super::super::choose::Still;
use super::arrow::arrow;
use super::{framed, outline, part_text, view};
use core::fmt::Write;
use motion::reel::Reel;
use motion::scene::{Paint, Part, Scene};

/// A part whose discs moved less than this is left out of the ghost, in mm.
const STILL_MM: f64 = 40.0;

/// Draws the moment that is farthest from the first one, over the ghost of the first.
pub fn drawn(reel: &Reel, build: Build, title: &str) -> Still {
    let (start, end) = (reel.scene(0), reel.scene(reel.farthest()));
    let person = end.parts().iter().position(|part| part.person);
    let (behind, rest) = end.parts().split_at(person.unwrap_or(end.parts().len()));
    let mut out = String::new();
    behind
        .iter()
        .for_each(|part| part_text(&end, part, &mut out));
    ghost(&start, &end, &mut out);
    rest.iter().for_each(|part| part_text(&end, part, &mut out));
    let arrow = arrow(reel);
    let corners = [start.corners(), end.corners()].into_iter().flatten();
    let view = view(corners.chain(arrow.as_ref().map(|arrow| arrow.corners)));
    if let Some(arrow) = arrow {
        out += &arrow.svg;
    }
    Still {
        svg: framed(build, view, title, &out),
        width_mm: view[2],
        height_mm: view[3],
    }
}

/// One moment alone.
pub fn scene_alone(scene: &Scene, build: Build, title: &str) -> String {
    let mut out = String::new();
    scene
        .parts()
        .iter()
        .for_each(|part| part_text(scene, part, &mut out));
    framed(build, view(scene.corners()), title, &out)
}

/// What moved: one outline round it, then every part pale with a fine edge.
fn ghost(start: &Scene, end: &Scene, out: &mut String) {
    let moved: Vec<&Part> = start
        .parts()
        .iter()
        .filter(|part| part.person && !part.paint.is_line() && has_moved(start, part, end))
        .collect();
    if moved.is_empty() {
        return;
    }
    let data = |part: &Part| {
        let mut data = String::new();
        start
            .hulls(part)
            .for_each(|hull| outline::exact(hull, &mut data));
        data
    };
    out.push_str("<g class=\"fg-ghost-edge\">");
    for part in moved.iter().filter(|part| part.rim) {
        let _ = write!(out, "<path d=\"{}\"/>", data(part));
    }
    out.push_str("</g>");
    for part in moved {
        let class = if part.rim && part.paint != Paint::Hair {
            "fg-ghost-in"
        } else {
            "fg-ghost"
        };
        let _ = write!(out, "<path class=\"{class}\" d=\"{}\"/>", data(part));
    }
}

/// Whether a part is elsewhere, or not seen, in the other scene.
fn has_moved(scene: &Scene, part: &Part, other: &Scene) -> bool {
    let Some(same) = other.parts().iter().find(|one| one.piece == part.piece) else {
        return true;
    };
    let pairs = scene.hulls(part).flatten().zip(other.hulls(same).flatten());
    pairs
        .map(|(a, b)| a.at.distance_mm(b.at))
        .fold(0.0, f64::max)
        > STILL_MM
}
