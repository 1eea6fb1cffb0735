//! `programme` and `review`: the keys that scripts rely on, the proposal, and the problem of a rung.

use crate::run::{Ran, changed, file, hearthpace};
use serde_json::Value;

/// The fixture of whom everything is known, well enough to exercise.
fn well() -> String {
    file(
        "case.toml",
        changed(
            "everything.toml",
            "symptoms = [\"very-tired\"]",
            "symptoms = []",
        ),
    )
}

fn programme(case: &str, arguments: &[&str]) -> Ran {
    let mut all = vec!["programme", case];
    all.extend(arguments);
    hearthpace(&all)
}

/// A diary of this case with one entry for each day, all on one rung.
fn diary(case: &str, days: &[&str]) -> String {
    let entries: Vec<String> = days
        .iter()
        .map(|day| {
            format!(
                r#"{{"id": "{day}", "date": "{day}", "stage": 1, "effort": {{"scale": "0-10", "value": 2}},
                "symptoms": [], "minutes": 25}}"#
            )
        })
        .collect();
    file(
        "diary.json",
        format!(
            r#"{{"case": "{case}", "entries": [{}]}}"#,
            entries.join(",")
        ),
    )
}

#[test]
fn the_promised_keys_are_there() {
    let result = programme(&well(), &["--stage", "5", "--json"])
        .exits(0)
        .json();
    assert_eq!(result["screening"]["decision"], "exercise");
    assert_eq!(result["proposal"], Value::Null);
    let stages = result["stages"].as_array().unwrap();
    assert_eq!(stages.len(), 2);
    for stage in stages {
        assert!(
            stage["sessions_per_week"].is_u64()
                && stage["minutes"].is_number()
                && stage["met_minutes"].is_number()
        );
        assert!(
            stage["objective"].is_i64() && stage["bound"].is_i64(),
            "{stage}"
        );
        assert!(stage["predicted"]["peak_hr"].is_number());
        let segments = stage["segments"].as_array().unwrap();
        for phase in ["warm-up", "conditioning", "cool-down"] {
            assert!(segments.iter().any(|one| one["phase"] == phase), "{phase}");
        }
        for segment in segments {
            assert!(segment["seconds"].as_f64() > Some(0.0));
            assert!(segment["mets_low"].as_f64() <= segment["mets"].as_f64());
            assert!(segment["mets"].as_f64() <= segment["mets_high"].as_f64());
            for key in [
                "kind",
                "exercise",
                "variant",
                "place",
                "round",
                "per_minute",
                "predicted_hr",
            ] {
                assert!(segment.get(key).is_some(), "{key} in {segment}");
            }
        }
        let seconds: f64 = segments
            .iter()
            .filter_map(|one| one["seconds"].as_f64())
            .sum();
        assert!((seconds / 60.0 - stage["minutes"].as_f64().unwrap()).abs() < 0.01);
    }
}

#[test]
fn a_rung_without_stations_has_no_objective() {
    let result = programme(&well(), &["--stage", "1", "--json"])
        .exits(0)
        .json();
    assert_eq!(result["stages"][0]["objective"], Value::Null);
    assert_eq!(result["stages"][0]["bound"], Value::Null);
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let case = well();
    assert_eq!(
        programme(&case, &["--json"]).out,
        programme(&case, &["--json"]).out
    );
}

#[test]
fn the_form_for_people_says_it_in_eighty_columns() {
    let ran = programme(&well(), &["--stage", "5", "--because"])
        .exits(0)
        .shows("Cool-down")
        .shows("Rung 5");
    let wide = |line: &&str| line.chars().count() > 80 && line.split_whitespace().count() > 1;
    assert_eq!(ran.out.lines().find(wide), None);
}

#[test]
fn without_the_decision_to_exercise_there_is_no_rung_and_the_reason_is_told() {
    let unwell = changed(
        "everything.toml",
        "\"very-tired\"",
        "\"chest-pain-at-rest\"",
    );
    let path = file("case.toml", unwell);
    let result = programme(&path, &["--json"]).exits(0).json();
    assert_eq!(result["screening"]["decision"], "not-today");
    assert_eq!(result["stages"], Value::Array(vec![]));
    assert!(!result["findings"].as_array().unwrap().is_empty());
    programme(&path, &[]).exits(0).shows("No rung");
}

