//! `pack`: what is refused, what is marked, and what is written.

use crate::run::{Ran, changed, file, fixture, hearthpace};
use std::path::{Path, PathBuf};

const INES: &str = "Ines Calder, physiotherapist";

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

/// The same, with every way of a rung watched on three days and found good.
fn watched(well: &str, service: &str, stage: u16) -> String {
    let mut text = std::fs::read_to_string(well).expect("the case was just written");
    let mut seen: Vec<(String, String)> = Vec::new();
    for _ in 0..8 {
        let path = file("case.toml", &text);
        let stage = stage.to_string();
        let asked = [
            "programme",
            &path,
            "--service",
            service,
            "--stage",
            &stage,
            "--json",
        ];
        let plan = hearthpace(&asked).exits(0).json();
        let before = seen.len();
        for segment in plan["stages"][0]["segments"]
            .as_array()
            .expect("a rung has segments")
        {
            let (Some(exercise), Some(variant)) =
                (segment["exercise"].as_str(), segment["variant"].as_str())
            else {
                continue;
            };
            let way = (exercise.to_owned(), variant.to_owned());
            if seen.contains(&way) {
                continue;
            }
            seen.push(way);
            for day in ["2026-09-29", "2026-09-30", "2026-10-01"] {
                text.push_str(&format!(
                    "\n[[watched]]\ndate = {day}\nexercise = \"{exercise}\"\nvariant = \"{variant}\"\n\
                     effort = {{ scale = \"0-10\", value = 2 }}\ntechnique = \"good\"\n"
                ));
            }
        }
        if seen.len() == before {
            return path;
        }
    }
    panic!("what was watched changes the rung again and again")
}

fn folder() -> PathBuf {
    PathBuf::from(file("beside", "")).with_file_name("pack")
}

fn pack(case: &str, service: &str, out: &Path, more: &[&str]) -> Ran {
    let out = out.display().to_string();
    let mut all = vec!["pack", case, "--service", service, "--out", &out];
    all.extend(more);
    hearthpace(&all)
}

#[test]
fn a_signed_pack_has_page_and_booklet_with_the_signature() {
    let out = folder();
    let service = fixture("service.toml");
    let case = watched(&well(), &service, 1);
    let ran = pack(&case, &service, &out, &["--signed-by", INES, "--json"]).exits(0);
    let result = ran.json();
    assert_eq!(
        (&result["draft"], &result["letter"], &result["on"]),
        (&false.into(), &"A".into(), &"2026-10-01".into())
    );
    for name in ["session.html", "booklet.html"] {
        let text = std::fs::read_to_string(out.join(name)).unwrap();
        assert!(text.contains("Ines Calder"), "{name}");
        assert!(
            text.contains("01632 960100"),
            "{name} has no number of the team"
        );
        assert!(!text.contains("NOT FOR A PATIENT"), "{name}");
    }
}

#[test]
fn a_pack_that_nobody_has_signed_is_refused_and_nothing_is_written() {
    let out = folder();
    pack(&well(), &fixture("service.toml"), &out, &[])
        .exits(1)
        .says("nobody has signed");
    assert!(!out.exists());
    pack(
        &well(),
        &fixture("service.toml"),
        &out,
        &["--signed-by", "Ines"],
    )
    .exits(2);
    pack(
        &well(),
        &fixture("service.toml"),
        &out,
        &["--signed-by", INES, "--draft"],
    )
    .exits(2);
}

#[test]
fn a_pack_is_never_written_over_or_beside_another() {
    let out = folder();
    pack(&well(), &fixture("service.toml"), &out, &["--draft"]).exits(0);
    let before = std::fs::read(out.join("session.html")).unwrap();
    for more in [&["--draft"][..], &["--draft", "--only", "page"]] {
        pack(&well(), &fixture("service.toml"), &out, more)
            .exits(1)
            .says("there already");
    }
    // Not beside a part of another pack either: the two would contradict each other.
    std::fs::remove_file(out.join("session.html")).unwrap();
    pack(
        &well(),
        &fixture("service.toml"),
        &out,
        &["--draft", "--only", "page"],
    )
    .exits(1)
    .says("booklet.html is there already");
    assert!(!out.join("session.html").exists());
    std::fs::remove_file(out.join("booklet.html")).unwrap();
    pack(&well(), &fixture("service.toml"), &out, &["--draft"]).exits(0);
    assert_eq!(std::fs::read(out.join("session.html")).unwrap(), before);
    assert_eq!(
        std::fs::read_dir(&out).unwrap().count(),
        2,
        "nothing else is left behind"
    );
}

