//! Closed lists as choices of a form.

use super::ask::Choices;
use crate::phrases;
use rehab::assessment::{
    EventKind, ExaminationSymptom, ExerciseTestSymptom, Joint, PacingMode, PlaceKind,
    PressureResponse, ProcedureKind, Prop, Rhythm, Screen, Sex, StatusKind, TestPlace, WalkingAid,
};
use rehab::diary::SymptomKind;

macro_rules! listed {
    ($($name:ident of $kind:ident),+ $(,)?) => {
        $(pub(super) fn $name() -> Choices {
            $kind::ALL.iter().map(|one| (one.word(), one.word().replace('-', " "))).collect()
        })+
    };
}

/// Ways into a vessel.
pub(super) fn access() -> Choices {
    vec![
        ("wrist", "the wrist".to_owned()),
        ("groin", "the groin".to_owned()),
    ]
}

/// What an exercise test was done on.
pub(super) fn test_modes() -> Choices {
    ["treadmill", "cycle"]
        .map(|word| (word, word.to_owned()))
        .to_vec()
}

listed!(
    sexes of Sex,
    joints of Joint,
    modes of PacingMode,
    test_symptoms of ExerciseTestSymptom,
    props of Prop,
    screens of Screen,
    place_kinds of PlaceKind,
    test_places of TestPlace,
    felt of ExaminationSymptom,
    usual of SymptomKind,
    rhythms of Rhythm,
);

/// How the pressure answered an exercise test.
pub(super) fn responses() -> Choices {
    let words = |one: PressureResponse| match one {
        PressureResponse::Normal => "as it should",
        PressureResponse::Flat => "stayed flat",
        PressureResponse::Fall => "fell with load",
        PressureResponse::FallAfter => "severely low afterwards",
    };
    PressureResponse::ALL
        .iter()
        .map(|one| (one.word(), words(*one).to_owned()))
        .collect()
}

pub(super) fn events() -> Choices {
    EventKind::ALL
        .iter()
        .map(|one| (one.word(), phrases::event(*one).to_owned()))
        .collect()
}

pub(super) fn procedures() -> Choices {
    ProcedureKind::ALL
        .iter()
        .map(|one| (one.word(), phrases::procedure(*one).to_owned()))
        .collect()
}

pub(super) fn standings() -> Choices {
    StatusKind::ALL
        .iter()
        .map(|one| (one.word(), phrases::status(*one).to_owned()))
        .collect()
}

pub(super) fn scales() -> Choices {
    vec![
        ("0-10", "0 to 10".to_owned()),
        ("6-20", "6 to 20".to_owned()),
    ]
}

pub(super) fn aids() -> Choices {
    let label = |one: &WalkingAid| match one {
        WalkingAid::None => "no aid",
        WalkingAid::Stick => "a stick",
        WalkingAid::Frame => "a frame",
    };
    WalkingAid::ALL
        .iter()
        .map(|one| (one.word(), label(one).to_owned()))
        .collect()
}

/// The usual symptoms asked at the beginning.
pub(super) fn usual_few() -> Choices {
    const FEW: [SymptomKind; 6] = [
        SymptomKind::ChestDiscomfort,
        SymptomKind::Breathlessness,
        SymptomKind::Dizziness,
        SymptomKind::KneePain,
        SymptomKind::HipPain,
        SymptomKind::ShoulderPain,
    ];
    FEW.iter()
        .map(|one| (one.word(), one.word().replace('-', " ")))
        .collect()
}
