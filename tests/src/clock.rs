//! A clock that a test moves: pages opened afterwards see only its time, so an hour is played in a moment.

use serde_json::json;

use crate::browser::Browser;

/// A clock that was installed.
#[derive(Debug)]
pub struct Installed(String);

/// Replaces the clock of every page opened after this call; time then stands still until [`advance`].
///
/// `start` is the time of day as the page's scripts understand it, such as `2026-11-25T10:00:00`.
pub fn install(browser: &Browser, start: &str) -> Installed {
    let script = format!(
        "{}\n({})({});",
        include_str!("clock.js"),
        "installTestClock",
        json!(start)
    );
    let added = browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": script }),
    );
    Installed(added["identifier"].as_str().unwrap_or_default().to_owned())
}

/// Gives pages opened afterwards the browser's own clock again, so that another can be installed.
pub fn remove(browser: &Browser, installed: &Installed) {
    browser.devtools(
        "Page.removeScriptToEvaluateOnNewDocument",
        json!({ "identifier": installed.0 }),
    );
}

/// Moves the clock of the page shown, running every timer and every animation frame on the way in its order.
pub fn advance(browser: &Browser, milliseconds: u64) {
    browser.run_until_done(
        "window.__testClock.advance(arguments[0]).then(arguments[1]);",
        &[json!(milliseconds)],
    );
}
