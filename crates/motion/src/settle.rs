//! Settling a key pose: finds where the hips are, so that feet stand, hands hold, and the centre of mass is where it is told.

use crate::body::{Body, Segment, Side};
use crate::grip::{Contact, Placed, placed, set_hand, waits};
use crate::held::Held;
use crate::joint::{Freedom, Limb, Middle};
use crate::key::{Arm, FootOn, Hips, Key, Leg, Pair, Tilt};
use crate::limb::Unreachable;
use crate::place::{FootNumbers, flat_foot, foot_frame, foot_numbers, set_foot};
use crate::pose::Pose;
use crate::posture::Posture;
use crate::room::Room;
use crate::space::{Frame, Rotation, Turns, Vector, sin_cos_deg};

/// Why a key pose cannot be taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unsettled {
    /// A foot cannot be where it is told.
    Foot(Side, Unreachable),
    /// A hand cannot be where it is told.
    Hand(Side, Contact, Unreachable),
    /// The legs are to bear the body and no foot is on the floor.
    NoFootOnFloor,
    /// It sits and there is no chair.
    NoChair,
    /// A hand is on the worktop and there is none.
    NoWorktop,
    /// A hand is on a bar and there is none.
    NoBar,
    /// A foot is on a step and there is none.
    NoStep,
    /// A hand is on the arm of a chair and the chair has none.
    NoArmRests,
    /// A hand is on a wall and there is none.
    NoWall,
    /// A hand is on a rail and there is none.
    NoRail,
    /// A hand is on a walking stick and there is none.
    NoStick,
    /// The centre of mass does not come to where it is told.
    NoBalance,
}

impl core::fmt::Display for Unsettled {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let name = |side: &Side| match side {
            Side::Left => "left",
            Side::Right => "right",
        };
        match self {
            Self::Foot(side, why) => {
                write!(
                    f,
                    "the {} foot cannot be there: {why}; bring it nearer to the hips or bend the knees",
                    name(side)
                )
            }
            Self::Hand(side, on, why) => {
                write!(
                    f,
                    "the {} hand cannot be on {on}: {why}; bring it nearer to the shoulder or lean",
                    name(side)
                )
            }
            Self::NoFootOnFloor => f.write_str(
                "the legs are to bear the body and no foot is on the floor; put one there",
            ),
            Self::NoChair => f.write_str("the pose sits and the room has no chair; add one"),
            Self::NoWorktop => f.write_str("a hand is on a worktop and the room has none; add one"),
            Self::NoBar => f.write_str("a hand holds a bar and the room has none; add one"),
            Self::NoStep => f.write_str("a foot is on a step and the room has none; add one"),
            Self::NoArmRests => f.write_str(
                "a hand is on the arm of the chair and the chair has none; give it some",
            ),
            Self::NoWall => f.write_str("a hand is on a wall and the room has none; add one"),
            Self::NoRail => f.write_str("a hand is on a rail and the room has none; add one"),
            Self::NoStick => {
                f.write_str("a hand is on a walking stick and the room has none; add one")
            }
            Self::NoBalance => f.write_str(
                "the body finds no place above the feet; change where along them its weight is",
            ),
        }
    }
}

impl core::error::Error for Unsettled {}

/// The pose of a body at a key, with empty hands.
///
/// # Errors
/// When a foot or hand cannot be reached, or what bears the body is not there.
pub fn settle(body: &Body, room: &Room, key: &Key) -> Result<Pose, Unsettled> {
    settle_holding(body, room, &Held::NOTHING, key)
}

