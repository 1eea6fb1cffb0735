//! How the heart rate answers the work: prediction with its uncertainty, and the chance of passing a ceiling.
//!
//! Linear in METs: `h = level + slope x phi(METs) + drift`, `phi` the exact first-order response to METs above rest.
//! Every parameter has a mean and an error; the time constant has a grid of weights.

mod chance;
mod first_order;
mod parameters;
mod predict;
mod rules;

pub use chance::chance_of_passing;
pub use first_order::{decay, drift, step};
pub(crate) use parameters::TAU_S;
pub use parameters::{Basis, READING_SD_BPM, Response, TauWeight};
pub use predict::{Moment, Work, predict};
pub(crate) use rules::{CEILING_ID, CHANCE_MOST, RULES, Z_95};
