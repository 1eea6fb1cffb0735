//! Passphrases: how a secret text wraps the data key, and how wrong attempts are slowed down.

use std::fmt;

use argon2::{Algorithm, Argon2, Params, Version};
use jiff::{SignedDuration, Timestamp};
use zeroize::Zeroizing;

use crate::error::Error;
use crate::framing::Frame;
use crate::seal::Key;

/// The fewest characters of a new passphrase. Ours; NIST SP 800-63B names 8 as the least for a chosen secret.
pub(crate) const FEWEST_CHARACTERS: usize = 10;

/// A passphrase as somebody typed it; overwritten in memory when dropped, never shown by `Debug`.
pub struct Passphrase(Zeroizing<String>);

impl Passphrase {
    /// Takes the text as typed: nothing is trimmed or folded.
    pub fn new(text: String) -> Passphrase {
        Passphrase(Zeroizing::new(text))
    }

    /// Refuses a new passphrase that has too few characters; asked again wherever one is set.
    pub fn check_strength(&self) -> Result<(), Error> {
        let found = self.0.chars().count();
        if found < FEWEST_CHARACTERS {
            return Err(Error::PassphraseTooShort {
                found,
                least: FEWEST_CHARACTERS,
            });
        }
        Ok(())
    }

    /// The characters as bytes.
    pub(crate) fn as_bytes(&self) -> &[u8] {
        self.0.as_bytes()
    }
}

impl fmt::Debug for Passphrase {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("Passphrase(secret)")
    }
}

/// How much work one attempt at a passphrase costs (argon2id, one lane); stored with each wrap, so that it can grow later.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PassphraseCost {
    /// Memory in KiB, 8 to 1,048,576.
    pub memory_kib: u32,
    /// Passes over the memory, 1 to 100.
    pub passes: u32,
}

impl PassphraseCost {
    /// For a real record: 64 MiB and 3 passes, the memory-saving choice of RFC 9106 section 4, but with one lane.
    pub const STANDARD: PassphraseCost = PassphraseCost {
        memory_kib: 64 * 1024,
        passes: 3,
    };

    /// For tests only: next to no work, so it protects nothing.
    pub const FOR_TESTS: PassphraseCost = PassphraseCost {
        memory_kib: 8,
        passes: 1,
    };

    /// Refuses what a hostile file could ask for: more memory or time than a sign-in may take.
    pub(crate) fn checked(self) -> Result<PassphraseCost, Error> {
        let fits = (8..=1024 * 1024).contains(&self.memory_kib) && (1..=100).contains(&self.passes);
        if !fits {
            return Err(Error::unsuitable(
                "The cost of a passphrase",
                "memory is 8 to 1,048,576 KiB, passes are 1 to 100",
            ));
        }
        Ok(self)
    }
}

/// The key that a secret text gives with this salt and cost.
pub(crate) fn stretch(secret: &[u8], salt: &[u8], cost: PassphraseCost) -> Result<Key, Error> {
    let cost = cost.checked()?;
    let params = Params::new(cost.memory_kib, cost.passes, 1, Some(32))
        .map_err(|_| Error::unsuitable("The cost of a passphrase", "argon2 refuses it"))?;
    let mut key = Key::empty();
    Argon2::new(Algorithm::Argon2id, Version::V0x13, params)
        .hash_password_into(secret, salt, key.as_mut_bytes())
        .map_err(|_| Error::unsuitable("The passphrase", "argon2 refuses it"))?;
    Ok(key)
}

/// Where a wrapped data key belongs.
pub(crate) fn wrap_place(record: &[u8], wrap: &[u8], user: Option<&[u8]>) -> Frame {
    Frame::for_purpose("hearthpace wrapped data key 1")
        .bytes(record)
        .bytes(wrap)
        .maybe(user)
}

/// How long to wait after so many wrong attempts in a row: nothing for two, then 5 s doubling up to a quarter of an hour.
///
/// Ours: a typing error costs nothing, a guesser gets about a hundred attempts a day.
pub(crate) fn wait_after(failed: u32) -> SignedDuration {
    match failed {
        0..=2 => SignedDuration::ZERO,
        3..=10 => SignedDuration::from_secs(5 << (failed - 3)),
        _ => SignedDuration::from_mins(15),
    }
}

/// The moment from which the next attempt counts.
pub(crate) fn not_before(now: Timestamp, failed: u32) -> Timestamp {
    now.checked_add(wait_after(failed))
        .unwrap_or(Timestamp::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Source: test list of the argon2 reference implementation (recalled): argon2id, v = 19, t = 2, m = 64 MiB, p = 1.
    // The vector of RFC 9106 section 5.3 uses a secret and associated data, which this interface does not take.
    #[test]
    fn published_vector_of_argon2id_is_met() {
        let cost = PassphraseCost {
            memory_kib: 65536,
            passes: 2,
        };
        let key = stretch(b"password", b"somesalt", cost).unwrap();
        let hex: String = key
            .as_bytes()
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect();
        assert_eq!(
            hex,
            "09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7"
        );
    }

    #[test]
    fn law_waiting_never_shrinks_and_is_bounded() {
        let waits: Vec<_> = (0..200).map(wait_after).collect();
        assert!(waits.windows(2).all(|pair| pair[0] <= pair[1]));
        assert_eq!(waits[2], SignedDuration::ZERO);
        assert_eq!(waits[3], SignedDuration::from_secs(5));
        assert_eq!(waits[199], SignedDuration::from_mins(15));
    }

    #[test]
    fn a_hostile_cost_is_refused_before_any_work() {
        for (memory_kib, passes) in [(u32::MAX, 1), (8, 0), (0, 1), (8, u32::MAX)] {
            assert!(stretch(b"x", &[0; 16], PassphraseCost { memory_kib, passes }).is_err());
        }
    }

    #[test]
    fn a_short_new_passphrase_is_refused_with_the_number_needed() {
        let check = |text: &str| Passphrase::new(text.to_owned()).check_strength();
        let refused = check("nine char").unwrap_err().to_string();
        assert!(
            refused.contains("9 characters") && refused.contains("at least 10"),
            "{refused}"
        );
        // Characters are counted, not bytes.
        assert!(check("äöüäöüäöü").is_err());
        assert!(check("ten chars!").is_ok());
    }

    #[test]
    fn secrets_are_not_shown() {
        assert!(
            !format!("{:?}", Passphrase::new("hazel brook lantern".to_owned())).contains("hazel")
        );
    }
}
