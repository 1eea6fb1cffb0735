//! Ids of the publications that the numbers of this crate come from.

/// Id of an entry in the register of publications under `sources/`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SourceId(pub &'static str);

/// Lengths of segments as fractions of stature.
pub const SEGMENT_LENGTHS: SourceId = SourceId("drillis-contini-1966");
/// Masses of segments and where along them their centres lie.
pub const SEGMENT_MASSES: SourceId = SourceId("winter-2009");
/// What the two do not print: where the spine and the foot bend.
pub const BODY_OURS: SourceId = SourceId("body-ours");
/// Ranges of joints that every range here is taken from, but those of foot and toes.
pub const JOINT_RANGES: SourceId = SourceId("aaos-ranges");
/// Ranges of foot and toes.
pub const FOOT_RANGES: SourceId = SourceId("aaos-foot-ranges");
/// Where the shoulder itself turns, and how far.
pub const GIRDLE_OURS: SourceId = SourceId("girdle-ours");
/// What hands hold and lean on, and how thick limbs are.
pub const HELD_OURS: SourceId = SourceId("held-ours");
/// Movement of least jerk between two rests.
pub const LEAST_JERK: SourceId = SourceId("flash-hogan-1985");
/// Where a moving centre of mass is going.
pub const EXTRAPOLATED_CENTRE: SourceId = SourceId("hof-2005");
/// What of foot and seat bears.
pub const SUPPORT_OURS: SourceId = SourceId("support-ours");
/// The cost of lifting a body.
pub const MECHANICAL_BOUND: SourceId = SourceId("mechanical-bound-ours");
