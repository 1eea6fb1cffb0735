//! Unlocking: by passphrase, by recovery sheet, by a given key; and signing in to a record that is open already.

use std::path::Path;
use std::sync::Arc;

use jiff::Timestamp;

use crate::backup::{BackupReport, backup};
use crate::database::access_rows::Note;
use crate::database::key_rows::{self, WrapRow};
use crate::database::{stored_time, user_rows};
use crate::error::Error;
use crate::identity::UserId;
use crate::passphrase::{Passphrase, PassphraseCost, not_before, wrap_place};
use crate::recovery::RecoverySheet;
use crate::seal::{DataKey, Key};
use crate::store::keys::{Keyring, stretch_aside};
use crate::store::{LockedStore, Shared, Store};
use crate::user::{Action, User, fold_sign_in};

impl LockedStore {
    /// Unlocks with the passphrase of a user.
    ///
    /// Wrong attempts are counted in the record and slowed down: [`Error::WrongPassphrase`], [`Error::TooSoon`].
    pub async fn unlock(
        &self,
        sign_in: &str,
        passphrase: &Passphrase,
        now: Timestamp,
    ) -> Result<(Store, User), Error> {
        let (user, key) = self.shared.try_passphrase(sign_in, passphrase, now).await?;
        let store = self.with_key(key).await?.ok_or_else(|| Error::Tampered {
            what: "The wrapped data key".to_owned(),
        })?;
        self.shared.note(now, Some(user.id), "unlock").await?;
        Ok((store, user))
    }

    /// Unlocks with the printed recovery sheet; afterwards set a passphrase with [`Store::reset_passphrase`].
    pub async fn unlock_with_recovery(
        &self,
        sheet: &RecoverySheet,
        now: Timestamp,
    ) -> Result<Store, Error> {
        let wrap = key_rows::find_wrap(
            &mut self.shared.database.read("unlock the record").await?,
            None,
        )
        .await?;
        let wrap = wrap.ok_or(Error::WrongRecovery)?;
        let key = self
            .shared
            .open_wrap(&wrap, sheet.as_bytes())
            .await?
            .ok_or(Error::WrongRecovery)?;
        let store = self.with_key(key).await?.ok_or_else(|| Error::Tampered {
            what: "The wrapped data key".to_owned(),
        })?;
        self.shared.note(now, None, "recovery").await?;
        Ok(store)
    }

    /// Unlocks with a key that the caller kept, without any passphrase: for a demonstration with invented people.
    pub async fn unlock_with_key(&self, key: &DataKey, now: Timestamp) -> Result<Store, Error> {
        let store = self.with_key(key.copy()).await?.ok_or(Error::WrongKey)?;
        self.shared.note(now, None, "unlock-with-key").await?;
        Ok(store)
    }

    /// The unlocked record, if the key is the right one.
    async fn with_key(&self, key: Key) -> Result<Option<Store>, Error> {
        let (record, check) =
            key_rows::find_record(&mut self.shared.database.read("unlock the record").await?)
                .await?;
        let keys = Keyring::checked(record, key, &check);
        Ok(keys.map(|keys| Store {
            shared: Arc::clone(&self.shared),
            keys: Arc::new(keys),
        }))
    }
}

impl Store {
    /// Signs a user in while the record is unlocked already; the same checks and throttle as for unlocking.
    pub async fn sign_in(
        &self,
        sign_in: &str,
        passphrase: &Passphrase,
        now: Timestamp,
    ) -> Result<User, Error> {
        let (user, _) = self.shared.try_passphrase(sign_in, passphrase, now).await?;
        self.shared.note(now, Some(user.id), "sign-in").await?;
        Ok(user)
    }
}

