//! The body: sixteen segments whose lengths and masses are fractions of stature and of body mass.
//!
//! One published set throughout: lengths of Drillis and Contini, masses and centres as Winter prints them. Sets are not mixed,
//! because they cut trunk and thigh at different places.

use crate::evidence::{BODY_OURS, SEGMENT_LENGTHS, SEGMENT_MASSES, SourceId};
use crate::space::Vector;

/// Left or right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// The person's left.
    Left,
    /// The person's right.
    Right,
}

impl Side {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Left, Self::Right];

    /// The other one.
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// 1 on the left, where `y` grows, and -1 on the right.
    pub const fn sign(self) -> f64 {
        match self {
            Self::Left => 1.0,
            Self::Right => -1.0,
        }
    }
}

/// A rigid part of the body. Its frame lies in the joint nearest to the pelvis; the pelvis has its frame between the hips.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Segment {
    /// From the hips to where the lower spine bends.
    Pelvis,
    /// Between the two places where the spine bends.
    Abdomen,
    /// From there to the line between the shoulders.
    Thorax,
    /// Head and neck.
    Head,
    /// From shoulder to elbow.
    UpperArm(Side),
    /// From elbow to wrist.
    Forearm(Side),
    /// From the wrist on.
    Hand(Side),
    /// From hip to knee.
    Thigh(Side),
    /// From knee to ankle.
    Shank(Side),
    /// From the ankle on, toes included.
    Foot(Side),
}

use Side::{Left, Right};

impl Segment {
    /// How many there are.
    pub const COUNT: usize = 16;

    /// All, each after the one it hangs on.
    pub const ALL: [Self; Self::COUNT] = [
        Self::Pelvis,
        Self::Abdomen,
        Self::Thorax,
        Self::Head,
        Self::UpperArm(Left),
        Self::Forearm(Left),
        Self::Hand(Left),
        Self::UpperArm(Right),
        Self::Forearm(Right),
        Self::Hand(Right),
        Self::Thigh(Left),
        Self::Shank(Left),
        Self::Foot(Left),
        Self::Thigh(Right),
        Self::Shank(Right),
        Self::Foot(Right),
    ];

    /// Its place in [`Segment::ALL`].
    pub const fn index(self) -> usize {
        match self {
            Self::Pelvis => 0,
            Self::Abdomen => 1,
            Self::Thorax => 2,
            Self::Head => 3,
            Self::UpperArm(Left) => 4,
            Self::Forearm(Left) => 5,
            Self::Hand(Left) => 6,
            Self::UpperArm(Right) => 7,
            Self::Forearm(Right) => 8,
            Self::Hand(Right) => 9,
            Self::Thigh(Left) => 10,
            Self::Shank(Left) => 11,
            Self::Foot(Left) => 12,
            Self::Thigh(Right) => 13,
            Self::Shank(Right) => 14,
            Self::Foot(Right) => 15,
        }
    }

    /// Its share of the mass of the body.
    pub const fn mass_fraction(self) -> f64 {
        fractions(self).mass
    }

    /// Its counterpart on the other side; parts in the middle are their own.
    pub const fn mirrored(self) -> Self {
        match self {
            Self::UpperArm(side) => Self::UpperArm(side.other()),
            Self::Forearm(side) => Self::Forearm(side.other()),
            Self::Hand(side) => Self::Hand(side.other()),
            Self::Thigh(side) => Self::Thigh(side.other()),
            Self::Shank(side) => Self::Shank(side.other()),
            Self::Foot(side) => Self::Foot(side.other()),
            middle => middle,
        }
    }
}

/// What is published of a segment.
struct Fractions {
    /// Of stature.
    length: f64,
    /// Of body mass.
    mass: f64,
    /// Of the length, from the joint nearest to the pelvis.
    centre: f64,
}

/// Sources of the numbers in this file.
pub const SOURCES: [SourceId; 3] = [SEGMENT_LENGTHS, SEGMENT_MASSES, BODY_OURS];

