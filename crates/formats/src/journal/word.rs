//! Words of closed lists inside stored bodies.

use crate::shape::ClosedWord;
use serde::{Deserialize, Deserializer, Serializer, de::Error};

pub(super) fn serialize<T: ClosedWord, S: Serializer>(value: &T, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(value.word())
}

pub(super) fn deserialize<'de, T: ClosedWord, D: Deserializer<'de>>(
    from: D,
) -> Result<T, D::Error> {
    let text = String::deserialize(from)?;
    T::read(&text).ok_or_else(|| D::Error::custom(format!("'{text}' is not a known {}", T::LIST)))
}
