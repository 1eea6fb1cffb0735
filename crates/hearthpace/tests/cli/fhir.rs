//! `import` and `export`.

use crate::run::{changed, file, fixture, hearthpace};

#[test]
fn a_bundle_becomes_a_case_file_that_the_other_commands_take() {
    let ran = hearthpace(&["import", &fixture("bundle.json")]).exits(0);
    assert!(
        ran.err.contains("left-out: Condition/c-err (entry 6): "),
        "{}",
        ran.err
    );
    assert!(
        ran.out
            .starts_with("# Read for 2026-10-10.\n# Ask: Patient/p1 (entry 1): "),
        "{}",
        ran.out
    );
    let case = file("case.toml", &ran.out);
    hearthpace(&["check", &case])
        .exits(0)
        .shows(": case, nothing wrong");
    hearthpace(&["limits", &case])
        .exits(0)
        .shows("Hester Ann Rowntree-Moss");
}

#[test]
fn what_a_bundle_dates_ahead_of_today_is_listed_and_moves_no_day() {
    let today = web::Clock::Real.today();
    let ahead = rehab::calendar::days_after(today, 40);
    let text = changed("bundle.json", "2026-10-10", &ahead.to_string());
    let ran = hearthpace(&["import", &file("ahead.json", text)]).exits(0);
    assert!(
        ran.err.contains(&format!("lies ahead of {today}")),
        "{}",
        ran.err
    );
    assert!(
        ran.out.starts_with(&format!("# Read for {today}.")),
        "{}",
        ran.out
    );
}

#[test]
fn in_the_machine_form_the_case_is_the_result_and_the_list_stands_beside_it() {
    let ran = hearthpace(&["import", &fixture("bundle.json"), "--json"]).exits(0);
    assert_eq!(ran.json()["person"]["height_cm"], 158);
    let list = ran.error();
    assert_eq!(list["on"], "2026-10-10");
    let listed = list["listed"].as_array().unwrap();
    let goal = listed.iter().find(|one| one["id"] == "g1").unwrap();
    assert_eq!(
        (&goal["resource"], &goal["why"]),
        (&"Goal".into(), &"not-read".into())
    );
    hearthpace(&["check", &file("case.json", &ran.out)])
        .exits(0)
        .shows(": case, nothing wrong");
}

#[test]
fn a_case_exported_and_imported_is_the_case_as_far_as_it_is_carried() {
    let exported = hearthpace(&["export", &fixture("everything.toml")])
        .exits(0)
        .says("left out: the home and its places");
    let bundle = file("bundle.json", &exported.out);
    let imported = hearthpace(&["import", &bundle]).exits(0);
    assert_eq!(imported.err, "");
    let again = hearthpace(&[
        "export",
        &file("case.toml", &imported.out),
        "--on",
        "2026-10-01",
    ])
    .exits(0);
    assert_eq!(again.out, exported.out);
}

#[test]
fn what_is_no_bundle_is_refused() {
    let ran = hearthpace(&["import", &fixture("fenwick.toml")])
        .exits(1)
        .says("no FHIR resource");
    assert_eq!(ran.out, "");
    let cut = std::fs::read_to_string(fixture("bundle.json")).unwrap();
    let ran = hearthpace(&["import", &file("cut.json", &cut[..4000]), "--json"]).exits(1);
    assert_eq!(ran.error()["error"], "refused");
}
