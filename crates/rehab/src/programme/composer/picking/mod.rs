//! The search for sessions whose stations are all different: first which stations, then in which order.
//!
//! Needs, novelty and variety of a list do not depend on its order, so lists are searched as sets: five brisk and five
//! easy stations have 14,400 orders, and one set. A set that is good enough is put in order by a search of its own,
//! which knows the rules between neighbours, the pulse and the changes of place and things.

mod cover;
mod descent;
mod order;
mod pool;
mod prices;
mod ranked;
mod search;

pub(super) use pool::suits;
pub(super) use search::{exists, search};
