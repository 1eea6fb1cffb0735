//! What follows from the answers: the review made anew as if the sheet were closed, and the decision on it.

use super::read;
use crate::casefile::CaseFile;
use crate::phrases::{days_in_words, sentence};
use crate::typed::{Typed, Wrong};
use handouts::call::{self, Answers, Asking, Closing};
use jiff::civil::Date;
use rehab::assessed::Assessed;
use rehab::calendar::days_after;
use rehab::course::{Call, Course, Happening, SAME_NAME, Settled, Taken, Towards, is_same_name};
use rehab::evidence::Because;
use rehab::review::{Action, Alert, Contact, ContactKind, Proposal};

/// Longest note that is kept.
const NOTE: usize = 4000;

/// An alert on the sheet.
pub(super) struct Waiting {
    pub(super) alert: Alert,
    /// Raised by this very contact.
    pub(super) new: bool,
    /// What was done, as typed.
    pub(super) done: String,
}

/// Everything below the questions.
pub(super) struct Follows {
    pub(super) proposal: Proposal,
    pub(super) taken: Option<Taken>,
    pub(super) refused: Option<String>,
    pub(super) action: Action,
    pub(super) to_stage: Option<u16>,
    pub(super) headline: String,
    pub(super) reasons: Vec<Because>,
    pub(super) say: String,
    pub(super) note: String,
    pub(super) drafted: String,
    pub(super) letter: Option<String>,
    pub(super) drafted_letter: String,
    pub(super) next: Option<Date>,
    pub(super) waiting: Vec<Waiting>,
    pub(super) assessed: Assessed,
    /// Answers that could not be read: as long as there are any, nothing is proposed.
    pub(super) unread: Wrong,
    happened: Call,
}

/// The field in which an answer to an alert is written.
pub(super) fn done_field(key: &str) -> String {
    format!("done:{key}")
}

impl Follows {
    /// Works out what follows. The time of day is for the note only.
    pub(super) fn of(
        file: &CaseFile,
        asking: &Asking<'_>,
        answers: &Answers,
        typed: &Typed,
        time: &str,
        wrong: &mut Wrong,
    ) -> Self {
        let happened = closed(file, asking, answers);
        let before = file.review().alerts;
        let answered: Vec<Settled> = before
            .iter()
            .filter_map(|one| settled(one, typed))
            .collect();
        let after = after(file, &happened, &answered);
        let assessed = rehab::assess(&after.case, &file.service, file.on);
        let review = file.review_of(&after);
        let waiting = waiting(&before, &review.alerts, typed);
        for one in waiting.iter().filter(|one| !one.done.is_empty()) {
            if let Err(nothing) = Settled::new(&one.alert.key, &one.done) {
                wrong.say(&done_field(&one.alert.key), nothing.to_string());
            }
        }
        let mut follows = Self {
            action: review.proposal.action,
            to_stage: review.proposal.to_stage,
            reasons: review.proposal.because.clone(),
            proposal: review.proposal,
            taken: None,
            refused: None,
            headline: String::new(),
            say: String::new(),
            note: String::new(),
            drafted: String::new(),
            letter: None,
            drafted_letter: String::new(),
            next: None,
            waiting,
            assessed,
            unread: Wrong::default(),
            happened,
        };
        follows.decide(asking, typed, wrong);
        follows.write(asking, answers, typed, time, wrong);
        follows
    }

    fn decide(&mut self, asking: &Asking<'_>, typed: &Typed, wrong: &mut Wrong) {
        let (action, to_stage) = chosen(&self.proposal, typed.get("decide"));
        (self.action, self.to_stage) = (action, to_stage);
        // Without a page there is nothing to give, and a call must never give one that nobody signed.
        if asking.course.current_stage.is_none() {
            self.to_stage = None;
            return;
        }
        let here = asking.course.current_stage;
        let further = to_stage.filter(|stage| Some(*stage) > here);
        if let Some(stage) = further.filter(|stage| asking.course.signed_stage(*stage).is_none()) {
            self.refuse(format!(
                "page {} is not signed, so it cannot be given; sign it first, or stay",
                handouts::running_order::page_letter(stage)
            ));
            return;
        }
        let second = typed.get("second-name");
        let reason = wrong.words(typed, "reason", NOTE);
        match Taken::new(
            &self.proposal,
            action,
            to_stage,
            filled(&reason),
            filled(second),
        ) {
            Ok(taken)
                if taken.towards == Towards::Risk && is_same_name(asking.practitioner, second) =>
            {
                self.refuse(SAME_NAME.to_owned());
            }
            Ok(taken) => self.taken = Some(taken),
            Err(refused) => self.refuse(refused.to_string()),
        }
    }

