//! Passphrases, the recovery sheet and given keys.

use records::{DataKey, Error, NewRecord, RecoverySheet, Roles};

use crate::common::{
    ADA, BEN, Desk, Engine, SqliteFolder, later, new_record, new_user, passphrase, start,
};

pub(crate) async fn the_passphrase_unlocks_and_a_wrong_one_does_not(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    desk.add(case, "pulse 64").await;
    desk.store.close().await;
    let locked = desk.engine.open().await.unwrap();
    for (name, text) in [
        ("ada", BEN),
        ("ada", ""),
        ("ben", ADA),
        ("", ""),
        ("ada", "Lantern hazel brook"),
    ] {
        let refused = locked
            .unlock(name, &passphrase(text), start())
            .await
            .unwrap_err();
        assert!(
            matches!(
                refused,
                Error::WrongPassphrase { .. } | Error::TooSoon { .. }
            ),
            "{refused}"
        );
    }
    let (store, user) = locked
        .unlock(" ADA ", &passphrase(ADA), later(3600))
        .await
        .unwrap();
    assert_eq!((user.id, user.has_passphrase), (desk.ada, true));
    let entries = store
        .entries(case, &crate::common::reading(desk.ada))
        .await
        .unwrap();
    assert_eq!(entries[0].body, b"pulse 64");
}

pub(crate) async fn wrong_attempts_are_slowed_down_and_the_count_survives(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    desk.store.close().await;
    let locked = desk.engine.open().await.unwrap();
    let wrong = async |locked: &records::LockedStore, at| {
        locked
            .unlock("ada", &passphrase(BEN), at)
            .await
            .unwrap_err()
    };
    for _ in 0..2 {
        assert!(matches!(
            wrong(&locked, start()).await,
            Error::WrongPassphrase { wait_until: None }
        ));
    }
    let third = wrong(&locked, start()).await;
    assert!(
        matches!(third, Error::WrongPassphrase { wait_until: Some(until) } if until == later(5)),
        "{third}"
    );
    // Even the right one is not tried before its time, and the refusal does not lengthen the wait.
    locked.close().await;
    let locked = desk.engine.open().await.unwrap();
    let refused = locked
        .unlock("ada", &passphrase(ADA), later(4))
        .await
        .unwrap_err();
    assert!(
        matches!(refused, Error::TooSoon { until } if until == later(5)),
        "{refused}"
    );
    let fourth = wrong(&locked, later(5)).await;
    assert!(
        matches!(fourth, Error::WrongPassphrase { wait_until: Some(until) } if until == later(15)),
        "{fourth}"
    );
    locked
        .unlock("ada", &passphrase(ADA), later(15))
        .await
        .unwrap();
    // Success wipes the slate clean.
    assert!(matches!(
        wrong(&locked, later(16)).await,
        Error::WrongPassphrase { wait_until: None }
    ));
}

pub(crate) async fn attempts_at_once_are_counted_each(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let attempts: Vec<_> = (0..12)
        .map(|_| {
            let store = desk.store.clone();
            tokio::spawn(async move {
                store
                    .sign_in("ada", &passphrase(BEN), start())
                    .await
                    .unwrap_err()
            })
        })
        .collect();
    let mut tried = 0;
    for attempt in attempts {
        tried += usize::from(matches!(
            attempt.await.unwrap(),
            Error::WrongPassphrase { .. }
        ));
    }
    // Two are free, the third begins the wait: no fourth was tried, however many came at the same moment.
    assert_eq!(tried, 3);
}

pub(crate) async fn the_recovery_sheet_unlocks_and_sets_a_new_passphrase(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let case = desk.case("fenwick-1951").await;
    desk.store.close().await;
    let sheet = RecoverySheet::parse(&desk.recovery.to_lowercase()).unwrap();
    let locked = desk.engine.open().await.unwrap();
    let store = locked.unlock_with_recovery(&sheet, start()).await.unwrap();
    store
        .reset_passphrase(desk.ada, desk.ada, &passphrase(BEN))
        .await
        .unwrap();
    store.case(desk.ada, case).await.unwrap();
    assert!(
        locked
            .unlock("ada", &passphrase(ADA), later(1))
            .await
            .is_err()
    );
    locked
        .unlock("ada", &passphrase(BEN), later(2))
        .await
        .unwrap();
    let log = store
        .access_log(desk.ada, &Default::default())
        .await
        .unwrap();
    assert!(
        log.iter()
            .any(|row| row.what.as_str() == "recovery" && row.by.is_none())
    );
}

