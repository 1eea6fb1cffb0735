//! Postures against worked poses, and laws over random ones.

use super::Posture;
use crate::body::{Body, Segment, Side};
use crate::joint::{Freedom, Limb, Middle};
use crate::limb::random_pose;
use crate::pose::Pose;
use crate::space::{Frame, Rotation, Vector};
use proptest::prelude::*;

/// Tilts from the vertical in the side view, forwards positive, as the worked poses give them.
pub(crate) struct Tilts {
    pub(crate) shank: f64,
    pub(crate) thigh: f64,
    pub(crate) trunk: f64,
    pub(crate) upper_arm: f64,
    pub(crate) elbow: f64,
}

/// The posture at 1.70 m with both feet flat and the ankles above the origin.
pub(crate) fn worked(tilts: &Tilts) -> Posture {
    let body = Body::of_stature_m(1.70).unwrap();
    let mut pose = Pose::upright_at(Frame {
        at: Vector::ZERO,
        turned: Rotation::about_left(tilts.trunk),
    });
    for side in Side::BOTH {
        let mut set = |limb, angle_deg| pose.set_deg(Freedom::Of(side, limb), angle_deg);
        set(Limb::HipFlexion, tilts.trunk - tilts.thigh);
        set(Limb::KneeFlexion, tilts.shank - tilts.thigh);
        set(Limb::AnkleFlexion, tilts.shank);
        set(Limb::ShoulderFlexion, tilts.trunk + tilts.upper_arm);
        set(Limb::ElbowFlexion, tilts.elbow);
    }
    let ankle = Posture::of(&body, &pose)
        .frame(Segment::Foot(Side::Left))
        .at;
    pose.pelvis.at = Vector::new(-ankle.x, 0.0, body.ankle_height_m() - ankle.z);
    Posture::of(&body, &pose)
}

/// Half of the last printed digit, in metres.
const HALF_DIGIT_M: f64 = 0.000_051;

#[test]
fn reference_worked_poses_have_the_printed_hips_and_centres() {
    // (shank, thigh, trunk, arms forwards, elbows) -> hip x, z and centre of mass x, z: worked out by hand from winter-2009 and
    // drillis-contini-1966 at 1.70 m, to four decimals of a metre. What was not worked out is not a number.
    const NONE: f64 = f64::NAN;
    let rows = [
        (
            "standing",
            [0.0, 0.0, 0.0, 0.0, 0.0],
            [0.0, 0.9010, 0.0028, 0.9779],
        ),
        (
            "arms forward",
            [0.0, 0.0, 0.0, 90.0, 0.0],
            [0.0, 0.9010, 0.0320, 1.0070],
        ),
        (
            "arms overhead",
            [0.0, 0.0, 0.0, 180.0, 0.0],
            [0.0, 0.9010, 0.0028, 1.0361],
        ),
        (
            "partial squat",
            [20.0, -40.0, 30.0, 60.0, 0.0],
            [-0.1247, 0.7783, 0.0607, 0.8620],
        ),
        (
            "sitting back",
            [5.0, -45.0, 0.0, 0.0, 0.0],
            [NONE, NONE, -0.1963, NONE],
        ),
        (
            "sitting back, trunk forward",
            [5.0, -45.0, 45.0, 0.0, 0.0],
            [NONE, NONE, -0.0388, NONE],
        ),
        (
            "seated",
            [0.0, -90.0, 0.0, 0.0, 90.0],
            [-0.4165, 0.4845, -0.3193, 0.6558],
        ),
        (
            "leaving the seat, arms forward",
            [20.0, -80.0, 45.0, 90.0, 0.0],
            [NONE, NONE, -0.0020, NONE],
        ),
    ];
    for (name, [shank, thigh, trunk, upper_arm, elbow], expected) in rows {
        let posture = worked(&Tilts {
            shank,
            thigh,
            trunk,
            upper_arm,
            elbow,
        });
        let (hips, centre) = (posture.frame(Segment::Pelvis).at, posture.centre_of_mass());
        let found = [hips.x, hips.z, centre.x, centre.z];
        for (found, expected) in found.into_iter().zip(expected) {
            let differs = (found - expected).abs();
            assert!(
                expected.is_nan() || differs < HALF_DIGIT_M,
                "{name}: {found} not {expected}"
            );
        }
    }
}

#[test]
fn upright_the_body_is_as_tall_as_its_stature() {
    let posture = worked(&Tilts {
        shank: 0.0,
        thigh: 0.0,
        trunk: 0.0,
        upper_arm: 0.0,
        elbow: 0.0,
    });
    assert!((posture.end(Segment::Head).z - 1.70).abs() < 1e-12);
    for side in Side::BOTH {
        assert!(posture.end(Segment::Foot(side)).z.abs() < 1e-12);
    }
}

