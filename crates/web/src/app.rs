//! What every page shares: the record, the exercises, the words, the settings and the clock.

use crate::casefile::Thought;
use crate::clock::Clock;
use crate::error::PageError;
use crate::today::Needy;
use crate::worked_out::WorkedOut;
use jiff::civil::Date;
use records::{LockedStore, Store, User};
use rehab::programme::Exercises;
use rehab::service::Service;
use rehab::wording::Words;
use std::path::PathBuf;
use std::sync::{Arc, PoisonError, RwLock};

/// Names of this machine itself.
const OWN_NAMES: [&str; 3] = ["localhost", "127.0.0.1", "[::1]"];

/// Whether the record is unlocked.
#[derive(Clone, Debug)]
pub enum Door {
    /// The folder holds no record yet: the first to come sets one up.
    New(PathBuf),
    /// Nobody has signed in since the start: nothing of a patient can be read.
    Locked(LockedStore),
    /// Unlocked by somebody who signed in.
    Open(Store),
}

/// Why the program did not start.
#[derive(Debug, thiserror::Error)]
pub enum AppError {
    /// The record.
    #[error(transparent)]
    Record(#[from] records::Error),
    /// Data that the program carries.
    #[error("The exercises or words that the program carries cannot be read: {0}")]
    Data(#[from] formats::Problems),
}

/// Everything that every page shares; copies are cheap.
#[derive(Clone)]
pub struct App {
    inner: Arc<Inner>,
}

struct Inner {
    door: RwLock<Door>,
    /// The settings as last read, and how often they were forgotten before.
    service: RwLock<(u64, Option<Arc<Service>>)>,
    /// Pages that wait for a name, as last counted, and the day; forgotten with every entry that is written.
    for_a_name: RwLock<Option<(Date, usize)>>,
    /// Cases as they were thought through last.
    thoughts: WorkedOut<Thought>,
    /// What Today said of them last.
    told: WorkedOut<Needy>,
    exercises: Exercises,
    words: Words,
    clock: Clock,
    /// Names under which the program may be asked; any port.
    hosts: Vec<String>,
    /// A demonstration: this user is signed in without a passphrase, and every patient is invented.
    demonstration: Option<User>,
}

impl App {
    /// A server on a record that nobody has unlocked yet.
    ///
    /// # Errors
    /// When the data that the program carries cannot be read.
    pub fn locked(store: LockedStore, clock: Clock) -> Result<Self, AppError> {
        Self::with(Door::Locked(store), clock, None)
    }

    /// A demonstration with invented people on an unlocked record.
    ///
    /// # Errors
    /// When the data that the program carries cannot be read.
    pub fn demonstration(store: Store, user: User, clock: Clock) -> Result<Self, AppError> {
        Self::with(Door::Open(store), clock, Some(user))
    }

    /// A server on a folder that holds no record yet: the first page sets one up.
    ///
    /// # Errors
    /// When the data that the program carries cannot be read.
    pub fn new_record(dir: PathBuf, clock: Clock) -> Result<Self, AppError> {
        Self::with(Door::New(dir), clock, None)
    }

    /// Lets the program be asked under one more name, for a team server: without it only this machine's own names
    /// are answered, so that no page of elsewhere can reach it under a name of its own.
    #[must_use]
    pub fn under_name(mut self, name: &str) -> Self {
        if let Some(inner) = Arc::get_mut(&mut self.inner) {
            inner.hosts.push(name.to_ascii_lowercase());
        }
        self
    }

    /// Whether the name that a request asks for is one of ours.
    pub(crate) fn answers_to(&self, host: &str) -> bool {
        let name = match host.rsplit_once(':') {
            Some((name, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) => name,
            _ => host,
        };
        let name = name.to_ascii_lowercase();
        OWN_NAMES.contains(&name.as_str()) || self.inner.hosts.contains(&name)
    }

    fn with(door: Door, clock: Clock, demonstration: Option<User>) -> Result<Self, AppError> {
        Ok(Self {
            inner: Arc::new(Inner {
                door: RwLock::new(door),
                service: RwLock::new((0, None)),
                for_a_name: RwLock::new(None),
                thoughts: WorkedOut::default(),
                told: WorkedOut::default(),
                exercises: formats::exercises()?,
                words: formats::words("en-GB")?,
                clock,
                hosts: Vec::new(),
                demonstration,
            }),
        })
    }

    /// The clock.
    pub fn clock(&self) -> Clock {
        self.inner.clock
    }

    /// The exercises.
    pub fn exercises(&self) -> &Exercises {
        &self.inner.exercises
    }

    /// The words.
    pub fn words(&self) -> &Words {
        &self.inner.words
    }

    /// Cases as they were thought through last.
    pub(crate) fn thoughts(&self) -> &WorkedOut<Thought> {
        &self.inner.thoughts
    }

    /// What Today said of them last.
    pub(crate) fn told(&self) -> &WorkedOut<Needy> {
        &self.inner.told
    }

    /// The user of a demonstration.
    pub(crate) fn demonstration_user(&self) -> Option<&User> {
        self.inner.demonstration.as_ref()
    }

    /// Whether every patient is invented.
    pub(crate) fn is_demonstration(&self) -> bool {
        self.inner.demonstration.is_some()
    }

    /// The door as it stands.
    pub(crate) fn door(&self) -> Door {
        self.inner
            .door
            .read()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }

    /// The unlocked record, if it is.
    pub(crate) fn store(&self) -> Option<Store> {
        match self.door() {
            Door::Open(store) => Some(store),
            Door::Locked(_) | Door::New(_) => None,
        }
    }

    /// Opens the door for everybody who is signed in.
    pub(crate) fn open_door(&self, store: Store) {
        *self
            .inner
            .door
            .write()
            .unwrap_or_else(PoisonError::into_inner) = Door::Open(store);
    }

    /// The service's settings: the newest in the record; the built-in cautious set only where none was ever written.
    pub(crate) async fn service(
        &self,
        store: &Store,
        by: &User,
    ) -> Result<Arc<Service>, PageError> {
        let (forgotten, known) = self.known_service();
        if let Some(service) = known {
            return Ok(service);
        }
        let entries = store.service_entries(by.id).await?;
        let newest = entries
            .iter()
            .rev()
            .find(|entry| entry.kind.as_str() == "service");
        let service = match newest {
            None => Service::cautious(),
            Some(entry) => formats::service::read("service.json", &entry.body).map_err(unread)?,
        };
        let service = Arc::new(service);
        let place = self.inner.service.write();
        let mut place = place.unwrap_or_else(PoisonError::into_inner);
        // Settings that were written while these were read make these old.
        if place.0 == forgotten {
            place.1 = Some(service.clone());
        }
        drop(place);
        Ok(service)
    }

    fn known_service(&self) -> (u64, Option<Arc<Service>>) {
        self.inner
            .service
            .read()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }

    /// Pages that wait for a name today; `None` when that was not counted since the last entry was written.
    pub(crate) fn for_a_name(&self) -> Option<usize> {
        let known = self.inner.for_a_name.read();
        let (date, count) = (*known.unwrap_or_else(PoisonError::into_inner))?;
        (date == self.clock().today()).then_some(count)
    }

    /// Keeps how many pages wait for a name on a day.
    pub(crate) fn remember_for_a_name(&self, on: Date, count: usize) {
        self.set_for_a_name(Some((on, count)));
    }

    /// After an entry was written.
    pub(crate) fn forget_for_a_name(&self) {
        self.set_for_a_name(None);
    }

    fn set_for_a_name(&self, known: Option<(Date, usize)>) {
        let place = self.inner.for_a_name.write();
        *place.unwrap_or_else(PoisonError::into_inner) = known;
    }

    /// After new settings were written.
    pub(crate) fn forget_service(&self) {
        self.forget_for_a_name();
        let place = self.inner.service.write();
        let mut place = place.unwrap_or_else(PoisonError::into_inner);
        *place = (place.0 + 1, None);
    }
}

/// Settings that cannot be read are never replaced by others in silence: what was set may be stricter.
fn unread(problems: formats::Problems) -> PageError {
    PageError::Refused(format!(
        "The settings of the service cannot be read, so nothing is worked out from them ({problems}). Ask the lead to check the record, or start the version of the program that wrote them"
    ))
}
