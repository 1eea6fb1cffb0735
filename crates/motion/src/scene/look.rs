//! Who is drawn: girth, hair and spectacles. Colours belong to the drawing.

/// One of a small set of drawn people.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Thickness of the limbs; 1 is the middle.
    pub girth: f64,
    /// Thickness of the trunk; 1 is the middle.
    pub waist: f64,
    /// How the hair is worn.
    pub hair: Hair,
    /// Whether spectacles are worn.
    pub spectacles: bool,
}

/// How hair is worn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hair {
    /// Long, in a bun.
    Bun,
    /// Short.
    Short,
    /// In curls.
    Curls,
    /// A crown round a bald top.
    Crown,
}

impl Look {
    /// Somebody of middle girth with short hair.
    pub const MIDDLE: Self = Self {
        girth: 1.0,
        waist: 1.0,
        hair: Hair::Short,
        spectacles: false,
    };
}
