//! Fills a new record with everything that was played.

use super::play::Played;
use anyhow::Result;
use formats::journal::{kind_of, write_body};
use formats::tree::Notation;
use jiff::Timestamp;
use jiff::civil::Date;
use records::{
    CaseId, Draft, EntryId, NewCase, NewRecord, NewUser, PassphraseCost, Roles, Store, User,
    UserId, Word,
};
use rehab::service::Service;
use std::path::Path;

/// Name of the invented practitioner of the demonstration.
pub(super) const PRACTITIONER: &str = "Josie Marwood";
/// Role under the signature.
pub(super) const ROLE: &str = "physiotherapist";

/// A new record that unlocks itself, with its one user.
pub(super) async fn create(dir: &Path, now: Timestamp) -> Result<(Store, User)> {
    let new = NewRecord {
        first_user: NewUser {
            sign_in: "josie".to_owned(),
            full_name: format!("{PRACTITIONER}, {ROLE}"),
            roles: Roles::ALL,
        },
        passphrase: None,
        key: None,
        cost: PassphraseCost::STANDARD,
    };
    let created = Store::create(dir, &new, now).await?;
    let user = created.store.user(created.first_user).await?;
    Ok((created.store, user))
}

/// Writes the settings of the service.
pub(super) async fn write_service(
    store: &Store,
    by: UserId,
    service: &Service,
    on: Date,
    now: Timestamp,
) -> Result<()> {
    let body = formats::service::write(service, Notation::Json).into_bytes();
    let draft = Draft::new(
        EntryId::generate(now)?,
        Word::new("service")?,
        on.at(9, 0, 0, 0),
        body,
    );
    store.append(CaseId::SERVICE, by, draft, now).await?;
    Ok(())
}

/// Opens a case with everything that happened to one person.
pub(super) async fn write_person(
    store: &Store,
    by: UserId,
    played: &Played,
    service: &Service,
    on: Date,
    now: Timestamp,
) -> Result<()> {
    let case = &played.course.case;
    let mut entries = Vec::new();
    for (date, happening) in &played.happened {
        let kind = Word::new(kind_of(happening))?;
        let body = write_body(&case.id, happening);
        entries.push(Draft::new(
            EntryId::generate(now)?,
            kind,
            date.at(10, 0, 0, 0),
            body,
        ));
    }
    let new = NewCase {
        reference: case.id.0.clone(),
        summary: web::summary(&played.course, service, on),
        personal: web::personal(&played.course),
        entries,
    };
    store.open_case(by, new, now).await?;
    Ok(())
}
