//! The home with its places, the wishes, walking and usual symptoms.

use super::ask::{Ask, Form, Kind, Part};
use super::{path, words};
use formats::tree::Table;

/// Free rows offered beyond what is known.
const FREE: usize = 2;

/// The home, a row of questions for each place.
pub(super) fn home(known: &Table) -> Form {
    let rows = path::count(known, "home.place").max(1) + FREE;
    let mut parts = vec![Part {
        title: "Home",
        about: "",
        sources: Vec::new(),
        asks: vec![
            Ask::new("home.telephone", "Telephone in reach", Kind::YesNo),
            Ask::new(
                "home.alone_when_exercising",
                "Alone when exercising",
                Kind::YesNo,
            ),
            Ask::new(
                "home.screen",
                "Screens",
                Kind::Ticks {
                    of: words::screens(),
                    none: None,
                },
            ),
            Ask::new(
                "home.props",
                "Things at hand",
                Kind::Ticks {
                    of: words::props(),
                    none: None,
                },
            ),
        ],
    }];
    parts.extend((1..=rows).map(place));
    Form {
        title: "Home and its places",
        lead: "In the order of the walk. The name is the person's own; it stands on their page.",
        parts,
        added: &[],
        rows: &["home.place"],
    }
}

fn place(row: usize) -> Part {
    const TITLES: [&str; 8] = [
        "First place",
        "Second",
        "Third",
        "Fourth",
        "Fifth",
        "Sixth",
        "Seventh",
        "Eighth",
    ];
    let at = |key: &str| format!("home.place[{row}].{key}");
    Part {
        title: TITLES.get(row - 1).copied().unwrap_or("Further"),
        about: "",
        sources: Vec::new(),
        asks: vec![
            Ask::new(at("name"), "Name", Kind::Text),
            Ask::new(at("kind"), "It is a", Kind::Choice(words::place_kinds())),
            Ask::new(at("seat_cm"), "Seat height", Kind::Number).hint("cm, of a chair"),
            Ask::new(at("arms"), "Chair with arms", Kind::YesNo),
            Ask::new(at("height_cm"), "Step height", Kind::Number).hint("cm, of a step"),
            Ask::new(at("rail"), "Rail", Kind::YesNo),
        ],
    }
}

/// What the person wants and has.
pub(super) fn wishes() -> Form {
    Form {
        title: "Wishes",
        lead: "Sessions that suit are done; the goal is what the brisk turns are named after.",
        parts: vec![Part {
            title: "Wishes",
            about: "",
            sources: Vec::new(),
            asks: vec![
                Ask::new(
                    "wishes.goal",
                    "What the person wants to do again",
                    Kind::Text,
                )
                .wide(),
                Ask::new(
                    "wishes.sessions_per_week",
                    "Sessions a week that suit",
                    Kind::Number,
                ),
                Ask::new("wishes.likes", "Likes", Kind::Commas).hint("As: walking, dancing"),
                Ask::new("wishes.dislikes", "Dislikes", Kind::Commas),
                Ask::new("wishes.weights_g", "Weights at hand", Kind::Numbers)
                    .hint("Grams, each piece: 415, 415"),
                Ask::new(
                    "wishes.pulse_counting",
                    "Can and wants to count the pulse",
                    Kind::YesNo,
                ),
            ],
        }],
        added: &[],
        rows: &[],
    }
}

/// Walking, falls, usual symptoms and sore joints.
pub(super) fn function(known: &Table) -> Form {
    let symptoms = path::count(known, "usual_symptom") + FREE;
    let joints = path::count(known, "pain") + 1;
    let mut parts = vec![Part {
        title: "Walking",
        about: "",
        sources: Vec::new(),
        asks: vec![
            Ask::new("function.aid", "Walks with", Kind::Choice(words::aids())),
            Ask::new(
                "function.falls_12_months",
                "Falls in the last 12 months",
                Kind::Number,
            ),
        ],
    }];
    parts.push(Part {
        title: "Usual symptoms",
        about: "What is normal for this person; only what is worse or new counts as changed.",
        sources: Vec::new(),
        asks: (1..=symptoms)
            .flat_map(|row| {
                [
                    Ask::new(
                        format!("usual_symptom[{row}].kind"),
                        "Usual symptom",
                        Kind::Choice(words::usual()),
                    ),
                    Ask::new(
                        format!("usual_symptom[{row}].score"),
                        "As usual, 0 to 10",
                        Kind::Number,
                    ),
                ]
            })
            .collect(),
    });
    parts.push(Part {
        title: "Joints",
        about: "A sore joint changes the exercise, never the heart programme.",
        sources: Vec::new(),
        asks: (1..=joints)
            .flat_map(|row| {
                let at = |key: &str| format!("pain[{row}].{key}");
                [
                    Ask::new(at("joint"), "Joint", Kind::Choice(words::joints())),
                    Ask::new(at("during"), "During exercise, 0 to 10", Kind::Number),
                    Ask::new(at("settled_2h"), "Settled within 2 hours", Kind::YesNo),
                    Ask::new(at("worse_next_morning"), "Worse next morning", Kind::YesNo),
                ]
            })
            .collect(),
    });
    Form {
        title: "Walking, falls, usual symptoms",
        lead: "Asked once, and again when something changes.",
        parts,
        added: &[],
        rows: &["usual_symptom", "pain"],
    }
}
