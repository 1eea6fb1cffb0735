//! Rows of users.

use sqlx::FromRow;
use uuid::Uuid;

use crate::database::{Transaction, stored_time};
use crate::error::{Attempted as _, Error};
use crate::identity::UserId;
use crate::user::{Roles, User};

/// A user as stored.
#[derive(FromRow)]
struct UserRow {
    app_user_id: Uuid,
    sign_in: String,
    full_name: String,
    is_practitioner: i64,
    is_lead: i64,
    is_administrator: i64,
    removed_ms: Option<i64>,
    wraps: i64,
}

impl UserRow {
    fn into_user(self) -> Result<User, Error> {
        Ok(User {
            id: UserId::stored(self.app_user_id),
            sign_in: self.sign_in,
            full_name: self.full_name,
            roles: Roles {
                practitioner: self.is_practitioner != 0,
                lead: self.is_lead != 0,
                administrator: self.is_administrator != 0,
            },
            has_passphrase: self.wraps > 0,
            removed: self.removed_ms.map(stored_time).transpose()?,
        })
    }
}

/// Writes a new user.
pub(crate) async fn insert(
    transaction: &mut Transaction,
    user: &User,
    created_ms: i64,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "INSERT INTO app_user (app_user_id, sign_in, full_name, is_practitioner, is_lead, is_administrator, created_ms) \
         VALUES ($1, $2, $3, $4, $5, $6, $7)"
    )
    .bind(user.id.to_uuid())
    .bind(user.sign_in.as_str())
    .bind(user.full_name.as_str())
    .bind(i64::from(user.roles.practitioner))
    .bind(i64::from(user.roles.lead))
    .bind(i64::from(user.roles.administrator))
    .bind(created_ms)
    .execute(connection))
    .attempted("add the user")
    .map(drop)
}

/// One user, removed or not.
pub(crate) async fn find(transaction: &mut Transaction, id: UserId) -> Result<Option<User>, Error> {
    let row: Option<UserRow> = on!(transaction, |connection| sqlx::query_as(
        "SELECT u.*, (SELECT count(*) FROM key_wrap w WHERE w.app_user_id = u.app_user_id) AS wraps \
         FROM app_user u WHERE u.app_user_id = $1"
    )
    .bind(id.to_uuid())
    .fetch_optional(connection))
    .attempted("look for the user")?;
    row.map(UserRow::into_user).transpose()
}

/// The user who signs in by this (folded) name and was not removed.
pub(crate) async fn find_by_sign_in(
    transaction: &mut Transaction,
    sign_in: &str,
) -> Result<Option<User>, Error> {
    let row: Option<UserRow> = on!(transaction, |connection| sqlx::query_as(
        "SELECT u.*, (SELECT count(*) FROM key_wrap w WHERE w.app_user_id = u.app_user_id) AS wraps \
         FROM app_user u WHERE u.sign_in = $1 AND u.removed_ms IS NULL"
    )
    .bind(sign_in)
    .fetch_optional(connection))
    .attempted("look for the user")?;
    row.map(UserRow::into_user).transpose()
}

/// All users, removed ones too, in the order of adding.
pub(crate) async fn all(transaction: &mut Transaction) -> Result<Vec<User>, Error> {
    let rows: Vec<UserRow> = on!(transaction, |connection| sqlx::query_as(
        "SELECT u.*, (SELECT count(*) FROM key_wrap w WHERE w.app_user_id = u.app_user_id) AS wraps \
         FROM app_user u ORDER BY u.created_ms, u.app_user_id"
    )
    .fetch_all(connection))
    .attempted("list the users")?;
    rows.into_iter().map(UserRow::into_user).collect()
}

/// Gives a user other roles.
pub(crate) async fn set_roles(
    transaction: &mut Transaction,
    id: UserId,
    roles: Roles,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "UPDATE app_user SET is_practitioner = $2, is_lead = $3, is_administrator = $4 WHERE app_user_id = $1"
    )
    .bind(id.to_uuid())
    .bind(i64::from(roles.practitioner))
    .bind(i64::from(roles.lead))
    .bind(i64::from(roles.administrator))
    .execute(connection))
    .attempted("change the roles")
    .map(drop)
}

/// Marks a user as removed.
pub(crate) async fn set_removed(
    transaction: &mut Transaction,
    id: UserId,
    removed_ms: i64,
) -> Result<(), Error> {
    on!(transaction, |connection| sqlx::query(
        "UPDATE app_user SET removed_ms = $2 WHERE app_user_id = $1"
    )
    .bind(id.to_uuid())
    .bind(removed_ms)
    .execute(connection))
    .attempted("remove the user")
    .map(drop)
}
