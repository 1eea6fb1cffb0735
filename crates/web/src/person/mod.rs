//! The case page: one person, led forwards through the chain from referral to sign-off.

mod answer;
mod chain;
mod head;
mod keys;
mod limits;
mod link;
mod programme;
mod session;
mod standing;
mod written;

pub(crate) use answer::{note, settle};
pub(crate) use standing::{change as change_standing, show as show_standing};
pub(crate) use written::{lines_of, show as show_written, strike};

use crate::casefile::{CaseFile, open_alerts};
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, page};
use axum::extract::Path;
use link::link;
use maud::{Markup, html};

pub(crate) async fn show(signed: Signed, Path(id): Path<String>) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "case-page").await?;
    let review = file.review();
    let alerts = open_alerts(&file.course, &review);
    let body = html! {
        (head::head(&file))
        (answer::to_answer(&file, &review, None))
        (crate::call::unfinished(&file))
        div.chain {
            (link(&chain::referral(&file)))
            (link(&chain::screening(&file)))
            (link(&chain::capacity(&file)))
            (link(&chain::risk(&file)))
            (link(&chain::at_home(&file)))
            (link(&limits::limits(&file)))
            (link(&limits::find_out(&file)))
            @if let Some(programme) = programme::programme(&file, signed.app.exercises()) { (programme) }
            (link(&programme::sign_off(&file, alerts.is_empty())))
        }
    };
    Ok(page(&signed, &file.called(), Nav::People, &body))
}
