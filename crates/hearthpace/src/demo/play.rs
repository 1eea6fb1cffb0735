//! Plays a story through the same functions as on a visit: what the program would refuse is an error.

use super::story::{Sessions, Step, Story, What};
use super::told;
use anyhow::{Context, Result, bail};
use jiff::civil::Date;
use rehab::assessed::Assessed;
use rehab::assessment::{Case, Effort, Examination, StatusKind, Technique, Watched};
use rehab::calendar::days_after;
use rehab::course::{
    Call, Channel, Course, Happening, Settled, Signature, Signing, Taken, TeachBack,
    WatchedSession, sign,
};
use rehab::programme::{Exercises, SegmentKind, Stage};
use rehab::review::{Action, Contact, ContactKind, Review, ReviewInput, review};
use rehab::service::Service;

/// What all stories of one demonstration share.
pub(super) struct Setting<'a> {
    /// The service.
    pub(super) service: &'a Service,
    /// The exercises.
    pub(super) exercises: &'a Exercises,
    /// The base day.
    pub(super) on: Date,
    /// Who signs.
    pub(super) by: Signature,
}

/// A story that was played.
pub(super) struct Played {
    /// Everything that happened, with its day.
    pub(super) happened: Vec<(Date, Happening)>,
    /// Where it leaves the person.
    pub(super) course: Course,
}

struct Player<'a> {
    setting: &'a Setting<'a>,
    /// The case as it is known on the base day.
    whole: &'a Case,
    happened: Vec<(Date, Happening)>,
    course: Option<Course>,
}

/// Plays one story.
pub(super) fn play(setting: &Setting<'_>, whole: &Case, story: &Story) -> Result<Played> {
    let mut player = Player {
        setting,
        whole,
        happened: Vec::new(),
        course: None,
    };
    for step in &story.steps {
        player
            .step(step)
            .with_context(|| format!("{}, day {}: {:?}", whole.id.0, step.day, step.what))?;
    }
    let course = player.course.take().context("the story writes no case")?;
    if let Some(expected) = &story.ends_with {
        let found = review_of(setting, &course, setting.on).proposal;
        if found.action.word() != expected {
            bail!(
                "{} ends with '{}', not '{expected}': {:?}",
                whole.id.0,
                found.action,
                found.because
            );
        }
    }
    Ok(Played {
        happened: player.happened,
        course,
    })
}

