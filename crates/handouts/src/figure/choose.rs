//! From an exercise and a variant to its picture.

use super::Build;
use super::arrow::arrow;
use super::body::Body;
use super::draw::{Limb, Shape, paint};
use super::furniture::furnish;
use super::poses::{Movement, is_known, movement};
use super::props::{held, shade};
use super::space::{Camera, P2};
use crate::svg::escape;
use core::fmt::Write;
use rehab::assessment::{PlaceKind, Prop, Support};
use rehab::programme::{ArmHeight, Exercise, Posture, Variant};

/// What a picture needs to know of a variant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts<'a> {
    /// Exercise id.
    pub exercise: &'a str,
    /// Posture.
    pub posture: Posture,
    /// What the hands hold on to.
    pub support: Support,
    /// Height of the arms.
    pub arms: ArmHeight,
    /// Things in the hands.
    pub props: &'a [Prop],
    /// Kind of the place where it is done.
    pub place: Option<PlaceKind>,
    /// Whether it needs a rail.
    pub needs_rail: bool,
    /// Whether it needs a chair with arms.
    pub needs_arms: bool,
}

impl<'a> Facts<'a> {
    /// The facts of a variant at a kind of place.
    pub fn of(exercise: &'a Exercise, variant: &'a Variant, place: Option<PlaceKind>) -> Self {
        Self {
            exercise: &exercise.id,
            posture: variant.posture,
            support: variant.support,
            arms: variant.arms,
            props: &variant.props,
            place,
            needs_rail: variant.needs_rail,
            needs_arms: variant.needs_arms,
        }
    }
}

/// A still picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Still {
    /// The drawing as SVG text; colours come from the classes of `look::DRAWINGS`.
    pub svg: String,
    /// Width of the drawing in mm of the person's world.
    pub width_mm: i64,
    /// Height likewise.
    pub height_mm: i64,
}

/// Whether a picture of its own exists; else the posture alone is drawn.
pub fn is_drawn(facts: &Facts<'_>) -> bool {
    is_known(facts)
}

/// Two variants with the same key have the same picture.
pub fn key_of(facts: &Facts<'_>) -> String {
    let mut key = format!("fig-{}-{}-{}", facts.exercise, facts.posture, facts.support);
    if let Some(place) = facts.place {
        let _ = write!(key, "-{place}");
    }
    let _ = write!(key, "-{}", facts.arms);
    for prop in facts.props {
        let _ = write!(key, "-{prop}");
    }
    if facts.needs_arms {
        key.push_str("-armchair");
    }
    if facts.needs_rail {
        key.push_str("-rail");
    }
    key
}

/// Draws one exercise: the start as a pale ghost, the end, and one arrow. `title` says it to those who do not see it.
pub fn still(facts: &Facts<'_>, build: Build, title: &str) -> Still {
    let movement = movement(facts);
    let camera = movement.camera;
    let (start, end) = (movement.start.body(), movement.end.body());
    let mut frame = Frame::new();
    let mut out = String::new();
    out += &shade(movement.furniture, &[&start, &end], camera);
    let set = furnish(movement.furniture, camera);
    out += &set.behind;
    let ghost = ghost_shapes(&start, &end, camera, build);
    out += &ghost.behind(&key_of(facts));
    out += &set.before;
    out += &person(&movement, &end, build, &ghost);
    if let Some((drawn, touched)) = arrow(&start, &end, movement.follow, camera) {
        out += &drawn;
        touched
            .into_iter()
            .for_each(|point| frame.take(point, 30.0));
    }
    frame.take_body(&start, camera);
    frame.take_body(&end, camera);
    set.corners
        .iter()
        .for_each(|point| frame.take(*point, 26.0));
    let (x, y, width, height) = frame.view();
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"{}\" viewBox=\"{x} {y} {width} {height}\" role=\"img\"><title>{}</title>{out}</svg>",
        build.class(),
        escape(title)
    );
    Still {
        svg,
        width_mm: width,
        height_mm: height,
    }
}

fn person(movement: &Movement, end: &Body, build: Build, ghost: &Ghost) -> String {
    let mut out = String::new();
    for shape in paint(end, movement.camera, build) {
        if shape.limb == Limb::NearArm && shape.class == "fg-skin" {
            out += &ghost.before();
            out += &held(movement.held, end, movement.camera);
        }
        out += &shape_text(&shape);
    }
    out
}

fn shape_text(shape: &Shape) -> String {
    if shape.is_group {
        shape.data.clone()
    } else {
        format!("<path class=\"{}\" d=\"{}\"/>", shape.class, shape.data)
    }
}

