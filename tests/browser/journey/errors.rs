//! Pages that nobody wants to see, and pages that are looked at before anything is kept: all of them pass the audit.

use std::path::{Path, PathBuf};
use std::process::Command;

use tests::axe::assert_accessible;
use tests::tools;

use super::{FIRST_DAY, beginning};
use crate::desk::{Desk, Served};

/// A file for one test, removed when dropped.
struct Kept(PathBuf);

impl Kept {
    fn of(name: &str, bytes: &[u8]) -> Kept {
        let path = std::env::temp_dir().join(format!("hearthpace-{}-{name}", std::process::id()));
        std::fs::write(&path, bytes).expect("the folder for temporary files can be written");
        Kept(path)
    }
}

impl Drop for Kept {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.0);
    }
}

/// Looks at a page that has no heading of ours, such as the patient's own: it passes the audit at both sizes.
fn look_at(desk: &Desk, case: &str, page: &str) {
    desk.go(&format!("{case}/{page}"));
    assert_accessible(&desk.browser);
}

#[test]
fn a_page_that_cannot_be_shown_says_so_on_a_sound_page() {
    let served = Served::start("errors", FIRST_DAY);
    let desk = Desk::open(&served);
    beginning::set_up(&desk);
    for (path, name) in [
        ("/nowhere", "no-such-page"),
        ("/people/nobody", "no-such-person"),
    ] {
        desk.go(path);
        desk.assert_says(&["This page is not here"]);
        desk.look(name);
    }
    // A form that was not whole is refused.
    desk.go("/team");
    send_by_hand(&desk, "/team/roles");
    desk.until_said("This could not be kept");
    desk.look("refused");
    // A name that is not ours.
    desk.go(&desk.address.replace("127.0.0.1", "elsewhere.localhost"));
    desk.until_said("This address is not one of this program's");
    desk.look("wrong-name");
    // Somebody's session has ended while a form was open.
    desk.go("/service");
    desk.browser
        .devtools("Network.clearBrowserCookies", serde_json::json!({}));
    send_by_hand(&desk, "/service");
    desk.until_said("You are not signed in any more");
    desk.look("signed-out-beside");
}

/// Sends an empty form of the page shown.
fn send_by_hand(desk: &Desk, to: &str) {
    desk.browser.run(
        "const form = document.createElement('form'); form.method = 'post'; form.action = arguments[0]; document.body.append(form); form.submit(); return 0",
        &[serde_json::json!(to)],
    );
}

#[test]
fn files_that_are_looked_at_and_drafts_pass_the_audit() {
    let served = Served::demonstration(FIRST_DAY);
    let desk = Desk::open(&served);
    let file = tools::root().join("data/demo/people/fenwick-1951.toml");
    let text = std::fs::read_to_string(&file).expect("the invented people are in the repository");
    let renamed = text
        .replace("fenwick-1951", "fenwright-1951")
        .replace("Orla Fenwick", "Orla Fenwright");
    let case = Kept::of("looked-at.toml", renamed.as_bytes());
    let bundle = Command::new(tools::hearthpace())
        .arg("export")
        .arg(&case.0)
        .output()
        .expect("the program starts");
    assert!(bundle.status.success(), "{bundle:?}");
    let bundle = Kept::of("looked-at.json", &bundle.stdout);
    for (file, name) in [(&case.0, "preview-case"), (&bundle.0, "preview-bundle")] {
        upload(&desk, file);
        desk.until_said("Orla Fenwright");
        desk.look(name);
    }
    desk.go("/people");
    desk.browser.run(
        "[...document.querySelectorAll('main a')].find((one) => one.innerText === 'Mrs Fenwick').click(); return 0",
        &[],
    );
    desk.until_said("Sign-off");
    let case = desk.browser.address();
    for page in ["pack/draft", "pack/draft-print"] {
        look_at(&desk, &case, page);
    }
    desk.assert_no_faults();
}

/// Hands a file to the form of somebody new, without keeping anything.
fn upload(desk: &Desk, file: &Path) {
    desk.go("/people/new");
    let path = file.to_str().expect("the path is text");
    desk.browser.type_into("input[type=file]", path);
    desk.browser.click("form[action='/people/new/file'] button");
}
