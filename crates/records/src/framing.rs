//! Byte strings in which every part carries its length, so that parts can never be cut differently.

use crate::digest::Digest;

/// Parts joined for hashing, sealing or storing.
pub(crate) struct Frame {
    bytes: Vec<u8>,
}

impl Frame {
    /// Begins with a text that names the purpose, so that two purposes never give the same bytes.
    pub(crate) fn for_purpose(purpose: &str) -> Frame {
        Frame {
            bytes: Vec::with_capacity(256),
        }
        .text(purpose)
    }

    /// Adds bytes.
    pub(crate) fn bytes(mut self, part: &[u8]) -> Frame {
        self.bytes
            .extend_from_slice(&(part.len() as u64).to_le_bytes());
        self.bytes.extend_from_slice(part);
        self
    }

    /// Adds a text.
    pub(crate) fn text(self, part: &str) -> Frame {
        self.bytes(part.as_bytes())
    }

    /// Adds a whole number.
    pub(crate) fn number(self, part: i64) -> Frame {
        self.bytes(&part.to_le_bytes())
    }

    /// Adds bytes that may be absent; absent and empty differ.
    pub(crate) fn maybe(self, part: Option<&[u8]>) -> Frame {
        match part {
            None => self.number(0),
            Some(part) => self.number(1).bytes(part),
        }
    }

    /// The joined bytes.
    pub(crate) fn as_slice(&self) -> &[u8] {
        &self.bytes
    }

    /// The SHA-256 of the joined bytes.
    pub(crate) fn digest(&self) -> Digest {
        Digest::of(&self.bytes)
    }
}

/// Takes the parts out of a frame again, in their order.
pub(crate) struct FrameReader<'a> {
    rest: &'a [u8],
}

impl<'a> FrameReader<'a> {
    /// Begins to read; `None` if the bytes were not framed for this purpose.
    pub(crate) fn for_purpose(bytes: &'a [u8], purpose: &str) -> Option<FrameReader<'a>> {
        let mut reader = FrameReader { rest: bytes };
        (reader.bytes()? == purpose.as_bytes()).then_some(reader)
    }

    /// The next part.
    pub(crate) fn bytes(&mut self) -> Option<&'a [u8]> {
        let (length, rest) = self.rest.split_first_chunk::<8>()?;
        let length = usize::try_from(u64::from_le_bytes(*length)).ok()?;
        let (part, rest) = rest.split_at_checked(length)?;
        self.rest = rest;
        Some(part)
    }

    /// The next part as text.
    pub(crate) fn text(&mut self) -> Option<String> {
        String::from_utf8(self.bytes()?.to_vec()).ok()
    }

    /// The next part as a number.
    pub(crate) fn number(&mut self) -> Option<i64> {
        Some(i64::from_le_bytes(self.bytes()?.try_into().ok()?))
    }

    /// The next part, which may have been absent.
    pub(crate) fn maybe(&mut self) -> Option<Option<&'a [u8]>> {
        match self.number()? {
            0 => Some(None),
            1 => Some(Some(self.bytes()?)),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn law_parts_come_back_as_they_were_put_in(parts in proptest::collection::vec(proptest::option::of(proptest::collection::vec(any::<u8>(), 0..40)), 0..8)) {
            let frame = parts.iter().fold(Frame::for_purpose("a test"), |frame, part| frame.maybe(part.as_deref()));
            let mut reader = FrameReader::for_purpose(frame.as_slice(), "a test").unwrap();
            for part in &parts {
                prop_assert_eq!(reader.maybe().unwrap(), part.as_deref());
            }
            prop_assert!(reader.bytes().is_none());
        }

        #[test]
        fn law_parts_cut_differently_give_other_bytes(text in "[a-z]{2,20}", cut in 1usize..19, other in 1usize..19) {
            let (cut, other) = (cut % text.len(), other % text.len());
            prop_assume!(cut != other);
            let framed = |at: usize| Frame::for_purpose("a test").text(&text[..at]).text(&text[at..]).digest();
            prop_assert_ne!(framed(cut), framed(other));
        }

        #[test]
        fn law_hostile_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..80)) {
            let mut reader = FrameReader { rest: &bytes };
            while reader.maybe().is_some() {}
            let mut reader = FrameReader { rest: &bytes };
            while reader.bytes().is_some() {}
        }
    }
}
