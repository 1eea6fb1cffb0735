//! `pack`: what a patient takes home.

use super::Common;
use crate::course::{Asked, Course, course, exercises};
use crate::failure::Failure;
use crate::inputs::{self, Patient};
use crate::{output, place};
use handouts::page::session_page;
use handouts::print::{Ink, Paper, printed_pages};
use handouts::running_order::{Approval, Ask, DayBounds, RunningOrder, page_letter, running_order};
use rehab::assessed::Decision;
use rehab::course::{Second, SignRefused, Signature, Signing, Waiting, sign};
use rehab::programme::eligible::ToWatch;
use rehab::programme::{Choices, Exercises, Stage, VariantRef, plan_from};
use rehab::wording::Words;
use serde_json::json;
use std::path::PathBuf;

/// The home pack: refused without a signature; a draft says so on every page and screen.
#[derive(clap::Args, Debug)]
#[command(group = clap::ArgGroup::new("approval").args(["signed_by", "draft"]))]
pub(crate) struct Pack {
    /// The case file
    #[arg(value_name = "CASE")]
    case: PathBuf,
    /// The settings of the service: emergency text and telephone numbers come from there
    #[arg(long, value_name = "FILE")]
    service: Option<PathBuf>,
    /// The folder to write into
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Who signs, as "NAME, role"
    #[arg(long, value_name = "NAME, ROLE", value_parser = signature)]
    signed_by: Option<Signature>,
    /// Why it goes further than the program would, where it does
    #[arg(long, value_name = "TEXT", requires = "signed_by")]
    reason: Option<String>,
    /// The second person who looked at it, where it goes further than the program would
    #[arg(long, value_name = "NAME", requires = "signed_by")]
    second: Option<String>,
    /// The person is invented, for practice: settings that no lead has adopted will do, and the signature says so
    #[arg(long, requires = "signed_by", conflicts_with = "draft")]
    invented: bool,
    /// Not for a patient: every page and screen says DRAFT
    #[arg(long)]
    draft: bool,
    /// What came back, for the rung the person is on; may be given more than once
    #[arg(long, value_name = "FILE")]
    diary: Vec<PathBuf>,
    /// The rung [default: the one of the newest diary entry, else the first]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=200))]
    stage: Option<u16>,
    /// Only these, separated by commas
    #[arg(long, value_name = "PARTS", value_delimiter = ',', value_enum)]
    only: Vec<Part>,
    /// Size of the paper
    #[arg(long, value_enum, default_value = "a4")]
    paper: PaperSize,
    /// For a printer with black ink only
    #[arg(long)]
    black: bool,
}

/// A part of the pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
enum Part {
    /// The session page: one file for telephone, tablet or computer, without a network
    Page,
    /// The booklet to print
    Booklet,
}

/// Size of the paper.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum PaperSize {
    /// 210 by 297 mm
    A4,
    /// 8.5 by 11 inches
    Letter,
}

impl Part {
    const ALL: [Self; 2] = [Self::Page, Self::Booklet];

    /// Name of its file in the folder of the pack.
    const fn file(self) -> &'static str {
        match self {
            Self::Page => "session.html",
            Self::Booklet => "booklet.html",
        }
    }
}

fn signature(text: &str) -> Result<Signature, String> {
    let (name, role) = text.split_once(',').unwrap_or((text, ""));
    let (name, role) = (name.trim(), role.trim());
    if name.is_empty() || role.is_empty() || text.chars().any(char::is_control) {
        return Err("write name and role, for example \"Ines Calder, physiotherapist\"".to_owned());
    }
    Ok(Signature {
        name: name.to_owned(),
        role: role.to_owned(),
    })
}

