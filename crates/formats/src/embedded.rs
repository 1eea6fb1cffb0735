//! The files that the program carries: name inside their folder and text.

include!(concat!(env!("OUT_DIR"), "/embedded.rs"));
