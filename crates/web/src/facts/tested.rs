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
        mark: "minute",
        fixed: &[("kind", "sit-to-stand-1min")],
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

/// Where a test was taken and under what, folded: what makes it comparable with the next.
fn conditions(mark: &'static str, called: &str) -> [Ask; 2] {
    [
        Ask::new(
            format!("test[{mark}].place"),
            format!("{called}: taken at"),
            Kind::Choice(words::test_places()),
        )
        .folded(),
        Ask::new(
            format!("test[{mark}].beta_blocked"),
            format!("{called}: with a beta-blocker working"),
            Kind::YesNo,
        )
        .folded(),
    ]
}

/// The same with the aid, where a test stands beside others.
fn conditions_and_aid(mark: &'static str, called: &str) -> [Ask; 3] {
    let [place, blocked] = conditions(mark, called);
    let mut aid = aid(mark).folded();
    aid.label = format!("{called}: aid used");
    [place, aid, blocked]
}

fn aid(mark: &str) -> Ask {
    Ask::new(
        format!("test[{mark}].aid"),
        "Aid used",
        Kind::Choice(words::aids()),
    )
}

fn walks() -> Part {
    let folded = conditions("walk", "Six-minute walk")
        .into_iter()
        .chain(conditions_and_aid("step", "Two-minute step"))
        .chain(conditions("shuttle", "Shuttle walk"));
    Part {
        title: "Walking and stepping",
        about: "Norms hold only for the standard course and without aid; the program says so where it matters.",
        sources: Vec::new(),
        asks: [
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
            number(
                "shuttle",
                "course_m",
                "Length of the shuttle course",
                "Metres; 10 is standard",
            ),
            day("shuttle"),
            aid("shuttle"),
        ]
        .into_iter()
        .chain(folded)
        .collect(),
    }
}

fn balance() -> Part {
    let folded = conditions_and_aid("up-and-go", "Timed up and go")
        .into_iter()
        .chain(conditions_and_aid("gait", "Four metres"))
        .chain(conditions_and_aid("five", "Five chair stands"))
        .chain(conditions_and_aid("stands", "Chair stands in 30 seconds"))
        .chain(conditions_and_aid("minute", "Chair stands in a minute"));
    Part {
        title: "Rising and balance",
        about: "One of these settles the balance, and with it which standing exercises suit.",
        sources: Vec::new(),
        asks: [
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
            number("minute", "count", "Chair stands in a minute", "Full stands"),
            day("minute"),
        ]
        .into_iter()
        .chain(folded)
        .collect(),
    }
}

/// As many stages as the protocol has.
const STAGES: usize = 5;

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
    asks.extend(conditions_and_aid("stages", "Step test"));
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
    let folded = [
        number(
            "exercise",
            "symptom_mets",
            "Load at the first symptom",
            "METs",
        ),
        Ask::new(
            at("symptom_in_recovery"),
            "A symptom came in recovery",
            Kind::YesNo,
        ),
        Ask::new(
            at("chronotropic_incompetence"),
            "Pulse failed to rise as expected",
            Kind::YesNo,
        ),
        Ask::new(at("mode"), "Done on", Kind::Choice(words::test_modes())),
    ]
    .map(Ask::folded)
    .into_iter()
    .chain(conditions("exercise", "Exercise test"));
    Part {
        title: "Exercise test",
        about: "From the hospital's report. Only a measured capacity can prove low risk.",
        sources: Vec::new(),
        asks: [
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
        ]
        .into_iter()
        .chain(folded)
        .collect(),
    }
}
