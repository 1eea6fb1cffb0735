//! From where a foot or a hand is to be, to the angles of its leg or arm: two bones in closed form.
//!
//! A leg has six angles and a placed foot asks for six, so there is one answer with the knee in front: the knee bends in the plane of
//! the line from hip to ankle and the direction of the foot. An arm has seven and a placed hand asks for six: the elbow is told where
//! to point.

use crate::body::{Body, Segment, Side};
use crate::joint::{Freedom, Limb};
use crate::pose::Pose;
use crate::posture::{ArmTurns, LegTurns, Posture};
use crate::space::{Frame, Rotation, Vector, atan2_deg};

/// Where foot or hand cannot be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unreachable {
    /// Too far away, by this much.
    TooFar {
        /// What the bones lack.
        by_m: f64,
    },
    /// Nearer than the bones fold, by this much.
    TooNear {
        /// What the bones have too much.
        by_m: f64,
    },
    /// Knee or elbow has no side to bend to, because it is told to point along the limb.
    NoPlane,
}

impl core::fmt::Display for Unreachable {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::TooFar { by_m } => write!(f, "it is {:.1} mm too far away", by_m * 1000.0),
            Self::TooNear { by_m } => write!(f, "it is {:.1} mm too near", by_m * 1000.0),
            Self::NoPlane => f.write_str("knee or elbow is told to point along its own limb"),
        }
    }
}

impl core::error::Error for Unreachable {}

/// What rounding may add to the length of a straight limb.
const ROUNDING_M: f64 = 1e-9;

/// A limb of two bones between its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Knee or elbow.
    pub joint: Vector,
    /// How the first bone is turned, with its joint bent in the plane of its forward and up.
    pub first: Rotation,
    /// How the second bone is turned before it turns about itself.
    pub second: Rotation,
    /// How far it is bent; 0 is straight.
    pub bent_deg: f64,
}

/// Two bones from `start` to `end` with the joint between them on the side of `towards`.
///
/// With D the distance: along = (l1^2 - l2^2 + D^2) / 2D, off = sqrt(l1^2 - along^2), joint = start + along u + off n, where u points
/// to the end and n is the part of `towards` at right angles to it.
///
/// # Errors
/// When the end is too far or too near, or `towards` lies along the limb.
pub fn two_bones(
    start: Vector,
    end: Vector,
    lengths_m: [f64; 2],
    towards: Vector,
) -> Result<Bend, Unreachable> {
    let [first_m, second_m] = lengths_m;
    let distance_m = start.distance(end);
    let (most_m, least_m) = (first_m + second_m, (first_m - second_m).abs());
    if distance_m > most_m + ROUNDING_M {
        return Err(Unreachable::TooFar {
            by_m: distance_m - most_m,
        });
    }
    if distance_m < least_m - ROUNDING_M {
        return Err(Unreachable::TooNear {
            by_m: least_m - distance_m,
        });
    }
    let line = (end - start).direction().ok_or(Unreachable::NoPlane)?;
    let side = towards
        .across(line)
        .direction()
        .ok_or(Unreachable::NoPlane)?;
    let distance_m = distance_m.clamp(least_m, most_m);
    let along_m =
        (first_m * first_m - second_m * second_m + distance_m * distance_m) / (2.0 * distance_m);
    let off_m = libm::sqrt((first_m * first_m - along_m * along_m).max(0.0));
    let joint = start + line * along_m + side * off_m;
    // Both bones turn about the same axis: the left of the plane in which the joint lies in front.
    let axis = side.cross(line);
    let turned = |up: Vector| Rotation {
        forward: axis.cross(up),
        left: axis,
        up,
    };
    let first_up = (line * along_m + side * off_m) * (-1.0 / first_m);
    let second_up = (line * (distance_m - along_m) - side * off_m) * (-1.0 / second_m);
    Ok(Bend {
        joint,
        first: turned(first_up),
        second: turned(second_up),
        bent_deg: atan2_deg(
            first_up.cross(second_up).dot(axis).abs(),
            first_up.dot(second_up),
        ),
    })
}

/// Sets the angles of a leg so that its foot is placed as told; the toes keep their angle.
///
/// # Errors
/// When the foot cannot be there.
pub fn place_foot(
    body: &Body,
    pose: &mut Pose,
    side: Side,
    foot: Frame,
) -> Result<(), Unreachable> {
    let lengths_m = [Segment::Thigh(side), Segment::Shank(side)].map(|bone| body.length_m(bone));
    let hip = pose.pelvis.point(body.hip(side));
    let bend = two_bones(hip, foot.at, lengths_m, knee_side(hip, foot))?;
    let angles = LegTurns {
        hip: pose.pelvis.turned.inverse().then(bend.first),
        knee: bend.first.inverse().then(bend.second),
        ankle: bend.second.inverse().then(foot.turned),
        toes: Rotation::NONE,
    }
    .angles_deg(side);
    for (limb, angle_deg) in angles {
        match limb {
            Limb::ToeExtension => {}
            Limb::KneeFlexion => pose.set_deg(Freedom::Of(side, limb), bend.bent_deg),
            _ => pose.set_deg(Freedom::Of(side, limb), angle_deg),
        }
    }
    Ok(())
}

