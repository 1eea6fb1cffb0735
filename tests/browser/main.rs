//! Pages in a real browser. Built only with the feature `browser`.

mod instruments;
mod practice;
mod session_page;
