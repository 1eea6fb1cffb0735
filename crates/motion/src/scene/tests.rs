//! Scenes: what falls where on the paper, and what lies before what.

use super::{Camera, Outline, Paint, Scene};
use crate::body::{Body, Segment, Side};
use crate::joint::{Freedom, Limb};
use crate::limb::random_pose;
use crate::pose::Pose;
use crate::posture::Posture;
use crate::room::{Bar, Chair, Room, Step, Worktop};
use crate::space::{Frame, Rotation, Vector};
use proptest::prelude::*;

fn body() -> Body {
    Body::of_stature_m(1.62).unwrap().drawn()
}

fn upright() -> Pose {
    Pose::upright_at(Frame {
        at: Vector::new(0.0, 0.0, 0.53 * 1.62),
        turned: Rotation::NONE,
    })
}

fn place(scene: &Scene, paint: Paint) -> usize {
    let Some(place) = scene.parts.iter().position(|part| part.paint == paint) else {
        panic!("{paint:?} is painted");
    };
    place
}

#[test]
fn from_the_right_side_forward_is_to_the_right_and_the_right_hand_is_near() {
    let camera = Camera {
        turn_deg: 0.0,
        above_deg: 0.0,
    };
    let seen = camera.see(Vector::new(0.3, 0.2, 1.0));
    assert!((seen.x_mm - 300.0).abs() < 1e-9 && (seen.y_mm + 1000.0).abs() < 1e-9);
    assert!(camera.nearness_m(-Vector::LEFT) > camera.nearness_m(Vector::LEFT));
    // From the front the person's left is to the right on the paper.
    let front = Camera {
        turn_deg: 90.0,
        above_deg: 0.0,
    };
    assert!((front.see(Vector::LEFT).x_mm - 1000.0).abs() < 1e-9);
    assert!(front.nearness_m(Vector::FORWARD) > 0.9);
}

#[test]
fn an_upright_person_is_as_tall_on_the_paper_as_in_life() {
    let level = Camera {
        turn_deg: 26.0,
        above_deg: 0.0,
    };
    let scene = Scene::of_person(&Posture::of(&body(), &upright()), &level);
    let Some([least, most]) = scene.corners() else {
        panic!("a person is seen");
    };
    assert!((least.y_mm + 1620.0).abs() < 1.0, "{least:?}");
    // Soles are rounded where they are drawn.
    assert!(most.y_mm.abs() < 3.0, "{most:?}");
    // Over the upper arms a body is .259 of stature and two half girths broad, seen 26 degrees from the side.
    assert!(most.x_mm - least.x_mm < 620.0);
}

#[test]
fn far_lies_behind_near_and_an_arm_that_reaches_forward_before_the_trunk() {
    let side = Camera::SIDE;
    let scene = Scene::of_person(&Posture::of(&body(), &upright()), &side);
    assert!(place(&scene, Paint::FarSleeve) < place(&scene, Paint::Trunk));
    assert!(place(&scene, Paint::FarLeg) < place(&scene, Paint::Leg));
    assert!(place(&scene, Paint::Leg) < place(&scene, Paint::Trunk));
    assert!(place(&scene, Paint::Trunk) < place(&scene, Paint::Sleeve));
    let mut reaching = upright();
    reaching.set_deg(Freedom::Of(Side::Left, Limb::ShoulderFlexion), 80.0);
    let front = Scene::of_person(&Posture::of(&body(), &reaching), &Camera::FRONT);
    assert!(place(&front, Paint::FarSleeve) > place(&front, Paint::Trunk));
}

#[test]
fn the_head_tells_where_it_looks() {
    let head = |turn_deg| {
        let camera = Camera {
            turn_deg,
            above_deg: 0.0,
        };
        let scene = Scene::of_person(&Posture::of(&body(), &upright()), &camera);
        let found = scene.parts.into_iter().find_map(|part| match part.outline {
            Outline::Head(head) => Some(head),
            _ => None,
        });
        found.unwrap()
    };
    assert!(head(0.0).facing_deg.abs() < 1e-9 && head(0.0).tilt_deg.abs() < 1e-9);
    assert!((head(64.0).facing_deg - 64.0).abs() < 1e-9);
}

#[test]
fn furniture_lies_behind_the_person_but_for_the_near_leg_of_the_chair() {
    let room = Room {
        chair: Some(Chair {
            seat_m: 0.45,
            back_x: -0.4,
            depth_m: 0.42,
            breadth_m: 0.45,
            arms_m: None,
        }),
        worktop: Some(Worktop {
            top_m: 0.9,
            edge_x: 0.2,
        }),
        ..Room::EMPTY
    };
    let scene = Scene::of(&Posture::of(&body(), &upright()), &room, &Camera::SIDE);
    assert_eq!(scene.parts[0].paint, Paint::Shadow);
    let person = place(&scene, Paint::Trunk);
    let after: Vec<Paint> = scene.parts[person..]
        .iter()
        .map(|part| part.paint)
        .filter(|paint| matches!(paint, Paint::Wood | Paint::Cloth | Paint::FarWood))
        .collect();
    assert_eq!(after, [Paint::Wood]);
    assert!(place(&scene, Paint::Cloth) < person);
}

#[test]
fn step_and_bar_are_seen() {
    let with = |room: Room| Scene::of(&Posture::of(&body(), &upright()), &room, &Camera::SIDE);
    let bare = with(Room::EMPTY);
    let step = with(Room {
        step: Some(Step {
            height_m: 0.1,
            edge_x: 0.15,
            depth_m: 0.4,
        }),
        ..Room::EMPTY
    });
    let bar = with(Room {
        bar: Some(Bar { top_m: 0.9, x: 0.2 }),
        ..Room::EMPTY
    });
    assert_eq!(bare.parts.len(), 12);
    assert_eq!(step.parts.len() - bare.parts.len(), 3);
    assert_eq!(bar.parts.len() - bare.parts.len(), 8);
    // The top of the bar is where hands will lie on it.
    let top = Camera::SIDE.see(Vector::new(0.2 * 1.62, -0.21, 0.9));
    let seen = bar.parts.iter().flat_map(|part| part.outline.discs());
    let nearest = seen
        .map(|disc| libm::hypot(disc.at.x_mm - top.x_mm, disc.at.y_mm - top.y_mm))
        .fold(f64::INFINITY, f64::min);
    assert!(nearest < 1e-6, "{nearest}");
}

proptest! {
    #[test]
    fn law_every_pose_gives_the_same_parts_and_finite_numbers(pose in random_pose(), turn_deg in -180.0..180.0, above_deg in -20.0..60.0) {
        let camera = Camera { turn_deg, above_deg };
        let posture = Posture::of(&body(), &pose);
        let scene = Scene::of_person(&posture, &camera);
        prop_assert_eq!(scene.parts.len(), 11);
        for part in &scene.parts {
            for disc in part.outline.discs() {
                prop_assert!(disc.at.x_mm.is_finite() && disc.at.y_mm.is_finite() && disc.radius_mm > 0.0);
            }
        }
        let knee = camera.see(posture.frame(Segment::Shank(Side::Left)).at);
        let drawn = scene.parts.iter().any(|part| part.outline.discs().iter().any(|disc| {
            libm::hypot(disc.at.x_mm - knee.x_mm, disc.at.y_mm - knee.y_mm) < 1e-6
        }));
        prop_assert!(drawn, "the knee is a joint of the drawing");
    }
}
