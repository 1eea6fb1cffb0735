//! Keys, sealing and opening: XChaCha20-Poly1305 with a random nonce, bound to the place of the value.

use std::fmt;

use chacha20poly1305::aead::{Aead, KeyInit as _, Payload};
use chacha20poly1305::{XChaCha20Poly1305, XNonce};
use hmac::{Hmac, Mac as _};
use sha2::Sha256;
use zeroize::Zeroizing;

use crate::error::Error;
use crate::framing::Frame;

const NONCE_LENGTH: usize = 24;

/// Random bytes of the operating system.
pub(crate) fn random_bytes<const N: usize>() -> Result<[u8; N], Error> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|_| Error::NoRandomness)?;
    Ok(bytes)
}

/// A secret key of 32 bytes; its place in memory is overwritten when it is dropped.
pub(crate) struct Key(Box<Zeroizing<[u8; 32]>>);

impl Key {
    /// A new random key.
    pub(crate) fn random() -> Result<Key, Error> {
        let mut key = Key::empty();
        getrandom::fill(key.as_mut_bytes()).map_err(|_| Error::NoRandomness)?;
        Ok(key)
    }

    /// A key of zeros, to be filled in place so that no second copy of the secret arises.
    pub(crate) fn empty() -> Key {
        Key(Box::new(Zeroizing::new([0; 32])))
    }

    /// The bytes.
    pub(crate) fn as_bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// The bytes, to be filled.
    pub(crate) fn as_mut_bytes(&mut self) -> &mut [u8; 32] {
        &mut self.0
    }

    /// Seals `plain` so that it opens only with this key and at this place; the nonce stands in front.
    pub(crate) fn seal(&self, place: &Frame, plain: &[u8]) -> Result<Vec<u8>, Error> {
        let nonce: [u8; NONCE_LENGTH] = random_bytes()?;
        let payload = Payload {
            msg: plain,
            aad: place.as_slice(),
        };
        let cipher_text = self
            .cipher()
            .encrypt(&XNonce::from(nonce), payload)
            .map_err(|_| Error::unsuitable("The text", "it is too long to be encrypted"))?;
        let mut sealed = Vec::with_capacity(NONCE_LENGTH + cipher_text.len());
        sealed.extend_from_slice(&nonce);
        sealed.extend_from_slice(&cipher_text);
        Ok(sealed)
    }

    /// Opens a sealed value; `None` if the key, the place or a byte is wrong.
    pub(crate) fn open(&self, place: &Frame, sealed: &[u8]) -> Option<Zeroizing<Vec<u8>>> {
        let (nonce, cipher_text) = sealed.split_first_chunk::<NONCE_LENGTH>()?;
        let payload = Payload {
            msg: cipher_text,
            aad: place.as_slice(),
        };
        self.cipher()
            .decrypt(&XNonce::from(*nonce), payload)
            .ok()
            .map(Zeroizing::new)
    }

    /// Opens a sealed key.
    pub(crate) fn open_key(&self, place: &Frame, sealed: &[u8]) -> Option<Key> {
        let plain = self.open(place, sealed)?;
        let mut key = Key::empty();
        if plain.len() != key.as_bytes().len() {
            return None;
        }
        key.as_mut_bytes().copy_from_slice(&plain);
        Some(key)
    }

    /// A keyed digest (HMAC-SHA-256) of a frame.
    pub(crate) fn keyed_digest(&self, frame: &Frame) -> [u8; 32] {
        let mut mac = <Hmac<Sha256> as hmac::KeyInit>::new_from_slice(self.as_bytes())
            .expect("HMAC takes a key of any length");
        mac.update(frame.as_slice());
        mac.finalize().into_bytes().into()
    }

    /// A key for another purpose, from which this one cannot be computed.
    pub(crate) fn derive(&self, purpose: &str) -> Key {
        let mut key = Key::empty();
        *key.as_mut_bytes() = self.keyed_digest(&Frame::for_purpose(purpose));
        key
    }

