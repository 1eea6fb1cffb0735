//! The keys of a diary file.

use crate::case::shape::{EFFORT, ID};
use crate::shape::{Count, Field, Kind, LONG, SHORT, Shape, Within, Words, words_of};
use rehab::diary::{PulseMethod, SymptomKind};

/// A diary file.
pub static DIARY: Shape = Shape {
    name: "diary",
    about: "What one person really did; an entry id seen twice is one entry.",
    fields: &[
        Field::needed("case", ID, "id of the case whose diary it is"),
        Field::needed(
            "entries",
            Kind::List(&Kind::Table(&ENTRY), Count::up_to(5000)),
            "one per session or report",
        ),
    ],
    choice: None,
};

static ENTRY: Shape = Shape {
    name: "entry",
    about: "One session as it was done, or one report that none was.",
    fields: &[
        Field::needed("id", Kind::Text(SHORT), "seen twice it is one entry"),
        Field::needed("date", Kind::Day, "day of the session"),
        Field::new(
            "stage",
            Kind::Whole(Within::new(1.0, 1000.0, "")),
            "rung it was done on",
        ),
        Field::new("stations_planned", STATIONS, "stations that were planned"),
        Field::new("stations_done", STATIONS, "stations that were done"),
        Field::new(
            "effort",
            Kind::Table(&EFFORT),
            "effort at the hardest moment",
        ),
        Field::new(
            "symptoms",
            Kind::List(&Kind::Table(&SYMPTOM), Count::up_to(40)),
            "symptoms; empty is asked and none",
        ),
        Field::new(
            "pulses",
            Kind::List(&Kind::Table(&PULSE), Count::up_to(100)),
            "pulses",
        ),
        Field::new("joint_pain", Kind::Table(&JOINT_PAIN), "joints"),
        Field::new(
            "eased",
            Kind::List(&Kind::Text(SHORT), Count::up_to(100)),
            "exercises that were eased",
        ),
        Field::new("rested_s", Kind::WholeBound("rested_s"), "extra rest"),
        Field::new(
            "stopped_because",
            Kind::Text(LONG),
            "why it was stopped early",
        ),
        Field::new(
            "medicine_change",
            Kind::Text(LONG),
            "a change of medicine the person tells",
        ),
        Field::new("weight_kg", Kind::Bound("weight_kg"), "weight"),
        Field::new(
            "bp_mmhg",
            Kind::Pressure,
            "pressure, where the person takes it",
        ),
        Field::new("minutes", Kind::Bound("minutes"), "minutes it took"),
        Field::new("note", Kind::Text(LONG), "in their own words"),
    ],
    choice: None,
};

const STATIONS: Kind = Kind::Whole(Within::new(0.0, 120.0, "stations"));

static SYMPTOM: Shape = Shape {
    name: "symptom",
    about: "One symptom.",
    fields: &[
        Field::needed("kind", Kind::Word(words_of::<SymptomKind>()), "which"),
        Field::new(
            "usual",
            Kind::Flag,
            "whether the person says it was as usual",
        ),
        Field::new("score", Kind::Bound("score_0_10"), "0 to 10"),
        Field::new(
            "nitrate_used",
            Kind::Flag,
            "whether the spray or tablet was used for it",
        ),
    ],
    choice: None,
};

static PULSE: Shape = Shape {
    name: "pulse",
    about: "One pulse.",
    fields: &[
        Field::needed(
            "at",
            Kind::Form {
                pattern: "^(before|60-s-after|after-cool-down|end-of-station-([1-9]|[1-5][0-9]|60))$",
                check: super::read::check_moment,
            },
            "before, end-of-station-7, 60-s-after, after-cool-down",
        ),
        Field::needed("bpm", Kind::Bound("hr_bpm"), "rate"),
        Field::new(
            "how",
            Kind::Word(words_of::<PulseMethod>()),
            "how it was taken",
        ),
    ],
    choice: None,
};

static JOINT_PAIN: Shape = Shape {
    name: "joint-pain",
    about: "Joint pain with a session.",
    fields: &[
        Field::new(
            "during",
            Kind::Bound("score_0_10"),
            "0 to 10 during the session",
        ),
        Field::new(
            "next_morning",
            Kind::Either(&NEXT_MORNING, &Kind::Flag),
            "usual or worse; true is worse than usual",
        ),
    ],
    choice: None,
};

const NEXT_MORNING: Kind = Kind::Word(Words {
    list: "state of the joint next morning",
    all: next_morning,
});

fn next_morning() -> Vec<&'static str> {
    vec!["usual", "worse"]
}
