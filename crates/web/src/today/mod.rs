//! Today: who needs what, in sentences.

use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, page, row};
use maud::{Markup, html};

pub(crate) async fn show(signed: Signed) -> Result<Markup, PageError> {
    let today = signed.app.clock().today();
    let title = today.strftime("%A %-d %B").to_string();
    let body = html! { (row(&html! {}, &html! { h1.title { (title) } }, &html! {})) };
    Ok(page(&signed, &title, Nav::Today, &body))
}
