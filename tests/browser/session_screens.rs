//! Screens of the session page that only some days bring: away, the pulse, the morning after, wait first, not today.

use handouts::page::session_page;
use handouts::running_order::{Answer, Outcome, RunningOrder};
use tests::axe;
use tests::browser::Browser;
use tests::clock;

use crate::patient::{Page, pass_the_check, press_button, screen, text};
use crate::session_page::fixture;

const DAY: &str = "2026-11-26T10:00:00";
const DAY_AFTER: &str = "2026-11-27T10:00:00";

/// The page, opened in light or in the dark on a clock that stands still.
fn open(order: &RunningOrder, name: &str, dark: bool) -> (Browser, Page, clock::Installed) {
    let browser = Browser::open(390, 844);
    let installed = clock::install(&browser, DAY);
    let page = Page::of(&format!("{name}-{dark}"), &session_page(order));
    browser.go_to_file(&page.0);
    if dark {
        press_button(&browser, "room");
    }
    (browser, page, installed)
}

/// The screen of this name passes the audit, shows the telephone and offers "I feel unwell".
fn look(browser: &Browser, expected: &str) {
    assert_eq!(screen(browser), expected, "{}", text(browser));
    axe::assert_accessible(browser);
    assert!(text(browser).contains("Call 999"), "{expected}: telephone");
    let small = browser.run(
        "return [...document.querySelectorAll('#app button, #app a')].filter((one) => one.getBoundingClientRect().height < 44).map((one) => one.innerText).join('; ')",
        &[],
    );
    assert_eq!(small, "", "{expected}: too small to be pressed");
    let reach = browser.run(
        "return document.querySelector('#app [data-key=unwell]') !== null",
        &[],
    );
    assert_eq!(reach, true, "{expected}: I feel unwell");
}

/// Answers no until a row is asked by itself, then yes to it; lists on the way are passed whole.
fn say_yes_to(browser: &Browser, order: &RunningOrder, id: &str) {
    let row = order.check.iter().find(|row| row.id == id);
    let question = &row.expect("the row is asked").question;
    for _ in 0..40 {
        let asked = browser.text("#app h1");
        if asked == *question {
            return press_button(browser, "yes");
        }
        // In a list that holds the row something is so; then each line of it is asked by itself.
        let holds = text(browser).contains(question.as_str());
        press_button(browser, if holds { "yes" } else { "no" });
    }
    panic!("'{question}' is never asked:\n{}", text(browser));
}

#[test]
fn away_and_the_pulse_pass_the_audit() {
    let order = fixture::order();
    for dark in [false, true] {
        let (browser, _page, _clock) = open(&order, "away", dark);
        pass_the_check(&browser);
        browser.run("document.dispatchEvent(new Event('x')); Object.defineProperty(document, 'hidden', { value: true, configurable: true }); document.dispatchEvent(new Event('visibilitychange')); delete document.hidden; return 0", &[]);
        clock::advance(&browser, 1000);
        look(&browser, "away");
        press_button(&browser, "go-on");
        clock::advance(&browser, order.way_down_ms + 61_000);
        look(&browser, "pulse");
        press_button(&browser, "leave-out");
        assert_eq!(screen(&browser), "session");
    }
}

#[test]
fn the_morning_after_passes_the_audit() {
    let order = fixture::order();
    for dark in [false, true] {
        let (browser, page, first_day) = open(&order, "morning", dark);
        pass_the_check(&browser);
        clock::advance(&browser, order.way_down_ms + 61_000);
        press_button(&browser, "leave-out");
        clock::advance(&browser, order.length_ms);
        for next in ["n-4", "none", "n-2"] {
            press_button(&browser, next);
        }
        assert_eq!(screen(&browser), "last");
        clock::remove(&browser, &first_day);
        clock::install(&browser, DAY_AFTER);
        browser.go_to_file(&page.0);
        if dark {
            press_button(&browser, "room");
        }
        press_button(&browser, "begin");
        look(&browser, "morning");
    }
}

#[test]
fn wait_first_and_not_today_pass_the_audit() {
    let order = fixture::order();
    let leads = |to: fn(&Outcome) -> bool| {
        let row = order
            .check
            .iter()
            .find(|row| matches!(&row.answer, Answer::YesNo { yes } if to(yes)));
        row.expect("one answer leads there").id.clone()
    };
    let first = leads(|yes| matches!(yes, Outcome::First(_)));
    let left_out = leads(|yes| matches!(yes, Outcome::NotToday(..)));
    for dark in [false, true] {
        for (id, expected) in [(&first, "first"), (&left_out, "not-today")] {
            let (browser, _page, _clock) = open(&order, expected, dark);
            press_button(&browser, "begin");
            say_yes_to(&browser, &order, id);
            look(&browser, expected);
        }
    }
}
