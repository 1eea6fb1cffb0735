//! Tests of capacity and function that were done: each one answered is added with its day.

use super::ask::{Added, Ask, Form, Kind, Part};
use super::words;

const ADDED: &[Added] = &[
    Added {
        list: "test",
        mark: "exercise",
        fixed: &[("kind", "exercise-test")],
    },
    Added {
        list: "test",
        mark: "walk",
        fixed: &[("kind", "six-minute-walk")],
    },
    Added {
        list: "test",
        mark: "shuttle",
        fixed: &[("kind", "shuttle-walk")],
    },
    Added {
        list: "test",
        mark: "step",
        fixed: &[("kind", "two-minute-step")],
    },
    Added {
        list: "test",
        mark: "stands",
        fixed: &[("kind", "chair-stand-30s")],
    },
    Added {
        list: "test",
        mark: "five",
        fixed: &[("kind", "five-sit-to-stand")],
    },
    Added {
        list: "test",
        mark: "up-and-go",
        fixed: &[("kind", "timed-up-and-go")],
    },
    Added {
        list: "test",
        mark: "gait",
        fixed: &[("kind", "gait-4m")],
    },
    Added {
        list: "test",
        mark: "stages",
        fixed: &[("kind", "step")],
    },
    Added {
        list: "test",
        mark: "activity",
        fixed: &[("kind", "activity-status")],
    },
    Added {
        list: "test",
        mark: "phq",
        fixed: &[("kind", "phq-9")],
    },
    Added {
        list: "test",
        mark: "gad",
        fixed: &[("kind", "gad-7")],
    },
    Added {
        list: "test",
        mark: "who",
        fixed: &[("kind", "who-5")],
    },
];

/// Tests that were done.
pub(super) fn tested() -> Form {
    Form {
        title: "Tests",
        lead: "Only what was done; a test that is written is added, earlier ones stay.",
        parts: vec![
            walks(),
            stepping(),
            balance(),
            activity(),
            mood(),
            exercise(),
        ],
        added: ADDED,
        rows: &[],
    }
}

fn number(mark: &str, key: &str, label: &'static str, hint: &'static str) -> Ask {
    Ask::new(format!("test[{mark}].{key}"), label, Kind::Number).hint(hint)
}

fn day(mark: &str) -> Ask {
    Ask::new(format!("test[{mark}].date"), "On", Kind::Day).hint("Left empty: today")
}

fn aid(mark: &str) -> Ask {
    Ask::new(
        format!("test[{mark}].aid"),
        "Aid used",
        Kind::Choice(words::aids()),
    )
}

fn walks() -> Part {
    Part {
        title: "Walking and stepping",
        about: "Norms hold only for the standard course and without aid; the program says so where it matters.",
        sources: Vec::new(),
        asks: vec![
            number("walk", "distance_m", "Six-minute walk", "Metres"),
            number(
                "walk",
                "course_m",
                "Length of its course",
                "Metres; 30 is standard",
            ),
            day("walk"),
            aid("walk"),
            number(
                "step",
                "count",
                "Two-minute step",
                "Raises of the right knee",
            ),
            day("step"),
            number("shuttle", "distance_m", "Shuttle walk", "Metres"),
            day("shuttle"),
        ],
    }
}

fn balance() -> Part {
    Part {
        title: "Rising and balance",
        about: "One of these settles the balance, and with it which standing exercises suit.",
        sources: Vec::new(),
        asks: vec![
            number("up-and-go", "seconds", "Timed up and go", "Seconds"),
            day("up-and-go"),
            number("gait", "seconds", "Four metres", "Seconds"),
            day("gait"),
            number("five", "seconds", "Five chair stands", "Seconds"),
            day("five"),
            number(
                "stands",
                "count",
                "Chair stands in 30 seconds",
                "Full stands",
            ),
            day("stands"),
        ],
    }
}

/// Stages offered: more are rare, and a file holds any number.
const STAGES: usize = 4;

fn stepping() -> Part {
    let mut asks = vec![
        number(
            "stages",
            "step_height_m",
            "Height of the step",
            "Metres: 0.15",
        ),
        day("stages"),
        Ask::new(
            "test[stages].effort.scale",
            "Scale of effort",
            Kind::Choice(words::scales()),
        ),
        number(
            "stages",
            "effort.value",
            "Effort at the end",
            "On that scale",
        ),
    ];
    for stage in 1..=STAGES {
        let at = |key: &str| format!("test[stages].stages[{stage}].{key}");
        asks.extend([
            Ask::new(
                at("hr_bpm"),
                format!("Pulse at the end of stage {stage}"),
                Kind::Number,
            )
            .hint("A minute"),
            Ask::new(
                at("effort"),
                format!("Effort of stage {stage}"),
                Kind::Number,
            ),
        ]);
    }
    Part {
        title: "Step test in stages",
        about: "In order, as far as it went; stopped at the limit or where the person asks.",
        sources: Vec::new(),
        asks,
    }
}

fn numbers(mark: &str, key: &str, label: &'static str, hint: &'static str) -> Ask {
    Ask::new(format!("test[{mark}].{key}"), label, Kind::Numbers).hint(hint)
}

fn activity() -> Part {
    Part {
        title: "Activity questions",
        about: "Your own printed sheet is used; only the numbers of its questions are kept.",
        sources: Vec::new(),
        asks: vec![
            numbers(
                "activity",
                "yes",
                "Questions answered with yes",
                "By number, divided by commas: 1, 2, 5; write none where no answer was yes",
            ),
            day("activity"),
        ],
    }
}

fn mood() -> Part {
    Part {
        title: "Mood",
        about: "Asked at a contact only, never left with the person; your own printed sheets are used, and only the figures are kept.",
        sources: Vec::new(),
        asks: vec![
            numbers(
                "phq",
                "answers",
                "Sheet of nine questions",
                "Nine figures in order, divided by commas",
            ),
            day("phq"),
            numbers(
                "gad",
                "answers",
                "Sheet of seven questions",
                "Seven figures in order",
            ),
            day("gad"),
            numbers(
                "who",
                "answers",
                "Sheet of five questions",
                "Five figures in order",
            ),
            day("who"),
        ],
    }
}

fn exercise() -> Part {
    let at = |key: &str| format!("test[exercise].{key}");
    Part {
        title: "Exercise test",
        about: "From the hospital's report. Only a measured capacity can prove low risk.",
        sources: Vec::new(),
        asks: vec![
            number("exercise", "peak_hr_bpm", "Peak pulse", "A minute"),
            number("exercise", "peak_mets", "Peak load", "METs"),
            number(
                "exercise",
                "ischaemia_hr_bpm",
                "Pulse at first ischaemia",
                "Angina or 1 mm; a minute",
            ),
            number(
                "exercise",
                "st_depression_mm",
                "ST depression",
                "mm; 0 is none",
            ),
            Ask::new(
                at("symptoms"),
                "Symptoms in the test",
                Kind::Ticks {
                    of: words::test_symptoms(),
                    none: Some("none"),
                },
            ),
            Ask::new(
                at("arrhythmia"),
                "Complex ventricular arrhythmia",
                Kind::YesNo,
            ),
            Ask::new(
                at("bp_response"),
                "Pressure answered",
                Kind::Choice(words::responses()),
            ),
            number(
                "exercise",
                "hr_recovery_1min_bpm",
                "Fall in the first minute",
                "A minute",
            ),
            day("exercise"),
        ],
    }
}
