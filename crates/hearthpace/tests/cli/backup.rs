//! `backup` and `restore`: one checked file, also while the record is in use.

use crate::run::{file, hearthpace};
use records::{NewRecord, NewUser, Passphrase, PassphraseCost, Roles, Store};
use std::path::{Path, PathBuf};

/// A new folder that is not there yet.
fn folder(name: &str) -> PathBuf {
    let beside = PathBuf::from(file("beside", ""));
    beside.with_file_name(name)
}

/// Makes an invented record and does something while it is open.
fn with_record<T>(dir: &Path, work: impl FnOnce() -> T) -> T {
    let new = NewRecord {
        first_user: NewUser {
            sign_in: "ines".to_owned(),
            full_name: "Ines Calder".to_owned(),
            roles: Roles::ALL,
        },
        passphrase: Some(Passphrase::new("lantern hazel brook".to_owned())),
        key: None,
        cost: PassphraseCost::FOR_TESTS,
    };
    let now = "2026-11-02T08:00:00Z".parse().expect("a moment");
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime");
    runtime.block_on(async {
        let created = Store::create(dir, &new, now)
            .await
            .expect("a new folder can hold a record");
        let done = work();
        created.store.close().await;
        done
    })
}

fn text(path: &Path) -> String {
    path.display().to_string()
}

#[test]
fn a_record_in_use_is_backed_up_and_restored_to_the_same_head() {
    let dir = folder("record");
    let out = folder("backup.file");
    let report = with_record(&dir, || {
        hearthpace(&[
            "backup",
            "--data",
            &text(&dir),
            "--out",
            &text(&out),
            "--json",
        ])
        .exits(0)
        .json()
    });
    assert_eq!(report["cases"], 0, "the journal of the service is no case");
    assert_eq!(report["bytes"], std::fs::metadata(&out).unwrap().len());
    let again = folder("again");
    let restored = hearthpace(&["restore", &text(&out), "--data", &text(&again), "--json"])
        .exits(0)
        .json();
    assert_eq!(
        (&restored["digest"], &restored["cases"]),
        (&report["digest"], &report["cases"])
    );
    hearthpace(&[
        "backup",
        "--data",
        &text(&again),
        "--out",
        &text(&folder("second.file")),
    ])
    .exits(0)
    .shows("Digest to keep");
}

#[test]
fn nothing_is_overwritten_and_nothing_damaged_is_restored() {
    let dir = folder("record");
    let out = folder("backup.file");
    with_record(&dir, || {
        hearthpace(&["backup", "--data", &text(&dir), "--out", &text(&out)]).exits(0)
    });
    hearthpace(&["backup", "--data", &text(&dir), "--out", &text(&out)])
        .exits(1)
        .says("overwrites nothing");
    hearthpace(&["restore", &text(&out), "--data", &text(&dir)])
        .exits(1)
        .says("never overwritten");
    hearthpace(&[
        "backup",
        "--data",
        &text(&folder("nothing")),
        "--out",
        &text(&folder("b")),
    ])
    .exits(1)
    .says("no record");

    let mut bytes = std::fs::read(&out).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    let damaged = file("damaged.file", &bytes);
    let target = folder("target");
    hearthpace(&["restore", &damaged, "--data", &text(&target)])
        .exits(1)
        .says("is not a backup that can be restored");
    hearthpace(&[
        "restore",
        &file("cut.file", &bytes[..middle]),
        "--data",
        &text(&target),
    ])
    .exits(1);
    assert!(!target.exists());
}
