//! One happening as a stored body, and back.

use super::choices::StoredChoices;
use super::plan::StoredPlan;
use super::word;
use crate::tree::Notation;
use jiff::civil::Date;
use rehab::assessment::{Case, CaseId, StatusKind};
use rehab::calendar::days_after;
use rehab::course::{
    Call, Channel, Happening, Settled, Taken, TeachBack, Towards, Unfinished, WatchedSession,
};
use rehab::diary::{Diary, DiaryEntry};
use rehab::review::{Action, Contact, ContactKind};
use serde::{Deserialize, Serialize};

/// Version of the bodies that this program writes.
const VERSION: u16 = 1;

/// Why a body was not read.
#[derive(Debug)]
pub struct BodyError {
    /// What, why and what to do.
    pub message: String,
}

impl core::fmt::Display for BodyError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.message)
    }
}

impl core::error::Error for BodyError {}

impl BodyError {
    fn of(what: impl core::fmt::Display) -> Self {
        let message = format!(
            "an entry of the record cannot be read: {what}; open the record with the program version that wrote it"
        );
        Self { message }
    }
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Versioned<T> {
    version: u16,
    body: T,
}

/// A case or diary inside a body is the text of its file: one format, read with the same care.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct FileText {
    text: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredStatus {
    #[serde(with = "word")]
    status: StatusKind,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredRelease {
    stage: u16,
}

/// The stations stand in a case file's own form, under its `watched` key.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredWatched {
    date: String,
    stations: String,
    shown: Vec<String>,
    note: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredDiary {
    #[serde(with = "word")]
    channel: Channel,
    diary: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredCall {
    date: String,
    #[serde(with = "word")]
    by: ContactKind,
    reached: bool,
    diary: String,
    decided: Option<StoredDecision>,
    note: String,
    next: Option<String>,
    /// In journals from before the day was kept: a yes without its day is no yes for ever, so it is not taken over.
    #[serde(default, skip_serializing)]
    nitrate_in_date: Option<bool>,
    #[serde(default)]
    nitrate_until: Option<String>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredDecision {
    #[serde(with = "word")]
    proposed: Action,
    #[serde(with = "word")]
    action: Action,
    to_stage: Option<u16>,
    #[serde(with = "word")]
    towards: Towards,
    reason: Option<String>,
    second_name: Option<String>,
}

/// Each answer as the name of its field and what was typed.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredUnfinished {
    follows: String,
    answers: Vec<(String, String)>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredSettled {
    key: String,
    done: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredNote {
    text: String,
}

/// The kind under which a happening stands in the record.
pub const fn kind_of(happening: &Happening) -> &'static str {
    match happening {
        Happening::Case(_) => "case",
        Happening::Status(_) => "status",
        Happening::Signed(_) => "signed",
        Happening::Released { .. } => "released",
        Happening::Watched(_) => "watched",
        Happening::Diary { .. } => "diary",
        Happening::Called(_) => "called",
        Happening::Unfinished(_) => "unfinished",
        Happening::Settled(_) => "settled",
        Happening::Chosen(_) => "chosen",
        Happening::Note(_) => "note",
    }
}

/// The body of a happening of one case.
pub fn write_body(case: &CaseId, happening: &Happening) -> Vec<u8> {
    match happening {
        Happening::Case(written) => bytes(FileText {
            text: crate::case::write(written, Notation::Json),
        }),
        Happening::Status(status) => bytes(StoredStatus { status: *status }),
        Happening::Signed(plan) => bytes(StoredPlan::from(&**plan)),
        Happening::Released { stage } => bytes(StoredRelease { stage: *stage }),
        Happening::Watched(session) => bytes(stored_watched(case, session)),
        Happening::Diary { channel, entries } => bytes(StoredDiary {
            channel: *channel,
            diary: diary_text(case, entries),
        }),
        Happening::Called(call) => bytes(stored_call(case, call)),
        Happening::Unfinished(Unfinished { follows, answers }) => bytes(StoredUnfinished {
            follows: follows.clone(),
            answers: answers.clone(),
        }),
        Happening::Settled(Settled { key, done }) => bytes(StoredSettled {
            key: key.clone(),
            done: done.clone(),
        }),
        Happening::Chosen(choices) => bytes(StoredChoices::from(choices)),
        Happening::Note(text) => bytes(StoredNote { text: text.clone() }),
    }
}

/// The happening of a body.
///
/// # Errors
/// [`BodyError`] when the kind or its version is not known, or the body is not what its kind says.
pub fn read_body(kind: &str, body: &[u8]) -> Result<Happening, BodyError> {
    Ok(match kind {
        "case" => Happening::Case(Box::new(read_case(&parse::<FileText>(body)?.text)?)),
        "status" => Happening::Status(parse::<StoredStatus>(body)?.status),
        "signed" => Happening::Signed(Box::new(parse::<StoredPlan>(body)?.plan()?)),
        "released" => Happening::Released {
            stage: parse::<StoredRelease>(body)?.stage,
        },
        "watched" => Happening::Watched(watched(parse(body)?)?),
        "diary" => {
            let stored: StoredDiary = parse(body)?;
            Happening::Diary {
                channel: stored.channel,
                entries: read_diary(&stored.diary)?,
            }
        }
        "called" => Happening::Called(Box::new(call(parse(body)?)?)),
        "unfinished" => {
            let StoredUnfinished { follows, answers } = parse(body)?;
            Happening::Unfinished(Unfinished { follows, answers })
        }
        "settled" => {
            let StoredSettled { key, done } = parse(body)?;
            Happening::Settled(Settled { key, done })
        }
        "chosen" => Happening::Chosen(parse::<StoredChoices>(body)?.into()),
        "note" => Happening::Note(parse::<StoredNote>(body)?.text),
        other => {
            return Err(BodyError::of(format!(
                "'{other}' is not a kind of entry this version knows"
            )));
        }
    })
}

fn bytes<T: Serialize>(body: T) -> Vec<u8> {
    serde_json::to_vec(&Versioned {
        version: VERSION,
        body,
    })
    .expect("stored bodies hold only text, numbers and lists")
}

fn parse<T: for<'de> Deserialize<'de>>(body: &[u8]) -> Result<T, BodyError> {
    let read: Versioned<T> = serde_json::from_slice(body).map_err(BodyError::of)?;
    if read.version != VERSION {
        return Err(BodyError::of(format!(
            "its version is {}, known is {VERSION}",
            read.version
        )));
    }
    Ok(read.body)
}

pub(super) fn day(text: &str) -> Result<Date, BodyError> {
    text.parse()
        .map_err(|_| BodyError::of(format!("'{text}' is not a day")))
}

pub(super) fn some_day(text: Option<String>) -> Result<Option<Date>, BodyError> {
    text.as_deref().map(day).transpose()
}

fn read_case(text: &str) -> Result<Case, BodyError> {
    let (case, _) = crate::case::read("case.json", text.as_bytes(), None).map_err(BodyError::of)?;
    Ok(case)
}

fn diary_text(case: &CaseId, entries: &[DiaryEntry]) -> String {
    crate::diary::write(
        &Diary {
            case: case.clone(),
            entries: entries.to_vec(),
        },
        Notation::Json,
    )
}

fn read_diary(text: &str) -> Result<Vec<DiaryEntry>, BodyError> {
    let (diary, _) =
        crate::diary::read("diary.json", text.as_bytes(), None).map_err(BodyError::of)?;
    Ok(diary.entries)
}

fn stored_watched(case: &CaseId, session: &WatchedSession) -> StoredWatched {
    let mut carrier = Case::unknown(case.clone());
    carrier.watched.clone_from(&session.stations);
    StoredWatched {
        date: session.date.to_string(),
        stations: crate::case::write(&carrier, Notation::Json),
        shown: session
            .shown
            .iter()
            .map(|one| one.word().to_owned())
            .collect(),
        note: session.note.clone(),
    }
}

fn watched(stored: StoredWatched) -> Result<WatchedSession, BodyError> {
    let shown = stored
        .shown
        .iter()
        .map(|word| TeachBack::parse(word).map_err(BodyError::of));
    Ok(WatchedSession {
        date: day(&stored.date)?,
        stations: read_case(&stored.stations)?.watched,
        shown: shown.collect::<Result<_, _>>()?,
        note: stored.note,
    })
}

fn stored_call(case: &CaseId, call: &Call) -> StoredCall {
    StoredCall {
        date: call.contact.date.to_string(),
        by: call.contact.kind,
        reached: call.reached,
        diary: diary_text(case, &call.entries),
        decided: call.decided.as_ref().map(|taken| StoredDecision {
            proposed: taken.proposed,
            action: taken.action,
            to_stage: taken.to_stage,
            towards: taken.towards,
            reason: taken.reason.clone(),
            second_name: taken.second_name.clone(),
        }),
        note: call.note.clone(),
        next: call.next.map(|date| date.to_string()),
        nitrate_in_date: None,
        nitrate_until: call.nitrate_until.map(|date| date.to_string()),
    }
}

fn call(stored: StoredCall) -> Result<Call, BodyError> {
    Ok(Call {
        contact: Contact {
            date: day(&stored.date)?,
            kind: stored.by,
        },
        reached: stored.reached,
        entries: read_diary(&stored.diary)?,
        decided: stored.decided.map(|taken| Taken {
            proposed: taken.proposed,
            action: taken.action,
            to_stage: taken.to_stage,
            towards: taken.towards,
            reason: taken.reason,
            second_name: taken.second_name,
        }),
        note: stored.note,
        next: some_day(stored.next)?,
        nitrate_until: match (stored.nitrate_until, stored.nitrate_in_date) {
            (None, Some(false)) => Some(days_after(day(&stored.date)?, -1)),
            (until, _) => some_day(until)?,
        },
    })
}
