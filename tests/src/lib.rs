//! What tests across crates share: the program just built, the tools that setup installs, and a real browser.
//!
//! `published/` holds values printed in publications, `reference/` other people's libraries and data, `journeys/` whole chains
//! through the program, `browser/` its pages in a real browser. Tests in `reference/` and `browser/` are built only with the
//! features `outside` and `browser`; they fail, and are never skipped, when their tool is missing.

pub mod answers;
pub mod axe;
pub mod browser;
pub mod checker;
pub mod clock;
pub mod http;
pub mod random_case;
pub mod services;
pub mod tools;

pub use random_case::{Draw, RANDOM_DAY, random_case};
