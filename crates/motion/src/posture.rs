//! A posture: where every segment is. From the angles of a pose, and back to them.

use crate::body::{Body, Segment, Side};
use crate::joint::{Freedom, Limb, Middle};
use crate::pose::Pose;
use crate::space::{Frame, Rotation, Turns, Vector, atan2_deg, sin_cos_deg};

/// Where every segment of a body is.
#[derive(Clone, Debug, PartialEq)]
pub struct Posture {
    body: Body,
    frames: [Frame; Segment::COUNT],
    toes: [Rotation; 2],
}

impl Posture {
    /// The posture that a body takes in a pose.
    pub fn of(body: &Body, pose: &Pose) -> Self {
        let mut posture = Self {
            body: *body,
            frames: [pose.pelvis; Segment::COUNT],
            toes: [Rotation::NONE; 2],
        };
        let along = |segment| Vector::new(0.0, 0.0, body.length_m(segment));
        let bend = half_trunk(pose);
        posture.hang(
            Segment::Abdomen,
            Segment::Pelvis,
            along(Segment::Pelvis),
            bend,
        );
        posture.hang(
            Segment::Thorax,
            Segment::Abdomen,
            along(Segment::Abdomen),
            bend,
        );
        posture.hang(
            Segment::Head,
            Segment::Thorax,
            along(Segment::Thorax),
            neck(pose),
        );
        for side in Side::BOTH {
            posture.hang_arm(pose, side);
            posture.hang_leg(pose, side);
        }
        posture
    }

    fn hang(&mut self, segment: Segment, on: Segment, at: Vector, turned: Rotation) {
        self.frames[segment.index()] = self.frame(on).joined(at, turned);
    }

    fn hang_arm(&mut self, pose: &Pose, side: Side) {
        let down = |segment| Vector::new(0.0, 0.0, -self.body.length_m(segment));
        let (elbow, wrist) = (down(Segment::UpperArm(side)), down(Segment::Forearm(side)));
        let angle = |limb| pose.limb_deg(side, limb);
        let sign = side.sign();
        let shoulder = ball_joint(
            side,
            angle(Limb::ShoulderFlexion),
            angle(Limb::ShoulderAbduction),
            angle(Limb::ShoulderRotation),
        );
        let forearm = Rotation::about_left(-angle(Limb::ElbowFlexion))
            .then(Rotation::about_up(-sign * angle(Limb::ForearmPronation)));
        let hand = Rotation::about_forward(-sign * angle(Limb::WristFlexion))
            .then(Rotation::about_left(-angle(Limb::WristDeviation)));
        let at = shoulder_at(&self.body, pose, side);
        self.hang(Segment::UpperArm(side), Segment::Thorax, at, shoulder);
        self.hang(
            Segment::Forearm(side),
            Segment::UpperArm(side),
            elbow,
            forearm,
        );
        self.hang(Segment::Hand(side), Segment::Forearm(side), wrist, hand);
    }

    fn hang_leg(&mut self, pose: &Pose, side: Side) {
        let down = |segment| Vector::new(0.0, 0.0, -self.body.length_m(segment));
        let (knee, ankle) = (down(Segment::Thigh(side)), down(Segment::Shank(side)));
        let angle = |limb| pose.limb_deg(side, limb);
        let hip = ball_joint(
            side,
            angle(Limb::HipFlexion),
            angle(Limb::HipAbduction),
            angle(Limb::HipRotation),
        );
        let shank = Rotation::about_left(angle(Limb::KneeFlexion));
        let foot = Rotation::about_left(-angle(Limb::AnkleFlexion)).then(Rotation::about_forward(
            -side.sign() * angle(Limb::AnkleInversion),
        ));
        let at = self.body.hip(side);
        self.hang(Segment::Thigh(side), Segment::Pelvis, at, hip);
        self.hang(Segment::Shank(side), Segment::Thigh(side), knee, shank);
        self.hang(Segment::Foot(side), Segment::Shank(side), ankle, foot);
        let toes = Rotation::about_left(-angle(Limb::ToeExtension));
        self.toes[side as usize] = self.frame(Segment::Foot(side)).turned.then(toes);
    }

    /// Whose posture it is.
    pub fn body(&self) -> &Body {
        &self.body
    }

