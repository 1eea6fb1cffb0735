//! A demonstration: an invented caseload in a temporary folder, made through the same functions as a real one.

mod people;
mod play;
mod record;
mod story;
mod told;

use anyhow::{Result, bail};
use jiff::Timestamp;
use jiff::civil::Date;
use play::{Played, Setting, play};
use records::{Store, User};
use rehab::course::Signature;
use rehab::programme::Exercises;
use std::path::Path;

use people::service;

/// Plays every story on a day.
fn play_all(exercises: &Exercises, on: Date) -> Result<Vec<Played>> {
    let service = service()?;
    let setting = Setting {
        service: &service,
        exercises,
        on,
        by: Signature {
            name: record::PRACTITIONER.to_owned(),
            role: record::ROLE.to_owned(),
        },
    };
    let mut played = Vec::new();
    let mut wrong = Vec::new();
    for person in people::everybody(on)? {
        match play(&setting, &person.case, &person.story) {
            Ok(one) => played.push(one),
            Err(error) => wrong.push(format!("{error:#}")),
        }
    }
    if !wrong.is_empty() {
        bail!("stories that do not play:\n{}", wrong.join("\n"));
    }
    Ok(played)
}

/// A record in a folder with the whole caseload so many times over, unlocked, and its one user.
pub(crate) async fn make(
    dir: &Path,
    exercises: &Exercises,
    on: Date,
    times: u16,
) -> Result<(Store, User)> {
    let now = Timestamp::now();
    let service = service()?;
    let played = play_all(exercises, on)?;
    let (store, user) = record::create(dir, now).await?;
    record::write_service(&store, user.id, &service, on, now).await?;
    for one in &played {
        record::write_person(&store, user.id, one, (&service, on), times, now).await?;
    }
    Ok((store, user))
}

#[cfg(test)]
mod tests;
#[cfg(test)]
mod texts_test;
