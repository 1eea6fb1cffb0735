//! The page somebody is on, as a line of hills in the gutter.

use crate::casefile::CaseFile;
use crate::phrases;
use handouts::profile::{Course, tiny};
use maud::{Markup, PreEscaped, html};
use rehab::calendar::days_between;

/// The hills of the present page, its letter and how long it has been done; nothing without a page.
pub(crate) fn hills(file: &CaseFile) -> Markup {
    let Some(stage) = file.course.stage() else {
        return html! {};
    };
    let page = phrases::page_of(stage.number);
    let top = file.assessed.limits.mets_station_high.to_mets();
    let drawn = tiny(&Course::of(stage), 112, top, None, &page);
    let week = file
        .course
        .stage_since
        .map(|since| days_between(since, file.on) / 7 + 1);
    html! {
        (PreEscaped(drawn))
        span { (page) @if let Some(week) = week { ", week " (week) } }
    }
}
