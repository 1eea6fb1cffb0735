//! A SHA-256 digest as a value.

use std::fmt;

use sha2::{Digest as _, Sha256};

use crate::error::Error;

/// A SHA-256 digest, shown as 64 hexadecimal digits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digest([u8; 32]);

impl Digest {
    /// The digest of `bytes`.
    pub fn of(bytes: &[u8]) -> Digest {
        Digest(Sha256::digest(bytes).into())
    }

    /// A digest that was computed elsewhere.
    pub fn from_bytes(bytes: [u8; 32]) -> Digest {
        Digest(bytes)
    }

    /// Reads 64 hexadecimal digits.
    pub fn from_hex(text: &str) -> Result<Digest, Error> {
        let refused = || Error::unsuitable("The digest", "it is not 64 hexadecimal digits");
        if text.len() != 64 || !text.is_ascii() {
            return Err(refused());
        }
        let mut bytes = [0; 32];
        for (byte, digits) in bytes.iter_mut().zip(text.as_bytes().chunks_exact(2)) {
            let digits = std::str::from_utf8(digits).map_err(|_| refused())?;
            *byte = u8::from_str_radix(digits, 16).map_err(|_| refused())?;
        }
        Ok(Digest(bytes))
    }

    /// The 32 bytes.
    pub fn as_bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// The first 80 bits in groups of five digits, short enough to print, read aloud and compare.
    pub fn to_short_text(&self) -> String {
        let hex = self.to_string();
        let groups: Vec<&str> = (0..4).map(|group| &hex[group * 5..group * 5 + 5]).collect();
        groups.join(" ")
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(out, "{byte:02x}"))
    }
}

impl fmt::Debug for Digest {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "Digest({self})")
    }
}