impl Store {
    /// Takes a backup of this record while it is in use, and notes who did: see [`crate::backup`].
    pub async fn backup(
        &self,
        by: UserId,
        out: &Path,
        now: Timestamp,
    ) -> Result<BackupReport, Error> {
        drop(self.read_as(by, Action::BackUp, "take a backup").await?);
        self.shared.note(now, Some(by), "backup").await?;
        backup(&self.shared.dir, out).await
    }
}

impl Shared {
    /// Tries a passphrase: gives the user and the data key.
    ///
    /// The attempt is counted before it is made, so that neither many at once nor a crash gives free guesses.
    pub(crate) async fn try_passphrase(
        &self,
        sign_in: &str,
        passphrase: &Passphrase,
        now: Timestamp,
    ) -> Result<(User, Key), Error> {
        let Some((user, wrap, wait_until)) =
            self.count_attempt(&fold_sign_in(sign_in), now).await?
        else {
            // The same work as for a known name, so that the time does not tell which names exist.
            let cost = self.cost().await?;
            stretch_aside(passphrase.as_bytes(), &[0; 16], cost).await?;
            return Err(Error::WrongPassphrase { wait_until: None });
        };
        let Some(key) = self.open_wrap(&wrap, passphrase.as_bytes()).await? else {
            return Err(Error::WrongPassphrase {
                wait_until: (wait_until > now).then_some(wait_until),
            });
        };
        let mut transaction = self.database.write("sign in").await?;
        key_rows::set_throttle(&mut transaction, wrap.key_wrap_id, 0, 0).await?;
        transaction.commit("sign in").await?;
        Ok((user, key))
    }

    /// Counts one more attempt; `None` if nobody signs in by this name with a passphrase.
    async fn count_attempt(
        &self,
        sign_in: &str,
        now: Timestamp,
    ) -> Result<Option<(User, WrapRow, Timestamp)>, Error> {
        let mut transaction = self.database.write("sign in").await?;
        let Some(user) = user_rows::find_by_sign_in(&mut transaction, sign_in).await? else {
            return Ok(None);
        };
        let Some(wrap) = key_rows::find_wrap(&mut transaction, Some(user.id)).await? else {
            return Ok(None);
        };
        let until = stored_time(wrap.not_before_ms)?;
        if now < until {
            return Err(Error::TooSoon { until });
        }
        let failed = wrap.failed_count.saturating_add(1);
        let until = not_before(now, u32::try_from(failed).unwrap_or(u32::MAX));
        key_rows::set_throttle(
            &mut transaction,
            wrap.key_wrap_id,
            failed,
            until.as_millisecond(),
        )
        .await?;
        transaction.commit("sign in").await?;
        Ok(Some((user, wrap, until)))
    }

    /// The data key out of a wrap, if the secret is right.
    async fn open_wrap(&self, wrap: &WrapRow, secret: &[u8]) -> Result<Option<Key>, Error> {
        let wrapping = stretch_aside(secret, &wrap.salt, wrap.cost()?).await?;
        let user = wrap.app_user_id.map(UserId::stored);
        let place = wrap_place(
            &self.record,
            wrap.key_wrap_id.as_bytes(),
            user.as_ref().map(UserId::as_bytes),
        );
        Ok(wrapping.open_key(&place, &wrap.sealed_key))
    }

    /// What a passphrase costs in this record: as much as its recovery sheet.
    pub(crate) async fn cost(&self) -> Result<PassphraseCost, Error> {
        let wrap = key_rows::find_wrap(
            &mut self
                .database
                .read("look up the cost of a passphrase")
                .await?,
            None,
        )
        .await?;
        wrap.map_or(Ok(PassphraseCost::STANDARD), |wrap| wrap.cost())
    }

    /// Notes something about the whole record in the access log.
    pub(crate) async fn note(
        self: &Arc<Shared>,
        now: Timestamp,
        by: Option<UserId>,
        what: &'static str,
    ) -> Result<(), Error> {
        let note = Note {
            at: now,
            by,
            case: None,
            what: what.to_owned(),
        };
        self.write_notes(vec![note]).await
    }
}
