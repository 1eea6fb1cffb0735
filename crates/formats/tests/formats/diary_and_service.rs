//! Diary and service files: fixtures, refusals, and the way back.

use crate::random::{Dice, ON, spoil, table};
use formats::diary::{self, DIARY};
use formats::service::{self, SERVICE};
use formats::tree::Notation;
use formats::{FileKind, Problem, SourceFile};
use jiff::civil::date;
use proptest::prelude::*;
use rehab::assessment::{CaseId, EffortScale};
use rehab::diary::PulseMoment;
use rehab::service::{EffortBand, HomeConsequence, Service};

fn problems_of_diary(from: &str, to: &str) -> Vec<Problem> {
    assert!(
        crate::support::DIARY.contains(from),
        "the fixture holds no {from}"
    );
    let text = crate::support::DIARY.replacen(from, to, 1);
    diary::read("diary.json", text.as_bytes(), None)
        .expect_err(to)
        .0
}

fn problems_of_service(from: &str, to: &str) -> Vec<Problem> {
    assert!(
        crate::support::SERVICE.contains(from),
        "the fixture holds no {from}"
    );
    let text = crate::support::SERVICE.replacen(from, to, 1);
    service::read("service.toml", text.as_bytes())
        .expect_err(to)
        .0
}

#[track_caller]
fn told(problems: &[Problem], key_path: &str, words: &str) {
    let found = problems
        .iter()
        .any(|one| one.key_path == key_path && one.message.contains(words));
    assert!(found, "{problems:#?}");
}

#[test]
fn the_diary_loads() {
    let (diary, on) = diary::read("diary.json", crate::support::DIARY.as_bytes(), None).unwrap();
    assert_eq!(on, Some(date(2026, 10, 16)));
    let entry = &diary.entries[0];
    assert_eq!(entry.pulses[1].at, PulseMoment::EndOfStation(3));
    assert_eq!(entry.joint_pain.unwrap().worse_next_morning, Some(false));
    assert_eq!(diary.entries[1].symptoms, Some(vec![]));
    assert_eq!(diary.entries[1].effort, None);
}

#[test]
fn a_diary_of_another_case_is_refused() {
    let file = SourceFile::open("diary.json", crate::support::DIARY.as_bytes()).unwrap();
    let diary = diary::from_file(&file, None, None).unwrap();
    diary::belongs_to(&file, &diary, &CaseId("fenwick-1951".to_owned())).unwrap();
    let problems = diary::belongs_to(&file, &diary, &CaseId("fenwick-1915".to_owned()))
        .unwrap_err()
        .0;
    assert_eq!(problems[0].line, Some(2));
    told(
        &problems,
        "case",
        "of the case 'fenwick-1951', not of 'fenwick-1915'",
    );
}

