//! The keys of a case file.

mod contact;
mod heart;
mod home;
mod person;
mod test;

pub(crate) use contact::EFFORT;
pub(crate) use person::{LANGUAGE, is_language};

use super::id;
use crate::shape::{Count, Field, Kind, Shape};
use contact::EXAMINATION;
use contact::PAIN;
use contact::WATCHED;
use heart::EVENT;
use heart::HEART;
use heart::HISTORY;
use heart::MEDICINE;
use heart::NITRATE;
use home::HOME;
use home::WISHES;
use person::AGREEMENT;
use person::FUNCTION;
use person::PERSON;
use person::STATUS;
use person::USUAL_SYMPTOM;
use test::TEST;

/// A case file.
pub static CASE: Shape = Shape {
    name: "case",
    about: "All that is known of one patient; what is not known is left out, what was asked and is absent is written.",
    fields: &[
        Field::new(
            "id",
            ID,
            "8 to 40 letters, digits, hyphens; left out, it is derived from name and day of birth",
        ),
        Field::new("person", Kind::Table(&PERSON), "the person"),
        Field::new(
            "status",
            Kind::Table(&STATUS),
            "where the case stands; left out, it is active",
        ),
        Field::new(
            "event",
            Kind::List(&Kind::Table(&EVENT), Count::up_to(40)),
            "heart events; the newest is the reason for referral",
        ),
        Field::new("heart", Kind::Table(&HEART), "what is known of the heart"),
        Field::new(
            "history",
            Kind::Table(&HISTORY),
            "what was asked; not listed is not known",
        ),
        Field::new(
            "medicine",
            Kind::List(&Kind::Table(&MEDICINE), Count::up_to(200)),
            "medicines with their days",
        ),
        Field::new(
            "nitrate",
            Kind::Table(&NITRATE),
            "the spray or tablet for chest discomfort",
        ),
        Field::new(
            "usual_symptom",
            Kind::List(&Kind::Table(&USUAL_SYMPTOM), Count::up_to(40)),
            "what is normal for this person",
        ),
        Field::new("function", Kind::Table(&FUNCTION), "walking aid and falls"),
        Field::new(
            "examination",
            Kind::List(&Kind::Table(&EXAMINATION), Count::up_to(2000)),
            "one per contact, oldest first",
        ),
        Field::new(
            "test",
            Kind::List(&Kind::Table(&TEST), Count::up_to(2000)),
            "tests of function and capacity, questionnaires",
        ),
        Field::new("home", Kind::Table(&HOME), "the home and its places"),
        Field::new(
            "wishes",
            Kind::Table(&WISHES),
            "what the person wants and has",
        ),
        Field::new(
            "agreement",
            Kind::Table(&AGREEMENT),
            "a doctor's recorded agreement to a home programme",
        ),
        Field::new(
            "watched",
            Kind::List(&Kind::Table(&WATCHED), Count::up_to(2000)),
            "what a practitioner watched this person do",
        ),
        Field::new(
            "pain",
            Kind::List(&Kind::Table(&PAIN), Count::up_to(2000)),
            "joints that hurt",
        ),
    ],
    choice: None,
};

/// The id of a case.
pub(crate) const ID: Kind = Kind::Form {
    pattern: id::PATTERN,
    check: id::check,
};
