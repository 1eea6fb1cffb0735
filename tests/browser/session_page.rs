//! The patient's session page in a real browser: opened from a file, played to its end, and wherever else it may lead.

#[path = "../../crates/handouts/tests/fixture/mod.rs"]
pub(crate) mod fixture;

use handouts::page::session_page;
use handouts::print::{Ink, Paper, printed_pages};
use handouts::running_order::Approval;
use rehab::diary::PulseMoment;
use serde_json::json;
use tests::axe;
use tests::browser::{Browser, ENTER, ESCAPE};
use tests::clock;

use crate::patient::{
    Page, answer_no_until_a_number, pass_the_check, press_button, saved_diary, screen, text,
};

const ARROW_DOWN: char = '\u{E015}';
const ARROW_RIGHT: char = '\u{E014}';
const SPACE: char = ' ';

/// The page of the invented Mrs Fenwick.
pub(crate) fn fenwick(name: &str) -> Page {
    Page::of(name, &session_page(&fixture::order()))
}

/// A clock inside the page that a test can set forward while everything else goes on as usual.
pub(crate) const OWN_CLOCK: &str =
    "window.ahead = 0; window.hearthpaceClock = { now: () => Date.now() + window.ahead };";

pub(crate) fn before_every_page(browser: &Browser, script: &str) {
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": script }),
    );
}

