//! Scenes: what falls where on the paper, and what lies before what.

use super::{Camera, Hair, Item, Look, Paint, Scene, Stage};
use crate::body::{Body, Side};
use crate::joint::{Freedom, Limb, Middle};
use crate::limb::random_pose;
use crate::pose::Pose;
use crate::posture::Posture;
use crate::room::{Bar, Chair, Rail, RailOf, Room, Step, Wall, Worktop};
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

fn scene(pose: &Pose, room: &Room, camera: Camera) -> Scene {
    Stage::of(&body(), room, &camera, &Look::MIDDLE).scene(&Posture::of(&body(), pose))
}

/// The places of the parts of a paint.
fn places(scene: &Scene, paint: Paint) -> Vec<usize> {
    let parts = scene.parts().iter().enumerate();
    let found: Vec<usize> = parts
        .filter(|(_, part)| part.paint == paint)
        .map(|(place, _)| place)
        .collect();
    assert!(!found.is_empty(), "{paint:?} is painted");
    found
}

fn first(scene: &Scene, paint: Paint) -> usize {
    places(scene, paint)[0]
}

fn last(scene: &Scene, paint: Paint) -> usize {
    *places(scene, paint).last().unwrap()
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
    let scene = scene(&upright(), &Room::EMPTY, level);
    let [least, most] = scene.corners().unwrap();
    // Hair lies a little over the crown, and shoes are rounded.
    assert!((least.y_mm + 1620.0).abs() < 12.0, "{least:?}");
    assert!(most.y_mm.abs() < 12.0, "{most:?}");
    assert!(most.x_mm - least.x_mm < 760.0, "with the shadow");
}

#[test]
fn far_lies_behind_near_and_an_arm_that_reaches_forward_before_the_trunk() {
    let side = scene(&upright(), &Room::EMPTY, Camera::SIDE);
    assert!(last(&side, Paint::FarSleeve) < first(&side, Paint::Trunk));
    assert!(last(&side, Paint::FarLeg) < first(&side, Paint::Leg));
    assert!(last(&side, Paint::Leg) < first(&side, Paint::Trunk));
    assert!(first(&side, Paint::Trunk) < first(&side, Paint::Sleeve));
    let mut folded = upright();
    folded.set_deg(Freedom::Of(Side::Left, Limb::ShoulderFlexion), 40.0);
    folded.set_deg(Freedom::Of(Side::Left, Limb::ShoulderRotation), 60.0);
    folded.set_deg(Freedom::Of(Side::Left, Limb::ElbowFlexion), 110.0);
    let front = scene(&folded, &Room::EMPTY, Camera::THREE_QUARTER);
    assert!(last(&front, Paint::FarSleeve) > first(&front, Paint::Trunk));
}

#[test]
fn a_knee_that_comes_towards_the_viewer_lies_over_the_trunk_and_the_other_leg() {
    let mut lifted = upright();
    lifted.set_deg(Freedom::Of(Side::Left, Limb::HipFlexion), 85.0);
    lifted.set_deg(Freedom::Of(Side::Left, Limb::KneeFlexion), 80.0);
    let front = scene(&lifted, &Room::EMPTY, Camera::FRONT);
    assert!(last(&front, Paint::Leg) > first(&front, Paint::Trunk));
    let side = scene(&lifted, &Room::EMPTY, Camera::SIDE);
    assert!(first(&side, Paint::FarLeg) < first(&side, Paint::Leg));
}

/// The places of the top of a box and of the last trouser leg.
fn box_and_legs(room: &Room, camera: Camera) -> [usize; 2] {
    let scene = scene(&upright(), room, camera);
    let legs = [Paint::Leg, Paint::FarLeg].into_iter();
    let legs = legs.flat_map(|paint| {
        let parts = scene.parts().iter().enumerate();
        parts
            .filter(move |(_, part)| part.paint == paint)
            .map(|(place, _)| place)
            .collect::<Vec<_>>()
    });
    [last(&scene, Paint::Cloth), legs.max().unwrap()]
}

