//! The joints: thirty-eight ways to move, what each is called, and how far it goes.

use crate::body::Side;
use crate::evidence::{FOOT_RANGES, GIRDLE_OURS, JOINT_RANGES, SourceId};

/// One way in which one joint moves. Every angle is 0 in upright standing with hanging arms and palms at the thighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Freedom {
    /// Of spine or neck.
    Middle(Middle),
    /// Of an arm or a leg.
    Of(Side, Limb),
}

macro_rules! closed_list {
    ($(#[$meta:meta])* $name:ident $count:literal { $($(#[$item_meta:meta])* $item:ident = $word:literal,)* }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name { $($(#[$item_meta])* $item,)* }

        impl $name {
            /// All of them, in order.
            pub const ALL: [Self; $count] = [$(Self::$item,)*];

            /// Its word in files and messages.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$item => $word,)* }
            }
        }
    };
}

closed_list!(
    /// Ways to move of spine and neck; the spine shares each of its angles equally between its two bends.
    Middle 6 {
        /// Bending the spine forwards.
        TrunkFlexion = "trunk-flexion",
        /// Bending the spine to the left.
        TrunkSideBend = "trunk-side-bend",
        /// Turning the chest to the left.
        TrunkTurn = "trunk-turn",
        /// Bending the neck forwards.
        NeckFlexion = "neck-flexion",
        /// Bending the neck to the left.
        NeckSideBend = "neck-side-bend",
        /// Turning the head to the left.
        NeckTurn = "neck-turn",
    }
);

closed_list!(
    /// Ways to move of an arm or a leg; the same angle looks alike on both sides.
    Limb 16 {
        /// Thigh forwards.
        HipFlexion = "hip-flexion",
        /// Thigh outwards.
        HipAbduction = "hip-abduction",
        /// Knee cap inwards.
        HipRotation = "hip-rotation",
        /// Heel towards the seat.
        KneeFlexion = "knee-flexion",
        /// Front of the foot upwards.
        AnkleFlexion = "ankle-flexion",
        /// Sole inwards.
        AnkleInversion = "ankle-inversion",
        /// Toes upwards.
        ToeExtension = "toe-extension",
        /// Arm forwards.
        ShoulderFlexion = "shoulder-flexion",
        /// Arm outwards.
        ShoulderAbduction = "shoulder-abduction",
        /// Front of the arm inwards.
        ShoulderRotation = "shoulder-rotation",
        /// Hand towards the shoulder.
        ElbowFlexion = "elbow-flexion",
        /// Thumb inwards.
        ForearmPronation = "forearm-pronation",
        /// Hand towards its palm.
        WristFlexion = "wrist-flexion",
        /// Hand towards its thumb.
        WristDeviation = "wrist-deviation",
        /// The shoulder itself upwards.
        ShoulderRaise = "shoulder-raise",
        /// The shoulder itself forwards.
        ShoulderForward = "shoulder-forward",
    }
);

impl Limb {
    /// Those of the leg.
    pub const LEG: [Self; 7] = [
        Self::HipFlexion,
        Self::HipAbduction,
        Self::HipRotation,
        Self::KneeFlexion,
        Self::AnkleFlexion,
        Self::AnkleInversion,
        Self::ToeExtension,
    ];

    /// Those that carry the shoulder itself; the arm hangs on them.
    pub const GIRDLE: [Self; 2] = [Self::ShoulderRaise, Self::ShoulderForward];

    /// Those of the arm.
    pub const ARM: [Self; 7] = [
        Self::ShoulderFlexion,
        Self::ShoulderAbduction,
        Self::ShoulderRotation,
        Self::ElbowFlexion,
        Self::ForearmPronation,
        Self::WristFlexion,
        Self::WristDeviation,
    ];
}

impl Freedom {
    /// How many there are.
    pub const COUNT: usize = Middle::ALL.len() + 2 * Limb::ALL.len();

    /// All of them: the middle, the left, the right.
    pub fn all() -> impl Iterator<Item = Self> {
        let limbs = Side::BOTH
            .into_iter()
            .flat_map(|side| Limb::ALL.map(|limb| Self::Of(side, limb)));
        Middle::ALL.into_iter().map(Self::Middle).chain(limbs)
    }

    /// Its place among [`Freedom::all`].
    pub const fn index(self) -> usize {
        match self {
            Self::Middle(middle) => middle as usize,
            Self::Of(Side::Left, limb) => Middle::ALL.len() + limb as usize,
            Self::Of(Side::Right, limb) => Middle::ALL.len() + Limb::ALL.len() + limb as usize,
        }
    }

