//! News from the session page: a diary file, for the right person only, looked at before it is kept.

use crate::address;
use crate::casefile::CaseFile;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, case_page as shell, row};
use crate::phrases::{calendar_day, counted, days_in_words, sentence};
use crate::typed::Typed;
use axum::extract::{Multipart, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use formats::tree::Notation;
use formats::{Problem, Problems, SourceFile};
use handouts::call::{Asking, headline};
use maud::{Markup, html};
use rehab::course::{Channel, Happening};
use rehab::diary::{Diary, DiaryEntry};
use rehab::review::{ContactKind, Review};

/// Asks for the file.
pub(crate) async fn show(signed: Signed, Path(id): Path<String>) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "inbox").await?;
    Ok(ask(&signed, &file, None))
}

fn ask(signed: &Signed, file: &CaseFile, wrong: Option<&Problems>) -> Markup {
    let title = format!("News from {}", file.called());
    let text = html! {
        h1.title { (title) }
        @if let Some(problems) = wrong {
            p.lead { "The file was not taken, and nothing was kept." }
            ul.find { @for one in &problems.0 { li { p.wrong { (one) } } } }
        } @else {
            p.lead { "The diary that the session page saved. You see what came and what follows before it is kept." }
        }
        form method="post" action=(address::of_case(file.id, "inbox")) enctype="multipart/form-data" {
            div.ask {
                label for="file" { "Diary file" }
                p.hint id="file-hint" { "A .json file of this person; another person's is refused" }
                input.field id="file" name="file" type="file" accept=".json,.toml" aria-describedby="file-hint" required;
            }
            p.acts { button.do type="submit" { "Look at the file" } }
        }
    };
    let margin = html! { p { "Told on the telephone instead? " a href=(address::of_case(file.id, "call")) { "Open the call sheet" } "." } };
    shell(
        signed,
        file,
        &title,
        Nav::People,
        &row(&html! {}, &text, &margin),
    )
}

/// Shows what came and what follows; nothing is kept yet.
pub(crate) async fn look(
    signed: Signed,
    Path(id): Path<String>,
    form: Multipart,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "inbox").await?;
    let (name, bytes) = file_of(form).await?;
    Ok(match read(&file, &name, &bytes) {
        Ok(diary) => came(&signed, &file, &diary).into_response(),
        Err(problems) => refused(&signed, &file, &problems),
    })
}

/// Keeps what was looked at.
pub(crate) async fn keep(
    signed: Signed,
    Path(id): Path<String>,
    typed: Typed,
) -> Result<Response, PageError> {
    let file = CaseFile::load(&signed, &id, "inbox").await?;
    let diary = match read(&file, "diary.json", typed.get("diary").as_bytes()) {
        Ok(diary) => diary,
        Err(problems) => return Ok(refused(&signed, &file, &problems)),
    };
    let entries = new_ones(&file, &diary);
    if entries.is_empty() {
        return Ok(Redirect::to(&address::case(file.id)).into_response());
    }
    let happened = Happening::Diary {
        channel: Channel::File,
        entries,
    };
    file.write(&signed, vec![happened]).await?;
    Ok(Redirect::to(&address::case(file.id)).into_response())
}

fn refused(signed: &Signed, file: &CaseFile, problems: &Problems) -> Response {
    let page = ask(signed, file, Some(problems));
    (StatusCode::UNPROCESSABLE_ENTITY, page).into_response()
}

async fn file_of(mut form: Multipart) -> Result<(String, Vec<u8>), PageError> {
    let unread = |_| {
        PageError::Refused(
            "The file did not arrive whole. Choose it again; it may be 8 MB at most".to_owned(),
        )
    };
    while let Some(field) = form.next_field().await.map_err(unread)? {
        if field.name() == Some("file") {
            let name = field.file_name().unwrap_or("diary").to_owned();
            return Ok((name, field.bytes().await.map_err(unread)?.to_vec()));
        }
    }
    Err(PageError::Refused(
        "No file was chosen. Go back and choose one".to_owned(),
    ))
}

/// Reads the file; another person's, a date to come, or an id used for something else is refused with the reason.
fn read(file: &CaseFile, name: &str, bytes: &[u8]) -> Result<Diary, Problems> {
    let source = SourceFile::open(name, bytes)?;
    let case = &file.course.case;
    let diary = formats::diary::from_file(&source, Some(file.on), case.person.born)?;
    formats::diary::belongs_to(&source, &diary, &case.id)?;
    let known = |entry: &DiaryEntry| {
        let known = file.course.entries.iter().find(|one| one.id == entry.id);
        known.is_some_and(|known| known != entry)
    };
    let problems: Vec<Problem> = diary
        .entries
        .iter()
        .filter(|entry| known(entry))
        .map(|entry| Problem {
            file: name.to_owned(),
            key_path: "entries".to_owned(),
            line: None,
            message: format!(
                "the entry of {} was kept before and says something else now; ask the person which is true, and write it as a note",
                entry.date
            ),
        })
        .collect();
    match problems.is_empty() {
        true => Ok(diary),
        false => Err(Problems(problems)),
    }
}

