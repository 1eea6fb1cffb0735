//! The program killed at many points while entries are posted to it: whatever was confirmed is there after the next start.
#![allow(
    clippy::unwrap_used,
    reason = "the helpers of these tests are tests themselves"
)]

use crate::run::hearthpace;
use crate::serve::Served;
use records::{NewRecord, NewUser, Passphrase, PassphraseCost, Roles, Store};
use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

const PASSPHRASE: &str = "lantern hazel brook";

/// How many posts are confirmed before each kill, and how many microseconds later it comes: different points of a write.
const KILLS: [(usize, u64); 14] = [
    (1, 0),
    (2, 300),
    (3, 900),
    (4, 1_500),
    (5, 2_300),
    (6, 3_100),
    (7, 4_300),
    (8, 5_900),
    (9, 7_700),
    (10, 9_100),
    (12, 11_000),
    (14, 13_000),
    (16, 17_000),
    (20, 500),
];

/// When the test's own ledger takes a post for confirmed.
#[derive(Clone, Copy, PartialEq)]
enum Confirmed {
    /// When the answer has arrived: what the program promises.
    Answered,
    /// Before it is even sent: a broken program that acknowledges before it writes.
    BeforeWriting,
}

fn make_record(dir: &Path) {
    let new = NewRecord {
        first_user: NewUser {
            sign_in: "ines".to_owned(),
            full_name: "Ines Calder, nurse".to_owned(),
            roles: Roles::ALL,
        },
        passphrase: Some(Passphrase::new(PASSPHRASE.to_owned())),
        key: None,
        cost: PassphraseCost::FOR_TESTS,
    };
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .unwrap();
    runtime.block_on(async {
        let created = Store::create(dir, &new, jiff::Timestamp::now())
            .await
            .unwrap();
        created.store.close().await;
    });
}

/// One request; `None` where no whole answer came.
fn ask(address: &str, cookie: &str, path: &str, form: Option<&str>) -> Option<String> {
    let mut stream = TcpStream::connect(address).ok()?;
    stream
        .set_read_timeout(Some(Duration::from_secs(60)))
        .ok()?;
    let method = if form.is_some() { "POST" } else { "GET" };
    let body = form.unwrap_or_default();
    let request = format!(
        "{method} {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\nCookie: {cookie}\r\nSec-Fetch-Site: same-origin\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    );
    stream.write_all(request.as_bytes()).ok()?;
    let mut answer = String::new();
    stream.read_to_string(&mut answer).ok()?;
    answer.contains("\r\n\r\n").then_some(answer)
}

fn header<'a>(answer: &'a str, name: &str) -> Option<&'a str> {
    let head = answer.split("\r\n\r\n").next()?;
    head.lines()
        .filter_map(|line| line.split_once(": "))
        .find(|(key, _)| key.eq_ignore_ascii_case(name))
        .map(|(_, value)| value)
}

/// The cookie of somebody who signed in.
fn sign_in(served: &Served) -> String {
    let form = format!("name=ines&passphrase={}", PASSPHRASE.replace(' ', "+"));
    let answer = ask(&served.address, "", "/sign-in", Some(&form)).unwrap();
    let cookie = header(&answer, "set-cookie").unwrap_or_else(|| panic!("{answer}"));
    cookie.split(';').next().unwrap().to_owned()
}

/// The address of a new case.
fn new_case(served: &Served, cookie: &str, name: &str) -> String {
    let form = format!("person.name={name}");
    let answer = ask(&served.address, cookie, "/people/new", Some(&form)).unwrap();
    let to = header(&answer, "location").unwrap_or_else(|| panic!("{answer}"));
    to.to_owned()
}

/// Posts notes to one case until the program is gone, and hands back those that count as confirmed. In the broken way a
/// few more are taken for confirmed after it is gone, as a program would that writes later what it has acknowledged.
fn post_until_gone(
    (address, cookie, case): (&str, &str, &str),
    round: usize,
    confirmed: Confirmed,
    count: &AtomicUsize,
) -> Vec<String> {
    let mut ledger = Vec::new();
    let mut failed = 0;
    for number in 0..100_000 {
        let note = format!("round-{round}-note-{number}-end");
        if confirmed == Confirmed::BeforeWriting {
            ledger.push(note.clone());
        }
        let form = format!("note={note}");
        match ask(address, cookie, &format!("{case}/note"), Some(&form)) {
            Some(answer) if answer.starts_with("HTTP/1.1 303") => {
                count.fetch_add(1, Ordering::SeqCst);
                if confirmed == Confirmed::Answered {
                    ledger.push(note);
                }
            }
            Some(answer) => panic!("{answer}"),
            None => failed += 1,
        }
        if failed > 2 {
            break;
        }
    }
    ledger
}

