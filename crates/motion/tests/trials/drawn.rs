//! What the pictures of the trial movements show: nothing before what hides it, and every way.

use super::movements;
use motion::body::{Body, Side};
use motion::cycle::Cycle;
use motion::posture::Posture;
use motion::reel::{Reel, Views};
use motion::room::Room;
use motion::scene::{Camera, Item, Look, Paint, Stage};
use motion::space::Vector;

fn drawn_cycles() -> Vec<(&'static str, Cycle)> {
    let body = Body::of_stature_m(1.62).expect("an adult").drawn();
    let cycle = |movement| Cycle::of(&body, movement).expect("the movement can be made");
    movements::all()
        .iter()
        .map(|trial| (trial.name, cycle(&trial.movement)))
        .collect()
}

/// Least and greatest corner of a box.
type Solid = [Vector; 2];

/// Seat, worktop and step as the drawing has them.
fn solids(body: &Body, room: &Room) -> Vec<Solid> {
    let at = |share: f64| share * body.stature_m();
    let mut solids = Vec::new();
    if let Some(chair) = room.chair {
        let (back, half) = (at(chair.back_x), chair.breadth_m / 2.0);
        solids.push([
            Vector::new(back, -half, chair.seat_m - 0.05),
            Vector::new(back + chair.depth_m, half, chair.seat_m),
        ]);
    }
    if let Some(worktop) = room.worktop {
        let edge = at(worktop.edge_x);
        solids.push([
            Vector::new(edge, -0.42, worktop.top_m - 0.045),
            Vector::new(edge + 0.45, 0.42, worktop.top_m),
        ]);
    }
    if let Some(step) = room.step {
        let edge = at(step.edge_x);
        solids.push([
            Vector::new(edge, -0.42, 0.0),
            Vector::new(edge + step.depth_m, 0.42, step.height_m),
        ]);
    }
    solids
}

/// The shares of a way from a point in a direction that lie inside of a box, if any.
fn inside([low, high]: Solid, from: Vector, way: Vector) -> Option<[f64; 2]> {
    let axes = [
        (from.x, way.x, low.x, high.x),
        (from.y, way.y, low.y, high.y),
        (from.z, way.z, low.z, high.z),
    ];
    let mut span = [f64::NEG_INFINITY, f64::INFINITY];
    for (from, way, low, high) in axes {
        let [a, b] = [(low - from) / way, (high - from) / way];
        span = [span[0].max(a.min(b)), span[1].min(a.max(b))];
    }
    (span[0] < span[1]).then_some(span)
}

/// The direction to the viewer.
fn to_viewer(camera: Camera) -> Vector {
    Vector::new(
        camera.nearness_m(Vector::FORWARD),
        camera.nearness_m(Vector::LEFT),
        camera.nearness_m(Vector::UP),
    )
}