#[test]
fn with_diaries_there_is_a_proposal_and_review_says_the_same() {
    let case = well();
    let days = ["2026-10-03", "2026-10-05", "2026-10-07"];
    let good = diary("everything-1948", &days);
    let result = programme(&case, &["--diary", &good, "--json"])
        .exits(0)
        .json();
    assert_eq!(result["on"], "2026-10-07");
    assert!(result["proposal"]["action"].is_string());
    assert!(!result["proposal"]["because"].as_array().unwrap().is_empty());
    let review = hearthpace(&["review", &case, "--diary", &good, "--json"])
        .exits(0)
        .json();
    assert_eq!(review["proposal"], result["proposal"]);
    assert_eq!(review["trends"]["done_in_14_days"], 3);
    hearthpace(&["review", &case, "--diary", &good])
        .exits(0)
        .shows("Proposal: ");
}

#[test]
fn a_red_symptom_stops_and_one_diary_may_stand_in_two_files() {
    let case = well();
    let red = r#", "symptoms": [{"kind": "faint"}]"#;
    let text = std::fs::read_to_string(diary("everything-1948", &["2026-10-03"])).unwrap();
    let bad = file("bad.json", text.replace(r#""symptoms": []"#, &red[2..]));
    let first = diary("everything-1948", &["2026-10-02"]);
    let arguments = [
        "--diary", &first, "--diary", &bad, "--diary", &first, "--json",
    ];
    let result = programme(&case, &arguments).exits(0).json();
    assert_eq!(result["proposal"]["action"], "stop-and-contact");
    let review = hearthpace(&["review", &case, "--diary", &bad, "--json"])
        .exits(0)
        .json();
    assert_eq!(review["alerts"][0]["urgency"], "today");
}

#[test]
fn a_diary_of_another_case_is_refused() {
    let other = diary("somebody-else", &["2026-10-03"]);
    let ran = programme(&well(), &["--diary", &other])
        .exits(1)
        .says("not of 'everything-1948'");
    assert_eq!(ran.out, "");
    hearthpace(&["review", &well(), "--diary", &other])
        .exits(1)
        .says("give the diary of this person");
}

#[test]
fn the_problem_of_a_rung_is_written_and_solved_alike_by_compose() {
    let case = well();
    let out = file("instance.json", "");
    programme(&case, &["--stage", "6", "--instance", &case])
        .exits(1)
        .says("never overwritten");
    std::fs::remove_file(&out).unwrap();
    let result = programme(&case, &["--stage", "6", "--instance", &out, "--json"])
        .exits(0)
        .json();
    let answer = hearthpace(&["compose", &out, "--json"]).exits(0).json();
    assert_eq!(answer["objective"], result["stages"][0]["objective"]);
    assert_eq!(answer["bound"], result["stages"][0]["bound"]);
    programme(&case, &["--stage", "1", "--instance", &out])
        .exits(1)
        .says("no stations");
}

#[test]
fn a_rung_that_cannot_be_is_wrong_usage() {
    programme(&well(), &["--stage", "0"]).exits(2);
    programme(&well(), &["--stage", "many"]).exits(2);
    hearthpace(&["review", &well()]).exits(2);
}

#[test]
fn past_the_last_rung_nothing_is_shown_as_if_it_were_the_one() {
    let case = well();
    let refused = programme(&case, &["--stage", "200"])
        .exits(1)
        .says("there is no rung 200");
    let last: u16 = refused
        .err
        .split("the last is ")
        .nth(1)
        .and_then(|rest| rest.split(',').next())
        .and_then(|number| number.parse().ok())
        .unwrap();
    let asked = last.to_string();
    let stages = programme(&case, &["--stage", &asked, "--json"])
        .exits(0)
        .json();
    assert_eq!(stages["stages"][0]["number"], last);
    let next = (last + 1).to_string();
    programme(&case, &["--stage", &next]).exits(1);
    // A diary only claims it: the last rung is shown, and that it is another is said.
    let diary = diary("everything-1948", &["2026-10-01"]);
    let far = std::fs::read_to_string(&diary)
        .unwrap()
        .replace("\"stage\": 1", "\"stage\": 200");
    let far = file("far.json", far);
    programme(&case, &["--diary", &far])
        .exits(0)
        .shows("There is no rung 200 for this person today");
}

/// Looking at a later rung moves nobody: the proposal stays that of where the diary sees the person.
#[test]
fn a_rung_to_look_at_changes_no_proposal() {
    let case = well();
    let diary = diary(
        "everything-1948",
        &["2026-09-28", "2026-09-30", "2026-10-01"],
    );
    let proposed = |more: &[&str]| {
        let mut all = vec!["--diary", &diary, "--json"];
        all.extend(more);
        programme(&case, &all).exits(0).json()["proposal"].clone()
    };
    let here = proposed(&[]);
    assert!(here["action"].is_string());
    assert_eq!(proposed(&["--stage", "5"]), here);
}

#[test]
fn nothing_is_proposed_for_somebody_who_has_died() {
    let case = file(
        "died.toml",
        std::fs::read_to_string(well())
            .unwrap()
            .replace("kind = \"active\"", "kind = \"died\""),
    );
    let diary = diary("everything-1948", &["2026-10-01"]);
    for json in [&[][..], &["--json"]] {
        let mut all = vec!["review", &case, "--diary", &diary];
        all.extend(json);
        let ran = hearthpace(&all).says("has died");
        assert!(!ran.out.contains("stop"), "{}", ran.out);
    }
}

/// What else a turn could be is told on the command line as in the builder, and why there is not more of it.
#[test]
fn what_else_a_turn_could_be_is_told_with_the_reason_where_it_is_little() {
    let case = well();
    let with = |more: &[&str]| programme(&case, &[&["--stage", "4"], more].concat());
    let result = with(&["--turn", "1", "--json"]).exits(0).json();
    let others = &result["others"];
    assert_eq!((&others["stage"], &others["turn"]), (&4.into(), &1.into()));
    let ways = others["ways"].as_array().unwrap();
    assert!(ways.len() <= 3);
    assert_eq!(others["why_few"].is_null(), ways.len() == 3, "{others:#}");
    for way in ways {
        assert!(!way["because"].as_array().unwrap().is_empty());
    }
    with(&["--turn", "1"])
        .exits(0)
        .shows("What else turn 1 could be");
    with(&["--turn", "40"]).exits(1).says("no turn 40");
    programme(&case, &["--turn", "1"])
        .exits(1)
        .says("rung 1 has no turns");
}

/// Once the gentle fortnight was over, a review of sessions done within it counted them against the wish of five a week
/// and judged their effort by the wider range of today, and the next page grew by a longer session and by more of them.
#[test]
fn sessions_are_held_against_what_their_own_page_asked_for() {
    let text = changed(
        "fenwick.toml",
        "sessions_per_week = 3",
        "sessions_per_week = 5",
    );
    let case = file(
        "case.toml",
        format!(
            "{text}\n[[watched]]\ndate = 2026-10-12\nexercise = \"seated-march\"\nvariant = \"slow\"\n\
             effort = {{ scale = \"0-10\", value = 2 }}\ntechnique = \"good\"\n"
        ),
    );
    let days = ["13", "15", "18", "20", "22", "25"];
    let diary = |effort: u8| {
        let entries: Vec<String> = days
            .iter()
            .map(|day| {
                format!(
                    r#"{{"id": "{day}", "date": "2026-10-{day}", "stage": 2, "symptoms": [], "minutes": 40,
                    "effort": {{"scale": "0-10", "value": {effort}}}}}"#
                )
            })
            .collect();
        let all = entries.join(",");
        file(
            "diary.json",
            format!(r#"{{"case": "fenwick-1951", "entries": [{all}]}}"#),
        )
    };
    let review = |effort: u8, on: &str| {
        let asked = [
            "review",
            &case,
            "--diary",
            &diary(effort),
            "--on",
            on,
            "--json",
        ];
        hearthpace(&asked).exits(0).json()
    };
    for day in ["2026-10-25", "2026-10-26"] {
        let hard = review(4, day);
        assert_eq!(hard["proposal"]["action"], "step-back", "{day}: {hard}");
        let light = review(3, day);
        assert_ne!(light["proposal"]["action"], "step-back", "{day}: {light}");
        assert_eq!(light["trends"]["planned_in_14_days"], 6, "{day}");
    }
    let then = programme(&case, &["--stage", "2", "--on", "2026-10-13", "--json"]);
    let then = then.exits(0).json();
    let next = [
        "--diary",
        &diary(3),
        "--stage",
        "3",
        "--on",
        "2026-10-26",
        "--json",
    ];
    let next = programme(&case, &next).exits(0).json();
    let (home, next) = (&then["stages"][0], &next["stages"][0]);
    assert_eq!((&home["number"], &next["number"]), (&2.into(), &3.into()));
    assert_eq!(home["sessions_per_week"], 3);
    let longer = next["met_minutes"].as_f64() > home["met_minutes"].as_f64();
    let oftener = next["sessions_per_week"].as_u64() > Some(3);
    assert!(!(longer && oftener), "two levers at once: {home} {next}");
}
