//! Users and roles.

use jiff::civil::date;
use records::{CaseId, Error, NewUser, Roles, UserId};

use crate::common::{
    ADA, BEN, Desk, Engine, draft, later, new_case, new_user, passphrase, personal, reading, start,
    summary,
};

pub(crate) async fn a_user_is_added_and_signs_in(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let ben = new_user("Ben", Roles::PRACTITIONER);
    let id = desk
        .store
        .add_user(desk.ada, &ben, Some(&passphrase(BEN)), later(1))
        .await
        .unwrap();
    let case = desk
        .store
        .open_case(id, new_case("fenwick-1951"), later(2))
        .await
        .unwrap();
    desk.store
        .append(case, id, draft("note", "by Ben"), later(3))
        .await
        .unwrap();
    desk.store.close().await;
    // Either passphrase alone opens the whole record.
    let locked = desk.engine.open().await.unwrap();
    let (store, user) = locked
        .unlock("ben", &passphrase(BEN), later(4))
        .await
        .unwrap();
    assert_eq!(
        (user.id, user.roles, user.sign_in.as_str()),
        (id, Roles::PRACTITIONER, "ben")
    );
    let entries = store.entries(case, &reading(id)).await.unwrap();
    assert_eq!(entries[0].author, id);
    let names: Vec<String> = store
        .users()
        .await
        .unwrap()
        .into_iter()
        .map(|user| user.sign_in)
        .collect();
    assert_eq!(names, ["ada", "ben"]);
    assert!(matches!(
        store.user(UserId::generate(start()).unwrap()).await,
        Err(Error::NoSuchUser)
    ));
}

pub(crate) async fn a_removed_user_can_do_nothing_more(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let ben = new_user("ben", Roles::LEAD);
    let id = desk
        .store
        .add_user(desk.ada, &ben, Some(&passphrase(BEN)), later(1))
        .await
        .unwrap();
    let case = desk
        .store
        .open_case(id, new_case("fenwick-1951"), later(2))
        .await
        .unwrap();
    desk.store
        .append(case, id, draft("note", "by Ben"), later(3))
        .await
        .unwrap();
    desk.store
        .remove_user(desk.ada, id, later(4))
        .await
        .unwrap();
    let gone = |error: Error| assert!(matches!(error, Error::NoSuchUser), "{error}");
    gone(
        desk.store
            .append(case, id, draft("note", "more"), later(5))
            .await
            .unwrap_err(),
    );
    gone(desk.store.entries(case, &reading(id)).await.unwrap_err());
    gone(
        desk.store
            .create_session(id, later(5), later(99))
            .await
            .unwrap_err(),
    );
    gone(
        desk.store
            .reset_passphrase(desk.ada, id, &passphrase(BEN))
            .await
            .unwrap_err(),
    );
    gone(
        desk.store
            .remove_user(desk.ada, id, later(5))
            .await
            .unwrap_err(),
    );
    assert!(
        desk.store
            .sign_in("ben", &passphrase(BEN), later(5))
            .await
            .is_err()
    );
    // The name stays under the entries and can be given to somebody new, who is another user.
    assert_eq!(desk.store.user(id).await.unwrap().removed, Some(later(4)));
    assert_eq!(
        desk.store.entries(case, &desk.reading()).await.unwrap()[0].author,
        id
    );
    let again = desk
        .store
        .add_user(desk.ada, &ben, None, later(6))
        .await
        .unwrap();
    assert_ne!(again, id);
}

pub(crate) async fn the_last_administrator_stays(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let last = |error: Error| assert!(matches!(error, Error::LastAdministrator), "{error}");
    last(
        desk.store
            .remove_user(desk.ada, desk.ada, later(1))
            .await
            .unwrap_err(),
    );
    last(
        desk.store
            .set_roles(desk.ada, desk.ada, Roles::LEAD)
            .await
            .unwrap_err(),
    );
    let ben = new_user("ben", Roles::ADMINISTRATOR);
    let id = desk
        .store
        .add_user(desk.ada, &ben, None, later(1))
        .await
        .unwrap();
    desk.store
        .set_roles(desk.ada, desk.ada, Roles::LEAD)
        .await
        .unwrap();
    last(desk.store.remove_user(id, id, later(2)).await.unwrap_err());
    desk.store
        .remove_user(id, desk.ada, later(2))
        .await
        .unwrap();
}