/// The direction of the foot, or its opposite where knee and pointed foot are bent so far that the knee lies behind it.
fn knee_side(hip: Vector, foot: Frame) -> Vector {
    let forward = foot.turned.forward;
    let line = foot.at - hip;
    let in_front = line
        .direction()
        .map_or(forward, |line| forward.across(line));
    // Halfway between front and up of the foot is on the side of the knee at every angle that knee and ankle can have.
    if in_front.dot(forward + foot.turned.up) < 0.0 {
        -forward
    } else {
        forward
    }
}

/// Sets the angles of an arm so that its hand is placed as told, with the elbow towards a direction.
///
/// Spine and pelvis of the pose decide where the shoulder is and are left alone.
///
/// # Errors
/// When the hand cannot be there.
pub fn place_hand(
    body: &Body,
    pose: &mut Pose,
    side: Side,
    hand: Frame,
    elbow_towards: Vector,
) -> Result<(), Unreachable> {
    let posture = Posture::of(body, pose);
    let thorax = posture.frame(Segment::Thorax);
    let lengths_m =
        [Segment::UpperArm(side), Segment::Forearm(side)].map(|bone| body.length_m(bone));
    // An elbow bends the other way round than a knee: the forearm goes in front of it, so its own front looks away from the elbow.
    let bend = two_bones(
        posture.frame(Segment::UpperArm(side)).at,
        hand.at,
        lengths_m,
        elbow_towards,
    )?;
    let turned_round = |bone: Rotation| Rotation {
        forward: -bone.forward,
        left: -bone.left,
        up: bone.up,
    };
    let (upper, forearm) = (turned_round(bend.first), turned_round(bend.second));
    // The hand in the forearm: about up, then forward, then left.
    let inside = forearm.inverse().then(hand.turned);
    let about_up_deg = atan2_deg(-inside.left.x, inside.left.y);
    let forearm = forearm.then(Rotation::about_up(about_up_deg));
    let angles = ArmTurns {
        shoulder: thorax.turned.inverse().then(upper),
        elbow: upper.inverse().then(forearm),
        wrist: forearm.inverse().then(hand.turned),
    }
    .angles_deg(side);
    for (limb, angle_deg) in angles {
        let angle_deg = match limb {
            Limb::ElbowFlexion => bend.bent_deg,
            _ => angle_deg,
        };
        pose.set_deg(Freedom::Of(side, limb), angle_deg);
    }
    Ok(())
}

#[cfg(test)]
pub(crate) use tests::random_pose;

#[cfg(test)]
mod tests {
    use super::{Unreachable, place_foot, place_hand, two_bones};
    use crate::body::{Body, Segment, Side};
    use crate::joint::{Freedom, Limb};
    use crate::pose::Pose;
    use crate::posture::Posture;
    use crate::space::{Frame, Rotation, Turns, Vector};
    use proptest::prelude::*;

    /// Any pelvis, and every angle inside its norm; the shoulder and hip short of where their angles cannot be told apart.
    pub(crate) fn random_pose() -> impl Strategy<Value = Pose> {
        let shares = proptest::collection::vec(0.02..0.98, Freedom::COUNT);
        let turns = (-170.0..170.0, -80.0..80.0, -170.0..170.0);
        let at = (-1.0..1.0, -1.0..1.0, 0.2..1.2);
        (shares, turns, at).prop_map(|(shares, turns, (x, y, z))| {
            let mut pose = Pose::UPRIGHT;
            pose.pelvis = Frame {
                at: Vector::new(x, y, z),
                turned: Rotation::of(Turns {
                    about_left_deg: turns.0,
                    about_forward_deg: turns.1,
                    about_up_deg: turns.2,
                }),
            };
            for (freedom, share) in Freedom::all().zip(shares) {
                let range = freedom.norm();
                let high_deg = range.high_deg.min(match freedom {
                    Freedom::Of(_, Limb::ShoulderAbduction) => 88.0,
                    _ => range.high_deg,
                });
                pose.set_deg(freedom, range.low_deg + share * (high_deg - range.low_deg));
            }
            pose
        })
    }

