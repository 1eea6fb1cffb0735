//! The case file: the published example, every refusal, and the way back.

use crate::random::{Dice, ON, spoil, table};
use crate::support::{EVERYTHING, FENWICK, line_of, problems_of_case};
use formats::case::{self, CASE};
use formats::tree::Notation;
use jiff::civil::date;
use proptest::prelude::*;
use rehab::assessment::{Answered, HistoryItem, TestResult};

#[track_caller]
fn refused(from: &str, to: &str, key_path: &str, words: &str) {
    let problems = problems_of_case(from, to);
    let found = problems
        .iter()
        .any(|problem| problem.key_path == key_path && problem.message.contains(words));
    assert!(found, "{problems:#?}");
    assert!(
        problems.iter().all(|problem| problem.line.is_some()),
        "{problems:#?}"
    );
    assert!(
        problems
            .iter()
            .all(|problem| !problem.message.ends_with('.')),
        "{problems:#?}"
    );
}

#[test]
fn the_published_example_loads() {
    let (case, on) = case::read("fenwick.toml", FENWICK.as_bytes(), None).unwrap();
    assert_eq!(on, Some(date(2026, 10, 12)));
    assert_eq!(case.id.0, "fenwick-1951");
    assert_eq!(case.person.age_years(date(2026, 10, 12)), Some(75.0));
    assert_eq!(
        case.history.answer(HistoryItem::HeartFailure),
        Answered::Absent
    );
    assert_eq!(case.history.answer(HistoryItem::Stroke), Answered::NotKnown);
    assert_eq!(case.examinations[0].symptoms, Some(vec![]));
    assert_eq!(
        case.examinations[0].resting_bp.unwrap().systolic_mmhg,
        128.0
    );
    assert_eq!(
        case.tests[0].result,
        TestResult::TwoMinuteStep { count: 61.0 }
    );
    assert_eq!(case.home.places[1].height_cm, Some(17.0));
    assert_eq!(case.wishes.weights_g, [415.0, 415.0]);
}

#[test]
fn the_same_in_json_is_the_same_case() {
    let file = formats::SourceFile::open("fenwick.toml", FENWICK.as_bytes()).unwrap();
    let json = formats::tree::to_json(&file.tree).to_string();
    let (from_json, on) = case::read("fenwick.json", json.as_bytes(), None).unwrap();
    assert_eq!(
        (from_json, on),
        case::read("fenwick.toml", FENWICK.as_bytes(), None).unwrap()
    );
}

#[test]
fn a_medicine_may_end_in_the_days_to_come_and_does_not_move_the_day() {
    let (case, on) = case::read("e.toml", EVERYTHING.as_bytes(), None).unwrap();
    assert_eq!(case.medicines[0].until, Some(date(2027, 6, 10)));
    assert_eq!(on, Some(date(2026, 10, 1)));
}

#[test]
fn an_id_left_out_is_derived_from_name_and_birth() {
    let text = EVERYTHING.replacen("id = \"everything-1948\"", "", 1);
    let (case, _) = case::read("e.toml", text.as_bytes(), None).unwrap();
    assert_eq!(case.id.0, "everley-tomasz-1948-02-29");
}

#[test]
fn missing_is_not_refused() {
    for text in [
        "[person]\nname = \"Ada Moor\"\n",
        "[home]\n",
        "[[examination]]\ndate = 2026-10-12\n",
    ] {
        case::read("small.toml", text.as_bytes(), None).unwrap();
    }
}

#[test]
fn null_is_the_same_as_left_out() {
    let text = r#"{"person": {"name": "Ada Moor", "height_cm": null}, "heart": null}"#;
    let (case, _) = case::read("small.json", text.as_bytes(), None).unwrap();
    assert_eq!(case.person.height_cm, None);
}

#[test]
fn swapped_pressure_is_refused() {
    refused(
        "resting_bp_mmhg = [118, 66]",
        "resting_bp_mmhg = [66, 118]",
        "examination[1].resting_bp_mmhg",
        "systolic and diastolic are swapped",
    );
}