/// The pose of a body at a key; what the hands hold counts for where the centre of mass is.
///
/// # Errors
/// When a foot or hand cannot be reached, or what bears the body is not there.
pub fn settle_holding(body: &Body, room: &Room, held: &Held, key: &Key) -> Result<Pose, Unsettled> {
    let turned = turned(key.tilt);
    match key.hips {
        Hips::Leaning {
            knee_deg,
            forward_deg,
        } => {
            let feet = feet(body, room, &key.legs)?;
            let ankles = between_ankles(body, &feet).ok_or(Unsettled::NoFootOnFloor)?;
            let target = ankles;
            let told = Told {
                turned,
                knee_deg,
                target,
            };
            let (sin, _) = sin_cos_deg(forward_deg);
            let long_m = leg_reach_m2(body, knee_deg);
            let ahead = Rotation::about_up(key.tilt.turn_deg).forward;
            let mut at = ankles + ahead * (sin * libm::sqrt(long_m));
            at.z = hips_height(body, &feet, &told, at)?;
            posed(body, room, key, Frame { at, turned })
        }
        Hips::Seated { x } => {
            let chair = room.chair.ok_or(Unsettled::NoChair)?;
            let at = Vector::new(x * body.stature_m(), 0.0, chair.hips_m(body));
            posed(body, room, key, Frame { at, turned })
        }
        Hips::Borne {
            knee_deg,
            along,
            to_left,
        } => {
            let feet = feet(body, room, &key.legs)?;
            let target = weight_at(body, &feet, along, to_left);
            let told = Told {
                turned,
                knee_deg,
                target,
            };
            borne(body, room, held, key, &feet, &told)
        }
    }
}

pub(crate) fn turned(tilt: Tilt) -> Rotation {
    // The turn is outermost, so that a turned body leans where it looks.
    Rotation::about_up(tilt.turn_deg).then(Rotation::of(Turns {
        about_left_deg: tilt.forward_deg,
        about_forward_deg: -tilt.left_deg,
        about_up_deg: 0.0,
    }))
}

/// What a key pose tells of hips that the legs bear.
struct Told {
    turned: Rotation,
    knee_deg: f64,
    /// Where on the floor the centre of mass is.
    target: Vector,
}

/// The numbers of a placed foot, and whether it bears.
type Feet = Pair<Option<(FootNumbers, bool)>>;

fn feet(body: &Body, room: &Room, legs: &Pair<Leg>) -> Result<Feet, Unsettled> {
    let foot = |side| match legs.of(side) {
        Leg::Placed(foot) => {
            let bears = !matches!(foot.on, FootOn::Air { .. });
            foot_numbers(body, room, &foot).map(|numbers| Some((numbers, bears)))
        }
        Leg::Angles(_) => Ok(None),
    };
    Ok(Pair {
        left: foot(Side::Left)?,
        right: foot(Side::Right)?,
    })
}

/// Moves the hips over the floor until the centre of mass is above the target; their height follows from the legs.
fn borne(
    body: &Body,
    room: &Room,
    held: &Held,
    key: &Key,
    feet: &Feet,
    told: &Told,
) -> Result<Pose, Unsettled> {
    const CLOSE_ENOUGH_M: f64 = 1e-10;
    let (turned, mut at) = (told.turned, told.target);
    for _ in 0..100 {
        at.z = hips_height(body, feet, told, at)?;
        let pose = posed(body, room, key, Frame { at, turned })?;
        let off = told.target - held.centre_of_mass(&Posture::of(body, &pose));
        let off = Vector::new(off.x, off.y, 0.0);
        if off.length() < CLOSE_ENOUGH_M {
            return Ok(pose);
        }
        at = at + off;
    }
    Err(Unsettled::NoBalance)
}

/// Where on the floor the weight is told to be.
fn weight_at(body: &Body, feet: &Feet, along: f64, to_left: f64) -> Vector {
    let under = |side| {
        let (heel, toe) = (body.heel(), body.toe_tip());
        let (numbers, _) = feet.of(side)?;
        Some(flat_foot(body, &numbers).point(heel + (toe - heel) * along))
    };
    match (under(Side::Left), under(Side::Right)) {
        (Some(left), Some(right)) => right + (left - right) * to_left,
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => Vector::ZERO,
    }
}

/// The square of the way from hip to ankle with the knee bent as told.
fn leg_reach_m2(body: &Body, knee_deg: f64) -> f64 {
    let [thigh_m, shank_m] =
        [Segment::Thigh(Side::Left), Segment::Shank(Side::Left)].map(|bone| body.length_m(bone));
    let (_, cos) = sin_cos_deg(knee_deg);
    thigh_m * thigh_m + shank_m * shank_m + 2.0 * thigh_m * shank_m * cos
}

