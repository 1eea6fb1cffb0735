//! Pages asked for as a browser asks, on a temporary record with invented people.
#![allow(clippy::unwrap_used, reason = "fixtures of tests")]
#![allow(
    dead_code,
    reason = "parts of the fixture that the tests of later pages use"
)]

mod call;
mod draft;
mod entry;
mod facts;
mod fixture;
mod home;
mod offered;
mod people;
mod person;
mod programme;
mod service;
mod signing;
mod stop;
mod team;
mod tested;
mod today;
