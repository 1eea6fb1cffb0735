//! One case as pages need it: read from the record with the access noted, folded, assessed; and written to.

use crate::app::App;
use crate::error::PageError;
use crate::guard::Signed;
use crate::phrases;
use crate::worked_out::From;
use formats::journal::{kind_of, read_body, write_body};
use jiff::civil::Date;
use records::{CaseId, Draft, Entry, EntryId, Summary, Word};
use rehab::assessed::Assessed;
use rehab::assessment::StatusKind;
use rehab::calendar::days_after;
use rehab::course::{Course, Happening, Unfinished};
use rehab::evidence::RuleId;
use rehab::programme::Stage;
use rehab::review::{Alert, Review, ReviewInput};
use rehab::service::Service;
use std::sync::{Arc, OnceLock};

/// The rule of silence.
pub(crate) const SILENCE: RuleId = RuleId("review/ask-silence");
/// The rule of a screening that says stop.
pub(crate) const SCREENING: RuleId = RuleId("review/stop-screening");

/// One case, thought through.
pub(crate) struct Thought {
    /// Where its entries leave the person.
    course: Course,
    /// The assessment of the day.
    assessed: Assessed,
    /// The review of the day, once somebody asked for it.
    review: OnceLock<Review>,
}

/// A case, read and folded.
pub(crate) struct CaseFile {
    /// The id in the record; it stands in addresses.
    pub(crate) id: CaseId,
    /// Every entry as written, superseded ones too.
    pub(crate) entries: Vec<Entry>,
    /// Where that leaves the person.
    pub(crate) course: Course,
    /// The assessment of today.
    pub(crate) assessed: Assessed,
    /// The service's settings.
    pub(crate) service: Arc<Service>,
    /// What every page shares.
    pub(crate) app: App,
    /// Today.
    pub(crate) on: Date,
    /// What was worked out of it as it stands; `None` where it is only tried.
    thought: Option<Arc<Thought>>,
}

impl CaseFile {
    /// Reads a case by the id of its address; the reading is noted first.
    pub(crate) async fn load(signed: &Signed, id: &str, what: &str) -> Result<Self, PageError> {
        let id = CaseId::parse(id).map_err(|_| not_here())?;
        let entries = signed.store.entries(id, &signed.reading(what)).await?;
        let service = signed.app.service(&signed.store, &signed.user).await?;
        let (app, on) = (signed.app.clone(), signed.app.clock().today());
        let from = From {
            entries: entries.len() as u64,
            on,
            service: service.clone(),
        };
        let thought = match app.thoughts().known(id, &from) {
            Some(known) => known,
            None => app
                .thoughts()
                .keep(id, from, think(&entries, &service, on)?),
        };
        Ok(Self {
            id,
            course: thought.course.clone(),
            assessed: thought.assessed.clone(),
            entries,
            service,
            app,
            on,
            thought: Some(thought),
        })
    }

    /// A case of entries that were read already.
    pub(crate) fn of(
        id: CaseId,
        entries: Vec<Entry>,
        service: Arc<Service>,
        app: &App,
        on: Date,
    ) -> Result<Self, PageError> {
        let thought = think(&entries, &service, on)?;
        Ok(Self {
            id,
            entries,
            course: thought.course,
            assessed: thought.assessed,
            service,
            app: app.clone(),
            on,
            thought: None,
        })
    }

    /// The position the next entry gets if nobody writes meanwhile.
    pub(crate) fn next_position(&self) -> u64 {
        self.entries.last().map_or(1, |entry| entry.position + 1)
    }

    /// Refuses a form that was opened before somebody wrote, and one that does not say when it was opened.
    pub(crate) fn is_as_shown(&self, position: &str) -> Result<(), PageError> {
        let opened: u64 = position.parse().map_err(|_| {
            PageError::Refused(
                "The form did not say on which state of the case it was opened ('position' is missing), so nothing was written. Load the page anew and send it from there".to_owned(),
            )
        })?;
        match opened == self.next_position() {
            true => Ok(()),
            false => Err(PageError::Conflict),
        }
    }

    /// The review of today.
    pub(crate) fn review(&self) -> Review {
        let anew = || self.review_of(&self.course);
        match &self.thought {
            Some(thought) => thought.review.get_or_init(anew).clone(),
            None => anew(),
        }
    }

    /// The review of today of the course as it would be.
    pub(crate) fn review_of(&self, course: &Course) -> Review {
        let assessed = rehab::assess(&course.case, &self.service, self.on);
        let stages = course.stages_in_view(&self.service, self.app.exercises(), &assessed);
        reviewed(course, &self.service, &assessed, &stages, self.on)
    }

