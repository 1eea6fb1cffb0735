//! Last heard from: the thread of the last four weeks and its sentence, for the margin.

use crate::casefile::CaseFile;
use crate::phrases;
use handouts::thread::{Stitch, Thread, thread};
use maud::{Markup, PreEscaped, html};
use rehab::calendar::days_between;
use rehab::review::{Review, SymptomClass};

const DAYS: u16 = 28;

/// The thread of a person with its sentence.
pub(crate) fn heard(file: &CaseFile, review: &Review) -> Markup {
    let said = sentence(file, review);
    let stitches = stitches(file, review);
    let begun = review.silence.since;
    let counted = begun.map(|date| days_between(date, file.on));
    let silent = review.silence.days.or(counted).unwrap_or(0);
    let drawn = thread(&Thread {
        days: DAYS,
        stitches: &stitches,
        silent_days: u16::try_from(silent.max(0)).unwrap_or(DAYS),
        late: review.silence.silent,
        width_px: 228,
        title: &said,
    });
    html! { (PreEscaped(drawn)) p { (said) "." } }
}

fn sentence(file: &CaseFile, review: &Review) -> String {
    match (review.silence.last_heard, review.silence.days) {
        (Some(date), Some(days)) if review.silence.silent => format!(
            "Last heard from {} ago, on {}",
            phrases::counted(usize::try_from(days).unwrap_or(0), "day", "days"),
            phrases::calendar_day(date, file.on)
        ),
        (Some(date), _) => format!("Last heard from {}", phrases::on_day(date, file.on)),
        (None, _) => "Not heard from yet".to_owned(),
    }
}

fn stitches(file: &CaseFile, review: &Review) -> Vec<(u16, Stitch)> {
    let ago = |date| u16::try_from(days_between(date, file.on)).ok();
    let is_red = |id: &str| {
        review
            .symptoms
            .iter()
            .any(|one| one.entry == id && one.class == SymptomClass::Red)
    };
    let sessions = file.course.entries.iter().filter_map(|entry| {
        let stitch = if is_red(&entry.id) {
            Stitch::Stopped
        } else {
            Stitch::Session
        };
        ago(entry.date).map(|days| (days, stitch))
    });
    let contacts = file
        .course
        .contacts
        .iter()
        .filter_map(|contact| ago(contact.date).map(|days| (days, Stitch::Contact)));
    sessions.chain(contacts).collect()
}
