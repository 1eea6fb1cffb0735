//! Where a person stands by their files alone: the present rung, its plan, and what a review of the diaries says.

use crate::failure::Failure;
use crate::inputs::Patient;
use jiff::civil::Date;
use rehab::assessed::{Assessed, Decision};
use rehab::course::{self, Channel, Happening};
use rehab::evidence::Finding;
use rehab::programme::{Choices, Dose, Exercises, GivenDose, Plan, Stage, plan_from};
use rehab::review::{Review, ReviewInput, entries_in_order, review};

/// The plan from a rung on, and the review of what came back.
pub(crate) struct Course {
    /// What the files tell, folded as a record is.
    pub(crate) record: course::Course,
    /// The rung the person is on; none where nothing tells of one.
    pub(crate) here: Option<u16>,
    /// The rung the plan begins at.
    pub(crate) from: u16,
    /// Limits and rungs.
    pub(crate) plan: Plan,
    /// The page at home, as its day planned it: nothing made anew outgrows it.
    pub(crate) given: Vec<GivenDose>,
    /// What was noticed in making them.
    pub(crate) noticed: Vec<Finding>,
    /// The review; also without diaries the day has one, which speaks of the examination and what was watched.
    pub(crate) review: Review,
}

/// Which rungs a command is about.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Asked {
    /// The rung to begin at, else the one the person is on, else the first.
    pub(crate) from: Option<u16>,
    /// The rung the person is on, else the one that the newest diary entry names.
    pub(crate) here: Option<u16>,
}

/// The exercises that the program carries.
pub(crate) fn exercises() -> Result<Exercises, Failure> {
    Ok(formats::exercises()?)
}

/// Plans and reviews. A rung to begin at changes what is shown, never where the review sees the person.
///
/// # Errors
/// When a rung was asked for that is not there.
pub(crate) fn course(
    patient: &Patient,
    asked: Asked,
    exercises: &Exercises,
) -> Result<Course, Failure> {
    let mut record = course::Course::begin(patient.case.clone());
    record.add(
        patient.on,
        &Happening::Diary {
            channel: Channel::File,
            entries: patient.diary.entries.clone(),
        },
    );
    let here = asked.here.or_else(|| named_stage(patient));
    let from = asked.from.or(here).unwrap_or(1);
    let assessed = rehab::assess(&record.case, &patient.service, patient.on);
    let mut of = Of {
        patient,
        record: &record,
        exercises,
        home: None,
    };
    of.home = here.and_then(|here| of.at_home(here));
    let (mut plan, noticed) = of.planned(assessed.clone(), from);
    for rung in [asked.from, asked.here].into_iter().flatten() {
        refuse_past_the_end(rung, from, &plan)?;
    }
    if plan.stages.iter().any(|stage| stage.number == from) {
        plan.stages.retain(|stage| stage.number >= from);
    }
    let review = of.reviewed(&assessed, here.unwrap_or(1));
    let given = of.given();
    Ok(Course {
        record,
        here,
        from,
        plan,
        given,
        noticed,
        review,
    })
}

/// The rung that the newest entry names.
fn named_stage(patient: &Patient) -> Option<u16> {
    let entries = entries_in_order(&patient.diary.entries, patient.on);
    entries.iter().rev().find_map(|entry| entry.stage)
}

/// Past the end of the ladder the last rungs would be shown, and taken for those that were asked for.
fn refuse_past_the_end(rung: u16, from: u16, plan: &Plan) -> Result<(), Failure> {
    match plan.stages.last() {
        Some(last) if rung > last.number && from >= rung => Err(Failure::CannotBeDone(format!(
            "there is no rung {rung} for this person; the last is {0}, take that or an earlier one with --stage {0}",
            last.number
        ))),
        _ => Ok(()),
    }
}

/// Whose course, and of what it is made.
struct Of<'a> {
    patient: &'a Patient,
    record: &'a course::Course,
    exercises: &'a Exercises,
    /// The page at home with the first day on which it was done.
    home: Option<(Date, Stage)>,
}

impl Of<'_> {
    /// The page that was done, as the first day on which it was done planned it: what a wish or the end of the gentle
    /// beginning changes since then it did not ask for. Not known where that day planned none.
    fn at_home(&self, here: u16) -> Option<(Date, Stage)> {
        let since = done_since(self.patient, here)?;
        let assessed = rehab::assess(&self.record.case, &self.patient.service, since);
        let (plan, _) = self.planned(assessed, here);
        let page = plan.stages.into_iter().find(|stage| stage.number == here);
        page.map(|page| (since, page))
    }

    fn given(&self) -> Vec<GivenDose> {
        let home = self.home.iter();
        home.map(|(date, page)| GivenDose {
            date: *date,
            stage: page.number,
            dose: Dose::of(page),
        })
        .collect()
    }

    fn planned(&self, assessed: Assessed, stage: u16) -> (Plan, Vec<Finding>) {
        let choices = Choices {
            stage,
            given: self.given(),
            ..Choices::none()
        };
        let (case, service) = (&self.record.case, &self.patient.service);
        plan_from(case, service, self.exercises, assessed, &choices)
    }

    fn reviewed(&self, assessed: &Assessed, here: u16) -> Review {
        review(&ReviewInput {
            case: &self.record.case,
            service: &self.patient.service,
            assessed,
            stages: &self.done_stages(assessed, here),
            current_stage: here,
            stage_since: done_since(self.patient, here),
            given: &[],
            entries: &self.record.entries,
            heard: &self.record.heard,
            earlier: &[],
            contacts: &[],
            keeps_diary: !self.record.entries.is_empty(),
            settled: &[],
            stopped: None,
            on: self.patient.on,
        })
    }

    /// The rungs that the entries were done on. When nothing may be done on the day of the review (the examination ran
    /// out, say), they are those of the day of the newest examination: what was done was planned then.
    fn done_stages(&self, assessed: &Assessed, here: u16) -> Vec<Stage> {
        let mut stages = self.stages_of_day(assessed, here);
        if let Some((_, home)) = &self.home {
            for stage in stages.iter_mut().filter(|one| one.number == home.number) {
                stage.clone_from(home);
            }
        }
        stages
    }

    fn stages_of_day(&self, assessed: &Assessed, here: u16) -> Vec<Stage> {
        if assessed.screening.decision == Decision::Exercise {
            return self.planned(assessed.clone(), here).0.stages;
        }
        let examinations = self.record.case.examinations.iter();
        let examinations = examinations.filter(|one| one.examines());
        let examined: Option<Date> = examinations.map(|one| one.date).max();
        let Some(examined) = examined.filter(|day| *day <= self.patient.on) else {
            return Vec::new();
        };
        let assessed = rehab::assess(&self.record.case, &self.patient.service, examined);
        self.planned(assessed, here).0.stages
    }
}

/// The first day of the last row of entries on a rung: what was done on it before another one was decided on since.
fn done_since(patient: &Patient, stage: u16) -> Option<Date> {
    let entries = entries_in_order(&patient.diary.entries, patient.on);
    let mut named = entries
        .into_iter()
        .rev()
        .filter(|entry| entry.stage.is_some());
    let newest = named.find(|entry| entry.stage == Some(stage))?;
    let row = named.take_while(|entry| entry.stage == Some(stage));
    Some(row.last().unwrap_or(newest).date)
}
