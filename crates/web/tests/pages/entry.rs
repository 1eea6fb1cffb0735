//! Setting up, signing in, locking, and what every answer carries.

use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, Method, Request, StatusCode, header};
use http_body_util::BodyExt as _;
use tower::ServiceExt as _;
use web::{App, Clock};

const PASSPHRASE: &str = "four plain words here";

struct Answer {
    status: StatusCode,
    headers: HeaderMap,
    text: String,
}

impl Answer {
    fn cookie(&self) -> &str {
        self.headers[header::SET_COOKIE].to_str().unwrap()
    }

    fn to(&self) -> &str {
        self.headers[header::LOCATION].to_str().unwrap()
    }
}

async fn ask(pages: &Router, method: Method, address: &str, cookie: &str, body: &str) -> Answer {
    let request = Request::builder()
        .method(method)
        .uri(address)
        .header(header::HOST, "localhost:7400")
        .header("sec-fetch-site", "same-origin")
        .header(header::COOKIE, cookie)
        .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
        .body(Body::from(body.to_owned()))
        .unwrap();
    let response = pages.clone().oneshot(request).await.unwrap();
    let (parts, body) = response.into_parts();
    let bytes = body.collect().await.unwrap().to_bytes();
    Answer {
        status: parts.status,
        headers: parts.headers,
        text: String::from_utf8_lossy(&bytes).into_owned(),
    }
}

fn set_up_body(passphrase: &str, again: &str) -> String {
    let plain = |text: &str| text.replace(' ', "+");
    format!(
        "service=Ellerdale&full_name=Josie+Marwood,+lead&sign_in=josie&passphrase={}&again={}",
        plain(passphrase),
        plain(again)
    )
}

#[tokio::test]
async fn a_new_record_is_set_up_signed_in_locked_and_left() {
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().join("record");
    let pages = web::router(App::new_record(folder.clone(), Clock::Real).unwrap());
    let (get, post) = (Method::GET, Method::POST);
    assert_eq!(ask(&pages, get.clone(), "/", "", "").await.to(), "/sign-in");
    assert_eq!(
        ask(&pages, get.clone(), "/sign-in", "", "").await.to(),
        "/set-up"
    );

    for (body, why) in [
        (set_up_body("short", "short"), "too few"),
        (set_up_body(PASSPHRASE, "something else"), "not the same"),
        ("service=&full_name=&sign_in=".to_owned(), "no name yet"),
        (
            format!("{}&service=Another", set_up_body(PASSPHRASE, PASSPHRASE)),
            "came twice",
        ),
    ] {
        let refused = ask(&pages, post.clone(), "/set-up", "", &body).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(refused.text.contains(why), "{}", refused.text);
        assert!(
            !refused.text.contains(PASSPHRASE),
            "a passphrase is never sent back"
        );
        assert!(!folder.join("hearthpace.sqlite").exists());
    }

    let made = ask(
        &pages,
        post.clone(),
        "/set-up",
        "",
        &set_up_body(PASSPHRASE, PASSPHRASE),
    )
    .await;
    assert_eq!(made.status, StatusCode::OK, "{}", made.text);
    assert!(made.text.contains("class=\"recovery\""));
    assert_eq!(
        ask(&pages, get.clone(), "/set-up", "", "").await.to(),
        "/sign-in",
        "shown once"
    );

    let sign_in = |name: &str, passphrase: &str| {
        format!("name={name}&passphrase={}", passphrase.replace(' ', "+"))
    };
    let wrong = ask(
        &pages,
        post.clone(),
        "/sign-in",
        "",
        &sign_in("josie", "wrong words all along"),
    )
    .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        wrong.text.contains("Name or passphrase is wrong")
            && wrong.text.contains("value=\"josie\"")
    );
    let signed = ask(
        &pages,
        post.clone(),
        "/sign-in",
        "",
        &sign_in("josie", PASSPHRASE),
    )
    .await;
    assert_eq!(signed.status, StatusCode::SEE_OTHER, "{}", signed.text);
    assert!(signed.cookie().contains("HttpOnly") && signed.cookie().contains("SameSite=Strict"));
    let cookie = signed.cookie().split(';').next().unwrap().to_owned();
    let today = ask(&pages, get.clone(), "/", &cookie, "").await;
    assert!(
        today.text.contains("Josie Marwood, lead")
            && today.text.contains("Nobody is in the record yet")
    );
    assert!(
        ask(&pages, get.clone(), "/service", &cookie, "")
            .await
            .text
            .contains("Ellerdale")
    );

    assert_eq!(
        ask(&pages, post.clone(), "/lock", &cookie, "").await.to(),
        "/locked"
    );
    assert_eq!(
        ask(&pages, get.clone(), "/people", &cookie, "").await.to(),
        "/locked"
    );
    let wrong = ask(
        &pages,
        post.clone(),
        "/unlock",
        &cookie,
        "passphrase=not+the+words+at+all",
    )
    .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    let opened = ask(
        &pages,
        post.clone(),
        "/unlock",
        &cookie,
        &format!("passphrase={}", PASSPHRASE.replace(' ', "+")),
    )
    .await;
    assert_eq!(opened.to(), "/", "{}", opened.text);
    assert_eq!(
        ask(&pages, get.clone(), "/people", &cookie, "")
            .await
            .status,
        StatusCode::OK
    );

    ask(&pages, post.clone(), "/sign-out", &cookie, "").await;
    assert_eq!(
        ask(&pages, get.clone(), "/people", &cookie, "").await.to(),
        "/sign-in"
    );
    let typed = ask(&pages, post, "/people/new", &cookie, "person.name=Orla").await;
    assert_eq!(typed.status, StatusCode::UNAUTHORIZED);
    assert!(
        typed.text.contains("sent once more"),
        "a form is not lost by a redirect"
    );
}

