//! Making the running order from the signed rung, the person's facts, the service's settings and the words.

use super::check::{DayBounds, has_sore_joint, ready, rows};
use super::closing::closing;
use super::cues::{Cued, cues};
use super::lists::listed;
use super::refused::OrderRefused;
use super::say::{Say, capital};
use super::unwell::unwell;
use super::{Approval, CueKind, Reach, RunningOrder, Stop};
use crate::figure::Build;
use crate::profile::Course;
use jiff::civil::Date;
use rehab::assessed::Limits;
use rehab::assessment::{Answered, Case, HistoryItem};
use rehab::medicine::{MedicineEffect, Medicines};
use rehab::programme::{Exercises, Phase, RestrictionReason, Stage};
use rehab::service::Service;
use rehab::wording::Words;
use std::collections::BTreeMap;

/// Everything a running order is made from.
#[derive(Clone, Copy)]
pub struct Ask<'a> {
    /// The case.
    pub case: &'a Case,
    /// The service's settings.
    pub service: &'a Service,
    /// The limits the rung was made under.
    pub limits: &'a Limits,
    /// The bounds of the day check.
    pub bounds: DayBounds,
    /// The rung.
    pub stage: &'a Stage,
    /// The exercises.
    pub exercises: &'a Exercises,
    /// The words.
    pub words: &'a Words,
    /// Page letter.
    pub letter: char,
    /// Day of the page.
    pub on: Date,
    /// Last day on which the page may be used without being asked about.
    pub valid_until: Option<Date>,
    /// Signature or draft.
    pub approval: &'a Approval,
}

/// A session interrupted for longer than this is not gone on with: the muscles are cold and the warm-up is lost.
// Source: page-ours.
const RESUME_WITHIN_MS: u32 = 10 * 60 * 1000;

/// What of the person decides which words the page has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Facts {
    pub(super) nitrate: bool,
    pub(super) has_spray: bool,
    pub(super) device: bool,
    pub(super) diabetes: bool,
    pub(super) sugar_can_fall: bool,
    pub(super) heart_failure: bool,
    pub(super) usual_chest: bool,
    pub(super) wound: bool,
    pub(super) joints: bool,
    pub(super) alone: bool,
    pub(super) low_vision: bool,
    pub(super) bleeds: bool,
    pub(super) pulse_counting: bool,
}

impl Facts {
    fn of(ask: &Ask<'_>) -> Self {
        let case = ask.case;
        let medicines = Medicines::on(&case.medicines, &ask.service.medicine_names, ask.on);
        let diabetes = case.history.has(HistoryItem::Diabetes)
            || medicines.answer(MedicineEffect::LowSugar) == Answered::Present;
        let usual_chest = case
            .usual_symptoms
            .iter()
            .any(|usual| usual.kind == rehab::diary::SymptomKind::ChestDiscomfort);
        Self {
            nitrate: nitrate_ready(ask, &medicines),
            // Not asked is not absent.
            has_spray: case.nitrate.prescribed != Some(false),
            device: case.heart.device.is_some(),
            diabetes,
            // What is not known counts as possible: the question costs little.
            sugar_can_fall: diabetes
                && medicines.answer(MedicineEffect::LowSugar) != Answered::Absent,
            // Not asked is not absent: the questions cost little.
            heart_failure: case.heart_failure() != Answered::Absent,
            usual_chest,
            wound: ask
                .limits
                .adaptations
                .iter()
                .any(|one| one.reason == RestrictionReason::Sternotomy),
            joints: has_sore_joint(ask),
            alone: case.home.alone_when_exercising != Some(false),
            low_vision: case.history.has(HistoryItem::LowVision),
            bleeds: medicines.answer(MedicineEffect::BleedsAtAFall) == Answered::Present,
            pulse_counting: case.wishes.pulse_counting == Some(true) && ask.limits.pulse_model,
        }
    }
}

/// The spray is told of only if it is prescribed and taught, not known to be out of date, the service has a protocol
/// with steps, and no medicine is known that must not meet it.
fn nitrate_ready(ask: &Ask<'_>, medicines: &Medicines) -> bool {
    let nitrate = ask.case.nitrate;
    let has_steps = ask
        .service
        .nitrate
        .as_ref()
        .is_some_and(|protocol| !protocol.steps.is_empty());
    nitrate.prescribed == Some(true)
        && nitrate.taught == Some(true)
        && nitrate.is_in_date(ask.on) != Some(false)
        && has_steps
        && medicines.answer(MedicineEffect::NitrateConflict) != Answered::Present
}

