//! What the command line says of every invented person, held against what no person says.

use super::play::{Setting, review_of};
use super::{play_all, service};
use crate::text::{self, Told};
use jiff::civil::{Date, date};
use rehab::course::Signature;

const ON: Date = date(2026, 11, 25);

/// Words that count more than one thing.
const MANY: &[&str] = &[
    "days",
    "weeks",
    "months",
    "years",
    "hours",
    "minutes",
    "seconds",
    "sessions",
    "stations",
    "turns",
    "times",
    "pages",
    "rungs",
    "calls",
    "visits",
    "reasons",
    "entries",
    "falls",
    "tests",
    "questions",
    "lines",
    "files",
    "problems",
];

/// Signs that the program talks to itself: the system's words, a debug form, a list's own word.
const OWN: &[&str] = &[
    "os error",
    "entity not found",
    "Some(",
    "None,",
    "None)",
    "Err(",
    "Ok(",
    "{",
    "}",
    "NaN",
    "longer cv",
    "shorter ar",
    "..",
    ";;",
    " ;",
    " ,",
    ". ;",
    ".;",
    "( ",
    ": :",
];

/// Everything in a text that nobody would say.
fn unsaid(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let line = words.join(" ");
    let mut found: Vec<String> = OWN
        .iter()
        .filter(|sign| line.contains(**sign))
        .map(|sign| format!("'{sign}'"))
        .collect();
    let plain = |word: &str| {
        let end = |sign: char| !sign.is_alphanumeric() && sign != '_';
        word.trim_matches(end).to_owned()
    };
    for pair in words.windows(2) {
        if pair[0] == "1" && MANY.contains(&plain(pair[1]).as_str()) {
            found.push(format!("'{} {}'", pair[0], pair[1]));
        }
        if pair[0] == pair[1] && pair[0].chars().all(char::is_alphabetic) {
            found.push(format!("'{} {}'", pair[0], pair[1]));
        }
    }
    found.extend(
        words
            .iter()
            .filter(|word| word.contains('_'))
            .map(|word| format!("'{word}'")),
    );
    // Two rungs of a list may well move the same lever; within one line nothing is said twice.
    for line in text.lines() {
        let mut sentences: Vec<&str> = line.split(". ").map(str::trim).collect();
        sentences.retain(|one| one.len() > 12);
        let twice = sentences.windows(2).filter(|pair| pair[0] == pair[1]);
        found.extend(twice.map(|pair| format!("twice: '{}'", pair[0])));
    }
    found
}

#[test]
fn texts_that_nobody_would_say_are_found() {
    for (text, many) in [
        ("Last heard from 1 days ago.", 1),
        ("1\n  sessions watched", 1),
        ("Rung 4: longer cv", 1),
        ("No such file (os error 2)", 1),
        ("the value resting_hr_bpm", 1),
        ("No pulse target today. No pulse target today. Then", 1),
        ("11 days ago, 1 session, 1 of 3 sessions; 0.1 METs", 0),
    ] {
        assert_eq!(unsaid(text).len(), many, "{text}: {:?}", unsaid(text));
    }
}

#[test]
fn what_is_said_of_every_invented_person_is_said_as_people_say_it() {
    let exercises = formats::exercises().unwrap();
    let (service, words) = (service().unwrap(), formats::words("en-GB").unwrap());
    let setting = Setting {
        service: &service,
        exercises: &exercises,
        on: ON,
        by: Signature {
            name: "x".to_owned(),
            role: "y".to_owned(),
        },
    };
    let mut wrong = Vec::new();
    for one in play_all(&exercises, ON).unwrap() {
        let case = &one.course.case;
        let assessed = rehab::assess(case, &service, ON);
        let here = one.course.current_stage.unwrap_or(1);
        let (plan, noticed) = one.course.draft(&service, &exercises, &assessed, here);
        let review = review_of(&setting, &one.course, ON);
        let said = [
            ("limits", text::limits(case, &assessed, &service, false)),
            (
                "programme",
                text::programme(&Told {
                    case,
                    service: &service,
                    plan: &plan,
                    noticed: &noticed,
                    review: Some(&review),
                    others: None,
                    words: &words,
                    why: false,
                }),
            ),
            ("review", text::review(case, ON, &review, false)),
        ];
        for (what, text) in said {
            wrong.extend(
                unsaid(&text)
                    .into_iter()
                    .map(|found| format!("{} {what}: {found}", case.id.0)),
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