#[tokio::test]
async fn every_answer_carries_its_rules_and_strangers_are_not_answered() {
    let house = crate::fixture::house().await;
    let answer = ask(&house.pages, Method::GET, "/", "", "").await;
    let policy = answer.headers[header::CONTENT_SECURITY_POLICY]
        .to_str()
        .unwrap();
    for part in [
        "default-src 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
        "form-action 'self'",
    ] {
        assert!(policy.contains(part), "{policy}");
    }
    assert!(!policy.contains("unsafe"));
    assert_eq!(answer.headers[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
    assert_eq!(answer.headers[header::CACHE_CONTROL], "no-store");
    assert!(
        !answer.text.contains("style=\"") && !answer.text.contains("<script>"),
        "nothing that the policy forbids"
    );

    let asked = |host: &'static str, site: &'static str, method: Method| {
        let pages = house.pages.clone();
        async move {
            let request = Request::builder()
                .method(method)
                .uri("/people/new")
                .header(header::HOST, host)
                .header("sec-fetch-site", site)
                .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
                .body(Body::empty())
                .unwrap();
            pages.oneshot(request).await.unwrap().status()
        }
    };
    assert_eq!(
        asked("elsewhere.example", "same-origin", Method::GET).await,
        StatusCode::MISDIRECTED_REQUEST
    );
    assert_eq!(
        asked("localhost.elsewhere.example", "same-origin", Method::GET).await,
        StatusCode::MISDIRECTED_REQUEST
    );
    assert_eq!(
        asked("127.0.0.1:9", "same-origin", Method::GET).await,
        StatusCode::OK
    );
    assert_eq!(
        asked("localhost", "cross-site", Method::POST).await,
        StatusCode::FORBIDDEN
    );
    assert_eq!(
        asked("localhost", "same-origin", Method::POST).await,
        StatusCode::SEE_OTHER
    );
}

#[tokio::test]
async fn for_your_name_lists_what_can_be_signed_and_what_waits() {
    let house = crate::fixture::house().await;
    let empty = house.get("/for-your-name").await;
    assert!(empty.text.contains("Nothing waits for your name"));
    let mut ready = crate::fixture::fenwick();
    ready.nitrate.in_date = Some(true);
    house.write(ready, Vec::new()).await;
    house
        .write(
            crate::fixture::somebody("dar-1948", "Shirin Dar", "Mrs Dar"),
            Vec::new(),
        )
        .await;
    let page = house.get("/for-your-name").await;
    let waiting = page.text.find("Waiting for an answer first").unwrap();
    assert!(
        page.text.find("Mrs Fenwick").unwrap() < waiting,
        "{}",
        page.text
    );
    assert!(page.text.find("Mrs Dar").unwrap() > waiting);
}
