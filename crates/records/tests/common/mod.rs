//! An invented service, its users and cases, for all tests of the record.

// Each test program uses a part of it.
#![allow(dead_code)]

use std::future::Future;

use jiff::civil::date;
use jiff::{SignedDuration, Timestamp};
use records::{
    CaseId, Created, Draft, EntryId, Error, LockedStore, NewCase, NewRecord, NewUser, Passphrase,
    PassphraseCost, Personal, Reading, Roles, Store, Summary, UserId, Word,
};
use tempfile::TempDir;

/// The moment at which every test begins.
pub(crate) fn start() -> Timestamp {
    "2026-11-02T08:00:00Z".parse().unwrap()
}

/// So many seconds after the start.
pub(crate) fn later(seconds: i64) -> Timestamp {
    start() + SignedDuration::from_secs(seconds)
}

/// A place in which a record can be made and opened again: what each engine provides for the contract.
pub(crate) trait Engine: Send + Sync {
    /// Makes a record.
    fn create(&self, new: &NewRecord) -> impl Future<Output = Result<Created, Error>> + Send;
    /// Opens the record that was made.
    fn open(&self) -> impl Future<Output = Result<LockedStore, Error>> + Send;
}

/// SQLite in a temporary folder.
pub(crate) struct SqliteFolder {
    pub(crate) dir: TempDir,
}

impl SqliteFolder {
    pub(crate) fn fresh() -> SqliteFolder {
        SqliteFolder {
            dir: TempDir::with_prefix("record-").unwrap(),
        }
    }
}

impl Engine for SqliteFolder {
    async fn create(&self, new: &NewRecord) -> Result<Created, Error> {
        Store::create(self.dir.path(), new, start()).await
    }

    async fn open(&self) -> Result<LockedStore, Error> {
        Store::open(self.dir.path()).await
    }
}

pub(crate) const ADA: &str = "lantern hazel brook";
pub(crate) const BEN: &str = "quiet pebble orchard";

pub(crate) fn passphrase(text: &str) -> Passphrase {
    Passphrase::new(text.to_owned())
}

pub(crate) fn word(text: &str) -> Word {
    Word::new(text).unwrap()
}

pub(crate) fn new_user(sign_in: &str, roles: Roles) -> NewUser {
    NewUser {
        sign_in: sign_in.to_owned(),
        full_name: format!("{sign_in} of the invented service"),
        roles,
    }
}

pub(crate) fn new_record() -> NewRecord {
    NewRecord {
        first_user: new_user("ada", Roles::ALL),
        passphrase: Some(passphrase(ADA)),
        key: None,
        cost: PassphraseCost::FOR_TESTS,
    }
}

/// A fresh record with one user who may do everything.
pub(crate) struct Desk<E> {
    pub(crate) engine: E,
    pub(crate) store: Store,
    pub(crate) ada: UserId,
    pub(crate) recovery: String,
}

impl<E: Engine> Desk<E> {
    pub(crate) async fn open(engine: E) -> Desk<E> {
        let created = engine.create(&new_record()).await.unwrap();
        Desk {
            engine,
            store: created.store,
            ada: created.first_user,
            recovery: created.recovery.to_text().to_string(),
        }
    }

    /// Closes the record and opens it again as Ada.
    pub(crate) async fn reopen(self) -> Desk<E> {
        let Desk {
            engine,
            store,
            ada,
            recovery,
        } = self;
        store.close().await;
        let (store, _) = engine
            .open()
            .await
            .unwrap()
            .unlock("ada", &passphrase(ADA), start())
            .await
            .unwrap();
        Desk {
            engine,
            store,
            ada,
            recovery,
        }
    }

    /// A case without entries.
    pub(crate) async fn case(&self, reference: &str) -> CaseId {
        self.store
            .open_case(self.ada, new_case(reference), start())
            .await
            .unwrap()
    }

    /// Adds an entry whose body is `text`.
    pub(crate) async fn add(&self, case: CaseId, text: &str) -> EntryId {
        let draft = draft("note", text);
        self.store
            .append(case, self.ada, draft, start())
            .await
            .unwrap()
            .id
    }

    /// The bodies of a case in order.
    pub(crate) async fn bodies(&self, case: CaseId) -> Vec<String> {
        let entries = self.store.entries(case, &self.reading()).await.unwrap();
        entries
            .into_iter()
            .map(|entry| String::from_utf8(entry.body).unwrap())
            .collect()
    }

    pub(crate) fn reading(&self) -> Reading {
        reading(self.ada)
    }
}

pub(crate) fn reading(by: UserId) -> Reading {
    Reading {
        by,
        what: word("case-page"),
        at: start(),
    }
}

pub(crate) fn entry_id() -> EntryId {
    EntryId::generate(start()).unwrap()
}

pub(crate) fn draft(kind: &str, text: &str) -> Draft {
    Draft::new(
        entry_id(),
        word(kind),
        date(2026, 11, 2).at(9, 30, 0, 0),
        text.as_bytes().to_vec(),
    )
}

pub(crate) fn summary(status: &str) -> Summary {
    Summary {
        status: word(status),
        due_on: Some(date(2026, 11, 9)),
        silent_from: None,
        examined_on: Some(date(2026, 11, 2)),
        heard_on: None,
        session_count: 0,
        open_alert_count: 0,
    }
}

pub(crate) fn personal(name: &str) -> Personal {
    Personal {
        name: name.to_owned(),
        called: format!("Called {name}"),
        birth_year: Some(1951),
        one_line: "Stent in August, walks with a stick".to_owned(),
    }
}

pub(crate) fn new_case(reference: &str) -> NewCase {
    NewCase {
        reference: reference.to_owned(),
        summary: summary("active"),
        personal: personal(&format!("Name of {reference}")),
        entries: Vec::new(),
    }
}
