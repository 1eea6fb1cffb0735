//! The sections by which a case is widened as facts come.

use super::ask::{Added, Ask, Form, Kind, Part};
use super::{path, words};
use crate::phrases::sentence;
use formats::tree::Table;

/// A section: its word in addresses, its title, and its form for a case as it is known.
pub(crate) struct Section {
    pub(crate) word: &'static str,
    pub(crate) title: &'static str,
    pub(crate) form: fn(&Table) -> Form,
}

/// Every section in the order of an assessment.
pub(crate) static SECTIONS: [Section; 10] = [
    Section {
        word: "examination",
        title: "Examination of today",
        form: |_| examination(),
    },
    Section {
        word: "history",
        title: "History",
        form: |_| super::history::history(),
    },
    Section {
        word: "medicines",
        title: "Medicines and spray",
        form: |_| medicines(),
    },
    Section {
        word: "tests",
        title: "Tests",
        form: |_| super::tested::tested(),
    },
    Section {
        word: "home",
        title: "Home and its places",
        form: super::home::home,
    },
    Section {
        word: "wishes",
        title: "Wishes",
        form: |_| super::home::wishes(),
    },
    Section {
        word: "function",
        title: "Walking, falls, usual symptoms",
        form: super::home::function,
    },
    Section {
        word: "heart",
        title: "Heart and devices",
        form: |_| heart(),
    },
    Section {
        word: "events",
        title: "Events and agreement",
        form: events,
    },
    Section {
        word: "person",
        title: "Person",
        form: |_| person(),
    },
];

const EXAMINATION: &[Added] = &[Added {
    list: "examination",
    mark: "today",
    fixed: &[],
}];

fn form(title: &'static str, lead: &'static str, parts: Vec<Part>) -> Form {
    Form {
        title,
        lead,
        parts,
        added: &[],
        rows: &[],
    }
}

fn part(title: &'static str, about: &'static str, asks: Vec<Ask>) -> Part {
    Part {
        title,
        about,
        sources: Vec::new(),
        asks,
    }
}

fn examination() -> Form {
    let at = |key: &str| format!("examination[today].{key}");
    let measured = vec![
        Ask::new(at("date"), "Day", Kind::Day).hint("Left empty: today"),
        Ask::new(at("resting_bp_mmhg"), "Pressure, seated", Kind::Pressure).hint("mmHg, as 128/74"),
        Ask::new(at("standing_bp_mmhg"), "Pressure, standing", Kind::Pressure)
            .hint("Within 3 minutes of standing"),
        Ask::new(at("resting_hr_bpm"), "Pulse at rest", Kind::Number).hint("A minute"),
        Ask::new(at("pulse_regular"), "Pulse regular", Kind::YesNo),
        Ask::new(at("spo2_pct"), "Oxygen", Kind::Number).hint("Per cent"),
        Ask::new(at("weight_kg"), "Weight", Kind::Number).hint("kg"),
        Ask::new(at("temperature_c"), "Temperature", Kind::Number).hint("Only when unwell"),
        Ask::new(at("glucose_mmol_l"), "Glucose", Kind::Number).hint("mmol/L, in diabetes"),
        Ask::new(at("ketones_mmol_l"), "Ketones", Kind::Number)
            .hint("mmol/L, when glucose is high"),
        Ask::new(at("nyha"), "Functional class", Kind::Number).hint("1 to 4"),
        Ask::new(at("oedema"), "Swelling of the legs", Kind::YesNo),
    ];
    let told = vec![Ask::new(
        at("symptoms"),
        "Symptoms today",
        Kind::Ticks {
            of: words::felt(),
            none: Some("asked, and none of these"),
        },
    )];
    Form {
        added: EXAMINATION,
        ..form(
            "Examination of today",
            "It counts for the days that the service set; an event, an admission or a change of medicine ends it.",
            vec![
                part(
                    "Measured",
                    "Seated for five minutes, back supported, arm at the height of the heart.",
                    measured,
                ),
                part(
                    "Told",
                    "Asked and absent is an answer; not asked is not.",
                    told,
                ),
            ],
        )
    }
}

fn medicines() -> Form {
    let list = vec![Ask::new("medicine", "Medicines", Kind::Medicines)
        .hint("One on a line: name, dose, and since when after a change: bisoprolol 2.5 mg since 2026-08-31")];
    let spray = vec![
        Ask::new(
            "nitrate.prescribed",
            "Spray or tablet prescribed",
            Kind::YesNo,
        ),
        Ask::new("nitrate.in_date", "In date, seen", Kind::YesNo),
        Ask::new("nitrate.until", "Last day in date", Kind::Day),
        Ask::new("nitrate.taught", "Its use was taught", Kind::YesNo),
    ];
    form(
        "Medicines and spray",
        "A change voids the examination; a slower heart ends the comparison of tests.",
        vec![
            part(
                "Medicines",
                "A name that is not recognised is asked about. Local names are kept under Service.",
                list,
            ),
            part("For the chest", "", spray),
        ],
    )
}

