//! The session profile: effort over the session drawn as a line of hills, the picture by which Hearthpace is known.
//!
//! x is true time; y is effort from rest (the ground) to the most for one turn (the ceiling line). The line passes
//! through the middle of every part. Drawings are plain SVG with classes; colours come from `look::DRAWINGS`.

mod caps;
mod course;
mod curve;
mod full;
mod patient;
mod places;
mod pulse;
mod small;
mod words;

pub use course::{Course, Pace, Part, Stop, Turn, pace_of};
pub use full::{Captions, Full, full};
pub use patient::{Patient, Printed, Walking, Way, patient, printed, walking, way};
pub use pulse::{PulseScale, TakenPulse};
pub use small::{hill, tiny};
pub use words::{CaptionFacts, captions};
