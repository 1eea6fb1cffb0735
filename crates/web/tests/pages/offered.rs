//! Every key of a case file is asked by a form, or stands here with the reason why none asks it.

use crate::fixture::{fenwick, house};
use formats::case::CASE;
use formats::shape::{Field, Kind as Value, Shape};
use rehab::assessment::HistoryItem;
use std::collections::BTreeSet;

/// Keys that no form asks. A key of tests stands with its kind.
const NOT_ASKED: &[(&str, &str)] = &[
    ("id", "made of name and day of birth"),
    ("status.since", "the page of the standing writes its day"),
    ("watched", "written by the watched session"),
    ("pain.date", "written with what a diary or a call tells"),
    ("pain.exercise", "written with what a diary or a call tells"),
    ("medicine.times", "no rule reads it; it comes with a bundle"),
    (
        "medicine.as_needed",
        "left out, a medicine counts as taken regularly, which is the cautious reading",
    ),
    ("home.place.metres_to_next", "no rule reads it"),
    (
        "test.effort",
        "only the step test is read by its effort, and there it is asked",
    ),
    (
        "test.aid",
        "nobody walks in a questionnaire or in an exercise test",
    ),
    ("test.place", "a questionnaire is the same everywhere"),
    (
        "test.beta_blocked",
        "no medicine changes what a questionnaire counts",
    ),
];

/// Kinds that are asked on a sheet.
const QUESTIONNAIRES: [&str; 4] = ["activity-status", "phq-9", "gad-7", "who-5"];

/// The entry of the list that a key stands under.
fn not_asked(key: &str) -> Option<&'static str> {
    let (before, rest) = key.split_once('<').unwrap_or((key, ""));
    let (kind, after) = rest.split_once('>').unwrap_or((rest, ""));
    let plain = format!("{before}{after}");
    let is_so = |entry: &str| match entry {
        "test.effort" => kind != "step",
        "test.aid" => kind == "exercise-test" || QUESTIONNAIRES.contains(&kind),
        "test.place" | "test.beta_blocked" => QUESTIONNAIRES.contains(&kind),
        _ => true,
    };
    let found = NOT_ASKED.iter().find(|(entry, _)| {
        let below = plain.strip_prefix(entry);
        below.is_some_and(|rest| rest.is_empty() || rest.starts_with('.')) && is_so(entry)
    });
    found.map(|(entry, _)| *entry)
}

/// Every key with a value of its own, as `home.place.seat_cm`; those of tests as `test<step>.stages.hr_bpm`.
fn keys(shape: &'static Shape, at: &str, found: &mut BTreeSet<String>) {
    let choice = shape.choice.as_ref();
    if at != "test." {
        each(shape.fields, at, found);
    }
    let Some(choice) = choice else { return };
    if at != "test." {
        found.insert(format!("{at}{}", choice.key));
        for (_, fields) in choice.cases {
            each(fields, at, found);
        }
        return;
    }
    for (word, fields) in choice.cases {
        let at = format!("test<{word}>.");
        each(shape.fields, &at, found);
        each(fields, &at, found);
    }
}

fn each(fields: &'static [Field], at: &str, found: &mut BTreeSet<String>) {
    for field in fields {
        let here = format!("{at}{}", field.key);
        match &field.kind {
            Value::Table(inner) | Value::List(Value::Table(inner), _) => {
                keys(inner, &format!("{here}."), found);
            }
            _ => {
                found.insert(here);
            }
        }
    }
}

/// Kinds of tests by the word that the form puts in brackets.
const MARKS: [(&str, &str); 14] = [
    ("exercise", "exercise-test"),
    ("walk", "six-minute-walk"),
    ("shuttle", "shuttle-walk"),
    ("step", "two-minute-step"),
    ("stands", "chair-stand-30s"),
    ("minute", "sit-to-stand-1min"),
    ("five", "five-sit-to-stand"),
    ("up-and-go", "timed-up-and-go"),
    ("gait", "gait-4m"),
    ("stages", "step"),
    ("activity", "activity-status"),
    ("phq", "phq-9"),
    ("gad", "gad-7"),
    ("who", "who-5"),
];

const SECTIONS: [&str; 10] = [
    "examination",
    "history",
    "medicines",
    "tests",
    "home",
    "wishes",
    "function",
    "heart",
    "events",
    "person",
];

/// A field of a form by its name: without its places, and with the keys that one field answers together.
fn keys_of_field(name: &str) -> Vec<String> {
    let marked = MARKS.iter().find_map(|(mark, kind)| {
        let rest = name.strip_prefix(&format!("test[{mark}]."))?;
        Some(format!("test<{kind}>.{rest}"))
    });
    let name = marked.unwrap_or_else(|| name.to_owned());
    let mut plain = String::new();
    for (at, piece) in name.split('[').enumerate() {
        let rest = piece.split_once(']').map_or("", |(_, rest)| rest);
        plain.push_str(if at == 0 { piece } else { rest });
    }
    let with = |keys: &[&str]| keys.iter().map(|key| format!("{plain}.{key}")).collect();
    match plain.as_str() {
        "medicine" => with(&["name", "dose", "since", "until"]),
        "event.procedures" | "usual_symptom" | "heart.device" => with(&["kind"]),
        "home.place" => with(&["name", "kind"]),
        item => match item.strip_prefix("history.") {
            Some(rest) if rest.starts_with("since.") => vec!["history.since".to_owned()],
            Some(rest) if HistoryItem::parse(rest).is_ok() => ["present", "absent", "not_asked"]
                .map(|list| format!("history.{list}"))
                .into(),
            _ => vec![plain],
        },
    }
}

/// Every key that the forms ask, of a person of whom so much is known that they show all they can.
async fn offered() -> BTreeSet<String> {
    let house = house().await;
    let id = house.write(fenwick(), Vec::new()).await;
    let mut addresses = vec!["/people/new".to_owned()];
    addresses.extend(SECTIONS.map(|word| format!("/people/{id}/facts/{word}")));
    let mut found = BTreeSet::new();
    for address in addresses {
        let page = house.get(&address).await.text;
        for name in page.split(" name=\"").skip(1) {
            let name = name.split('"').next().unwrap();
            if name.contains(['.', '[']) || ["medicine", "usual_symptom"].contains(&name) {
                found.extend(keys_of_field(name));
            }
        }
    }
    found
}

#[tokio::test]
async fn every_key_of_a_case_is_asked_by_a_form_or_has_its_reason() {
    let mut all = BTreeSet::new();
    keys(&CASE, "", &mut all);
    assert!(all.len() > 150, "{}", all.len());
    let offered = offered().await;
    let open = || all.iter().filter(|key| !offered.contains(*key));
    let without: Vec<&String> = open().filter(|key| not_asked(key).is_none()).collect();
    assert!(without.is_empty(), "no form asks {without:#?}");
    let strange: Vec<&String> = offered.iter().filter(|key| !all.contains(*key)).collect();
    assert!(strange.is_empty(), "no key of a case: {strange:#?}");
    let used: BTreeSet<&str> = open().filter_map(|key| not_asked(key)).collect();
    for (entry, _) in NOT_ASKED {
        assert!(used.contains(entry), "{entry} needs no reason any more");
    }
}
