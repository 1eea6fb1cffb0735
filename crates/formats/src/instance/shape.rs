//! The keys of a composer problem. Slots and bits are counted from 0; METs stand in thousandths, so that nothing is
//! lost in writing them down.

use crate::shape::{Count, Field, Kind, LONG, SHORT, Shape, Within, words_of};
use rehab::programme::Posture;
use rehab::programme::composer::{Class, Repeats};

const MILLISECONDS: Kind = Kind::Whole(Within::new(0.0, 36_000_000.0, "ms"));
const MILLI_METS: Kind = Kind::Whole(Within::new(0.0, 50_000.0, "thousandths of a MET"));
const DOSE: Kind = Kind::Whole(Within::new(-9e15, 9e15, "thousandths of a MET times ms"));
const SLOT_NUMBER: Kind = Kind::Whole(Within::new(0.0, 63.0, ""));
const BIT: Kind = Kind::Whole(Within::new(0.0, 31.0, ""));
const THING: Kind = Kind::Whole(Within::new(0.0, 7.0, ""));
const SHORT_TEXT: Kind = Kind::Text(SHORT);

/// A composer problem.
pub static INSTANCE: Shape = Shape {
    name: "instance",
    about: "One problem of the composer: fill every slot with a candidate so that all rules hold and the objective is \
            highest. Objective: -1000000000000 for each step off the band of a cardiovascular station, 1000000000 for \
            each unit of benefit, -1000000 for each unit of novelty, -1000 for each change of place or thing, 1 for \
            each unit of variety.",
    fields: &[
        Field::needed(
            "slots",
            Kind::List(&Kind::Table(&SLOT), Count::up_to(64)),
            "stations in the order of the session",
        ),
        Field::needed(
            "candidates",
            Kind::List(&Kind::Table(&CANDIDATE), Count::up_to(5000)),
            "what can fill them",
        ),
        Field::new(
            "restrictions",
            Kind::List(&Kind::Table(&RESTRICTION), Count::up_to(64)),
            "restrictions that candidates name",
        ),
        Field::new(
            "pulse",
            Kind::Table(&PULSE),
            "pulse rule; left out without a pulse model or a hard ceiling",
        ),
        Field::new(
            "mean_mets_milli",
            MILLI_METS,
            "most for the time-weighted mean METs of each round",
        ),
        Field::needed(
            "dose",
            Kind::Table(&RANGE),
            "range of the dose of all stations: METs (low end) times time",
        ),
        Field::needed(
            "hypotensive",
            Kind::Flag,
            "needs slow changes of posture: never two running",
        ),
        Field::needed(
            "max_new",
            Kind::Whole(Within::new(0.0, 64.0, "")),
            "most new exercises",
        ),
        Field::needed(
            "repeats",
            Kind::Word(words_of::<Repeats>()),
            "whether movements may come twice in a round",
        ),
        Field::new(
            "pins",
            Kind::List(&Kind::Table(&PIN), Count::up_to(64)),
            "choices that must stand",
        ),
        Field::needed(
            "node_budget",
            Kind::Whole(Within::new(1.0, 1e15, "nodes")),
            "nodes after which the best found is handed back unproven",
        ),
    ],
    choice: None,
};

static SLOT: Shape = Shape {
    name: "slot",
    about: "One station to be filled.",
    fields: &[
        Field::needed("class", Kind::Word(words_of::<Class>()), "its class"),
        Field::needed("duration_ms", MILLISECONDS, "length"),
        Field::needed(
            "round",
            Kind::Whole(Within::new(1.0, 20.0, "")),
            "round, from 1",
        ),
        Field::needed(
            "before_ms",
            MILLISECONDS,
            "length of the change-over before it",
        ),
        Field::needed("before_mets_milli", MILLI_METS, "METs of that change-over"),
        Field::new(
            "same_as",
            SLOT_NUMBER,
            "the earlier slot whose station it repeats; left out where it is chosen",
        ),
    ],
    choice: None,
};

