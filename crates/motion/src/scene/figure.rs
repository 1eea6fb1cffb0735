//! The person: tapered limbs, a trunk in two halves, shoes that bend, hands with a thumb; the near side in front of the far side.
//!
//! Every radius is ours, in millimetres at 1.62 m.

use super::{Camera, Disc, Head, Outline, Paint, Part, disc};
use crate::body::{Segment, Side};
use crate::posture::Posture;
use crate::space::{Frame, Vector, atan2_deg};

/// A limb is in front of the trunk when its end is this much nearer.
const IN_FRONT_M: f64 = 0.15;
/// From the middle of the head to its crown.
const CROWN_MM: f64 = 116.0;

/// All parts of the person from far to near.
pub(super) fn parts(posture: &Posture, camera: &Camera) -> Vec<Part> {
    let drawing = Drawing { posture, camera };
    let near = drawing.near_side();
    let far = near.other();
    let chest = posture.frame(Segment::Thorax).at;
    let hips = posture.frame(Segment::Pelvis).at;
    let in_front =
        |point: Vector, of: Vector| camera.nearness_m(point) > camera.nearness_m(of) + IN_FRONT_M;
    let arm_in_front = in_front(posture.frame(Segment::Hand(far)).at, chest);
    let knee = |side| posture.frame(Segment::Shank(side)).at;
    let mut parts = Vec::new();
    if !arm_in_front {
        parts.extend(drawing.arm(far, false));
    }
    let legs = [far, near].map(|side| (side, in_front(knee(side), hips)));
    for (side, _) in legs.into_iter().filter(|(_, in_front)| !in_front) {
        parts.extend(drawing.leg(side, side == near));
    }
    parts.extend(drawing.trunk());
    for (side, _) in legs.into_iter().filter(|(_, in_front)| *in_front) {
        parts.extend(drawing.leg(side, side == near));
    }
    if arm_in_front {
        parts.extend(drawing.arm(far, false));
    }
    parts.extend(drawing.arm(near, true));
    parts
}

struct Drawing<'a> {
    posture: &'a Posture,
    camera: &'a Camera,
}

