//! The record in use: creating, opening and unlocking it, and the handle through which everything else is done.

mod append;
mod cases;
mod check;
mod erase;
mod keys;
mod notes;
mod read;
mod sessions;
mod unlock;
mod users;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::Timestamp;
use sqlx::Connection as _;

use crate::chain::RecordId;
use crate::database::case_rows::CaseRow;
use crate::database::sqlite::SqliteDatabase;
use crate::database::{
    Database, Transaction, access_rows, case_rows, key_rows, migrate, sqlite, user_rows,
};
use crate::error::{Attempted as _, Error};
use crate::folder::{self, FolderLock};
use crate::identity::{CaseId, UserId};
use crate::passphrase::{Passphrase, PassphraseCost};
use crate::recovery::RecoverySheet;
use crate::seal::{DataKey, Key, random_bytes};
use crate::user::{Action, NewUser, User};

use crate::database::access_rows::Note;
pub(crate) use check::verify_chains;
pub use erase::Erased;
use keys::Keyring;
use notes::NoteQueue;

/// What a new record needs.
#[derive(Debug)]
pub struct NewRecord {
    /// The first user, who must be an administrator.
    pub first_user: NewUser,
    /// The passphrase of the first user; `None` only for a demonstration that unlocks itself with `key`.
    pub passphrase: Option<Passphrase>,
    /// A data key that the caller keeps; `None` makes a random one.
    pub key: Option<DataKey>,
    /// What one attempt at a passphrase costs, now and for later passphrases: [`PassphraseCost::STANDARD`].
    pub cost: PassphraseCost,
}

/// A record that was just created.
#[derive(Debug)]
pub struct Created {
    /// The record, unlocked.
    pub store: Store,
    /// The first user.
    pub first_user: UserId,
    /// The recovery sheet: to be printed now, since it cannot be shown again.
    pub recovery: RecoverySheet,
}

/// An open record whose keys are not known: it can be verified and unlocked, not read.
#[derive(Clone)]
pub struct LockedStore {
    shared: Arc<Shared>,
}

/// An unlocked record; copies are cheap and share the keys, which are overwritten in memory with the last of them.
#[derive(Clone)]
pub struct Store {
    shared: Arc<Shared>,
    keys: Arc<Keyring>,
}

/// What all handles of one open record have together.
struct Shared {
    database: Database,
    record: RecordId,
    dir: PathBuf,
    notes: NoteQueue,
    _lock: FolderLock,
}

impl std::fmt::Debug for Store {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "Store(unlocked, {})", self.shared.dir.display())
    }
}

impl std::fmt::Debug for LockedStore {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "LockedStore({})", self.shared.dir.display())
    }
}

impl Store {
    /// Creates a record in a folder, which is made if need be; a record that is there is never overwritten.
    pub async fn create(dir: &Path, new: &NewRecord, now: Timestamp) -> Result<Created, Error> {
        if !new.first_user.roles.administrator {
            return Err(Error::unsuitable(
                "The first user",
                "somebody must be able to manage users: make this one an administrator",
            ));
        }
        if let Some(passphrase) = &new.passphrase {
            passphrase.check_strength()?;
        }
        let first_user = users::user_of(&new.first_user, now)?;
        folder::make(dir)?;
        let lock = FolderLock::take(dir)?;
        if folder::has_record(dir) {
            return Err(Error::RecordExists {
                dir: dir.to_owned(),
            });
        }
        let file = folder::unfinished_file(dir);
        folder::remove_database(&file)?;
        folder::make_private_file(&file)?;
        let mut connection = sqlite::connect_new(&file).await?;
        migrate::apply(&mut connection, 0, migrate::NEWEST, now.as_millisecond()).await?;
        connection.close().await.attempted("create the record")?;
        // The file is filled under its unfinished name, so that a crash leaves nothing that looks like a record.
        let database = Database::Sqlite(SqliteDatabase::open(&file).await?);
        let filled = fill(&database, new, &first_user, now).await;
        database.close().await;
        let filled = filled?;
        folder::put_in_place(&file, &folder::database_file(dir))?;
        let locked = LockedStore::open_locked(dir, lock).await?;
        let store = Store {
            shared: locked.shared,
            keys: Arc::new(filled.keys),
        };
        Ok(Created {
            store,
            first_user: filled.first_user,
            recovery: filled.recovery,
        })
    }

    /// Opens the record of a folder; a second server on the same folder is refused.
    pub async fn open(dir: &Path) -> Result<LockedStore, Error> {
        if !folder::has_record(dir) {
            return Err(Error::NoRecord {
                dir: dir.to_owned(),
            });
        }
        let lock = FolderLock::take(dir)?;
        LockedStore::open_locked(dir, lock).await
    }

    /// The same record without its keys.
    pub fn locked(&self) -> LockedStore {
        LockedStore {
            shared: Arc::clone(&self.shared),
        }
    }

    /// The folder of the record.
    pub fn dir(&self) -> &Path {
        &self.shared.dir
    }

    /// Closes the database in order; the folder is free as soon as the last handle is dropped.
    pub async fn close(self) {
        self.shared.database.close().await;
    }

