//! Changes made with the file in hand: each is found, or changes nothing.

use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::TestRunner;
use records::{CaseId, Entry, Error, FaultKind, Roles, Store};

use crate::common::{
    ADA, BEN, Desk, Engine as _, SqliteFolder, draft, later, new_user, passphrase, reading, start,
};
use crate::raw;

/// A closed record with two cases of three entries, and what they hold.
struct Prepared {
    desk: Desk<SqliteFolder>,
    cases: [CaseId; 2],
    entries: Vec<Vec<Entry>>,
}

async fn prepare() -> Prepared {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let cases = [
        desk.case("fenwick-1951").await,
        desk.case("abara-1948").await,
    ];
    let mut entries = Vec::new();
    for case in cases {
        for text in ["first", "second", "third"] {
            desk.store
                .append(case, desk.ada, draft("note", text), later(1))
                .await
                .unwrap();
        }
        entries.push(desk.store.entries(case, &desk.reading()).await.unwrap());
    }
    desk.store.clone().close().await;
    Prepared {
        desk,
        cases,
        entries,
    }
}

impl Prepared {
    fn file(&self) -> std::path::PathBuf {
        raw::file(self.desk.engine.dir.path())
    }

    /// Opens the record again, if that is still possible.
    async fn open(
        self,
    ) -> (
        Result<Store, Error>,
        [CaseId; 2],
        Vec<Vec<Entry>>,
        records::UserId,
        SqliteFolder,
    ) {
        let Prepared {
            desk: Desk {
                engine, store, ada, ..
            },
            cases,
            entries,
        } = self;
        drop(store);
        let opened = match engine.open().await {
            Ok(locked) => locked
                .unlock("ada", &passphrase(ADA), start())
                .await
                .map(|(store, _)| store),
            Err(error) => Err(error),
        };
        (opened, cases, entries, ada, engine)
    }
}

#[tokio::test]
async fn law_a_changed_moved_missing_or_inserted_entry_is_found_without_keys() {
    let of = |position: i64| {
        format!(
            "(SELECT journal_entry_id FROM journal_entry WHERE position = {position} ORDER BY patient_case_id LIMIT 1)"
        )
    };
    let (one, two, three) = (of(1), of(2), of(3));
    let insert = "INSERT INTO journal_entry SELECT randomblob(16), patient_case_id, 4, kind, effective_at, recorded_ms, app_user_id, \
                  NULL, plan_digests, sealed_body, hash, hash FROM journal_entry WHERE journal_entry_id = ";
    for sql in [
        format!("UPDATE journal_entry SET kind = 'call' WHERE journal_entry_id = {two}"),
        format!("UPDATE journal_entry SET effective_at = '2026-11-02T09:30:01' WHERE journal_entry_id = {two}"),
        format!("UPDATE journal_entry SET recorded_ms = recorded_ms + 1 WHERE journal_entry_id = {three}"),
        format!("UPDATE journal_entry SET plan_digests = 'x' WHERE journal_entry_id = {one}"),
        format!("UPDATE journal_entry SET supersedes = {one} WHERE journal_entry_id = {three}"),
        format!("UPDATE journal_entry SET journal_entry_id = randomblob(16) WHERE journal_entry_id = {two}"),
        format!("UPDATE journal_entry SET hash = randomblob(32) WHERE journal_entry_id = {two}"),
        format!("UPDATE journal_entry SET hash_before = randomblob(32) WHERE journal_entry_id = {two}"),
        format!("UPDATE journal_entry SET sealed_body = (SELECT sealed_body FROM journal_entry WHERE journal_entry_id = {one}) WHERE journal_entry_id = {two}"),
        format!("UPDATE journal_entry SET position = 9 WHERE journal_entry_id = {three}"),
        // Two entries change places.
        format!("UPDATE journal_entry SET position = 7 WHERE journal_entry_id = {one}; \
                 UPDATE journal_entry SET position = 1 WHERE journal_entry_id = {two}; \
                 UPDATE journal_entry SET position = 2 WHERE position = 7"),
        format!("DELETE FROM journal_entry WHERE journal_entry_id = {one}"),
        format!("DELETE FROM journal_entry WHERE journal_entry_id = {two}"),
        format!("DELETE FROM journal_entry WHERE journal_entry_id = {three}"),
        format!("{insert}{three}"),
        // To another case.
        "UPDATE journal_entry SET patient_case_id = (SELECT max(patient_case_id) FROM patient_case), position = position + 3 \
         WHERE patient_case_id <> (SELECT max(patient_case_id) FROM patient_case)".to_owned(),
        // To no case.
        "UPDATE journal_entry SET patient_case_id = randomblob(16) WHERE position = 2".to_owned(),
        "UPDATE journal_entry SET app_user_id = randomblob(16) WHERE position = 2".to_owned(),
        "UPDATE patient_case SET head_hash = randomblob(32) WHERE entry_count = 3".to_owned(),
        "UPDATE patient_case SET entry_count = 4 WHERE entry_count = 3".to_owned(),
    ] {
        let prepared = prepare().await;
        raw::run_unguarded(&prepared.file(), &sql).await;
        let (store, cases, before, ada, _engine) = prepared.open().await;
        let store = store.unwrap();
        let faults = store.locked().verify().await.unwrap().faults;
        assert!(!faults.is_empty(), "{sql}");
        assert!(faults.iter().all(|fault| !matches!(fault.kind, FaultKind::SchemaChanged { .. })), "{sql}: {faults:?}");
        // And the case that was hit is not shown as if nothing were.
        let mut refused = 0;
        for (case, before) in cases.into_iter().zip(before) {
            match store.entries(case, &reading(ada)).await {
                Ok(entries) => assert!(entries == before, "{sql}"),
                Err(Error::Tampered { .. }) => refused += 1,
                Err(other) => panic!("{sql}: {other}"),
            }
        }
        assert!(refused > 0, "{sql}");
    }
}

