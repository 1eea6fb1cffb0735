//! Painting a body: each part as a shape with its class, from far to near.

use super::Build;
use super::body::{ArmJoints, Body, LegJoints};
use super::shape::{Disc, chain, disc, hull};
use super::space::{Camera, V3, sin_cos, v};

/// A part of the body, as it is painted and as the ghost leaves it out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Limb {
    FarArm,
    FarLeg,
    NearLeg,
    Trunk,
    NearArm,
}

/// One painted shape.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Shape {
    pub(super) limb: Limb,
    pub(super) class: &'static str,
    /// Path data, or for the head a whole group.
    pub(super) data: String,
    pub(super) is_group: bool,
}

/// The body painted from far to near.
pub(super) fn paint(body: &Body, camera: Camera, build: Build) -> Vec<Shape> {
    let mut out = Vec::new();
    let far_arm_behind = !before_trunk(&body.far_arm, body, camera);
    if far_arm_behind {
        arm_shapes(&body.far_arm, camera, Limb::FarArm, &mut out);
    }
    leg_shapes(&body.far_leg, camera, Limb::FarLeg, &mut out);
    leg_shapes(&body.near_leg, camera, Limb::NearLeg, &mut out);
    neck_shape(body, camera, &mut out);
    trunk_shape(body, camera, &mut out);
    let at = camera.see(body.head);
    out.push(Shape {
        limb: Limb::Trunk,
        class: "",
        data: super::head::head(build, camera, at, body.head_tilt),
        is_group: true,
    });
    if !far_arm_behind {
        arm_shapes(&body.far_arm, camera, Limb::FarArm, &mut out);
    }
    arm_shapes(&body.near_arm, camera, Limb::NearArm, &mut out);
    out
}

/// Whether an arm passes in front of the trunk.
fn before_trunk(arm: &ArmJoints, body: &Body, camera: Camera) -> bool {
    let chest = body.neck.towards(middle_of_hips(body), 0.4);
    camera.nearness(arm.wrist) > camera.nearness(chest) + 150.0
}

fn middle_of_hips(body: &Body) -> V3 {
    body.near_leg.hip.towards(body.far_leg.hip, 0.5)
}

fn push(limb: Limb, class: &'static str, data: String, out: &mut Vec<Shape>) {
    out.push(Shape {
        limb,
        class,
        data,
        is_group: false,
    });
}

/// Discs along a bone at shares of its length.
fn along(camera: Camera, from: V3, to: V3, radii: &[(f64, f64)]) -> Vec<Disc> {
    radii
        .iter()
        .map(|&(share, radius)| disc(camera.see(from.towards(to, share)), radius))
        .collect()
}

fn arm_shapes(arm: &ArmJoints, camera: Camera, limb: Limb, out: &mut Vec<Shape>) {
    let near = limb == Limb::NearArm;
    let mut sleeve = along(
        camera,
        arm.shoulder,
        arm.elbow,
        &[(0.0, 60.0), (0.5, 53.0), (1.0, 43.0)],
    );
    sleeve.extend(along(
        camera,
        arm.elbow,
        arm.wrist,
        &[(0.3, 43.0), (0.95, 31.0)],
    ));
    let hand = hand_data(arm, camera);
    let (cloth, skin) = if near {
        ("fg-sleeve", "fg-skin")
    } else {
        ("fg-far", "fg-skin2")
    };
    // The cuff lies over the wrist.
    push(limb, skin, hand, out);
    push(limb, cloth, chain(&sleeve), out);
}

/// The hand: palm, fingers and a thumb that points forwards and up.
fn hand_data(arm: &ArmJoints, camera: Camera) -> String {
    let along_hand = arm.knuckles.minus(arm.wrist).unit();
    let tip = arm.knuckles.plus(along_hand.times(62.0));
    let palm = [
        disc(camera.see(arm.wrist), 26.0),
        disc(camera.see(arm.knuckles), 33.0),
        disc(camera.see(tip), 19.0),
    ];
    let mut forward = v(1.0, 0.5, 0.0);
    forward = forward.minus(along_hand.times(forward.dot(along_hand)));
    let thumb_from = arm.wrist.towards(arm.knuckles, 0.5);
    let thumb_to = arm
        .knuckles
        .plus(forward.unit().times(42.0))
        .plus(along_hand.times(8.0));
    let thumb = [
        disc(camera.see(thumb_from), 17.0),
        disc(camera.see(thumb_to), 12.0),
    ];
    chain(&palm) + &chain(&thumb)
}