/// Height of the ankle above the floor, of stature.
const ANKLE_HEIGHT: f64 = 0.039;
/// Half the distance between the hips, of stature.
const HIP_HALF_BREADTH: f64 = 0.0955;
/// Half the distance between the shoulders, of stature.
const SHOULDER_HALF_BREADTH: f64 = 0.1295;
/// From heel to tip of the toes, of stature.
const FOOT_LENGTH: f64 = 0.152;
/// Breadth of the foot, of stature.
const FOOT_BREADTH: f64 = 0.055;
/// How much of the foot's length lies behind the ankle.
const HEEL_SHARE: f64 = 0.25;
/// Where along the foot its toes bend, from the heel. Ours: the ball of the foot lies at a little under three quarters.
const BALL_SHARE: f64 = 0.72;
/// From the hips to where the lower spine bends, of stature.
// Departure: the lengths of the three parts of the trunk are ours. The upper two are alike, and the lower one is as long as
// makes the centre of the straight trunk lie where it is printed for the whole trunk, at 0.500.
const PELVIS_LENGTH: f64 = 0.074_925;
/// From hip to shoulder, of stature.
const TRUNK_LENGTH: f64 = 0.288;

/// Source: Winter 2009 for masses and centres, Drillis and Contini 1966 for lengths.
// Departure: centres printed from the upper end of pelvis, abdomen and thorax are turned round, because frames here lie at the
// lower end. The centre of head and neck is printed at the ear canal, which is half the height of head and neck above the shoulders.
const fn fractions(segment: Segment) -> Fractions {
    const UPPER_TRUNK: f64 = (TRUNK_LENGTH - PELVIS_LENGTH) / 2.0;
    let (length, mass, centre) = match segment {
        Segment::Pelvis => (PELVIS_LENGTH, 0.142, 1.0 - 0.105),
        Segment::Abdomen => (UPPER_TRUNK, 0.139, 1.0 - 0.44),
        Segment::Thorax => (UPPER_TRUNK, 0.216, 1.0 - 0.82),
        Segment::Head => (0.182, 0.081, 0.5),
        Segment::UpperArm(_) => (0.186, 0.028, 0.436),
        Segment::Forearm(_) => (0.146, 0.016, 0.430),
        Segment::Hand(_) => (0.108, 0.006, 0.506),
        Segment::Thigh(_) => (0.245, 0.100, 0.433),
        Segment::Shank(_) => (0.246, 0.0465, 0.433),
        Segment::Foot(_) => (FOOT_LENGTH, 0.0145, 0.5),
    };
    Fractions {
        length,
        mass,
        centre,
    }
}

/// Half the distance between the hips of a body that is drawn. Ours: thighs of the drawn girth then reach the published breadth.
const DRAWN_HIP_HALF_BREADTH: f64 = 0.052;
/// Half the distance between the shoulders of a body that is drawn. Ours, for the same reason.
const DRAWN_SHOULDER_HALF_BREADTH: f64 = 0.0975;

/// Half the distance between the inner ends of the collar bones. Ours.
const COLLAR_HALF_BREADTH: f64 = 0.015;

/// A body of one stature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    stature_m: f64,
    hip_half_breadth: f64,
    shoulder_half_breadth: f64,
}

/// A stature that no adult has.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ImpossibleStature {
    /// What was given.
    pub stature_m: f64,
}

impl core::fmt::Display for ImpossibleStature {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(
            f,
            "a height of {} m cannot be drawn: adults are between {} and {} m tall; give the height in metres",
            self.stature_m,
            Body::LEAST_STATURE_M,
            Body::GREATEST_STATURE_M
        )
    }
}

impl core::error::Error for ImpossibleStature {}

impl Body {
    /// The least stature that is taken.
    pub const LEAST_STATURE_M: f64 = 1.0;
    /// The greatest stature that is taken.
    pub const GREATEST_STATURE_M: f64 = 2.3;

    /// A body as tall as this.
    ///
    /// # Errors
    /// When no adult is as tall or as short, or the number is not finite.
    pub fn of_stature_m(stature_m: f64) -> Result<Self, ImpossibleStature> {
        if (Self::LEAST_STATURE_M..=Self::GREATEST_STATURE_M).contains(&stature_m) {
            Ok(Self {
                stature_m,
                hip_half_breadth: HIP_HALF_BREADTH,
                shoulder_half_breadth: SHOULDER_HALF_BREADTH,
            })
        } else {
            Err(ImpossibleStature { stature_m })
        }
    }

