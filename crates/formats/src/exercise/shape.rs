//! The keys of an exercise file.

use crate::shape::{Count, Field, Kind, SHORT, Shape, Within, words_of};
use rehab::assessment::{Joint, PlaceKind, Prop, Support};
use rehab::evidence::Tag;
use rehab::programme::{
    ArmHeight, CostGrade, ExerciseKind, MuscleGroup, Posture, RestrictionEffect, RestrictionReason,
};

const METS: Kind = Kind::Number(Within::new(0.9, 20.0, "METs"));
const ID: Kind = Kind::Form {
    pattern: "^[a-z0-9]+(-[a-z0-9]+)*$",
    check: check_id,
};
const SOURCES: Kind = Kind::List(&ID, Count::some(20).each_once());

/// The file as a whole.
pub static EXERCISE: Shape = Shape {
    name: "exercise",
    about: "One exercise: what it is for, what it costs, how it may be done and for whom not; facts only",
    fields: &[
        Field::needed("id", ID, "name of the exercise and of its file"),
        Field::needed(
            "alike",
            ID,
            "name shared by exercises that are one movement at different loads",
        ),
        Field::needed(
            "kinds",
            Kind::List(
                &Kind::Word(words_of::<ExerciseKind>()),
                Count::some(5).each_once(),
            ),
            "what it is for, main purpose first",
        ),
        Field::needed(
            "hr_gain",
            Kind::Number(Within::new(0.8, 1.5, "")),
            "factor on the rise of the pulse at equal METs",
        ),
        Field::needed(
            "muscles",
            Kind::List(
                &Kind::Word(words_of::<MuscleGroup>()),
                Count::up_to(10).each_once(),
            ),
            "main muscle groups",
        ),
        Field::needed(
            "joints",
            Kind::List(
                &Kind::Word(words_of::<Joint>()),
                Count::up_to(8).each_once(),
            ),
            "joints it loads",
        ),
        Field::needed(
            "families",
            Kind::List(&ID, Count::some(10).each_once()),
            "families for likes and dislikes",
        ),
        Field::needed("trains_balance", Kind::Flag, "whether it trains balance"),
        Field::needed("strengthens", Kind::Flag, "whether it strengthens"),
        Field::new(
            "least_peak_mets",
            METS,
            "least peak capacity of a person it is offered to",
        ),
        Field::needed(
            "cost",
            Kind::Table(&COST),
            "energy cost done as the variant whose factor is 1",
        ),
        Field::needed(
            "variant",
            Kind::List(&Kind::Table(&VARIANT), Count::some(12)),
            "ways of doing it, hardest first",
        ),
    ],
    choice: None,
};

static COST: Shape = Shape {
    name: "cost",
    about: "Energy cost in gross METs, 1 MET = 3.5 mL/kg/min",
    fields: &[
        Field::needed(
            "mets",
            METS,
            "best estimate, or the published value unaltered",
        ),
        Field::needed("low", METS, "low end, for dose claims"),
        Field::needed("high", METS, "high end"),
        Field::new(
            "response",
            METS,
            "what a measurement says instead, for limits and pulse",
        ),
        Field::needed(
            "grade",
            Kind::Word(words_of::<CostGrade>()),
            "A named by its source, B bounded, C by analogy",
        ),
        Field::needed("tag", Kind::Word(words_of::<Tag>()), "how well it is known"),
        Field::new(
            "published",
            Kind::Table(&PUBLISHED),
            "the published value, unaltered",
        ),
        Field::needed("note", Kind::Text(SHORT), "where the number comes from"),
        Field::needed("sources", SOURCES, "source ids"),
    ],
    choice: None,
};

static PUBLISHED: Shape = Shape {
    name: "published",
    about: "A published cost as printed",
    fields: &[
        Field::needed("mets", METS, "METs as printed"),
        Field::new("code", Kind::Text(20), "its code"),
        Field::needed("source", ID, "source id"),
    ],
    choice: None,
};

