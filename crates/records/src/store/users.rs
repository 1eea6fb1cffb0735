//! Users: adding, changing and removing them, and their passphrases.

use jiff::Timestamp;

use crate::database::{Transaction, key_rows, session_rows, user_rows};
use crate::error::Error;
use crate::identity::UserId;
use crate::passphrase::Passphrase;
use crate::recovery::RecoverySheet;
use crate::store::{Store, active_user, require};
use crate::user::{Action, NewUser, Roles, User};

impl Store {
    /// All users in the order of adding, removed ones too, because entries name them.
    pub async fn users(&self) -> Result<Vec<User>, Error> {
        user_rows::all(&mut self.shared.database.read("list the users").await?).await
    }

    /// One user, removed or not.
    pub async fn user(&self, id: UserId) -> Result<User, Error> {
        let found = user_rows::find(
            &mut self.shared.database.read("look for the user").await?,
            id,
        )
        .await?;
        found.ok_or(Error::NoSuchUser)
    }

    /// Adds a user; without a passphrase they can be named but cannot sign in by themselves.
    pub async fn add_user(
        &self,
        by: UserId,
        new: &NewUser,
        passphrase: Option<&Passphrase>,
        now: Timestamp,
    ) -> Result<UserId, Error> {
        let user = user_of(new, now)?;
        let wrap = match passphrase {
            None => None,
            Some(passphrase) => {
                passphrase.check_strength()?;
                Some(
                    self.keys
                        .wrap(
                            Some(user.id),
                            passphrase.as_bytes(),
                            self.shared.cost().await?,
                        )
                        .await?,
                )
            }
        };
        let mut transaction = self
            .write_as(by, Action::ManageUsers, "add the user")
            .await?;
        if user_rows::find_by_sign_in(&mut transaction, &user.sign_in)
            .await?
            .is_some()
        {
            return Err(Error::SignInTaken {
                sign_in: user.sign_in,
            });
        }
        user_rows::insert(&mut transaction, &user, now.as_millisecond()).await?;
        if let Some(wrap) = wrap {
            key_rows::insert_wrap(&mut transaction, &wrap).await?;
        }
        transaction.commit("add the user").await?;
        Ok(user.id)
    }

    /// Gives a user other roles; the last administrator stays one.
    pub async fn set_roles(&self, by: UserId, user: UserId, roles: Roles) -> Result<(), Error> {
        let roles = roles.checked()?;
        let mut transaction = self
            .write_as(by, Action::ManageUsers, "change the roles")
            .await?;
        active_user(&mut transaction, user).await?;
        if !roles.administrator {
            keep_an_administrator(&mut transaction, user).await?;
        }
        user_rows::set_roles(&mut transaction, user, roles).await?;
        transaction.commit("change the roles").await
    }

    /// Removes a user: their passphrase opens nothing any more, their sessions end, their entries stay.
    pub async fn remove_user(&self, by: UserId, user: UserId, now: Timestamp) -> Result<(), Error> {
        let mut transaction = self
            .write_as(by, Action::ManageUsers, "remove the user")
            .await?;
        active_user(&mut transaction, user).await?;
        keep_an_administrator(&mut transaction, user).await?;
        key_rows::delete_wrap(&mut transaction, Some(user)).await?;
        session_rows::delete_of(&mut transaction, user).await?;
        user_rows::set_removed(&mut transaction, user, now.as_millisecond()).await?;
        transaction.commit("remove the user").await
    }

    /// A user changes their own passphrase; the old one must be right, and all their sessions end.
    pub async fn change_passphrase(
        &self,
        sign_in: &str,
        old: &Passphrase,
        new: &Passphrase,
        now: Timestamp,
    ) -> Result<(), Error> {
        new.check_strength()?;
        let (user, _) = self.shared.try_passphrase(sign_in, old, now).await?;
        self.replace_wrap(user.id, new, None).await
    }

    /// An administrator sets the passphrase of a user who forgot it.
    ///
    /// After [`crate::LockedStore::unlock_with_recovery`] `by` is the administrator who holds the sheet.
    pub async fn reset_passphrase(
        &self,
        by: UserId,
        user: UserId,
        new: &Passphrase,
    ) -> Result<(), Error> {
        new.check_strength()?;
        self.replace_wrap(user, new, Some(by)).await
    }

    /// Prints a new recovery sheet; the old one opens nothing any more.
    pub async fn renew_recovery(&self, by: UserId) -> Result<RecoverySheet, Error> {
        let sheet = RecoverySheet::random()?;
        let wrap = self
            .keys
            .wrap(None, sheet.as_bytes(), self.shared.cost().await?)
            .await?;
        let mut transaction = self
            .write_as(by, Action::ManageUsers, "make a new recovery sheet")
            .await?;
        key_rows::delete_wrap(&mut transaction, None).await?;
        key_rows::insert_wrap(&mut transaction, &wrap).await?;
        transaction.commit("make a new recovery sheet").await?;
        Ok(sheet)
    }

    /// Wraps the data key anew for a user and ends their sessions.
    async fn replace_wrap(
        &self,
        user: UserId,
        new: &Passphrase,
        by: Option<UserId>,
    ) -> Result<(), Error> {
        let wrap = self
            .keys
            .wrap(Some(user), new.as_bytes(), self.shared.cost().await?)
            .await?;
        let mut transaction = self.shared.database.write("change the passphrase").await?;
        if let Some(by) = by {
            require(&mut transaction, by, Action::ManageUsers).await?;
        }
        active_user(&mut transaction, user).await?;
        key_rows::delete_wrap(&mut transaction, Some(user)).await?;
        key_rows::insert_wrap(&mut transaction, &wrap).await?;
        session_rows::delete_of(&mut transaction, user).await?;
        transaction.commit("change the passphrase").await
    }
}

/// A new user with an id; refused if a name is unfit or no role is given.
pub(crate) fn user_of(new: &NewUser, now: Timestamp) -> Result<User, Error> {
    Ok(User {
        id: UserId::generate(now)?,
        sign_in: new.checked_sign_in()?,
        full_name: new.checked_full_name()?.to_owned(),
        roles: new.roles.checked()?,
        has_passphrase: false,
        removed: None,
    })
}

/// Refuses if nobody but this user could manage users.
async fn keep_an_administrator(
    transaction: &mut Transaction,
    leaving: UserId,
) -> Result<(), Error> {
    let users = user_rows::all(transaction).await?;
    let manages = |user: &User| user.roles.administrator && user.removed.is_none();
    let leaves = users.iter().any(|user| user.id == leaving && manages(user));
    let others = users.iter().any(|user| user.id != leaving && manages(user));
    if leaves && !others {
        Err(Error::LastAdministrator)
    } else {
        Ok(())
    }
}
