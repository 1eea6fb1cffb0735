//! `limits`: the keys that scripts rely on, and what is refused, kept or explained.

use crate::run::{Ran, changed, file, fixture, hearthpace};
use serde_json::Value;

#[track_caller]
fn limits_of(from: &str, to: &str) -> Value {
    let path = file("case.toml", changed("everything.toml", from, to));
    hearthpace(&["limits", &path, "--json"]).exits(0).json()
}

fn fenwick(arguments: &[&str]) -> Ran {
    let mut all = vec!["limits".to_owned(), fixture("fenwick.toml")];
    all.extend(arguments.iter().map(|one| (*one).to_owned()));
    hearthpace(&all)
}

/// Whether a list of findings asks about a rule.
fn asks(result: &Value, part: &str) -> bool {
    let list = result["to_find_out"].as_array().expect("a list");
    list.iter()
        .any(|one| one["id"].as_str().is_some_and(|id| id.contains(part)))
}

#[test]
fn the_promised_keys_are_there() {
    let result = fenwick(&["--json"]).exits(0).json();
    assert_eq!(result["on"], "2026-10-12");
    assert_eq!(result["service"], "built-in cautious set");
    assert!(
        ["exercise", "not-today", "not-at-home"]
            .map(Value::from)
            .contains(&result["screening"]["decision"])
    );
    for pointer in [
        "/screening/findings",
        "/to_find_out",
        "/capacity/others",
        "/risk/criteria",
        "/limits/because",
    ] {
        assert!(
            result.pointer(pointer).is_some_and(Value::is_array),
            "{pointer}"
        );
    }
    for pointer in [
        "/capacity/mets",
        "/capacity/method",
        "/limits/hr",
        "/limits/hr_ceiling",
        "/limits/hr_ceiling_kind",
    ] {
        assert!(result.pointer(pointer).is_some(), "{pointer}");
    }
    assert!(
        result["capacity"]["measured"].is_boolean() && result["risk"]["provisional"].is_boolean()
    );
    assert!(
        ["low", "moderate", "high"]
            .map(Value::from)
            .contains(&result["risk"]["class"])
    );
    let limits = &result["limits"];
    assert!(
        limits["hr"]["low"].is_i64()
            && limits["hr"]["high"].is_i64()
            && limits["hr_ceiling"].is_i64()
    );
    assert_eq!(limits["hr_ceiling_kind"], "guiding");
    assert_eq!(limits["effort"]["scale"], "0-10");
    assert!(limits["mets"]["low"].as_f64() <= limits["mets"]["high"].as_f64());
    assert!(limits["mets_station_high"].is_number());
    for reason in limits["because"].as_array().unwrap() {
        assert!(
            reason["id"].is_string() && reason["text"].is_string() && reason["source"].is_string()
        );
        assert!(!reason["value"].is_null(), "{reason}");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    assert_eq!(fenwick(&["--json"]).out, fenwick(&["--json"]).out);
    assert_eq!(fenwick(&["--because"]).out, fenwick(&["--because"]).out);
}

#[test]
fn the_form_for_people_says_it_in_eighty_columns() {
    let ran = fenwick(&["--because"])
        .exits(0)
        .shows("Orla Fenwick, 75 years")
        .shows("Effort leads")
        .shows("Source: ");
    let wide = |line: &&str| line.chars().count() > 80 && line.split_whitespace().count() > 1;
    assert_eq!(ran.out.lines().find(wide), None);
    assert_eq!(ran.err, "");
}

#[test]
fn a_day_may_be_given_and_an_old_examination_does_not_count() {
    let ran = fenwick(&["--json", "--on", "2026-12-01"]).exits(0).json();
    assert_eq!(ran["on"], "2026-12-01");
    assert_ne!(ran["screening"]["decision"], "exercise");
    fenwick(&["--on", "2026-10-01"])
        .exits(1)
        .says("lies ahead of 2026-10-01");
}

#[test]
fn settings_of_a_service_are_named_and_used() {
    let service = file(
        "service.toml",
        "name = \"Low Margin\"\nicd_margin_bpm = 10\neffort_scale = \"6-20\"\n",
    );
    let result = hearthpace(&[
        "limits",
        &fixture("everything.toml"),
        "--service",
        &service,
        "--json",
    ])
    .exits(0)
    .json();
    assert_eq!(result["service"], "Low Margin");
    assert_eq!(result["limits"]["effort"]["scale"], "6-20");
    let device = result["limits"]["because"]
        .as_array()
        .unwrap()
        .iter()
        .find(|one| one["id"] == "ceiling/device-zone");
    assert_eq!(device.unwrap()["value"], 160);
    let broken = file("service.toml", "name = \"Low Margin\"\nicd_margin = 10\n");
    hearthpace(&["limits", &fixture("everything.toml"), "--service", &broken])
        .exits(1)
        .says("did you mean 'icd_margin_bpm'");
}

#[test]
fn a_refused_case_gives_no_result() {
    let path = file(
        "case.toml",
        changed("fenwick.toml", "[128, 74]", "[74, 128]"),
    );
    let ran = hearthpace(&["limits", &path])
        .exits(1)
        .says("systolic and diastolic are swapped");
    assert_eq!(ran.out, "");
    let ran = hearthpace(&["limits", &path, "--json"]).exits(1);
    assert_eq!(ran.out, "");
    assert_eq!(
        ran.error()["problems"][0]["key_path"],
        "examination[1].resting_bp_mmhg"
    );
}

#[test]
fn anything_missing_is_kept_and_listed() {
    let path = file("small.toml", "[person]\nname = \"Ada Moor\"\n");
    hearthpace(&["limits", &path]).exits(1).says("--on");
    let result = hearthpace(&["limits", &path, "--on", "2026-10-12", "--json"])
        .exits(0)
        .json();
    assert_ne!(result["screening"]["decision"], "exercise");
    assert_eq!(result["capacity"]["mets"], Value::Null);
    assert_ne!(result["risk"]["class"], "low");
    assert_eq!(result["signing_blocked"], true);
    assert!(result["to_find_out"].as_array().unwrap().len() > 10);
}

#[test]
fn a_defibrillator_without_its_rate_has_no_pulse_ceiling_and_cannot_be_signed() {
    // What is known to bring ischaemia on (112, with its margin) stays a ceiling; of the device there is none.
    let result = limits_of("lowest_treated_bpm = 170, ", "");
    assert_eq!(result["limits"]["hr_ceiling"].as_f64(), Some(102.0));
    assert_eq!(result["limits"]["hr"], Value::Null);
    assert_eq!(result["signing_blocked"], true);
}

#[test]
fn an_unanswered_absolute_contraindication_blocks_signing() {
    let result = limits_of("rest_absent = \"letter of 2026-09-10 and by asking\"\n", "");
    assert!(asks(&result, "contraindication/"));
    assert_eq!(result["signing_blocked"], true);
}

#[test]
fn a_lower_limit_above_the_upper_gives_no_band_and_says_so() {
    let result = limits_of("ischaemia_hr_bpm = 112", "ischaemia_hr_bpm = 95");
    assert_eq!(result["limits"]["hr"], Value::Null);
    assert_eq!(result["limits"]["hr_ceiling"], 85);
}

#[test]
fn not_today_and_not_at_home_are_explained_and_limits_are_still_shown() {
    let today = limits_of(
        "symptoms = [\"very-tired\"]",
        "symptoms = [\"chest-pain-at-rest\"]",
    );
    assert_eq!(today["screening"]["decision"], "not-today");
    assert!(
        !today["screening"]["findings"]
            .as_array()
            .unwrap()
            .is_empty()
    );
    assert!(today["limits"]["effort"]["high"].is_number());
    let text = changed(
        "everything.toml",
        "symptoms = [\"very-tired\"]",
        "symptoms = []",
    )
    .replace(
        "[agreement]\ndoctor = \"Dr Lisle\"\ndate = 2026-09-28\n",
        "",
    );
    let path = file("case.toml", text);
    let home = hearthpace(&["limits", &path, "--json"]).exits(0).json();
    assert_eq!(home["screening"]["decision"], "not-at-home");
    hearthpace(&["limits", &path])
        .exits(0)
        .shows("Exercise: not at home");
}

#[test]
fn a_defibrillator_without_its_rate_does_not_read_like_a_free_pulse() {
    let case = file(
        "case.toml",
        changed("everything.toml", "lowest_treated_bpm = 170, ", "")
            .replace("ischaemia_hr_bpm = 112\n", "")
            .replace("st_depression_mm = 0\n", ""),
    );
    let ran = hearthpace(&["limits", &case])
        .exits(0)
        .shows("No limit of the pulse is whole");
    assert!(!ran.out.contains("no ceiling"), "{}", ran.out);
    hearthpace(&["programme", &case]).exits(0);
}

#[test]
fn at_home_is_never_a_yes_while_the_screening_is_against_exercise() {
    fenwick(&[]).exits(0).shows("At home: yes");
    let ran = fenwick(&["--on", "2026-12-01"]).exits(0);
    assert!(!ran.out.contains("Exercise: yes"), "{}", ran.out);
    assert!(!ran.out.contains("At home: yes"), "{}", ran.out);
    ran.shows("At home: not while the screening holds");
}

#[test]
fn several_sessions_watched_on_one_day_are_said_to_count_once() {
    let one = |variant: &str| {
        format!(
            "\n[[watched]]\ndate = 2026-10-12\nexercise = \"march\"\nvariant = \"{variant}\"\ntechnique = \"good\"\n"
        )
    };
    let mut text = std::fs::read_to_string(fixture("fenwick.toml")).expect("the fixture is there");
    let printed = |text: &str| {
        let ran = hearthpace(&["limits", &file("case.toml", text)]).exits(0);
        ran.out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(printed(&text).contains("Sessions watched: 0 of 2. Alone"));
    for variant in ["free", "free-slower", "one-hand-slow"] {
        text.push_str(&one(variant));
    }
    let after = printed(&text);
    assert!(
        after.contains("Sessions watched: 1 of 2 (several on one day count as one)."),
        "{after}"
    );
    assert!(
        after.contains("1 of 2 sessions watched, each day counted once:"),
        "{after}"
    );
}