    /// Where a segment is.
    pub fn frame(&self, segment: Segment) -> Frame {
        self.frames[segment.index()]
    }

    /// How the toes are turned.
    pub fn toes(&self, side: Side) -> Rotation {
        self.toes[side as usize]
    }

    /// The far end of a segment: the next joint, the crown of the head, the finger tips, or the tip of the toes.
    pub fn end(&self, segment: Segment) -> Vector {
        let frame = self.frame(segment);
        let length_m = self.body.length_m(segment);
        match segment {
            Segment::Foot(side) => self.toe_point(side, self.body.toe_tip()),
            Segment::Pelvis | Segment::Abdomen | Segment::Thorax | Segment::Head => {
                frame.point(Vector::new(0.0, 0.0, length_m))
            }
            _ => frame.point(Vector::new(0.0, 0.0, -length_m)),
        }
    }

    /// A point of the unbent foot, given in its frame, where it is with bent toes.
    pub fn foot_point(&self, side: Side, inner: Vector) -> Vector {
        if inner.x > self.body.ball().x {
            self.toe_point(side, inner)
        } else {
            self.frame(Segment::Foot(side)).point(inner)
        }
    }

    fn toe_point(&self, side: Side, inner: Vector) -> Vector {
        let ball = self.body.ball();
        self.frame(Segment::Foot(side)).point(ball) + self.toes(side).apply(inner - ball)
    }

    /// The centre of mass of the whole body.
    pub fn centre_of_mass(&self) -> Vector {
        Segment::ALL
            .into_iter()
            .map(|segment| {
                self.frame(segment).point(self.body.centre(segment)) * segment.mass_fraction()
            })
            .fold(Vector::ZERO, |sum, part| sum + part)
    }

    /// How far a shoulder itself is up and forward.
    fn girdle_deg(&self, side: Side) -> [(Limb, f64); 2] {
        let thorax = self.frame(Segment::Thorax);
        let way = self.frame(Segment::UpperArm(side)).at - thorax.point(self.body.collar(side));
        let way = thorax.turned.inverse().apply(way);
        [
            (
                Limb::ShoulderRaise,
                atan2_deg(way.z, libm::hypot(way.x, way.y)),
            ),
            (Limb::ShoulderForward, atan2_deg(way.x, side.sign() * way.y)),
        ]
    }

    /// The pose that this posture has: the way back from segments to angles.
    pub fn pose(&self) -> Pose {
        let mut pose = Pose::upright_at(self.frame(Segment::Pelvis));
        let mut set = |freedom, angle_deg| pose.set_deg(freedom, angle_deg);
        let between = |on: Segment, segment: Segment| {
            let outer = self.frame(on).turned;
            outer.inverse().then(self.frame(segment).turned)
        };
        let trunk = between(Segment::Pelvis, Segment::Abdomen).turns();
        set(
            Freedom::Middle(Middle::TrunkFlexion),
            2.0 * trunk.about_left_deg,
        );
        set(
            Freedom::Middle(Middle::TrunkSideBend),
            -2.0 * trunk.about_forward_deg,
        );
        set(Freedom::Middle(Middle::TrunkTurn), 2.0 * trunk.about_up_deg);
        let neck = between(Segment::Thorax, Segment::Head).turns();
        set(Freedom::Middle(Middle::NeckFlexion), neck.about_left_deg);
        set(
            Freedom::Middle(Middle::NeckSideBend),
            -neck.about_forward_deg,
        );
        set(Freedom::Middle(Middle::NeckTurn), neck.about_up_deg);
        for side in Side::BOTH {
            let leg = LegTurns {
                hip: between(Segment::Pelvis, Segment::Thigh(side)),
                knee: between(Segment::Thigh(side), Segment::Shank(side)),
                ankle: between(Segment::Shank(side), Segment::Foot(side)),
                toes: self
                    .frame(Segment::Foot(side))
                    .turned
                    .inverse()
                    .then(self.toes(side)),
            };
            let arm = ArmTurns {
                shoulder: between(Segment::Thorax, Segment::UpperArm(side)),
                elbow: between(Segment::UpperArm(side), Segment::Forearm(side)),
                wrist: between(Segment::Forearm(side), Segment::Hand(side)),
            };
            let girdle = self.girdle_deg(side);
            let limbs = leg.angles_deg(side).into_iter();
            for (limb, angle_deg) in limbs.chain(arm.angles_deg(side)).chain(girdle) {
                set(Freedom::Of(side, limb), angle_deg);
            }
        }
        pose
    }
}

