//! The keys of a service file. A service may be stricter than the built-in set, and looser as far as the published rows
//! reach; where nothing is published the end of a range is ours (source `service-ours`).

use crate::case::shape::LANGUAGE;
use crate::shape::{Count, Field, Kind, LONG, SHORT, Shape, Within, words_of};
use rehab::assessment::EffortScale;
use rehab::service::{HomeConsequence, HrMaxPolicy, ScreeningSet, WeightGainRule};

// Source: acsm-getp (recalled): 40 to 80 per cent of reserve is the widest published band; uk-acpicr-bacpr ends at 70.
const RESERVE_MOST_PCT: f64 = 80.0;
// Source: uk-acpicr-bacpr: 40 to 60 per cent of reserve in high risk.
const RESERVE_MOST_HIGH_RISK_PCT: f64 = 60.0;
// Source: acsm-getp (recalled): 10 to 20 per cent a week.
const GROWTH_MOST_PCT: f64 = 20.0;
// Source: garber-2011: from 91 per cent of the peak on work is near the most there is.
const OF_PEAK_MOST_PCT: f64 = 90.0;
// Source: service-ours: moderate work begins at 3 METs (garber-2011); a little into it without any test, no further.
const WITHOUT_CAPACITY_MOST_METS: f64 = 4.0;
// Source: service-ours: angina new within a month is unstable (uk-phase-iv), so an examination is never older than that.
const EXAMINATION_MOST_DAYS: f64 = 30.0;
// Source: service-ours: nobody is unheard of for longer than a month, and an alert waits for no longer than a weekend.
const SILENT_MOST_DAYS: f64 = 30.0;
const ALERT_MOST_HOURS: f64 = 72.0;
// Source: thow-2006 (secondary): the warm-up ends within 20 of the training band, the cool-down within 10 of the rate before.
const WARM_UP_WITHIN: Kind = Kind::Number(Within::new(5.0, 20.0, "beats a minute"));
const COOL_DOWN_WITHIN: Kind = Kind::Number(Within::new(5.0, 10.0, "beats a minute"));
// Source: thow-2006 (secondary): an easy station lasts at most a minute.
const EASY_MOST_S: f64 = 60.0;

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
            Kind::Band(Within::new(0.0, RESERVE_MOST_PCT, "per cent")),
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
            Kind::Table(&EASY_TIMES),
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
            WARM_UP_WITHIN,
            "the warm-up ends within this of the training band",
        ),
        Field::new(
            "cool_down_within_bpm",
            COOL_DOWN_WITHIN,
            "the cool-down ends within this of the rate before exercise",
        ),
        Field::new(
            "examination_valid_days",
            days(1.0, EXAMINATION_MOST_DAYS),
            "days an examination counts",
        ),
        Field::new(
            "silent_after_days",
            days(1.0, SILENT_MOST_DAYS),
            "days without news after which a person is silent",
        ),
        Field::new(
            "alert_to_lead_hours",
            Kind::Whole(Within::new(1.0, ALERT_MOST_HOURS, "hours")),
            "hours after which an alert goes to the lead",
        ),
        Field::new(
            "growth_cap_pct",
            Kind::Number(Within::new(1.0, GROWTH_MOST_PCT, "per cent")),
            "greatest growth of the weekly dose",
        ),
        Field::new(
            "mets_without_capacity",
            Kind::Number(Within::new(1.5, WITHOUT_CAPACITY_MOST_METS, "METs")),
            "METs top without any measure of capacity",
        ),
        Field::new(
            "station_of_estimated_peak_pct",
            Kind::Number(Within::new(40.0, OF_PEAK_MOST_PCT, "per cent")),
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
    fields: &[
        Field::needed(
            "protocol",
            Kind::List(&Kind::Table(&NITRATE_STEP), Count::some(12)),
            "steps in order: doses, each waited for, and last the call for help",
        ),
        Field::new(
            "confirmed_by",
            Kind::Text(SHORT),
            "name and role of the lead who confirmed steps that differ from the published ones",
        ),
    ],
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

macro_rules! station_times {
    ($name:ident, $called:literal, $most_s:expr) => {
        static $name: Shape = Shape {
            name: $called,
            about: "Times of one kind of station in seconds.",
            fields: &[
                Field::needed("least_s", seconds(5.0, $most_s), "shortest"),
                Field::needed("first_s", seconds(5.0, $most_s), "at the start"),
                Field::needed("most_s", seconds(5.0, $most_s), "longest"),
            ],
            choice: None,
        };
    };
}

station_times!(STATION_TIMES, "station-times", 600.0);
station_times!(EASY_TIMES, "easy-station-times", EASY_MOST_S);

static CONSEQUENCES: Shape = Shape {
    name: "risk-consequences",
    about: "What each risk class leads to.",
    fields: &[
        Field::new("low", Kind::Table(&LOW), "low risk"),
        Field::new("moderate", Kind::Table(&MODERATE), "moderate risk"),
        Field::new("high", Kind::Table(&HIGH), "high risk"),
    ],
    choice: None,
};

/// What the class leads to: its name, the highest end of the band, the fewest watched sessions, the longest between calls.
macro_rules! consequence {
    ($name:ident, $called:literal, $most_pct:expr, $watched:literal, $call_days:literal) => {
        static $name: Shape = Shape {
            name: $called,
            about: "What one risk class leads to; what is left out keeps the built-in value.",
            fields: &[
                Field::new(
                    "home",
                    Kind::Word(words_of::<HomeConsequence>()),
                    "whether the programme may be done at home; never plainly in high risk",
                ),
                Field::new(
                    "reserve_high_pct",
                    Kind::Number(Within::new(20.0, $most_pct, "per cent")),
                    "upper end of the training band",
                ),
                Field::new(
                    "watched_sessions",
                    Kind::Whole(Within::new($watched, 36.0, "sessions")),
                    "sessions watched before any alone",
                ),
                Field::new(
                    "call_every_days",
                    days(1.0, $call_days),
                    "days between calls",
                ),
            ],
            choice: None,
        };
    };
}

// Source: service-ours for the fewest watched sessions (one, but in low risk) and the longest between calls.
consequence!(LOW, "low-risk-consequence", RESERVE_MOST_PCT, 0.0, 30.0);
consequence!(
    MODERATE,
    "moderate-risk-consequence",
    RESERVE_MOST_PCT,
    1.0,
    14.0
);
consequence!(
    HIGH,
    "high-risk-consequence",
    RESERVE_MOST_HIGH_RISK_PCT,
    1.0,
    7.0
);

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