#[test]
fn a_worktop_hides_who_stands_behind_it_and_is_hidden_by_who_stands_before_it() {
    let room = Room {
        worktop: Some(Worktop {
            top_m: 0.6,
            edge_x: 0.2,
        }),
        ..Room::EMPTY
    };
    let [top, legs] = box_and_legs(&room, Camera::FRONT);
    assert!(legs < top, "from the front the worktop is nearer");
    let [top, legs] = box_and_legs(&room, Camera::BACK);
    assert!(top < legs, "from behind the person is");
}

#[test]
fn whoever_sits_is_before_the_seat_from_every_side_that_sees_the_knees() {
    let room = Room {
        chair: Some(Chair {
            seat_m: 0.45,
            back_x: -0.14,
            depth_m: 0.42,
            breadth_m: 0.45,
            arms_m: None,
        }),
        ..Room::EMPTY
    };
    let mut sitting = upright();
    sitting.pelvis.at = Vector::new(0.0, 0.0, 0.45 + 0.05 * 1.62);
    for side in Side::BOTH {
        sitting.set_deg(Freedom::Of(side, Limb::HipFlexion), 88.0);
        sitting.set_deg(Freedom::Of(side, Limb::KneeFlexion), 88.0);
        sitting.set_deg(Freedom::Of(side, Limb::ShoulderFlexion), 30.0);
        sitting.set_deg(Freedom::Of(side, Limb::ElbowFlexion), 60.0);
    }
    for camera in [Camera::SIDE, Camera::THREE_QUARTER, Camera::FRONT] {
        let scene = scene(&sitting, &room, camera);
        let seat = last(&scene, Paint::Cloth);
        let thigh = last(&scene, Paint::Leg);
        assert!(seat < thigh, "{camera:?}");
        // The back of the chair is the last thing behind the trunk from the front.
        assert!(first(&scene, Paint::ShadedCloth) < first(&scene, Paint::Trunk));
    }
}

#[test]
fn step_and_bar_are_seen_and_a_hand_closes_round_the_bar() {
    let with = |room: Room| scene(&upright(), &room, Camera::SIDE);
    let bare = with(Room::EMPTY).parts().len();
    let step = with(Room {
        step: Some(Step {
            height_m: 0.1,
            edge_x: 0.15,
            depth_m: 0.4,
        }),
        ..Room::EMPTY
    });
    let bar = |x| Room {
        bar: Some(Bar { top_m: 0.74, x }),
        ..Room::EMPTY
    };
    assert_eq!(step.parts().len() - bare, 3);
    // Four legs, the seat with three sides, and the back.
    assert_eq!(with(bar(0.3)).parts().len() - bare, 8);
    // The hands of hanging arms are at 0.7 m: round a bar there the fingers are bent, so a hand is shorter.
    let length_mm = |room: Room| {
        let scene = with(room);
        let hand = scene.parts()[first(&scene, Paint::Skin)..].iter();
        let hand = hand.filter(|part| part.paint == Paint::Skin && part.person);
        let lengths = hand.map(|part| {
            let discs: Vec<_> = scene.hulls(part).flatten().collect();
            discs[0].at.distance_mm(discs[discs.len() / 2].at)
        });
        lengths.fold(0.0, f64::max)
    };
    assert!(length_mm(bar(0.0)) < length_mm(bar(0.3)) - 5.0);
}

#[test]
fn a_face_is_told_by_its_nose_from_the_front_and_covered_by_hair_from_behind() {
    let seen = |camera: Camera| scene(&upright(), &Room::EMPTY, camera);
    let has_nose = |scene: &Scene| scene.parts().iter().any(|part| part.paint == Paint::Nose);
    assert!(has_nose(&seen(Camera::FRONT)));
    assert!(!has_nose(&seen(Camera::SIDE)), "there it is in the outline");
    let behind = seen(Camera::BACK);
    assert!(!has_nose(&behind));
    let head: Vec<Paint> = behind
        .parts()
        .iter()
        .filter(|part| part.person && part.paint != Paint::FarSkin)
        .map(|part| part.paint)
        .filter(|paint| matches!(paint, Paint::Skin | Paint::Hair))
        .collect();
    let hair = head
        .iter()
        .rposition(|paint| *paint == Paint::Hair)
        .unwrap();
    let face = head.iter().position(|paint| *paint == Paint::Skin).unwrap();
    assert!(face < hair);
    let mut turned = upright();
    turned.set_deg(Freedom::Middle(Middle::NeckTurn), 35.0);
    let front = scene(&turned, &Room::EMPTY, Camera::FRONT);
    let nose = |scene: &Scene| {
        let part = scene.parts()[first(scene, Paint::Nose)];
        let disc = scene.hulls(&part).next().unwrap()[1];
        disc.at.x_mm
    };
    assert!(
        nose(&front) - nose(&seen(Camera::FRONT)) > 40.0,
        "to the person's left"
    );
}