impl Drawing<'_> {
    /// The side of the body that is towards the viewer.
    fn near_side(&self) -> Side {
        let near = |side| {
            let shoulder = self.posture.frame(Segment::UpperArm(side)).at;
            self.camera.nearness_m(shoulder)
        };
        if near(Side::Left) > near(Side::Right) {
            Side::Left
        } else {
            Side::Right
        }
    }

    fn disc(&self, at: Vector, radius_mm: f64) -> Disc {
        disc(self.posture.body(), self.camera, at, radius_mm)
    }

    /// A length given in mm at 1.62 m, in metres at the stature of this body.
    fn scaled_m(&self, mm: f64) -> f64 {
        mm / 1620.0 * self.posture.body().stature_m()
    }

    /// A point of a segment, given in mm at 1.62 m.
    fn inside(&self, frame: Frame, [x, y, z]: [f64; 3]) -> Vector {
        frame.point(Vector::new(
            self.scaled_m(x),
            self.scaled_m(y),
            self.scaled_m(z),
        ))
    }

    /// Discs along a segment at shares of its length, each moved backwards by some mm.
    fn along(&self, segment: Segment, discs: &[(f64, f64, f64)]) -> Vec<Disc> {
        let frame = self.posture.frame(segment);
        let way = self.posture.end(segment) - frame.at;
        discs
            .iter()
            .map(|&(share, radius_mm, back_mm)| {
                let back = frame.turned.forward * -self.scaled_m(back_mm);
                self.disc(frame.at + way * share + back, radius_mm)
            })
            .collect()
    }

    fn leg(&self, side: Side, near: bool) -> [Part; 2] {
        let mut cloth = self.along(
            Segment::Thigh(side),
            &[(0.0, 87.0, 0.0), (0.45, 78.0, 0.0), (1.0, 56.0, 0.0)],
        );
        // The calf swells behind the bone.
        cloth.extend(self.along(Segment::Shank(side), &[(0.3, 57.0, 9.0), (0.96, 38.0, 0.0)]));
        let (leg, shoe) = if near {
            (Paint::Leg, Paint::Shoe)
        } else {
            (Paint::FarLeg, Paint::FarShoe)
        };
        [
            part(leg, Outline::Chain(cloth)),
            part(shoe, Outline::Hulls(self.shoe(side))),
        ]
    }

    /// Heel to ball, and ball to toes: two hulls, so that the shoe bends where the foot does.
    fn shoe(&self, side: Side) -> Vec<Vec<Disc>> {
        let frame = self.posture.frame(Segment::Foot(side));
        let ball = self.posture.body().ball();
        let toes = Frame {
            at: frame.point(ball),
            turned: self.posture.toes(side),
        };
        let pair = |frame: Frame, x, z, radius_mm: f64| {
            [-20.0, 20.0].map(|y| self.disc(self.inside(frame, [x, y, z]), radius_mm))
        };
        // The sole is 63 mm below the ankle, the ball 116 mm in front of it.
        let heel = pair(frame, -28.0, -26.0, 37.0);
        let instep = pair(frame, 22.0, -16.0, 42.0);
        let ball = pair(toes, -18.0, 29.0, 29.0);
        let tip = pair(toes, 42.0, 23.0, 23.0);
        vec![[heel, instep, ball].concat(), [ball, tip].concat()]
    }

    fn arm(&self, side: Side, near: bool) -> [Part; 2] {
        let mut cloth = self.along(
            Segment::UpperArm(side),
            &[(0.0, 60.0, 0.0), (0.5, 53.0, 0.0), (1.0, 43.0, 0.0)],
        );
        cloth.extend(self.along(
            Segment::Forearm(side),
            &[(0.3, 43.0, 0.0), (0.95, 31.0, 0.0)],
        ));
        let (sleeve, skin) = if near {
            (Paint::Sleeve, Paint::Skin)
        } else {
            (Paint::FarSleeve, Paint::FarSkin)
        };
        // The cuff lies over the wrist.
        [
            part(skin, Outline::Hulls(self.hand(side))),
            part(sleeve, Outline::Chain(cloth)),
        ]
    }

    /// Palm, fingers and thumb.
    fn hand(&self, side: Side) -> Vec<Vec<Disc>> {
        let frame = self.posture.frame(Segment::Hand(side));
        let at = |place, radius_mm| self.disc(self.inside(frame, place), radius_mm);
        let palm = vec![at([0.0, 0.0, 0.0], 26.0), at([0.0, 0.0, -62.0], 33.0)];
        let fingers = vec![at([0.0, 0.0, -62.0], 33.0), at([-4.0, 0.0, -124.0], 19.0)];
        let thumb = vec![at([10.0, 0.0, -34.0], 17.0), at([44.0, 0.0, -76.0], 12.0)];
        vec![palm, fingers, thumb]
    }

    /// Neck, trunk and head.
    fn trunk(&self) -> [Part; 3] {
        let pelvis = self.posture.frame(Segment::Pelvis);
        let waist = self.posture.frame(Segment::Abdomen);
        let ribs = self.posture.frame(Segment::Thorax);
        let head = self.posture.frame(Segment::Head);
        let pair = |frame, x, y: f64, z, radius_mm: f64| {
            [-y, y].map(|y| self.disc(self.inside(frame, [x, y, z]), radius_mm))
        };
        let collar = self.posture.end(Segment::Thorax);
        let shoulders = Side::BOTH.map(|side| {
            let shoulder = self.posture.frame(Segment::UpperArm(side)).at;
            self.disc(shoulder + (collar - shoulder) * 0.12, 57.0)
        });
        let nape = [self.disc(self.inside(head, [-4.0, 0.0, -14.0]), 60.0)];
        let chest = pair(ribs, 4.0, 74.0, 60.0, 92.0);
        let belly = pair(waist, 6.0, 62.0, 40.0, 93.0);
        let seat = pair(pelvis, -8.0, 70.0, 14.0, 94.0);
        let hulls = vec![
            [&shoulders[..], &nape, &chest].concat(),
            [chest, belly].concat(),
            [belly, seat].concat(),
        ];
        let neck = vec![
            self.disc(self.inside(head, [-2.0, 0.0, -10.0]), 60.0),
            self.disc(self.inside(head, [4.0, 0.0, 60.0]), 49.0),
            self.disc(self.inside(head, [8.0, 0.0, 110.0]), 46.0),
        ];
        [
            part(Paint::Skin, Outline::Chain(neck)),
            part(Paint::Trunk, Outline::Hulls(hulls)),
            part(Paint::Head, Outline::Head(self.head(head))),
        ]
    }

    fn head(&self, frame: Frame) -> Head {
        let height_mm = 1620.0 * 0.182 - CROWN_MM;
        let middle = self.inside(frame, [22.0, 0.0, height_mm]);
        let crown = self.inside(frame, [22.0, 0.0, height_mm + CROWN_MM]);
        let (at, top) = (self.camera.see(middle), self.camera.see(crown));
        let face = frame.turned.forward;
        let seen = self.camera.see(face);
        let towards = self.camera.nearness_m(face);
        Head {
            at,
            tilt_deg: atan2_deg(top.x_mm - at.x_mm, at.y_mm - top.y_mm),
            facing_deg: atan2_deg(towards, seen.x_mm / 1000.0),
            crown_mm: 1000.0 * self.scaled_m(CROWN_MM),
        }
    }
}

fn part(paint: Paint, outline: Outline) -> Part {
    Part { paint, outline }
}
