//! Drawings of computed scenes: what is painted, in which order, and what the ghost leaves out.

use handouts::figure::{Build, drawn};
use motion::body::{Body, Side};
use motion::joint::{Freedom, Limb};
use motion::pose::Pose;
use motion::posture::Posture;
use motion::room::{Chair, Room};
use motion::scene::{Camera, Scene};
use motion::space::{Frame, Rotation, Vector};

const ROOM: Room = Room {
    chair: Some(Chair {
        seat_m: 0.45,
        back_x: -0.45,
        depth_m: 0.42,
        breadth_m: 0.45,
        arms_m: None,
    }),
    ..Room::EMPTY
};

fn scene(change: impl Fn(&mut Pose), camera: Camera) -> Scene {
    let body = Body::of_stature_m(1.62).expect("an adult").drawn();
    let mut pose = Pose::upright_at(Frame {
        at: Vector::new(0.0, 0.0, 0.53 * 1.62),
        turned: Rotation::NONE,
    });
    change(&mut pose);
    Scene::of(&Posture::of(&body, &pose), &ROOM, &camera)
}

fn upright() -> Scene {
    scene(|_| {}, Camera::SIDE)
}

fn knee_up() -> Scene {
    let lift = |pose: &mut Pose| {
        pose.set_deg(Freedom::Of(Side::Left, Limb::HipFlexion), 60.0);
        pose.set_deg(Freedom::Of(Side::Left, Limb::KneeFlexion), 70.0);
    };
    scene(lift, Camera::SIDE)
}

#[test]
fn a_drawing_has_its_title_the_person_and_what_stands_there() {
    let still = drawn(&upright(), None, Build::First, "Stand & <wait>");
    assert!(
        still
            .svg
            .contains("<title>Stand &amp; &lt;wait&gt;</title>")
    );
    for class in [
        "near", "far", "sleeve", "mid", "skin", "hair", "shoe", "shoe2", "wood", "cloth", "shadow",
    ] {
        assert!(still.svg.contains(&format!("\"fg-{class}\"")), "{class}");
    }
    assert!(!still.svg.contains("fg-ghost"));
    assert!(!still.svg.contains("NaN") && !still.svg.contains("inf"));
    // A person of 1.62 m from 7 degrees above, with paper round it.
    assert!(
        (1600..1850).contains(&still.height_mm),
        "{}",
        still.height_mm
    );
    assert!(still.width_mm < still.height_mm);
}

#[test]
fn near_is_painted_over_far_and_the_chair_is_behind() {
    let svg = drawn(&upright(), None, Build::Second, "").svg;
    let place = |class: &str| svg.find(&format!("\"fg-{class}\"")).expect("it is painted");
    assert!(place("shadow") < place("cloth"));
    assert!(place("cloth") < place("far"));
    assert!(place("far") < place("near"));
    assert!(place("near") < place("mid"));
    assert!(place("mid") < place("sleeve"));
}

#[test]
fn the_ghost_holds_only_what_moved() {
    let svg = drawn(&knee_up(), Some(&upright()), Build::First, "").svg;
    // The far leg and its shoe: one outline and one fill each. The rest of the person is where it was.
    let edge = svg
        .split_once("<g class=\"fg-ghost-edge\">")
        .expect("a ghost")
        .1;
    let edge = edge.split_once("</g>").expect("its end").0;
    assert_eq!(edge.matches("<path").count(), 2, "{edge}");
    assert!(!svg.contains("fg-ghost-in"), "a far leg has no inner edge");
    let same = drawn(&upright(), Some(&upright()), Build::First, "").svg;
    assert!(!same.contains("fg-ghost"));
}

#[test]
fn the_face_is_seen_from_the_front_when_it_is_turned_there() {
    let side = drawn(&upright(), None, Build::Fourth, "").svg;
    let front = drawn(&scene(|_| {}, Camera::FRONT), None, Build::Fourth, "").svg;
    // One ear from the side, and spectacles with two lenses from the front.
    assert!(side.contains("M-4 4C10-2") && !front.contains("M-4 4C10-2"));
    assert!(front.contains("ZM28-20") && !side.contains("ZM28-20"));
}

#[test]
fn a_drawing_with_its_ghost_stays_small() {
    for build in Build::ALL {
        let bytes = drawn(&knee_up(), Some(&upright()), build, "March")
            .svg
            .len();
        assert!(bytes < 12_000, "{bytes}");
    }
}
