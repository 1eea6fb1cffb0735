//! Development tasks: setup, check, tidy, bench, cases, sabotage.
fn main() {}
