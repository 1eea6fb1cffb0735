//! Sign-off: what is signed, what it waits for, and giving the next signed page at a contact.

use crate::address;
use crate::casefile::CaseFile;
use crate::drafted::{self, Drafted};
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, case_page as shell, row};
use crate::phrases::{calendar_day, counted, page_of, sentence, times_a_week};
use crate::typed::Typed;
use axum::extract::Path;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use handouts::profile::{Course as Drawn, tiny};
use maud::{Markup, PreEscaped, html};
use rehab::assessed::Decision;
use rehab::course::{Happening, Second, SignRefused};
use rehab::programme::{SegmentKind, Stage};
use rehab::wording::Words;

/// What can be signed.
pub(crate) async fn show(signed: Signed, Path(id): Path<String>) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "sign").await?;
    Ok(page(&signed, &file, &Typed::default(), None))
}

/// Signs the pages that were shown, or gives the next signed one.
pub(crate) async fn send(
    signed: Signed,
    Path(id): Path<String>,
    typed: Typed,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "sign").await?;
    file.is_as_shown(typed.get("position"))?;
    let happened = match typed.get("act") {
        "give" => give(&file),
        _ => sign(&signed, &file, &typed),
    };
    match happened {
        Ok(happened) => {
            file.write(&signed, happened).await?;
            Ok(Redirect::to(&address::case(file.id)).into_response())
        }
        Err(why) => {
            let page = page(&signed, &file, &typed, Some(&why));
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
    }
}

/// The first page is given with its signature; a later one only at a contact.
fn sign(signed: &Signed, file: &CaseFile, typed: &Typed) -> Result<Vec<Happening>, String> {
    if let Some(why) = why_no_page(file) {
        return Err(why);
    }
    let drafted = drafted::to_sign(signed, file);
    if typed.get("seen") != seen(signed, file, &drafted.plan.stages) {
        return Err("what would be signed has changed since the page was opened; look at it below, then sign".to_owned());
    }
    let by = drafted::signature(signed, typed.get("role"));
    let plan = drafted::signed_plan(signed, file, &drafted.plan.stages, by, second(typed))
        .map_err(|refused| refused.to_string())?;
    let first = plan.stages.first().map(|stage| stage.number);
    let given = first.filter(|_| file.course.current_stage.is_none());
    let mut happened = vec![Happening::Signed(Box::new(plan))];
    happened.extend(given.map(|stage| Happening::Released { stage }));
    Ok(happened)
}

fn second(typed: &Typed) -> Option<Second> {
    let (reason, name) = (typed.get("reason"), typed.get("second-name"));
    (!reason.is_empty() || !name.is_empty()).then(|| Second {
        reason: reason.to_owned(),
        name: name.to_owned(),
    })
}

fn give(file: &CaseFile) -> Result<Vec<Happening>, String> {
    let stage = next(file).ok_or("no further page is signed; sign one first")?;
    match why_not_given(file) {
        Some(why) => Err(why),
        None => Ok(vec![Happening::Released {
            stage: stage.number,
        }]),
    }
}

/// The signed page after the present one.
fn next(file: &CaseFile) -> Option<&Stage> {
    let here = file.course.current_stage?;
    file.course.signed_stage(here + 1)
}

/// What every signature waits for beside the screening, which says it for itself.
fn why_no_page(file: &CaseFile) -> Option<String> {
    let may = file.course.may_have_a_page(&file.review(), &file.assessed);
    let refused = may.err()?;
    (file.assessed.screening.decision == Decision::Exercise).then(|| refused.to_string())
}

/// What giving the next page waits for: exercise today, a contact of today, and the program's own proposal.
fn why_not_given(file: &CaseFile) -> Option<String> {
    let spoken = file
        .course
        .contacts
        .iter()
        .any(|contact| contact.date == file.on);
    let review = file.review();
    if file.assessed.screening.decision != Decision::Exercise {
        return Some("the answer of the screening today is not to exercise".to_owned());
    }
    if !spoken {
        return Some(
            "a page is given at a contact; close a call or visit of today first".to_owned(),
        );
    }
    (review.proposal.action != rehab::review::Action::Advance).then(|| {
        "the next page is not proposed today; decide otherwise on the call sheet, with a reason and a second name"
            .to_owned()
    })
}

fn page(signed: &Signed, file: &CaseFile, typed: &Typed, wrong: Option<&str>) -> Markup {
    let called = file.called();
    let title = format!("Signing for {called}");
    let drafted = drafted::to_sign(signed, file);
    let head = html! {
        h1.title { (title) }
        p.lead { "Nothing reaches " (called) " until you sign." }
        @if let Some(why) = wrong { p.wrong { (sentence(why)) } }
    };
    let margin = html! {
        p.links {
            @if !drafted.plan.stages.is_empty() { a.act href=(address::of_case(file.id, "builder")) { "Change a turn" } " " }
            a.act href=(address::case(file.id)) { "The chain of reasons" }
        }
    };
    let body = html! {
        (row(&html! {}, &head, &margin))
        @for stage in &drafted.plan.stages { (one(signed.app.words(), file, stage)) }
        @if drafted.plan.stages.is_empty() { (none(&drafted)) }
        (close(signed, file, &drafted, typed))
        (later(file))
    };
    shell(signed, file, &title, Nav::People, &body)
}