    fn refuse(&mut self, why: String) {
        self.refused = Some(why);
    }

    fn write(
        &mut self,
        asking: &Asking<'_>,
        answers: &Answers,
        typed: &Typed,
        time: &str,
        wrong: &mut Wrong,
    ) {
        self.headline = call::headline(asking, self.action, self.to_stage, &self.proposal.ease);
        self.next = self.next_day(asking, typed, wrong);
        self.say = call::say(
            asking,
            &self.proposal,
            self.action,
            self.to_stage,
            self.next,
        );
        let closing = Closing {
            time,
            decision: &self.headline,
            next: self.next,
        };
        self.drafted = call::note(asking, answers, &closing);
        self.note = kept(typed, "note", &self.drafted);
        wrong.words(typed, "note", NOTE);
        let medicine = answers.has_medicine_change() == Some(true);
        if medicine || call::letter_due(asking, self.action, self.to_stage) {
            let reasons: Vec<String> = self
                .deciding()
                .map(|one| format!("{}.", sentence(&days_in_words(&one.text, asking.on))))
                .collect();
            self.drafted_letter = call::letter_text(asking, &self.headline, &reasons);
            self.letter = Some(kept(typed, "letter", &self.drafted_letter));
            wrong.words(typed, "letter", NOTE);
        }
    }

    /// What is proposed, as a form carries it: the action and the page.
    pub(super) fn seen(&self) -> String {
        let page = self.proposal.to_stage.map_or(0, u32::from);
        format!("{} {page}", self.proposal.action.word())
    }

    /// The reasons that decided: those of the proposed action.
    pub(super) fn deciding(&self) -> impl Iterator<Item = &Because> {
        let word = self.proposal.action.word().to_owned();
        self.reasons
            .iter()
            .filter(move |one| one.value == rehab::evidence::Value::Text(word.clone()))
    }

    fn next_day(&self, asking: &Asking<'_>, typed: &Typed, wrong: &mut Wrong) -> Option<Date> {
        let text = typed.get("next");
        let proposed = self.proposed_next(asking);
        // As with the note: a day that was only proposed follows the answers, one that was changed stays.
        if text.is_empty() || text == typed.get("drafted-next") {
            return Some(proposed);
        }
        match text.parse::<Date>() {
            Ok(date) if date >= self.assessed.on => Some(date),
            Ok(_) => {
                wrong.say(
                    "next",
                    "the next contact lies in the past; give a day from today on",
                );
                Some(proposed)
            }
            Err(_) => {
                wrong.say(
                    "next",
                    format!("'{text}' is not a day; write it as 2026-12-01"),
                );
                Some(proposed)
            }
        }
    }

    pub(super) fn proposed_next(&self, asking: &Asking<'_>) -> Date {
        let every = self.assessed.eligibility.call_every_days;
        let days = call::days_to_next(asking, self.action, self.to_stage, every);
        days_after(self.assessed.on, days)
    }

    /// What is written when the sheet is signed.
    pub(super) fn happenings(&self, typed: &Typed) -> Vec<Happening> {
        let mut call = self.happened.clone();
        call.decided = self.taken.clone();
        call.note = self.note.clone();
        call.next = self.next;
        let settled = self
            .waiting
            .iter()
            .filter_map(|one| settled(&one.alert, typed))
            .map(Happening::Settled);
        let letter = self
            .letter
            .iter()
            .map(|text| Happening::Note(format!("Letter, to be sent: {text}")));
        // What was done comes first: a decision on a page ends the stop that an answered alert leaves behind.
        settled
            .chain(std::iter::once(Happening::Called(Box::new(call))))
            .chain(letter)
            .collect()
    }
}

