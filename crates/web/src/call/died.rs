//! Instead of the sheet: nobody is rung up for the diary of somebody who has died.

use crate::address;
use crate::casefile::CaseFile;
use crate::guard::Signed;
use crate::layout::{Nav, case_page as shell, row};
use crate::phrases::calendar_day;
use maud::{Markup, html};
use rehab::assessment::StatusKind;

/// Whether the person is recorded as dead.
pub(super) fn has_died(file: &CaseFile) -> bool {
    file.course.case.status.kind == StatusKind::Died
}

/// Says so, and offers a note.
pub(super) fn page(signed: &Signed, file: &CaseFile) -> Markup {
    let title = format!("{} has died", file.called());
    let since = file.course.case.status.since;
    let text = html! {
        h1.title { (title) }
        p.lead {
            @if let Some(date) = since { "Died on " (calendar_day(date, file.on)) ". " }
            "Nothing is asked, proposed or due any more. What somebody of the family says can be kept as a note."
        }
        form method="post" action=(address::of_case(file.id, "note")) {
            div.ask {
                label for="note" { "Note" }
                textarea.field id="note" name="note" rows="4" required {}
            }
            p.acts {
                button.do type="submit" { "Keep the note" }
                a.act href=(address::case(file.id)) { "Back to the case" }
            }
        }
    };
    let margin = html! { p { "Not so? Put it right under " a href=(address::of_case(file.id, "standing")) { "Standing" } "." } };
    shell(
        signed,
        file,
        &title,
        Nav::People,
        &row(&html! {}, &text, &margin),
    )
}