    /// The same body with its hips and shoulders as far apart as they are drawn.
    ///
    /// The published breadths are those of the outline: limbs with a girth must begin inside of it.
    pub const fn drawn(self) -> Self {
        Self {
            hip_half_breadth: DRAWN_HIP_HALF_BREADTH,
            shoulder_half_breadth: DRAWN_SHOULDER_HALF_BREADTH,
            ..self
        }
    }

    /// How tall.
    pub const fn stature_m(&self) -> f64 {
        self.stature_m
    }

    /// The length of a segment, from joint to joint or to its end.
    pub const fn length_m(&self, segment: Segment) -> f64 {
        fractions(segment).length * self.stature_m
    }

    /// Height of the ankle above the sole.
    pub const fn ankle_height_m(&self) -> f64 {
        ANKLE_HEIGHT * self.stature_m
    }

    /// Breadth of a foot.
    pub const fn foot_breadth_m(&self) -> f64 {
        FOOT_BREADTH * self.stature_m
    }

    /// Half the distance between the hips.
    pub const fn hip_half_breadth_m(&self) -> f64 {
        self.hip_half_breadth * self.stature_m
    }

    /// A hip in the frame of the pelvis.
    pub const fn hip(&self, side: Side) -> Vector {
        Vector::new(0.0, side.sign() * self.hip_half_breadth_m(), 0.0)
    }

    /// Where a shoulder itself turns, in the frame of the thorax: the inner end of the collar bone.
    pub const fn collar(&self, side: Side) -> Vector {
        Vector::new(
            0.0,
            side.sign() * COLLAR_HALF_BREADTH * self.stature_m,
            self.length_m(Segment::Thorax),
        )
    }

    /// A shoulder that is neither raised nor forward, in the frame of the thorax.
    pub const fn shoulder(&self, side: Side) -> Vector {
        Vector::new(
            0.0,
            side.sign() * self.shoulder_half_breadth * self.stature_m,
            self.length_m(Segment::Thorax),
        )
    }

    /// The lower end of the back of the heel in the frame of the foot.
    pub const fn heel(&self) -> Vector {
        self.sole(0.0)
    }

    /// Where the toes bend, on the sole, in the frame of the foot.
    pub const fn ball(&self) -> Vector {
        self.sole(BALL_SHARE)
    }

    /// The tip of the unbent toes, on the sole, in the frame of the foot.
    pub const fn toe_tip(&self) -> Vector {
        self.sole(1.0)
    }

    /// A point of the middle of the sole in the frame of the foot, by its share of the length from the heel.
    const fn sole(&self, share: f64) -> Vector {
        Vector::new(
            (share - HEEL_SHARE) * FOOT_LENGTH * self.stature_m,
            0.0,
            -self.ankle_height_m(),
        )
    }