#[test]
fn a_rung_that_is_not_there_is_not_packed_as_another() {
    pack(
        &well(),
        &fixture("service.toml"),
        &folder(),
        &["--draft", "--stage", "200"],
    )
    .exits(1)
    .says("no rung 200");
}

#[test]
fn a_draft_says_so_on_page_and_print() {
    let out = folder();
    pack(&well(), &fixture("service.toml"), &out, &["--draft"]).exits(0);
    for name in ["session.html", "booklet.html"] {
        let text = std::fs::read_to_string(out.join(name)).unwrap();
        assert!(text.contains("NOT FOR A PATIENT"), "{name}");
    }
}

#[test]
fn signing_waits_for_what_blocks_it_while_a_draft_does_not() {
    let open = file(
        "case.toml",
        changed(
            "everything.toml",
            "rest_absent = \"letter of 2026-09-10 and by asking\"\n",
            "",
        )
        .replace("symptoms = [\"very-tired\"]", "symptoms = []"),
    );
    let out = folder();
    pack(
        &open,
        &fixture("service.toml"),
        &out,
        &["--signed-by", INES],
    )
    .exits(1)
    .says("signing waits for");
    assert!(!out.exists());
    pack(&open, &fixture("service.toml"), &out, &["--draft"]).exits(0);
    let unrated = file(
        "case.toml",
        changed("everything.toml", "lowest_treated_bpm = 170, ", "")
            .replace("symptoms = [\"very-tired\"]", "symptoms = []"),
    );
    pack(
        &unrated,
        &fixture("service.toml"),
        &folder(),
        &["--signed-by", INES],
    )
    .exits(1)
    .says("signing waits for");
}

#[test]
fn settings_that_no_lead_has_adopted_sign_for_nobody() {
    let adopted = "[adopted]\nby = \"Ines Calder, lead\"\ndate = 2026-09-01\n";
    let service = file("service.toml", changed("service.toml", adopted, ""));
    pack(&well(), &service, &folder(), &["--signed-by", INES])
        .exits(1)
        .says("not adopted");
}

#[test]
fn without_the_services_own_words_for_help_there_is_no_pack() {
    let out = folder().display().to_string();
    hearthpace(&["pack", &well(), "--out", &out, "--draft"])
        .exits(1)
        .says("--service FILE");
    let small = file("service.toml", "name = \"Small\"\n");
    pack(&well(), &small, &folder(), &["--draft"])
        .exits(1)
        .says("emergency number");
}

#[test]
fn where_there_is_no_rung_there_is_no_pack() {
    let path = fixture("everything.toml");
    pack(&path, &fixture("service.toml"), &folder(), &["--draft"])
        .exits(1)
        .says("no rung to pack");
}

#[test]
fn only_what_is_asked_for_is_written() {
    let out = folder();
    pack(
        &well(),
        &fixture("service.toml"),
        &out,
        &["--draft", "--only", "page"],
    )
    .exits(0);
    assert!(out.join("session.html").exists() && !out.join("booklet.html").exists());
    pack(
        &well(),
        &fixture("service.toml"),
        &out,
        &["--draft", "--only", "film"],
    )
    .exits(2);
}

/// Whoever signs here gives the page too, so everything that a page waits for in the browser is waited for here.
#[test]
fn what_nobody_watched_is_not_given() {
    let out = folder();
    let service = fixture("service.toml");
    pack(&well(), &service, &out, &["--signed-by", INES])
        .exits(1)
        .says("sessions to be watched first")
        .says("to be watched and found good before it is done alone");
    assert!(!out.exists());
    let all = std::fs::read_to_string(watched(&well(), &service, 1)).unwrap();
    let one_badly = all.replacen("technique = \"good\"", "technique = \"needed-help\"", 4);
    assert_ne!(one_badly, all);
    let referred = all.replacen("kind = \"active\"", "kind = \"referred\"", 1);
    for (text, words) in [
        (one_badly, "found good"),
        (referred, "standing of the case is referred"),
    ] {
        pack(
            &file("case.toml", text),
            &service,
            &out,
            &["--signed-by", INES],
        )
        .exits(1)
        .says(words);
        assert!(!out.exists());
    }
}

