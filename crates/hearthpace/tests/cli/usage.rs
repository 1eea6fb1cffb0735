//! Wrong usage, help and version.

use crate::run::{fixture, hearthpace};

#[test]
fn wrong_usage_exits_with_2_and_prints_no_result() {
    for arguments in [
        &["limts"][..],
        &[],
        &["check"],
        &["check", "--on", "12.10.2026", "x.toml"],
        &["check", "--on", "2026-10-12T00:00", "x.toml"],
        &["schema"],
        &["schema", "sheet"],
        &["rule", "hr-max/fox-1971", "age_years"],
    ] {
        let ran = hearthpace(arguments).exits(2);
        assert_eq!(ran.out, "", "{arguments:?}");
    }
}

#[test]
fn wrong_usage_is_json_when_json_is_asked_for() {
    let ran = hearthpace(&["--json", "limts"]).exits(2);
    let error = ran.error();
    assert_eq!(error["error"], "wrong-usage");
    assert_eq!(ran.out, "");
}

#[test]
fn help_and_version_are_results() {
    let help = hearthpace(&["--help"])
        .exits(0)
        .shows("not a certified medical device");
    assert_eq!(help.err, "");
    hearthpace(&["--version"])
        .exits(0)
        .shows(env!("CARGO_PKG_VERSION"));
    hearthpace(&["check", "--help"]).exits(0);
}

#[test]
fn json_may_stand_before_or_after_the_command() {
    let before = hearthpace(&["--json", "check", &fixture("fenwick.toml")]).exits(0);
    let after = hearthpace(&["check", &fixture("fenwick.toml"), "--json"]).exits(0);
    assert_eq!(before.json(), after.json());
}

/// Runs `rules` with its standard output at this file.
#[cfg(target_os = "linux")]
fn rules_into(out: std::process::Stdio) -> std::process::Output {
    std::process::Command::new(env!("CARGO_BIN_EXE_hearthpace"))
        .arg("rules")
        .stdout(out)
        .stderr(std::process::Stdio::piped())
        .spawn()
        .and_then(std::process::Child::wait_with_output)
        .expect("the built program can be started")
}

#[test]
#[cfg(target_os = "linux")]
fn a_result_that_finds_no_room_is_told_and_not_taken_for_done() {
    let full = std::fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let ran = rules_into(full.into());
    assert_eq!(ran.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&ran.stderr).contains("could not be written"));
}

#[test]
#[cfg(target_os = "linux")]
fn whoever_stops_reading_early_is_not_scolded() {
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let ran = rules_into(writer.into());
    assert_eq!((ran.status.code(), ran.stderr.len()), (Some(0), 0));
}
