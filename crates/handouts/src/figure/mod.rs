//! The figure: one still picture of each exercise, drawn from the joints of a body in space.
//!
//! Everything a picture needs passes through [`still`], so that moving pictures can take its place later.

mod arms;
mod arrow;
mod base;
mod body;
mod chairs;
mod choose;
mod draw;
mod furniture;
mod head;
mod legs;
mod moving;
mod poses;
mod props;
mod shape;
mod space;

pub use choose::{Facts, Still, is_drawn, key_of, still};
pub use moving::{
    MOST_BYTES, MOST_FILE_BYTES, MOST_FRAMES, MOST_NUMBERS_BYTES, Picture, blueprint, drawn,
    numbers, pictures, scene_alone, turning,
};

/// What draws a movement on a page from its numbers, a module of JavaScript.
pub const SCRIPT: &str = include_str!("../../page/figure.js");

/// One of the fixed set of people who are drawn: head, hair and dress belong together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Build {
    /// Grey bun and spectacles.
    First,
    /// Short grey hair.
    Second,
    /// Grey curls.
    Third,
    /// A crown of grey hair, spectacles.
    Fourth,
}

impl Build {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::First, Self::Second, Self::Third, Self::Fourth];

    /// The build for a case: always the same one for the same case, spread evenly over cases.
    pub fn of(case_id: &str) -> Self {
        // Source: FNV-1a, a public-domain digest; any even spread would do.
        let digest = case_id.bytes().fold(0x811c_9dc5_u32, |digest, byte| {
            (digest ^ u32::from(byte)).wrapping_mul(0x0100_0193)
        });
        Self::ALL[(digest >> 8) as usize % Self::ALL.len()]
    }

    const fn wears_spectacles(self) -> bool {
        matches!(self, Self::First | Self::Fourth)
    }

    /// Class of the drawing that sets skin and hair.
    pub const fn class(self) -> &'static str {
        match self {
            Self::First => "fg fg-1",
            Self::Second => "fg fg-2",
            Self::Third => "fg fg-3",
            Self::Fourth => "fg fg-4",
        }
    }
}
