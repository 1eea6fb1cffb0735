//! The session page as its person uses it.

use std::path::PathBuf;

use serde_json::{Value, json};
use tests::browser::Browser;

/// A session page in a file of its own, removed when dropped.
pub(crate) struct Page(pub(crate) PathBuf);

impl Page {
    pub(crate) fn of(name: &str, html: &str) -> Page {
        let path = std::env::temp_dir().join(format!(
            "hearthpace-{}-session-{name}.html",
            std::process::id()
        ));
        std::fs::write(&path, html).expect("the folder for temporary files can be written");
        Page(path)
    }
}

impl Drop for Page {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.0);
    }
}

pub(crate) fn screen(browser: &Browser) -> String {
    browser
        .run(
            "return document.getElementById('app').dataset.screen || ''",
            &[],
        )
        .as_str()
        .unwrap_or_default()
        .to_owned()
}

pub(crate) fn text(browser: &Browser) -> String {
    browser
        .run("return document.getElementById('app').innerText", &[])
        .as_str()
        .unwrap_or_default()
        .to_owned()
}

pub(crate) fn press_button(browser: &Browser, key: &str) {
    let pressed = browser.run(
        "const found = document.querySelector(`#app [data-key=\"${arguments[0]}\"]`); if (!found) return false; found.click(); return true;",
        &[json!(key)],
    );
    assert_eq!(
        pressed,
        true,
        "no button '{key}' on '{}':\n{}",
        screen(browser),
        text(browser)
    );
}

/// Says that the joints were as usual after the last session, where that is asked, answers every question with no, leaves
/// numbers out, and begins.
pub(crate) fn pass_the_check(browser: &Browser) {
    press_button(browser, "begin");
    if screen(browser) == "morning" {
        press_button(browser, "usual");
    }
    answer_to_the_session(browser);
}

/// Answers what is left of the check with no, leaves numbers out, and begins.
pub(crate) fn answer_to_the_session(browser: &Browser) {
    for _ in 0..20 {
        if screen(browser) != "check" {
            break;
        }
        let is_number = browser.run(
            "return document.querySelector('#app #number') !== null",
            &[],
        ) == true;
        press_button(browser, if is_number { "leave-out" } else { "no" });
    }
    assert_eq!(screen(browser), "ready");
    press_button(browser, "ready");
    assert_eq!(screen(browser), "session");
}

/// Leaves out the pulse after the way down, where it is asked.
pub(crate) fn leave_the_pulse_out(browser: &Browser) {
    assert_eq!(screen(browser), "closing", "{}", text(browser));
    if browser.run(
        "return document.querySelector('#app #number') !== null",
        &[],
    ) == true
    {
        press_button(browser, "leave-out");
    }
}

/// Answers every question and every list with no until a number is asked, looking at each screen.
pub(crate) fn answer_no_until_a_number(browser: &Browser, look: impl Fn()) {
    for _ in 0..30 {
        look();
        if browser.run(
            "return document.querySelector('#app #number') !== null",
            &[],
        ) == true
        {
            return;
        }
        press_button(browser, "no");
    }
    panic!("no number is asked:\n{}", text(browser));
}

/// The diary file as the page saves it.
pub(crate) fn saved_diary(browser: &Browser) -> String {
    browser.run(
        "URL.createObjectURL = (blob) => { window.saved = blob; return 'data:,x'; };",
        &[],
    );
    press_button(browser, "file");
    let saved: Value = browser.run_until_done("window.saved.text().then(arguments[0]);", &[]);
    saved.as_str().expect("the file is text").to_owned()
}
