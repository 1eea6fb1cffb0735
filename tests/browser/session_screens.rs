//! The rarer screens of the session page: they come by an answer, by waiting, or on another day.

use handouts::running_order::{CueKind, RunningOrder};
use serde_json::{Value, json};
use tests::axe;
use tests::browser::Browser;

use crate::patient::{Page, answer_to_the_session, press_button, screen, text};
use crate::session_page::{OWN_CLOCK, before_every_page, fenwick, fixture};

/// Where the page keeps its state.
const KEPT: &str = "hearthpace.fenwick-1951";

/// Answers the check with no until one row is asked, and says yes to it; a list that holds it is opened.
fn say_yes_to(browser: &Browser, order: &RunningOrder, id: &str) {
    let list = |at: usize| order.check[at].listed.as_ref().map(|list| list.number);
    let wanted = order.check.iter().position(|row| row.id == id);
    let wanted = wanted.expect("everybody is asked");
    for _ in 0..60 {
        let check: Value = browser.run(
            "return JSON.parse(localStorage.getItem(arguments[0])).check",
            &[json!(KEPT)],
        );
        let row = check["row"].as_u64().expect("the check is at a row") as usize;
        let whole = list(row).is_some() && check["open"] != true;
        if row == wanted && !whole {
            press_button(browser, "yes");
            return;
        }
        let holds = whole && list(row) == list(wanted);
        press_button(browser, if holds { "yes" } else { "no" });
    }
    panic!("'{id}' was not asked:\n{}", text(browser));
}

/// Opens the page again as if so much of its session had been walked, so long after the last brisk turn, and goes on.
fn walk_to(browser: &Browser, page: &Page, done_ms: u64, since_brisk_ms: u64) {
    // Whatever the page writes while it is left would undo it.
    browser.run(
        "const state = JSON.parse(localStorage.getItem(arguments[0]));\
         state.run.doneMs = arguments[1];\
         state.run.sinceBrisk = arguments[2];\
         localStorage.setItem(arguments[0], JSON.stringify(state));\
         Storage.prototype.setItem = () => {};",
        &[json!(KEPT), json!(done_ms), json!(since_brisk_ms)],
    );
    browser.go_to_file(&page.0);
    assert_eq!(screen(browser), "away");
    press_button(browser, "go-on");
}

fn wait_on(browser: &Browser, milliseconds: u64) {
    browser.run("window.ahead += arguments[0]", &[json!(milliseconds)]);
}

/// Goes on in steps too short to count as having been away.
fn walk_until(browser: &Browser, wanted: &str) {
    for _ in 0..30 {
        if screen(browser) == wanted {
            return;
        }
        wait_on(browser, 3_000);
        std::thread::sleep(std::time::Duration::from_millis(700));
    }
    panic!("walked in vain to {wanted}:\n{}", text(browser));
}

#[test]
fn every_rarer_screen_passes_the_audit_in_both_rooms() {
    let order = fixture::order();
    let brisk = order.cues.iter().rfind(|cue| cue.kind == CueKind::Brisk);
    let brisk_end_ms = brisk.expect("a page with brisk turns").end_ms();
    let length_ms = order.cues.last().expect("it has parts").end_ms();
    for scheme in ["light", "dark"] {
        let browser = Browser::open(390, 844);
        browser.devtools(
            "Emulation.setEmulatedMedia",
            json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] }),
        );
        before_every_page(&browser, OWN_CLOCK);
        let page = fenwick(&format!("rarer-{scheme}"));
        browser.go_to_file(&page.0);
        let look = |wanted: &str| {
            browser.wait(wanted, || (screen(&browser) == wanted).then_some(()));
            axe::assert_accessible(&browser);
            assert!(text(&browser).contains("Call 999"), "{wanted}: telephone");
        };
        press_button(&browser, "begin");
        say_yes_to(&browser, &order, "drink");
        look("first");
        press_button(&browser, "again");
        answer_to_the_session(&browser);
        wait_on(&browser, 6_000);
        look("away");
        press_button(&browser, "go-on");
        walk_to(&browser, &page, brisk_end_ms + 20_000, 20_000);
        walk_until(&browser, "pulse");
        look("pulse");
        press_button(&browser, "leave-out");
        walk_to(&browser, &page, length_ms - 1_000, 900_000);
        wait_on(&browser, 2_000);
        look("closing");
        assert!(text(&browser).contains("now that you have slowed down"));
        for key in ["leave-out", "n-3", "none", "n-2", "home"] {
            press_button(&browser, key);
        }
        wait_on(&browser, 86_400_000);
        press_button(&browser, "begin");
        look("morning");
        press_button(&browser, "usual");
        say_yes_to(&browser, &order, "ill");
        look("not-today");
        assert_eq!(browser.complaints(), Vec::<String>::new());
    }
}
