//! The invented people: their case files and stories, with every day moved to the day of the demonstration.

use super::story::Story;
use anyhow::{Context, Result};
use jiff::civil::{Date, date};
use rehab::assessment::Case;
use rehab::calendar::{days_after, days_between};
use rehab::service::Service;

/// The day that the files are written for.
pub(super) const BASE: Date = date(2026, 11, 25);

/// One invented person.
pub(super) struct InventedPerson {
    /// The case as it is known on the day of the demonstration.
    pub(super) case: Case,
    /// What happened.
    pub(super) story: Story,
}

/// Everybody, in the order of their file names.
pub(super) fn everybody(on: Date) -> Result<Vec<InventedPerson>> {
    let files = formats::demonstration_files();
    let mut people = Vec::new();
    for (name, text) in files {
        let Some(person) = name.strip_prefix("people/") else {
            continue;
        };
        let (mut case, _) = formats::case::read(name, text.as_bytes(), Some(BASE))?;
        move_days(&mut case, days_between(BASE, on));
        let story_name = format!("stories/{person}");
        let found = files.iter().find(|(one, _)| *one == story_name);
        let (_, story) = found.with_context(|| format!("{story_name} is missing"))?;
        let story: Story = toml::from_str(story).with_context(|| story_name.clone())?;
        people.push(InventedPerson { case, story });
    }
    Ok(people)
}

/// The invented service.
pub(super) fn service() -> Result<Service> {
    let files = formats::demonstration_files();
    let found = files.iter().find(|(name, _)| *name == "service.toml");
    let (name, text) = found.context("service.toml is missing")?;
    Ok(formats::service::read(name, text.as_bytes())?)
}

/// Moves every day of a case but the birthday.
fn move_days(case: &mut Case, days: i32) {
    let to = |day: Date| days_after(day, days);
    let some = |day: &mut Option<Date>| *day = day.map(to);
    some(&mut case.status.since);
    for event in &mut case.events {
        some(&mut event.date);
        for procedure in &mut event.procedures {
            some(&mut procedure.date);
        }
    }
    if let Some(device) = &mut case.heart.device {
        some(&mut device.last_shock);
    }
    for (_, since) in &mut case.history.since {
        *since = to(*since);
    }
    for medicine in &mut case.medicines {
        some(&mut medicine.since);
        some(&mut medicine.until);
    }
    for examination in &mut case.examinations {
        examination.date = to(examination.date);
    }
    for test in &mut case.tests {
        some(&mut test.date);
    }
    if let Some(agreement) = &mut case.agreement {
        agreement.date = to(agreement.date);
    }
    for watched in &mut case.watched {
        watched.date = to(watched.date);
    }
    for pain in &mut case.pains {
        some(&mut pain.date);
    }
}