#[test]
fn every_angle_moves_the_way_it_is_called() {
    let body = Body::of_stature_m(1.70).unwrap();
    let moved = |freedom, segment| {
        let mut pose = Pose::UPRIGHT;
        let before = Posture::of(&body, &pose).end(segment);
        pose.set_deg(freedom, 20.0);
        Posture::of(&body, &pose).end(segment) - before
    };
    for side in Side::BOTH {
        let of = |limb| Freedom::Of(side, limb);
        let out = side.sign();
        assert!(moved(of(Limb::HipFlexion), Segment::Shank(side)).x > 0.0);
        assert!(moved(of(Limb::HipAbduction), Segment::Shank(side)).y * out > 0.0);
        assert!(moved(of(Limb::HipRotation), Segment::Foot(side)).y * out < 0.0);
        assert!(moved(of(Limb::KneeFlexion), Segment::Shank(side)).x < 0.0);
        assert!(moved(of(Limb::AnkleFlexion), Segment::Foot(side)).z > 0.0);
        assert!(moved(of(Limb::ToeExtension), Segment::Foot(side)).z > 0.0);
        assert!(moved(of(Limb::ShoulderFlexion), Segment::Hand(side)).x > 0.0);
        assert!(moved(of(Limb::ShoulderAbduction), Segment::Hand(side)).y * out > 0.0);
        assert!(moved(of(Limb::ElbowFlexion), Segment::Hand(side)).x > 0.0);
        assert!(moved(of(Limb::WristFlexion), Segment::Hand(side)).y * out < 0.0);
        assert!(moved(of(Limb::WristDeviation), Segment::Hand(side)).x > 0.0);
        let turned = |limb| {
            let mut pose = Pose::UPRIGHT;
            pose.set_deg(of(limb), 20.0);
            Posture::of(&body, &pose)
        };
        // The thumb side looks forwards: turned inwards it looks to the other side. The sole looks down: inwards likewise.
        let thumb = turned(Limb::ForearmPronation)
            .frame(Segment::Hand(side))
            .turned
            .forward;
        assert!(thumb.y * out < 0.0);
        let sole = -turned(Limb::AnkleInversion)
            .frame(Segment::Foot(side))
            .turned
            .up;
        assert!(sole.y * out < 0.0);
        let front = turned(Limb::ShoulderRotation)
            .frame(Segment::UpperArm(side))
            .turned
            .forward;
        assert!(front.y * out < 0.0);
    }
    let of = Freedom::Middle;
    assert!(moved(of(Middle::TrunkFlexion), Segment::Head).x > 0.0);
    assert!(moved(of(Middle::TrunkSideBend), Segment::Head).y > 0.0);
    assert!(moved(of(Middle::NeckFlexion), Segment::Head).x > 0.0);
    assert!(moved(of(Middle::NeckSideBend), Segment::Head).y > 0.0);
    let mut pose = Pose::UPRIGHT;
    pose.set_deg(of(Middle::TrunkTurn), 20.0);
    pose.set_deg(of(Middle::NeckTurn), 20.0);
    let posture = Posture::of(&body, &pose);
    let face = posture.frame(Segment::Head).turned.forward;
    let chest = posture.frame(Segment::Thorax).turned.forward;
    assert!(face.y > chest.y && chest.y > 0.0);
}

proptest! {
    #[test]
    fn law_bones_keep_their_length(pose in random_pose(), stature_m in 1.4..2.0) {
        let body = Body::of_stature_m(stature_m).unwrap();
        let posture = Posture::of(&body, &pose);
        for segment in Segment::ALL {
            if !matches!(segment, Segment::Foot(_)) {
                let long = posture.frame(segment).at.distance(posture.end(segment));
                prop_assert!((long - body.length_m(segment)).abs() < 1e-12, "{segment:?}");
            }
        }
    }

    #[test]
    fn law_the_angles_are_found_again(pose in random_pose()) {
        let body = Body::of_stature_m(1.7).unwrap();
        let found = Posture::of(&body, &pose).pose();
        for freedom in Freedom::all() {
            let differs = found.angle_deg(freedom) - pose.angle_deg(freedom);
            prop_assert!(differs.abs() < 1e-8, "{freedom}: {differs}");
        }
        prop_assert!(found.pelvis == pose.pelvis);
    }

    #[test]
    fn law_the_posture_of_the_mirrored_pose_is_the_mirrored_posture(pose in random_pose()) {
        let body = Body::of_stature_m(1.7).unwrap();
        let (posture, mirrored) = (Posture::of(&body, &pose), Posture::of(&body, &pose.mirrored()));
        for segment in Segment::ALL {
            let differs = mirrored.end(segment.mirrored()) - posture.end(segment).mirrored();
            prop_assert!(differs.length() < 1e-12, "{segment:?}");
        }
        let differs = mirrored.centre_of_mass() - posture.centre_of_mass().mirrored();
        prop_assert!(differs.length() < 1e-12);
    }
}