    /// Where the centre of mass of a segment lies in its frame. Bent toes do not move that of the foot.
    pub const fn centre(&self, segment: Segment) -> Vector {
        let Fractions { length, centre, .. } = fractions(segment);
        let along_m = length * centre * self.stature_m;
        match segment {
            Segment::Pelvis | Segment::Abdomen | Segment::Thorax | Segment::Head => {
                Vector::new(0.0, 0.0, along_m)
            }
            Segment::Foot(_) => {
                let tip = self.toe_tip();
                Vector::new(tip.x * centre, 0.0, tip.z * centre)
            }
            _ => Vector::new(0.0, 0.0, -along_m),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Body, Segment, Side};

    fn unit() -> Body {
        Body::of_stature_m(1.0).unwrap()
    }

    /// Every printed number has three decimals or more: half the last digit.
    const HALF_LAST_DIGIT: f64 = 0.0005;

    #[test]
    fn every_segment_stands_at_its_place() {
        for (place, segment) in Segment::ALL.into_iter().enumerate() {
            assert_eq!(segment.index(), place);
            assert_eq!(segment.mirrored().mirrored(), segment);
        }
    }

    #[test]
    fn published_masses_add_up_to_the_body() {
        // winter-2009: two limbs each, head and neck, trunk
        let sum = |segments: &[Segment]| -> f64 {
            segments.iter().map(|segment| segment.mass_fraction()).sum()
        };
        assert!((sum(&Segment::ALL) - 1.0).abs() < 1e-12);
        let arm = [
            Segment::UpperArm(Side::Left),
            Segment::Forearm(Side::Left),
            Segment::Hand(Side::Left),
        ];
        assert!((sum(&arm) - 0.050).abs() < HALF_LAST_DIGIT); // winter-2009: total arm
        let leg = [
            Segment::Thigh(Side::Left),
            Segment::Shank(Side::Left),
            Segment::Foot(Side::Left),
        ];
        assert!((sum(&leg) - 0.161).abs() < HALF_LAST_DIGIT); // winter-2009: total leg
        let trunk = [Segment::Pelvis, Segment::Abdomen, Segment::Thorax];
        assert!((sum(&trunk) - 0.497).abs() < HALF_LAST_DIGIT); // winter-2009: trunk
    }

    #[test]
    fn published_heights_add_up_to_stature() {
        // drillis-contini-1966: knee .285, hip .530, shoulder .818 above the floor
        let body = unit();
        let knee = body.ankle_height_m() + body.length_m(Segment::Shank(Side::Left));
        assert!((knee - 0.285).abs() < HALF_LAST_DIGIT);
        let hip = knee + body.length_m(Segment::Thigh(Side::Left));
        assert!((hip - 0.530).abs() < HALF_LAST_DIGIT);
        let trunk: f64 = [Segment::Pelvis, Segment::Abdomen, Segment::Thorax]
            .map(|segment| body.length_m(segment))
            .iter()
            .sum();
        assert!((trunk - 0.288).abs() < HALF_LAST_DIGIT);
        assert!((hip + trunk - 0.818).abs() < HALF_LAST_DIGIT);
        assert!((hip + trunk + body.length_m(Segment::Head) - 1.0).abs() < HALF_LAST_DIGIT);
    }

    #[test]
    fn published_centres_of_arm_leg_and_trunk_follow_from_their_parts() {
        // winter-2009: trunk .500 of its length, total arm .530 and total leg .447 from the upper end. Known gap: put together
        // from its parts the arm has .516 and the leg .435, because the table's whole limbs are measured on their own.
        let body = unit();
        let chain = |segments: [Segment; 3], down: bool| {
            let (mut start, mut moment, mut mass) = (0.0, 0.0, 0.0);
            for segment in segments {
                let centre = body.centre(segment).z.abs();
                moment += segment.mass_fraction() * (start + centre);
                mass += segment.mass_fraction();
                start += body.length_m(segment);
            }
            let centre = moment / mass;
            if down { centre } else { start - centre }
        };
        let trunk = chain([Segment::Pelvis, Segment::Abdomen, Segment::Thorax], false);
        assert!((trunk / 0.288 - 0.500).abs() < HALF_LAST_DIGIT);
        let left = Side::Left;
        let arm = [
            Segment::UpperArm(left),
            Segment::Forearm(left),
            Segment::Hand(left),
        ];
        let arm = chain(arm, true) / (0.186 + 0.146);
        assert!((arm - 0.530).abs() < 0.015, "{arm}");
        let leg = [
            Segment::Thigh(left),
            Segment::Shank(left),
            Segment::Foot(left),
        ];
        let leg = chain(leg, true) / (0.245 + 0.246);
        assert!((leg - 0.447).abs() < 0.015, "{leg}");
    }

    #[test]
    fn impossible_statures_are_refused_with_what_to_do() {
        for stature_m in [0.99, 2.31, f64::NAN, f64::INFINITY, 170.0] {
            assert!(Body::of_stature_m(stature_m).is_err(), "{stature_m}");
        }
        let said = Body::of_stature_m(170.0).unwrap_err().to_string();
        assert_eq!(
            said,
            "a height of 170 m cannot be drawn: adults are between 1 and 2.3 m tall; give the height in metres"
        );
    }

    #[test]
    fn law_everything_grows_with_stature() {
        let tall = Body::of_stature_m(1.8).unwrap();
        for segment in Segment::ALL {
            let ratio = tall.length_m(segment) / unit().length_m(segment);
            assert!((ratio - 1.8).abs() < 1e-12, "{segment:?}");
            let moved = tall.centre(segment) - unit().centre(segment) * 1.8;
            assert!(moved.length() < 1e-12, "{segment:?}");
        }
    }
}