fn heart() -> Form {
    let heart = vec![
        Ask::new("heart.rhythm", "Rhythm", Kind::Choice(words::rhythms())),
        Ask::new(
            "heart.ejection_fraction_pct",
            "Ejection fraction",
            Kind::Number,
        )
        .hint("Per cent"),
        Ask::new("heart.haemoglobin_g_dl", "Haemoglobin", Kind::Number)
            .hint("g/dL, in heart failure"),
    ];
    let device = vec![
        Ask::new("heart.device", "Device", Kind::Device),
        Ask::new(
            "heart.device.lowest_treated_bpm",
            "Lowest rate it treats, a minute",
            Kind::Number,
        )
        .hint("Without it no pulse limit and no signature"),
        Ask::new("heart.device.last_shock", "Last shock", Kind::Day),
        Ask::new(
            "heart.device.subcutaneous",
            "Defibrillator under the skin, outside the ribs",
            Kind::YesNo,
        ),
        Ask::new(
            "heart.pacemaker.mode",
            "Pacing mode",
            Kind::Choice(words::modes()),
        ),
        Ask::new(
            "heart.pacemaker.base_bpm",
            "Base rate, a minute",
            Kind::Number,
        ),
        Ask::new(
            "heart.pacemaker.upper_tracking_bpm",
            "Upper tracking rate, a minute",
            Kind::Number,
        ),
        Ask::new(
            "heart.pacemaker.rate_response",
            "Rate follows activity",
            Kind::YesNo,
        ),
        Ask::new(
            "heart.pacemaker.resynchronisation",
            "Paces both ventricles together",
            Kind::YesNo,
        ),
    ];
    form(
        "Heart and devices",
        "From the letter or the device card.",
        vec![part("Heart", "", heart), part("Device", "", device)],
    )
}

fn events(known: &Table) -> Form {
    let rows = path::count(known, "event") + 1;
    let mut parts: Vec<Part> = (1..=rows).map(|row| event(known, row)).collect();
    parts.push(part(
        "Agreement",
        "A high-risk person's programme needs it; one from before the newest event does not count.",
        vec![
            Ask::new(
                "agreement.doctor",
                "Who agreed to exercise at home",
                Kind::Text,
            ),
            Ask::new("agreement.date", "On", Kind::Day),
        ],
    ));
    Form {
        rows: &["event"],
        ..form(
            "Events and agreement",
            "The newest event is the reason for referral; a new one voids the examination.",
            parts,
        )
    }
}

fn event(known: &Table, row: usize) -> Part {
    let at = |key: &str| format!("event[{row}].{key}");
    let mut made = part(
        if row == 1 { "Event" } else { "Another" },
        "",
        vec![
            Ask::new(at("kind"), "Heart event", Kind::Choice(words::events())),
            Ask::new(at("date"), "On", Kind::Day),
            Ask::new(
                at("procedures"),
                "What was done",
                Kind::Kinds(words::procedures()),
            ),
            Ask::new(at("complicated"), "Complicated course", Kind::YesNo),
            Ask::new(
                at("residual_disease"),
                "Untreated narrowing remains",
                Kind::YesNo,
            ),
        ],
    );
    let done = path::count(known, &at("procedures"));
    made.asks.extend(
        (1..=done).flat_map(|place| procedure(known, &at(&format!("procedures[{place}]")))),
    );
    made
}

/// Day and way in of what was done, once it is written down.
fn procedure(known: &Table, at: &str) -> Vec<Ask> {
    let kind = path::text(known, &format!("{at}.kind")).unwrap_or_default();
    let called = words::procedures()
        .into_iter()
        .find(|(word, _)| *word == kind)
        .map_or_else(|| kind.to_owned(), |(_, label)| label);
    let called = sentence(&called);
    let mut asks = vec![
        Ask::new(format!("{at}.date"), format!("{called}, on"), Kind::Day)
            .hint("Left empty: the day of the event"),
    ];
    if kind == "stent" {
        let label = format!("{called}, through");
        asks.push(Ask::new(
            format!("{at}.access"),
            label,
            Kind::Choice(words::access()),
        ));
    }
    asks
}

fn person() -> Form {
    let who = vec![
        Ask::new("person.name", "Full name", Kind::Text),
        Ask::new("person.called", "Wants to be called", Kind::Text),
        Ask::new("person.born", "Born", Kind::Day),
        Ask::new("person.sex", "Sex", Kind::Choice(words::sexes())).hint("For equations only"),
        Ask::new("person.height_cm", "Height", Kind::Number).hint("cm"),
        Ask::new("person.weight_kg", "Weight", Kind::Number)
            .hint("kg; an examination's weight is newer"),
    ];
    let reached = vec![
        Ask::new("person.telephones", "Telephone", Kind::Commas)
            .hint("Best first, divided by commas"),
        Ask::new(
            "person.emergency_contact",
            "Whom to ring for the person",
            Kind::Text,
        ),
        Ask::new("person.doctor", "Doctor", Kind::Text),
        Ask::new("person.address", "Address", Kind::Text),
    ];
    let helped = vec![
        Ask::new("person.hearing", "Hearing", Kind::Text),
        Ask::new("person.sight", "Sight", Kind::Text),
        Ask::new("person.reading", "Reading", Kind::Text),
        Ask::new("person.memory", "Memory", Kind::Text),
        Ask::new("person.interpreter", "Interpreter", Kind::Text),
        Ask::new("person.language", "Language", Kind::Text).hint("As en-GB"),
        Ask::new("person.consent", "Consent", Kind::Text).hint("As recorded"),
    ];
    form(
        "Person",
        "Height and weight are for the walking tests; the rest is for talking with each other.",
        vec![
            part("Who", "", who),
            part("Reached", "", reached),
            part("To mind", "", helped),
        ],
    )
}
