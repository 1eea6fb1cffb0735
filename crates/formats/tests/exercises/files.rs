//! A service's own exercise files: read without compiling anything, refused with file, line and reason.

use formats::exercise::{exercises_with, parse};

const OWN: &str = r#"
id = "towel-folds"
alike = "towel-folds"
kinds = ["active-recovery"]
hr_gain = 1.10
muscles = ["deltoid"]
joints = ["shoulder", "elbow"]
families = ["arms", "chair"]
trains_balance = false
strengthens = false

[cost]
mets = 1.8
low = 1.5
high = 2.2
grade = "C"
tag = "ours"
note = "estimate of the service"
sources = ["service-ours"]

[[variant]]
id = "seated"
net_factor = 1
grade = "C"
support = "seated"
posture = "seated"
arms = "below-shoulder"
balance = 0
per_minute = 10
places = ["chair"]
props = ["towel"]
easier = "arm-curls/seated-no-weights"
"#;

fn load(text: &str) -> Result<usize, String> {
    exercises_with(&[("own/towel-folds.toml".to_owned(), text.to_owned())])
        .map(|exercises| exercises.len())
        .map_err(|problems| problems.to_string())
}

fn refused(from: &str, to: &str, line: usize, why: &str) {
    let text = OWN.replacen(from, to, 1);
    assert_ne!(text, OWN, "'{from}' is not in the file");
    let problems = load(&text).expect_err(why);
    assert!(problems.contains(why), "{problems}");
    assert!(
        problems.contains(&format!("own/towel-folds.toml, line {line},")),
        "{problems}"
    );
}

#[test]
fn a_service_adds_an_exercise_without_compiling() {
    assert_eq!(load(OWN), Ok(super::all().len() + 1));
    let exercise = parse(OWN, "own/towel-folds.toml").unwrap();
    assert_eq!(exercise.mets_of(&exercise.variants[0]), 1.8);
}

#[test]
fn slips_are_refused_with_their_line() {
    refused("families", "familys", 8, "did you mean 'families'");
    refused("[\"deltoid\"]", "[\"deltoids\"]", 6, "deltoid");
    refused("mets = 1.8", "mets = 2.8", 13, "does not contain 2.8");
    refused("low = 1.5", "low = \"1.5\"", 14, "text");
    refused("net_factor = 1", "net_factor = -1", 23, "-1");
    refused("balance = 0", "balance = 1", 28, "asks for no balance");
    refused(
        "posture = \"seated\"",
        "posture = \"standing\"",
        25,
        "do not agree",
    );
    refused(
        "grade = \"C\"\nsupport",
        "grade = \"A\"\nsupport",
        24,
        "cannot be better known",
    );
    refused(
        "per_minute = 10",
        "per_minute = 10\nhold_s = [5, 10]",
        30,
        "either repeated or held",
    );
    refused(
        "props = [\"towel\"]",
        "props = [\"weights\"]",
        31,
        "weight_g",
    );
    refused(
        "easier = \"arm-curls/seated-no-weights\"",
        "easier = \"arm-curls\"",
        32,
        "step-ups/rail",
    );
    refused("tag = \"ours\"", "tag = \"guess\"", 17, "guess");
}

#[test]
fn every_problem_of_a_file_is_listed() {
    let text = OWN
        .replace("families", "familys")
        .replace("hr_gain = 1.10", "hr_gain = 11");
    let problems = parse(&text, "own.toml").unwrap_err();
    assert!(problems.0.len() >= 3, "{problems}");
}

#[test]
fn references_that_lead_nowhere_or_round_in_a_circle_are_refused() {
    let to = |reference: &str| OWN.replace("arm-curls/seated-no-weights", reference);
    for (reference, why) in [
        ("arm-curls/lying", "is not there"),
        ("towel-folds/seated", "in a circle"),
        ("arm-curls/standing-3kg", "costs more"),
        (
            "quiet-breathing/hands-in-lap",
            "serves none of the same purposes",
        ),
    ] {
        let problems = load(&to(reference)).expect_err(reference);
        assert!(problems.contains(why), "{problems}");
        assert!(problems.contains("variant[1].easier"), "{problems}");
    }
    let standing = OWN
        .replace("support = \"seated\"", "support = \"two-hands\"")
        .replace("posture = \"seated\"", "posture = \"standing\"")
        .replace("easier = \"arm-curls/seated-no-weights\"", "");
    assert!(
        load(&standing)
            .unwrap_err()
            .contains("not seated; add a seated version")
    );
}

#[test]
fn a_name_of_the_library_is_not_taken_twice() {
    let text = OWN.replace("id = \"towel-folds\"", "id = \"arm-curls\"");
    let problems = load(&text).unwrap_err();
    assert!(
        problems.contains("give one of them another id"),
        "{problems}"
    );
}

#[test]
fn the_schema_names_every_key_of_the_file() {
    let schema = formats::exercise_schema();
    let properties = schema["properties"].as_object().expect("an object");
    let node = formats::tree::read("own.toml", OWN.as_bytes()).unwrap();
    let formats::tree::Content::Table(table) = node.content else {
        panic!("the file is a table");
    };
    for entry in &table.entries {
        assert!(properties.contains_key(&entry.key), "{}", entry.key);
    }
}
