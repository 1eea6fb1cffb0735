//! The builder: the session as its profile; a hill is chosen, three other ways stand beside it with their reasons.

pub(crate) mod taken;
pub(crate) mod turns;
mod view;

use crate::address;
use crate::casefile::CaseFile;
use crate::drafted;
use crate::error::PageError;
use crate::guard::Signed;
use crate::typed::Typed;
use axum::extract::{Path, Query};
use axum::response::{IntoResponse, Redirect, Response};
use maud::Markup;
use rehab::course::Happening;
use rehab::programme::{Ban, Choices, Others, Pin, alternatives};
use serde::Deserialize;
use turns::{Turn, turns};

/// Which page and which hill.
#[derive(Deserialize)]
pub(crate) struct Which {
    stage: Option<u16>,
    turn: Option<u16>,
}

/// The page with or without a chosen hill.
pub(crate) async fn show(
    signed: Signed,
    Path(id): Path<String>,
    Query(which): Query<Which>,
) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "builder").await?;
    let number = which.stage.unwrap_or_else(|| drafted::present(&file));
    let drafted = drafted::draft(&signed, &file, number);
    let Some(stage) = drafted.plan.stages.iter().find(|one| one.number == number) else {
        return Ok(view::nothing(&signed, &file, &drafted));
    };
    let list = turns(stage);
    let turn = which
        .turn
        .and_then(|number| list.iter().find(|turn| turn.number == number));
    let others = turn.map_or_else(Others::default, |turn| others(&signed, &file, number, turn));
    Ok(view::page(&view::Builder {
        signed: &signed,
        file: &file,
        drafted: &drafted,
        stage,
        turns: &list,
        turn,
        others: &others,
    }))
}

fn others(signed: &Signed, file: &CaseFile, stage: u16, turn: &Turn) -> Others {
    alternatives(
        &file.course.case,
        &file.service,
        signed.app.exercises(),
        &file.assessed,
        &file.course.choices_for(stage),
        turn.station,
    )
}

/// Puts another way in, keeps one always, or takes one out for good.
pub(crate) async fn choose(
    signed: Signed,
    Path(id): Path<String>,
    typed: Typed,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "builder").await?;
    file.is_as_shown(typed.get("position"))?;
    let number = typed
        .get("stage")
        .parse()
        .unwrap_or_else(|_| drafted::present(&file));
    let back = format!("{}?stage={number}", address::of_case(file.id, "builder"));
    let choices = match typed.get("act") {
        "clear" => Choices {
            stage: number,
            ..Choices::none()
        },
        act => changed(&signed, &file, number, act, &typed)?,
    };
    file.write(&signed, vec![Happening::Chosen(choices)])
        .await?;
    Ok(Redirect::to(&back).into_response())
}

fn changed(
    signed: &Signed,
    file: &CaseFile,
    number: u16,
    act: &str,
    typed: &Typed,
) -> Result<Choices, PageError> {
    let drafted = drafted::draft(signed, file, number);
    let stage = drafted.plan.stages.iter().find(|one| one.number == number);
    let wanted = typed.get("turn").parse::<u16>().ok();
    let turn = stage
        .zip(wanted)
        .and_then(|(stage, wanted)| turns(stage).into_iter().find(|turn| turn.number == wanted))
        .ok_or_else(gone)?;
    let mut choices = file.course.chosen_for(number);
    match act {
        "put" => {
            // Made anew here: what a form says is never taken for what fits.
            let offer = others(signed, file, number, &turn)
                .ways
                .into_iter()
                .find(|offer| {
                    typed.get("doing")
                        == format!("{}/{}", offer.doing.exercise, offer.doing.variant)
                })
                .ok_or_else(gone)?;
            choices.pins = offer.pins;
        }
        "always" => {
            choices.pins.retain(|pin| pin.station != Some(turn.station));
            choices.pins.push(Pin {
                station: Some(turn.station),
                exercise: turn.doing.exercise.clone(),
                variant: Some(turn.doing.variant.clone()),
            });
        }
        "never" => {
            let exercise = turn.doing.exercise.clone();
            choices.pins.retain(|pin| pin.exercise != exercise);
            choices.bans.push(Ban {
                exercise,
                variant: None,
            });
        }
        _ => return Err(gone()),
    }
    Ok(choices)
}

fn gone() -> PageError {
    PageError::Refused(
        "This turn or this way is no longer there. Open the builder again and choose anew"
            .to_owned(),
    )
}
