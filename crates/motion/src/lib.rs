//! The body, its joints and movements: pure computation from key poses to a drawn scene (comes with the movement work).
#![deny(missing_docs)]