    #[test]
    fn reference_leg_of_a_worked_example() {
        // Hip -39.49501861 and knee 59.76728756 degrees, as a numerical solver of a general library found them: thigh .245 and shank
        // .246 of 1.70 m, and the place of the ankle that these angles give.
        let (thigh, shank) = (0.245 * 1.70, 0.246 * 1.70);
        let at = |tilt_deg: f64, long: f64| {
            let (sin, cos) = crate::space::sin_cos_deg(tilt_deg);
            Vector::new(long * sin, 0.0, -long * cos)
        };
        let ankle = at(39.495_018_61, thigh) + at(39.495_018_61 - 59.767_287_56, shank);
        let bend = two_bones(Vector::ZERO, ankle, [thigh, shank], Vector::FORWARD).unwrap();
        assert!((bend.bent_deg - 59.767_287_56).abs() < 1e-8);
        assert!(bend.joint.distance(at(39.495_018_61, thigh)) < 1e-12);
    }

    #[test]
    fn what_cannot_be_reached_is_told_by_how_much() {
        let to = |x| {
            two_bones(
                Vector::ZERO,
                Vector::new(x, 0.0, 0.0),
                [0.4, 0.3],
                Vector::UP,
            )
        };
        assert!(to(0.7).is_ok() && to(0.1).is_ok());
        let Err(Unreachable::TooFar { by_m }) = to(0.72) else {
            panic!("0.72 m is too far for 0.7 m");
        };
        assert!((by_m - 0.02).abs() < 1e-12);
        let Err(Unreachable::TooNear { by_m }) = to(0.08) else {
            panic!("0.08 m is too near");
        };
        assert!((by_m - 0.02).abs() < 1e-12);
        let along = two_bones(
            Vector::ZERO,
            Vector::FORWARD * 0.5,
            [0.4, 0.3],
            Vector::FORWARD,
        );
        assert_eq!(along, Err(Unreachable::NoPlane));
        let said = Unreachable::TooFar { by_m: 0.0123 }.to_string();
        assert_eq!(said, "it is 12.3 mm too far away");
    }

    #[test]
    fn a_straight_leg_is_not_out_of_reach_by_rounding() {
        let body = Body::of_stature_m(1.7).unwrap();
        let mut pose = Pose::UPRIGHT;
        let foot = Posture::of(&body, &pose).frame(Segment::Foot(Side::Left));
        place_foot(&body, &mut pose, Side::Left, foot).unwrap();
        assert!(pose.limb_deg(Side::Left, Limb::KneeFlexion).abs() < 1e-4);
    }

    proptest! {
        #[test]
        fn law_a_placed_foot_has_one_answer_and_it_is_found(pose in random_pose()) {
            let body = Body::of_stature_m(1.7).unwrap();
            let posture = Posture::of(&body, &pose);
            for side in Side::BOTH {
                let mut found = pose.clone();
                for limb in [Limb::HipFlexion, Limb::KneeFlexion, Limb::AnkleInversion] {
                    found.set_deg(Freedom::Of(side, limb), 1.0);
                }
                place_foot(&body, &mut found, side, posture.frame(Segment::Foot(side))).unwrap();
                for limb in Limb::ALL {
                    let differs = found.limb_deg(side, limb) - pose.limb_deg(side, limb);
                    prop_assert!(differs.abs() < 1e-6, "{limb:?} {differs}");
                }
            }
        }

        #[test]
        fn law_a_placed_hand_is_where_it_was_told_and_the_elbow_on_its_side(pose in random_pose()) {
            let body = Body::of_stature_m(1.7).unwrap();
            let posture = Posture::of(&body, &pose);
            for side in Side::BOTH {
                let hand = posture.frame(Segment::Hand(side));
                let shoulder = posture.frame(Segment::UpperArm(side)).at;
                let elbow = posture.frame(Segment::Forearm(side)).at;
                let mut found = pose.clone();
                found.set_deg(Freedom::Of(side, Limb::ShoulderFlexion), 0.0);
                found.set_deg(Freedom::Of(side, Limb::WristFlexion), 0.0);
                place_hand(&body, &mut found, side, hand, elbow - shoulder).unwrap();
                let again = Posture::of(&body, &found);
                let placed = again.frame(Segment::Hand(side));
                prop_assert!(placed.at.distance(hand.at) < 1e-9);
                prop_assert!(placed.turned.forward.distance(hand.turned.forward) < 1e-9);
                prop_assert!(placed.turned.up.distance(hand.turned.up) < 1e-9);
                prop_assert!(again.frame(Segment::Forearm(side)).at.distance(elbow) < 1e-9);
            }
        }
    }
}