    /// How the person wants to be called, else the name.
    pub(crate) fn called(&self) -> String {
        personal(&self.course).called
    }

    /// What lists need of the case, and what they show of the person.
    pub(crate) fn for_lists(&self) -> (Summary, records::Personal) {
        let summary = summary(&self.course, &self.service, self.on);
        (summary, personal(&self.course))
    }

    /// Writes what happened today, with the dates that lists need, in one step: all of it or nothing.
    pub(crate) async fn write(
        &self,
        signed: &Signed,
        happenings: Vec<Happening>,
    ) -> Result<(), PageError> {
        let clock = signed.app.clock();
        let mut after = self.course.clone();
        let mut drafts = Vec::new();
        for (step, happening) in happenings.iter().enumerate() {
            after.add(self.on, happening);
            let mut draft = self.entry(signed, happening)?;
            draft.expected_position = Some(self.next_position() + step as u64);
            drafts.push(draft);
        }
        if let Some(last) = drafts.last_mut() {
            last.summary = Some(summary(&after, &self.service, self.on));
            last.personal = Some(personal(&after));
        }
        signed
            .store
            .append_all(self.id, signed.user.id, drafts, clock.now())
            .await?;
        signed.app.forget_for_a_name();
        Ok(())
    }

    /// An entry that can be read again: one that cannot would shut the whole case, so it is tried before it is kept.
    fn entry(&self, signed: &Signed, happening: &Happening) -> Result<Draft, PageError> {
        let clock = signed.app.clock();
        let kind = Word::new(kind_of(happening)).expect("kinds of happenings are words of ours");
        let body = write_body(&self.course.case.id, happening);
        read_body(kind.as_str(), &body).map_err(|error| {
            PageError::Refused(format!(
                "This was not kept, because it could not be read again ({error}). Go back and shorten what was typed"
            ))
        })?;
        let id = EntryId::generate(clock.now())?;
        Ok(Draft::new(id, kind, clock.local(), body))
    }

    /// The case as it would be without an entry.
    pub(crate) fn without(&self, old: &Entry) -> Result<Self, PageError> {
        let mut entries = self.entries.clone();
        entries.retain(|entry| entry.id != old.id);
        Self::of(self.id, entries, self.service.clone(), &self.app, self.on)
    }

    /// Writes an entry that supersedes another: the course is folded anew without the old one.
    pub(crate) async fn supersede(
        &self,
        signed: &Signed,
        old: &Entry,
        happening: Happening,
    ) -> Result<(), PageError> {
        let mut after = self.without(old)?.course;
        after.add(self.on, &happening);
        let clock = signed.app.clock();
        let mut draft = self.entry(signed, &happening)?;
        draft.expected_position = Some(self.next_position());
        draft.supersedes = Some(old.id);
        draft.summary = Some(summary(&after, &self.service, self.on));
        draft.personal = Some(personal(&after));
        signed
            .store
            .append(self.id, signed.user.id, draft, clock.now())
            .await?;
        signed.app.forget_for_a_name();
        Ok(())
    }
}

fn think(entries: &[Entry], service: &Service, on: Date) -> Result<Thought, PageError> {
    let mut happened = Vec::new();
    for entry in entries.iter().filter(|entry| entry.superseded_by.is_none()) {
        happened.push((
            entry.effective.date(),
            read_body(entry.kind.as_str(), &entry.body)?,
        ));
    }
    let course =
        Course::fold(happened.iter().map(|(date, one)| (*date, one)), on).ok_or_else(not_here)?;
    let assessed = rehab::assess(&course.case, service, on);
    Ok(Thought {
        course,
        assessed,
        review: OnceLock::new(),
    })
}

fn not_here() -> PageError {
    PageError::NotFound(
        "There is no such person in the record. Look for the name under People".to_owned(),
    )
}

