//! From an empty folder to a case with its limits.

use crate::desk::Desk;

pub(super) const PASSPHRASE: &str = "four plain words here";

/// Hands back the text of the recovery sheet.
pub(super) fn set_up(desk: &Desk) -> String {
    desk.go("/");
    desk.look("set-up");
    desk.fill(&[
        ("service", "Ellerdale home heart team"),
        ("full_name", "Josie Marwood, physiotherapist"),
        ("sign_in", "josie"),
        ("passphrase", PASSPHRASE),
        ("again", "something else entirely"),
    ]);
    desk.send();
    desk.until_said("not the same");
    desk.look("set-up-refused");
    desk.fill(&[("passphrase", PASSPHRASE), ("again", PASSPHRASE)]);
    desk.send();
    desk.until_said("not shown again");
    desk.look("recovery-sheet");
    // It stands in two lines; typed, it is one.
    let sheet = desk.browser.text("main .recovery").replace('\n', "-");
    desk.browser.click("main a.do");
    desk.look("sign-in");
    desk.fill(&[("name", "josie"), ("passphrase", PASSPHRASE)]);
    desk.send();
    desk.until_said("Nobody is in the record yet");
    desk.look("today-empty");
    sheet
}

/// Without its own emergency words, its telephone and the lead's signature a service hands out nothing.
pub(super) fn settings(desk: &Desk) {
    desk.go("/service");
    desk.until_said("Not adopted yet");
    desk.fill(&[
        ("emergency.number", "999"),
        ("emergency.text", "Ring 999 and say that it is your heart."),
        ("contact.name", "Ellerdale home heart team"),
        ("contact.telephone", "01632 960 117"),
        ("contact.hours", "Monday to Friday, 9 to 5"),
        ("contact.out_of_hours", "Ring 111."),
        (
            "nitrate.protocol[1].text",
            "Sit down and rest. One spray under the tongue.",
        ),
        ("nitrate.protocol[1].wait_s", "300"),
        (
            "nitrate.protocol[2].text",
            "Still there: a second spray, and ring 999.",
        ),
        ("nitrate.protocol[2].wait_s", "0"),
    ]);
    desk.browser
        .click("form[action='/service'] button[type=submit]");
    desk.browser.wait("nothing is missing", || {
        let said = desk.said();
        (said.contains("Adopt these settings as Josie Marwood") && !said.contains("Missing:"))
            .then_some(())
    });
    desk.look("service");
    desk.browser.click("form[action='/service/adopt'] button");
    desk.until_said("Adopted by Josie Marwood");
    for (path, name) in [
        ("/service/rules", "rules"),
        ("/people", "people-empty"),
        ("/for-your-name", "for-your-name-empty"),
    ] {
        desk.go(path);
        desk.look(name);
    }
}

/// The form of a new case; one of its answers is impossible at first.
pub(super) fn begin(desk: &Desk) -> String {
    desk.go("/people/new");
    desk.look("new-case");
    desk.fill(&[
        ("person.name", "Orla Fenwick"),
        ("person.called", "Mrs Fenwick"),
        ("person.born", "2051-05-17"),
        ("person.sex", "female"),
        ("person.telephones", "01632 960 128"),
        ("event[1].kind", "myocardial-infarction"),
        ("event[1].date", "2026-08-30"),
        ("event[1].procedures", "stent"),
        ("heart.rhythm", "sinus"),
        ("heart.device", "none"),
        ("medicine", "bisoprolol 2.5 mg since 2026-08-31"),
        ("nitrate.prescribed", "yes"),
        ("nitrate.in_date", "yes"),
        ("function.aid", "none"),
        ("function.falls_12_months", "0"),
        ("home.telephone", "yes"),
        ("home.alone_when_exercising", "no"),
    ]);
    for place in ["armchair", "worktop", "hall", "bottom-stair", "wall"] {
        desk.fill(&[("home.place", place)]);
    }
    desk.send();
    desk.until_said("Nothing was kept yet");
    desk.look("new-case-refused");
    assert_eq!(
        desk.browser.run(
            "return document.getElementsByName('person.name')[0].value",
            &[]
        ),
        "Orla Fenwick",
        "what was typed is still there"
    );
    desk.fill(&[("person.born", "1951-05-17")]);
    desk.send();
    desk.until_said("Sign-off");
    desk.assert_says(&[
        "Orla Fenwick, born 17 May 1951, 75.",
        "Heart attack and stent on 30 August.",
        "Nothing is signed yet.",
        "Signing waits for",
    ]);
    desk.look("case-begun");
    desk.browser.address()
}

/// Facts as they come, section by section.
pub(super) fn widen(desk: &Desk, case: &str) {
    let sections: [(&str, &[(&str, &str)]); 6] = [
        (
            "examination",
            &[
                ("examination[today].resting_bp_mmhg", "128/74"),
                ("examination[today].standing_bp_mmhg", "122/72"),
                ("examination[today].resting_hr_bpm", "64"),
                ("examination[today].spo2_pct", "97"),
                ("examination[today].weight_kg", "71.5"),
                ("examination[today].nyha", "1"),
                ("examination[today].symptoms", "none"),
            ],
        ),
        ("history", &[("history.rest_absent", "by asking")]),
        (
            "person",
            &[
                ("person.height_cm", "161"),
                ("person.doctor", "Dr Sena, Ellerdale"),
            ],
        ),
        ("medicines", &[("nitrate.taught", "yes")]),
        (
            "wishes",
            &[
                ("wishes.goal", "Walk to the bus stop and back"),
                ("wishes.sessions_per_week", "3"),
            ],
        ),
        (
            "tests",
            &[
                ("test[walk].distance_m", "352"),
                ("test[walk].course_m", "30"),
                ("test[up-and-go].seconds", "9.5"),
            ],
        ),
    ];
    for (section, fields) in sections {
        desk.go(&format!("{case}/facts/{section}"));
        desk.look(&format!("facts-{section}"));
        desk.fill(fields);
        desk.send();
        desk.until_said("Sign-off");
        assert_eq!(desk.browser.address(), case, "{section}: {}", desk.said());
    }
    desk.assert_says(&[
        "Exercise: yes.",
        "METs, an estimate",
        "A round, on average",
        "Pulse",
        "Page A, in draft",
        "A first page can be signed.",
    ]);
    desk.look("case-limits");
    reasons_open(desk);
}

/// A number opens its reason; with every reason open the page is still sound.
fn reasons_open(desk: &Desk) {
    desk.browser.click("a.why[href='#because-limits-hr-high']");
    let reason = desk.browser.text("#because-limits-hr-high");
    for part in ["From", "Source", "Unsure"] {
        assert!(reason.contains(part), "{part} in {reason}");
    }
    desk.browser.run(
        "for (const one of document.querySelectorAll('details')) one.open = true; return 0",
        &[],
    );
    desk.look("case-reasons");
}

/// Pages that are not on the way, with a person in the record.
pub(super) fn other_pages(desk: &Desk, case: &str) {
    for page in [
        "facts",
        "facts/home",
        "facts/events",
        "facts/heart",
        "facts/function",
        "standing",
        "written",
        "call",
        "watched",
        "pack",
        "inbox",
    ] {
        desk.go(&format!("{case}/{page}"));
        desk.look(&format!("before-{}", page.replace('/', "-")));
    }
    desk.go("/people");
    desk.assert_says(&["Mrs Fenwick"]);
    desk.look("people");
}
