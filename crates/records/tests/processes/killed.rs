//! Killing the process at any moment loses nothing that was confirmed, and the check would notice if it did.

use std::collections::BTreeSet;
use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::time::Duration;

use records::{CaseId, DataKey, EntryId, NewRecord, Store, UserId};

use crate::Writer;
use crate::common::{SqliteFolder, new_case, new_record, reading, start};

/// How often the process is killed.
const KILLS: usize = 40;

struct Prepared {
    engine: SqliteFolder,
    case: CaseId,
    user: UserId,
}

fn key() -> DataKey {
    DataKey::from_bytes(&[7; 32])
}

async fn prepare() -> Prepared {
    let engine = SqliteFolder::fresh();
    let new = NewRecord {
        key: Some(key()),
        ..new_record()
    };
    let created = Store::create(engine.dir.path(), &new, start())
        .await
        .unwrap();
    let user = created.first_user;
    let case = created
        .store
        .open_case(user, new_case("fenwick-1951"), start())
        .await
        .unwrap();
    created.store.close().await;
    Prepared { engine, case, user }
}

/// Lets the writer run, kills it at a random moment, and returns every id that it had confirmed by then.
fn write_and_kill(prepared: &Prepared, mode: &str) -> Vec<EntryId> {
    let (case, user) = (prepared.case.to_string(), prepared.user.to_string());
    let mut writer = Writer::start(prepared.engine.dir.path(), &case, &user, mode);
    let mut lines = BufReader::new(writer.output()).lines();
    let mut random = [0; 4];
    getrandom::fill(&mut random).unwrap();
    let [few, long, low, high] = random;
    // After one to eight entries, half of the time at once (up to 2 ms: in the midst of the next one), else up to 33 ms
    // later: anywhere.
    let mut confirmed: Vec<String> = lines
        .by_ref()
        .take(usize::from(few % 8) + 1)
        .map_while(Result::ok)
        .collect();
    assert!(
        !confirmed.is_empty(),
        "the writer confirms at least one entry"
    );
    let moment = u64::from(u16::from_le_bytes([low, high]));
    std::thread::sleep(Duration::from_micros(if long % 2 == 0 {
        moment / 32
    } else {
        moment / 2
    }));
    writer.kill();
    // What stood in the pipe had been confirmed; a last half line had not.
    confirmed.extend(lines.map_while(Result::ok));
    confirmed
        .iter()
        .filter_map(|line| EntryId::parse(line).ok())
        .collect()
}

/// The one checker: which of the confirmed entries are not in the record, which must verify.
async fn lost(
    dir: &Path,
    case: CaseId,
    user: UserId,
    confirmed: &BTreeSet<EntryId>,
) -> Vec<EntryId> {
    let locked = Store::open(dir).await.unwrap();
    assert_eq!(locked.verify().await.unwrap().faults, []);
    let store = locked.unlock_with_key(&key(), start()).await.unwrap();
    assert_eq!(store.verify_sealed().await.unwrap().faults, []);
    let entries = store.entries(case, &reading(user)).await.unwrap();
    let there: BTreeSet<EntryId> = entries.iter().map(|entry| entry.id).collect();
    store.close().await;
    confirmed.difference(&there).copied().collect()
}

#[tokio::test]
async fn law_killing_the_process_at_any_moment_loses_nothing_confirmed() {
    let _alone = crate::ONE_AT_A_TIME.lock().await;
    let prepared = prepare().await;
    let mut confirmed = BTreeSet::new();
    for kill in 0..KILLS {
        let before = confirmed.len();
        confirmed.extend(write_and_kill(&prepared, "confirm-after"));
        assert!(confirmed.len() > before);
        let lost = lost(
            prepared.engine.dir.path(),
            prepared.case,
            prepared.user,
            &confirmed,
        )
        .await;
        assert_eq!(lost, [], "after kill {kill}");
    }
    println!(
        "{KILLS} kills, {} entries confirmed, none lost",
        confirmed.len()
    );
}

#[tokio::test]
async fn a_writer_that_confirms_too_early_is_caught_by_the_same_check() {
    let _alone = crate::ONE_AT_A_TIME.lock().await;
    let prepared = prepare().await;
    let mut confirmed = BTreeSet::new();
    let (mut kills, mut caught) = (0, 0);
    // A kill lands between word and deed about one time in five; ten times as many kills as are needed are allowed.
    while caught < 3 && kills < 10 * KILLS {
        kills += 1;
        confirmed.extend(write_and_kill(&prepared, "confirm-before"));
        let (dir, case, user) = (prepared.engine.dir.path(), prepared.case, prepared.user);
        let lost = lost(dir, case, user, &confirmed).await;
        caught += usize::from(!lost.is_empty());
        // Each loss is to be counted once.
        confirmed = confirmed
            .difference(&lost.into_iter().collect())
            .copied()
            .collect();
    }
    println!("the wrong writer was caught {caught} times in {kills} kills");
    assert_eq!(caught, 3, "the check notices nothing");
}
