//! Facts: the beginning of a case by form or file, and its widening, section by section.

pub(crate) mod ask;
pub(crate) mod given;
mod history;
mod home;
pub(crate) mod known;
mod labels;
mod medicines;
pub(crate) mod path;
mod places;
pub(crate) mod questions;
pub(crate) mod read;
mod sections;
pub(crate) mod show;
mod starter;
mod tested;
mod upload;
mod words;

pub(crate) use upload::{keep, look};

use crate::address;
use crate::casefile::{CaseFile, personal, summary};
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, case_page, page, row};
use axum::extract::Path;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use formats::journal::{kind_of, write_body};
use formats::tree::Table;
use given::Given;
use maud::{Markup, html};
use read::Wrong;
use records::{CaseId, Draft, EntryId, NewCase, Word};
use rehab::assessment::Case;
use rehab::course::{Course, Happening};
use sections::{SECTIONS, Section};
use show::{Opened, Ways};

/// The form of somebody new, and the way in by a file.
pub(crate) async fn show_new(signed: Signed) -> Markup {
    new_page(&signed, &Given::default(), &Wrong::default())
}

fn new_page(signed: &Signed, given: &Given, wrong: &Wrong) -> Markup {
    let form = starter::starter();
    let body = html! {
        (row(&html! {}, &html! { h1.title { (form.title) } p.lead { (form.lead) } }, &upload::way_in()))
        (show::show(&form, given, wrong, &Ways { to: "/people/new", button: "Write this down", back: "/people", is_next: true, opened: None }))
    };
    page(signed, form.title, Nav::People, &body)
}

pub(crate) async fn write_new(signed: Signed, given: Given) -> Result<Response, PageError> {
    let form = starter::starter();
    let on = signed.app.clock().today();
    let case = match read::read(&form, &given, &Table::default(), on) {
        Ok(case) => case,
        Err(wrong) => return Ok(refused(new_page(&signed, &given, &wrong))),
    };
    match open(&signed, case, &[]).await {
        Ok(id) => Ok(Redirect::to(&address::case(id)).into_response()),
        Err(PageError::Record(records::Error::ReferenceTaken { .. })) => {
            let mut wrong = Wrong::default();
            wrong.0.insert("person.name".to_owned(), "Somebody of this name and day of birth is in the record; look under People, or correct name or day".to_owned());
            Ok(refused(new_page(&signed, &given, &wrong)))
        }
        Err(other) => Err(other),
    }
}

fn refused(page: Markup) -> Response {
    (StatusCode::UNPROCESSABLE_ENTITY, page).into_response()
}

/// Opens a case with its first entry.
async fn open(signed: &Signed, case: Case, notes: &[String]) -> Result<CaseId, PageError> {
    let clock = signed.app.clock();
    let service = signed.app.service(&signed.store, &signed.user).await?;
    let course = Course::begin(case.clone());
    let first = Happening::Case(Box::new(case));
    let noted = notes.iter().cloned().map(Happening::Note);
    let mut entries = Vec::new();
    for happening in std::iter::once(first).chain(noted) {
        let kind = Word::new(kind_of(&happening)).expect("kinds of happenings are words of ours");
        let body = write_body(&course.case.id, &happening);
        let entry = EntryId::generate(clock.now())?;
        entries.push(Draft::new(entry, kind, clock.local(), body));
    }
    let new = NewCase {
        reference: course.case.id.0.clone(),
        summary: summary(&course, &service, clock.today()),
        personal: personal(&course),
        entries,
    };
    let id = signed
        .store
        .open_case(signed.user.id, new, clock.now())
        .await?;
    signed.app.forget_for_a_name();
    Ok(id)
}

/// The sections, with what each is about.
pub(crate) async fn show_all(signed: Signed, Path(id): Path<String>) -> Result<Markup, PageError> {
    let file = CaseFile::load(&signed, &id, "facts").await?;
    let table = formats::case::to_table(&file.course.case);
    let text = html! {
        h1.title { "What is known of " (file.called()) }
        p.lead { "What is left empty stays to be found out. A change is written as a new entry; nothing is overwritten." }
    };
    let body = html! {
        (row(&html! {}, &text, &html! { p { a href=(address::case(file.id)) { "Back to " (file.called()) } } }))
        section.group { @for section in &SECTIONS {
            @let form = (section.form)(&table);
            @let known = known::known(&form, &table);
            @let count = form.asks().filter(|ask| known.has(&ask.path)).count();
            div.person { (row(
                &html! {},
                &html! { p { a.act href=(section_address(file.id, section)) { (section.title) } } p.quiet { (form.lead) } },
                &html! { @if form.added.is_empty() { p { @if count == 0 { "Nothing written down yet." } @else { (count) " written down." } } } },
            )) }
        } }
    };
    Ok(case_page(&signed, &file, "Facts", Nav::People, &body))
}

fn section_address(id: CaseId, section: &Section) -> String {
    address::of_case(id, &format!("facts/{}", section.word))
}

fn section_of(word: &str) -> Result<&'static Section, PageError> {
    let found = SECTIONS.iter().find(|section| section.word == word);
    found.ok_or_else(|| {
        PageError::NotFound("There is no such part of a case. Choose one under Facts".to_owned())
    })
}

pub(crate) async fn show_section(
    signed: Signed,
    Path((id, word)): Path<(String, String)>,
) -> Result<Markup, PageError> {
    let section = section_of(&word)?;
    let file = CaseFile::load(&signed, &id, "facts").await?;
    let table = formats::case::to_table(&file.course.case);
    let given = known::known(&(section.form)(&table), &table);
    Ok(section_page(
        &signed,
        &file,
        section,
        &given,
        &Wrong::default(),
        Opened::at(file.next_position()),
    ))
}

fn section_page(
    signed: &Signed,
    file: &CaseFile,
    section: &Section,
    given: &Given,
    wrong: &Wrong,
    opened: Opened,
) -> Markup {
    let table = formats::case::to_table(&file.course.case);
    let form = (section.form)(&table);
    let others = html! {
        p.ways { @for other in &SECTIONS { @if other.word != section.word { a href=(section_address(file.id, other)) { (other.title) } " " } } }
    };
    let body = html! {
        (row(&html! {}, &html! { h1.title { (form.title) } p.lead { (form.lead) } }, &html! {}))
        nav.row.others aria-label="Other facts" { div.gut {} div.txt.across { (others) } }
        (show::show(&form, given, wrong, &Ways { to: &section_address(file.id, section), button: "Write this down", back: &address::case(file.id), is_next: true, opened: Some(opened) }))
    };
    case_page(signed, file, form.title, Nav::People, &body)
}

pub(crate) async fn write_section(
    signed: Signed,
    Path((id, word)): Path<(String, String)>,
    given: Given,
) -> Result<Response, PageError> {
    let section = section_of(&word)?;
    let file = CaseFile::load(&signed, &id, "facts").await?;
    let opened = Opened::of(&given, file.next_position());
    if opened.stale {
        let page = section_page(&signed, &file, section, &given, &Wrong::default(), opened);
        return Ok((StatusCode::CONFLICT, page).into_response());
    }
    let table = formats::case::to_table(&file.course.case);
    match read::read(&(section.form)(&table), &given, &table, file.on) {
        Ok(case) => {
            if case != file.course.case {
                file.write(&signed, file.course.written(&case)).await?;
            }
            Ok(Redirect::to(&address::case(file.id)).into_response())
        }
        Err(wrong) => Ok(refused(section_page(
            &signed, &file, section, &given, &wrong, opened,
        ))),
    }
}
