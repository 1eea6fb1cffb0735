//! The sheet of a call or visit: asked in the order of talk, closed with one signature.

mod died;
mod draft;
mod follow;
mod paper;
mod read;
mod view;

pub(crate) use draft::unfinished;

use crate::address;
use crate::casefile::CaseFile;
use crate::error::PageError;
use crate::guard::Signed;
use crate::typed::{Typed, Wrong};
use axum::extract::{Path, Query};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use handouts::call::Asking;
use jiff::civil::Date;
use maud::Markup;
use rehab::review::ContactKind;
use serde::Deserialize;

/// Which contact it is.
#[derive(Deserialize)]
pub(crate) struct How {
    kind: Option<String>,
}

fn kind_of(word: &str) -> ContactKind {
    match word {
        "visit" => ContactKind::Visit,
        _ => ContactKind::Call,
    }
}

/// The sheet: with nothing answered yet, or as it was kept unfinished.
pub(crate) async fn show(
    signed: Signed,
    Path(id): Path<String>,
    Query(how): Query<How>,
) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "call").await?;
    if died::has_died(&file) {
        return Ok(died::page(&signed, &file));
    }
    let mut typed = draft::kept(&file);
    match how.kind.as_deref() {
        Some(kind) => typed.set("kind", kind),
        None if typed.get("kind").is_empty() => typed.set("kind", "call"),
        None => {}
    }
    typed.set("position", file.next_position().to_string());
    Ok(answer(&signed, &file, &typed, false).1)
}

/// The same questions on paper, blank.
pub(crate) async fn show_paper(
    signed: Signed,
    Path(id): Path<String>,
    Query(how): Query<How>,
) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "call").await?;
    if died::has_died(&file) {
        return Ok(died::page(&signed, &file));
    }
    let kind = kind_of(how.kind.as_deref().unwrap_or("call"));
    let practitioner = name_of(&signed);
    let on = file.on;
    Ok(paper::page(&asking(
        &signed,
        &file,
        kind,
        &practitioner,
        on,
    )))
}

/// What follows, a try that reached nobody, or the signature.
pub(crate) async fn send(
    signed: Signed,
    Path(id): Path<String>,
    typed: Typed,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "call").await?;
    if died::has_died(&file) {
        let page = died::page(&signed, &file);
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
    }
    if typed.get("act") == "no-answer" {
        let note = time(&signed);
        let note = format!("No answer at {note}");
        let happened = follow::not_reached(&file, kind_of(typed.get("kind")), note);
        file.write(&signed, vec![happened]).await?;
        return Ok(Redirect::to(&address::of_case(file.id, "call")).into_response());
    }
    if typed.get("act") == "draft" {
        return keep_draft(&signed, &file, &typed).await;
    }
    let sign = typed.get("act") == "sign";
    let (happenings, page) = answer(&signed, &file, &typed, sign);
    match happenings {
        Some(happenings) if sign => {
            file.write(&signed, happenings).await?;
            Ok(Redirect::to(&address::case(file.id)).into_response())
        }
        _ if sign => Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response()),
        _ => Ok(page.into_response()),
    }
}

/// An interrupted call loses nothing: what was typed is kept as it is, also where it could not be signed yet.
async fn keep_draft(
    signed: &Signed,
    file: &CaseFile,
    typed: &Typed,
) -> Result<Response, PageError> {
    let practitioner = name_of(signed);
    let spoken = draft::spoken_on(file, typed);
    let kind = kind_of(typed.get("kind"));
    let asking = asking(signed, file, kind, &practitioner, spoken);
    let (_, follows, _) = follow::read_all(file, &asking, typed, &time(signed));
    draft::keep(signed, file, typed, &follows).await?;
    Ok(Redirect::to(&address::case(file.id)).into_response())
}

/// The page for what was typed, and what would be written if nothing stands against it.
fn answer(
    signed: &Signed,
    file: &CaseFile,
    typed: &Typed,
    sign: bool,
) -> (Option<Vec<rehab::course::Happening>>, Markup) {
    let practitioner = name_of(signed);
    let spoken = draft::spoken_on(file, typed);
    let kind = kind_of(typed.get("kind"));
    let asking = asking(signed, file, kind, &practitioner, spoken);
    let time = time(signed);
    let (answers, follows, mut wrong) = follow::read_all(file, &asking, typed, &time);
    let stale = typed.get("position") != file.next_position().to_string();
    if sign {
        check(&follows, stale, typed, &mut wrong);
    }
    let may = wrong.is_empty() && !stale && follows.refused.is_none();
    let sheet = view::Sheet {
        signed,
        file,
        asking: &asking,
        answers: &answers,
        follows: &follows,
        typed,
        wrong: &wrong,
        time: &time,
        stale: stale && !typed.get("position").is_empty(),
    };
    let page = view::page(&sheet);
    (may.then(|| follows.happenings(typed)), page)
}

fn check(follows: &follow::Follows, stale: bool, typed: &Typed, wrong: &mut Wrong) {
    if stale && typed.get("position").is_empty() {
        wrong.say(
            "sign",
            "the sheet did not say on which state of the case it was opened; look at what follows again, then sign",
        );
    }
    if stale {
        wrong.say(
            "sign",
            "somebody has written in this case since the sheet was opened; look at what follows again, then sign",
        );
    }
    if let Some(refused) = &follows.refused {
        wrong.say("decide", refused.clone());
    }
    // "As proposed" is signed only as it was seen.
    let as_proposed = typed.get("decide").is_empty();
    if as_proposed && typed.get("seen") != follows.seen() {
        let now = follows.headline.trim_end_matches('.');
        let message = match typed.get("seen").is_empty() {
            true => format!(
                "what is proposed was not looked at yet; it is: {now}. Look at it, then sign"
            ),
            false => format!(
                "what is proposed has changed since you looked; it is now: {now}. Look at it, then sign"
            ),
        };
        wrong.say("decide", message);
    }
}

/// What is asked, about the day on which it was spoken of.
fn asking<'a>(
    signed: &'a Signed,
    file: &'a CaseFile,
    kind: ContactKind,
    practitioner: &'a str,
    on: Date,
) -> Asking<'a> {
    Asking {
        course: &file.course,
        assessed: &file.assessed,
        service: &file.service,
        words: signed.app.words(),
        kind,
        practitioner,
        on,
    }
}

/// The name without the role behind it.
fn name_of(signed: &Signed) -> String {
    let whole = &signed.user.full_name;
    whole
        .split_once(',')
        .map_or(whole.as_str(), |(name, _)| name)
        .to_owned()
}

fn time(signed: &Signed) -> String {
    signed.app.clock().local().strftime("%H:%M").to_string()
}
