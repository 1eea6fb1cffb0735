//! The accessibility audit of a page: axe-core, run in the browser that shows it.

use std::fmt::Write as _;

use crate::browser::Browser;
use crate::tools;

/// What the audit found.
#[derive(Debug)]
pub struct Audit {
    /// One line for each rule that is broken: its id, what it asks, and the elements that break it.
    pub violations: Vec<String>,
    /// How many rules were found kept; an audit that looked at nothing has none.
    pub passes: usize,
}

/// Audits the page shown against WCAG 2.0, 2.1 and 2.2, levels A and AA.
pub fn audit(browser: &Browser) -> Audit {
    let file = tools::node_modules().join("axe-core/axe.min.js");
    let script = std::fs::read_to_string(file).expect("setup has installed axe-core");
    browser.run(&script, &[]);
    let found = browser.run_until_done(
        "const done = arguments[arguments.length - 1];\
         const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];\
         axe.run(document, { runOnly: { type: 'tag', values: tags } })\
            .then(done, error => done({ failed: String(error) }));",
        &[],
    );
    assert!(
        found["failed"].is_null(),
        "the audit did not run: {}",
        found["failed"]
    );
    let list = |key: &str| found[key].as_array().cloned().unwrap_or_default();
    let violations = list("violations")
        .iter()
        .map(|rule| {
            let mut line = format!(
                "{}: {}",
                rule["id"].as_str().unwrap_or_default(),
                rule["help"].as_str().unwrap_or_default()
            );
            for node in rule["nodes"].as_array().into_iter().flatten() {
                write!(line, "\n    {}", node["html"].as_str().unwrap_or_default())
                    .expect("writing to a string cannot fail");
            }
            line
        })
        .collect();
    Audit {
        violations,
        passes: list("passes").len(),
    }
}

/// Fails with every violation of the page shown.
///
/// # Panics
/// When the page breaks a rule, or the audit found nothing to look at.
pub fn assert_accessible(browser: &Browser) {
    let audit = audit(browser);
    assert!(
        audit.violations.is_empty(),
        "{}:\n{}",
        browser.address(),
        audit.violations.join("\n")
    );
    assert!(
        audit.passes > 0,
        "the audit looked at nothing on {}",
        browser.address()
    );
}