/// Makes the running order of one rung.
///
/// # Errors
/// [`OrderRefused`] with what is missing and what to do.
pub fn running_order(ask: &Ask<'_>) -> Result<RunningOrder, OrderRefused> {
    let emergency = ask
        .service
        .emergency
        .as_ref()
        .filter(|one| !one.number.trim().is_empty())
        .ok_or(OrderRefused::NoEmergency)?;
    let contact = ask
        .service
        .contact
        .as_ref()
        .filter(|one| !one.telephone.trim().is_empty())
        .ok_or(OrderRefused::NoContact)?;
    let person = &ask.case.person;
    let called = person
        .called
        .as_ref()
        .or(person.name.as_ref())
        .filter(|name| !name.trim().is_empty())
        .ok_or(OrderRefused::NoName)?;
    let Cued {
        cues,
        parts,
        figures,
    } = cues(ask)?;
    let length_ms = cues.last().ok_or(OrderRefused::Empty)?.end_ms();
    let way_down_ms = cues
        .iter()
        .find(|cue| cue.phase == Phase::CoolDown)
        .map_or(length_ms, |cue| cue.start_ms);
    let facts = Facts::of(ask);
    let say = Say { words: ask.words };
    let emergency = Reach {
        name: String::new(),
        number: emergency.number.clone(),
        text: emergency.text.clone(),
        otherwise: None,
    };
    let team = Reach {
        name: contact.name.clone(),
        number: contact.telephone.clone(),
        text: contact.hours.clone(),
        otherwise: contact.out_of_hours.clone(),
    };
    let date_words = say.date(ask.on);
    let identity = match person.born {
        Some(born) => ask.words.fill(
            "page.identity",
            &[("called", called), ("year", &born.year().to_string())],
        ),
        None => called.clone(),
    };
    let brisk = cues.iter().filter(|cue| cue.kind == CueKind::Brisk).count();
    let steady = Steady {
        called,
        letter: ask.letter.to_string(),
        date: &date_words,
        emergency: &emergency,
        team: &team,
    };
    let words = steady.fill_all(ask.words);
    let mut unwell = unwell(ask, &facts);
    for node in unwell.nodes.values_mut() {
        node.lines
            .iter_mut()
            .for_each(|line| *line = steady.fill(line));
    }
    Ok(RunningOrder {
        case_id: ask.case.id.0.clone(),
        language: ask.words.language().to_owned(),
        called: called.clone(),
        identity,
        letter: ask.letter,
        stage: ask.stage.number,
        date: ask.on,
        valid_until: ask.valid_until,
        approval: ask.approval.clone(),
        approval_words: approval_words(ask, say),
        emergency: emergency.clone(),
        team: team.clone(),
        sum: sum(ask, say, brisk, length_ms),
        often: often(ask, say),
        sessions_per_week: ask.stage.sessions_per_week,
        way_down_ms,
        length_ms,
        resume_within_ms: RESUME_WITHIN_MS,
        check: listed(rows(ask, &facts), ask.words),
        ready: ready(ask, &facts),
        stop: stop(ask, &facts, &steady),
        nitrate: if facts.nitrate {
            nitrate_lines(ask, say)
        } else {
            Vec::new()
        },
        unwell,
        closing: closing(ask, &facts),
        course: Course::of(ask.stage),
        top_mets: top_mets(ask),
        figures,
        build: Build::of(&ask.case.id.0),
        date_words: date_words.clone(),
        cues,
        parts,
        words,
    })
}

/// The ceiling of the drawing: the most for one turn, or what is in the rung where that is more.
fn top_mets(ask: &Ask<'_>) -> f64 {
    ask.stage
        .segments
        .iter()
        .map(|segment| segment.mets)
        .fold(ask.limits.mets_station_high.to_mets(), f64::max)
}

