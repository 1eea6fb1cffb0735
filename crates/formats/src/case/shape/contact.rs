//! Keys of examinations, effort, what was watched and what hurts.

use crate::shape::{Choice, Count, Field, Kind, SHORT, Shape, Within, words_of};
use rehab::assessment::{ExaminationSymptom, Joint, Support, Technique};
use rehab::diary::SymptomKind;

pub(super) static EXAMINATION: Shape = Shape {
    name: "examination",
    about: "What was measured and asked at one contact.",
    fields: &[
        Field::needed("date", Kind::Day, "day of the contact"),
        Field::new(
            "nyha",
            Kind::Whole(Within::new(1.0, 4.0, "")),
            "functional class I to IV as 1 to 4",
        ),
        Field::new(
            "resting_hr_bpm",
            Kind::Bound("resting_hr_bpm"),
            "resting heart rate",
        ),
        Field::new("pulse_regular", Kind::Flag, "whether the pulse was regular"),
        Field::new(
            "resting_bp_mmhg",
            Kind::Pressure,
            "resting pressure, seated",
        ),
        Field::new(
            "standing_bp_mmhg",
            Kind::Pressure,
            "pressure within 3 minutes of standing",
        ),
        Field::new("spo2_pct", Kind::Bound("spo2_pct"), "oxygen saturation"),
        Field::new("weight_kg", Kind::Bound("weight_kg"), "weight"),
        Field::new("temperature_c", Kind::Bound("temperature_c"), "temperature"),
        Field::new("glucose_mmol_l", Kind::Bound("glucose_mmol_l"), "glucose"),
        Field::new("ketones_mmol_l", Kind::Bound("ketones_mmol_l"), "ketones"),
        Field::new("oedema", Kind::Flag, "swelling of the legs"),
        Field::new(
            "symptoms",
            Kind::List(
                &Kind::Word(words_of::<ExaminationSymptom>()),
                Count::up_to(40).each_once(),
            ),
            "symptoms; empty is asked and none",
        ),
    ],
    choice: None,
};

/// An effort with its scale: the scale decides which values there are.
pub(crate) static EFFORT: Shape = Shape {
    name: "effort",
    about: "An effort reading with the scale it was asked on; scales are never converted in silence.",
    fields: &[],
    choice: Some(Choice {
        key: "scale",
        list: "effort scale",
        cases: &[
            (
                "0-10",
                &[Field::needed(
                    "value",
                    Kind::Bound("effort_0_10"),
                    "0 to 10",
                )],
            ),
            (
                "6-20",
                &[Field::needed(
                    "value",
                    Kind::Bound("effort_6_20"),
                    "6 to 20",
                )],
            ),
        ],
    }),
};

pub(super) static WATCHED: Shape = Shape {
    name: "watched",
    about: "One exercise that a practitioner watched this person do.",
    fields: &[
        Field::needed("date", Kind::Day, "day"),
        Field::needed("exercise", Kind::Text(SHORT), "exercise id"),
        Field::needed("variant", Kind::Text(SHORT), "variant id"),
        Field::new("effort", Kind::Table(&EFFORT), "effort at its end"),
        Field::new("hr_bpm", Kind::Bound("hr_bpm"), "pulse at its end"),
        Field::new("bp_mmhg", Kind::Pressure, "pressure at its end"),
        Field::needed(
            "technique",
            Kind::Word(words_of::<Technique>()),
            "how it looked",
        ),
        Field::new("support", Kind::Word(words_of::<Support>()), "support used"),
        Field::new(
            "symptoms",
            Kind::List(
                &Kind::Word(words_of::<SymptomKind>()),
                Count::up_to(20).each_once(),
            ),
            "what was felt in the session; empty is asked and none",
        ),
    ],
    choice: None,
};

pub(super) static PAIN: Shape = Shape {
    name: "pain",
    about: "A joint that hurts.",
    fields: &[
        Field::new(
            "joint",
            Kind::Word(words_of::<Joint>()),
            "which joint; left out where only the exercise was told",
        ),
        Field::new(
            "during",
            Kind::Bound("score_0_10"),
            "0 to 10 during exercise",
        ),
        Field::new(
            "settled_2h",
            Kind::Flag,
            "whether it had settled within 2 hours after exercise",
        ),
        Field::new(
            "worse_next_morning",
            Kind::Flag,
            "whether it is worse than usual next morning",
        ),
        Field::new("date", Kind::Day, "day it was asked"),
        Field::new(
            "exercise",
            Kind::Text(SHORT),
            "the exercise during which it hurt",
        ),
    ],
    choice: None,
};