fn assert_no_complaints(browser: &Browser) {
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn it_is_played_to_its_end_and_its_diary_file_is_taken() {
    let browser = Browser::open(390, 844);
    clock::install(&browser, "2026-11-26T10:00:00");
    let page = fenwick("played");
    browser.go_to_file(&page.0);
    pass_the_check(&browser);
    let order = fixture::order();
    let mut heard: Vec<String> = Vec::new();
    for (i, cue) in order.cues.iter().enumerate() {
        // A second into every part its name stands there.
        let gone = browser.run(
            "return JSON.parse(localStorage.getItem('hearthpace.fenwick-1951')).run",
            &[],
        );
        assert!(gone.is_object());
        clock::advance(&browser, 1000);
        if screen(&browser) == "pulse" {
            press_button(&browser, "leave-out");
        }
        heard.push(browser.text("#app h1"));
        let shown = text(&browser);
        assert!(
            cue.doing.lines.iter().all(|line| shown.contains(line)),
            "{}:\n{shown}",
            cue.title
        );
        // How it is begun stands there where that is not as it was just before.
        let before = i.checked_sub(1).map(|before| &order.cues[before]);
        let begins = before.is_none_or(|before| {
            before.place != cue.place || before.doing.set_up != cue.doing.set_up
        });
        assert!(
            !begins || shown.contains(&cue.doing.set_up),
            "{}: {}\n{shown}",
            cue.title,
            cue.doing.set_up
        );
        clock::advance(&browser, u64::from(cue.duration_ms) - 1000);
        if screen(&browser) == "pulse" {
            press_button(&browser, "leave-out");
            let rest = browser.run(
                "const run = JSON.parse(localStorage.getItem('hearthpace.fenwick-1951')).run; return run.doneMs",
                &[],
            );
            let left = cue.end_ms() as f64 - rest.as_f64().unwrap_or(0.0);
            clock::advance(&browser, left.max(0.0) as u64);
        }
    }
    let names: Vec<&str> = order
        .cues
        .iter()
        .map(|cue| cue.doing.name.as_str())
        .collect();
    assert_eq!(
        heard, names,
        "every part of the running order was shown in its turn"
    );
    clock::advance(&browser, 2000);
    assert_eq!(screen(&browser), "closing");
    assert!(text(&browser).contains("Your pulse, now that you have slowed down"));
    browser.run("document.querySelector('#number').value = '74';", &[]);
    press_button(&browser, "enter");
    press_button(&browser, "n-4");
    press_button(&browser, "none");
    press_button(&browser, "n-2");
    assert_eq!(screen(&browser), "last");
    assert!(text(&browser).contains("Stay near the telephone for about 15 minutes."));

    let saved = saved_diary(&browser);
    let (diary, _) =
        formats::diary::read("diary.json", saved.as_bytes(), None).expect("the file is a diary");
    assert_eq!(diary.case.0, "fenwick-1951");
    let [entry] = diary.entries.as_slice() else {
        panic!("one session is one entry: {saved}")
    };
    assert_eq!(entry.date.to_string(), "2026-11-26");
    assert_eq!(
        (entry.stations_planned, entry.stations_done),
        (Some(9), Some(9))
    );
    assert_eq!(entry.effort.map(|effort| effort.value), Some(4.0));
    let pulses: Vec<(PulseMoment, f64)> =
        entry.pulses.iter().map(|one| (one.at, one.bpm)).collect();
    assert_eq!(pulses, [(PulseMoment::AfterCoolDown, 74.0)]);
    assert_eq!(entry.symptoms.as_ref().map(Vec::len), Some(0));
    assert!(entry.is_session());
    assert_no_complaints(&browser);
}

#[test]
fn a_day_left_out_and_an_unwell_session_are_files_too() {
    let browser = Browser::open(390, 844);
    let today = clock::install(&browser, "2026-11-26T10:00:00");
    let page = fenwick("files");
    browser.go_to_file(&page.0);
    press_button(&browser, "begin");
    let order = fixture::order();
    let ill = order.check.iter().position(|row| row.id == "ill");
    for _ in 0..ill.expect("everybody is asked") {
        press_button(&browser, "no");
    }
    // It stands in a list: something of it is so, and then it is asked by itself.
    press_button(&browser, "yes");
    assert_eq!(screen(&browser), "check");
    press_button(&browser, "yes");
    assert_eq!(screen(&browser), "not-today");
    press_button(&browser, "home");
    press_button(&browser, "begin");
    assert_eq!(screen(&browser), "not-today", "the day stays left out");
    clock::remove(&browser, &today);
    clock::install(&browser, "2026-11-27T10:00:00");
    browser.go_to_file(&page.0);
    pass_the_check(&browser);
    clock::advance(&browser, 30_000);
    press_button(&browser, "unwell");
    for choice in ["choice-0", "choice-1", "choice-0", "choice-0"] {
        press_button(&browser, choice);
    }
    assert!(text(&browser).contains("Call 999 now"));
    let entries = browser.run(
        "return JSON.parse(localStorage.getItem('hearthpace.fenwick-1951')).entries",
        &[],
    );
    let file = json!({ "case": "fenwick-1951", "entries": entries }).to_string();
    let (diary, _) =
        formats::diary::read("diary.json", file.as_bytes(), None).expect("the file is a diary");
    assert_eq!(diary.entries.len(), 2);
    assert!(
        !diary.entries[0].is_session(),
        "a day that was left out is no session"
    );
    assert_eq!(diary.entries[1].symptoms.as_ref().map(Vec::len), Some(1));
    assert_no_complaints(&browser);
}

#[test]
fn every_screen_passes_the_audit_in_both_rooms_and_bears_telephone_and_unwell() {
    for dark in [false, true] {
        let browser = Browser::open(390, 844);
        before_every_page(&browser, OWN_CLOCK);
        let page = fenwick(if dark { "dark" } else { "light" });
        browser.go_to_file(&page.0);
        if dark {
            press_button(&browser, "room");
        }
        let look = || {
            axe::assert_accessible(&browser);
            let shown = text(&browser);
            assert!(
                shown.contains("Call 999"),
                "{}: the telephone",
                screen(&browser)
            );
            let reach = browser.run(
                "return document.querySelector('#app [data-key=unwell]') !== null",
                &[],
            ) == true;
            let inside = ["unwell", "after", "saved"].contains(&screen(&browser).as_str());
            assert!(reach || inside, "{}: I feel unwell", screen(&browser));
        };
        look();
        press_button(&browser, "begin");
        look();
        answer_no_until_a_number(&browser, look);
        press_button(&browser, "leave-out");
        look();
        press_button(&browser, "ready");
        look();
        press_button(&browser, "rest");
        look();
        press_button(&browser, "unwell");
        look();
        for choice in [
            "choice-0", "choice-1", "choice-0", "choice-0", "choice-0", "choice-0",
        ] {
            press_button(&browser, choice);
            look();
        }
        press_button(&browser, "notes");
        look();
        press_button(&browser, "home");
        assert_eq!(screen(&browser), "locked");
        look();
        press_button(&browser, "read");
        axe::assert_accessible(&browser);
        assert_no_complaints(&browser);
    }
}

#[test]
fn the_questions_at_the_end_pass_the_audit() {
    let browser = Browser::open(390, 844);
    before_every_page(&browser, OWN_CLOCK);
    let page = fenwick("closing");
    browser.go_to_file(&page.0);
    pass_the_check(&browser);
    press_button(&browser, "rest");
    // Eleven minutes of rest: too long to go on, so it is told and asked.
    browser.run("window.ahead = 660000", &[]);
    browser.wait("the session is closed", || {
        (screen(&browser) == "too-late").then_some(())
    });
    axe::assert_accessible(&browser);
    press_button(&browser, "finish");
    for next in ["n-5", "none", "n-2"] {
        axe::assert_accessible(&browser);
        press_button(&browser, next);
    }
    assert_eq!(screen(&browser), "last");
    assert!(
        text(&browser).contains("That was harder than we planned."),
        "5 is above the agreed 4"
    );
    axe::assert_accessible(&browser);
}

#[test]
fn the_keyboard_alone_does_everything() {
    let browser = Browser::open(1366, 768);
    before_every_page(&browser, OWN_CLOCK);
    let page = fenwick("keys");
    browser.go_to_file(&page.0);
    pass_the_check(&browser);
    browser.press(ARROW_DOWN);
    assert!(text(&browser).contains("The easier way"));
    browser.press(SPACE);
    assert_eq!(screen(&browser), "rest");
    browser.press(SPACE);
    assert_eq!(screen(&browser), "session");
    browser.press(ESCAPE);
    assert_eq!(screen(&browser), "unwell");
    // The first choice comes after the telephone.
    browser.press(ARROW_RIGHT);
    browser.press(ARROW_RIGHT);
    browser.press(ENTER);
    assert!(
        text(&browser).contains("Do you feel faint"),
        "{}",
        text(&browser)
    );
}

#[test]
fn reloading_loses_nothing_and_a_closed_page_stays_closed() {
    let browser = Browser::open(390, 844);
    before_every_page(&browser, OWN_CLOCK);
    let page = fenwick("reload");
    browser.go_to_file(&page.0);
    pass_the_check(&browser);
    press_button(&browser, "ease");
    browser.go_to_file(&page.0);
    assert_eq!(screen(&browser), "away");
    press_button(&browser, "go-on");
    assert!(
        text(&browser).contains("The easier way"),
        "what was eased is still eased"
    );
    press_button(&browser, "unwell");
    press_button(&browser, "choice-1");
    browser.go_to_file(&page.0);
    assert_eq!(
        screen(&browser),
        "unwell",
        "in the middle of it the page goes on where it was"
    );
    press_button(&browser, "choice-1");
    press_button(&browser, "choice-0");
    browser.go_to_file(&page.0);
    press_button(&browser, "notes");
    press_button(&browser, "home");
    assert_eq!(screen(&browser), "locked");
    browser.go_to_file(&page.0);
    assert_eq!(screen(&browser), "locked");
    assert!(text(&browser).contains("Do not exercise again until your team has spoken to you."));
}

#[test]
fn a_device_that_keeps_nothing_is_told_so_and_the_session_works_all_the_same() {
    let browser = Browser::open(390, 844);
    before_every_page(
        &browser,
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } });",
    );
    let page = fenwick("refused");
    browser.go_to_file(&page.0);
    assert!(text(&browser).contains("Your notes cannot be kept on this device."));
    pass_the_check(&browser);
    press_button(&browser, "rest");
    assert_eq!(screen(&browser), "rest");
    assert_no_complaints(&browser);
}