#[test]
fn law_a_limb_behind_furniture_is_painted_before_it_and_one_in_front_after_it() {
    // A joint counts when the line of sight through it meets the box a good way off. Known gap: one limb may be behind with one
    // end and in front with the other, and is painted as a whole; so a few joints in a thousand are on the wrong side.
    const CLEAR_M: f64 = 0.06;
    let (mut met, mut wrong) = (0, Vec::new());
    for (name, cycle) in drawn_cycles() {
        let solids = solids(cycle.body(), cycle.room());
        for camera in [
            Camera::SIDE,
            Camera::THREE_QUARTER,
            Camera::FRONT,
            Camera::BACK,
        ] {
            let stage = Stage::of(cycle.body(), cycle.room(), &camera, &Look::MIDDLE);
            let viewer = to_viewer(camera);
            for at_ms in cycle.frames_ms().step_by(2) {
                let pose = cycle.at_ms(f64::from(at_ms)).expect("every limb reaches");
                let posture = Posture::of(cycle.body(), &pose);
                let scene = stage.scene(&posture);
                let place = |is: &dyn Fn(&motion::scene::Part) -> bool| {
                    scene.parts().iter().rposition(is).expect("it is painted")
                };
                let solid_place = |_| place(&|part| !part.person && part.paint == Paint::Cloth);
                for item in Side::BOTH
                    .into_iter()
                    .flat_map(|side| [Item::Shank(side), Item::Thigh(side)])
                {
                    let parts = &stage.blueprint().parts;
                    let limb = place(&|part| {
                        part.person
                            && parts[usize::from(part.piece)].item == item
                            && !parts[usize::from(part.piece)].seam
                    });
                    for joint in middles(&posture, item) {
                        for solid in &solids {
                            let Some([from, to]) = inside(*solid, joint, viewer) else {
                                continue;
                            };
                            if from.max(-to) < CLEAR_M {
                                continue;
                            }
                            met += 1;
                            let is_behind = from > 0.0;
                            if (limb < solid_place(solid)) != is_behind {
                                wrong.push(format!(
                                    "{name} {camera:?} {at_ms} {item:?} {is_behind}"
                                ));
                            }
                        }
                    }
                }
            }
        }
    }
    assert!(met > 500, "{met}");
    assert!(
        wrong.len() * 100 <= met,
        "{} of {met}: {:#?}",
        wrong.len(),
        &wrong[..wrong.len().min(12)]
    );
}

/// Points along a leg's bone.
fn middles(posture: &Posture, item: Item) -> Vec<Vector> {
    let segment = match item {
        Item::Shank(side) => motion::body::Segment::Shank(side),
        Item::Thigh(side) => motion::body::Segment::Thigh(side),
        other => panic!("{other:?} is no part of a leg"),
    };
    let (from, to) = (posture.frame(segment).at, posture.end(segment));
    [0.3, 0.5, 0.7]
        .map(|share| from + (to - from) * share)
        .into()
}

#[test]
fn law_what_moves_most_is_seen_in_one_of_the_views() {
    for (name, cycle) in drawn_cycles() {
        let views = Views::of(&cycle).expect("every limb reaches");
        assert!(views.least_seen > 0.6, "{name}: {views:?}");
        let sideways = ["side step", "side leg lift"].contains(&name);
        assert_eq!(views.main != Camera::SIDE, sideways, "{name}: {views:?}");
    }
}

#[test]
fn law_a_reel_tells_every_picture_and_begins_again_where_it_ends() {
    for (name, cycle) in drawn_cycles() {
        let reel = Reel::of(&cycle, &Camera::SIDE, &Look::MIDDLE, 24).expect("every limb reaches");
        assert!(
            reel.frames().len() <= 24 && reel.frames()[0].at_ms == 0,
            "{name}"
        );
        let served: usize = reel.orders().iter().map(|(_, count)| count).sum();
        assert_eq!(served, reel.frames().len(), "{name}");
        let times = reel
            .frames()
            .windows(2)
            .all(|pair| pair[0].at_ms < pair[1].at_ms);
        assert!(times, "{name}");
        // Straight ways between its moments stay near the film; only the longest, 12.6 s of stepping up and down, is told more roughly.
        let most_mm = if name == "step up" { 100.0 } else { 30.0 };
        assert!(reel.worst_mm() < most_mm, "{name}: {} mm", reel.worst_mm());
    }
}

#[test]
fn the_still_of_rising_from_a_chair_ends_upright() {
    let cycles = drawn_cycles();
    let (_, rising) = cycles
        .iter()
        .find(|(name, _)| *name == "sit to stand")
        .expect("it is there");
    let reel = Reel::of(rising, &Camera::SIDE, &Look::MIDDLE, 24).expect("every limb reaches");
    let hips_m = |at_ms: u32| {
        rising
            .at_ms(f64::from(at_ms))
            .expect("it reaches")
            .pelvis
            .at
            .z
    };
    let end = reel.frames()[reel.farthest()].at_ms;
    assert!(hips_m(end) - hips_m(0) > 0.3);
}