#[test]
fn height_in_metres_is_refused() {
    refused(
        "height_cm = 174.5",
        "height_cm = 1.745",
        "person.height_cm",
        "looks like metres, write 174.5",
    );
}

#[test]
fn impossible_values_are_refused() {
    refused(
        "resting_hr_bpm = 70",
        "resting_hr_bpm = 700",
        "examination[1].resting_hr_bpm",
        "not possible",
    );
    refused(
        "spo2_pct = 96",
        "spo2_pct = 196",
        "examination[1].spo2_pct",
        "not possible",
    );
    refused(
        "weight_kg = 83\n",
        "weight_kg = -83\n",
        "person.weight_kg",
        "not possible",
    );
    refused(
        "weight_kg = 83\n",
        "weight_kg = nan\n",
        "person.weight_kg",
        "finite",
    );
    refused("nyha = 2", "nyha = 5", "examination[1].nyha", "1 to 4");
    refused(
        "nyha = 2",
        "nyha = 1.5",
        "examination[1].nyha",
        "whole number",
    );
    refused(
        "nyha = 2",
        "nyha = 99999999999999999999",
        "examination[1].nyha",
        "finite",
    );
    refused(
        "ejection_fraction_pct = 34",
        "ejection_fraction_pct = 0.34",
        "heart.ejection_fraction_pct",
        "a fraction",
    );
    refused(
        "effort = { scale = \"6-20\", value = 15 }",
        "effort = { scale = \"6-20\", value = 4 }",
        "test[1].effort.value",
        "6 to 20",
    );
    refused(
        "scale = \"0-10\", value = 3",
        "scale = \"0-10\", value = 13",
        "watched[1].effort.value",
        "0 to 10",
    );
    refused(
        "effort = 9",
        "effort = 3",
        "test[2].stages[1].effort",
        "6 to 20",
    );
    refused(
        "ischaemia_hr_bpm = 112",
        "ischaemia_hr_bpm = 130",
        "test[1].ischaemia_hr_bpm",
        "lies above peak_hr_bpm",
    );
    refused(
        "hr_recovery_1min_bpm = 14",
        "hr_recovery_1min_bpm = 96",
        "test[1].hr_recovery_1min_bpm",
        "leaves 22, which is not possible",
    );
    refused(
        "symptoms = [\"breathlessness\"]",
        "symptoms = []",
        "test[1].symptom_mets",
        "contradict each other",
    );
    refused(
        "base_bpm = 60, upper_tracking_bpm = 130",
        "base_bpm = 105, upper_tracking_bpm = 100",
        "heart.pacemaker.base_bpm",
        "lies above upper_tracking_bpm",
    );
}

#[test]
fn future_days_and_days_before_birth_are_refused() {
    let read = |on| case::read("e.toml", EVERYTHING.as_bytes(), Some(on));
    let problems = read(date(2026, 9, 30)).unwrap_err().0;
    let paths: Vec<&str> = problems
        .iter()
        .map(|problem| problem.key_path.as_str())
        .collect();
    assert_eq!(
        paths,
        ["examination[1].date", "watched[1].date", "pain[1].date"]
    );
    assert!(
        problems[0]
            .message
            .contains("2026-10-01 lies ahead of 2026-09-30"),
        "{problems:?}"
    );
    read(date(2026, 10, 1)).unwrap();

    refused(
        "date = 2026-06-02\n",
        "date = 1947-06-02\n",
        "event[1].date",
        "before the day of birth",
    );
    refused(
        "hip-replacement = 2019-03-04",
        "hip-replacement = 1919-03-04",
        "history.since.hip-replacement",
        "birth",
    );
    refused(
        "born = 1948-02-29",
        "born = 1848-02-29",
        "person.born",
        "age of 178 years",
    );
    refused(
        "born = 1948-02-29",
        "born = 2026-12-01",
        "person.born",
        "lies ahead",
    );
    refused(
        "date = 2026-06-02\n",
        "date = 2026-06-02T10:00:00\n",
        "event[1].date",
        "write only the day",
    );
    refused(
        "date = 2026-06-02\n",
        "date = \"2026-06-31\"\n",
        "event[1].date",
        "not a day of the calendar",
    );
    refused(
        "until = 2027-06-10",
        "until = 2026-06-09",
        "medicine[1].until",
        "before it begins",
    );
}

