//! The help to count a pulse beside the person: fifteen seconds on a clock that the test moves, then four times the beats.

use serde_json::{Value, json};
use tests::browser::{Browser, TAB};
use tests::clock;

use crate::desk::{Desk, Served};

const ON: &str = "2026-11-25";

/// The first brisk turn at which a pulse is asked for.
const PAIR: &str = ".pair:has([data-count])";

#[test]
fn beats_of_fifteen_seconds_become_a_pulse() {
    let served = Served::demonstration(ON);
    let desk = Desk::open(&served);
    clock::install(&desk.browser, "2026-11-25T10:00:00");
    open_a_watched_page(&desk);
    let browser = &desk.browser;
    let button = format!("{PAIR} button.wordlike");
    assert_eq!(browser.text(&button), "count 15 seconds");

    browser.click(&button);
    assert_eq!(of(browser, &button, "disabled"), true);
    clock::advance(browser, 7_500);
    let half = dot_per_cent(browser);
    assert!((49.0..=51.0).contains(&half), "the dot is at {half} %");
    clock::advance(browser, 7_400);
    assert!(
        desk.said()
            .contains("Count the beats until the dot is at the end.")
    );
    assert!(
        browser.all(".counting input").is_empty(),
        "nothing is asked before the time is over"
    );
    clock::advance(browser, 200);
    assert!(desk.said().contains("Fifteen seconds are over."));
    assert_eq!(
        focused(browser),
        "",
        "the field for the beats has the focus and no name"
    );

    browser.type_into(".counting input", "23");
    browser.press(TAB);
    assert_eq!(of(browser, &pulse(), "value"), "92");
    assert!(browser.all(".counting").is_empty());
    assert_eq!(of(browser, &button, "disabled"), false);

    // A second count that was no number leaves the first.
    browser.click(&button);
    clock::advance(browser, 15_100);
    browser.type_into(".counting input", "lost it");
    browser.press(TAB);
    assert_eq!(of(browser, &pulse(), "value"), "92");

    near_the_limit(browser);
    desk.assert_no_faults();
}

/// From near the ceiling on the pressure is asked for, until it is there.
fn near_the_limit(browser: &Browser) {
    let near = of(browser, PAIR, "dataset.pulse");
    let near: f64 = near
        .as_str()
        .and_then(|text| text.parse().ok())
        .expect("a ceiling");
    let is_near = || !browser.all(".near.is-near").is_empty();
    write(browser, &pulse(), &format!("{}", near - 1.0));
    assert!(!is_near());
    write(browser, &pulse(), &format!("{near}"));
    assert!(is_near());
    write(browser, &format!("{PAIR} [name^='pressure-']"), "150/80");
    assert!(!is_near());
}

/// Somebody of the demonstration whose page has a turn at which the pulse is asked for, and who has a ceiling.
fn open_a_watched_page(desk: &Desk) {
    desk.go("/people?status=active");
    let links = desk.browser.run(
        "return [...document.querySelectorAll('main a.name')].map((one) => one.href)",
        &[],
    );
    let links: Vec<String> = serde_json::from_value(links).expect("addresses");
    for link in links {
        desk.go(&format!("{link}/watched"));
        let found = desk.browser.all(&format!("{PAIR}[data-pulse]"));
        if !found.is_empty() {
            return;
        }
    }
    panic!("nobody of the demonstration has a page with a pulse to be counted");
}

fn pulse() -> String {
    format!("{PAIR} [name^='pulse-']")
}

/// A property of the first element that a selector names, by its way (`dataset.pulse`).
fn of(browser: &Browser, selector: &str, way: &str) -> Value {
    browser.run(
        "return arguments[1].split('.').reduce((one, key) => one[key], document.querySelector(arguments[0]))",
        &[json!(selector), json!(way)],
    )
}

fn write(browser: &Browser, selector: &str, value: &str) {
    browser.run(
        "const field = document.querySelector(arguments[0]); field.value = arguments[1];\
         field.dispatchEvent(new Event('change', { bubbles: true })); return 0",
        &[json!(selector), json!(value)],
    );
}

fn dot_per_cent(browser: &Browser) -> f64 {
    let left = of(browser, ".count-dot", "style.left");
    let text = left.as_str().unwrap_or_default().trim_end_matches('%');
    text.parse().expect("the dot is somewhere on the line")
}

fn focused(browser: &Browser) -> String {
    let name = browser.run(
        "const one = document.activeElement; return one.closest('.counting') ? one.name : 'elsewhere'",
        &[],
    );
    name.as_str().unwrap_or_default().to_owned()
}
