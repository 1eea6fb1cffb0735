//! Keys of tests and questionnaires.

use super::contact::EFFORT;
use crate::shape::{Choice, Count, Field, Kind, Shape, Within, Words, words_of};
use rehab::assessment::{ExerciseTestSymptom, PressureResponse, TestPlace, WalkingAid};

const COUNT: &[Field] = &[Field::needed(
    "count",
    Kind::Bound("count"),
    "full repetitions",
)];

const SECONDS: &[Field] = &[Field::needed("seconds", Kind::Bound("seconds"), "time")];

const WALK: &[Field] = &[
    Field::needed("distance_m", Kind::Bound("distance_m"), "distance walked"),
    Field::new("course_m", Kind::Bound("course_m"), "length of the course"),
];

const ANSWERS_0_TO_3: Kind = Kind::Whole(Within::new(0.0, 3.0, ""));

const ANSWERS_0_TO_5: Kind = Kind::Whole(Within::new(0.0, 5.0, ""));

const PHQ_9: &[Field] = &[Field::needed(
    "answers",
    Kind::List(&ANSWERS_0_TO_3, Count::exactly(9)),
    "nine answers, each 0 to 3",
)];

const GAD_7: &[Field] = &[Field::needed(
    "answers",
    Kind::List(&ANSWERS_0_TO_3, Count::exactly(7)),
    "seven answers, each 0 to 3",
)];

const WHO_5: &[Field] = &[Field::needed(
    "answers",
    Kind::List(&ANSWERS_0_TO_5, Count::exactly(5)),
    "five answers, each 0 to 5",
)];

pub(super) static TEST: Shape = Shape {
    name: "test",
    about: "One test with the conditions that make it comparable.",
    fields: &[
        Field::new("date", Kind::Day, "day of the test"),
        Field::new(
            "place",
            Kind::Word(words_of::<TestPlace>()),
            "where it was taken",
        ),
        Field::new(
            "aid",
            Kind::Word(words_of::<WalkingAid>()),
            "walking aid used during it",
        ),
        Field::new("effort", Kind::Table(&EFFORT), "effort at its end"),
        Field::new(
            "beta_blocked",
            Kind::Flag,
            "whether a beta-blocker was working during it",
        ),
    ],
    choice: Some(Choice {
        key: "kind",
        list: "test",
        cases: &[
            ("exercise-test", EXERCISE_TEST),
            ("two-minute-step", COUNT),
            ("six-minute-walk", WALK),
            ("shuttle-walk", WALK),
            ("step", STEP),
            ("chair-stand-30s", COUNT),
            ("sit-to-stand-1min", COUNT),
            ("five-sit-to-stand", SECONDS),
            ("timed-up-and-go", SECONDS),
            ("gait-4m", SECONDS),
            ("activity-status", ACTIVITY),
            ("phq-9", PHQ_9),
            ("gad-7", GAD_7),
            ("who-5", WHO_5),
        ],
    }),
};

const ACTIVITY: &[Field] = &[Field::needed(
    "yes",
    Kind::List(
        &Kind::Whole(Within::new(1.0, 12.0, "")),
        Count::up_to(12).each_once(),
    ),
    "numbers 1 to 12 of the items answered yes",
)];

const STAGE: Kind = Kind::Table(&STEP_STAGE);

const STEP: &[Field] = &[
    Field::needed(
        "step_height_m",
        Kind::Bound("step_height_m"),
        "height of the step",
    ),
    Field::needed(
        "stages",
        Kind::List(&STAGE, Count::some(10)),
        "one reading per stage, lowest first",
    ),
];

static STEP_STAGE: Shape = Shape {
    name: "step-stage",
    about: "One stage of a step test.",
    fields: &[
        Field::needed("hr_bpm", Kind::Bound("hr_bpm"), "heart rate at its end"),
        Field::new(
            "effort",
            Kind::Number(Within::new(0.0, 20.0, "")),
            "effort at its end, on the scale of the test",
        ),
    ],
    choice: None,
};

const EXERCISE_TEST: &[Field] = &[
    Field::new("peak_hr_bpm", Kind::Bound("peak_hr_bpm"), "peak heart rate"),
    Field::new("peak_mets", Kind::Bound("peak_mets"), "peak capacity"),
    Field::new(
        "symptoms",
        Kind::List(
            &Kind::Word(words_of::<ExerciseTestSymptom>()),
            Count::up_to(40).each_once(),
        ),
        "symptoms; empty is none",
    ),
    Field::new(
        "symptom_mets",
        Kind::Bound("symptom_mets"),
        "load at which the first symptom came",
    ),
    Field::new(
        "symptom_in_recovery",
        Kind::Flag,
        "whether a symptom came in recovery",
    ),
    Field::new(
        "arrhythmia",
        Kind::Flag,
        "complex ventricular arrhythmia in test or recovery",
    ),
    Field::new(
        "ischaemia_hr_bpm",
        Kind::Bound("ischaemia_hr_bpm"),
        "heart rate at the start of angina or of 1 mm ST depression",
    ),
    Field::new(
        "st_depression_mm",
        Kind::Bound("st_depression_mm"),
        "ST depression; 0 is none",
    ),
    Field::new(
        "bp_response",
        Kind::Word(words_of::<PressureResponse>()),
        "how the pressure answered the load; fall-after is severely low pressure after it",
    ),
    Field::new(
        "chronotropic_incompetence",
        Kind::Flag,
        "whether the heart rate failed to rise as expected",
    ),
    Field::new(
        "hr_recovery_1min_bpm",
        Kind::Bound("hr_recovery_1min_bpm"),
        "fall of heart rate in the first minute",
    ),
    Field::new(
        "mode",
        Kind::Word(Words {
            list: "way of testing",
            all: test_modes,
        }),
        "what was used",
    ),
];

fn test_modes() -> Vec<&'static str> {
    vec!["treadmill", "cycle"]
}
