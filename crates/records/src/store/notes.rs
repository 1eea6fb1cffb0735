//! Notes of the access log, written together: those that wait for the disk at the same moment share one commit.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use tokio::sync::oneshot;

use crate::database::access_rows::{self, Note};
use crate::error::Error;
use crate::store::Shared;

/// Notes and whoever waits until they are on the disk.
struct Waiting {
    notes: Vec<Note>,
    done: oneshot::Sender<Result<(), Error>>,
}

/// The notes that wait, and whether somebody is writing them.
#[derive(Default)]
pub(crate) struct NoteQueue {
    state: Mutex<QueueState>,
}

#[derive(Default)]
struct QueueState {
    waiting: VecDeque<Waiting>,
    is_writing: bool,
}

const ATTEMPTED: &str = "note who reads";

impl NoteQueue {
    /// Adds notes; returns whether the caller has to start the writing.
    fn add(&self, waiting: Waiting) -> bool {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.waiting.push_back(waiting);
        !std::mem::replace(&mut state.is_writing, true)
    }

    /// Takes all that wait; if there are none, the writing ends.
    fn take(&self) -> VecDeque<Waiting> {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.is_writing = !state.waiting.is_empty();
        std::mem::take(&mut state.waiting)
    }
}

impl Shared {
    /// Writes notes; after `Ok` all of them are on the disk.
    pub(crate) async fn write_notes(self: &Arc<Shared>, notes: Vec<Note>) -> Result<(), Error> {
        let (done, written) = oneshot::channel();
        if self.notes.add(Waiting { notes, done }) {
            // A task of its own: a reader who goes away must not leave the others waiting.
            tokio::spawn(write_waiting(Arc::clone(self)));
        }
        written.await.unwrap_or(Err(Error::Busy {
            attempted: ATTEMPTED,
        }))
    }
}

/// Writes what waits, as often as something new came meanwhile.
async fn write_waiting(shared: Arc<Shared>) {
    loop {
        let batch = shared.notes.take();
        if batch.is_empty() {
            return;
        }
        let outcome = write_batch(&shared, &batch).await;
        for waiting in batch {
            let answer = outcome.as_ref().copied().map_err(Error::for_another);
            // Who no longer waits needs no answer.
            let _ = waiting.done.send(answer);
        }
    }
}

async fn write_batch(shared: &Shared, batch: &VecDeque<Waiting>) -> Result<(), Error> {
    let mut transaction = shared.database.write(ATTEMPTED).await?;
    let notes: Vec<&Note> = batch.iter().flat_map(|waiting| &waiting.notes).collect();
    access_rows::insert(&mut transaction, &notes).await?;
    transaction.commit(ATTEMPTED).await
}