impl Pack {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let Some(service) = &self.service else {
            return Err(cannot(
                "a pack needs the service's own emergency text and telephone numbers; give its settings with --service FILE",
            ));
        };
        let patient = inputs::patient(&self.case, &self.diary, Some(service), common.on)?;
        let exercises = exercises()?;
        let words = formats::words(&patient.service.language)?;
        let asked = Asked {
            from: self.stage,
            here: None,
        };
        let course = course(&patient, asked, &exercises)?;
        let stage = stage_of(&course)?;
        let (approval, valid_until) = if self.draft {
            let valid_until = course.plan.assessed.screening.valid_until;
            (Approval::Draft, valid_until)
        } else {
            self.approve(&patient, &course, stage, &exercises, &words)?
        };
        let order = running_order(&Ask {
            case: &course.record.case,
            service: &patient.service,
            limits: &course.plan.assessed.limits,
            bounds: DayBounds::of(&patient.service),
            stage,
            exercises: &exercises,
            words: &words,
            letter: page_letter(stage.number),
            on: patient.on,
            valid_until,
            approval: &approval,
        })
        .map_err(|refused| cannot(&refused.to_string()))?;
        let written = self.write(&order)?;
        if common.json {
            return output::json_result(&json!({
                "on": patient.on.to_string(),
                "case": patient.case.id.0,
                "stage": stage.number,
                "letter": order.letter.to_string(),
                "draft": order.is_draft(),
                "files": written,
            }));
        }
        let lines: String = written.iter().map(|file| format!("{file}\n")).collect();
        output::result(&lines)
    }

    fn second(&self) -> Option<Second> {
        (self.reason.is_some() || self.second.is_some()).then(|| Second {
            reason: self.reason.clone().unwrap_or_default(),
            name: self.second.clone().unwrap_or_default(),
        })
    }

    /// The signature with its day. Who signs here also gives the page, so it waits for everything that a page waits for
    /// before it is done alone.
    fn approve(
        &self,
        patient: &Patient,
        course: &Course,
        stage: &Stage,
        exercises: &Exercises,
        words: &Words,
    ) -> Result<(Approval, Option<jiff::civil::Date>), Failure> {
        let Some(by) = &self.signed_by else {
            return Err(cannot(
                "a pack that nobody has signed is not made; sign with --signed-by \"NAME, role\", or look at it with --draft",
            ));
        };
        let (case, service) = (&course.record.case, &patient.service);
        let assessed = &course.plan.assessed;
        let may = course.record.may_have_a_page(&course.review, assessed);
        if let Err(refused) = may
            && assessed.screening.decision == Decision::Exercise
        {
            return Err(cannot(&refused.to_string()));
        }
        let mut by = by.clone();
        if self.invented {
            by.role.push_str(", for an invented person");
        }
        let signed = sign(Signing {
            case,
            assessed,
            stages: core::slice::from_ref(stage),
            unchosen: &of_the_programs_own(patient, course, exercises),
            proposal: course.here.map(|_| &course.review.proposal),
            by,
            digests: formats::digests(case, service, &[]),
            adopted_or_invented: self.invented || service.adopted.is_some(),
            second: self.second(),
        })
        .map_err(|refused| cannot(&told(&refused)))?;
        let waits = course
            .record
            .waits_for(stage, service, assessed, &course.review);
        if waits.is_empty() {
            return Ok((Approval::of(&signed), signed.valid_until));
        }
        let waits: Vec<String> = waits.iter().map(|one| waiting(one, words)).collect();
        Err(cannot(&format!(
            "this page is not given yet: {}; write what was done into the case file, or look at the page with --draft",
            waits.join("; ")
        )))
    }

    /// Makes every part before the first is written, into a folder that holds no pack: a page of today beside a booklet
    /// of another day, or of somebody else, would contradict it.
    fn write(&self, order: &RunningOrder) -> Result<Vec<String>, Failure> {
        let paper = match self.paper {
            PaperSize::A4 => Paper::A4,
            PaperSize::Letter => Paper::Letter,
        };
        let ink = if self.black { Ink::Grey } else { Ink::Colour };
        let wanted = Part::ALL
            .into_iter()
            .filter(|part| self.only.is_empty() || self.only.contains(part));
        let made: Vec<(&str, String)> = wanted
            .map(|part| match part {
                Part::Page => (part.file(), session_page(order)),
                Part::Booklet => (part.file(), printed_pages(order, paper, ink)),
            })
            .collect();
        for part in Part::ALL {
            place::refuse_existing(&self.out.join(part.file()))?;
        }
        std::fs::create_dir_all(&self.out).map_err(|error| place::unwritten(&self.out, &error))?;
        let mut written = Vec::new();
        for (name, text) in made {
            let path = self.out.join(name);
            place::new_file(&path, text.as_bytes())?;
            written.push(path.display().to_string());
        }
        Ok(written)
    }
}

