//! What was worked out of cases as they stand: the same entries, day and settings always come to the same, so a page that
//! opens many cases does not think everything anew.

use jiff::civil::Date;
use records::{CaseId, Entry};
use rehab::assessed::Assessed;
use rehab::course::Course;
use rehab::review::Review;
use rehab::service::Service;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Cases that are kept; the one that was asked for longest ago makes room.
const MOST: usize = 400;

/// One case, thought through.
pub(crate) struct Thought {
    /// Where its entries leave the person.
    pub(crate) course: Course,
    /// The assessment of the day.
    pub(crate) assessed: Assessed,
    /// The review of the day, once somebody asked for it.
    pub(crate) review: OnceLock<Review>,
}

/// From what it was worked out. Entries are only ever added, so their number and the last place tell them apart.
struct From {
    entries: (usize, Option<u64>),
    on: Date,
    service: Arc<Service>,
}

impl From {
    fn is(&self, entries: &[Entry], on: Date, service: &Arc<Service>) -> bool {
        self.entries == of(entries) && self.on == on && Arc::ptr_eq(&self.service, service)
    }
}

fn of(entries: &[Entry]) -> (usize, Option<u64>) {
    (entries.len(), entries.last().map(|entry| entry.position))
}

struct Kept {
    from: From,
    thought: Arc<Thought>,
    asked: u64,
}

/// The cases that are kept, and how often any was asked for.
#[derive(Default)]
pub(crate) struct WorkedOut {
    kept: Mutex<(u64, HashMap<CaseId, Kept>)>,
}

impl WorkedOut {
    /// What is known of a case, or what is worked out now.
    ///
    /// # Errors
    /// Those of working it out; nothing is kept then.
    pub(crate) fn get<E>(
        &self,
        id: CaseId,
        entries: &[Entry],
        on: Date,
        service: &Arc<Service>,
        think: impl FnOnce() -> Result<Thought, E>,
    ) -> Result<Arc<Thought>, E> {
        if let Some(known) = self.known(id, entries, on, service) {
            return Ok(known);
        }
        let thought = Arc::new(think()?);
        let from = From {
            entries: of(entries),
            on,
            service: service.clone(),
        };
        self.keep(id, from, thought.clone());
        Ok(thought)
    }

    fn known(
        &self,
        id: CaseId,
        entries: &[Entry],
        on: Date,
        service: &Arc<Service>,
    ) -> Option<Arc<Thought>> {
        let mut place = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let (asked, kept) = &mut *place;
        *asked += 1;
        let one = kept.get_mut(&id)?;
        if !one.from.is(entries, on, service) {
            return None;
        }
        one.asked = *asked;
        Some(one.thought.clone())
    }

    fn keep(&self, id: CaseId, from: From, thought: Arc<Thought>) {
        let mut place = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let (asked, kept) = &mut *place;
        if kept.len() >= MOST && !kept.contains_key(&id) {
            let oldest = kept.iter().min_by_key(|(_, one)| one.asked);
            if let Some(oldest) = oldest.map(|(id, _)| *id) {
                kept.remove(&oldest);
            }
        }
        let asked = *asked;
        kept.insert(
            id,
            Kept {
                from,
                thought,
                asked,
            },
        );
    }
}