#[test]
fn unknown_keys_are_refused_with_the_nearest_known_key() {
    refused(
        "resting_hr_bpm = 70",
        "resting_hr = 70",
        "examination[1].resting_hr",
        "did you mean 'resting_hr_bpm'",
    );
    refused(
        "height_cm = 174.5",
        "heigth_cm = 174.5",
        "person.heigth_cm",
        "did you mean 'height_cm'",
    );
    refused(
        "called = \"Tomasz\"",
        "rhythm = \"sinus\"",
        "person.rhythm",
        "belongs under [heart]",
    );
    refused(
        "called = \"Tomasz\"",
        "shoe_size = 43",
        "person.shoe_size",
        "known here are name, called",
    );
    refused("[wishes]", "[wishs]", "wishs", "did you mean 'wishes'");
    refused(
        "distance_m = 380",
        "distance_m = 380\nseconds = 360",
        "test[3].seconds",
        "does not belong to the test 'six-minute-walk'",
    );
    let problems = problems_of_case("height_cm = 174.5", "heigth_cm = 174.5");
    assert_eq!(problems[0].line, line_of(EVERYTHING, "height_cm = 174.5"));
}

#[test]
fn unknown_words_are_refused_with_the_nearest_known_word() {
    refused(
        "rhythm = \"paced\"",
        "rhythm = \"pased\"",
        "heart.rhythm",
        "did you mean 'paced'",
    );
    refused(
        "\"heart-failure\", \"hip",
        "\"heart-failture\", \"hip",
        "history.present[1]",
        "did you mean 'heart-failure'",
    );
    refused(
        "kind = \"gad-7\"",
        "kind = \"gad7\"",
        "test[13].kind",
        "did you mean 'gad-7'",
    );
    refused(
        "technique = \"good\"",
        "technique = \"splendid\"",
        "watched[1].technique",
        "known are good, needed-help, not-for-them",
    );
}

#[test]
fn keys_of_a_test_whose_kind_is_not_known_are_not_told_as_well() {
    let problems = problems_of_case("kind = \"six-minute-walk\"", "kind = \"6mwt\"");
    assert_eq!(problems.len(), 1, "{problems:#?}");
}

#[test]
fn words_of_a_hostile_file_cannot_move_the_cursor_of_a_terminal() {
    let key = format!("\\u001b[31m{}", "x".repeat(10_000));
    let text = format!("{{\"{key}\": 1, \"status\": {{\"kind\": \"\\u0007\\u001b[2J\"}}}}");
    let problems = case::read("a.json", text.as_bytes(), None).unwrap_err();
    let shown = problems.to_string();
    assert!(
        !shown.replace('\n', "").contains(char::is_control),
        "{shown:?}"
    );
    assert!(shown.len() < 3000);
    let twice = format!("{{\"{key}\": 1, \"{key}\": 2}}");
    let shown = case::read("a.json", twice.as_bytes(), None)
        .unwrap_err()
        .to_string();
    assert!(!shown.contains(char::is_control) && shown.len() < 3000);
}

#[test]
fn wrong_kinds_of_value_are_refused() {
    refused(
        "height_cm = 174.5",
        "height_cm = \"174.5\"",
        "person.height_cm",
        "without quotes",
    );
    refused(
        "telephone = true",
        "telephone = \"yes\"",
        "home.telephone",
        "true or false",
    );
    refused(
        "name = \"Tomasz Everley\"",
        "name = 5",
        "person.name",
        "text in double quotes",
    );
    refused(
        "name = \"Tomasz Everley\"",
        "name = \" \"",
        "person.name",
        "is empty",
    );
    refused(
        "name = \"Tomasz Everley\"",
        "name = \"\\u0007\"",
        "person.name",
        "control characters",
    );
    refused(
        "screen = [\"television\", \"tablet\"]",
        "screen = \"television\"",
        "home.screen",
        "a list",
    );
    refused(
        "resting_bp_mmhg = [118, 66]",
        "resting_bp_mmhg = [118]",
        "examination[1].resting_bp_mmhg",
        "not two numbers",
    );
    refused(
        "resting_bp_mmhg = [118, 66]",
        "resting_bp_mmhg = \"118/66\"",
        "examination[1].resting_bp_mmhg",
        "[systolic, diastolic]",
    );
    refused("[wishes]", "[[wishes]]", "wishes", "a table of keys");
}

