//! The keys of a service file. The ranges are wide on purpose (source `service-ours`): a service may be stricter
//! or looser than the built-in set, but not outside of what any session of this kind could be.

use crate::case::shape::LANGUAGE;
use crate::shape::{Count, Field, Kind, LONG, SHORT, Shape, Within, words_of};
use rehab::assessment::EffortScale;
use rehab::service::{HomeConsequence, HrMaxPolicy, ScreeningSet, WeightGainRule};

const PER_CENT: Within = Within::new(0.0, 100.0, "per cent");

/// A service file.
pub static SERVICE: Shape = Shape {
    name: "service",
    about: "What a service sets; what is left out keeps the built-in cautious value.",
    fields: &[
        Field::needed("name", Kind::Text(SHORT), "name of the service"),
        Field::new("language", LANGUAGE, "language of its words"),
        Field::new(
            "emergency",
            Kind::Table(&EMERGENCY),
            "emergency number and text; without it no pack is made",
        ),
        Field::new(
            "nitrate",
            Kind::Table(&NITRATE),
            "steps for the spray or tablet; without them the pack gives none",
        ),
        Field::new(
            "contact",
            Kind::Table(&CONTACT),
            "how the team is reached; without it no pack is made",
        ),
        Field::new(
            "effort_scale",
            Kind::Word(words_of::<EffortScale>()),
            "effort scale it uses",
        ),
        Field::new("effort_band", EFFORT, "effort to begin, on its scale"),
        Field::new(
            "effort_band_gentle",
            EFFORT,
            "effort in the first fortnight, in high risk and in heart failure",
        ),
        Field::new(
            "gentle_days",
            days(0.0, 90.0),
            "days of the gentle beginning",
        ),
        Field::new(
            "screening_set",
            Kind::Word(words_of::<ScreeningSet>()),
            "cut-offs on the day",
        ),
        Field::new(
            "weight_gain_rule",
            Kind::Word(words_of::<WeightGainRule>()),
            "gain of weight that holds the day: that of the set, or a printed variant",
        ),
        Field::new(
            "hr_max_policy",
            Kind::Word(words_of::<HrMaxPolicy>()),
            "which maximal heart rate applies without a test",
        ),
        Field::new(
            "hr_band_pct",
            Kind::Band(PER_CENT),
            "training band in per cent of heart-rate reserve",
        ),
        Field::new(
            "icd_margin_bpm",
            MARGIN,
            "below the lowest rate that a device treats",
        ),
        Field::new(
            "ischaemia_margin_bpm",
            MARGIN,
            "below the rate at which ischaemia begins",
        ),
        Field::new("warm_up_s", seconds(300.0, 1800.0), "warm-up"),
        Field::new("cool_down_s", seconds(300.0, 1800.0), "cool-down"),
        Field::new("session_max_s", seconds(600.0, 7200.0), "longest session"),
        Field::new(
            "cardiovascular_s",
            Kind::Table(&STATION_TIMES),
            "times of brisk stations",
        ),
        Field::new(
            "active_recovery_s",
            Kind::Table(&STATION_TIMES),
            "times of easy stations",
        ),
        Field::new(
            "warm_up_stretch_s",
            Kind::Table(&STATION_TIMES),
            "how long a warm-up stretch is held",
        ),
        Field::new(
            "changeover_s",
            seconds(0.0, 120.0),
            "walk from one place to the next",
        ),
        Field::new(
            "warm_up_within_bpm",
            MARGIN,
            "the warm-up ends within this of the training band",
        ),
        Field::new(
            "cool_down_within_bpm",
            MARGIN,
            "the cool-down ends within this of the rate before exercise",
        ),
        Field::new(
            "examination_valid_days",
            days(1.0, 90.0),
            "days an examination counts",
        ),
        Field::new(
            "silent_after_days",
            days(1.0, 90.0),
            "days without news after which a person is silent",
        ),
        Field::new(
            "alert_to_lead_hours",
            Kind::Whole(Within::new(1.0, 336.0, "hours")),
            "hours after which an alert goes to the lead",
        ),
        Field::new(
            "growth_cap_pct",
            Kind::Number(Within::new(1.0, 50.0, "per cent")),
            "greatest growth of the weekly dose",
        ),
        Field::new(
            "mets_without_capacity",
            Kind::Number(Within::new(1.5, 5.0, "METs")),
            "METs top without any measure of capacity",
        ),
        Field::new(
            "station_of_estimated_peak_pct",
            Kind::Number(Within::new(40.0, 100.0, "per cent")),
            "share of an estimated peak that one station may reach",
        ),
        Field::new(
            "risk_consequences",
            Kind::Table(&CONSEQUENCES),
            "what each risk class leads to",
        ),
        Field::new(
            "medicine_names",
            Kind::List(&Kind::Table(&MEDICINE_NAME), Count::up_to(2000)),
            "local names of medicines",
        ),
        Field::new(
            "adopted",
            Kind::Table(&ADOPTED),
            "who adopted these settings; before, only invented people can be signed for",
        ),
    ],
    choice: None,
};