    fn cipher(&self) -> XChaCha20Poly1305 {
        XChaCha20Poly1305::new(self.as_bytes().into())
    }
}

/// The key that opens a record without a passphrase, for a demonstration that unlocks itself.
///
/// Whoever has it reads everything. It is never printed or logged, and overwritten in memory when dropped.
pub struct DataKey(pub(crate) Key);

impl DataKey {
    /// A new random key.
    pub fn random() -> Result<DataKey, Error> {
        Key::random().map(DataKey)
    }

    /// A key that the caller keeps.
    pub fn from_bytes(bytes: &[u8; 32]) -> DataKey {
        let mut key = Key::empty();
        key.as_mut_bytes().copy_from_slice(bytes);
        DataKey(key)
    }

    /// A second copy of the key.
    pub(crate) fn copy(&self) -> Key {
        DataKey::from_bytes(self.0.as_bytes()).0
    }
}

impl fmt::Debug for DataKey {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("DataKey(secret)")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn hex(text: &str) -> Vec<u8> {
        (0..text.len())
            .step_by(2)
            .map(|at| u8::from_str_radix(&text[at..at + 2], 16).unwrap())
            .collect()
    }

    // Source: draft-irtf-cfrg-xchacha-03, appendix A.3.1 (recalled): first block and tag of its example.
    #[test]
    fn published_vector_of_xchacha20_poly1305_is_met() {
        let mut key = Key::empty();
        key.as_mut_bytes().copy_from_slice(&hex(
            "808182838485868788898a8b8c8d8e8f909192939495969798999a9b9c9d9e9f",
        ));
        let cipher = key.cipher();
        let nonce: [u8; 24] = hex("404142434445464748494a4b4c4d4e4f5051525354555657")
            .try_into()
            .unwrap();
        let plain = b"Ladies and Gentlemen of the class of '99: If I could offer you only one tip for the future, sunscreen would be it.";
        let payload = Payload {
            msg: plain.as_slice(),
            aad: &hex("50515253c0c1c2c3c4c5c6c7"),
        };
        let sealed = cipher.encrypt(&XNonce::from(nonce), payload).unwrap();
        assert_eq!(sealed[..16], hex("bd6d179d3e83d43b9576579493c0e939")[..]);
        assert_eq!(
            sealed[sealed.len() - 16..],
            hex("c0875924c1c7987947deafd8780acf49")[..]
        );
    }

    proptest! {
        #[test]
        fn law_what_was_sealed_opens_and_only_at_its_place(plain in proptest::collection::vec(any::<u8>(), 0..200), flip in any::<prop::sample::Index>(), bit in 0u8..8) {
            let key = Key::random().unwrap();
            let place = Frame::for_purpose("here");
            let mut sealed = key.seal(&place, &plain).unwrap();
            let opened = key.open(&place, &sealed).unwrap();
            prop_assert_eq!(opened.as_slice(), plain.as_slice());
            prop_assert!(key.open(&Frame::for_purpose("elsewhere"), &sealed).is_none());
            prop_assert!(Key::random().unwrap().open(&place, &sealed).is_none());
            let at = flip.index(sealed.len());
            sealed[at] ^= 1 << bit;
            prop_assert!(key.open(&place, &sealed).is_none());
        }
    }

    #[test]
    fn a_short_value_does_not_open() {
        let key = Key::random().unwrap();
        for length in 0..40 {
            assert!(
                key.open(&Frame::for_purpose("here"), &vec![0; length])
                    .is_none()
            );
        }
    }

    #[test]
    fn two_seals_of_the_same_text_differ() {
        let key = Key::random().unwrap();
        let place = Frame::for_purpose("here");
        assert_ne!(
            key.seal(&place, b"same").unwrap(),
            key.seal(&place, b"same").unwrap()
        );
    }
}
