//! Keys of the person, the standing of the case, function and agreement.

use crate::shape::{Count, Field, Kind, LONG, SHORT, Shape, words_of};
use rehab::assessment::{Sex, StatusKind, WalkingAid};
use rehab::diary::SymptomKind;

pub(super) static PERSON: Shape = Shape {
    name: "person",
    about: "The person.",
    fields: &[
        Field::new("name", Kind::Text(SHORT), "full name"),
        Field::new(
            "called",
            Kind::Text(SHORT),
            "how the person wants to be called",
        ),
        Field::new("born", Kind::OtherDay, "day of birth"),
        Field::new("sex", Kind::Word(words_of::<Sex>()), "for equations only"),
        Field::new("height_cm", Kind::Bound("height_cm"), "height"),
        Field::new(
            "weight_kg",
            Kind::Bound("weight_kg"),
            "weight as last known",
        ),
        Field::new("language", LANGUAGE, "language tag, for example en-GB"),
        Field::new(
            "telephones",
            Kind::List(&Kind::Text(SHORT), Count::up_to(10)),
            "telephone numbers, best first",
        ),
        Field::new(
            "emergency_contact",
            Kind::Text(SHORT),
            "whom to ring for the person",
        ),
        Field::new("doctor", Kind::Text(SHORT), "the treating doctor"),
        Field::new(
            "interpreter",
            Kind::Text(SHORT),
            "whether and for which language an interpreter is needed",
        ),
        Field::new("hearing", Kind::Text(SHORT), "how the person hears"),
        Field::new("sight", Kind::Text(SHORT), "how the person sees"),
        Field::new("reading", Kind::Text(SHORT), "whether reading is easy"),
        Field::new("memory", Kind::Text(SHORT), "what to know of memory"),
        Field::new("consent", Kind::Text(LONG), "consent as recorded"),
        Field::new("address", Kind::Text(LONG), "where the person lives"),
    ],
    choice: None,
};

/// A language tag.
pub(crate) const LANGUAGE: Kind = Kind::Form {
    pattern: "^[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*$",
    check: check_language,
};

/// Whether a text is a language tag.
pub(crate) fn is_language(text: &str) -> bool {
    check_language(text).is_ok()
}

fn check_language(text: &str) -> Result<(), String> {
    let mut parts = text.split('-');
    let first = parts.next().unwrap_or_default();
    let letters = (2..=3).contains(&first.len()) && first.bytes().all(|b| b.is_ascii_alphabetic());
    let rest = parts.all(|part| {
        (2..=8).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_alphanumeric())
    });
    if letters && rest {
        Ok(())
    } else {
        Err("this is not a language tag; write it like en-GB or cy".to_owned())
    }
}

pub(super) static STATUS: Shape = Shape {
    name: "status",
    about: "Where the case stands.",
    fields: &[
        Field::needed("kind", Kind::Word(words_of::<StatusKind>()), "the standing"),
        Field::new("since", Kind::Day, "since when"),
    ],
    choice: None,
};

pub(super) static USUAL_SYMPTOM: Shape = Shape {
    name: "usual-symptom",
    about: "A symptom that is normal for this person.",
    fields: &[
        Field::needed(
            "kind",
            Kind::Word(words_of::<SymptomKind>()),
            "which symptom",
        ),
        Field::new("score", Kind::Bound("score_0_10"), "0 to 10 as usual"),
    ],
    choice: None,
};

pub(super) static FUNCTION: Shape = Shape {
    name: "function",
    about: "Walking aid and falls.",
    fields: &[
        Field::new(
            "aid",
            Kind::Word(words_of::<WalkingAid>()),
            "walking aid in daily life",
        ),
        Field::new(
            "falls_12_months",
            Kind::WholeBound("falls_12_months"),
            "falls in the last 12 months",
        ),
    ],
    choice: None,
};

pub(super) static AGREEMENT: Shape = Shape {
    name: "agreement",
    about: "A doctor's recorded agreement to a home programme.",
    fields: &[
        Field::needed("doctor", Kind::Text(SHORT), "who agreed"),
        Field::needed("date", Kind::Day, "when"),
    ],
    choice: None,
};
