//! Three sessions alone: the page that was given, played to its end on three days.

use tests::axe::assert_accessible;
use tests::browser::Browser;
use tests::clock;

use crate::desk::keep_picture;
use crate::patient::{
    Page, leave_the_pulse_out, pass_the_check, press_button, saved_diary, screen, text,
};

/// Days of the sessions.
const DAYS: [&str; 3] = ["2026-11-27", "2026-11-29", "2026-12-01"];

/// Plays the page on each day and hands back the diary file that it saves on the last.
pub(super) fn three_sessions(phone: &Browser, page: &Page) -> String {
    for day in DAYS {
        let installed = clock::install(phone, &format!("{day}T10:00:00"));
        phone.go_to_file(&page.0);
        if day == DAYS[0] {
            keep_picture(phone, "phone-start-390");
        }
        pass_the_check(phone);
        if day == DAYS[0] {
            play_part_by_part(phone);
        } else {
            play(phone);
        }
        leave_the_pulse_out(phone);
        press_button(phone, "n-3");
        press_button(phone, "none");
        press_button(phone, "n-2");
        assert_eq!(screen(phone), "last");
        if day == DAYS[0] {
            keep_picture(phone, "phone-last-390");
        }
        clock::remove(phone, &installed);
    }
    let complaints: Vec<String> = phone.complaints();
    assert_eq!(complaints, Vec::<String>::new());
    let diary = saved_diary(phone);
    for day in DAYS {
        assert!(diary.contains(day), "{day} in {diary}");
    }
    diary
}

/// The audit needs a clock that goes on by itself, so it is done where the clock is the device's own.
fn look(phone: &Browser, name: &str) {
    assert_accessible(phone);
    keep_picture(phone, &format!("{name}-390"));
}

/// The running order that the page carries.
fn cues(phone: &Browser) -> Vec<(u64, String)> {
    let list = phone.run(
        "const order = JSON.parse(document.getElementById('order').textContent);\
         return order.cues.map((one) => [one.length, order.doings[one.doing].name]);",
        &[],
    );
    list.as_array()
        .expect("the page carries its order")
        .iter()
        .map(|one| {
            let name = one[1].as_str().expect("every part has a name");
            (
                one[0].as_f64().expect("every part lasts") as u64,
                name.to_owned(),
            )
        })
        .collect()
}

/// Every part stands there by its name in its turn.
fn play_part_by_part(phone: &Browser) {
    let list = cues(phone);
    assert!(list.len() > 5, "{list:?}");
    for (at, (length_ms, name)) in list.iter().enumerate() {
        clock::advance(phone, 1000);
        assert_eq!(phone.text("#app h1"), *name, "part {at}");
        if at == list.len() / 2 {
            keep_picture(phone, "phone-turn-390");
        }
        clock::advance(phone, length_ms - 1000);
    }
    clock::advance(phone, 2000);
}

fn play(phone: &Browser) {
    let length: u64 = cues(phone).iter().map(|(length_ms, _)| length_ms).sum();
    clock::advance(phone, length + 2000);
}

/// The same page on a device of its own, where the person feels unwell at once: it is closed until somebody has spoken.
pub(super) fn unwell(page: &Page) {
    let phone = Browser::open(390, 844);
    phone.go_to_file(&page.0);
    look(&phone, "phone-home");
    pass_the_check(&phone);
    press_button(&phone, "unwell");
    look(&phone, "phone-unwell");
    press_button(&phone, "choice-0");
    look(&phone, "phone-unwell-chest");
    assert!(text(&phone).contains("999"), "{}", text(&phone));
}
