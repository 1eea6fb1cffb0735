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
use rehab::course::Happening;
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

/// Opens a case with everything that happened to one person, so many times over: each under an id of its own.
pub(super) async fn write_person(
    store: &Store,
    by: UserId,
    played: &Played,
    (service, on): (&Service, Date),
    times: u16,
    now: Timestamp,
) -> Result<()> {
    let summary = web::summary(&played.course, service, on);
    let personal = web::personal(&played.course);
    for number in 1..=times {
        let own = &played.course.case.id.0;
        let id = match number {
            1 => own.clone(),
            _ => format!("{own}-{number}"),
        };
        let new = NewCase {
            reference: id.clone(),
            summary: summary.clone(),
            personal: personal.clone(),
            entries: entries(played, &rehab::assessment::CaseId(id), now)?,
        };
        store.open_case(by, new, now).await?;
    }
    Ok(())
}

fn entries(played: &Played, id: &rehab::assessment::CaseId, now: Timestamp) -> Result<Vec<Draft>> {
    let mut entries = Vec::new();
    for (date, happening) in &played.happened {
        let mut happening = happening.clone();
        if let Happening::Case(case) = &mut happening {
            case.id = id.clone();
        }
        let kind = Word::new(kind_of(&happening))?;
        let body = write_body(id, &happening);
        entries.push(Draft::new(
            EntryId::generate(now)?,
            kind,
            date.at(10, 0, 0, 0),
            body,
        ));
    }
    Ok(entries)
}
