//! `pack`: what a patient takes home.

use super::Common;
use crate::course::{Course, course, exercises};
use crate::failure::Failure;
use crate::inputs::{self, Patient};
use crate::{output, place};
use handouts::page::session_page;
use handouts::print::{Ink, Paper, printed_pages};
use handouts::running_order::{Approval, Ask, DayBounds, RunningOrder, page_letter, running_order};
use rehab::course::{Second, SignRefused, Signature, Signing, sign};
use rehab::programme::Stage;
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
        let course = course(&patient, self.stage, &exercises);
        let Some(stage) = course.plan.stages.first() else {
            let reasons: Vec<String> = course.noticed.iter().map(|one| one.text.clone()).collect();
            return Err(cannot(&format!(
                "there is no rung to pack: {}",
                reasons.join("; ")
            )));
        };
        if let Some(asked) = self.stage.filter(|asked| *asked != stage.number) {
            return Err(cannot(&format!(
                "there is no rung {asked} for this person; the last is {}",
                stage.number
            )));
        }
        let (approval, valid_until) = self.approve(&patient, &course, stage)?;
        let words = formats::words(&patient.service.language)?;
        let order = running_order(&Ask {
            case: &patient.case,
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

    /// The signature with its day, or the mark of a draft; without either nothing is made.
    fn approve(
        &self,
        patient: &Patient,
        course: &Course,
        stage: &Stage,
    ) -> Result<(Approval, Option<jiff::civil::Date>), Failure> {
        if self.draft {
            let valid_until = course.plan.assessed.screening.valid_until;
            return Ok((Approval::Draft, valid_until));
        }
        let Some(by) = &self.signed_by else {
            return Err(cannot(
                "a pack that nobody has signed is not made; sign with --signed-by \"NAME, role\", or look at it with --draft",
            ));
        };
        let stages = core::slice::from_ref(stage);
        let signed = sign(Signing {
            case: &patient.case,
            assessed: &course.plan.assessed,
            stages,
            unchosen: stages,
            proposal: course.review.as_ref().map(|review| &review.proposal),
            by: by.clone(),
            digests: formats::digests(&patient.case, &patient.service, &[]),
            adopted_or_invented: patient.service.adopted.is_some(),
            second: self.second(),
        })
        .map_err(|refused| cannot(&told(&refused)))?;
        Ok((Approval::of(&signed), signed.valid_until))
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
