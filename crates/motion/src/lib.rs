//! The body, its joints and movements: pure computation from key poses to a drawn scene.
//!
//! Lengths are metres and angles degrees. The person looks along `x`, `y` points to their left and `z` upwards; the floor is `z = 0`.
#![deny(missing_docs)]

pub mod evidence;
pub mod space;

pub mod body;
pub mod joint;

pub mod limb;
pub mod pose;
pub mod posture;

pub mod grip;
pub mod held;
pub mod key;
mod place;
pub mod room;
pub mod settle;

pub mod cycle;
mod join;
pub mod movement;

pub mod balance;
pub mod clash;
pub mod judge;
pub mod work;

pub mod scene;

pub mod reel;