/// The rung that is packed: the one that was asked for, or the one the person is on.
fn stage_of(course: &Course) -> Result<&Stage, Failure> {
    let stages = &course.plan.stages;
    if stages.is_empty() {
        let reasons = course
            .noticed
            .iter()
            .map(|one| one.text.trim_end_matches('.'));
        let reasons: Vec<&str> = reasons.collect();
        return Err(cannot(&format!(
            "there is no rung to pack: {}; see the reasons of 'programme'",
            reasons.join("; ")
        )));
    }
    let found = stages.iter().find(|stage| stage.number == course.from);
    found.ok_or_else(|| {
        cannot(&format!(
            "the newest diary entry names rung {}, which is not there for this person today; name the rung to pack with --stage",
            course.from
        ))
    })
}

/// The pages that the program itself would give now: from the rung the person is on, else from the first.
fn of_the_programs_own(patient: &Patient, course: &Course, exercises: &Exercises) -> Vec<Stage> {
    let choices = Choices {
        stage: course.here.unwrap_or(1),
        given: course.given.clone(),
        ..Choices::none()
    };
    let (case, service) = (&course.record.case, &patient.service);
    let assessed = course.plan.assessed.clone();
    plan_from(case, service, exercises, assessed, &choices)
        .0
        .stages
}

/// What the page waits for, in words.
fn waiting(one: &Waiting, words: &Words) -> String {
    match one {
        Waiting::Standing(kind) => format!("the standing of the case is {kind}, not active"),
        Waiting::Stopped(since) => {
            format!("stopped since {since}; somebody must decide on a page again")
        }
        Waiting::Review(why) => why.clone(),
        Waiting::Decision(decision) => format!("the answer today is {decision}"),
        Waiting::Sessions { needed, done } => format!(
            "sessions to be watched first: {needed}; watched since the newest event: {done}"
        ),
        Waiting::NotSeen(ways) => {
            let names: Vec<String> = ways.iter().map(|one| to_watch(one, words)).collect();
            format!(
                "to be watched and found good before it is done alone: {}",
                names.join(", ")
            )
        }
        Waiting::Help(why) => why.trim_end_matches('.').to_owned(),
    }
}

/// A way that is to be watched, with what was outside the last time.
fn to_watch(one: &ToWatch, words: &Words) -> String {
    let name = name(&one.way, words);
    match one.outside.is_empty() {
        true => name,
        false => format!("{name}, last time {}", one.outside.join(" and ")),
    }
}

/// A way of an exercise as [[watched]] of a case file names it.
fn name(way: &VariantRef, words: &Words) -> String {
    let id = format!("{}/{}", way.exercise, way.variant);
    match words.exercise(way) {
        Some(said) => format!("{} ({id})", said.name.to_lowercase()),
        None => id,
    }
}

/// Why it was not signed, with the option that answers it.
fn told(refused: &SignRefused) -> String {
    let option = match refused {
        SignRefused::NeedsReason(_) => "; give it with --reason \"TEXT\" and --second \"NAME\"",
        SignRefused::NeedsSecondName(_) => "; give it with --second \"NAME\"",
        _ => "",
    };
    format!("{refused}{option}")
}

fn cannot(message: &str) -> Failure {
    Failure::CannotBeDone(message.to_owned())
}
