//! `serve` from outside: an address on standard output, pages behind it, one server for one folder.
#![allow(
    clippy::unwrap_used,
    reason = "the helpers of these tests are tests themselves"
)]

use crate::run::hearthpace;
use records::{NewRecord, NewUser, PassphraseCost, Roles, Store};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// A server that ends with its test.
pub(crate) struct Served {
    child: Child,
    pub(crate) address: String,
}

impl Served {
    pub(crate) fn start(data: &Path) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_hearthpace"))
            .args(["serve", "--listen", "127.0.0.1:0", "--data"])
            .arg(data)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap())
            .read_line(&mut line)
            .unwrap();
        let address = line
            .split("http://")
            .nth(1)
            .and_then(|rest| rest.split('/').next())
            .unwrap_or_else(|| panic!("{line}"));
        Self {
            address: address.to_owned(),
            child,
        }
    }

    fn get(&self, path: &str, host: &str) -> String {
        let mut stream = TcpStream::connect(&self.address).unwrap();
        write!(
            stream,
            "GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"
        )
        .unwrap();
        let mut text = String::new();
        stream.read_to_string(&mut text).unwrap();
        text
    }
}

impl Served {
    /// Ends the program at once, as a power cut would: on Unix this is the signal that cannot be caught.
    pub(crate) fn kill(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.kill();
    }
}

fn make_record(dir: &Path) {
    let new = NewRecord {
        first_user: NewUser {
            sign_in: "josie".to_owned(),
            full_name: "Josie Marwood".to_owned(),
            roles: Roles::ALL,
        },
        passphrase: None,
        key: None,
        cost: PassphraseCost::STANDARD,
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

#[test]
fn an_empty_folder_is_set_up_on_the_first_page() {
    let dir = tempfile::tempdir().unwrap();
    let served = Served::start(&dir.path().join("record"));
    let first = served.get("/", &served.address);
    assert!(
        first.starts_with("HTTP/1.1 303") && first.contains("location: /sign-in"),
        "{first}"
    );
    assert!(
        served
            .get("/set-up", &served.address)
            .contains("A new record")
    );
    assert!(
        served
            .get("/", "elsewhere.example")
            .starts_with("HTTP/1.1 421")
    );
}

/// Before anybody set the record up there is nothing to lock but the folder itself.
#[test]
fn a_second_server_on_a_new_folder_is_refused() {
    let dir = tempfile::tempdir().unwrap();
    let record = dir.path().join("record");
    let served = Served::start(&record);
    let data = record.to_str().unwrap().to_owned();
    hearthpace(&["serve", "--listen", "127.0.0.1:0", "--data", &data])
        .exits(1)
        .says("Another Hearthpace is using the record");
    drop(served);
    let again = Served::start(&record);
    assert!(
        again
            .get("/set-up", &again.address)
            .contains("A new record")
    );
}

#[test]
fn what_no_page_answers_is_answered_in_words() {
    let dir = tempfile::tempdir().unwrap();
    let record = dir.path().join("record");
    make_record(&record);
    let served = Served::start(&record);
    for path in ["/nowhere", "/people/x/y/z", "/static/other.css", "/lock"] {
        let answer = served.get(path, &served.address);
        assert!(
            answer.starts_with("HTTP/1.1 404") || answer.starts_with("HTTP/1.1 405"),
            "{path}: {answer}"
        );
        assert!(answer.contains("Back to today"), "{path}: {answer}");
        assert!(
            answer.to_lowercase().contains("content-security-policy"),
            "{path}: {answer}"
        );
    }
}

#[test]
fn a_day_that_is_held_is_said() {
    let dir = tempfile::tempdir().unwrap();
    let record = dir.path().join("record");
    make_record(&record);
    let mut child = Command::new(env!("CARGO_BIN_EXE_hearthpace"))
        .args([
            "serve",
            "--listen",
            "127.0.0.1:0",
            "--on",
            "2026-11-25",
            "--data",
        ])
        .arg(&record)
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut line = String::new();
    let read = BufReader::new(child.stderr.take().unwrap()).read_line(&mut line);
    let _ = child.kill();
    let _ = child.wait();
    read.unwrap();
    assert!(line.contains("The day is held at 2026-11-25"), "{line}");
}

#[test]
fn a_second_server_on_the_same_record_is_refused() {
    let dir = tempfile::tempdir().unwrap();
    let record = dir.path().join("record");
    make_record(&record);
    let served = Served::start(&record);
    assert!(
        served
            .get("/sign-in", &served.address)
            .contains("Passphrase")
    );
    let data = record.to_str().unwrap().to_owned();
    let second = ["serve", "--listen", "127.0.0.1:0", "--data", &data];
    hearthpace(&second)
        .exits(1)
        .says("Another Hearthpace is using the record");
    assert!(
        served
            .get("/sign-in", &served.address)
            .contains("Passphrase"),
        "the first goes on"
    );
    drop(served);
    // The folder is free again.
    let third = Served::start(&record);
    assert!(third.get("/sign-in", &third.address).contains("Passphrase"));
}

#[test]
fn a_taken_address_and_another_database_are_told() {
    let dir = tempfile::tempdir().unwrap();
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let address = taken.local_addr().unwrap().to_string();
    let data = dir.path().join("record").to_str().unwrap().to_owned();
    hearthpace(&["serve", "--data", &data, "--listen", &address])
        .exits(1)
        .says("cannot listen on")
        .says("something else listens there already");
    hearthpace(&["serve", "--data", &data, "--database", "postgres://x/y"])
        .exits(1)
        .says("leave --database out");
}
