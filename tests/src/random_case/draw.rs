//! Numbers from a seed: the same seed draws the same numbers on every machine.

use rehab::assessment::Case;

/// A source of numbers that depends on its seed only (splitmix64).
#[derive(Clone, Debug)]
pub struct Draw {
    state: u64,
}

impl Draw {
    /// A source from a seed.
    pub const fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next 64 bits.
    pub const fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// From 0 to just under 1.
    pub fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Yes with a chance.
    pub fn chance(&mut self, of: f64) -> bool {
        self.share() < of
    }

    /// A whole number between two, both included.
    pub fn whole(&mut self, low: i32, high: i32) -> i32 {
        let span = f64::from(high - low + 1);
        low + (self.share() * span) as i32
    }

    /// A number between two in steps.
    pub fn number(&mut self, low: f64, high: f64, step: f64) -> f64 {
        let steps = ((high - low) / step).round();
        let at = (self.share() * (steps + 1.0)).floor();
        // Through a whole number of hundredths, so that 71.5 is 71.5 and not a hair beside it.
        ((low + at * step) * 100.0).round() / 100.0
    }

    /// A number about a middle: the mean of three draws, so that ends are rare.
    pub fn about(&mut self, middle: f64, spread: f64, step: f64) -> f64 {
        let sum: f64 = (0..3).map(|_| self.share() * 2.0 - 1.0).sum();
        let value = middle + spread * sum;
        ((value / step).round() * step * 100.0).round() / 100.0
    }

    /// One of a list.
    pub fn pick<T: Copy>(&mut self, list: &[T]) -> T {
        list[(self.share() * list.len() as f64) as usize]
    }

    /// A value that is known with a chance.
    pub fn known<T>(&mut self, chance: f64, value: T) -> Option<T> {
        self.chance(chance).then_some(value)
    }
}

/// How a person was chosen: how much of the record is filled in, and how well they are on the day.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kind {
    /// Chance that a fact is known.
    pub(super) thorough: f64,
    /// Chance of anything bad on the day.
    pub(super) unwell: f64,
    /// Age in years.
    pub(super) age: i32,
}

/// A part of the record that is drawn.
pub(super) type Part = fn(&mut Draw, Kind, &mut Case);