    /// What the same movement is called in a mirror, and whether its angle changes its sign there.
    pub const fn mirrored(self) -> (Self, bool) {
        match self {
            Self::Of(side, limb) => (Self::Of(side.other(), limb), false),
            Self::Middle(Middle::TrunkFlexion | Middle::NeckFlexion) => (self, false),
            Self::Middle(_) => (self, true),
        }
    }

    /// How far it goes in healthy adults.
    ///
    /// Source: American Academy of Orthopaedic Surgeons, recalled; those of elbow, forearm and wrist were read. How far the shoulder itself goes is ours.
    pub const fn norm(self) -> Range {
        let (low_deg, high_deg) = match self {
            Self::Middle(Middle::TrunkFlexion) => (-25.0, 80.0),
            Self::Middle(Middle::TrunkSideBend) => (-35.0, 35.0),
            Self::Middle(Middle::TrunkTurn) => (-45.0, 45.0),
            Self::Middle(Middle::NeckFlexion) => (-45.0, 45.0),
            Self::Middle(Middle::NeckSideBend) => (-45.0, 45.0),
            Self::Middle(Middle::NeckTurn) => (-60.0, 60.0),
            Self::Of(_, limb) => limb_norm(limb),
        };
        let foot = matches!(
            self,
            Self::Of(_, Limb::AnkleInversion) | Self::Of(_, Limb::ToeExtension)
        );
        let girdle = matches!(
            self,
            Self::Of(_, Limb::ShoulderRaise) | Self::Of(_, Limb::ShoulderForward)
        );
        let source = match (foot, girdle) {
            (true, _) => FOOT_RANGES,
            (_, true) => GIRDLE_OURS,
            _ => JOINT_RANGES,
        };
        Range {
            low_deg,
            high_deg,
            source,
        }
    }
}

const fn limb_norm(limb: Limb) -> (f64, f64) {
    match limb {
        Limb::HipFlexion => (-30.0, 120.0),
        Limb::HipAbduction => (-30.0, 45.0),
        Limb::HipRotation => (-45.0, 45.0),
        Limb::KneeFlexion => (0.0, 135.0),
        Limb::AnkleFlexion => (-50.0, 20.0),
        Limb::AnkleInversion => (-15.0, 35.0),
        Limb::ToeExtension => (-45.0, 70.0),
        Limb::ShoulderFlexion => (-60.0, 180.0),
        // Departure: no norm is printed for drawing the arm inwards across the body; 30 degrees are ours.
        Limb::ShoulderAbduction => (-30.0, 180.0),
        Limb::ShoulderRotation => (-90.0, 70.0),
        Limb::ElbowFlexion => (0.0, 150.0),
        Limb::ForearmPronation => (-80.0, 80.0),
        Limb::WristFlexion => (-70.0, 80.0),
        Limb::WristDeviation => (-30.0, 20.0),
        Limb::ShoulderRaise => (-10.0, 40.0),
        Limb::ShoulderForward => (-25.0, 25.0),
    }
}

impl core::fmt::Display for Freedom {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Middle(middle) => f.write_str(middle.word()),
            Self::Of(Side::Left, limb) => write!(f, "left {}", limb.word()),
            Self::Of(Side::Right, limb) => write!(f, "right {}", limb.word()),
        }
    }
}

/// How far one movement goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Least angle.
    pub low_deg: f64,
    /// Greatest angle.
    pub high_deg: f64,
    /// Where the two are from.
    pub source: SourceId,
}

impl Range {
    /// By how much an angle lies outside; 0 inside.
    pub fn excess_deg(&self, angle_deg: f64) -> f64 {
        (angle_deg - self.high_deg)
            .max(self.low_deg - angle_deg)
            .max(0.0)
    }
}

/// The ranges of one person: the norm, and narrower where something is known of this person.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranges([Range; Freedom::COUNT]);

impl Ranges {
    /// Those of healthy adults.
    pub fn norm() -> Self {
        let mut freedoms = Freedom::all();
        Self(core::array::from_fn(|_| {
            freedoms
                .next()
                .expect("there are as many freedoms as the count says")
                .norm()
        }))
    }

    /// One of them.
    pub fn of(&self, freedom: Freedom) -> Range {
        self.0[freedom.index()]
    }

