//! A clock that a test moves: pages opened afterwards see only its time, so an hour is played in a moment.

use serde_json::json;

use crate::browser::Browser;

/// Replaces the clock of every page opened after this call; time then stands still until [`advance`].
///
/// `start` is the time of day as the page's scripts understand it, such as `2026-11-25T10:00:00`.
pub fn install(browser: &Browser, start: &str) {
    let script = format!(
        "{}\n({})({});",
        include_str!("clock.js"),
        "installTestClock",
        json!(start)
    );
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": script }),
    );
}

/// Moves the clock of the page shown, running every timer and every animation frame on the way in its order.
pub fn advance(browser: &Browser, milliseconds: u64) {
    browser.run_until_done(
        "window.__testClock.advance(arguments[0]).then(arguments[1]);",
        &[json!(milliseconds)],
    );
}
