//! Results in the machine form: keys that scripts rely on.

mod limits;
mod programme;
mod reasons;
mod review;

pub use limits::limits;
pub use programme::{others, programme, stage};
pub use reasons::value;
pub use review::{proposal, review};