/// The call as it would be closed now, without decision and note.
fn closed(file: &CaseFile, asking: &Asking<'_>, answers: &Answers) -> Call {
    Call {
        contact: Contact {
            date: asking.on,
            kind: asking.kind,
        },
        reached: true,
        entries: call::entries(asking, answers, &format!("call-{}", file.next_position())),
        decided: None,
        note: String::new(),
        next: None,
        nitrate_until: answers.spray.until,
    }
}

/// A try that reached nobody: no news, and never taken for any.
pub(super) fn not_reached(file: &CaseFile, kind: ContactKind, note: String) -> Happening {
    Happening::Called(Box::new(Call {
        contact: Contact {
            date: file.on,
            kind,
        },
        reached: false,
        entries: Vec::new(),
        decided: None,
        note,
        next: None,
        nitrate_until: None,
    }))
}

/// Only alerts from before this contact count as answered here. What it raised itself is answered when the sheet is
/// signed, but never softens the decision that is taken on it.
fn after(file: &CaseFile, call: &Call, answered: &[Settled]) -> Course {
    let mut course = file.course.clone();
    for one in answered {
        course.add(file.on, &Happening::Settled(one.clone()));
    }
    course.add(file.on, &Happening::Called(Box::new(call.clone())));
    course
}

fn settled(alert: &Alert, typed: &Typed) -> Option<Settled> {
    Settled::new(&alert.key, typed.get(&done_field(&alert.key))).ok()
}

/// Alerts to be answered: those that stand after the contact, and older ones answered on this sheet.
fn waiting(before: &[Alert], after: &[Alert], typed: &Typed) -> Vec<Waiting> {
    let is_old = |alert: &Alert| before.iter().any(|one| one.key == alert.key);
    let done = |alert: &Alert| typed.get(&done_field(&alert.key)).to_owned();
    let answered = before
        .iter()
        .filter(|one| !done(one).is_empty() && !after.iter().any(|other| other.key == one.key));
    answered
        .chain(after.iter().filter(|one| !one.ends_with_decision()))
        .map(|alert| Waiting {
            alert: alert.clone(),
            new: !is_old(alert),
            done: done(alert),
        })
        .collect()
}

/// A text of the sheet: the draft as long as nobody changed it, then what was typed.
fn kept(typed: &Typed, name: &str, draft: &str) -> String {
    let text = same_lines(typed.get(name));
    let drafted = same_lines(typed.get(&format!("drafted-{name}")));
    match text.is_empty() || text == drafted {
        true => draft.to_owned(),
        false => text,
    }
}

/// Browsers send line ends of their own.
fn same_lines(text: &str) -> String {
    text.replace("\r\n", "\n")
}

fn chosen(proposal: &Proposal, word: &str) -> (Action, Option<u16>) {
    let here = proposal.from_stage;
    match word {
        "advance" => (Action::Advance, Some(here + 1)),
        "hold" => (Action::Hold, Some(here)),
        "step-back" => (Action::StepBack, Some(here.saturating_sub(1).max(1))),
        "ask-first" => (Action::AskFirst, None),
        "stop-and-contact" => (Action::StopAndContact, None),
        _ => (proposal.action, proposal.to_stage),
    }
}

fn filled(text: &str) -> Option<String> {
    (!text.trim().is_empty()).then(|| text.trim().to_owned())
}

/// The answers and what follows, read from one form.
pub(super) fn read_all(
    file: &CaseFile,
    asking: &Asking<'_>,
    typed: &Typed,
    time: &str,
) -> (Answers, Follows, Wrong) {
    let mut wrong = Wrong::default();
    let answers = read::answers(asking, typed, &mut wrong);
    let unread = wrong.clone();
    let mut follows = Follows::of(file, asking, &answers, typed, time, &mut wrong);
    follows.unread = unread;
    (answers, follows, wrong)
}
