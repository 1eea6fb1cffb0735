//! One case as pages need it: read from the record with the access noted, folded, assessed; and written to.

use crate::error::PageError;
use crate::guard::Signed;
use formats::journal::{kind_of, read_body, write_body};
use jiff::civil::Date;
use records::{CaseId, Draft, Entry, EntryId, Summary, Word};
use rehab::assessed::Assessed;
use rehab::calendar::days_after;
use rehab::course::{Course, Happening};
use rehab::service::Service;
use std::sync::Arc;

/// A case, read and folded.
pub(crate) struct CaseFile {
    /// The id in the record; it stands in addresses.
    pub(crate) id: CaseId,
    /// Every entry as written, superseded ones too.
    pub(crate) entries: Vec<Entry>,
    /// What happened, in order, without what was superseded.
    pub(crate) happened: Vec<(Date, Happening)>,
    /// Where that leaves the person.
    pub(crate) course: Course,
    /// The assessment of today.
    pub(crate) assessed: Assessed,
    /// The service's settings.
    pub(crate) service: Arc<Service>,
    /// Today.
    pub(crate) on: Date,
}

impl CaseFile {
    /// Reads a case by the id of its address; the reading is noted first.
    pub(crate) async fn load(signed: &Signed, id: &str, what: &str) -> Result<Self, PageError> {
        let id = CaseId::parse(id).map_err(|_| not_here())?;
        let entries = signed.store.entries(id, &signed.reading(what)).await?;
        let service = signed.app.service(&signed.store, &signed.user).await?;
        Self::of(id, entries, service, signed.app.clock().today())
    }

    /// A case of entries that were read already.
    pub(crate) fn of(
        id: CaseId,
        entries: Vec<Entry>,
        service: Arc<Service>,
        on: Date,
    ) -> Result<Self, PageError> {
        let mut happened = Vec::new();
        for entry in entries.iter().filter(|entry| entry.superseded_by.is_none()) {
            happened.push((
                entry.effective.date(),
                read_body(entry.kind.as_str(), &entry.body)?,
            ));
        }
        let course = Course::fold(happened.iter().map(|(date, one)| (*date, one)), on)
            .ok_or_else(not_here)?;
        let assessed = rehab::assess(&course.case, &service, on);
        Ok(Self {
            id,
            entries,
            happened,
            course,
            assessed,
            service,
            on,
        })
    }

    /// The position the next entry gets if nobody writes meanwhile.
    pub(crate) fn next_position(&self) -> u64 {
        self.entries.last().map_or(1, |entry| entry.position + 1)
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
            let kind =
                Word::new(kind_of(happening)).expect("kinds of happenings are words of ours");
            let id = EntryId::generate(clock.now())?;
            let body = write_body(&after.case.id, happening);
            let mut draft = Draft::new(id, kind, clock.local(), body);
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
        Ok(())
    }
}

fn not_here() -> PageError {
    PageError::NotFound(
        "There is no such person in the record. Look for the name under People".to_owned(),
    )
}

/// The dates and counts that lists need: worked out from the course, never a computed state.
pub(crate) fn summary(course: &Course, service: &Service, on: Date) -> Summary {
    let review = crate::casefile::review_of(course, service, on);
    let heard_on = review.silence.last_heard;
    Summary {
        status: Word::new(course.case.status.kind.word()).expect("status words are words of ours"),
        due_on: course.next_contact,
        silent_from: heard_on.map(|date| days_after(date, review.silence.agreed_days + 1)),
        examined_on: course.case.examinations.iter().map(|one| one.date).max(),
        heard_on,
        session_count: u32::try_from(course.entries.len()).unwrap_or(u32::MAX),
        open_alert_count: u32::try_from(review.alerts.len()).unwrap_or(u32::MAX),
    }
}

/// What lists show of the person, sealed.
pub(crate) fn personal(course: &Course) -> records::Personal {
    let person = &course.case.person;
    let name = person
        .name
        .clone()
        .unwrap_or_else(|| "Name not known".to_owned());
    records::Personal {
        called: person.called.clone().unwrap_or_else(|| name.clone()),
        name,
        birth_year: person.born.map(|born| born.year()),
        one_line: course.case.wishes.goal.clone().unwrap_or_default(),
    }
}

/// The review of a course on a day.
pub(crate) fn review_of(course: &Course, service: &Service, on: Date) -> rehab::review::Review {
    let assessed = rehab::assess(&course.case, service, on);
    let stages = course.signed.as_ref().map_or(&[][..], |plan| &plan.stages);
    rehab::review::review(&rehab::review::ReviewInput {
        case: &course.case,
        service,
        assessed: &assessed,
        stages,
        current_stage: course.current_stage.unwrap_or(1),
        stage_since: course.stage_since,
        entries: &course.entries,
        contacts: &course.contacts,
        settled: &course.settled,
        on,
    })
}
