//! Invented people from a seed: realistic, covering every field of a case, with gaps as they are met.
//!
//! The same seed gives the same person on every machine and in every build. Every value lies within the bounds that
//! outside values must keep, so each case can be written to a file and read back.

mod day;
mod draw;
mod heart;
mod home;
mod person;
mod tested;

pub use draw::Draw;

use draw::{Kind, Part};
use jiff::civil::{Date, date};
use rehab::assessment::{Case, CaseId};

/// The day on which the invented people are assessed.
pub const RANDOM_DAY: Date = date(2026, 11, 25);

/// The invented person of a seed.
///
/// About two in five records are complete, one in ten is nearly empty, the rest has gaps; about two in three people
/// are well on the day.
pub fn random_case(seed: u64) -> Case {
    let mut draw = Draw::new(seed);
    let thorough = match draw.whole(0, 9) {
        0 => 0.15,
        1..=4 => 1.0,
        _ => draw.number(0.5, 0.98, 0.01),
    };
    let unwell = if draw.chance(0.66) { 0.01 } else { 0.25 };
    let kind = Kind {
        thorough,
        unwell,
        age: draw.about(69.0, 14.0, 1.0).clamp(24.0, 99.0) as i32,
    };
    let mut case = Case::unknown(CaseId(format!("invented-{seed:016x}")));
    for part in [
        person::draw as Part,
        heart::draw,
        day::draw,
        tested::draw,
        home::draw,
    ] {
        // Each part draws from its own seed, so that a change in one leaves the others as they were.
        let mut own = Draw::new(draw.bits());
        part(&mut own, kind, &mut case);
    }
    case
}

/// A day so many days before [`RANDOM_DAY`].
fn days_ago(days: i32) -> Date {
    rehab::calendar::days_after(RANDOM_DAY, -days)
}

#[cfg(test)]
mod self_test;