#[test]
fn without_a_script_the_whole_programme_stands_there() {
    let browser = Browser::open(390, 844);
    browser.devtools(
        "Emulation.setScriptExecutionDisabled",
        json!({ "value": true }),
    );
    let page = fenwick("noscript");
    browser.go_to_file(&page.0);
    let shown = browser.text("body");
    assert!(shown.contains("The buttons do not work on this device."));
    for cue in fixture::order()
        .cues
        .iter()
        .filter(|cue| cue.doing.what.is_some())
    {
        assert!(
            cue.doing.lines.iter().all(|line| shown.contains(line)),
            "{}",
            cue.doing.name
        );
    }
    assert!(shown.contains("Call 999") && shown.contains("01632 960 117"));
}

#[test]
fn no_screen_is_wider_than_the_device_and_a_draft_says_so_on_all() {
    let browser = Browser::open(320, 640);
    before_every_page(&browser, OWN_CLOCK);
    let draft = fixture::order_with(&Approval::Draft, 1, |case, _, _| {
        case.person.called = Some("Mrs Featherstonehaugh-Cholmondeley".to_owned());
    });
    let page = Page::of("draft", &session_page(&draft));
    browser.go_to_file(&page.0);
    let look = || {
        let over = browser.run(
            "return document.documentElement.scrollWidth > document.documentElement.clientWidth",
            &[],
        );
        assert_eq!(over, false, "{}", screen(&browser));
        let marked = browser.run(
            "const box = document.querySelector('.draft').getBoundingClientRect(); return box.top >= 0 && box.bottom <= innerHeight && box.height > 20",
            &[],
        );
        assert_eq!(marked, true, "{}", screen(&browser));
    };
    look();
    pass_the_check(&browser);
    look();
    press_button(&browser, "unwell");
    look();
    press_button(&browser, "choice-0");
    look();
}

