//! The invented caseload: every page of every kind of person passes the audit and fits its window.

use crate::desk::{Desk, Served};

#[test]
fn every_page_of_the_invented_caseload_is_sound() {
    let served = Served::demonstration("2026-11-25");
    let desk = Desk::open(&served);
    for (path, name) in [
        ("/", "demo-today"),
        ("/people", "demo-people"),
        ("/for-your-name", "demo-for-your-name"),
        ("/service", "demo-service"),
    ] {
        desk.go(path);
        desk.look(name);
    }
    desk.go("/people");
    let found = desk.browser.run(
        "return [...document.querySelectorAll(\"main a[href^='/people/']\")].map((one) => one.pathname).filter((one) => one.split('/').length === 3 && !one.endsWith('new'))",
        &[],
    );
    let people: Vec<String> = serde_json::from_value(found).expect("addresses are text");
    assert!(people.len() >= 20, "{people:?}");
    for (at, case) in people.iter().enumerate() {
        desk.go(case);
        desk.look(&format!("demo-case-{at:02}"));
    }
    // The rest of the pages for those whose course is furthest apart.
    for (at, case) in people.iter().enumerate().step_by(4) {
        for page in ["call", "builder", "sign", "watched", "pack"] {
            desk.go(&format!("{case}/{page}"));
            desk.look(&format!("demo-{page}-{at:02}"));
        }
    }
    desk.assert_no_faults();
}