#[test]
fn what_cannot_be_true_together_is_refused() {
    refused(
        "absent = [\"unstable-angina\"]",
        "absent = [\"heart-failure\"]",
        "history.absent",
        "as present and as absent",
    );
    refused(
        "not_asked = [\"vertigo\"]",
        "not_asked = [\"unstable-angina\"]",
        "history.not_asked",
        "as answered and as not asked",
    );
    refused(
        "\"heart-failure\", \"hip",
        "\"heart-failure\", \"heart-failure\", \"hip",
        "history.present[2]",
        "twice",
    );
    refused(
        "{ hip-replacement = 2019-03-04 }",
        "{ stroke = 2019-03-04 }",
        "history.since.stroke",
        "not listed as present",
    );
    refused(
        "name = \"bottom stair\"",
        "name = \"Kitchen chair\"",
        "home.place[2].name",
        "two places are called",
    );
    refused(
        "yes = [1, 2, 3, 4]",
        "yes = [1, 2, 2, 4]",
        "test[11].yes[3]",
        "twice",
    );
}

#[test]
fn questionnaires_of_the_wrong_length_are_refused() {
    refused(
        "answers = [1, 0, 1, 0, 0, 0, 0, 0, 0]",
        "answers = [1, 0]",
        "test[12].answers",
        "takes 9",
    );
    refused(
        "answers = [3, 3, 4, 3, 3]",
        "answers = [3, 3, 4, 3, 6]",
        "test[14].answers[5]",
        "0 to 5",
    );
    refused(
        "yes = [1, 2, 3, 4]",
        "yes = [13]",
        "test[11].yes[1]",
        "1 to 12",
    );
}

#[test]
fn ids_of_the_wrong_form_are_refused() {
    refused(
        "id = \"everything-1948\"",
        "id = \"short\"",
        "id",
        "5 characters",
    );
    refused(
        "id = \"everything-1948\"",
        "id = \"../../etc/passwd\"",
        "id",
        "letters, digits",
    );
}

#[test]
fn all_problems_of_a_file_are_told_at_once_in_the_order_of_lines() {
    let text = EVERYTHING
        .replace("height_cm = 174.5", "height_cm = 1.745")
        .replace("resting_bp_mmhg = [118, 66]", "resting_bp_mmhg = [66, 118]")
        .replace("technique = \"good\"", "tecnique = \"good\"");
    let problems = case::read("e.toml", text.as_bytes(), None).unwrap_err().0;
    let paths: Vec<&str> = problems
        .iter()
        .map(|problem| problem.key_path.as_str())
        .collect();
    assert_eq!(
        paths,
        [
            "person.height_cm",
            "examination[1].resting_bp_mmhg",
            "watched[1].technique",
            "watched[1].tecnique"
        ]
    );
    assert!(problems.is_sorted_by_key(|problem| problem.line));
}

#[test]
fn a_file_cut_off_anywhere_is_read_as_less_or_refused_but_never_panics() {
    for end in 0..EVERYTHING.len() {
        if EVERYTHING.is_char_boundary(end) {
            let _ = case::read("e.toml", &EVERYTHING.as_bytes()[..end], None);
        }
    }
}

#[test]
fn every_key_of_the_format_stands_in_the_fixture() {
    let file = formats::SourceFile::open("e.toml", EVERYTHING.as_bytes()).unwrap();
    crate::support::every_key_is_used(&file.tree, &CASE);
}

