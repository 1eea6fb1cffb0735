//! The sheet of a call or visit: what is asked, in the order of talk, and what its answers become.
//!
//! Page and paper form ask the same questions from here. The answers become diary entries, so that a person without
//! any device is reviewed like everybody else; the note and the sentence to say are drafted from words, for a person
//! to change and sign.

mod answers;
mod days;
mod entries;
mod last;
mod note;
mod outcome;
mod questions;

pub use answers::{Answers, DayTold, Fall, HeartSign, InThemself, Joints, SignTold, Spray};
pub use days::{Day, asked_for, days};
pub use entries::entries;
pub use note::{Closing, note};
pub use outcome::{days_to_next, headline, letter_due, letter_text, say};
pub use questions::{Question, Row, Station, rows, signs, stations};

use jiff::civil::Date;
use rehab::assessed::Assessed;
use rehab::assessment::{Answered, HistoryItem};
use rehab::course::Course;
use rehab::medicine::{MedicineEffect, Medicines};
use rehab::review::ContactKind;
use rehab::service::Service;
use rehab::wording::Words;

/// Everything a sheet is made from.
#[derive(Clone, Copy)]
pub struct Asking<'a> {
    /// Where everything that happened leaves the person.
    pub course: &'a Course,
    /// The assessment of the day.
    pub assessed: &'a Assessed,
    /// The service's settings.
    pub service: &'a Service,
    /// The words.
    pub words: &'a Words,
    /// Call or visit.
    pub kind: ContactKind,
    /// Who asks.
    pub practitioner: &'a str,
    /// The day.
    pub on: Date,
}

impl Asking<'_> {
    /// How the person wants to be called.
    pub fn called(&self) -> &str {
        let person = &self.course.case.person;
        person
            .called
            .as_deref()
            .or(person.name.as_deref())
            .unwrap_or("this person")
    }

    /// The name of the team, as it is said on the telephone.
    pub fn team(&self) -> &str {
        match &self.service.contact {
            Some(contact) => &contact.name,
            None => self.words.get("call.team"),
        }
    }

    /// The letter of the page the person is on.
    pub fn letter(&self) -> Option<char> {
        self.course
            .current_stage
            .map(crate::running_order::page_letter)
    }

    /// Whether weight and swelling are asked: in heart failure, and where nobody asked about it.
    pub(crate) fn heart_failure(&self) -> bool {
        self.course.case.heart_failure() != Answered::Absent
    }

    /// Whether a pulse is asked: the person counts it, and it means something.
    pub(crate) fn counts_pulse(&self) -> bool {
        let counts = self.course.case.wishes.pulse_counting == Some(true);
        counts && self.assessed.limits.pulse_model && self.course.current_stage.is_some()
    }

    /// A sugar that could fall: known diabetes, unless no medicine lowers it.
    pub(crate) fn sugar_can_fall(&self) -> bool {
        let case = &self.course.case;
        let medicines = Medicines::on(&case.medicines, &self.service.medicine_names, self.on);
        let lowers = medicines.answer(MedicineEffect::LowSugar);
        lowers == Answered::Present
            || (case.history.has(HistoryItem::Diabetes) && lowers != Answered::Absent)
    }

    /// The name of an exercise of the present page in words.
    pub fn exercise_name(&self, exercise: &str) -> String {
        let named = self.course.stage().and_then(|stage| {
            stage
                .segments
                .iter()
                .filter_map(|segment| segment.doing.as_ref())
                .find(|doing| doing.exercise == exercise)
                .and_then(|doing| self.words.exercise(doing))
        });
        named.map_or_else(|| exercise.replace('-', " "), |words| words.name.clone())
    }
}

/// A day as it is said: "Tuesday 1 December".
pub fn said_day(date: Date) -> String {
    date.strftime("%A %-d %B").to_string()
}

/// A number without needless decimals.
pub(crate) fn plain(value: f64) -> String {
    let tenths = libm::round(value * 10.0) / 10.0;
    format!("{tenths}")
}
