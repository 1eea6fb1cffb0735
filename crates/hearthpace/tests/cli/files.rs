//! `check`, and with it everything that a file can have wrong.

use crate::run::{changed, file, fixture, hearthpace};

/// Checks one file that must be refused; the words must stand in the report with its line.
#[track_caller]
fn refused(name: &str, contents: impl AsRef<[u8]>, words: &str) {
    let path = file(name, contents);
    hearthpace(&["check", &path])
        .exits(1)
        .shows(words)
        .says("check again");
    let ran = hearthpace(&["check", &path, "--json"]).exits(1);
    let result = ran.json();
    assert_eq!(result["files"][0]["valid"], false);
    let problems = result["files"][0]["problems"].as_array().expect("a list");
    assert!(
        problems.iter().any(|one| one["message"]
            .as_str()
            .is_some_and(|message| message.contains(words))),
        "{problems:#?}"
    );
    let error = ran.error();
    assert_eq!(&error["problems"], &result["files"][0]["problems"]);
}

#[test]
fn good_files_of_every_format_pass() {
    let exercise = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../data/exercises/sit-to-stand.toml"
    );
    let ours = [
        "fenwick.toml",
        "everything.toml",
        "diary.json",
        "service.toml",
    ]
    .map(fixture);
    let mut arguments = vec!["check", exercise];
    arguments.extend(ours.iter().map(String::as_str));
    let ran = hearthpace(&arguments).exits(0);
    assert_eq!(ran.err, "");
    for kind in ["case", "diary", "service", "exercise"] {
        assert!(
            ran.out.contains(&format!(": {kind}, nothing wrong")),
            "{ran:#?}"
        );
    }
}

#[test]
fn a_file_that_cannot_be_read_does_not_hide_the_others() {
    let ran = hearthpace(&["check", &fixture("fenwick.toml"), "gone.toml"]).exits(1);
    assert!(ran.out.contains("case, nothing wrong"), "{ran:#?}");
    assert!(ran.out.contains("there is no such file"), "{ran:#?}");
}

#[test]
fn impossible_values_are_refused() {
    refused(
        "a.toml",
        changed(
            "fenwick.toml",
            "resting_hr_bpm = 64",
            "resting_hr_bpm = 640",
        ),
        "resting heart rate of 640",
    );
}

#[test]
fn swapped_pressure_is_refused() {
    refused(
        "a.toml",
        changed("fenwick.toml", "[128, 74]", "[74, 128]"),
        "systolic and diastolic are swapped",
    );
}

#[test]
fn height_in_metres_is_refused() {
    refused(
        "a.toml",
        changed("fenwick.toml", "height_cm = 161", "height_cm = 1.61"),
        "looks like metres, write 161",
    );
}

#[test]
fn future_days_are_refused() {
    let path = fixture("fenwick.toml");
    hearthpace(&["check", &path, "--on", "2026-10-11"])
        .exits(1)
        .shows("2026-10-12 lies ahead of 2026-10-11");
    hearthpace(&["check", &path, "--on", "2026-10-12"]).exits(0);
}

/// A slip of the year in one entry made every command without `--on` reckon from that day.
#[test]
fn a_day_that_has_not_come_is_never_the_day_of_the_work() {
    let today = web::Clock::Real.today();
    let ahead = rehab::calendar::days_after(today, 40);
    let said = format!("{ahead} lies ahead of {today}");
    let case = file(
        "case.toml",
        changed(
            "fenwick.toml",
            "date = 2026-10-12",
            &format!("date = {ahead}"),
        ),
    );
    for command in ["limits", "programme", "export"] {
        let ran = hearthpace(&[command, &case]).exits(1).says(&said);
        assert!(ran.err.contains(&case), "{ran:#?}");
        assert!(ran.err.contains("examination[1].date"), "{ran:#?}");
    }
    hearthpace(&["check", &case])
        .exits(1)
        .shows(&said)
        .shows("examination[1].date");
    let diary = file(
        "diary.json",
        changed("diary.json", "2026-10-16", &ahead.to_string()),
    );
    let well = fixture("fenwick.toml");
    for command in ["review", "programme"] {
        let ran = hearthpace(&[command, &well, "--diary", &diary])
            .exits(1)
            .says(&said);
        assert!(ran.err.contains(&diary), "{ran:#?}");
        assert!(ran.err.contains("entries[2].date"), "{ran:#?}");
    }
    hearthpace(&["check", &diary]).exits(1).shows(&said);
    // Who works ahead on purpose says so.
    hearthpace(&["limits", &case, "--on", &ahead.to_string()]).exits(0);
}

