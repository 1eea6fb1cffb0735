//! One person's whole way in real browsers, from an empty folder to a further page that can be signed: each page is audited
//! on its way, and each link of the chain shows what a practitioner must see there.

mod alone;
mod beginning;
mod errors;
mod heard_again;
mod signing;
mod team;

use tests::browser::Browser;

use crate::desk::{Desk, Served};
use crate::patient::Page;

/// The day on which everything begins, a Wednesday.
const FIRST_DAY: &str = "2026-11-25";
/// The day after: a second session is watched before anything is done alone.
const NEXT_DAY: &str = "2026-11-26";
/// A week later.
const LATER: &str = "2026-12-02";

#[test]
fn from_an_empty_folder_to_a_further_page_that_can_be_signed() {
    let served = Served::start("journey", FIRST_DAY);
    let desk = Desk::open(&served);
    let sheet = beginning::set_up(&desk);
    beginning::settings(&desk);
    let case = beginning::begin(&desk);
    beginning::widen(&desk, &case);
    beginning::other_pages(&desk, &case);

    let chosen = signing::build(&desk, &case);
    signing::sign(&desk, &case, &chosen);
    signing::watch_once(&desk, &case);
    desk.assert_no_faults();

    let served = served.on_another_day(NEXT_DAY);
    let (desk, case) = heard_again::come_back(desk, &served, &case);
    let html = signing::watch_and_give(&desk, &case);
    desk.assert_no_faults();

    let phone = Browser::open(390, 844);
    let page = Page::of("journey", &html);
    let diary = alone::three_sessions(&phone, &page);
    drop(phone);
    alone::unwell(&page);

    let served = served.on_another_day(LATER);
    let (desk, case) = heard_again::come_back(desk, &served, &case);
    desk.look("today");
    heard_again::take_in(&desk, &case, &diary);
    heard_again::call(&desk, &case);
    heard_again::next_page(&desk, &case);
    team::team(&desk, &case);
    team::recover(&desk, &sheet);
    heard_again::lock(&desk);
    desk.assert_no_faults();
}
