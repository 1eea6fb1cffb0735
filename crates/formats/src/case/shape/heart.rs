//! Keys of events, heart, history and medicines.

use crate::shape::{Count, Field, Kind, SHORT, Shape, Words, words_of};
use rehab::assessment::{EventKind, HistoryItem, PacingMode, ProcedureKind, Rhythm};

pub(super) static EVENT: Shape = Shape {
    name: "event",
    about: "One heart event.",
    fields: &[
        Field::needed("kind", Kind::Word(words_of::<EventKind>()), "what happened"),
        Field::new("date", Kind::Day, "when"),
        Field::new(
            "procedures",
            Kind::List(&Kind::Table(&PROCEDURE), Count::up_to(40)),
            "what was done",
        ),
        Field::new(
            "complicated",
            Kind::Flag,
            "whether its course was complicated",
        ),
        Field::new(
            "residual_disease",
            Kind::Flag,
            "whether untreated narrowing remains",
        ),
    ],
    choice: None,
};

static PROCEDURE: Shape = Shape {
    name: "procedure",
    about: "One procedure.",
    fields: &[
        Field::needed(
            "kind",
            Kind::Word(words_of::<ProcedureKind>()),
            "what was done",
        ),
        Field::new(
            "date",
            Kind::Day,
            "when; without it the day of its event counts",
        ),
        Field::new(
            "access",
            Kind::Word(Words {
                list: "access",
                all: access,
            }),
            "where the vessel was entered",
        ),
    ],
    choice: None,
};

fn access() -> Vec<&'static str> {
    vec!["wrist", "groin"]
}

pub(super) static HEART: Shape = Shape {
    name: "heart",
    about: "What is known of the heart.",
    fields: &[
        Field::new(
            "ejection_fraction_pct",
            Kind::Bound("ejection_fraction_pct"),
            "ejection fraction",
        ),
        Field::new("rhythm", Kind::Word(words_of::<Rhythm>()), "rhythm"),
        Field::new("device", Kind::Table(&DEVICE), "an implanted defibrillator"),
        Field::new(
            "pacemaker",
            Kind::Table(&PACEMAKER),
            "a pacemaker, or the pacing side of the device",
        ),
        Field::new(
            "haemoglobin_g_dl",
            Kind::Bound("haemoglobin_g_dl"),
            "haemoglobin",
        ),
    ],
    choice: None,
};

static DEVICE: Shape = Shape {
    name: "device",
    about: "An implanted defibrillator.",
    fields: &[
        Field::new(
            "kind",
            Kind::Word(Words {
                list: "device",
                all: device_kinds,
            }),
            "always icd",
        ),
        Field::new(
            "lowest_treated_bpm",
            Kind::Bound("lowest_treated_bpm"),
            "lowest rate at which it treats; without it there is no pulse ceiling and no signing",
        ),
        Field::new("last_shock", Kind::Day, "day of the last shock"),
        Field::new(
            "subcutaneous",
            Kind::Flag,
            "whether it lies under the skin outside the ribs",
        ),
    ],
    choice: None,
};

fn device_kinds() -> Vec<&'static str> {
    vec!["icd"]
}

static PACEMAKER: Shape = Shape {
    name: "pacemaker",
    about: "A pacemaker.",
    fields: &[
        Field::new("mode", Kind::Word(words_of::<PacingMode>()), "mode"),
        Field::new("base_bpm", Kind::Bound("base_bpm"), "base rate"),
        Field::new(
            "upper_tracking_bpm",
            Kind::Bound("upper_tracking_bpm"),
            "upper tracking rate",
        ),
        Field::new(
            "rate_response",
            Kind::Flag,
            "whether the rate follows activity",
        ),
        Field::new(
            "resynchronisation",
            Kind::Flag,
            "whether it resynchronises both ventricles",
        ),
    ],
    choice: None,
};

const HISTORY_WORDS: Kind = Kind::List(
    &Kind::Word(words_of::<HistoryItem>()),
    Count::up_to(100).each_once(),
);

pub(super) static HISTORY: Shape = Shape {
    name: "history",
    about: "What was asked of the history: one closed list of words; not listed is not known.",
    fields: &[
        Field::new("present", HISTORY_WORDS, "present"),
        Field::new("absent", HISTORY_WORDS, "asked and absent"),
        Field::new(
            "rest_absent",
            Kind::Text(SHORT),
            "answers every other word as absent: who said so and when",
        ),
        Field::new(
            "not_asked",
            HISTORY_WORDS,
            "not asked, whatever rest_absent says of the others",
        ),
        Field::new(
            "since",
            Kind::DaysByWord(words_of::<HistoryItem>()),
            "when something present began",
        ),
    ],
    choice: None,
};

pub(super) static MEDICINE: Shape = Shape {
    name: "medicine",
    about: "One medicine as it was given to us.",
    fields: &[
        Field::needed("name", Kind::Text(SHORT), "name as written"),
        Field::new("dose", Kind::Text(SHORT), "dose as written"),
        Field::new("since", Kind::Day, "taken since"),
        Field::new(
            "until",
            Kind::AnyDay,
            "taken until; left out, it is still taken",
        ),
        Field::new("times", Kind::Text(SHORT), "times of day as written"),
        Field::new("as_needed", Kind::Flag, "taken only when needed"),
    ],
    choice: None,
};

pub(super) static NITRATE: Shape = Shape {
    name: "nitrate",
    about: "The spray or tablet for chest discomfort.",
    fields: &[
        Field::new("prescribed", Kind::Flag, "whether it is prescribed"),
        Field::new("in_date", Kind::Flag, "whether it is in date"),
        Field::new("until", Kind::Day, "last day on which it is in date"),
        Field::new("taught", Kind::Flag, "whether its use was taught"),
    ],
    choice: None,
};
