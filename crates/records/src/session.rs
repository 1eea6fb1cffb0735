//! Sessions of signed-in browsers: a random token in a cookie, of which the record keeps only the SHA-256.

use std::fmt;

use jiff::Timestamp;
use zeroize::Zeroizing;

use crate::digest::Digest;
use crate::error::Error;
use crate::seal::random_bytes;
use crate::user::User;

/// The secret of a session, for its cookie: 64 hexadecimal digits.
pub struct SessionToken(Zeroizing<String>);

impl SessionToken {
    /// A new random token.
    pub(crate) fn random() -> Result<SessionToken, Error> {
        let bytes: Zeroizing<[u8; 32]> = Zeroizing::new(random_bytes()?);
        Ok(SessionToken(Zeroizing::new(
            bytes.iter().map(|byte| format!("{byte:02x}")).collect(),
        )))
    }

    /// A token from a cookie, whatever its form: one that was never given out is simply not found.
    pub fn from_cookie(text: &str) -> SessionToken {
        SessionToken(Zeroizing::new(text.to_owned()))
    }

    /// The text for the cookie.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// What the record keeps.
    pub(crate) fn digest(&self) -> Digest {
        Digest::of(self.0.as_bytes())
    }
}

impl fmt::Debug for SessionToken {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("SessionToken(secret)")
    }
}

/// A session that has not expired, of a user who was not removed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    /// Whose it is.
    pub user: User,
    /// When it was made.
    pub created: Timestamp,
    /// When it ends.
    pub expires: Timestamp,
    /// Whether it waits for the passphrase (quick lock between two houses).
    pub locked: bool,
}
