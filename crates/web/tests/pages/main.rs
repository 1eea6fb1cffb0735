//! Pages asked for as a browser asks, on a temporary record with invented people.

mod fixture;
mod today;
