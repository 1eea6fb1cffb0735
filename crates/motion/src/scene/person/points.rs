//! Where the points of a body are in a posture.

use super::super::{Lens, Look, Seen, head};
use super::{CHEST, DRAWN_AT_M, HEAD, Holding, Limb, NAPE, NECK, POINTS, SEAT, WAIST, YOKE, of};
use crate::body::{Segment, Side};
use crate::held::palm;
use crate::posture::Posture;
use crate::room::{Bar, Rail, RailOf, Room};
use crate::space::{Frame, Vector};

/// Where the points of a body are.
pub(in crate::scene) fn points(
    posture: &Posture,
    (room, holding): (&Room, &Holding),
    look: &Look,
    lens: &Lens,
) -> [Seen; POINTS] {
    let scale = posture.body().stature_m() / DRAWN_AT_M / 1000.0;
    let inside = |frame: Frame, x: f64, y: f64, z: f64| {
        lens.see(frame.point(Vector::new(x * scale, y * scale, z * scale)))
    };
    let nothing = Seen {
        x_mm: 0.0,
        y_mm: 0.0,
        near_mm: 0.0,
    };
    let mut points = [nothing; POINTS];
    let [pelvis, waist, ribs, top] = [
        Segment::Pelvis,
        Segment::Abdomen,
        Segment::Thorax,
        Segment::Head,
    ]
    .map(|segment| posture.frame(segment));
    // A thick waist hangs a little forwards.
    let forward = 60.0 * (look.waist - 1.0);
    let collar = posture.end(Segment::Thorax);
    for (place, side) in Side::BOTH.into_iter().enumerate() {
        let y = side.sign();
        points[SEAT as usize + place] = inside(pelvis, -8.0, 62.0 * y, 24.0);
        points[WAIST as usize + place] = inside(waist, 6.0 + forward, 44.0 * y, 40.0);
        points[CHEST as usize + place] = inside(ribs, 4.0, 54.0 * y, 70.0);
        let shoulder = posture.frame(Segment::UpperArm(side)).at;
        points[YOKE as usize + place] = lens.see(shoulder + (collar - shoulder) * 0.16);
    }
    points[NAPE as usize] = inside(top, -6.0, 0.0, 16.0);
    points[NECK as usize] = inside(top, 8.0, 0.0, 110.0);
    let middle = [22.0, 0.0, DRAWN_AT_M * 182.0 - head::CROWN_MM];
    for (place, at) in [
        [0.0; 3],
        [100.0, 0.0, 0.0],
        [0.0, 100.0, 0.0],
        [0.0, 0.0, 100.0],
    ]
    .into_iter()
    .enumerate()
    {
        let [x, y, z] = core::array::from_fn(|axis| middle[axis] + at[axis]);
        points[HEAD as usize + place] = inside(top, x, y, z);
    }
    for side in Side::BOTH {
        let closed = holding.is_closed(side) || grips(posture, room, side);
        arm_points(posture, closed, side, scale, lens, &mut points);
        leg_points(posture, side, scale, lens, &mut points);
    }
    points
}

fn arm_points(
    posture: &Posture,
    closed: bool,
    side: Side,
    scale: f64,
    lens: &Lens,
    points: &mut [Seen; POINTS],
) {
    let hand = posture.frame(Segment::Hand(side));
    let mut put = |limb, at: Vector| points[of(side, limb) as usize] = lens.see(at);
    let inside = |x: f64, y: f64, z: f64| hand.point(Vector::new(x * scale, y * scale, z * scale));
    put(Limb::Shoulder, posture.frame(Segment::UpperArm(side)).at);
    put(Limb::Elbow, posture.frame(Segment::Forearm(side)).at);
    put(Limb::Wrist, hand.at);
    put(Limb::Knuckles, inside(0.0, 0.0, -62.0));
    let palm_y = -20.0 * side.sign();
    put(Limb::GripFront, inside(70.0, palm_y, -70.0));
    put(Limb::GripBack, inside(-70.0, palm_y, -70.0));
    let below = palm(posture, side);
    put(Limb::Under, Vector::new(below.x, below.y, 0.0));
    let chest = posture.frame(Segment::Thorax);
    let back = Vector::new(-97.0 * scale, side.sign() * 113.0 * scale, 65.0 * scale);
    put(Limb::Back, chest.point(back));
    // Palms look inwards when the arms hang: fingers bend that way, round a bar far more than at ease.
    let palm = -side.sign();
    if closed {
        put(Limb::Tips, inside(-4.0, 58.0 * palm, -84.0));
        put(Limb::Thumb, inside(36.0, 52.0 * palm, -58.0));
    } else {
        put(Limb::Tips, inside(-4.0, 14.0 * palm, -124.0));
        put(Limb::Thumb, inside(40.0, 10.0 * palm, -80.0));
    }
}

/// Whether a hand is closed round a bar or a rail.
fn grips(posture: &Posture, room: &Room, side: Side) -> bool {
    /// From the middle of the hand.
    const NEAR_M: f64 = 0.07;
    let at = palm(posture, side);
    let stature_m = posture.body().stature_m();
    let round_bar = |bar: Bar| libm::hypot(at.x - bar.x * stature_m, at.z - bar.top_m) < NEAR_M;
    let round_rail = |rail: Rail| {
        let (sin, cos) = crate::space::sin_cos_deg(rail.slope_deg);
        let above = at.z - rail.top_m - at.x * sin / cos;
        libm::hypot(at.y - rail.y * stature_m, above) < NEAR_M && rail.of == RailOf::Stairs
    };
    room.bar.is_some_and(round_bar) || room.rail.is_some_and(round_rail)
}

fn leg_points(posture: &Posture, side: Side, scale: f64, lens: &Lens, points: &mut [Seen; POINTS]) {
    let mut put = |limb, at: Vector| points[of(side, limb) as usize] = lens.see(at);
    let shank = posture.frame(Segment::Shank(side));
    let foot = posture.frame(Segment::Foot(side));
    let toes = Frame {
        at: foot.point(posture.body().ball()),
        turned: posture.toes(side),
    };
    let inside = |frame: Frame, x: f64, y: f64, z: f64| {
        frame.point(Vector::new(x * scale, y * scale, z * scale))
    };
    put(Limb::Hip, posture.frame(Segment::Thigh(side)).at);
    put(Limb::Knee, shank.at);
    // The calf swells behind the bone.
    put(Limb::Calf, inside(shank, -9.0, 0.0, -120.0));
    put(Limb::Ankle, foot.at);
    // The sole is 63 mm below the ankle, the ball 116 mm in front of it.
    put(Limb::Heel, inside(foot, -26.0, 0.0, -27.0));
    put(Limb::Instep, inside(foot, 20.0, 0.0, -14.0));
    put(
        Limb::OuterBall,
        inside(toes, -12.0, 19.0 * side.sign(), 27.0),
    );
    put(
        Limb::InnerBall,
        inside(toes, -6.0, -19.0 * side.sign(), 27.0),
    );
    put(Limb::Toes, inside(toes, 46.0, -4.0 * side.sign(), 26.0));
}

/// How much nearer the near side of the pelvis is than the far one where near is painted darker than far.
const APART_MM: f64 = 30.0;

/// The far side, where one is far enough.
pub(in crate::scene) fn far_side(points: &[Seen; POINTS]) -> Option<Side> {
    let [left, right] = Side::BOTH.map(|side| points[of(side, Limb::Hip) as usize].near_mm);
    if left + APART_MM < right {
        Some(Side::Left)
    } else if right + APART_MM < left {
        Some(Side::Right)
    } else {
        None
    }
}
