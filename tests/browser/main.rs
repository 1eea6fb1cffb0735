//! Pages in a real browser. Built only with the feature `browser`.

mod instruments;
mod session_page;