fn leg_shapes(leg: &LegJoints, camera: Camera, limb: Limb, out: &mut Vec<Shape>) {
    let (cloth, shoe) = if limb == Limb::NearLeg {
        ("fg-near", "fg-shoe")
    } else {
        ("fg-far", "fg-shoe2")
    };
    let mut discs = along(
        camera,
        leg.hip,
        leg.knee,
        &[(0.0, 87.0), (0.45, 78.0), (1.0, 57.0)],
    );
    // The calf swells behind the bone.
    let back = {
        let shank = leg.ankle.minus(leg.knee).unit();
        let behind = v(-1.0, 0.0, 0.0);
        behind.minus(shank.times(behind.dot(shank))).unit()
    };
    for (share, radius, swell) in [(0.3, 57.0, 9.0), (0.96, 37.0, 0.0)] {
        let point = leg.knee.towards(leg.ankle, share).plus(back.times(swell));
        discs.push(disc(camera.see(point), radius));
    }
    push(limb, cloth, chain(&discs), out);
    push(limb, shoe, shoe_data(leg, camera), out);
}

/// The shoe: heel, instep, ball and toe on a flat sole, turned about the ankle.
fn shoe_data(leg: &LegJoints, camera: Camera) -> String {
    let (sin, cos) = sin_cos(leg.pitch);
    let mut discs = Vec::new();
    for (x, y, radius) in [
        (-50.0, -36.0, 40.0),
        (18.0, -22.0, 44.0),
        (98.0, -47.0, 29.0),
        (152.0, -54.0, 22.0),
    ] {
        for z in [-24.0, 24.0] {
            let turned = v(x * cos - y * sin, y * cos + x * sin, z);
            discs.push(disc(camera.see(leg.ankle.plus(turned)), radius));
        }
    }
    hull(&discs)
}

fn neck_shape(body: &Body, camera: Camera, out: &mut Vec<Shape>) {
    let top = body.head.plus(v(-18.0, -64.0, 0.0));
    let discs = along(
        camera,
        body.neck.plus(v(0.0, -30.0, 0.0)),
        top,
        &[(0.0, 62.0), (0.5, 50.0), (1.0, 46.0)],
    );
    push(Limb::Trunk, "fg-skin", chain(&discs), out);
}

fn trunk_shape(body: &Body, camera: Camera, out: &mut Vec<Shape>) {
    let (near, far) = (body.near_arm.shoulder, body.far_arm.shoulder);
    let collar = near.towards(far, 0.5);
    let hips = middle_of_hips(body);
    let at = |point: V3, radius: f64| disc(camera.see(point), radius);
    // Halfway down the back the ribs; the same way across as the shoulders, only narrower.
    let ribs = collar.towards(hips, 0.45);
    let across = near.minus(far).unit();
    let rib = |side: f64| ribs.plus(across.times(side * 74.0));
    let waist = |side: f64| collar.towards(hips, 0.74).plus(across.times(side * 62.0));
    let inner = |point: V3| point.towards(collar, 0.12);
    let mut data = hull(&[
        at(inner(near), 58.0),
        at(inner(far), 58.0),
        at(body.neck.plus(v(0.0, -40.0, 0.0)), 66.0),
        at(rib(1.0), 92.0),
        at(rib(-1.0), 92.0),
    ]);
    data += &hull(&[
        at(rib(1.0), 92.0),
        at(rib(-1.0), 92.0),
        at(waist(1.0), 94.0),
        at(waist(-1.0), 94.0),
    ]);
    data += &hull(&[
        at(waist(1.0), 94.0),
        at(waist(-1.0), 94.0),
        at(body.near_leg.hip.plus(v(-6.0, 12.0, 0.0)), 92.0),
        at(body.far_leg.hip.plus(v(-6.0, 12.0, 0.0)), 92.0),
    ]);
    push(Limb::Trunk, "fg-mid", data, out);
}