/// The dates and counts that lists need: worked out from the course, never a computed state.
pub fn summary(course: &Course, service: &Service, on: Date) -> Summary {
    // Silence and alerts do not look at the rungs.
    let assessed = rehab::assess(&course.case, service, on);
    let review = reviewed(course, service, &assessed, &[], on);
    let heard_on = review.silence.last_heard;
    let running = is_running(course);
    // Counted from the last news or the day the page began, as the review counts.
    let since = review.silence.since.filter(|_| running);
    let active = course.case.status.kind == StatusKind::Active;
    // A call that was begun waits for somebody as an alert does: what was told in it counts for nothing yet.
    let waiting = open_alerts(course, &review).len() + usize::from(unfinished(course).is_some());
    let examined = course.case.examinations.iter().filter(|one| one.examines());
    Summary {
        status: Word::new(course.case.status.kind.word()).expect("status words are words of ours"),
        // Without a page the next step is due at once, so that nobody is forgotten between referral and first page.
        due_on: [
            course.next_contact.or((active && !running).then_some(on)),
            next_alert(course, service, on, &review),
        ]
        .into_iter()
        .flatten()
        .min()
        .filter(|_| is_open(course.case.status.kind)),
        silent_from: since.map(|date| days_after(date, review.silence.agreed_days + 1)),
        examined_on: examined.map(|one| one.date).max(),
        heard_on,
        session_count: u32::try_from(course.entries.len()).unwrap_or(u32::MAX),
        open_alert_count: u32::try_from(waiting).unwrap_or(u32::MAX),
    }
}

/// Days that are looked ahead for an alert that comes with time alone. Silence comes sooner: it has a date of its own.
const LOOKED_AHEAD: i32 = 60;

/// The next day on which time alone brings an alert, for somebody on a page: then the case is looked at, whoever wrote
/// in it last.
fn next_alert(course: &Course, service: &Service, on: Date, today: &Review) -> Option<Date> {
    let is_known = |alert: &Alert| {
        alert.rule == SILENCE || today.alerts.iter().any(|one| one.key == alert.key)
    };
    let brings_one = |date: &Date| {
        let assessed = rehab::assess(&course.case, service, *date);
        let review = reviewed(course, service, &assessed, &[], *date);
        let open = open_alerts(course, &review);
        open.into_iter().any(|alert| !is_known(alert))
    };
    (1..=LOOKED_AHEAD)
        .filter(|_| is_running(course))
        .map(|days| days_after(on, days))
        .find(brings_one)
}

/// A call or visit that was begun and not finished, of somebody for whom anything may still be due.
pub(crate) fn unfinished(course: &Course) -> Option<&(Date, Unfinished)> {
    let open = is_open(course.case.status.kind);
    course.unfinished.as_ref().filter(|_| open)
}

/// Whether somebody is on a page now: active, with a rung given.
pub(crate) fn is_running(course: &Course) -> bool {
    course.case.status.kind == StatusKind::Active && course.current_stage.is_some()
}

/// Whether anything may still be due for a standing: nothing is for those who declined, left or died.
pub(crate) const fn is_open(status: StatusKind) -> bool {
    !matches!(
        status,
        StatusKind::Declined | StatusKind::Discharged | StatusKind::Died
    )
}

/// Alerts that a person of the team must answer: silence and the screening of today speak only while somebody is on
/// a page, and of those who left only what is red.
pub(crate) fn open_alerts<'a>(course: &Course, review: &'a Review) -> Vec<&'a Alert> {
    let running = is_running(course);
    let standing = |alert: &Alert| [SILENCE, SCREENING].contains(&alert.rule);
    review
        .alerts
        .iter()
        .filter(|alert| running || !standing(alert))
        .collect()
}

/// What lists show of the person, sealed.
pub fn personal(course: &Course) -> records::Personal {
    let person = &course.case.person;
    let name = person
        .name
        .clone()
        .unwrap_or_else(|| "Name not known".to_owned());
    records::Personal {
        called: person.called.clone().unwrap_or_else(|| name.clone()),
        name,
        birth_year: person.born.map(|born| born.year()),
        one_line: one_line(course),
    }
}

/// What this person is about, for lists: the newest event.
fn one_line(course: &Course) -> String {
    let newest = course.case.events.iter().max_by_key(|event| event.date);
    newest.map_or_else(String::new, |event| match event.date {
        Some(date) => format!(
            "{}, {}",
            phrases::event(event.kind),
            phrases::full_day(date)
        ),
        None => phrases::event(event.kind).to_owned(),
    })
}

fn reviewed(
    course: &Course,
    service: &Service,
    assessed: &Assessed,
    stages: &[Stage],
    on: Date,
) -> Review {
    rehab::review::review(&ReviewInput {
        case: &course.case,
        service,
        assessed,
        stages,
        current_stage: course.current_stage.unwrap_or(1),
        stage_since: course.stage_since,
        given: &course.given,
        entries: &course.entries,
        heard: &course.heard,
        earlier: &course.known,
        contacts: &course.contacts,
        keeps_diary: course.keeps_diary,
        settled: &course.settled,
        stopped: course.stopped,
        on,
    })
}