#[test]
fn unknown_keys_are_refused_with_the_nearest_known_key() {
    refused(
        "a.toml",
        changed("fenwick.toml", "weight_kg = 71.5", "wieght_kg = 71.5"),
        "did you mean 'weight_kg'",
    );
    refused(
        "d.json",
        changed("diary.json", "\"entries\"", "\"entrys\""),
        "did you mean 'entries'",
    );
    refused(
        "s.toml",
        changed("service.toml", "[emergency]", "[emergancy]"),
        "did you mean 'emergency'",
    );
}

#[test]
fn truncated_files_are_refused() {
    let text = std::fs::read_to_string(fixture("diary.json")).unwrap();
    refused("d.json", &text[..text.len() / 2], "cut off");
    let text = std::fs::read_to_string(fixture("fenwick.toml")).unwrap();
    let cut = text.find("count = 61").unwrap() + "count = ".len();
    refused("a.toml", &text[..cut], "this is not TOML");
    refused("a.toml", "", "the file is empty");
}

#[test]
fn hostile_files_are_refused() {
    refused("a.json", b"{\"id\": \"\xff\xff\"}", "not UTF-8");
    refused("a.toml", b"id = \"a\0b\"", "NUL byte");
    refused("a.json", "[".repeat(500_000), "nested deeper");
    refused("a.json", " ".repeat(3 * 1024 * 1024), "more than the");
    refused("a.json", r#"{"person": {"height_cm": 1e999}}"#, "too large");
    refused("a.json", r#"{"id": "x", "id": "y"}"#, "stands twice");
    refused("a.json", "[1, 2]", "begins with keys");
    refused("a.json", r#"{"colour": "red"}"#, "none of the formats");
}

#[test]
fn a_file_that_cannot_be_read_is_said_plainly() {
    hearthpace(&["check", "no-such-file.toml"])
        .exits(1)
        .shows("there is no such file");
    hearthpace(&["check", env!("CARGO_TARGET_TMPDIR")])
        .exits(1)
        .shows("folder");
    let ran = hearthpace(&["--json", "check", "no-such-file.toml"]).exits(1);
    let file = &ran.json()["files"][0];
    assert_eq!(file["valid"], false);
    assert_eq!(ran.error()["problems"], file["problems"]);
}

#[test]
fn every_problem_is_listed_with_its_line() {
    let text = changed("fenwick.toml", "height_cm = 161", "height_cm = 1.61")
        .replace("nyha = 1", "nyha = 7");
    let path = file("two.toml", &text);
    let ran = hearthpace(&["check", &path])
        .exits(1)
        .says("2 problems in 1 of 1 files");
    for (key, part) in [
        ("person.height_cm", "height_cm = 1.61"),
        ("examination[1].nyha", "nyha = 7"),
    ] {
        let line = text.lines().position(|one| one.contains(part)).unwrap() + 1;
        assert!(
            ran.out.contains(&format!("line {line}, {key}: ")),
            "{ran:#?}"
        );
    }
}

#[test]
fn a_file_of_another_kind_is_named_and_not_told_key_by_key() {
    let (case, service) = (fixture("everything.toml"), fixture("service.toml"));
    let (diary, bundle) = (fixture("diary.json"), fixture("bundle.json"));
    let told = |arguments: &[&str], words: &str| {
        let ran = hearthpace(arguments).exits(1).says(words);
        assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
    };
    told(
        &["limits", &service],
        "this is a service file, not a case file",
    );
    told(&["limits", &diary], "this is a diary file, not a case file");
    told(
        &["limits", &bundle],
        "read a bundle with the command 'import'",
    );
    told(
        &["limits", &case, "--service", &case],
        "this is a case file, not a service file",
    );
    told(
        &["review", &case, "--diary", &case],
        "this is a case file, not a diary file",
    );
}