/// The review of a course on a day.
pub(super) fn review_of(setting: &Setting<'_>, course: &Course, on: Date) -> Review {
    let assessed = rehab::assess(&course.case, setting.service, on);
    let stages = course.stages_in_view(setting.service, setting.exercises, &assessed);
    review(&ReviewInput {
        case: &course.case,
        service: setting.service,
        assessed: &assessed,
        stages: &stages,
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

impl Player<'_> {
    fn step(&mut self, step: &Step) -> Result<()> {
        let day = days_after(self.setting.on, step.day);
        match &step.what {
            What::Write => self.write(day),
            What::Sign { stages } => self.sign(day, stages)?,
            What::Give { stage } => self.add(day, Happening::Released { stage: *stage }),
            What::Watch {
                stage,
                effort,
                note,
            } => self.watch(day, *stage, *effort, note)?,
            What::Sessions(sessions) => self.sessions(day, sessions)?,
            What::Call {
                kind,
                reached,
                note,
                expect,
                next,
            } => {
                let contact = Contact {
                    date: day,
                    kind: ContactKind::parse(kind)?,
                };
                let next = next.map(|days| days_after(self.setting.on, days));
                self.call(contact, *reached, note, expect.as_deref(), next)?;
            }
            What::Status { to } => self.add(day, Happening::Status(StatusKind::parse(to)?)),
            What::Settle { rule, done } => self.settle(day, rule, done)?,
            What::Note { text } => self.add(day, Happening::Note(text.clone())),
        }
        Ok(())
    }

    fn add(&mut self, day: Date, happening: Happening) {
        match (&mut self.course, &happening) {
            (Some(course), _) => course.add(day, &happening),
            (None, Happening::Case(case)) => self.course = Some(Course::begin((**case).clone())),
            (None, _) => {}
        }
        self.happened.push((day, happening));
    }

    fn course(&self) -> Result<&Course> {
        self.course.as_ref().context("write the case first")
    }

    fn write(&mut self, day: Date) {
        let case = known_on(self.whole, day);
        self.add(day, Happening::Case(Box::new(case)));
    }

    /// At every visit somebody examines: what the case file holds of that day, else the last measured values again.
    fn examine(&mut self, day: Date) -> Result<()> {
        let course = self.course()?;
        let mut case = known_on(self.whole, day);
        case.status = course.case.status;
        case.watched.clone_from(&course.case.watched);
        let mut examinations = course.case.examinations.clone();
        for examination in &case.examinations {
            if !examinations.contains(examination) {
                examinations.push(examination.clone());
            }
        }
        examinations.sort_by_key(|examination| examination.date);
        if let Some(last) = examinations.last()
            && last.date < day
        {
            examinations.push(Examination {
                date: day,
                ..last.clone()
            });
        }
        case.examinations = examinations;
        if case != course.case {
            for happening in course.written(&case) {
                self.add(day, happening);
            }
        }
        Ok(())
    }

    fn plan(&self, day: Date, stage: u16) -> Result<(Assessed, Vec<Stage>)> {
        let course = self.course()?;
        let (service, exercises) = (self.setting.service, self.setting.exercises);
        let assessed = rehab::assess(&course.case, service, day);
        let (plan, findings) = course.draft(service, exercises, &assessed, stage);
        if plan.stages.is_empty() {
            bail!(
                "no page on {day}: {findings:?} {:?}",
                plan.assessed.screening.findings
            );
        }
        Ok((plan.assessed, plan.stages))
    }

    fn sign(&mut self, day: Date, numbers: &[u16]) -> Result<()> {
        self.examine(day)?;
        let mut signed = Vec::new();
        let mut assessed = None;
        for number in numbers {
            let (today, stages) = self.plan(day, *number)?;
            signed.extend(stages.into_iter().find(|stage| stage.number == *number));
            assessed = Some(today);
        }
        let assessed = assessed.context("name the pages to sign")?;
        let course = self.course()?;
        let review = review_of(self.setting, course, day);
        let plan = sign(Signing {
            case: &course.case,
            assessed: &assessed,
            stages: &signed,
            unchosen: &signed,
            proposal: course.current_stage.is_some().then_some(&review.proposal),
            by: self.setting.by.clone(),
            digests: formats::digests(&course.case, self.setting.service, &[]),
            adopted_or_invented: true,
            second: None,
        })?;
        self.add(day, Happening::Signed(Box::new(plan)));
        Ok(())
    }

    fn stage(&self, number: u16) -> Result<Stage> {
        let signed = self
            .course()?
            .signed
            .as_ref()
            .context("nothing is signed")?;
        let found = signed.stages.iter().find(|stage| stage.number == number);
        found
            .cloned()
            .with_context(|| format!("page {number} is not signed"))
    }

    fn watch(&mut self, day: Date, number: u16, effort: f64, note: &str) -> Result<()> {
        self.examine(day)?;
        let stage = self.stage(number)?;
        let scale = self.setting.service.effort_scale;
        let mut stations: Vec<Watched> = Vec::new();
        for segment in &stage.segments {
            let Some(doing) = &segment.doing else {
                continue;
            };
            if stations
                .iter()
                .any(|one| one.exercise == doing.exercise && one.variant == doing.variant)
            {
                continue;
            }
            let brisk = segment.kind == SegmentKind::Cardiovascular;
            stations.push(Watched {
                date: day,
                exercise: doing.exercise.clone(),
                variant: doing.variant.clone(),
                effort: Some(Effort {
                    scale,
                    value: if brisk { effort } else { effort - 1.0 },
                }),
                hr_bpm: segment
                    .predicted_hr
                    .filter(|_| brisk)
                    .map(|bpm| bpm.round()),
                bp: None,
                technique: Technique::Good,
                support: None,
                symptoms: None,
            });
        }
        let shown = TeachBack::ALL.to_vec();
        let session = WatchedSession {
            date: day,
            stations,
            shown,
            note: note.to_owned(),
        };
        self.add(day, Happening::Watched(session));
        Ok(())
    }

    fn sessions(&mut self, day: Date, told: &Sessions) -> Result<()> {
        let stage = self.stage(told.stage)?;
        let channel = Channel::parse(&told.by)?;
        let mut entries = Vec::new();
        for (number, days) in told.days.iter().enumerate() {
            let date = days_after(self.setting.on, *days);
            entries.push(told::entry(
                &self.whole.id.0,
                self.setting.service,
                &stage,
                told,
                (date, number),
            )?);
        }
        self.add(day, Happening::Diary { channel, entries });
        Ok(())
    }

    fn call(
        &mut self,
        contact: Contact,
        reached: bool,
        note: &str,
        expect: Option<&str>,
        next: Option<Date>,
    ) -> Result<()> {
        if contact.kind == ContactKind::Visit {
            self.examine(contact.date)?;
        }
        let decided = expect
            .map(|expect| self.decide(contact.date, expect))
            .transpose()?;
        let call = Call {
            contact,
            reached,
            entries: Vec::new(),
            decided,
            note: note.to_owned(),
            next,
            nitrate_until: None,
        };
        self.add(contact.date, Happening::Called(Box::new(call)));
        Ok(())
    }

    fn decide(&self, day: Date, expect: &str) -> Result<Taken> {
        let proposal = review_of(self.setting, self.course()?, day).proposal;
        if proposal.action != Action::parse(expect)? {
            bail!(
                "the review proposes '{}', not '{expect}': {:?}",
                proposal.action,
                proposal.because
            );
        }
        Ok(Taken::new(
            &proposal,
            proposal.action,
            proposal.to_stage,
            None,
            None,
        )?)
    }

    fn settle(&mut self, day: Date, rule: &str, done: &str) -> Result<()> {
        let alerts = review_of(self.setting, self.course()?, day).alerts;
        let alert = alerts
            .into_iter()
            .find(|alert| alert.rule.0 == rule)
            .context("there is no such alert")?;
        self.add(
            day,
            Happening::Settled(Settled {
                key: alert.key,
                done: done.to_owned(),
            }),
        );
        Ok(())
    }
}

/// What was known of a person on an earlier day.
fn known_on(whole: &Case, day: Date) -> Case {
    let mut case = whole.clone();
    case.examinations.retain(|one| one.date <= day);
    case.tests
        .retain(|one| one.date.is_none_or(|date| date <= day));
    case.medicines
        .retain(|one| one.since.is_none_or(|since| since <= day));
    case.agreement = case.agreement.filter(|one| one.date <= day);
    case
}