    /// The same with one movement that goes no further than this. A cap never widens a range.
    pub fn capped(mut self, freedom: Freedom, high_deg: f64) -> Self {
        let range = &mut self.0[freedom.index()];
        range.high_deg = range.high_deg.min(high_deg).max(range.low_deg);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::{Freedom, Limb, Middle, Ranges};
    use crate::body::Side;

    #[test]
    fn there_are_thirty_eight_and_each_stands_at_its_place() {
        assert_eq!(Freedom::all().count(), 38);
        assert_eq!(Freedom::COUNT, 38);
        for (place, freedom) in Freedom::all().enumerate() {
            assert_eq!(freedom.index(), place, "{freedom}");
            let (mirrored, _) = freedom.mirrored();
            assert_eq!(mirrored.mirrored().0, freedom);
        }
    }

    #[test]
    fn no_two_have_the_same_name() {
        let mut names: Vec<String> = Freedom::all().map(|freedom| freedom.to_string()).collect();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), 38);
    }

    #[test]
    fn published_ranges_of_the_academy() {
        // aaos-ranges: flexion/extension of hip 120/30, abduction/adduction 45/30, rotation inwards/outwards 45/45, knee 135,
        // ankle 20/50, shoulder 180/60, abduction 180, rotation 70/90, elbow 150, forearm 80/80, wrist 80/70, towards thumb 20 and
        // little finger 30, neck 45/45/45/60, trunk 80/25/35/45. aaos-foot-ranges: inversion/eversion 35/15, toes 70/45.
        let limbs = [
            (Limb::HipFlexion, 120.0, 30.0),
            (Limb::HipAbduction, 45.0, 30.0),
            (Limb::HipRotation, 45.0, 45.0),
            (Limb::KneeFlexion, 135.0, 0.0),
            (Limb::AnkleFlexion, 20.0, 50.0),
            (Limb::AnkleInversion, 35.0, 15.0),
            (Limb::ToeExtension, 70.0, 45.0),
            (Limb::ShoulderFlexion, 180.0, 60.0),
            (Limb::ShoulderAbduction, 180.0, 30.0), // inwards is ours
            (Limb::ShoulderRotation, 70.0, 90.0),
            (Limb::ElbowFlexion, 150.0, 0.0),
            (Limb::ForearmPronation, 80.0, 80.0),
            (Limb::WristFlexion, 80.0, 70.0),
            (Limb::WristDeviation, 20.0, 30.0),
        ];
        let middle = [
            (Middle::TrunkFlexion, 80.0, 25.0),
            (Middle::TrunkSideBend, 35.0, 35.0),
            (Middle::TrunkTurn, 45.0, 45.0),
            (Middle::NeckFlexion, 45.0, 45.0),
            (Middle::NeckSideBend, 45.0, 45.0),
            (Middle::NeckTurn, 60.0, 60.0),
        ];
        let ranges = Ranges::norm();
        let limbs = limbs.into_iter().flat_map(|(limb, high, low)| {
            Side::BOTH.map(|side| (Freedom::Of(side, limb), high, low))
        });
        let middle = middle
            .into_iter()
            .map(|(middle, high, low)| (Freedom::Middle(middle), high, low));
        let mut told = 0;
        for (freedom, high_deg, low_deg) in limbs.chain(middle) {
            let range = ranges.of(freedom);
            assert_eq!(
                (range.high_deg, -range.low_deg),
                (high_deg, low_deg),
                "{freedom}"
            );
            told += 1;
        }
        // Nobody prints how far the shoulder itself goes; those four are ours.
        assert_eq!(told, Freedom::COUNT - 4);
    }

    #[test]
    fn law_a_cap_only_narrows() {
        let hip = Freedom::Of(Side::Left, Limb::HipFlexion);
        let capped = Ranges::norm().capped(hip, 90.0);
        assert_eq!(capped.of(hip).high_deg, 90.0);
        assert_eq!(capped.clone().capped(hip, 110.0), capped);
        let right = Freedom::Of(Side::Right, Limb::HipFlexion);
        assert_eq!(capped.of(right), Ranges::norm().of(right));
        let shut = capped.capped(hip, -90.0).of(hip);
        assert!(shut.low_deg <= shut.high_deg);
    }

    #[test]
    fn an_angle_outside_is_told_by_how_much() {
        let knee = Ranges::norm().of(Freedom::Of(Side::Right, Limb::KneeFlexion));
        assert_eq!(knee.excess_deg(135.0), 0.0);
        assert_eq!(knee.excess_deg(140.0), 5.0);
        assert_eq!(knee.excess_deg(-2.0), 2.0);
    }
}
