//! The body: from a pose to its joints in space.

use super::space::{V3, sin_cos, v};

/// Lengths in mm at the drawn person's height of 1.62 m.
// Source: Drillis and Contini 1966, as in Winter 2009 figure 4.1: shares of stature, rounded to mm.
// Departure: shoulders and hips are joint centres, so narrower than the breadths of that table.
const THIGH: f64 = 397.0;
const SHANK: f64 = 399.0;
const ANKLE: f64 = 76.0;
const TRUNK: f64 = 446.0;
const UPPER_ARM: f64 = 292.0;
const FOREARM: f64 = 238.0;
const HAND: f64 = 62.0;
const HALF_SHOULDERS: f64 = 158.0;
const HALF_HIPS: f64 = 84.0;
const NECK: f64 = 92.0;
const HEAD: f64 = 122.0;

/// One arm of a pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Arm {
    /// By angles in degrees: forwards, sideways, bent at the elbow.
    Free { fore: f64, out: f64, bend: f64 },
    /// The hand at a point; the elbow goes towards `pole`.
    At { hand: V3, pole: V3 },
}

/// One leg of a pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Leg {
    /// The foot at a point of the floor or above it: the sole under the ankle, turned up at the toe by `pitch` degrees.
    Foot { at: V3, pitch: f64 },
    /// By angles in degrees: thigh forwards, sideways, bent at the knee; toe turned up by `pitch`.
    Free {
        fore: f64,
        out: f64,
        bend: f64,
        pitch: f64,
    },
}

/// A pose; near is the side towards the viewer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pose {
    /// Middle of the hips.
    pub(super) hip: V3,
    /// Trunk forwards in degrees.
    pub(super) lean: f64,
    /// Trunk to the near side in degrees.
    pub(super) side: f64,
    /// Shoulders turned towards the near side in degrees.
    pub(super) twist: f64,
    /// Head forwards in degrees, over the lean.
    pub(super) nod: f64,
    /// Shoulders lifted in mm.
    pub(super) shrug: f64,
    pub(super) near_arm: Arm,
    pub(super) far_arm: Arm,
    pub(super) near_leg: Leg,
    pub(super) far_leg: Leg,
}

/// Joints of one arm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ArmJoints {
    pub(super) shoulder: V3,
    pub(super) elbow: V3,
    pub(super) wrist: V3,
    pub(super) knuckles: V3,
}

/// Joints of one leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct LegJoints {
    pub(super) hip: V3,
    pub(super) knee: V3,
    pub(super) ankle: V3,
    /// Toe turned up by so many degrees.
    pub(super) pitch: f64,
}

/// A whole body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Body {
    pub(super) near_arm: ArmJoints,
    pub(super) far_arm: ArmJoints,
    pub(super) near_leg: LegJoints,
    pub(super) far_leg: LegJoints,
    pub(super) neck: V3,
    pub(super) head: V3,
    /// How far the head is tilted forwards in degrees.
    pub(super) head_tilt: f64,
}

/// Height in mm of the hip when standing straight.
pub(super) const STANDING_HIP: f64 = THIGH + SHANK + ANKLE - 2.0;

impl Pose {
    pub(super) fn body(&self) -> Body {
        let up = {
            let (sin_lean, cos_lean) = sin_cos(self.lean);
            let (sin_side, cos_side) = sin_cos(self.side);
            v(sin_lean * cos_side, cos_lean * cos_side, sin_side).unit()
        };
        let collar = self.hip.plus(up.times(TRUNK));
        let (sin_twist, cos_twist) = sin_cos(self.twist);
        // Sideways along the shoulders, tilted with the side bend.
        let across = v(-sin_twist, -up.z, cos_twist).unit();
        let lift = v(0.0, self.shrug, 0.0);
        let shoulder = |side: f64| {
            collar
                .plus(across.times(side * HALF_SHOULDERS))
                .plus(v(0.0, -14.0, 0.0))
                .plus(lift)
        };
        let neck = collar.plus(up.times(26.0));
        let tilt = self.lean * 0.55 + self.nod;
        let (sin_tilt, cos_tilt) = sin_cos(tilt);
        let along = v(sin_tilt, cos_tilt, up.z * 0.6).unit();
        let head = neck.plus(along.times(NECK + HEAD)).plus(v(24.0, 0.0, 0.0));
        let hip = |side: f64| self.hip.plus(v(0.0, 0.0, side * HALF_HIPS));
        Body {
            near_arm: arm(self.near_arm, shoulder(1.0), 1.0, self.lean, self.twist),
            far_arm: arm(self.far_arm, shoulder(-1.0), -1.0, self.lean, self.twist),
            near_leg: leg(self.near_leg, hip(1.0), 1.0),
            far_leg: leg(self.far_leg, hip(-1.0), -1.0),
            neck,
            head,
            head_tilt: tilt * 0.4,
        }
    }
}