#[test]
fn an_entry_id_seen_twice_is_one_entry_unless_it_says_two_things() {
    let second = r#"{ "id": "w1-2", "date": "2026-10-16", "symptoms": [] }"#;
    let twice = crate::support::DIARY.replacen(second, &format!("{second}, {second}"), 1);
    let (diary, _) = diary::read("diary.json", twice.as_bytes(), None).unwrap();
    assert_eq!(diary.entries.len(), 2);

    let other = second.replace("[]", r#"[{"kind": "faint"}]"#);
    let problems = problems_of_diary(second, &format!("{second}, {other}"));
    told(&problems, "entries[3].id", "says something else");

    let (one, _) = diary::read("a.json", crate::support::DIARY.as_bytes(), None).unwrap();
    let case = one.case.clone();
    let joined = diary::join(
        case.clone(),
        vec![("a".to_owned(), one.clone()), ("b".to_owned(), one.clone())],
    );
    assert_eq!(joined.unwrap().entries.len(), 2);
    let with = |entry: fn(&mut rehab::diary::DiaryEntry)| {
        let mut other = one.clone();
        entry(&mut other.entries[0]);
        let parts = vec![("a".to_owned(), one.clone()), ("b".to_owned(), other)];
        diary::join(case.clone(), parts)
    };
    let grown = with(|entry| entry.eased = vec!["marching".to_owned()]).unwrap();
    assert_eq!(grown.entries.len(), 2);
    assert!(grown.entries[0].eased.contains(&"marching".to_owned()));
    let changed = with(|entry| entry.minutes = Some(1.0));
    assert_eq!(changed.unwrap_err().0[0].file, "b");
}

#[test]
fn impossible_diaries_are_refused() {
    told(
        &problems_of_diary("\"end-of-station-3\"", "\"end-of-station-61\""),
        "entries[1].pulses[2].at",
        "1 to 60",
    );
    told(
        &problems_of_diary("\"end-of-station-3\"", "\"before\""),
        "entries[1].pulses",
        "two pulses are given for 'before'",
    );
    told(
        &problems_of_diary("\"bpm\": 92", "\"bpm\": 920"),
        "entries[1].pulses[2].bpm",
        "not possible",
    );
    told(
        &problems_of_diary("\"value\": 3", "\"value\": 11"),
        "entries[1].effort.value",
        "0 to 10",
    );
    told(
        &problems_of_diary("\"case\": \"fenwick-1951\",", ""),
        "case",
        "is missing",
    );
    told(
        &problems_of_diary("\"next_morning\": \"usual\"", "\"next_morning\": \"wors\""),
        "entries[1].joint_pain.next_morning",
        "did you mean 'worse'",
    );
    told(
        &problems_of_diary("\"2026-10-14\"", "\"14.10.2026\""),
        "entries[1].date",
        "write only the day",
    );
    let early = diary::read(
        "diary.json",
        crate::support::DIARY.as_bytes(),
        Some(date(2026, 10, 15)),
    );
    told(&early.unwrap_err().0, "entries[2].date", "lies ahead");
}

#[test]
fn the_service_loads_and_what_it_leaves_out_keeps_the_built_in_value() {
    let service = service::read("service.toml", crate::support::SERVICE.as_bytes()).unwrap();
    let mut expected = Service::cautious();
    assert_eq!(service.risk.moderate.watched_sessions, 2);
    assert_eq!(service.risk.high.home, HomeConsequence::AfterAgreement);
    assert_eq!(service.lengths, expected.lengths);
    expected.name = "Small".to_owned();
    assert_eq!(
        service::read("s.toml", b"name = \"Small\"").unwrap(),
        expected
    );
}

#[test]
fn a_service_with_the_other_scale_has_bands_of_that_scale() {
    let service = service::read("s.toml", b"name = \"Small\"\neffort_scale = \"6-20\"").unwrap();
    assert_eq!(
        service.effort_band,
        EffortBand::to_begin(EffortScale::SixToTwenty)
    );
    told(
        &problems_of_service("effort_scale = \"0-10\"", "effort_scale = \"6-20\""),
        "effort_band",
        "the scale of this service is 6-20",
    );
}

#[test]
fn impossible_settings_are_refused() {
    told(
        &problems_of_service("hr_band_pct = [40, 70]", "hr_band_pct = [70, 40]"),
        "hr_band_pct",
        "above the upper end",
    );
    told(
        &problems_of_service("warm_up_s = 900", "warm_up_s = 15"),
        "warm_up_s",
        "300 to 1800",
    );
    told(
        &problems_of_service("session_max_s = 3600", "session_max_s = 900"),
        "session_max_s",
        "no room",
    );
    told(
        &problems_of_service("least_s = 30, first_s = 60", "least_s = 90, first_s = 60"),
        "cardiovascular_s",
        "do not rise",
    );
    told(
        &problems_of_service("number = \"999\"\n", ""),
        "emergency.number",
        "is missing",
    );
    told(
        &problems_of_service("icd_margin_bpm", "icd_margin"),
        "icd_margin",
        "did you mean 'icd_margin_bpm'",
    );
}

#[test]
fn every_key_of_the_formats_stands_in_the_fixtures() {
    let file = SourceFile::open("diary.json", crate::support::DIARY.as_bytes()).unwrap();
    crate::support::every_key_is_used(&file.tree, &DIARY);
    let file = SourceFile::open("service.toml", crate::support::SERVICE.as_bytes()).unwrap();
    crate::support::every_key_is_used(&file.tree, &SERVICE);
}

#[test]
fn the_kind_of_a_file_is_told_by_its_keys() {
    for (text, kind) in [
        (crate::support::EVERYTHING, FileKind::Case),
        (crate::support::DIARY, FileKind::Diary),
        (crate::support::SERVICE, FileKind::Service),
    ] {
        assert_eq!(
            SourceFile::open("x", text.as_bytes())
                .unwrap()
                .kind()
                .unwrap(),
            kind
        );
    }
    let strange = SourceFile::open("x.json", b"{\"colour\": 1}").unwrap();
    assert!(
        strange
            .kind()
            .unwrap_err()
            .to_string()
            .contains("none of the formats")
    );
}

proptest! {
    #[test]
    fn law_a_diary_written_is_the_diary_read(seed: u64) {
        let made = table(&DIARY, &mut Dice::new(seed));
        let text = formats::tree::write(&made, Notation::Json);
        if let Ok((diary, _)) = diary::read("random.json", text.as_bytes(), Some(ON)) {
            for (name, notation) in [("a.toml", Notation::Toml), ("a.json", Notation::Json)] {
                let written = diary::write(&diary, notation);
                prop_assert_eq!(&diary::read(name, written.as_bytes(), Some(ON)).unwrap().0, &diary, "{}", written);
            }
        }
    }

    #[test]
    fn law_settings_written_are_the_settings_read(seed: u64) {
        let made = table(&SERVICE, &mut Dice::new(seed));
        let text = formats::tree::write(&made, Notation::Toml);
        if let Ok(service) = service::read("random.toml", text.as_bytes()) {
            for (name, notation) in [("a.toml", Notation::Toml), ("a.json", Notation::Json)] {
                let written = service::write(&service, notation);
                prop_assert_eq!(&service::read(name, written.as_bytes()).unwrap(), &service, "{}", written);
            }
        }
    }

    #[test]
    fn law_spoilt_diaries_and_settings_never_panic(seed: u64) {
        let mut dice = Dice::new(seed);
        let mut made = table(&DIARY, &mut dice);
        spoil(&mut made, &mut dice);
        let _ = diary::read("a.json", formats::tree::write(&made, Notation::Json).as_bytes(), Some(ON));
        let mut made = table(&SERVICE, &mut dice);
        spoil(&mut made, &mut dice);
        let _ = service::read("a.json", formats::tree::write(&made, Notation::Json).as_bytes());
    }
}
