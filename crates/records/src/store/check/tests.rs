//! What only somebody who knows the form of the chain can try: rewriting it from the inside.

use jiff::Timestamp;
use jiff::civil::date;
use tempfile::TempDir;

use super::*;
use crate::access::Reading;
use crate::case::{CaseFilter, NewCase, Personal, Summary};
use crate::database::Database;
use crate::digest::Digest;
use crate::identity::{EntryId, UserId, Word};
use crate::journal::Draft;
use crate::passphrase::PassphraseCost;
use crate::seal::DataKey;
use crate::store::NewRecord;
use crate::user::{NewUser, Roles};

struct Desk {
    dir: TempDir,
    store: Store,
    by: UserId,
    case: CaseId,
}

fn now() -> Timestamp {
    Timestamp::UNIX_EPOCH
}

fn draft(text: &str) -> Draft {
    let id = EntryId::generate(now()).unwrap();
    Draft::new(
        id,
        Word::new("note").unwrap(),
        date(2026, 11, 2).at(9, 0, 0, 0),
        text.into(),
    )
}

impl Desk {
    async fn open() -> Desk {
        let dir = TempDir::new().unwrap();
        let first_user = NewUser {
            sign_in: "ada".into(),
            full_name: "Ada".into(),
            roles: Roles::ALL,
        };
        let key = Some(DataKey::from_bytes(&[7; 32]));
        let new = NewRecord {
            first_user,
            passphrase: None,
            key,
            cost: PassphraseCost::FOR_TESTS,
        };
        let created = Store::create(dir.path(), &new, now()).await.unwrap();
        let mut desk = Desk {
            dir,
            store: created.store,
            by: created.first_user,
            case: CaseId::SERVICE,
        };
        desk.case = desk.case("one").await;
        for text in ["a", "b", "c"] {
            desk.store
                .append(desk.case, desk.by, draft(text), now())
                .await
                .unwrap();
        }
        desk
    }

    async fn case(&self, reference: &str) -> CaseId {
        let summary = Summary {
            status: Word::new("active").unwrap(),
            due_on: Some(date(2026, 11, 9)),
            silent_from: None,
            examined_on: None,
            heard_on: None,
            session_count: 0,
            open_alert_count: 0,
        };
        let personal = Personal {
            name: reference.into(),
            called: String::new(),
            birth_year: None,
            one_line: String::new(),
        };
        let new = NewCase {
            reference: reference.into(),
            summary,
            personal,
            entries: vec![],
        };
        self.store.open_case(self.by, new, now()).await.unwrap()
    }