const EFFORT: Kind = Kind::Band(Within::new(0.0, 20.0, ""));
// Sources: pernick-icd (a margin of 10 under the treated rate), acsm-getp (10 under the ischaemic rate): never less.
const MARGIN: Kind = Kind::Number(Within::new(10.0, 60.0, "beats a minute"));

const fn days(low: f64, high: f64) -> Kind {
    Kind::Whole(Within::new(low, high, "days"))
}

const fn seconds(low: f64, high: f64) -> Kind {
    Kind::Whole(Within::new(low, high, "s"))
}

static EMERGENCY: Shape = Shape {
    name: "emergency",
    about: "How a person reaches help: the service's own number and words.",
    fields: &[
        Field::needed("number", Kind::Text(40), "number to ring"),
        Field::needed("text", Kind::Text(LONG), "the service's own text"),
    ],
    choice: None,
};

static NITRATE: Shape = Shape {
    name: "nitrate-protocol",
    about: "The service's own steps for the spray or tablet.",
    fields: &[Field::needed(
        "protocol",
        Kind::List(&Kind::Table(&NITRATE_STEP), Count::some(12)),
        "steps in order",
    )],
    choice: None,
};

static NITRATE_STEP: Shape = Shape {
    name: "nitrate-step",
    about: "One step.",
    fields: &[
        Field::needed(
            "text",
            Kind::Text(LONG),
            "what to do, in the service's words",
        ),
        Field::needed("wait_s", seconds(0.0, 1800.0), "wait before the next step"),
    ],
    choice: None,
};

static CONTACT: Shape = Shape {
    name: "contact",
    about: "How the team is reached.",
    fields: &[
        Field::needed("name", Kind::Text(SHORT), "name of the team"),
        Field::needed("telephone", Kind::Text(SHORT), "telephone"),
        Field::needed("hours", Kind::Text(SHORT), "hours"),
        Field::new("out_of_hours", Kind::Text(LONG), "what to do out of hours"),
    ],
    choice: None,
};

static STATION_TIMES: Shape = Shape {
    name: "station-times",
    about: "Times of one kind of station in seconds.",
    fields: &[
        Field::needed("least_s", seconds(5.0, 600.0), "shortest"),
        Field::needed("first_s", seconds(5.0, 600.0), "at the start"),
        Field::needed("most_s", seconds(5.0, 600.0), "longest"),
    ],
    choice: None,
};

static CONSEQUENCES: Shape = Shape {
    name: "risk-consequences",
    about: "What each risk class leads to.",
    fields: &[
        Field::new("low", Kind::Table(&CONSEQUENCE), "low risk"),
        Field::new("moderate", Kind::Table(&CONSEQUENCE), "moderate risk"),
        Field::new("high", Kind::Table(&CONSEQUENCE), "high risk"),
    ],
    choice: None,
};

static CONSEQUENCE: Shape = Shape {
    name: "risk-consequence",
    about: "What one risk class leads to; what is left out keeps the built-in value.",
    fields: &[
        Field::new(
            "home",
            Kind::Word(words_of::<HomeConsequence>()),
            "whether the programme may be done at home",
        ),
        Field::new(
            "reserve_high_pct",
            Kind::Number(Within::new(20.0, 100.0, "per cent")),
            "upper end of the training band",
        ),
        Field::new(
            "watched_sessions",
            Kind::Whole(Within::new(0.0, 36.0, "sessions")),
            "sessions watched before any alone",
        ),
        Field::new("call_every_days", days(1.0, 90.0), "days between calls"),
    ],
    choice: None,
};

static MEDICINE_NAME: Shape = Shape {
    name: "medicine-name",
    about: "A local name of a medicine.",
    fields: &[
        Field::needed("name", Kind::Text(SHORT), "local name"),
        Field::needed(
            "inn",
            Kind::Text(SHORT),
            "international non-proprietary name",
        ),
    ],
    choice: None,
};

static ADOPTED: Shape = Shape {
    name: "adopted",
    about: "Who adopted these settings and when.",
    fields: &[
        Field::needed("by", Kind::Text(SHORT), "name and role of the lead"),
        Field::needed("date", Kind::OtherDay, "when"),
    ],
    choice: None,
};
