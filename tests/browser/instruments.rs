//! The instruments themselves: each must be able to say no, or every page below would pass.

use std::path::PathBuf;

use serde_json::json;
use tests::axe;
use tests::browser::{Browser, ENTER, TAB};
use tests::clock;

const GOOD: &str = "<!doctype html><html lang=en><head><title>Today</title></head><body><main><h1>Today</h1>\
    <label>Name <input id=name></label><button id=go onclick=\"document.title = document.getElementById('name').value\">\
    Go</button></main></body></html>";

/// A page written to a file of its own, removed when dropped.
struct Page(PathBuf);

impl Page {
    fn new(name: &str, html: &str) -> Page {
        let path =
            std::env::temp_dir().join(format!("hearthpace-{}-{name}.html", std::process::id()));
        std::fs::write(&path, html).expect("the folder for temporary files can be written");
        Page(path)
    }
}

impl Drop for Page {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.0);
    }
}

#[test]
fn the_audit_accepts_a_good_page_and_refuses_a_bad_one() {
    let browser = Browser::open(1024, 768);
    let good = Page::new("good", GOOD);
    browser.go_to_file(&good.0);
    axe::assert_accessible(&browser);

    let bad = GOOD
        .replace(" lang=en", "")
        .replace("<label>Name <input id=name></label>", "<input id=name>");
    let bad = Page::new("bad", &bad);
    browser.go_to_file(&bad.0);
    let audit = axe::audit(&browser);
    let rules: Vec<&str> = audit
        .violations
        .iter()
        .filter_map(|line| line.split(':').next())
        .collect();
    assert_eq!(rules, ["html-has-lang", "label"]);
}

#[test]
fn typing_keys_pictures_and_complaints_reach_the_test() {
    let browser = Browser::open(390, 844);
    let page = Page::new("keys", GOOD);
    browser.go_to_file(&page.0);
    browser.type_into("#name", "Ada");
    browser.press(TAB);
    browser.press(ENTER);
    assert_eq!(browser.run("return document.title", &[]), "Ada");
    assert_eq!(browser.text("h1"), "Today");
    assert_eq!(
        browser.run("return [innerWidth, innerHeight]", &[]),
        json!([390, 844])
    );

    let picture = browser.picture();
    assert_eq!(&picture[1..4], b"PNG");
    assert_eq!(u32::from_be_bytes(picture[16..20].try_into().unwrap()), 390);

    assert_eq!(browser.complaints(), Vec::<String>::new());
    browser.run("console.error('a fault on the page')", &[]);
    let complaints = browser.complaints();
    assert!(
        complaints.len() == 1 && complaints[0].contains("a fault on the page"),
        "{complaints:?}"
    );
}

#[test]
fn the_clock_moves_only_when_the_test_moves_it() {
    let browser = Browser::open(390, 844);
    clock::install(&browser, "2026-11-25T10:00:00");
    let page = Page::new(
        "clock",
        "<!doctype html><html lang=en><title>-</title><script>\
         let ticks = 0, frames = 0, order = [];\
         setInterval(() => { ticks += 1; }, 1000);\
         setTimeout(() => order.push('b'), 20); setTimeout(() => order.push('a'), 10);\
         requestAnimationFrame(function next(at) { frames += 1; requestAnimationFrame(next); });\
         </script></html>",
    );
    browser.go_to_file(&page.0);
    assert_eq!(
        browser.run("return [ticks, frames, order.length]", &[]),
        json!([0, 0, 0])
    );
    clock::advance(&browser, 25 * 60 * 1000);
    assert_eq!(
        browser.run("return [ticks, order.join('')]", &[]),
        json!([1500, "ab"])
    );
    assert_eq!(
        browser.run("return frames", &[]),
        json!(25 * 60 * 1000 / 16)
    );
    let time = browser.run(
        "const d = new Date(); return [d.getHours(), d.getMinutes(), d.getSeconds()]",
        &[],
    );
    assert_eq!(time, json!([10, 25, 0]));
}
