//! A week later: the diary file comes in, the call is made, the proposal accepted, and the next page waits for a name.

use std::path::PathBuf;

use super::beginning::PASSPHRASE;
use crate::desk::{Desk, Served};

/// The program was ended and started again on another day: everybody signs in anew, and the case is where it was.
pub(super) fn come_back(desk: Desk, served: &Served, case: &str) -> (Desk, String) {
    let path = &case[case.find("/people").expect("a case has an address")..];
    let desk = Desk {
        address: served.address.clone(),
        ..desk
    };
    desk.go("/");
    desk.fill(&[("name", "josie"), ("passphrase", PASSPHRASE)]);
    desk.send();
    desk.until_said("Mrs Fenwick");
    let case = format!("{}{path}", desk.address);
    (desk, case)
}

/// The diary file is looked at before it is kept, and what follows is only proposed.
pub(super) fn take_in(desk: &Desk, case: &str, diary: &str) {
    let file: PathBuf =
        std::env::temp_dir().join(format!("hearthpace-{}-diary.json", std::process::id()));
    std::fs::write(&file, diary).expect("the folder for temporary files can be written");
    desk.go(&format!("{case}/inbox"));
    desk.look("inbox");
    desk.browser
        .type_into("input[type=file]", &file.display().to_string());
    desk.send();
    desk.until_said("Five new entries.");
    desk.assert_says(&[
        "Nothing is kept yet.",
        "Nothing felt.",
        "Effort 3.",
        "This is proposed; it is decided at a call or visit.",
    ]);
    desk.look("inbox-looked-at");
    desk.send();
    desk.until_said("Sign-off");
    desk.look("case-heard");
    desk.go(&format!("{case}/written"));
    desk.look("written");
    let _ = std::fs::remove_file(file);
}

/// The sheet is asked through and closed with one signature.
pub(super) fn call(desk: &Desk, case: &str) {
    for (path, name) in [
        ("call?kind=visit", "visit"),
        ("call/paper", "call-paper"),
        ("call", "call"),
    ] {
        desk.go(&format!("{case}/{path}"));
        desk.look(name);
    }
    desk.until_said("On the telephone with Mrs Fenwick");
    desk.assert_says(&["Nothing was asked yet."]);
    desk.fill(&[
        ("open", "All right. The stairs are easier."),
        ("heart", "none"),
        ("spray", "not-used"),
        ("spray-date", "03 2027"),
        ("medicines", "nothing"),
        ("falls", "no"),
        ("joint-during", "2"),
        ("joint-morning", "usual"),
    ]);
    desk.browser.click("button[data-follow-button]");
    desk.until_said("page B");
    desk.browser.wait("the answers have been taken in", || {
        let note = desk.browser.run(
            "return document.getElementById('note').value.includes('stairs are easier')",
            &[],
        );
        (note == true).then_some(())
    });
    desk.assert_says(&["Sign as Josie Marwood", "Say"]);
    desk.look("call-filled");
    desk.browser.click("button[value=draft]");
    desk.until_said("kept as a draft and not signed");
    desk.look("case-unfinished");
    desk.browser.click("main a.act[href$='/call']:not(.ways a)");
    desk.until_said("Kept as a draft on");
    desk.assert_says(&["Move on to page B."]);
    desk.look("call-reopened");
    desk.browser.click("button[value=sign]");
    desk.until_said("Sign-off");
    assert_eq!(desk.browser.address(), case);
}

/// The proposal is accepted: the case page shows the next page as the present one, and the one after can be signed.
pub(super) fn next_page(desk: &Desk, case: &str) {
    desk.assert_says(&["Page B: "]);
    desk.look("case-moved-on");
    desk.go(&format!("{case}/sign"));
    desk.assert_says(&["Page C", "Sign page B and page C as Josie Marwood"]);
    desk.look("sign-next");
    desk.go("/");
    desk.look("today-after");
}

pub(super) fn lock(desk: &Desk) {
    desk.browser.click("header form[action='/lock'] button");
    desk.until_said("Nothing of anybody is shown");
    desk.look("locked");
}