static VARIANT: Shape = Shape {
    name: "variant",
    about: "One way of doing the exercise",
    fields: &[
        Field::needed("id", ID, "name of the variant within the exercise"),
        Field::needed(
            "net_factor",
            Kind::Number(Within::new(0.05, 3.0, "")),
            "factor on the net cost (METs - 1) of the exercise",
        ),
        Field::needed(
            "grade",
            Kind::Word(words_of::<CostGrade>()),
            "how well the cost of this variant is known",
        ),
        Field::new("basis", Kind::Text(SHORT), "where the factor comes from"),
        Field::needed(
            "support",
            Kind::Word(words_of::<Support>()),
            "support of the hands",
        ),
        Field::needed("posture", Kind::Word(words_of::<Posture>()), "posture"),
        Field::needed(
            "arms",
            Kind::Word(words_of::<ArmHeight>()),
            "how high the hands go",
        ),
        Field::needed(
            "balance",
            Kind::Whole(Within::new(0.0, 3.0, "")),
            "balance asked for: 0 seated or two hands, 1 two feet, 2 one leg in movement, 3 held on one leg",
        ),
        Field::new(
            "per_minute",
            Kind::Number(Within::new(1.0, 200.0, "a minute")),
            "repetitions, cycles or steps a minute",
        ),
        Field::new(
            "hold_s",
            Kind::Band(Within::new(1.0, 60.0, "seconds")),
            "how long it is held: from, to",
        ),
        Field::needed(
            "places",
            Kind::List(
                &Kind::Word(words_of::<PlaceKind>()),
                Count::some(8).each_once(),
            ),
            "kinds of place where it can be done; any one will do",
        ),
        Field::new(
            "props",
            Kind::List(&Kind::Word(words_of::<Prop>()), Count::up_to(4).each_once()),
            "things it needs",
        ),
        Field::new(
            "weight_g",
            Kind::Number(Within::new(50.0, 10_000.0, "grams")),
            "most weight in each hand",
        ),
        Field::new(
            "step_cm",
            Kind::Band(Within::new(5.0, 40.0, "cm")),
            "height of the step: from, to",
        ),
        Field::new("needs_rail", Kind::Flag, "needs a rail at the step"),
        Field::new("needs_arms", Kind::Flag, "needs a chair with arms"),
        Field::new(
            "needs_no_arms",
            Kind::Flag,
            "needs a chair without arms: a thigh or a hand goes down beside the seat",
        ),
        Field::new(
            "needs_stick",
            Kind::Flag,
            "needs a walking stick in the hand",
        ),
        Field::new(
            "restrictions",
            Kind::List(&Kind::Table(&RESTRICTION), Count::up_to(20)),
            "for whom it is not, or only adapted",
        ),
        Field::new(
            "easier",
            Kind::Form {
                pattern: "^[a-z0-9-]+/[a-z0-9-]+$",
                check: check_reference,
            },
            "the easier version that stands ready, as exercise/variant",
        ),
    ],
    choice: None,
};

static RESTRICTION: Shape = Shape {
    name: "restriction",
    about: "Why a variant may not suit and what follows",
    fields: &[
        Field::needed("reason", Kind::Word(words_of::<RestrictionReason>()), "why"),
        Field::needed(
            "effect",
            Kind::Word(words_of::<RestrictionEffect>()),
            "exclude, or adapt",
        ),
        Field::new(
            "weeks",
            Kind::Number(Within::new(1.0, 104.0, "weeks")),
            "weeks after the operation or implant before which it holds",
        ),
        Field::new(
            "above_weight_g",
            Kind::Number(Within::new(50.0, 10_000.0, "grams")),
            "holds only above this weight in the hand",
        ),
    ],
    choice: None,
};

/// Small letters, digits and single hyphens.
pub(crate) fn check_id(text: &str) -> Result<(), String> {
    let plain = |sign: char| sign.is_ascii_lowercase() || sign.is_ascii_digit();
    let fine = text.len() <= 60
        && text
            .split('-')
            .all(|part| !part.is_empty() && part.chars().all(plain));
    if fine {
        Ok(())
    } else {
        Err(
            "a name is small letters, digits and hyphens, at most 60; write it like step-ups"
                .to_owned(),
        )
    }
}

fn check_reference(text: &str) -> Result<(), String> {
    match text.split_once('/') {
        Some((exercise, variant)) => check_id(exercise).and_then(|()| check_id(variant)),
        None => Err("write an exercise and one of its variants, like step-ups/rail".to_owned()),
    }
}