/// The point on the floor between the ankles that bear, or under the one that does.
fn between_ankles(body: &Body, feet: &Feet) -> Option<Vector> {
    let ankles = Side::BOTH.map(|side| {
        let (numbers, bears) = feet.of(side)?;
        let at = foot_frame(body, &numbers).at;
        bears.then_some(Vector::new(at.x, at.y, 0.0))
    });
    match ankles {
        [Some(left), Some(right)] => Some((left + right) * 0.5),
        [one, other] => one.or(other),
    }
}

/// How high the hips are above this place when the straighter of the legs that stand is bent as told.
fn hips_height(body: &Body, feet: &Feet, told: &Told, at: Vector) -> Result<f64, Unsettled> {
    let mut least: Option<f64> = None;
    for side in Side::BOTH {
        let Some((numbers, true)) = feet.of(side) else {
            continue;
        };
        let reach_m2 = leg_reach_m2(body, told.knee_deg);
        let hip = told.turned.apply(body.hip(side));
        let ankle = foot_frame(body, &numbers).at;
        let beside = at + hip - ankle;
        let beside_m2 = beside.x * beside.x + beside.y * beside.y;
        if beside_m2 > reach_m2 {
            let by_m = libm::sqrt(beside_m2) - libm::sqrt(reach_m2);
            return Err(Unsettled::Foot(side, Unreachable::TooFar { by_m }));
        }
        let height_m = ankle.z + libm::sqrt(reach_m2 - beside_m2) - hip.z;
        least = Some(least.map_or(height_m, |other| other.min(height_m)));
    }
    least.ok_or(Unsettled::NoFootOnFloor)
}

/// The whole pose once the pelvis is known.
fn posed(body: &Body, room: &Room, key: &Key, pelvis: Frame) -> Result<Pose, Unsettled> {
    let mut pose = Pose::upright_at(pelvis);
    for (middle, angle_deg) in Middle::ALL.into_iter().zip(key.middle_deg) {
        pose.set_deg(Freedom::Middle(middle), angle_deg);
    }
    let mut hands = Vec::new();
    for side in Side::BOTH {
        for (limb, angle_deg) in Limb::GIRDLE.into_iter().zip(key.girdle.of(side)) {
            pose.set_deg(Freedom::Of(side, limb), angle_deg);
        }
        match key.legs.of(side) {
            Leg::Placed(foot) => {
                let numbers = foot_numbers(body, room, &foot)?;
                set_foot(body, &mut pose, side, &numbers)
                    .map_err(|why| Unsettled::Foot(side, why))?;
            }
            Leg::Angles(angles) => {
                for (limb, angle_deg) in Limb::LEG.into_iter().zip(angles) {
                    pose.set_deg(Freedom::Of(side, limb), angle_deg);
                }
            }
        }
        match key.arms.of(side) {
            Arm::Placed(hand) => hands.push((side, placed(body, room, side, &hand)?)),
            Arm::Angles(angles) => {
                for (limb, angle_deg) in Limb::ARM.into_iter().zip(angles) {
                    pose.set_deg(Freedom::Of(side, limb), angle_deg);
                }
            }
        }
    }
    set_hands(body, &mut pose, hands)?;
    Ok(pose)
}

