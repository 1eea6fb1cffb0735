//! Drawing a scene of the moving body: every part as a path with its class, from far to near.

use super::Build;
use super::choose::Still;
use super::head;
use super::shape::{Disc, chain, disc, face, hull};
use super::space::{Camera, P2};
use crate::svg::escape;
use motion::scene::{Head, Outline, Paint, Part, Point, Scene};

/// A part whose discs moved less than this is left out of the ghost, in mm.
const STILL_MM: f64 = 45.0;
/// Paper round the drawing, in mm.
const MARGIN_MM: f64 = 30.0;

/// Draws a scene; of another one, where the person begins, what differs is a pale ghost behind the person.
pub fn drawn(scene: &Scene, start: Option<&Scene>, build: Build, title: &str) -> Still {
    let ghost = start.map_or(String::new(), |start| ghost(scene, start, build));
    let person = scene.parts.iter().position(|part| is_person(part.paint));
    let (behind, rest) = scene.parts.split_at(person.unwrap_or(scene.parts.len()));
    let text =
        |parts: &[Part]| -> String { parts.iter().map(|part| part_text(part, build)).collect() };
    let out = text(behind) + &ghost + &text(rest);
    let (x, y, width_mm, height_mm) = view(scene, start);
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"{}\" viewBox=\"{x} {y} {width_mm} {height_mm}\" role=\"img\"><title>{}</title>{out}</svg>",
        build.class(),
        escape(title)
    );
    Still {
        svg,
        width_mm,
        height_mm,
    }
}

const fn is_person(paint: Paint) -> bool {
    !matches!(
        paint,
        Paint::Shadow
            | Paint::Wood
            | Paint::FarWood
            | Paint::Cloth
            | Paint::ShadedCloth
            | Paint::DarkCloth
    )
}

const fn class(paint: Paint) -> &'static str {
    match paint {
        Paint::Shadow => "fg-shadow",
        Paint::Wood => "fg-wood",
        Paint::FarWood => "fg-wood2",
        Paint::Cloth => "fg-cloth",
        Paint::ShadedCloth => "fg-cloth2",
        Paint::DarkCloth => "fg-cloth3",
        Paint::Sleeve => "fg-sleeve",
        Paint::FarSleeve | Paint::FarLeg => "fg-far",
        Paint::Leg => "fg-near",
        Paint::Trunk => "fg-mid",
        Paint::Skin | Paint::Head => "fg-skin",
        Paint::FarSkin => "fg-skin2",
        Paint::Shoe => "fg-shoe",
        Paint::FarShoe => "fg-shoe2",
    }
}

const fn on_paper(point: Point) -> P2 {
    P2 {
        x: point.x_mm,
        y: point.y_mm,
    }
}

fn circles(discs: &[motion::scene::Disc]) -> Vec<Disc> {
    discs
        .iter()
        .map(|one| disc(on_paper(one.at), one.radius_mm))
        .collect()
}

/// The path of a part, or the whole group of a head.
fn part_text(part: &Part, build: Build) -> String {
    match &part.outline {
        Outline::Head(head) => head_text(head, build),
        outline => format!(
            "<path class=\"{}\" d=\"{}\"/>",
            class(part.paint),
            path_data(outline)
        ),
    }
}

fn path_data(outline: &Outline) -> String {
    match outline {
        Outline::Chain(discs) => chain(&circles(discs)),
        Outline::Hulls(hulls) => hulls.iter().map(|discs| hull(&circles(discs))).collect(),
        Outline::Face(corners) => {
            let corners: Vec<P2> = corners.iter().map(|corner| on_paper(*corner)).collect();
            face(&corners)
        }
        Outline::Head(_) => String::new(),
    }
}

/// Heads are drawn in two views; the nearer one is taken.
fn head_text(placed: &Head, build: Build) -> String {
    let camera = if placed.facing_deg.abs() < 45.0 {
        Camera::Side
    } else {
        Camera::Front
    };
    head::head(build, camera, on_paper(placed.at), placed.tilt_deg)
}

/// One outline round everything that moved, then its fill, then the edges of its near parts.
fn ghost(scene: &Scene, start: &Scene, build: Build) -> String {
    let moved: Vec<&Part> = start
        .parts
        .iter()
        .filter(|part| is_person(part.paint) && has_moved(part, scene))
        .collect();
    if moved.is_empty() {
        return String::new();
    }
    let bare = |part: &&Part| match &part.outline {
        Outline::Head(head) => head::bare(&head_text(head, build)),
        outline => format!("<path d=\"{}\"/>", path_data(outline)),
    };
    let all: String = moved.iter().map(bare).collect();
    let inner: String = moved
        .iter()
        .filter(|part| matches!(part.paint, Paint::Leg | Paint::Trunk | Paint::Sleeve))
        .map(|part| {
            format!(
                "<path class=\"fg-ghost-in\" d=\"{}\"/>",
                path_data(&part.outline)
            )
        })
        .collect();
    format!("<g class=\"fg-ghost-edge\">{all}</g><g class=\"fg-ghost\">{all}</g>{inner}")
}

/// Whether a part is elsewhere in the other scene. The neck shares its paint with the near hand, so the nearest alike counts.
fn has_moved(part: &Part, scene: &Scene) -> bool {
    let discs = part.outline.discs();
    let furthest = |other: &Part| {
        let others = other.outline.discs();
        let pairs = discs.iter().zip(&others);
        pairs
            .map(|(a, b)| libm::hypot(a.at.x_mm - b.at.x_mm, a.at.y_mm - b.at.y_mm))
            .fold(0.0, f64::max)
    };
    scene
        .parts
        .iter()
        .filter(|other| other.paint == part.paint)
        .map(furthest)
        .fold(f64::INFINITY, f64::min)
        > STILL_MM
}

/// Left, top, width and height in whole mm.
fn view(scene: &Scene, start: Option<&Scene>) -> (i64, i64, i64, i64) {
    let corners = [Some(scene), start]
        .into_iter()
        .flatten()
        .filter_map(Scene::corners);
    let (mut left, mut top, mut right, mut bottom) = (0.0_f64, 0.0_f64, 0.0_f64, 0.0_f64);
    for [least, most] in corners {
        left = left.min(least.x_mm);
        top = top.min(least.y_mm);
        right = right.max(most.x_mm);
        bottom = bottom.max(most.y_mm);
    }
    let whole = |value: f64| libm::round(value) as i64;
    (
        whole(left - MARGIN_MM),
        whole(top - MARGIN_MM),
        whole(right - left + 2.0 * MARGIN_MM),
        whole(bottom - top + 2.0 * MARGIN_MM),
    )
}
