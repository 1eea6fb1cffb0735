//! Pages in a real browser. Built only with the feature `browser`.

mod demonstration;
mod desk;
mod instruments;
mod journey;
mod patient;
mod pulse_counter;
mod session_page;
mod session_screens;