#[tokio::test]
async fn law_any_flipped_bit_of_a_sealed_body_is_found() {
    let mut runner = TestRunner::default();
    let places = (1..=3_i64, any::<prop::sample::Index>(), 0..8_u32);
    for _ in 0..60 {
        let (position, at, bit) = places.new_tree(&mut runner).unwrap().current();
        let prepared = prepare().await;
        let body = prepared.entries[0][0].body.len() + 40;
        let at = at.index(body) + 1;
        let mut connection = raw::connect(&prepared.file()).await;
        let byte = raw::number(
            &mut connection,
            &format!("SELECT unicode(substr(hex(substr(sealed_body, {at}, 1)), 1, 1)) FROM journal_entry WHERE position = {position} ORDER BY patient_case_id LIMIT 1"),
        )
        .await;
        assert!(byte > 0);
        drop(connection);
        flip_body(&prepared, position, at, bit).await;
        let (store, _, _, _, _engine) = prepared.open().await;
        let faults = store.unwrap().locked().verify().await.unwrap().faults;
        let found: Vec<_> = faults
            .iter()
            .map(|fault| (fault.position, fault.kind.clone()))
            .collect();
        // The entry itself, and the one after it (or the head), whose hash of the one before no longer fits.
        assert_eq!(
            found[0],
            (Some(position.unsigned_abs()), FaultKind::HashWrong),
            "{found:?}"
        );
        assert_eq!(found.len(), 2, "{found:?}");
    }
}

async fn flip_body(prepared: &Prepared, position: i64, at: usize, bit: u32) {
    let mut connection = raw::connect(&prepared.file()).await;
    let (id, mut body): (Vec<u8>, Vec<u8>) = sqlx::query_as(
        "SELECT journal_entry_id, sealed_body FROM journal_entry WHERE position = $1 ORDER BY patient_case_id LIMIT 1",
    )
    .bind(position)
    .fetch_one(&mut connection)
    .await
    .unwrap();
    let index = (at - 1) % body.len();
    body[index] ^= 1 << bit;
    let hex = |bytes: &[u8]| {
        bytes
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect::<String>()
    };
    drop(connection);
    let sql = format!(
        "UPDATE journal_entry SET sealed_body = x'{}' WHERE journal_entry_id = x'{}'",
        hex(&body),
        hex(&id)
    );
    raw::run_unguarded(&prepared.file(), &sql).await;
}

/// Whatever bit of the file is flipped: what is shown afterwards is what was written, or it is refused.
#[tokio::test]
async fn law_a_flipped_bit_anywhere_in_the_file_never_changes_what_is_shown() {
    let prepared = prepare().await;
    let whole = std::fs::read(prepared.file()).unwrap();
    let (dir, cases, before, ada) = (
        prepared.desk.engine.dir,
        prepared.cases,
        prepared.entries,
        prepared.desk.ada,
    );
    let summaries = prepared.desk.store;
    drop(summaries);
    let mut runner = TestRunner::default();
    let places = (any::<prop::sample::Index>(), 0..8_u32);
    let (mut refused, mut shown) = (0, 0);
    for _ in 0..300 {
        let (at, bit) = places.new_tree(&mut runner).unwrap().current();
        let mut changed = whole.clone();
        changed[at.index(whole.len())] ^= 1 << bit;
        for left in ["record.sqlite-wal", "record.sqlite-shm"] {
            let _ = std::fs::remove_file(dir.path().join(left));
        }
        std::fs::write(raw::file(dir.path()), &changed).unwrap();
        let Ok(locked) = Store::open(dir.path()).await else {
            refused += 1;
            continue;
        };
        let Ok((store, _)) = locked.unlock("ada", &passphrase(ADA), start()).await else {
            refused += 1;
            locked.close().await;
            continue;
        };
        for (case, before) in cases.iter().zip(&before) {
            match store.entries(*case, &reading(ada)).await {
                Ok(entries) => {
                    assert!(
                        entries == *before,
                        "bit {bit} of byte {}",
                        at.index(whole.len())
                    );
                    shown += 1;
                }
                Err(_) => refused += 1,
            }
        }
        store.close().await;
    }
    // Most of the file is room; some of the flips must have hit something that matters.
    println!("shown unchanged {shown}, refused {refused}");
    assert!(refused > 0 && shown > 0);
}

#[tokio::test]
async fn a_wrap_given_to_another_user_does_not_open() {
    let desk = Desk::open(SqliteFolder::fresh()).await;
    let ben = new_user("ben", Roles::PRACTITIONER);
    desk.store
        .add_user(desk.ada, &ben, Some(&passphrase(BEN)), start())
        .await
        .unwrap();
    desk.store.clone().close().await;
    let file = raw::file(desk.engine.dir.path());
    // Ben, who knows only his own passphrase, gives his wrap to Ada in order to sign as her.
    raw::run_unguarded(
        &file,
        "DELETE FROM key_wrap WHERE app_user_id = (SELECT app_user_id FROM app_user WHERE sign_in = 'ada'); \
         UPDATE key_wrap SET app_user_id = (SELECT app_user_id FROM app_user WHERE sign_in = 'ada') WHERE app_user_id IS NOT NULL",
    )
    .await;
    let Desk { engine, store, .. } = desk;
    drop(store);
    let locked = engine.open().await.unwrap();
    let refused = locked
        .unlock("ada", &passphrase(BEN), start())
        .await
        .unwrap_err();
    assert!(
        matches!(refused, Error::WrongPassphrase { .. }),
        "{refused}"
    );
}