pub(crate) async fn names_of_users_are_checked(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let add = async |user: NewUser| desk.store.add_user(desk.ada, &user, None, start()).await;
    let refused = add(new_user(" ADA", Roles::LEAD)).await.unwrap_err();
    assert!(
        matches!(&refused, Error::SignInTaken { sign_in } if sign_in == "ada"),
        "{refused}"
    );
    let nobody = Roles {
        practitioner: false,
        lead: false,
        administrator: false,
    };
    for user in [
        new_user("  ", Roles::LEAD),
        new_user("b\nen", Roles::LEAD),
        new_user("ben", nobody),
    ] {
        assert!(matches!(add(user).await, Err(Error::Unsuitable { .. })));
    }
    let nameless = NewUser {
        full_name: " ".to_owned(),
        ..new_user("ben", Roles::LEAD)
    };
    assert!(matches!(add(nameless).await, Err(Error::Unsuitable { .. })));
    assert!(matches!(
        desk.store.set_roles(desk.ada, desk.ada, nobody).await,
        Err(Error::Unsuitable { .. })
    ));
}

/// What the contract says of each action: who may do it, by role.
const RULES: [(&str, Roles); 16] = [
    ("open a case", CARERS),
    ("append", CARERS),
    ("read entries", CARERS),
    ("read every case", CARERS),
    ("list", CARERS),
    ("look at one", CARERS),
    ("find", CARERS),
    ("reference", CARERS),
    ("replace summary", CARERS),
    (
        "append to service",
        Roles {
            practitioner: false,
            lead: true,
            administrator: true,
        },
    ),
    ("read service", Roles::ALL),
    (
        "access log",
        Roles {
            practitioner: false,
            lead: true,
            administrator: true,
        },
    ),
    ("add user", Roles::ADMINISTRATOR),
    ("renew recovery", Roles::ADMINISTRATOR),
    ("reset passphrase", Roles::ADMINISTRATOR),
    ("erase", Roles::LEAD),
];
const CARERS: Roles = Roles {
    practitioner: true,
    lead: true,
    administrator: false,
};

pub(crate) async fn law_roles_allow_what_they_say_and_nothing_else(engine: impl Engine) {
    let desk = Desk::open(engine).await;
    let every_set = (1..8).map(|bits| Roles {
        practitioner: bits & 1 != 0,
        lead: bits & 2 != 0,
        administrator: bits & 4 != 0,
    });
    for (number, roles) in every_set.enumerate() {
        let user = new_user(&format!("user-{number}"), roles);
        let by = desk
            .store
            .add_user(desk.ada, &user, None, start())
            .await
            .unwrap();
        for (action, allowed) in RULES {
            let case = desk.case(&format!("{number} {action}")).await;
            let expected = (roles.practitioner && allowed.practitioner)
                || (roles.lead && allowed.lead)
                || (roles.administrator && allowed.administrator);
            match attempt(&desk, by, case, action).await {
                Ok(()) => assert!(expected, "{roles:?} may {action}"),
                Err(error) => assert!(
                    !expected && matches!(error, Error::NotAllowed { .. }),
                    "{roles:?} {action}: {error}"
                ),
            }
        }
    }
    desk.store
        .sign_in("ada", &passphrase(ADA), start())
        .await
        .unwrap();
}

async fn attempt<E: Engine>(
    desk: &Desk<E>,
    by: UserId,
    case: CaseId,
    action: &str,
) -> Result<(), Error> {
    let store = &desk.store;
    let unique = format!("{by} {action}");
    match action {
        "open a case" => store
            .open_case(by, new_case(&unique), start())
            .await
            .map(drop),
        "append" => store
            .append(case, by, draft("note", ""), start())
            .await
            .map(drop),
        "read entries" => store.entries(case, &reading(by)).await.map(drop),
        "read every case" => store.read_every_case(&reading(by), |_, _| true).await,
        "list" => store.list_cases(by, &Default::default()).await.map(drop),
        "look at one" => store.case(by, case).await.map(drop),
        "find" => store.find_case(by, "fenwick-1951").await.map(drop),
        "reference" => store.reference(by, case).await.map(drop),
        "replace summary" => {
            store
                .replace_summary(by, case, 0, &summary("paused"), &personal("A"))
                .await
        }
        "append to service" => store
            .append(CaseId::SERVICE, by, draft("settings", ""), start())
            .await
            .map(drop),
        "read service" => store.service_entries(by).await.map(drop),
        "access log" => store.access_log(by, &Default::default()).await.map(drop),
        "add user" => store
            .add_user(by, &new_user(&unique, Roles::LEAD), None, start())
            .await
            .map(drop),
        "renew recovery" => store.renew_recovery(by).await.map(drop),
        "reset passphrase" => store.reset_passphrase(by, by, &passphrase(BEN)).await,
        "erase" => store
            .erase_case(by, case, date(2026, 12, 1).at(9, 0, 0, 0), start())
            .await
            .map(drop),
        other => panic!("{other} is not tried"),
    }
}