#[test]
fn every_look_has_all_items_and_thicker_ones_are_broader() {
    let breadth = |look: &Look| {
        let stage = Stage::of(&body(), &Room::EMPTY, &Camera::FRONT, look);
        let scene = stage.scene(&Posture::of(&body(), &upright()));
        let trunk = scene.parts()[first(&scene, Paint::Trunk)];
        let discs = scene.hulls(&trunk).last().unwrap().iter();
        discs
            .map(|disc| disc.at.x_mm + disc.radius_mm)
            .fold(0.0, f64::max)
    };
    let thick = Look {
        waist: 1.2,
        ..Look::MIDDLE
    };
    assert!(breadth(&thick) > breadth(&Look::MIDDLE) + 8.0);
    for hair in [Hair::Bun, Hair::Short, Hair::Curls, Hair::Crown] {
        for spectacles in [false, true] {
            let look = Look {
                hair,
                spectacles,
                ..Look::MIDDLE
            };
            let stage = Stage::of(&body(), &Room::EMPTY, &Camera::FRONT, &look);
            let scene = stage.scene(&Posture::of(&body(), &upright()));
            let lines = scene
                .parts()
                .iter()
                .filter(|part| part.paint == Paint::Line);
            assert_eq!(lines.count(), usize::from(spectacles), "{hair:?}");
            first(&scene, Paint::Hair);
        }
    }
}

proptest! {
    #[test]
    fn law_every_pose_shows_every_item_once_with_finite_numbers(pose in random_pose(), turn_deg in -180.0..180.0, above_deg in -20.0..60.0) {
        let camera = Camera { turn_deg, above_deg };
        let room = Room {
            chair: Some(Chair { seat_m: 0.45, back_x: -0.3, depth_m: 0.42, breadth_m: 0.45, arms_m: Some(0.66) }),
            worktop: Some(Worktop { top_m: 0.9, edge_x: 0.2 }),
            step: Some(Step { height_m: 0.1, edge_x: 0.3, depth_m: 0.4 }),
            bar: Some(Bar { top_m: 0.9, x: 0.5 }),
            wall: Some(Wall { x: 0.5 }),
            rail: Some(Rail { of: RailOf::Stairs, y: 0.2, top_m: 0.9, slope_deg: 30.0 }),
            stick: None,
        };
        let stage = Stage::of(&body(), &room, &camera, &Look::MIDDLE);
        let scene = stage.scene(&Posture::of(&body(), &pose));
        for part in scene.parts() {
            for disc in scene.hulls(part).flatten() {
                prop_assert!(disc.at.x_mm.is_finite() && disc.at.y_mm.is_finite() && disc.radius_mm >= 0.0);
            }
        }
        let pieces: Vec<usize> = scene.parts().iter().filter(|part| part.person).map(|part| usize::from(part.piece)).collect();
        let parts = &stage.blueprint().parts;
        for (number, part) in parts.iter().enumerate() {
            let times = pieces.iter().filter(|piece| **piece == number).count();
            let always = part.item != Item::Head && !part.hulls.is_empty();
            prop_assert!(times <= 1 && (times == 1 || !always), "{:?} {times}", part.item);
        }
        // What covers a joint comes after both of its bones.
        for (place, piece) in pieces.iter().enumerate().filter(|(_, piece)| parts[**piece].seam) {
            let item = parts[*piece].item;
            let bones = pieces[place + 1..].iter().filter(|later| parts[**later].item == item);
            prop_assert_eq!(bones.count(), 0);
        }
    }
}
