//! The growing record: an append-only, encrypted journal per case.