/// What the ledger holds and the record does not.
fn lost(dir: &Path, ledger: &[(String, Vec<String>)]) -> Vec<String> {
    let served = Served::start(dir);
    let cookie = sign_in(&served);
    let mut missing = Vec::new();
    for (case, notes) in ledger {
        let written = ask(&served.address, &cookie, &format!("{case}/written"), None).unwrap();
        assert!(written.starts_with("HTTP/1.1 200"), "{written}");
        let gone = notes.iter().filter(|note| !written.contains(*note));
        missing.extend(gone.cloned());
    }
    missing
}

/// Kills the program again and again while two hands write in two cases; hands back what counts as confirmed.
fn killed(dir: &Path, kills: &[(usize, u64)], confirmed: Confirmed) -> Vec<(String, Vec<String>)> {
    let served = Served::start(dir);
    let cookie = sign_in(&served);
    let cases = ["Orla", "Tomas"].map(|name| new_case(&served, &cookie, name));
    drop(served);
    let mut ledger = cases.map(|case| (case, Vec::new()));
    for (round, (after, wait_us)) in kills.iter().enumerate() {
        let mut served = Served::start(dir);
        let (address, cookie) = (served.address.clone(), sign_in(&served));
        let count = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            let hands: Vec<_> = ledger
                .iter_mut()
                .map(|(case, notes)| {
                    let (at, count) = ((address.as_str(), cookie.as_str(), case.as_str()), &count);
                    scope.spawn(move || notes.extend(post_until_gone(at, round, confirmed, count)))
                })
                .collect();
            while count.load(Ordering::SeqCst) < *after
                && hands.iter().any(|one| !one.is_finished())
            {
                std::thread::yield_now();
            }
            std::thread::sleep(Duration::from_micros(*wait_us));
            served.kill();
        });
        assert!(count.load(Ordering::SeqCst) >= *after, "round {round}");
    }
    ledger.into()
}

#[test]
fn whatever_was_confirmed_is_there_after_the_program_was_killed_at_many_points() {
    let dir = tempfile::tempdir().unwrap();
    let record = dir.path().join("record");
    make_record(&record);
    let mut ledger = killed(&record, &KILLS, Confirmed::Answered);
    let confirmed: usize = ledger.iter().map(|(_, notes)| notes.len()).sum();
    assert!(confirmed >= 100, "{confirmed} confirmed entries");
    assert_eq!(lost(&record, &ledger), Vec::<String>::new());
    // The same look finds an entry that was never sent.
    ledger[0].1.push("round-0-note-never-sent-end".to_owned());
    assert_eq!(lost(&record, &ledger), ["round-0-note-never-sent-end"]);
}

#[test]
fn a_program_that_acknowledges_before_it_writes_is_found_out() {
    let dir = tempfile::tempdir().unwrap();
    let record = dir.path().join("record");
    make_record(&record);
    let ledger = killed(&record, &KILLS[..3], Confirmed::BeforeWriting);
    assert!(!lost(&record, &ledger).is_empty());
}

#[test]
fn a_second_server_is_refused_while_the_first_goes_on_writing() {
    let dir = tempfile::tempdir().unwrap();
    let record = dir.path().join("record");
    make_record(&record);
    let served = Served::start(&record);
    let cookie = sign_in(&served);
    let case = new_case(&served, &cookie, "Orla");
    let data = record.to_str().unwrap().to_owned();
    hearthpace(&["serve", "--listen", "127.0.0.1:0", "--data", &data])
        .exits(1)
        .says("Another Hearthpace is using the record");
    let answer = ask(
        &served.address,
        &cookie,
        &format!("{case}/note"),
        Some("note=written-after-the-second-was-refused"),
    );
    assert!(answer.unwrap().starts_with("HTTP/1.1 303"));
    drop(served);
    let ledger = [(
        case,
        vec!["written-after-the-second-was-refused".to_owned()],
    )];
    assert_eq!(lost(&record, &ledger), Vec::<String>::new());
}
