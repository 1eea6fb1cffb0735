//! The growing record: an append-only, encrypted journal per case.
//!
//! A record is one folder with one SQLite database. Each case has a **journal**: entries in order, each with the
//! hash of the one before, never changed and never deleted (triggers refuse it). A correction is a new entry that
//! supersedes the old one, which stays readable. Bodies are bytes: what stands in them is the caller's business.
//!
//! ```
//! # use records::*;
//! # use jiff::{Timestamp, civil::date};
//! # #[tokio::main(flavor = "current_thread")]
//! # async fn main() -> Result<(), Box<dyn std::error::Error>> {
//! # let folder = tempfile::TempDir::new()?;
//! # let dir = folder.path();
//! let now = Timestamp::now();
//! let first_user = NewUser { sign_in: "ada".into(), full_name: "Ada Holm".into(), roles: Roles::ALL };
//! let passphrase = Passphrase::new("lantern hazel brook".into());
//! let new = NewRecord { first_user, passphrase: Some(passphrase), key: None, cost: PassphraseCost::STANDARD };
//! let Created { store, first_user: ada, recovery } = Store::create(dir, &new, now).await?;
//! println!("Print and keep in a safe: {}", recovery.to_text().as_str());
//!
//! let summary = Summary {
//!     status: Word::new("active")?,
//!     due_on: Some(date(2026, 11, 9)),
//!     silent_from: None,
//!     examined_on: None,
//!     heard_on: None,
//!     session_count: 0,
//!     open_alert_count: 0,
//! };
//! let personal = Personal {
//!     name: "Orla Fenwick".into(),
//!     called: "Mrs Fenwick".into(),
//!     birth_year: Some(1951),
//!     one_line: "stent in August".into(),
//! };
//! let new = NewCase { reference: "fenwick-1951".into(), summary, personal, entries: vec![] };
//! let case = store.open_case(ada, new, now).await?;
//!
//! let visit = date(2026, 11, 2).at(9, 30, 0, 0);
//! let draft = Draft::new(EntryId::generate(now)?, Word::new("visit")?, visit, b"pulse 64".to_vec());
//! store.append(case, ada, draft, now).await?; // From here on it is on the disk.
//!
//! let reading = Reading { by: ada, what: Word::new("case-page")?, at: now };
//! assert_eq!(store.entries(case, &reading).await?[0].body, b"pulse 64");
//! # Ok(())
//! # }
//! ```
//!
//! # What stays in clear
//!
//! Somebody who holds the file without a key can read:
//! - random ids of cases, entries and users; how many cases there are and how many entries each has;
//! - of every entry its kind, effective and recorded time, author, what it supersedes, the digests of plans, its length;
//! - of every case its status word, the dates `due_on`, `silent_from`, `examined_on`, `heard_on` and its two counts;
//! - sign-in names, names and roles of the staff, and who opened which case when;
//! - of an erased case the ids, kinds, times and authors of its entries (the status and the dates are taken out).
//!
//! Sealed with XChaCha20-Poly1305 are: bodies, the name, called-name, birth year and one line of a patient, and the
//! reference of a case (the id in its file, which is often made from a name). A sealed value is bound to its place
//! (record, case, position, kind, times, author, the hash before), so that a row cannot be moved to another place.
//!
//! # Keys
//!
//! A random **data key** is wrapped by each user's passphrase (argon2id) and by a printed recovery sheet. Each case
//! has its own random key, wrapped by the data key; bodies and personal fields are sealed with the case key.
//! Destroying a case key erases the case; its chain can still be verified, because hashes cover the sealed bytes.
//! What erasure cannot reach: backups made earlier, and blocks that a disk keeps after they were overwritten.
//! Removing a user takes their wrap away, but not what they copied before: the data key stays the same.
//!
//! # What the chain proves
//!
//! [`LockedStore::verify`] needs no key and finds every changed, moved, missing or inserted entry unless somebody
//! rewrote the whole chain behind it. [`Store::verify_sealed`] finds that too, since every sealed body is bound to the
//! hash before it, and each case has a keyed seal over the head of its chain, its dates and its counts; the same is
//! checked whenever a case is read or listed. Only putting back an older copy of everything looks right from inside:
//! print or sign [`RecordHead`] and compare. Users, sessions and the access log are guarded by triggers only.

#![deny(missing_docs)]

mod access;
mod backup;
mod case;
mod chain;
mod database;
mod digest;
mod error;
mod folder;
mod framing;
mod identity;
mod journal;
mod passphrase;
mod recovery;
mod restore;
mod seal;
mod session;
mod store;
mod user;

pub use access::{AccessFilter, AccessRow, Reading};
pub use backup::{BackupReport, backup};
pub use case::{Attention, CaseFilter, CaseListing, NewCase, Personal, Summary};
pub use chain::{CaseHead, Fault, FaultKind, RecordHead, Verification};
pub use digest::Digest;
pub use error::Error;
pub use folder::SetUpHold;
pub use identity::{CaseId, EntryId, UserId, Word};
pub use journal::{Appended, Draft, Entry, NamedDigest};
pub use passphrase::{Passphrase, PassphraseCost};
pub use recovery::RecoverySheet;
pub use restore::restore;
pub use seal::DataKey;
pub use session::{Session, SessionToken};
pub use store::{Created, Erased, LockedStore, NewRecord, Store};
pub use user::{NewUser, Roles, User};
