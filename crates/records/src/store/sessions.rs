//! Sessions of signed-in browsers.

use jiff::Timestamp;

use crate::database::{session_rows, stored_time, user_rows};
use crate::error::Error;
use crate::identity::UserId;
use crate::passphrase::Passphrase;
use crate::session::{Session, SessionToken};
use crate::store::{Store, active_user};
use crate::user::User;

impl Store {
    /// Makes a session for a user who just signed in; the token goes into the cookie and is stored nowhere.
    pub async fn create_session(
        &self,
        user: UserId,
        now: Timestamp,
        expires: Timestamp,
    ) -> Result<SessionToken, Error> {
        if expires <= now {
            return Err(Error::unsuitable(
                "The session",
                "it would have ended before it begins",
            ));
        }
        let token = SessionToken::random()?;
        let mut transaction = self.shared.database.write("sign in").await?;
        active_user(&mut transaction, user).await?;
        let (created, expires) = (now.as_millisecond(), expires.as_millisecond());
        session_rows::insert(&mut transaction, token.digest(), user, created, expires).await?;
        transaction.commit("sign in").await?;
        Ok(token)
    }

    /// The session of a token; `None` if there is none, it has expired or its user was removed.
    pub async fn find_session(
        &self,
        token: &SessionToken,
        now: Timestamp,
    ) -> Result<Option<Session>, Error> {
        let mut transaction = self.shared.database.read("look for the session").await?;
        let Some(row) = session_rows::find(&mut transaction, token.digest()).await? else {
            return Ok(None);
        };
        let user = user_rows::find(&mut transaction, UserId::stored(row.app_user_id)).await?;
        let expires = stored_time(row.expires_ms)?;
        match user {
            Some(user) if user.removed.is_none() && now < expires => Ok(Some(Session {
                user,
                created: stored_time(row.created_ms)?,
                expires,
                locked: row.is_locked != 0,
            })),
            _ => Ok(None),
        }
    }

    /// Locks a session until the passphrase is given again; returns whether there was one.
    pub async fn lock_session(&self, token: &SessionToken, now: Timestamp) -> Result<bool, Error> {
        self.set_session_locked(token, true, now).await
    }

    /// Unlocks a session with the passphrase of its user; `None` if there is no such session (any more).
    pub async fn unlock_session(
        &self,
        token: &SessionToken,
        passphrase: &Passphrase,
        now: Timestamp,
    ) -> Result<Option<User>, Error> {
        let Some(session) = self.find_session(token, now).await? else {
            return Ok(None);
        };
        let user = self.sign_in(&session.user.sign_in, passphrase, now).await?;
        let found = self.set_session_locked(token, false, now).await?;
        Ok(found.then_some(user))
    }

    /// Moves the end of a session that has not expired; returns whether there was one.
    pub async fn prolong_session(
        &self,
        token: &SessionToken,
        now: Timestamp,
        expires: Timestamp,
    ) -> Result<bool, Error> {
        let mut transaction = self.shared.database.write("prolong the session").await?;
        let (expires, now) = (expires.as_millisecond(), now.as_millisecond());
        let found =
            session_rows::set_expiry(&mut transaction, token.digest(), expires, now).await?;
        transaction.commit("prolong the session").await?;
        Ok(found)
    }

    /// Ends a session.
    pub async fn end_session(&self, token: &SessionToken) -> Result<(), Error> {
        let mut transaction = self.shared.database.write("sign out").await?;
        session_rows::delete(&mut transaction, token.digest()).await?;
        transaction.commit("sign out").await
    }

    /// Ends all sessions of a user, on every device.
    pub async fn end_sessions_of(&self, user: UserId) -> Result<(), Error> {
        let mut transaction = self
            .shared
            .database
            .write("end the sessions of the user")
            .await?;
        session_rows::delete_of(&mut transaction, user).await?;
        transaction.commit("end the sessions of the user").await
    }

    /// Forgets sessions that have expired; worth doing at the start and once a day.
    pub async fn forget_expired_sessions(&self, now: Timestamp) -> Result<(), Error> {
        let mut transaction = self.shared.database.write("end expired sessions").await?;
        session_rows::delete_expired(&mut transaction, now.as_millisecond()).await?;
        transaction.commit("end expired sessions").await
    }

    async fn set_session_locked(
        &self,
        token: &SessionToken,
        locked: bool,
        now: Timestamp,
    ) -> Result<bool, Error> {
        let mut transaction = self.shared.database.write("lock the session").await?;
        let found = session_rows::set_locked(
            &mut transaction,
            token.digest(),
            locked,
            now.as_millisecond(),
        )
        .await?;
        transaction.commit("lock the session").await?;
        Ok(found)
    }
}
