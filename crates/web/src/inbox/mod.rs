//! News from the session page: a diary file, for the right person only, looked at before it is kept.

mod news;

use crate::address;
use crate::casefile::CaseFile;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::{Nav, case_page as shell, row};
use crate::phrases::{calendar_day, counted, days_in_words, sentence, without_options};
use crate::sent_file::file_of;
use crate::typed::Typed;
use axum::extract::{Multipart, Path};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use formats::tree::Notation;
use formats::{Problems, SourceFile};
use handouts::call::{Asking, headline};
use maud::{Markup, html};
use news::News;
use rehab::course::{Channel, Happening};
use rehab::diary::{Diary, DiaryEntry, DiarySymptom};
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
            ul.find { @for one in &problems.0 { li { p.wrong { (without_options(&one.to_string())) } } } }
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
    // What was new when it was looked at may contradict what a colleague kept since.
    file.is_as_shown(typed.get("position"))?;
    let diary = match read(&file, "diary.json", typed.get("diary").as_bytes()) {
        Ok(diary) => diary,
        Err(problems) => return Ok(refused(&signed, &file, &problems)),
    };
    let news = News::of(&file.course.entries, &diary);
    let entries = news.to_keep(|changed| typed.has("also", &changed.id));
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

/// Reads the file; another person's or one with a date to come is refused with the reason.
fn read(file: &CaseFile, name: &str, bytes: &[u8]) -> Result<Diary, Problems> {
    let source = SourceFile::open(name, bytes)?;
    let case = &file.course.case;
    let diary = formats::diary::from_file(&source, Some(file.on), case.person.born)?;
    formats::diary::belongs_to(&source, &diary, &case.id)?;
    Ok(diary)
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
    let news = News::of(&file.course.entries, diary);
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
    let review = after(file, &news.to_keep(|_| true));
    let head =
        html! { h1.title { (title) } p.lead { (news_in_words(&news)) " Nothing is kept yet." } };
    let body = html! {
        (row(&html! {}, &head, &html! {}))
        @for entry in &news.new { (one(file, entry)) }
        @for (known, now) in &news.grown { (both(file, [("Kept before:", known), ("With what came now:", now)], &html! {})) }
        form method="post" action=(address::of_case(file.id, "inbox/keep")) {
            @for (known, now) in &news.changed { (both(file, [("Kept before:", known), ("Says now:", now)], &ask_whether(now))) }
            (follows(file, &asking, &review))
            input type="hidden" name="position" value=(file.next_position());
            input type="hidden" name="diary" value=(formats::diary::write(diary, Notation::Json));
            (row(&html! {}, &html! { p.acts { button.do type="submit" { "Keep it" } a.act href=(address::case(file.id)) { "Leave it" } } }, &html! {}))
        }
    };
    shell(signed, file, &title, Nav::People, &body)
}

fn news_in_words(news: &News) -> String {
    let mut parts = vec![counted(news.new.len(), "new entry", "new entries")];
    if !news.grown.is_empty() {
        parts.push(counted(
            news.grown.len(),
            "entry tells more than before",
            "entries tell more than before",
        ));
    }
    if !news.changed.is_empty() {
        parts.push(counted(
            news.changed.len(),
            "entry contradicts what was kept",
            "entries contradict what was kept",
        ));
    }
    if news.same > 0 {
        parts.push(format!(
            "{} here already",
            counted(news.same, "was", "were")
        ));
    }
    format!("{}.", sentence(&parts.join("; ")))
}

/// An entry as it was kept and as it came now, one above the other.
fn both(file: &CaseFile, told: [(&str, &DiaryEntry); 2], ask: &Markup) -> Markup {
    let date = told[0].1.date;
    let text = html! {
        @for (when, entry) in told { p { b { (when) } } (in_words(entry)) }
        (ask)
    };
    row(
        &html! { b { (calendar_day(date, file.on)) } },
        &text,
        &html! {},
    )
}

/// What contradicts is kept beside the other unless somebody says otherwise: a sign is never left out by itself.
fn ask_whether(now: &DiaryEntry) -> Markup {
    html! {
        p { "The two contradict each other: ask which is true. What was kept before stays as it is." }
        label.choice { input type="checkbox" name="also" value=(now.id) checked; span { "Keep what it says now as an entry of its own too" } }
    }
}

fn one(file: &CaseFile, entry: &DiaryEntry) -> Markup {
    let twice = file
        .course
        .entries
        .iter()
        .any(|one| one.is_session() && entry.is_session() && one.date == entry.date);
    let margin = html! { @if twice { p { "A session of this day is known already: the day counts once." } } };
    row(
        &html! { b { (calendar_day(entry.date, file.on)) } },
        &in_words(entry),
        &margin,
    )
}

fn in_words(entry: &DiaryEntry) -> Markup {
    let symptoms = match &entry.symptoms {
        None => "Not said whether anything was felt.".to_owned(),
        Some(list) if list.is_empty() => "Nothing felt.".to_owned(),
        Some(list) => {
            let names: Vec<String> = list.iter().map(symptom).collect();
            format!("Felt: {}.", names.join(", "))
        }
    };
    let joint = entry.joint_pain.as_ref();
    html! {
        @if !entry.is_morning_after() { p {
            @if !entry.is_session() { "No session. " }
            @if let Some(stage) = entry.stage { (sentence(&crate::phrases::page_of(stage))) ". " }
            @if let Some((done, planned)) = entry.stations_done.zip(entry.stations_planned).filter(|(_, planned)| *planned > 0) { (done) " of " (planned) " turns. " }
            @if let Some(minutes) = entry.minutes.filter(|minutes| *minutes > 0.0) { (minutes) " minutes. " }
            @if let Some(effort) = entry.effort { "Effort " (effort.value) ". " }
            (symptoms)
            @if let Some(during) = joint.and_then(|joint| joint.during) { " Joints " (during) " of 10." }
            @match joint.and_then(|joint| joint.worse_next_morning) {
                Some(true) => " Worse next morning.",
                Some(false) => " As usual next morning.",
                None => {}
            }
            @for pulse in &entry.pulses { " Pulse " (pulse.bpm) "." }
            @if let Some(kg) = entry.weight_kg { " Weight " (kg) " kg." }
            @if let Some(why) = &entry.stopped_because { " Stopped: " (why) "." }
            @if let Some(change) = &entry.medicine_change { " Medicines: " (change) "." }
        } }
        @if let Some(note) = &entry.note { p.quiet { "\u{201c}" (note) "\u{201d}" } }
    }
}

fn symptom(told: &DiarySymptom) -> String {
    let name = told.kind.word().replace('-', " ");
    match told.usual {
        Some(true) => format!("{name} as usual"),
        Some(false) => format!("{name}, not as usual"),
        None => name,
    }
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