#[test]
fn buttons_and_words_are_as_large_as_promised() {
    let browser = Browser::open(390, 844);
    before_every_page(&browser, OWN_CLOCK);
    let page = fenwick("sizes");
    browser.go_to_file(&page.0);
    let small = || {
        browser.run(
            "const found = [];\
             for (const one of document.querySelectorAll('#app button, #app a.b, #app .big, #app input')) {\
               if (one.getBoundingClientRect().height < 63.5) found.push(one.textContent + ' ' + one.getBoundingClientRect().height);\
             }\
             for (const one of document.querySelectorAll('#app p, #app li, #app h1, #app h2, #app button, #app a, #app label')) {\
               if (one.textContent && parseFloat(getComputedStyle(one).fontSize) < 21) found.push(one.textContent + ' ' + getComputedStyle(one).fontSize);\
             }\
             return found.join('; ')",
            &[],
        )
    };
    let look = || assert_eq!(small(), "", "{}", screen(&browser));
    look();
    press_button(&browser, "begin");
    look();
    answer_no_until_a_number(&browser, look);
    press_button(&browser, "leave-out");
    look();
    press_button(&browser, "ready");
    look();
    press_button(&browser, "rest");
    look();
    press_button(&browser, "unwell");
    look();
    press_button(&browser, "choice-0");
    look();
}

/// Somebody with a device, heart failure, diabetes and sore knees: the longest first page there is.
fn much(approval: &Approval) -> handouts::running_order::RunningOrder {
    use rehab::assessment::{Device, HistoryItem, Medicine};
    fixture::order_with(approval, 2, |case, _, _| {
        case.history.present = vec![
            HistoryItem::HeartFailure,
            HistoryItem::Diabetes,
            HistoryItem::KneeOsteoarthritis,
            HistoryItem::LowVision,
        ];
        case.heart.device = Some(Device {
            lowest_treated_bpm: Some(170.0),
            last_shock: None,
            subcutaneous: None,
        });
        case.medicines.push(Medicine {
            name: "insulin".to_owned(),
            dose: None,
            since: None,
            until: None,
            times: None,
            as_needed: None,
        });
    })
}

#[test]
fn no_printed_sheet_holds_more_than_its_paper() {
    let browser = Browser::open(1000, 1200);
    for order in [
        fixture::order(),
        much(&fixture::signed()),
        much(&Approval::Draft),
    ] {
        for (paper, height) in [(Paper::A4, 297.0), (Paper::Letter, 279.4)] {
            let page = Page::of("printed", &printed_pages(&order, paper, Ink::Grey));
            browser.go_to_file(&page.0);
            let most = height / 25.4 * 96.0 + 1.0;
            let over = browser.run(
                "return [...document.querySelectorAll('.sheet')].map((one, i) => [i + 1, one.getBoundingClientRect().height]).filter(one => one[1] > arguments[0])",
                &[json!(most)],
            );
            assert_eq!(over, json!([]), "{paper:?}, draft {}", order.is_draft());
        }
    }
    axe::assert_accessible(&browser);
}

/// "None of these" lay below the edge of a phone, where a list is longest.
#[test]
fn both_answers_to_a_list_are_in_sight_and_cover_no_line_of_it() {
    for height in [844, 664] {
        let browser = Browser::open(390, height);
        before_every_page(&browser, OWN_CLOCK);
        let page = Page::of("lists", &session_page(&much(&fixture::signed())));
        browser.go_to_file(&page.0);
        press_button(&browser, "begin");
        let lists = std::cell::Cell::new(0);
        answer_no_until_a_number(&browser, || {
            let found = browser.run(
                "const list = document.querySelector('#app .asked .plain');\
                 if (!list) return null;\
                 const of = (key) => document.querySelector('#app [data-key=' + key + ']').getBoundingClientRect();\
                 const bar = document.querySelector('#app .stay').getBoundingClientRect();\
                 const ways = document.querySelector('#app .back').getBoundingClientRect();\
                 const found = [];\
                 for (const key of ['no', 'yes', 'unwell']) if (of(key).top < 0 || of(key).bottom > innerHeight) found.push(key + ' ' + of(key).bottom);\
                 if (of('no').bottom > ways.top) found.push('under the ways out');\
                 if (list.getBoundingClientRect().bottom > bar.top) found.push('a line is covered ' + list.getBoundingClientRect().bottom + ' ' + bar.top);\
                 return found.join('; ')",
                &[],
            );
            if let Some(found) = found.as_str() {
                assert_eq!(found, "", "{height}");
                lists.set(lists.get() + 1);
            }
        });
        assert!(lists.get() > 1, "{} lists at {height}", lists.get());
        assert_no_complaints(&browser);
    }
}
