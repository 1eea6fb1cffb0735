//! The program: commands and wiring.
fn main() {}
