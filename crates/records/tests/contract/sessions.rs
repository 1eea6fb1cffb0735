//! Sessions of signed-in browsers.

use records::{Error, Roles, SessionToken};

use crate::common::{ADA, BEN, Desk, Engine, later, new_user, passphrase, start};

pub(crate) async fn a_session_is_found_until_it_ends(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let token = desk
        .store
        .create_session(desk.ada, start(), later(600))
        .await
        .unwrap();
    let other = desk
        .store
        .create_session(desk.ada, start(), later(600))
        .await
        .unwrap();
    assert_ne!(token.as_str(), other.as_str());
    let desk = desk.reopen().await;
    let token = SessionToken::from_cookie(token.as_str());
    let session = desk
        .store
        .find_session(&token, later(599))
        .await
        .unwrap()
        .unwrap();
    assert_eq!(
        (
            session.user.id,
            session.created,
            session.expires,
            session.locked
        ),
        (desk.ada, start(), later(600), false)
    );
    assert_eq!(
        desk.store.find_session(&token, later(600)).await.unwrap(),
        None
    );
    assert!(
        desk.store
            .prolong_session(&token, later(500), later(1200))
            .await
            .unwrap()
    );
    assert!(
        desk.store
            .find_session(&token, later(1199))
            .await
            .unwrap()
            .is_some()
    );
    assert!(
        !desk
            .store
            .prolong_session(&token, later(1200), later(9999))
            .await
            .unwrap()
    );
    desk.store.end_session(&other).await.unwrap();
    assert_eq!(
        desk.store.find_session(&other, later(1)).await.unwrap(),
        None
    );
    for guess in ["", "0", &"0".repeat(64), "' OR 1=1 --"] {
        assert_eq!(
            desk.store
                .find_session(&SessionToken::from_cookie(guess), start())
                .await
                .unwrap(),
            None
        );
    }
    let refused = desk
        .store
        .create_session(desk.ada, start(), start())
        .await
        .unwrap_err();
    assert!(matches!(refused, Error::Unsuitable { .. }), "{refused}");
}

pub(crate) async fn a_locked_session_opens_with_the_passphrase_only(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let ben = new_user("ben", Roles::PRACTITIONER);
    desk.store
        .add_user(desk.ada, &ben, Some(&passphrase(BEN)), start())
        .await
        .unwrap();
    let token = desk
        .store
        .create_session(desk.ada, start(), later(600))
        .await
        .unwrap();
    assert!(desk.store.lock_session(&token, later(1)).await.unwrap());
    let locked = async |at| {
        desk.store
            .find_session(&token, at)
            .await
            .unwrap()
            .unwrap()
            .locked
    };
    assert!(locked(later(2)).await);
    // The passphrase of somebody else does not open it.
    let refused = desk
        .store
        .unlock_session(&token, &passphrase(BEN), later(2))
        .await
        .unwrap_err();
    assert!(
        matches!(refused, Error::WrongPassphrase { .. }),
        "{refused}"
    );
    assert!(locked(later(3)).await);
    let user = desk
        .store
        .unlock_session(&token, &passphrase(ADA), later(4))
        .await
        .unwrap();
    assert_eq!(user.unwrap().id, desk.ada);
    assert!(!locked(later(5)).await);
    assert_eq!(
        desk.store
            .unlock_session(&token, &passphrase(ADA), later(600))
            .await
            .unwrap(),
        None
    );
    assert!(!desk.store.lock_session(&token, later(600)).await.unwrap());
}

pub(crate) async fn sessions_end_with_their_user_and_passphrase(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let ben = new_user("ben", Roles::PRACTITIONER);
    let id = desk
        .store
        .add_user(desk.ada, &ben, Some(&passphrase(BEN)), start())
        .await
        .unwrap();
    let session = async |user| {
        desk.store
            .create_session(user, start(), later(600))
            .await
            .unwrap()
    };
    let found = async |token: &SessionToken| {
        desk.store
            .find_session(token, later(1))
            .await
            .unwrap()
            .is_some()
    };
    let (ada, one, two) = (
        session(desk.ada).await,
        session(id).await,
        session(id).await,
    );
    desk.store.end_sessions_of(id).await.unwrap();
    assert!(!found(&one).await && !found(&two).await && found(&ada).await);
    let three = session(id).await;
    desk.store
        .change_passphrase("ben", &passphrase(BEN), &passphrase(ADA), start())
        .await
        .unwrap();
    assert!(!found(&three).await && found(&ada).await);
    let four = session(id).await;
    desk.store
        .reset_passphrase(desk.ada, id, &passphrase(BEN))
        .await
        .unwrap();
    assert!(!found(&four).await);
    let five = session(id).await;
    desk.store
        .remove_user(desk.ada, id, later(1))
        .await
        .unwrap();
    assert!(!found(&five).await && found(&ada).await);
}

pub(crate) async fn expired_sessions_are_forgotten(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let short = desk
        .store
        .create_session(desk.ada, start(), later(10))
        .await
        .unwrap();
    let long = desk
        .store
        .create_session(desk.ada, start(), later(20))
        .await
        .unwrap();
    desk.store.forget_expired_sessions(later(10)).await.unwrap();
    // Looking back in time shows that it is gone, not only over.
    assert!(
        desk.store
            .find_session(&short, later(9))
            .await
            .unwrap()
            .is_none()
    );
    assert!(
        desk.store
            .find_session(&long, later(9))
            .await
            .unwrap()
            .is_some()
    );
}
