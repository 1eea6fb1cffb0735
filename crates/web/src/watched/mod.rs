//! The page used beside the person: each station in the order of the session, taught things, one signature.

mod read;
mod view;

pub(crate) use view::{shown_words, support_words, technique_words};

use crate::address;
use crate::alone;
use crate::casefile::CaseFile;
use crate::error::PageError;
use crate::guard::Signed;
use crate::typed::{Typed, Wrong};
use axum::extract::{Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::Markup;
use rehab::course::Happening;
use serde::Deserialize;

/// Which page of the programme is watched.
#[derive(Deserialize)]
pub(crate) struct Which {
    stage: Option<u16>,
}

/// The page with nothing watched yet.
pub(crate) async fn show(
    signed: Signed,
    Path(id): Path<String>,
    Query(which): Query<Which>,
) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "watched").await?;
    let Some(stage) = alone::chosen(&file, which.stage) else {
        return Ok(view::nothing(&signed, &file));
    };
    let mut typed = Typed::default();
    typed.set("position", file.next_position().to_string());
    Ok(view::page(&signed, &file, stage, &typed, &Wrong::default()))
}

/// Keeps what was watched as one entry.
pub(crate) async fn send(
    signed: Signed,
    Path(id): Path<String>,
    typed: Typed,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "watched").await?;
    let number = typed.get("stage").parse().ok();
    let Some(stage) = alone::chosen(&file, number) else {
        return Ok(view::nothing(&signed, &file).into_response());
    };
    let mut wrong = Wrong::default();
    let felt = read::felt(&typed, &mut wrong);
    let watched = read::session(&file, stage, felt.as_deref(), &typed, &mut wrong);
    let news = read::news(&file, stage, &watched, felt);
    if typed.get("position") != file.next_position().to_string() {
        wrong.say(
            "save",
            "somebody has written in this case since the page was opened; look at it in another window, then save again",
        );
        let mut again = typed.clone();
        again.set("position", file.next_position().to_string());
        let page = view::page(&signed, &file, stage, &again, &wrong);
        return Ok((StatusCode::CONFLICT, page).into_response());
    }
    if !wrong.is_empty() {
        let page = view::page(&signed, &file, stage, &typed, &wrong);
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
    }
    let happened = std::iter::once(Happening::Watched(watched)).chain(news);
    file.write(&signed, happened.collect()).await?;
    Ok(Redirect::to(&address::of_case(file.id, "pack")).into_response())
}
