//! Results in the machine form: keys that scripts rely on.

mod limits;
mod reasons;

pub use limits::limits;
pub use reasons::value;