    /// Begins to write on behalf of a user, whose roles must allow it.
    async fn write_as(
        &self,
        by: UserId,
        action: Action,
        attempted: &'static str,
    ) -> Result<Transaction, Error> {
        let mut transaction = self.shared.database.write(attempted).await?;
        require(&mut transaction, by, action).await?;
        Ok(transaction)
    }

    /// Begins to read on behalf of a user, whose roles must allow it.
    async fn read_as(
        &self,
        by: UserId,
        action: Action,
        attempted: &'static str,
    ) -> Result<Transaction, Error> {
        let mut transaction = self.shared.database.read(attempted).await?;
        require(&mut transaction, by, action).await?;
        Ok(transaction)
    }
}

impl LockedStore {
    async fn open_locked(dir: &Path, lock: FolderLock) -> Result<LockedStore, Error> {
        let file = folder::database_file(dir);
        let pool = sqlite::open_beside(&file).await?;
        let brought_up = bring_up(&pool).await;
        pool.close().await;
        brought_up?;
        let database = Database::Sqlite(SqliteDatabase::open(&file).await?);
        let (record, _) =
            key_rows::find_record(&mut database.read("open the record").await?).await?;
        let shared = Shared {
            database,
            record,
            dir: dir.to_owned(),
            notes: NoteQueue::default(),
            _lock: lock,
        };
        Ok(LockedStore {
            shared: Arc::new(shared),
        })
    }

    /// The folder of the record.
    pub fn dir(&self) -> &Path {
        &self.shared.dir
    }

    /// Closes the database in order; the folder is free as soon as the last handle is dropped.
    pub async fn close(self) {
        self.shared.database.close().await;
    }
}

/// Brings a record of an older program to the newest format.
async fn bring_up(pool: &sqlx::SqlitePool) -> Result<(), Error> {
    let mut connection = pool.acquire().await.attempted("open the record")?;
    match migrate::version_of(&mut connection).await? {
        0 => Err(Error::Damaged {
            what: "its file is empty".to_owned(),
        }),
        version => {
            migrate::apply(
                &mut connection,
                version,
                migrate::NEWEST,
                Timestamp::now().as_millisecond(),
            )
            .await
        }
    }
}

/// Refuses unless this user is there and has a role that allows it.
async fn require(transaction: &mut Transaction, by: UserId, action: Action) -> Result<User, Error> {
    let user = active_user(transaction, by).await?;
    if !user.roles.may(action) {
        return Err(action.refused());
    }
    Ok(user)
}

/// A user who was not removed.
async fn active_user(transaction: &mut Transaction, id: UserId) -> Result<User, Error> {
    user_rows::find(transaction, id)
        .await?
        .filter(|user| user.removed.is_none())
        .ok_or(Error::NoSuchUser)
}

/// What filling a new record gives back.
struct Filled {
    keys: Keyring,
    first_user: UserId,
    recovery: RecoverySheet,
}

/// Writes identity, first user, wrapped keys and the journal of the service into an empty database.
async fn fill(
    database: &Database,
    new: &NewRecord,
    user: &User,
    now: Timestamp,
) -> Result<Filled, Error> {
    let record: RecordId = random_bytes()?;
    let key = match &new.key {
        Some(given) => given.copy(),
        None => Key::random()?,
    };
    let keys = Keyring::new(record, key);
    let recovery = RecoverySheet::random()?;
    let recovery_wrap = keys.wrap(None, recovery.as_bytes(), new.cost).await?;
    let user_wrap = match &new.passphrase {
        None => None,
        Some(passphrase) => Some(
            keys.wrap(Some(user.id), passphrase.as_bytes(), new.cost)
                .await?,
        ),
    };
    let mut transaction = database.write("create the record").await?;
    key_rows::insert_record(
        &mut transaction,
        &record,
        &keys.check_text()?,
        now.as_millisecond(),
    )
    .await?;
    user_rows::insert(&mut transaction, user, now.as_millisecond()).await?;
    key_rows::insert_wrap(&mut transaction, &recovery_wrap).await?;
    if let Some(wrap) = user_wrap {
        key_rows::insert_wrap(&mut transaction, &wrap).await?;
    }
    case_rows::insert(&mut transaction, &service_case(&keys, now)?, None).await?;
    let created = Note {
        at: now,
        by: Some(user.id),
        case: None,
        what: "create".to_owned(),
    };
    access_rows::insert(&mut transaction, &[&created]).await?;
    transaction.commit("create the record").await?;
    Ok(Filled {
        keys,
        first_user: user.id,
        recovery,
    })
}

/// The row under which the journal of the service stands.
fn service_case(keys: &Keyring, now: Timestamp) -> Result<CaseRow, Error> {
    let made = keys.new_case_key(CaseId::SERVICE)?;
    let mut row = CaseRow::new(
        &keys.record,
        CaseId::SERVICE,
        made.sealed,
        now.as_millisecond(),
    );
    row.status = "service".to_owned();
    made.key.seal_head(&mut row);
    Ok(row)
}