pub(crate) async fn a_new_recovery_sheet_replaces_the_old_one(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let new = desk.store.renew_recovery(desk.ada).await.unwrap();
    let old = RecoverySheet::parse(&desk.recovery).unwrap();
    let locked = desk.store.locked();
    let refused = locked
        .unlock_with_recovery(&old, start())
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::WrongRecovery), "{refused}");
    locked.unlock_with_recovery(&new, start()).await.unwrap();
    // A sheet of another record has the right form and opens nothing.
    let other = Desk::open(SqliteFolder::fresh()).await;
    let foreign = RecoverySheet::parse(&other.recovery).unwrap();
    assert!(matches!(
        locked.unlock_with_recovery(&foreign, start()).await,
        Err(Error::WrongRecovery)
    ));
}

pub(crate) async fn a_given_key_unlocks_without_a_passphrase(engine: impl Engine) {
    let key = || DataKey::from_bytes(&[7; 32]);
    let new = NewRecord {
        passphrase: None,
        key: Some(key()),
        ..new_record()
    };
    let created = engine.create(&new).await.unwrap();
    assert!(
        !created
            .store
            .user(created.first_user)
            .await
            .unwrap()
            .has_passphrase
    );
    created.store.close().await;
    let locked = engine.open().await.unwrap();
    let refused = locked
        .unlock_with_key(&DataKey::from_bytes(&[8; 32]), start())
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::WrongKey), "{refused}");
    let store = locked.unlock_with_key(&key(), start()).await.unwrap();
    assert!(store.verify_sealed().await.unwrap().is_sound());
    // Without a passphrase nobody can guess one.
    let refused = locked
        .unlock("ada", &passphrase(""), start())
        .await
        .unwrap_err();
    assert!(
        matches!(refused, Error::WrongPassphrase { .. }),
        "{refused}"
    );
}

pub(crate) async fn a_changed_passphrase_replaces_the_old_one(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let change = async |old: &str, new: &str, at| {
        desk.store
            .change_passphrase("ada", &passphrase(old), &passphrase(new), at)
            .await
    };
    let refused = change(BEN, "a third one of words", start())
        .await
        .unwrap_err();
    assert!(
        matches!(refused, Error::WrongPassphrase { .. }),
        "{refused}"
    );
    change(ADA, BEN, later(1)).await.unwrap();
    assert!(
        desk.store
            .sign_in("ada", &passphrase(ADA), later(2))
            .await
            .is_err()
    );
    desk.store
        .sign_in("ada", &passphrase(BEN), later(3))
        .await
        .unwrap();
}

pub(crate) async fn a_short_passphrase_is_refused_wherever_one_is_set(engine: impl Engine) {
    let short = || passphrase("too short");
    let refused = engine
        .create(&NewRecord {
            passphrase: Some(short()),
            ..new_record()
        })
        .await
        .unwrap_err();
    assert!(
        matches!(
            refused,
            Error::PassphraseTooShort {
                found: 9,
                least: 10
            }
        ),
        "{refused}"
    );
    // A refused record leaves nothing behind that would stand in the way of the next attempt.
    let desk = Desk::open(engine).await;
    let ben = new_user("ben", Roles::PRACTITIONER);
    let too_short =
        |error: Error| assert!(matches!(error, Error::PassphraseTooShort { .. }), "{error}");
    too_short(
        desk.store
            .add_user(desk.ada, &ben, Some(&short()), start())
            .await
            .unwrap_err(),
    );
    too_short(
        desk.store
            .change_passphrase("ada", &passphrase(ADA), &short(), start())
            .await
            .unwrap_err(),
    );
    too_short(
        desk.store
            .reset_passphrase(desk.ada, desk.ada, &short())
            .await
            .unwrap_err(),
    );
    assert_eq!(desk.store.users().await.unwrap().len(), 1);
    desk.store
        .sign_in("ada", &passphrase(ADA), start())
        .await
        .unwrap();
}