fn approval_words(ask: &Ask<'_>, say: Say<'_>) -> String {
    match ask.approval {
        Approval::Draft => ask.words.get("page.draft").to_owned(),
        Approval::Signed {
            name,
            role,
            with,
            on,
        } => {
            let id = match with.is_empty() {
                true => "page.signed",
                false => "page.signed-with",
            };
            let values = [
                ("name", name.as_str()),
                ("role", role),
                ("second", &with.join(", ")),
                ("date", &say.date(*on)),
            ];
            ask.words.fill(id, &values)
        }
    }
}

fn sum(ask: &Ask<'_>, say: Say<'_>, brisk: usize, length_ms: u64) -> String {
    let minutes = length_ms.div_ceil(60_000).to_string();
    let count = capital(&say.number(brisk as u64));
    match brisk {
        0 => ask
            .words
            .fill("print.session.sum-warm-up-only", &[("minutes", &minutes)]),
        1 => ask
            .words
            .fill("print.session.sum-one", &[("minutes", &minutes)]),
        _ => ask.words.fill(
            "print.session.sum",
            &[("count", &count), ("minutes", &minutes)],
        ),
    }
}

fn often(ask: &Ask<'_>, say: Say<'_>) -> String {
    match ask.stage.sessions_per_week {
        0 | 1 => ask.words.get("page.start.often-once").to_owned(),
        more => ask.words.fill(
            "page.start.often",
            &[("count", &say.number(u64::from(more)))],
        ),
    }
}

fn stop(ask: &Ask<'_>, facts: &Facts, steady: &Steady<'_>) -> Stop {
    let get = |id: &str| steady.fill(ask.words.get(&format!("print.stop.{id}")));
    let call_if = if facts.nitrate {
        "call-if-spray"
    } else {
        "call-if"
    };
    Stop {
        when: get("if"),
        call_if: get(call_if),
        shock: facts.device.then(|| get("shock")),
        afterwards: get("afterwards"),
    }
}

/// The service's steps as they stand on paper, each with its wait.
fn nitrate_lines(ask: &Ask<'_>, say: Say<'_>) -> Vec<String> {
    let steps = ask
        .service
        .nitrate
        .iter()
        .flat_map(|protocol| &protocol.steps);
    steps
        .map(|step| {
            if step.wait_s == 0 {
                return step.text.clone();
            }
            // Two waits in a row read as twice the time until help is called.
            if tells_its_wait(&step.text, ask.words) {
                return super::say::sentence(&step.text);
            }
            let length = say.length(step.wait_s.saturating_mul(1000));
            let wait = ask.words.fill("unwell.wait-for", &[("length", &length)]);
            format!("{} {wait}", super::say::sentence(&step.text))
        })
        .collect()
}

/// Whether the service's own words for a step speak of the wait.
fn tells_its_wait(text: &str, words: &Words) -> bool {
    let wait = words.get("unwell.wait-word");
    text.to_lowercase()
        .split(|sign: char| !sign.is_alphanumeric())
        .any(|word| word == wait)
}

/// What is the same throughout and is filled in once.
struct Steady<'a> {
    called: &'a str,
    letter: String,
    date: &'a str,
    emergency: &'a Reach,
    team: &'a Reach,
}

impl Steady<'_> {
    /// Fills what is known and leaves the rest for the page.
    fn fill(&self, text: &str) -> String {
        let known = [
            ("{called}", self.called),
            ("{letter}", &self.letter),
            ("{date}", self.date),
            ("{emergency}", &self.emergency.number),
            ("{team}", &self.team.name),
            ("{telephone}", &self.team.number),
            ("{hours}", &self.team.text),
        ];
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(open) = rest.find('{') {
            out.push_str(&rest[..open]);
            rest = &rest[open..];
            let end = rest.find('}').map_or(rest.len(), |close| close + 1);
            let name = &rest[..end];
            out.push_str(
                known
                    .iter()
                    .find(|(one, _)| *one == name)
                    .map_or(name, |one| one.1),
            );
            rest = &rest[end..];
        }
        out.push_str(rest);
        out
    }

    /// The sentences that page and print draw on.
    fn fill_all(&self, words: &Words) -> BTreeMap<String, String> {
        const FILES: [&str; 5] = ["page.", "check.", "unwell.", "print.", "say."];
        words
            .ids()
            .filter(|id| FILES.iter().any(|file| id.starts_with(file)))
            .map(|id| (id.to_owned(), self.fill(words.get(id))))
            .collect()
    }
}
