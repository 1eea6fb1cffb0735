//! What was worked out of cases as they stand: the same entries, day and settings always come to the same, so a page that
//! opens many cases does not think everything anew.

use jiff::civil::Date;
use records::CaseId;
use rehab::service::Service;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Cases that are kept; the one that was asked for longest ago makes room.
const MOST: usize = 400;

/// From what something was worked out.
#[derive(Clone)]
pub(crate) struct From {
    /// How many entries the case had. They are only ever added, so their number tells what was in it.
    pub(crate) entries: u64,
    /// For which day.
    pub(crate) on: Date,
    /// By which settings.
    pub(crate) service: Arc<Service>,
}

impl From {
    fn is(&self, other: &From) -> bool {
        (self.entries, self.on) == (other.entries, other.on)
            && Arc::ptr_eq(&self.service, &other.service)
    }
}

struct Kept<T> {
    from: From,
    thought: Arc<T>,
    asked: u64,
}

/// The cases that are kept, and how often any was asked for.
pub(crate) struct WorkedOut<T> {
    kept: Mutex<(u64, HashMap<CaseId, Kept<T>>)>,
}

impl<T> Default for WorkedOut<T> {
    fn default() -> Self {
        Self {
            kept: Mutex::default(),
        }
    }
}

impl<T> WorkedOut<T> {
    /// What was worked out of a case from just that.
    pub(crate) fn known(&self, id: CaseId, from: &From) -> Option<Arc<T>> {
        let mut place = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let (asked, kept) = &mut *place;
        *asked += 1;
        let one = kept.get_mut(&id)?;
        if !one.from.is(from) {
            return None;
        }
        one.asked = *asked;
        Some(one.thought.clone())
    }

    /// Keeps what was worked out of a case, in place of what was known of it.
    pub(crate) fn keep(&self, id: CaseId, from: From, thought: T) -> Arc<T> {
        let thought = Arc::new(thought);
        let mut place = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let (asked, kept) = &mut *place;
        if kept.len() >= MOST && !kept.contains_key(&id) {
            let oldest = kept.iter().min_by_key(|(_, one)| one.asked);
            if let Some(oldest) = oldest.map(|(id, _)| *id) {
                kept.remove(&oldest);
            }
        }
        let one = Kept {
            from,
            thought: thought.clone(),
            asked: *asked,
        };
        kept.insert(id, one);
        thought
    }
}
