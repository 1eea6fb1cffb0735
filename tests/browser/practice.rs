//! The practitioner's pages in a real browser, from an empty folder to a case whose first page can be signed; each page
//! is audited on its way.

use std::io::{BufRead as _, BufReader};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};

use tests::axe::assert_accessible;
use tests::browser::Browser;
use tests::tools;

const PASSPHRASE: &str = "four plain words here";

/// The program serving a folder of its own; both end with the test.
struct Served {
    child: Child,
    folder: PathBuf,
    address: String,
}

impl Served {
    fn start() -> Served {
        let folder =
            std::env::temp_dir().join(format!("hearthpace-{}-practice", std::process::id()));
        let mut child = Command::new(tools::hearthpace())
            .args([
                "serve",
                "--on",
                "2026-11-25",
                "--listen",
                "127.0.0.1:0",
                "--data",
            ])
            .arg(&folder)
            .stdout(Stdio::piped())
            .spawn()
            .expect("the program starts");
        let mut line = String::new();
        BufReader::new(child.stdout.take().expect("its output is ours"))
            .read_line(&mut line)
            .expect("it says where it is");
        let at = line
            .split("http://")
            .nth(1)
            .and_then(|rest| rest.split('/').next());
        let address = format!("http://{}", at.expect("it says where it is"));
        Served {
            child,
            folder,
            address,
        }
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

/// A field by its name, whatever brackets and dots stand in it.
fn field(name: &str) -> String {
    format!("[name='{name}']")
}

/// Sets a field of any kind as a person would leave it, without sending.
fn fill(browser: &Browser, fields: &[(&str, &str)]) {
    for (name, value) in fields {
        let set = browser.run(
            "const fields = document.querySelectorAll(arguments[0]); if (!fields.length) return false;\
             for (const one of fields) {\
               if (one.type === 'checkbox') { if (one.value === arguments[1]) one.checked = true; } else one.value = arguments[1]; }\
             return true;",
            &[field(name).into(), (*value).into()],
        );
        assert_eq!(set, true, "{name} is not asked on {}", browser.address());
    }
}

/// Waits until the page says something: a form that was sent takes its time to come back.
fn until_said(browser: &Browser, words: &str) {
    browser.wait(&format!("the page says '{words}'"), || {
        let found = browser.run(
            "const main = document.querySelector('main'); return document.readyState === 'complete' && !!main && main.innerText.includes(arguments[0]);",
            &[words.into()],
        );
        (found == true).then_some(())
    });
}

fn send(browser: &Browser) {
    browser.click("main form button.do");
}

fn sign_in(browser: &Browser, served: &Served) {
    browser.go(&format!("{}/", served.address));
    assert_accessible(browser);
    fill(
        browser,
        &[
            ("service", "Ellerdale home heart team"),
            ("full_name", "Josie Marwood, physiotherapist"),
            ("sign_in", "josie"),
            ("passphrase", PASSPHRASE),
            ("again", "something else entirely"),
        ],
    );
    send(browser);
    until_said(browser, "not the same");
    assert_accessible(browser);
    fill(
        browser,
        &[("passphrase", PASSPHRASE), ("again", PASSPHRASE)],
    );
    send(browser);
    until_said(browser, "not shown again");
    assert_accessible(browser);
    browser.click("main a.do");
    assert_accessible(browser);
    fill(browser, &[("name", "josie"), ("passphrase", PASSPHRASE)]);
    send(browser);
    until_said(browser, "Nobody is in the record yet");
}

#[test]
fn from_an_empty_folder_to_a_page_that_can_be_signed() {
    let served = Served::start();
    let browser = Browser::open(1366, 900);
    sign_in(&browser, &served);
    for path in [
        "/",
        "/people",
        "/people/new",
        "/for-your-name",
        "/service",
        "/service/rules",
    ] {
        browser.go(&format!("{}{path}", served.address));
        assert_accessible(&browser);
    }
    let case = begin(&browser, &served);
    widen(&browser, &case);
    until_said(&browser, "A first page can be signed");
    reasons_open(&browser);
    for page in [
        "facts",
        "facts/history",
        "facts/home",
        "facts/events",
        "standing",
        "written",
        "call",
    ] {
        browser.go(&format!("{case}/{page}"));
        assert_accessible(&browser);
    }
    browser.go(&format!("{}/", served.address));
    until_said(&browser, "Mrs Fenwick");
    assert_accessible(&browser);
    browser.click("header form[action='/lock'] button");
    until_said(&browser, "Nothing of anybody is shown");
    assert_accessible(&browser);
    // A form that is refused on purpose answers 422, which the browser reports; anything else is a fault.
    let severe = |line: &String| line.starts_with("SEVERE") && !line.contains("status of 422");
    let faults: Vec<String> = browser.complaints().into_iter().filter(severe).collect();
    assert_eq!(faults, Vec::<String>::new());
}

/// Twelve answers; one of them impossible at first.
fn begin(browser: &Browser, served: &Served) -> String {
    browser.go(&format!("{}/people/new", served.address));
    fill(
        browser,
        &[
            ("person.name", "Orla Fenwick"),
            ("person.called", "Mrs Fenwick"),
            ("person.born", "2051-05-17"),
            ("person.sex", "female"),
            ("event[1].kind", "myocardial-infarction"),
            ("event[1].date", "2026-08-30"),
            ("event[1].procedures", "stent"),
            ("heart.rhythm", "sinus"),
            ("medicine", "bisoprolol 2.5 mg since 2026-08-31"),
            ("nitrate.prescribed", "yes"),
            ("nitrate.in_date", "yes"),
            ("function.aid", "none"),
            ("function.falls_12_months", "0"),
            ("home.place", "armchair"),
            ("home.telephone", "yes"),
            ("home.alone_when_exercising", "no"),
        ],
    );
    send(browser);
    until_said(browser, "Nothing was kept yet");
    assert_accessible(browser);
    fill(browser, &[("person.born", "1951-05-17")]);
    send(browser);
    until_said(browser, "Sign-off");
    assert_accessible(browser);
    browser.address()
}

fn widen(browser: &Browser, case: &str) {
    let sections: [(&str, &[(&str, &str)]); 4] = [
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
        ("person", &[("person.height_cm", "161")]),
        (
            "tests",
            &[
                ("test[step].count", "61"),
                ("test[up-and-go].seconds", "9.5"),
            ],
        ),
    ];
    for (section, fields) in sections {
        browser.go(&format!("{case}/facts/{section}"));
        assert_accessible(browser);
        fill(browser, fields);
        send(browser);
        until_said(browser, "Sign-off");
        assert_eq!(
            browser.address(),
            case,
            "{section}: {}",
            browser.text("main")
        );
    }
}

/// A number opens its reason; with every reason open the page is still sound.
fn reasons_open(browser: &Browser) {
    browser.click("a.why[href='#because-limits-hr-high']");
    let open = browser.run(
        "return document.getElementById('because-limits-hr-high').open",
        &[],
    );
    assert_eq!(open, true, "the number opens its reason");
    browser.run(
        "for (const one of document.querySelectorAll('details')) one.open = true; return 0",
        &[],
    );
    assert_accessible(browser);
}