    /// Runs SQL on the database with the guards away, and puts the guards back.
    async fn tamper(&self, work: impl AsyncFnOnce(&mut Transaction)) {
        let mut transaction = self.store.shared.database.write("tamper").await.unwrap();
        let Transaction::Sqlite(inner) = &mut transaction;
        let guards: Vec<(String, String)> =
            sqlx::query_as("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
                .fetch_all(&mut **inner)
                .await
                .unwrap();
        for (name, _) in &guards {
            let drop = sqlx::AssertSqlSafe(format!("DROP TRIGGER {name}"));
            sqlx::raw_sql(drop).execute(&mut **inner).await.unwrap();
        }
        work(&mut transaction).await;
        let Transaction::Sqlite(inner) = &mut transaction;
        for (_, sql) in guards {
            sqlx::raw_sql(sqlx::AssertSqlSafe(sql))
                .execute(&mut **inner)
                .await
                .unwrap();
        }
        transaction.commit("tamper").await.unwrap();
    }

    fn reading(&self) -> Reading {
        Reading {
            by: self.by,
            what: Word::new("test").unwrap(),
            at: now(),
        }
    }

    async fn verify(&self) -> Vec<FaultKind> {
        self.store
            .locked()
            .verify()
            .await
            .unwrap()
            .faults
            .into_iter()
            .map(|fault| fault.kind)
            .collect()
    }

    async fn verify_sealed(&self) -> Vec<FaultKind> {
        self.store
            .verify_sealed()
            .await
            .unwrap()
            .faults
            .into_iter()
            .map(|fault| fault.kind)
            .collect()
    }
}

/// Writes a changed entry and everything behind it anew, with right hashes, as somebody without keys can.
async fn rewrite(desk: &Desk, change: impl Fn(&mut Vec<EntryRow>)) {
    let record = desk.store.keys.record;
    let case = desk.case;
    desk.tamper(async |transaction| {
        let mut row = case_rows::find(transaction, case).await.unwrap().unwrap();
        let mut entries = journal_rows::of_case(transaction, case, 1).await.unwrap();
        change(&mut entries);
        let mut before: Digest = first_hash(&record, case);
        for (position, entry) in (1..).zip(&mut entries) {
            entry.position = position;
            entry.hash_before = before.as_bytes().to_vec();
            before = entry.link(&record).hash(&entry.sealed_body);
            entry.hash = before.as_bytes().to_vec();
        }
        row.entry_count = entries.len() as i64;
        row.head_hash = before.as_bytes().to_vec();
        let Transaction::Sqlite(inner) = transaction;
        sqlx::query("DELETE FROM journal_entry WHERE patient_case_id = $1")
            .bind(case.to_uuid())
            .execute(&mut **inner)
            .await
            .unwrap();
        for entry in &entries {
            journal_rows::insert(transaction, entry).await.unwrap();
        }
        case_rows::update(transaction, &row).await.unwrap();
    })
    .await;
}

#[tokio::test]
async fn the_rewriting_of_the_tests_is_right() {
    // The control: writing everything anew without a change must not be found, or the tests below show nothing.
    let desk = Desk::open().await;
    rewrite(&desk, |_| {}).await;
    assert_eq!(desk.verify_sealed().await, []);
    assert_eq!(
        desk.store
            .entries(desk.case, &desk.reading())
            .await
            .unwrap()
            .len(),
        3
    );
}

#[tokio::test]
async fn law_a_chain_made_anew_is_found_with_the_keys() {
    type Change = fn(&mut Vec<EntryRow>);
    let changes: [(&str, Change); 8] = [
        ("body", |entries| entries[1].sealed_body[30] ^= 1),
        ("kind", |entries| entries[1].kind = "call".into()),
        ("effective time", |entries| {
            entries[1].effective_at = "2026-11-02T09:00:01".into()
        }),
        ("recorded time", |entries| entries[1].recorded_ms += 1),
        ("digests", |entries| {
            entries[1].plan_digests = format!("plan {}\n", Digest::of(b""))
        }),
        ("order", |entries| entries.swap(0, 1)),
        ("first one gone", |entries| drop(entries.remove(0))),
        ("last one gone", |entries| drop(entries.pop())),
    ];
    for (name, change) in changes {
        let desk = Desk::open().await;
        rewrite(&desk, change).await;
        // Without keys it looks right: that is why the head is to be kept outside, and why bodies are bound to the chain.
        assert_eq!(desk.verify().await, [], "{name}");
        assert!(
            desk.verify_sealed()
                .await
                .contains(&FaultKind::HeadSealWrong),
            "{name}"
        );
        let refused = desk
            .store
            .entries(desk.case, &desk.reading())
            .await
            .unwrap_err();
        assert!(
            matches!(refused, Error::Tampered { .. }),
            "{name}: {refused}"
        );
        let refused = desk
            .store
            .append(desk.case, desk.by, draft("d"), now())
            .await
            .unwrap_err();
        assert!(
            matches!(refused, Error::Tampered { .. }),
            "{name}: {refused}"
        );
    }
}

#[tokio::test]
async fn what_still_opens_of_a_damaged_case_can_be_salvaged() {
    let desk = Desk::open().await;
    rewrite(&desk, |entries| entries[1].sealed_body[30] ^= 1).await;
    let (entries, faults) = desk
        .store
        .salvage_entries(desk.case, &desk.reading())
        .await
        .unwrap();
    // The third is bound to the hash of the second, so that only the first can be trusted.
    assert_eq!(
        entries
            .iter()
            .map(|entry| &entry.body[..])
            .collect::<Vec<_>>(),
        [b"a"]
    );
    assert!(faults.iter().any(|fault| fault.position == Some(2)));
    assert!(faults.iter().all(|fault| fault.case == Some(desk.case)));
}

#[tokio::test]
async fn a_changed_date_or_count_is_found_with_the_keys_and_in_lists() {
    for change in [
        "due_on = '2036-11-09'",
        "due_on = 'soon'",
        "silent_from = '2036-01-01'",
        "examined_on = '2026-11-02'",
        "heard_on = '2026-11-02'",
        "status = 'discharged'",
        "session_count = 9",
        "open_alert_count = 1",
        "open_alert_count = 5000000000",
        "opened_ms = 5",
        "changed_ms = 5",
    ] {
        let desk = Desk::open().await;
        let other = desk.case("two").await;
        desk.tamper(async |transaction| {
            let Transaction::Sqlite(inner) = transaction;
            let sql = sqlx::AssertSqlSafe(format!(
                "UPDATE patient_case SET {change} WHERE patient_case_id = $1"
            ));
            sqlx::query(sql)
                .bind(desk.case.to_uuid())
                .execute(&mut **inner)
                .await
                .unwrap();
        })
        .await;
        assert_eq!(
            desk.verify_sealed().await,
            [FaultKind::HeadSealWrong],
            "{change}"
        );
        let list = desk
            .store
            .list_cases(desk.by, &CaseFilter::default())
            .await
            .unwrap();
        // Two cases of the same millisecond are listed in any order.
        let fault_of = |case| {
            list.iter()
                .find(|listing| listing.case == case)
                .unwrap()
                .fault
                .clone()
        };
        assert_eq!(
            fault_of(desk.case),
            Some(FaultKind::HeadSealWrong),
            "{change}"
        );
        assert_eq!(fault_of(other), None, "{change}");
    }
}

#[tokio::test]
async fn what_belongs_to_another_case_or_record_does_not_open() {
    let desk = Desk::open().await;
    let other = desk.case("two").await;
    for column in ["sealed_personal", "sealed_reference"] {
        desk.tamper(async |transaction| {
            swap(transaction, "patient_case", column, desk.case, other).await
        })
        .await;
        let what = if column == "sealed_personal" {
            "its name"
        } else {
            "its reference"
        };
        let wrong = FaultKind::DoesNotOpen { what };
        assert_eq!(desk.verify_sealed().await, [wrong.clone(), wrong]);
        desk.tamper(async |transaction| {
            swap(transaction, "patient_case", column, desk.case, other).await
        })
        .await;
    }
    assert_eq!(desk.verify_sealed().await, []);
    desk.tamper(async |transaction| {
        swap(transaction, "case_key", "sealed_key", desk.case, other).await
    })
    .await;
    let wrong = FaultKind::DoesNotOpen { what: "its key" };
    assert_eq!(desk.verify_sealed().await, [wrong.clone(), wrong.clone()]);
    let list = desk
        .store
        .list_cases(desk.by, &CaseFilter::default())
        .await
        .unwrap();
    assert!(
        list.iter()
            .all(|listing| listing.personal.is_none() && listing.fault == Some(wrong.clone()))
    );

    // Another record under the very same data key: its sealed key does not open here.
    let (here, foreign) = (Desk::open().await, Desk::open().await);
    let mut transaction = foreign.store.shared.database.read("look").await.unwrap();
    let row = case_rows::find(&mut transaction, foreign.case)
        .await
        .unwrap()
        .unwrap();
    assert!(foreign.store.keys.case_key(&row).is_ok());
    assert!(matches!(
        here.store.keys.case_key(&row),
        Err(Error::Tampered { .. })
    ));
    assert_ne!(here.dir.path(), foreign.dir.path());
}

async fn swap(transaction: &mut Transaction, table: &str, column: &str, one: CaseId, two: CaseId) {
    let Transaction::Sqlite(inner) = transaction;
    let read = format!("SELECT {column} FROM {table} WHERE patient_case_id = $1");
    let write = format!("UPDATE {table} SET {column} = $2 WHERE patient_case_id = $1");
    let mut values: Vec<Vec<u8>> = Vec::new();
    for case in [one, two] {
        let query = sqlx::query_as(sqlx::AssertSqlSafe(read.clone())).bind(case.to_uuid());
        let (value,): (Vec<u8>,) = query.fetch_one(&mut **inner).await.unwrap();
        values.push(value);
    }
    for (case, value) in [one, two].into_iter().zip(values.into_iter().rev()) {
        let query = sqlx::query(sqlx::AssertSqlSafe(write.clone()))
            .bind(case.to_uuid())
            .bind(value);
        query.execute(&mut **inner).await.unwrap();
    }
}

#[tokio::test]
async fn when_a_reading_cannot_be_noted_nothing_is_shown() {
    let desk = Desk::open().await;
    let Database::Sqlite(database) = &desk.store.shared.database;
    let (pages,): (i64,) = sqlx::query_as("PRAGMA page_count")
        .fetch_one(&database.writer)
        .await
        .unwrap();
    let limit = sqlx::AssertSqlSafe(format!("PRAGMA max_page_count = {}", pages + 1));
    sqlx::raw_sql(limit)
        .execute(&database.writer)
        .await
        .unwrap();
    let (mut shown, mut refused) = (0, 0);
    while refused < 60 && shown < 10_000 {
        // Several at once, so that they fail together.
        let tasks: Vec<_> = (0..20)
            .map(|_| {
                let (store, case, reading) = (desk.store.clone(), desk.case, desk.reading());
                tokio::spawn(async move { store.entries(case, &reading).await })
            })
            .collect();
        for task in tasks {
            match task.await.unwrap() {
                Ok(_) => shown += 1,
                Err(Error::DiskFull { .. }) => refused += 1,
                Err(other) => panic!("{other}"),
            }
        }
    }
    assert!(refused >= 60, "{shown} shown");
    let noted = desk
        .store
        .access_log(desk.by, &Default::default())
        .await
        .unwrap();
    assert_eq!(
        noted
            .iter()
            .filter(|row| row.case == Some(desk.case))
            .count(),
        shown
    );
    // With room again it goes on.
    sqlx::raw_sql("PRAGMA max_page_count = 1000000")
        .execute(&database.writer)
        .await
        .unwrap();
    desk.store
        .entries(desk.case, &desk.reading())
        .await
        .unwrap();
}

#[tokio::test]
async fn a_case_that_only_counts_as_erased_is_found() {
    for sql in [
        "UPDATE patient_case SET erased_ms = 5",
        "UPDATE patient_case SET erased_ms = 5; DELETE FROM case_key",
    ] {
        let desk = Desk::open().await;
        desk.tamper(async |transaction| {
            let Transaction::Sqlite(inner) = transaction;
            sqlx::raw_sql(sqlx::AssertSqlSafe(sql.to_owned()))
                .execute(&mut **inner)
                .await
                .unwrap();
        })
        .await;
        assert!(
            desk.verify().await.contains(&FaultKind::ErasureWrong),
            "{sql}"
        );
    }
}