/// Where a shoulder is in the frame of the thorax: the collar bone turns about its inner end.
fn shoulder_at(body: &Body, pose: &Pose, side: Side) -> Vector {
    let (collar, shoulder) = (body.collar(side), body.shoulder(side));
    let long_m = collar.distance(shoulder);
    let (up, level) = sin_cos_deg(pose.limb_deg(side, Limb::ShoulderRaise));
    let (ahead, aside) = sin_cos_deg(pose.limb_deg(side, Limb::ShoulderForward));
    collar + Vector::new(level * ahead, side.sign() * level * aside, up) * long_m
}

/// How the parts of a leg are turned, each in the one before it.
pub(crate) struct LegTurns {
    pub(crate) hip: Rotation,
    pub(crate) knee: Rotation,
    pub(crate) ankle: Rotation,
    pub(crate) toes: Rotation,
}

impl LegTurns {
    pub(crate) fn angles_deg(&self, side: Side) -> [(Limb, f64); 7] {
        let sign = side.sign();
        let (hip, ankle) = (self.hip.turns(), self.ankle.turns());
        [
            (Limb::HipFlexion, -hip.about_left_deg),
            (Limb::HipAbduction, sign * hip.about_forward_deg),
            (Limb::HipRotation, -sign * hip.about_up_deg),
            (Limb::KneeFlexion, self.knee.turns().about_left_deg),
            (Limb::AnkleFlexion, -ankle.about_left_deg),
            (Limb::AnkleInversion, -sign * ankle.about_forward_deg),
            (Limb::ToeExtension, -self.toes.turns().about_left_deg),
        ]
    }
}

/// How the parts of an arm are turned, each in the one before it.
pub(crate) struct ArmTurns {
    pub(crate) shoulder: Rotation,
    pub(crate) elbow: Rotation,
    pub(crate) wrist: Rotation,
}

impl ArmTurns {
    pub(crate) fn angles_deg(&self, side: Side) -> [(Limb, f64); 7] {
        let sign = side.sign();
        let (shoulder, elbow) = (self.shoulder.turns(), self.elbow.turns());
        // The wrist turns about forward and then about left, without a turn about up.
        let flexion = atan2_deg(self.wrist.left.z, self.wrist.left.y);
        let deviation = atan2_deg(self.wrist.up.x, self.wrist.forward.x);
        [
            (Limb::ShoulderFlexion, -shoulder.about_left_deg),
            (Limb::ShoulderAbduction, sign * shoulder.about_forward_deg),
            (Limb::ShoulderRotation, -sign * shoulder.about_up_deg),
            (Limb::ElbowFlexion, -elbow.about_left_deg),
            (Limb::ForearmPronation, -sign * elbow.about_up_deg),
            (Limb::WristFlexion, -sign * flexion),
            (Limb::WristDeviation, -deviation),
        ]
    }
}

fn half_trunk(pose: &Pose) -> Rotation {
    Rotation::of(Turns {
        about_left_deg: pose.middle_deg(Middle::TrunkFlexion) / 2.0,
        about_forward_deg: -pose.middle_deg(Middle::TrunkSideBend) / 2.0,
        about_up_deg: pose.middle_deg(Middle::TrunkTurn) / 2.0,
    })
}

fn neck(pose: &Pose) -> Rotation {
    Rotation::of(Turns {
        about_left_deg: pose.middle_deg(Middle::NeckFlexion),
        about_forward_deg: -pose.middle_deg(Middle::NeckSideBend),
        about_up_deg: pose.middle_deg(Middle::NeckTurn),
    })
}

/// Hip or shoulder: forwards, then outwards, then about the limb itself.
fn ball_joint(side: Side, flexion_deg: f64, abduction_deg: f64, inward_deg: f64) -> Rotation {
    Rotation::of(Turns {
        about_left_deg: -flexion_deg,
        about_forward_deg: side.sign() * abduction_deg,
        about_up_deg: -side.sign() * inward_deg,
    })
}

#[cfg(test)]
pub(crate) mod tests;
