//! The team's pages, and the recovery sheet that is used when the passphrase is lost.

use super::beginning::PASSPHRASE;
use crate::desk::Desk;

const NEW: &str = "another four plain words";

/// A colleague is added; who opened the case is seen; the own passphrase is changed, and the old one opens nothing.
pub(super) fn team(desk: &Desk, case: &str) {
    desk.go("/team");
    desk.fill(&[
        ("full_name", "Tom Aldis, nurse"),
        ("sign_in", "tom"),
        ("passphrase", "harbour linen seven oak"),
    ]);
    desk.browser.click("#practitioner-new");
    desk.send();
    desk.until_said("signs in as tom");
    desk.look("team");
    desk.go(&format!("{case}/access"));
    desk.assert_says(&["Josie Marwood, physiotherapist: case page."]);
    desk.look("access");
    desk.go("/team/passphrase");
    desk.look("passphrase");
    desk.fill(&[("old", PASSPHRASE), ("new", NEW), ("again", NEW)]);
    desk.send();
    desk.until_said("Your passphrase opens the record");
    desk.fill(&[("name", "josie"), ("passphrase", PASSPHRASE)]);
    desk.send();
    desk.browser.wait("the old passphrase is refused", || {
        (desk.browser.all("main p.wrong").len() == 1).then_some(())
    });
}

/// Every passphrase is lost: the sheet that was printed on the first day sets a new one.
pub(super) fn recover(desk: &Desk, sheet: &str) {
    desk.go("/recover");
    desk.look("recover");
    desk.fill(&[
        ("sheet", "00000-00000"),
        ("name", "josie"),
        ("passphrase", PASSPHRASE),
    ]);
    desk.send();
    desk.until_said("fewer than 30 characters");
    desk.fill(&[
        ("sheet", &sheet.to_lowercase()),
        ("name", "josie"),
        ("passphrase", PASSPHRASE),
    ]);
    desk.send();
    desk.until_said("Your passphrase opens the record");
    desk.fill(&[("name", "josie"), ("passphrase", PASSPHRASE)]);
    desk.send();
    desk.until_said("Mrs Fenwick");
}
