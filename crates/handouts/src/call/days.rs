//! The line of days that a call asks about.

use super::Asking;
use jiff::civil::Date;
use rehab::calendar::{days_after, days_between};

/// Fewest and most days on the line.
const LEAST_DAYS: i32 = 7;
const MOST_DAYS: i32 = 28;

/// One day of the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Day {
    /// The day.
    pub date: Date,
    /// Whether a session of that day is known already, so that it is not asked again.
    pub known: bool,
}

/// Days since the newest news, by contact or diary, today included.
pub fn days(asking: &Asking<'_>) -> Vec<Day> {
    let spoken = asking.course.contacts.iter().map(|contact| contact.date);
    let told = asking.course.entries.iter().map(|entry| entry.date);
    let heard = spoken.chain(told).filter(|date| *date < asking.on).max();
    let since = heard.map_or(LEAST_DAYS, |date| days_between(date, asking.on));
    let count = since.clamp(LEAST_DAYS, MOST_DAYS);
    (0..count)
        .rev()
        .map(|back| {
            let date = days_after(asking.on, -back);
            let known = asking
                .course
                .entries
                .iter()
                .any(|entry| entry.is_session() && entry.date == date);
            Day { date, known }
        })
        .collect()
}

/// Sessions asked for in a number of days; `None` where no page is given.
pub fn asked_for(asking: &Asking<'_>, days: usize) -> Option<u32> {
    let stage = asking.course.stage()?;
    let share = days as f64 / 7.0;
    Some(libm::round(f64::from(stage.sessions_per_week) * share) as u32)
}