/// One page: its hills, its turns in order, the pulse expected, and why.
pub(crate) fn one(words: &Words, file: &CaseFile, stage: &Stage) -> Markup {
    let turns = stage.cardiovascular_stations();
    let parts = match turns {
        0 => "warm-up and cool-down".to_owned(),
        _ => counted(turns, "brisk turn", "brisk turns"),
    };
    let page = page_of(stage.number);
    let top = file.assessed.limits.mets_station_high.to_mets();
    let names: Vec<String> = stage
        .segments
        .iter()
        .filter(|one| one.kind == SegmentKind::Cardiovascular)
        .filter_map(|one| one.doing.as_ref())
        .map(|doing| crate::alone::name(words, doing))
        .collect();
    let gutter = html! {
        (PreEscaped(tiny(&Drawn::of(stage), 112, top, None, &page)))
    };
    let text = html! {
        h2.ans { (sentence(&page)) ": " (parts) ", " (format!("{:.0}", stage.minutes())) " minutes, "
            (times_a_week(stage.sessions_per_week)) "." }
        @if !names.is_empty() { ol.turns { @for name in &names { li { (sentence(name)) } } } }
        @if let Some(pulse) = stage.predicted.peak_hr { p.quiet { "Pulse expected at most " (format!("{pulse:.0}")) "." } }
    };
    let margin = drafted::reasons(stage, &format!("stage-{}", stage.number));
    row(&gutter, &text, &margin)
}

fn none(drafted: &Drafted) -> Markup {
    let text = html! {
        h2.ans { "There is no page to sign." }
        ul.waits { @for finding in &drafted.findings { li { (sentence(&finding.text)) } } }
    };
    row(&html! {}, &text, &html! {})
}

fn close(signed: &Signed, file: &CaseFile, drafted: &Drafted, typed: &Typed) -> Markup {
    let has_role = signed.user.full_name.contains(',');
    let by = drafted::signature(signed, "role");
    let name = by.name.clone();
    let stages = &drafted.plan.stages;
    let (further, waits) = match drafted::signed_plan(signed, file, stages, by, None) {
        Ok(plan) => (drafted::seconded(&plan), None),
        Err(SignRefused::NeedsReason(what)) => (asked_for(&what, typed), None),
        Err(waits) => (html! {}, Some(waits.to_string())),
    };
    let waits = waits.or_else(|| why_no_page(file));
    let pages: Vec<String> = stages.iter().map(|one| page_of(one.number)).collect();
    let pages = crate::phrases::list(&pages);
    let text = html! {
        @if let Some(waits) = &waits {
            p.wrong { (sentence(waits)) }
            p.acts {
                span.do.wait aria-disabled="true" { "Sign" }
                a.do href=(address::of_case(file.id, "facts")) { "Write down what is missing" }
            }
        } @else {
            form method="post" action=(address::of_case(file.id, "sign")) {
                input type="hidden" name="position" value=(file.next_position());
                input type="hidden" name="seen" value=(seen(signed, file, stages));
                p { "The effort agreed with it: " (effort(file)) "." }
                (further)
                @if !has_role {
                    div.ask { label for="role" { "Your role" } input.field id="role" type="text" name="role" value=(typed.get("role")) required; }
                }
                p.acts { button.do name="act" value="sign" { "Sign " (pages) " as " (name) } }
            }
        }
    };
    let margin = html! {
        @if let Some(until) = file.assessed.screening.valid_until { p { "The examination behind it counts until " (calendar_day(until, file.on)) "." } }
        @if stages.len() > 1 && file.course.current_stage.is_none() { p { "The first page is given with your signature; the next one later, at a contact." } }
        @if file.service.adopted.is_none() { p { "The settings are not adopted yet: only invented people can be signed for." } }
    };
    html! { div.end { (row(&html! { b { "Signature" } }, &text, &margin)) } }
}

/// The effort that a signature agrees to.
fn effort(file: &CaseFile) -> String {
    let limits = &file.assessed.limits;
    crate::phrases::effort(limits.effort_scale, limits.effort)
}

/// Everything that a signature is put under, as it was seen: pages, effort, and what goes further than the program would.
fn seen(signed: &Signed, file: &CaseFile, stages: &[Stage]) -> String {
    let by = drafted::signature(signed, "role");
    let further = match drafted::signed_plan(signed, file, stages, by, None) {
        Err(SignRefused::NeedsReason(what)) => what.join("; "),
        _ => String::new(),
    };
    [formats::digest_of(stages), effort(file), further].join("|")
}

/// Towards risk only with a reason and a second name: what goes further, and the two fields.
fn asked_for(what: &[String], typed: &Typed) -> Markup {
    html! {
        p { b { "This goes further than the program would." } }
        @for one in what { p { (sentence(one)) "." } }
        div.ask {
            label for="reason" { "Why it is right for this person" }
            textarea.field id="reason" name="reason" rows="2" required { (typed.get("reason")) }
        }
        div.ask {
            label for="second-name" { "Second name" }
            p.hint id="second-hint" { "A colleague or doctor who has looked at it with you" }
            input.field id="second-name" type="text" name="second-name" value=(typed.get("second-name")) aria-describedby="second-hint" required;
        }
    }
}

/// The signed page that is next to be given.
fn later(file: &CaseFile) -> Markup {
    let Some(stage) = next(file) else {
        return html! {};
    };
    let page = page_of(stage.number);
    let why = why_not_given(file);
    let text = html! {
        h2.ans { (sentence(&page)) " is signed and not yet given." }
        @if let Some(why) = &why { p { (sentence(why)) "." } p.acts { a.act href=(address::of_case(file.id, "call")) { "Open the call sheet" } } }
        @else {
            form method="post" action=(address::of_case(file.id, "sign")) {
                input type="hidden" name="position" value=(file.next_position());
                p.acts { button.act.wordlike name="act" value="give" { "Give " (page) " now" } }
            }
        }
    };
    row(&html! { b { "Next page" } }, &text, &html! {})
}
