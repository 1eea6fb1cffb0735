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
    let ran = pack(
        &well(),
        &fixture("service.toml"),
        &out,
        &["--signed-by", INES, "--stage", "5", "--json"],
    )
    .exits(0);
    let result = ran.json();
    assert_eq!(
        (&result["draft"], &result["letter"], &result["on"]),
        (&false.into(), &"E".into(), &"2026-10-01".into())
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
    for more in [&["--draft"][..], &["--signed-by", INES, "--only", "page"]] {
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