fn arm(pose: Arm, shoulder: V3, side: f64, lean: f64, twist: f64) -> ArmJoints {
    let (elbow, wrist) = match pose {
        Arm::Free { fore, out, bend } => {
            let elbow = shoulder.plus(limb(fore - lean, out, side, twist).times(UPPER_ARM));
            let wrist = elbow.plus(limb(fore - lean + bend, out, side, twist).times(FOREARM));
            (elbow, wrist)
        }
        Arm::At { hand, pole } => two_bones(shoulder, hand, UPPER_ARM, FOREARM, pole),
    };
    let knuckles = wrist.plus(wrist.minus(elbow).unit().times(HAND));
    ArmJoints {
        shoulder,
        elbow,
        wrist,
        knuckles,
    }
}

fn leg(pose: Leg, hip: V3, side: f64) -> LegJoints {
    match pose {
        Leg::Foot { at, pitch } => {
            let ankle = at.plus(v(0.0, ANKLE, 0.0));
            let (knee, ankle) = two_bones(hip, ankle, THIGH, SHANK, v(1.0, 0.0, side * 0.06));
            LegJoints {
                hip,
                knee,
                ankle,
                pitch,
            }
        }
        Leg::Free {
            fore,
            out,
            bend,
            pitch,
        } => {
            let knee = hip.plus(limb(fore, out, side, 0.0).times(THIGH));
            let ankle = knee.plus(limb(fore - bend, out, side, 0.0).times(SHANK));
            LegJoints {
                hip,
                knee,
                ankle,
                pitch,
            }
        }
    }
}

/// Direction of a limb: hanging down, turned forwards, then lifted sideways, then turned with the shoulders.
fn limb(fore: f64, out: f64, side: f64, twist: f64) -> V3 {
    let (sin_fore, cos_fore) = sin_cos(fore);
    let (sin_out, cos_out) = sin_cos(out);
    let plain = v(sin_fore * cos_out, -cos_fore * cos_out, side * sin_out);
    let (sin_twist, cos_twist) = sin_cos(twist);
    v(
        plain.x * cos_twist - plain.z * sin_twist,
        plain.y,
        plain.z * cos_twist + plain.x * sin_twist,
    )
}

/// Places the middle joint of two bones so that the end comes to its point, or as near as the bones reach.
fn two_bones(from: V3, to: V3, first: f64, second: f64, pole: V3) -> (V3, V3) {
    let way = to.minus(from);
    let reach = way
        .length()
        .clamp((first - second).abs() + 1.0, first + second - 1.0);
    let along = way.unit();
    let end = from.plus(along.times(reach));
    let share = (reach * reach + first * first - second * second) / (2.0 * reach);
    let off = libm::sqrt((first * first - share * share).max(0.0));
    let sideways = pole.minus(along.times(pole.dot(along))).unit();
    (from.plus(along.times(share)).plus(sideways.times(off)), end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_bones_keep_their_length_whatever_they_reach_for() {
        for reach in [50.0, 200.0, 520.0, 900.0] {
            let from = v(0.0, 1300.0, 150.0);
            let (elbow, wrist) = two_bones(
                from,
                v(reach, 1000.0, 120.0),
                UPPER_ARM,
                FOREARM,
                v(-1.0, -1.0, 0.0),
            );
            assert!((elbow.minus(from).length() - UPPER_ARM).abs() < 1e-6);
            assert!((wrist.minus(elbow).length() - FOREARM).abs() < 1e-6);
        }
    }

    #[test]
    fn a_straight_body_is_as_tall_as_the_drawn_person() {
        let free = Arm::Free {
            fore: 0.0,
            out: 0.0,
            bend: 0.0,
        };
        let foot = |z: f64| Leg::Foot {
            at: v(0.0, 0.0, z),
            pitch: 0.0,
        };
        let body = Pose {
            hip: v(0.0, STANDING_HIP, 0.0),
            lean: 0.0,
            side: 0.0,
            twist: 0.0,
            nod: 0.0,
            shrug: 0.0,
            near_arm: free,
            far_arm: free,
            near_leg: foot(84.0),
            far_leg: foot(-84.0),
        }
        .body();
        let crown = body.head.y + 106.0;
        assert!((crown - 1620.0).abs() < 60.0, "{crown}");
    }
}