/// An entry id seen twice is one entry.
fn new_ones(file: &CaseFile, diary: &Diary) -> Vec<DiaryEntry> {
    let known = |entry: &DiaryEntry| file.course.entries.iter().any(|one| one.id == entry.id);
    let new = diary.entries.iter().filter(|entry| !known(entry));
    new.cloned().collect()
}

fn after(file: &CaseFile, entries: &[DiaryEntry]) -> Review {
    let mut course = file.course.clone();
    let news = Happening::Diary {
        channel: Channel::File,
        entries: entries.to_vec(),
    };
    course.add(file.on, &news);
    file.review_of(&course)
}

fn came(signed: &Signed, file: &CaseFile, diary: &Diary) -> Markup {
    let new = new_ones(file, diary);
    let known = diary.entries.len() - new.len();
    let title = format!("What came from {}", file.called());
    let asking = Asking {
        course: &file.course,
        assessed: &file.assessed,
        service: &file.service,
        words: signed.app.words(),
        kind: ContactKind::Message,
        practitioner: &signed.user.full_name,
        on: file.on,
    };
    let review = after(file, &new);
    let told = Diary {
        case: diary.case.clone(),
        entries: new.clone(),
    };
    let head = html! {
        h1.title { (title) }
        p.lead {
            (sentence(&counted(new.len(), "new entry", "new entries")))
            @if known > 0 { "; " (counted(known, "was", "were")) " here already" } ". Nothing is kept yet."
        }
    };
    let body = html! {
        (row(&html! {}, &head, &html! {}))
        @for entry in &new { (one(file, entry)) }
        (follows(file, &asking, &review))
        (row(&html! {}, &html! {
            form method="post" action=(address::of_case(file.id, "inbox/keep")) {
                input type="hidden" name="diary" value=(formats::diary::write(&told, Notation::Json));
                p.acts { button.do type="submit" { "Keep it" } a.act href=(address::case(file.id)) { "Leave it" } }
            }
        }, &html! {}))
    };
    shell(signed, file, &title, Nav::People, &body)
}

fn one(file: &CaseFile, entry: &DiaryEntry) -> Markup {
    let symptoms = match &entry.symptoms {
        None => "Not said whether anything was felt.".to_owned(),
        Some(list) if list.is_empty() => "Nothing felt.".to_owned(),
        Some(list) => {
            let names: Vec<String> = list
                .iter()
                .map(|symptom| symptom.kind.word().replace('-', " "))
                .collect();
            format!("Felt: {}.", names.join(", "))
        }
    };
    let twice = file
        .course
        .entries
        .iter()
        .any(|one| one.is_session() && entry.is_session() && one.date == entry.date);
    let text = html! {
        @if !entry.is_morning_after() { p {
            @if !entry.is_session() { "No session. " }
            @if let Some(stage) = entry.stage { (sentence(&crate::phrases::page_of(stage))) ". " }
            @if let Some((done, planned)) = entry.stations_done.zip(entry.stations_planned).filter(|(_, planned)| *planned > 0) { (done) " of " (planned) " turns. " }
            @if let Some(effort) = entry.effort { "Effort " (effort.value) ". " }
            (symptoms)
            @for pulse in &entry.pulses { " Pulse " (pulse.bpm) "." }
            @if let Some(kg) = entry.weight_kg { " Weight " (kg) " kg." }
            @if let Some(why) = &entry.stopped_because { " Stopped: " (why) "." }
            @if let Some(change) = &entry.medicine_change { " Medicines: " (change) "." }
        } }
        @if let Some(note) = &entry.note { p.quiet { "\u{201c}" (note) "\u{201d}" } }
    };
    let margin = html! { @if twice { p { "A session of this day is known already: the day counts once." } } };
    row(
        &html! { b { (calendar_day(entry.date, file.on)) } },
        &text,
        &margin,
    )
}

fn follows(file: &CaseFile, asking: &Asking<'_>, review: &Review) -> Markup {
    let line = headline(
        asking,
        review.proposal.action,
        review.proposal.to_stage,
        &review.proposal.ease,
    );
    let text = html! {
        p.ans { (line) }
        @for alert in &review.alerts { p { b { (sentence(&days_in_words(&alert.text, file.on))) "." } } }
        @for reason in review.proposal.because.iter().take(3) {
            p.quiet { (sentence(&days_in_words(&reason.text, file.on))) "." }
        }
        p.quiet { "This is proposed; it is decided at a call or visit." }
    };
    html! { div.end { (row(&html! { b { "What follows" } }, &text, &html! {})) } }
}
