//! What was done about an alert, in words that say something.

use super::Settled;

/// Fewest letters and figures of an answer: a dot answers nothing. Source: `service-ours`, a default of ours.
const FEWEST: usize = 3;

/// An answer that says nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NothingSaid;

impl core::fmt::Display for NothingSaid {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(
            "nothing is written; an alert ends only with what was done. Write it in a few words",
        )
    }
}

impl core::error::Error for NothingSaid {}

impl Settled {
    /// An alert with what was done about it.
    ///
    /// # Errors
    /// [`NothingSaid`] when the words say nothing.
    pub fn new(key: &str, done: &str) -> Result<Self, NothingSaid> {
        let said = done.chars().filter(|sign| sign.is_alphanumeric()).count();
        if said < FEWEST {
            return Err(NothingSaid);
        }
        Ok(Self {
            key: key.to_owned(),
            done: done.trim().to_owned(),
        })
    }
}