static CANDIDATE: Shape = Shape {
    name: "candidate",
    about: "One way of filling a station: a variant of an exercise at a place.",
    fields: &[
        Field::needed("id", SHORT_TEXT, "unique; ties are broken by it"),
        Field::needed("exercise", SHORT_TEXT, "exercise id"),
        Field::needed("variant", SHORT_TEXT, "variant id"),
        Field::needed(
            "alike",
            SHORT_TEXT,
            "name shared by exercises that are one movement",
        ),
        Field::needed(
            "classes",
            Kind::List(
                &Kind::Word(words_of::<Class>()),
                Count::up_to(2).each_once(),
            ),
            "classes it can serve",
        ),
        Field::needed(
            "off_band",
            Kind::Whole(Within::new(0.0, 99.0, "")),
            "steps by which it lies off the training band as a cardiovascular station; 0 is within it",
        ),
        Field::needed(
            "benefit",
            Kind::Whole(Within::new(0.0, 15.0, "")),
            "how far it meets needs and likes",
        ),
        Field::needed(
            "variety",
            Kind::Whole(Within::new(0.0, 9.0, "")),
            "a low wish",
        ),
        Field::needed("mets_milli", MILLI_METS, "METs, best estimate"),
        Field::needed("mets_low_milli", MILLI_METS, "METs, low end"),
        Field::needed(
            "hr_gain_milli",
            Kind::Whole(Within::new(0.0, 50_000.0, "thousandths")),
            "factor on the heart-rate rise",
        ),
        Field::needed(
            "muscles",
            Kind::List(&BIT, Count::up_to(32).each_once()),
            "numbers of its main muscle groups; work of the whole body has none",
        ),
        Field::needed(
            "place",
            Kind::Whole(Within::new(0.0, 255.0, "")),
            "number of its place in the order of the walk",
        ),
        Field::needed("posture", Kind::Word(words_of::<Posture>()), "posture"),
        Field::needed(
            "arms_above",
            Kind::Flag,
            "whether the hands go above the shoulder",
        ),
        Field::needed(
            "props",
            Kind::List(&THING, Count::up_to(8).each_once()),
            "numbers of the things in the hand",
        ),
        Field::needed(
            "new",
            Kind::Flag,
            "whether its exercise is new to the person",
        ),
        Field::needed(
            "novelty",
            Kind::Whole(Within::new(0.0, 9.0, "")),
            "how far it is from what the person does already; 0 is the same as before",
        ),
        Field::needed(
            "refused_by",
            Kind::List(&SHORT_TEXT, Count::up_to(64).each_once()),
            "ids of the restrictions that refuse it; empty where it may be used",
        ),
    ],
    choice: None,
};

static RESTRICTION: Shape = Shape {
    name: "restriction",
    about: "A restriction that refuses candidates.",
    fields: &[
        Field::needed("id", SHORT_TEXT, "id"),
        Field::needed("words", Kind::Text(LONG), "in words"),
    ],
    choice: None,
};

const RATE: Kind = Kind::Number(Within::new(-1000.0, 1000.0, "beats a minute"));

static PULSE: Shape = Shape {
    name: "pulse",
    about: "The mean of a first-order model stays at or under a rate at the end of every change-over and station: \
            rate(t) moves towards level_bpm + slope x gain x (METs - 1) with the time constant tau_s, plus a drift.",
    fields: &[
        Field::needed("level_bpm", RATE, "rate at rest"),
        Field::needed("slope", RATE, "rise for each MET"),
        Field::needed(
            "tau_s",
            Kind::Number(Within::new(0.1, 10_000.0, "s")),
            "time constant",
        ),
        Field::needed(
            "start_bpm",
            RATE,
            "rate at the beginning of the first change-over, without drift",
        ),
        Field::needed(
            "start_ms",
            MILLISECONDS,
            "time of that beginning in the session",
        ),
        Field::needed("drift_per_minute", RATE, "drift for each minute"),
        Field::needed(
            "drift_begins_s",
            Kind::Number(Within::new(0.0, 36_000.0, "s")),
            "when the drift begins in the session",
        ),
        Field::needed("most_bpm", RATE, "highest mean"),
    ],
    choice: None,
};

static RANGE: Shape = Shape {
    name: "dose",
    about: "Range of the dose: the sum over stations of METs (low end, thousandths) times length in ms.",
    fields: &[
        Field::needed("least", DOSE, "least"),
        Field::needed("most", DOSE, "most"),
    ],
    choice: None,
};

static PIN: Shape = Shape {
    name: "pin",
    about: "A choice that must stand.",
    fields: &[
        Field::new("slot", SLOT_NUMBER, "its slot; left out for anywhere"),
        Field::needed("exercise", SHORT_TEXT, "exercise id"),
        Field::new("variant", SHORT_TEXT, "variant id; left out for any"),
    ],
    choice: None,
};