/// A page watched at effort 8 and a pulse above the hard limit, or at a pressure that stops exercise, was signed and given:
/// only the technique counted.
#[test]
fn what_was_watched_outside_the_limits_is_not_given() {
    let out = folder();
    let service = fixture("service.toml");
    let all = std::fs::read_to_string(watched(&well(), &service, 1)).unwrap();
    let effort = "value = 2 }\ntechnique";
    for (taken, pack_says, rule) in [
        (
            "value = 8 }\ntechnique",
            "last time effort 8, above the agreed",
            "review/ask-watched-outside",
        ),
        (
            "value = 2 }\nhr_bpm = 235\ntechnique",
            "last time pulse 235",
            "review/ask-watched-outside",
        ),
        (
            "value = 2 }\nbp_mmhg = [248, 118]\ntechnique",
            "not-today",
            "review/stop-screening",
        ),
        (
            "value = 2 }\nsymptoms = [\"chest-discomfort\"]\ntechnique",
            "not-today",
            "review/stop-screening",
        ),
    ] {
        let changed = all.replace(effort, taken);
        assert_ne!(changed, all);
        let case = file("case.toml", changed);
        pack(&case, &service, &out, &["--signed-by", INES])
            .exits(1)
            .says(pack_says);
        assert!(!out.exists());
        let told = diary(1, r#""effort": {"scale": "0-10", "value": 2}"#);
        let asked = [
            "review",
            &case,
            "--diary",
            &told,
            "--service",
            &service,
            "--json",
        ];
        let review = hearthpace(&asked).exits(0).json().to_string();
        assert!(review.contains(rule), "{rule}: {review}");
    }
}

#[test]
fn a_page_beyond_the_programs_own_needs_a_reason_and_a_second_name() {
    let service = fixture("service.toml");
    let case = watched(&well(), &service, 5);
    let further = ["--signed-by", INES, "--stage", "5"];
    pack(&case, &service, &folder(), &further)
        .exits(1)
        .says("page E is none that the program itself would give now")
        .says("--second");
    let more = [
        "--reason",
        "Walked further on the ward",
        "--second",
        "Hal Brook",
    ];
    let all: Vec<&str> = further.iter().chain(&more).copied().collect();
    pack(&case, &service, &folder(), &all).exits(0);
}

fn diary(stage: u16, more: &str) -> String {
    let entry =
        format!(r#"{{"id": "e1", "date": "2026-10-01", "stage": {stage}, "minutes": 25, {more}}}"#);
    file(
        "diary.json",
        format!(r#"{{"case": "everything-1948", "entries": [{entry}]}}"#),
    )
}

#[test]
fn nothing_is_signed_over_something_red_in_a_diary() {
    let service = fixture("service.toml");
    let case = watched(&well(), &service, 1);
    let red = diary(1, r#""symptoms": [{"kind": "faint"}]"#);
    let more = [
        "--signed-by",
        INES,
        "--diary",
        &red,
        "--reason",
        "Well again",
        "--second",
        "Hal Brook",
    ];
    pack(&case, &service, &folder(), &more)
        .exits(1)
        .says("something stands that stops exercise");
    let calm = diary(1, r#""symptoms": []"#);
    pack(
        &case,
        &service,
        &folder(),
        &["--signed-by", INES, "--diary", &calm],
    )
    .exits(0);
}

/// What a diary claims is no signature: a rung that is not there is packed as no other.
#[test]
fn a_rung_that_only_a_diary_names_is_not_packed() {
    let service = fixture("service.toml");
    let far = diary(150, r#""symptoms": []"#);
    pack(&well(), &service, &folder(), &["--draft", "--diary", &far])
        .exits(1)
        .says("the newest diary entry names rung 150");
}

#[test]
fn an_invented_person_may_be_signed_for_and_the_page_says_so() {
    let adopted = "[adopted]\nby = \"Ines Calder, lead\"\ndate = 2026-09-01\n";
    let service = file("service.toml", changed("service.toml", adopted, ""));
    let case = watched(&well(), &service, 1);
    let out = folder();
    pack(&case, &service, &out, &["--signed-by", INES, "--invented"]).exits(0);
    for name in ["session.html", "booklet.html"] {
        let text = std::fs::read_to_string(out.join(name)).unwrap();
        assert!(text.contains("for an invented person"), "{name}");
    }
    pack(&case, &service, &folder(), &["--draft", "--invented"]).exits(2);
}