/// The laws below say nothing of files that are refused, so most random files must be taken.
#[test]
fn most_random_files_are_taken() {
    let taken = |seed: &u64| {
        let text = formats::tree::write(&table(&CASE, &mut Dice::new(*seed)), Notation::Toml);
        case::read("random.toml", text.as_bytes(), Some(ON)).is_ok()
    };
    let count = (0..200).filter(taken).count();
    assert!(count > 60, "only {count} of 200");
}

proptest! {
    #[test]
    fn law_a_case_written_is_the_case_read(seed: u64) {
        let made = table(&CASE, &mut Dice::new(seed));
        let text = formats::tree::write(&made, Notation::Toml);
        if let Ok((case, _)) = case::read("random.toml", text.as_bytes(), Some(ON)) {
            for (name, notation) in [("a.toml", Notation::Toml), ("a.json", Notation::Json)] {
                let written = case::write(&case, notation);
                let (back, _) = case::read(name, written.as_bytes(), Some(ON))
                    .unwrap_or_else(|problems| panic!("{problems}\n{written}"));
                prop_assert_eq!(&back, &case);
            }
        }
    }

    #[test]
    fn law_what_is_refused_in_random_files_is_only_what_contradicts_itself(seed: u64) {
        let made = table(&CASE, &mut Dice::new(seed));
        let text = formats::tree::write(&made, Notation::Json);
        if let Err(problems) = case::read("random.json", text.as_bytes(), Some(ON)) {
            for problem in problems.0 {
                let words = ["present and as absent", "answered and as not asked", "lies above", "before it begins", "contradict each other", "which is not possible", "6 to 20", "0 to 10", "before the day of birth", "signs that nobody sees"];
                prop_assert!(words.iter().any(|word| problem.message.contains(word)), "{}", problem);
            }
        }
    }

    #[test]
    fn law_spoilt_files_never_panic_and_what_is_taken_can_be_written(seed: u64) {
        let mut dice = Dice::new(seed);
        let mut made = table(&CASE, &mut dice);
        spoil(&mut made, &mut dice);
        let text = formats::tree::write(&made, Notation::Json);
        match case::read("spoilt.json", text.as_bytes(), Some(ON)) {
            Ok((case, _)) => {
                let written = case::write(&case, Notation::Toml);
                prop_assert_eq!(case::read("a.toml", written.as_bytes(), Some(ON)).unwrap().0, case);
            }
            Err(problems) => prop_assert!(!problems.0.is_empty()),
        }
    }

    #[test]
    fn law_bytes_changed_at_random_never_panic(seed: u64) {
        let mut dice = Dice::new(seed);
        let mut bytes = EVERYTHING.as_bytes().to_vec();
        for _ in 0..=dice.below(4) {
            let at = dice.below(bytes.len());
            bytes[at] = dice.next() as u8;
        }
        let _ = case::read("changed.toml", &bytes, None);
    }
}

#[test]
fn a_name_that_reads_as_another_one_is_refused() {
    for hidden in ["\u{202e}", "\u{2066}", "\u{200b}", "\u{61c}", "\n"] {
        for key in ["name", "called"] {
            let text = serde_json::json!({ "person": { key: format!("Ada{hidden}Moor") } });
            let text = text.to_string();
            let problems = case::read("a.json", text.as_bytes(), Some(ON)).unwrap_err();
            let problem = &problems.0[0];
            assert_eq!(problem.key_path, format!("person.{key}"));
            assert!(problem.message.contains("nobody sees"), "{problem}");
            // What a record holds since before must still open.
            case::read("a.json", text.as_bytes(), None).unwrap();
        }
    }
    // Joiners are part of writing in several languages.
    for name in [
        "Zoë O\u{2019}Moor",
        "\u{0645}\u{06cc}\u{200c}\u{0645}",
        "Ngọc-Ánh Lý",
    ] {
        let text = serde_json::json!({ "person": { "name": name } }).to_string();
        case::read("a.json", text.as_bytes(), Some(ON)).unwrap();
    }
}