/// The parts of the start that differ from the end.
struct Ghost {
    far: Vec<Shape>,
    near: Vec<Shape>,
}

/// A joint that moved less than this keeps its part out of the ghost, in mm.
const STILL_MM: f64 = 45.0;

fn ghost_shapes(start: &Body, end: &Body, camera: Camera, build: Build) -> Ghost {
    let arm_moved = |a: &super::body::ArmJoints, b: &super::body::ArmJoints| {
        a.wrist.minus(b.wrist).length() > STILL_MM || a.elbow.minus(b.elbow).length() > STILL_MM
    };
    let leg_moved = |a: &super::body::LegJoints, b: &super::body::LegJoints| {
        a.knee.minus(b.knee).length() > STILL_MM
            || a.ankle.minus(b.ankle).length() > STILL_MM
            || (a.pitch - b.pitch).abs() > 15.0
    };
    let trunk_moved = start.neck.minus(end.neck).length() > STILL_MM
        || start.head.minus(end.head).length() > STILL_MM;
    let moved = |limb: Limb| match limb {
        Limb::Trunk => trunk_moved,
        Limb::NearArm => arm_moved(&start.near_arm, &end.near_arm),
        Limb::FarArm => arm_moved(&start.far_arm, &end.far_arm),
        Limb::NearLeg => leg_moved(&start.near_leg, &end.near_leg),
        Limb::FarLeg => leg_moved(&start.far_leg, &end.far_leg),
    };
    let mut ghost = Ghost {
        far: Vec::new(),
        near: Vec::new(),
    };
    for shape in paint(start, camera, build) {
        // A near arm that moves alone would be hidden behind the trunk, so it lies over it.
        let over = shape.limb == Limb::NearArm && !trunk_moved;
        if moved(shape.limb) {
            if over {
                ghost.near.push(shape);
            } else {
                ghost.far.push(shape);
            }
        }
    }
    ghost
}

impl Ghost {
    fn behind(&self, key: &str) -> String {
        group(&self.far, key)
    }

    fn before(&self) -> String {
        group(&self.near, "")
    }
}

/// One outline round the whole ghost, then its fill, then the inner edges of its near parts.
fn group(shapes: &[Shape], key: &str) -> String {
    if shapes.is_empty() {
        return String::new();
    }
    let bare = |shape: &Shape| {
        if shape.is_group {
            super::head::bare(&shape.data)
        } else {
            format!("<path d=\"{}\"/>", shape.data)
        }
    };
    let all: String = shapes.iter().map(bare).collect();
    let mut out = if key.is_empty() {
        format!("<g class=\"fg-ghost-edge\">{all}</g><g class=\"fg-ghost\">{all}</g>")
    } else {
        format!(
            "<g class=\"fg-ghost-edge\"><g id=\"{key}\">{all}</g></g><use class=\"fg-ghost\" href=\"#{key}\"/>"
        )
    };
    for shape in shapes {
        let inner = matches!(shape.class, "fg-mid" | "fg-near" | "fg-sleeve");
        if inner {
            let _ = write!(out, "<path class=\"fg-ghost-in\" d=\"{}\"/>", shape.data);
        }
    }
    out
}

/// The frame that holds everything.
struct Frame {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Frame {
    const fn new() -> Self {
        Self {
            left: f64::INFINITY,
            right: f64::NEG_INFINITY,
            top: f64::INFINITY,
            bottom: f64::NEG_INFINITY,
        }
    }

    fn take(&mut self, point: P2, around: f64) {
        self.left = self.left.min(point.x - around);
        self.right = self.right.max(point.x + around);
        self.top = self.top.min(point.y - around);
        self.bottom = self.bottom.max(point.y + around);
    }

    fn take_body(&mut self, body: &Body, camera: Camera) {
        self.take(camera.see(body.head), 145.0);
        for arm in [&body.near_arm, &body.far_arm] {
            self.take(camera.see(arm.knuckles), 110.0);
            self.take(camera.see(arm.elbow), 60.0);
        }
        for leg in [&body.near_leg, &body.far_leg] {
            self.take(camera.see(leg.ankle), 170.0);
            self.take(camera.see(leg.knee), 70.0);
        }
    }

    /// Whole mm; never lower than somebody seated, so that nobody is drawn as a giant.
    fn view(&self) -> (i64, i64, i64, i64) {
        let r = |value: f64| libm::round(value) as i64;
        let top = self.top.min(-1430.0) - 20.0;
        let bottom = self.bottom.max(90.0);
        (
            r(self.left - 20.0),
            r(top),
            r(self.right - self.left + 40.0),
            r(bottom - top + 10.0),
        )
    }
}
