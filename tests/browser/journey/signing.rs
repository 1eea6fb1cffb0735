//! From the builder to the page that is given.

use serde_json::json;

use crate::desk::Desk;

/// One hill is swapped, and what came in is pinned; hands back its name.
pub(super) fn build(desk: &Desk, case: &str) -> String {
    desk.go(&format!("{case}/builder"));
    desk.until_said("Nothing reaches Mrs Fenwick until you sign.");
    desk.look("builder-page");
    desk.go(&format!("{case}/builder?stage=2"));
    desk.assert_says(&[
        "page B",
        "Nothing in it passes a limit.",
        "Where this page stands",
    ]);
    desk.browser.click(".wide-only svg a[href*='turn=1']");
    desk.until_said("What else could turn 1 be?");
    desk.look("builder");
    let offers = desk.browser.all("section.choose form input[name=doing]");
    assert!((1..=3).contains(&offers.len()), "{} offers", offers.len());
    let name = desk.browser.text("section.choose .alt.is-on .s");
    desk.browser
        .click("section.choose .alt.is-on button[value=put]");
    desk.until_said("Take back what was chosen");
    desk.assert_says(&[short(&name)]);
    desk.browser.click("section.choose ol a[href*='turn=1']");
    desk.until_said("Always this here");
    desk.browser.click("button[value=always]");
    desk.until_said("Take back what was chosen");
    desk.assert_says(&[short(&name)]);
    desk.look("builder-chosen");
    name
}

/// The name without its place.
fn short(name: &str) -> &str {
    name.split([',', '.']).next().unwrap_or(name)
}

/// What was chosen stands on the page that is signed.
pub(super) fn sign(desk: &Desk, case: &str, chosen: &str) {
    desk.browser.click("section.choose a.do");
    desk.until_said("Signing for Mrs Fenwick");
    desk.look("sign");
    let said = desk.said().to_lowercase();
    assert!(
        said.contains(&short(chosen).to_lowercase()),
        "{chosen} was put in and is not signed for:\n{said}"
    );
    desk.assert_says(&["Page A", "Page B", "Josie Marwood"]);
    desk.send();
    desk.until_said("Page A and page B signed.");
    desk.assert_says(&["Page A: ", "Josie Marwood, physiotherapist"]);
    assert_eq!(desk.browser.address(), case);
    desk.look("case-signed");
    desk.go(&format!("{case}/sign"));
    desk.assert_says(&["Page B is signed and not yet given."]);
    desk.look("sign-later");
}

/// Nothing is given before the sessions that the service asks for were watched.
pub(super) fn watch_once(desk: &Desk, case: &str) {
    desk.go(&format!("{case}/pack"));
    desk.assert_says(&["is not to be given yet", "to be watched first"]);
    let refused = fetch(desk, &format!("{case}/pack/page?stage=1"));
    assert_eq!(refused["status"], 422, "{refused}");
    desk.look("pack-waits");
    desk.browser.click("main a.do[href*='watched']");
    desk.until_said("In the order of the session.");
    desk.look("watched");
    watch(desk);
    desk.until_said("is not to be given yet");
}

/// Everything of the page was good, nothing was felt, and everything was shown back.
fn watch(desk: &Desk) {
    desk.browser.run(
        "for (const one of document.querySelectorAll(\"input[name^='technique-'][value=good]\")) one.checked = true;\
         for (const one of document.querySelectorAll(\"input[name^='effort-'][value='3']\")) one.checked = true;\
         for (const one of document.querySelectorAll(\"input[name='shown']\")) one.checked = true; return 0",
        &[],
    );
    desk.fill(&[
        ("felt", "none"),
        ("note", "Steady at the worktop; stopped at once when told."),
    ]);
    desk.look("watched-filled");
    desk.send();
}

/// After the second watched session the page is given, and it is the page of this person.
pub(super) fn watch_and_give(desk: &Desk, case: &str) -> String {
    desk.go(&format!("{case}/watched"));
    watch(desk);
    desk.until_said("may be done alone. The same session");
    desk.look("pack");
    let address = desk
        .browser
        .run("return document.querySelector('a[download]').href", &[])
        .as_str()
        .expect("the session page has an address")
        .to_owned();
    let given = fetch(desk, &address);
    assert_eq!(given["status"], 200, "{given}");
    let html = given["text"].as_str().expect("a page is text").to_owned();
    for words in ["Mrs Fenwick", "01632 960 117", "999"] {
        assert!(html.contains(words), "{words} is not on the page");
    }
    assert!(!html.contains("NOT FOR A PATIENT"));
    desk.browser.click("main a.do[href*='print']");
    desk.browser.wait("the printed page is shown", || {
        (desk.browser.address().contains("pack/print")).then_some(())
    });
    tests::axe::assert_accessible(&desk.browser);
    crate::desk::keep_picture(&desk.browser, "printed-1024");
    desk.go(case);
    desk.look("case-given");
    html
}

fn fetch(desk: &Desk, address: &str) -> serde_json::Value {
    desk.browser.run_until_done(
        "const done = arguments[1]; fetch(arguments[0]).then(async (one) => done({ status: one.status, text: await one.text() }));",
        &[json!(address)],
    )
}
