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

/// Days since the newest news, by contact or diary, today included; none from before the first page was given.
pub fn days(asking: &Asking<'_>) -> Vec<Day> {
    let spoken = asking.course.contacts.iter().map(|contact| contact.date);
    let told = asking.course.entries.iter().map(|entry| entry.date);
    let heard = spoken.chain(told).filter(|date| *date < asking.on).max();
    let since = heard.map_or(LEAST_DAYS, |date| days_between(date, asking.on));
    let count = since.clamp(LEAST_DAYS, MOST_DAYS);
    let given = asking.course.given.first().map(|given| given.date);
    (0..count)
        .rev()
        .map(|back| days_after(asking.on, -back))
        .filter(|date| given.is_none_or(|given| *date >= given))
        .map(|date| {
            let known = asking
                .course
                .entries
                .iter()
                .any(|entry| entry.is_session() && entry.date == date);
            Day { date, known }
        })
        .collect()
}

/// Sessions asked for on these days, each by the page the person had on it; `None` where no page is given.
pub fn asked_for(asking: &Asking<'_>, days: &[Day]) -> Option<u32> {
    let a_week = |day: &Day| sessions_a_week(asking, page_on(asking, day.date)?);
    let asked: Vec<u8> = days.iter().filter_map(a_week).collect();
    let sum: u32 = asked.iter().copied().map(u32::from).sum();
    (!asked.is_empty()).then(|| libm::round(f64::from(sum) / 7.0) as u32)
}

fn sessions_a_week(asking: &Asking<'_>, page: u16) -> Option<u8> {
    let course = asking.course;
    let home = course.at_home.as_ref().filter(|home| home.number == page);
    let stage = home.or_else(|| course.signed_stage(page));
    // Of a page that is signed no more the present one is the nearest that is known.
    Some(stage.or_else(|| course.stage())?.sessions_per_week)
}

/// The page the person had on a day: the newest given until then, else the present one.
pub(super) fn page_on(asking: &Asking<'_>, date: Date) -> Option<u16> {
    let mut until = asking.course.given.iter().rev();
    let given = until.find(|given| given.date <= date);
    given
        .map(|given| given.stage)
        .or(asking.course.current_stage)
}