/// Lays the hands where they are told, when legs and free arms have their places.
pub(crate) fn set_hands(
    body: &Body,
    pose: &mut Pose,
    mut hands: Vec<(Side, Placed)>,
) -> Result<(), Unsettled> {
    hands.sort_by_key(|(_, placed)| waits(placed.on));
    for (side, placed) in hands {
        set_hand(body, pose, side, &placed).map_err(|why| Unsettled::Hand(side, placed.on, why))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{Unsettled, settle};
    use crate::body::{Body, Segment, Side};
    use crate::joint::{Freedom, Limb};
    use crate::key::{Arm, Foot, FootOn, Hand, HandOn, Hips, Key, Leg, Pair, Pause, Tilt};
    use crate::posture::Posture;
    use crate::room::{Chair, Room, Worktop};
    use proptest::prelude::*;

    fn foot(side: Side) -> Foot {
        Foot {
            x: 0.0,
            y: side.sign() * 0.06,
            on: FootOn::Floor,
            heading_deg: side.sign() * 5.0,
            pitch_deg: 0.0,
        }
    }

    fn standing() -> Key {
        Key {
            pause: Pause::Hold { ms: 0 },
            to_next_ms: 1000,
            hips: Hips::Borne {
                knee_deg: 5.0,
                along: 0.4,
                to_left: 0.5,
            },
            tilt: Tilt::NONE,
            middle_deg: [0.0; 6],
            legs: Pair {
                left: Leg::Placed(foot(Side::Left)),
                right: Leg::Placed(foot(Side::Right)),
            },
            arms: Pair::both(Arm::HANGING),
            girdle: Pair::both([0.0; 2]),
        }
    }

    fn on_worktop(x: f64) -> Arm {
        Arm::Placed(Hand {
            on: HandOn::Worktop { x },
            out: 0.12,
            inward_deg: 0.0,
        })
    }

    fn body() -> Body {
        Body::of_stature_m(1.62).unwrap()
    }

    fn furnished() -> Room {
        Room {
            chair: Some(Chair {
                seat_m: 0.45,
                back_x: -0.35,
                depth_m: 0.42,
                breadth_m: 0.45,
                arms_m: None,
            }),
            worktop: Some(Worktop {
                top_m: 0.90,
                edge_x: 0.15,
            }),
            ..Room::EMPTY
        }
    }

    #[test]
    fn a_raised_heel_lifts_the_body_and_leaves_ball_and_toes_on_the_floor() {
        let mut key = standing();
        let flat = settle(&body(), &Room::EMPTY, &key).unwrap();
        let up = |side| {
            Leg::Placed(Foot {
                pitch_deg: 30.0,
                ..foot(side)
            })
        };
        key.legs = Pair {
            left: up(Side::Left),
            right: up(Side::Right),
        };
        key.hips = Hips::Borne {
            knee_deg: 5.0,
            along: 0.8,
            to_left: 0.5,
        };
        let raised = settle(&body(), &Room::EMPTY, &key).unwrap();
        // The ankle is .47 of the foot behind its ball and .039 above the sole: turned by 30 degrees it rises by .0305 of stature.
        let rise = raised.pelvis.at.z - flat.pelvis.at.z;
        // The legs lean forwards to bring the weight over the balls, which takes a few millimetres of it away from the hips.
        assert!(rise > 0.040 && rise < 0.0305 * 1.62, "{rise}");
        let (before, after) = (Posture::of(&body(), &flat), Posture::of(&body(), &raised));
        for side in Side::BOTH {
            for inner in [body().ball(), body().toe_tip()] {
                let moved = after
                    .foot_point(side, inner)
                    .distance(before.foot_point(side, inner));
                assert!(moved < 1e-9, "{moved}");
            }
            assert!(after.foot_point(side, body().heel()).z > 0.05);
            assert!((raised.limb_deg(side, Limb::ToeExtension) - 30.0).abs() < 1e-9);
        }
    }

    #[test]
    fn somebody_who_sits_has_the_hips_above_the_seat_and_both_feet_on_the_floor() {
        let key = Key {
            hips: Hips::Seated { x: -0.25 },
            ..standing()
        };
        let posture = Posture::of(&body(), &settle(&body(), &furnished(), &key).unwrap());
        let hips = posture.frame(Segment::Pelvis).at;
        assert!((hips.z - 0.531).abs() < 1e-9 && (hips.x + 0.405).abs() < 1e-9);
        for side in Side::BOTH {
            assert!(posture.foot_point(side, body().heel()).z.abs() < 1e-9);
            assert!(posture.foot_point(side, body().toe_tip()).z.abs() < 1e-9);
        }
    }

    #[test]
    fn a_hand_on_the_worktop_lies_on_it() {
        let key = Key {
            arms: Pair::both(on_worktop(0.22)),
            ..standing()
        };
        let posture = Posture::of(&body(), &settle(&body(), &furnished(), &key).unwrap());
        for side in Side::BOTH {
            let hand = posture.frame(Segment::Hand(side));
            let fingers = posture.end(Segment::Hand(side));
            assert!((hand.at.z - fingers.z).abs() < 1e-9 && fingers.x > hand.at.x);
            assert!((hand.at.z - (0.90 + 0.015 * 1.62)).abs() < 1e-9);
            let palm_looks = hand.turned.left * -side.sign();
            assert!(palm_looks.z < -0.999, "the palm looks down");
        }
    }

    #[test]
    fn what_cannot_be_is_refused_with_what_to_do() {
        let refused = |key: &Key| settle(&body(), &Room::EMPTY, key).unwrap_err();
        let seated = Key {
            hips: Hips::Seated { x: -0.25 },
            ..standing()
        };
        assert_eq!(refused(&seated), Unsettled::NoChair);
        let holding = Key {
            arms: Pair::both(on_worktop(0.2)),
            ..standing()
        };
        assert_eq!(refused(&holding), Unsettled::NoWorktop);
        let far = Key {
            arms: Pair::both(on_worktop(0.9)),
            ..standing()
        };
        let Err(error @ Unsettled::Hand(..)) = settle(&body(), &furnished(), &far) else {
            panic!("no hand reaches 1.4 m");
        };
        assert!(error.to_string().contains("mm too far away"), "{error}");
        let hovering = Leg::Angles([0.0; 7]);
        let flying = Key {
            legs: Pair::both(hovering),
            ..standing()
        };
        assert_eq!(refused(&flying), Unsettled::NoFootOnFloor);
        let astride = |side: Side| {
            Leg::Placed(Foot {
                y: side.sign() * 0.6,
                ..foot(side)
            })
        };
        let split = Key {
            legs: Pair {
                left: astride(Side::Left),
                right: astride(Side::Right),
            },
            ..standing()
        };
        assert!(matches!(refused(&split), Unsettled::Foot(..)));
    }

    proptest! {
        #[test]
        fn law_feet_stand_and_the_centre_is_where_it_is_told(
            stature_m in 1.4..2.0, knee_deg in 2.0..70.0, along in 0.2..0.8, to_left in 0.1..0.9,
            lean_deg in 0.0..30.0, bend_deg in 0.0..20.0, turn_deg in -20.0..20.0,
        ) {
            let body = Body::of_stature_m(stature_m).unwrap();
            let mut key = standing();
            key.hips = Hips::Borne { knee_deg, along, to_left };
            key.tilt = Tilt { forward_deg: lean_deg, left_deg: 0.0, turn_deg };
            key.middle_deg[0] = bend_deg;
            let pose = settle(&body, &Room::EMPTY, &key).unwrap();
            let posture = Posture::of(&body, &pose);
            let under = |side| posture.foot_point(side, body.heel()) * (1.0 - along)
                + posture.frame(Segment::Foot(side)).point(body.toe_tip()) * along;
            let target = under(Side::Right) * (1.0 - to_left) + under(Side::Left) * to_left;
            let centre = posture.centre_of_mass();
            prop_assert!((centre.x - target.x).abs() < 1e-9 && (centre.y - target.y).abs() < 1e-9);
            let mut straighter = f64::INFINITY;
            for side in Side::BOTH {
                prop_assert!(posture.foot_point(side, body.heel()).z.abs() < 1e-9);
                prop_assert!(posture.foot_point(side, body.toe_tip()).z.abs() < 1e-9);
                straighter = straighter.min(pose.limb_deg(side, Limb::KneeFlexion));
            }
            prop_assert!((straighter - knee_deg).abs() < 1e-6);
        }

        #[test]
        fn law_the_mirrored_key_settles_to_the_mirrored_pose(
            knee_deg in 2.0..60.0, to_left in 0.2..0.8, turn_deg in -20.0..20.0, left_deg in -8.0..8.0, side_bend_deg in -20.0..20.0
        ) {
            let mut key = standing();
            key.hips = Hips::Borne { knee_deg, along: 0.4, to_left };
            key.tilt = Tilt { forward_deg: 5.0, left_deg, turn_deg };
            key.middle_deg[1] = side_bend_deg;
            key.arms.left = Arm::Angles([40.0, 10.0, 0.0, 20.0, 0.0, 0.0, 0.0]);
            let pose = settle(&body(), &Room::EMPTY, &key).unwrap().mirrored();
            let again = settle(&body(), &Room::EMPTY, &key.mirrored()).unwrap();
            prop_assert!(again.pelvis.at.distance(pose.pelvis.at) < 1e-9);
            for freedom in Freedom::all() {
                let differs = again.angle_deg(freedom) - pose.angle_deg(freedom);
                prop_assert!(differs.abs() < 1e-6, "{freedom} {differs}");
            }
        }
    }
}
