//! A full disk: what was confirmed stays, the entry that has no room is refused in words, and with room it goes on.

use std::path::Path;
use std::process::Command;

use records::{DataKey, NewRecord, Store};

use crate::common::{SqliteFolder, new_case, new_record, reading, start};

/// The writer fills a disk of 4 MiB in a mount namespace of its own; it is the system that says no here, not a setting.
#[tokio::test]
async fn confirmed_entries_stay_when_the_disk_is_full() {
    let _alone = crate::ONE_AT_A_TIME.lock().await;
    let engine = SqliteFolder::fresh();
    let key = || DataKey::from_bytes(&[7; 32]);
    let new = NewRecord {
        key: Some(key()),
        ..new_record()
    };
    let made = engine.dir.path().join("made");
    let created = Store::create(&made, &new, start()).await.unwrap();
    let user = created.first_user;
    let case = created
        .store
        .open_case(user, new_case("fenwick-1951"), start())
        .await
        .unwrap();
    created.store.close().await;

    let saved = engine.dir.path().join("saved");
    let Some(output) = fill_small_disk(
        engine.dir.path(),
        &made,
        &saved,
        &case.to_string(),
        &user.to_string(),
    ) else {
        assert!(
            std::env::var_os("CI").is_none(),
            "no small disk could be mounted; let the checks run where `unshare` and `mount` are allowed"
        );
        println!(
            "SKIPPED: no small disk could be mounted; the full database inside the crate is tested all the same"
        );
        return;
    };
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.contains("The disk is full: could not") && said.contains("free some space"),
        "{said}"
    );
    let confirmed: Vec<String> = String::from_utf8(output.stdout)
        .unwrap()
        .lines()
        .map(str::to_owned)
        .collect();
    // Some of them were added by the same process after space was freed.
    assert!(confirmed.len() > 50, "{}", confirmed.len());

    let locked = Store::open(&saved).await.unwrap();
    assert_eq!(locked.verify().await.unwrap().faults, []);
    let store = locked.unlock_with_key(&key(), start()).await.unwrap();
    let entries = store.entries(case, &reading(user)).await.unwrap();
    let there: Vec<String> = entries.iter().map(|entry| entry.id.to_string()).collect();
    assert_eq!(there, confirmed);
    println!(
        "{} entries confirmed on a disk of 4 MiB, all there",
        confirmed.len()
    );
}

/// Runs the writer on a copy of the record on a small disk until that is full, frees a MiB and goes on, then copies the files off that disk.
///
/// `None` if this system lets nobody mount one.
fn fill_small_disk(
    place: &Path,
    made: &Path,
    saved: &Path,
    case: &str,
    user: &str,
) -> Option<std::process::Output> {
    let disk = place.join("disk");
    std::fs::create_dir(&disk).unwrap();
    let script = "mount -t tmpfs -o size=4m tmpfs \"$1\" || exit 99\n\
                  mkdir \"$1/d\" && cp -p \"$2\"/record.sqlite \"$1/d/\" || exit 98\n\
                  head -c 1048576 /dev/zero > \"$1/filler\" || exit 95\n\
                  \"$4\" \"$1/d\" \"$5\" \"$6\" free-and-go-on\n\
                  [ $? -eq 0 ] || exit 97\n\
                  mkdir \"$3\" && cp -p \"$1/d\"/record.sqlite* \"$3/\" || exit 96";
    // As root a namespace of mounts is enough; otherwise one of users is tried first.
    for flags in ["-m", "-Urm"] {
        let output = Command::new("unshare")
            .args([flags, "sh", "-c", script, "sh"])
            .args([&disk, made, saved])
            .arg(env!("CARGO_BIN_EXE_records-crash-writer"))
            .args([case, user])
            .output()
            .ok()?;
        match output.status.code() {
            Some(0) => return Some(output),
            Some(95..=98) => panic!("{}", String::from_utf8_lossy(&output.stderr)),
            _ => {}
        }
    }
    None
}
