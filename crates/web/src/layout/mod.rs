//! The shell of every page: head, spine, and the few parts a page is made of.

mod because;
mod field;
mod heard;
mod hills;
mod ring;
mod row;
mod sources;

pub(crate) use because::{because, reasons, source, why};
pub(crate) use field::{Field, field};
pub(crate) use heard::heard;
pub(crate) use hills::hills;
pub(crate) use ring::{State, ring};
pub(crate) use row::row;

use crate::casefile::CaseFile;
use crate::guard::Signed;
use handouts::thread::MARK;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Which word of the head is where we are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Nav {
    /// Today.
    Today,
    /// People.
    People,
    /// What waits for a signature.
    ForYourName,
    /// The service's settings.
    Service,
    /// None of them.
    None,
}

const WORDS: [(Nav, &str, &str); 4] = [
    (Nav::Today, "/", "Today"),
    (Nav::People, "/people", "People"),
    (Nav::ForYourName, "/for-your-name", "For your name"),
    (Nav::Service, "/service", "Service"),
];

/// A page for somebody who is signed in. `body` brings its own heading (`h1.title`).
pub(crate) fn page(signed: &Signed, title: &str, nav: Nav, body: &Markup) -> Markup {
    let who = html! {
        span.who { (signed.user.full_name) }
        @if !signed.app.is_demonstration() {
            form.inline method="post" action="/lock" { button.lock { "Lock" } }
            form.inline method="post" action="/sign-out" { button.lock { "Sign out" } }
        }
    };
    let notice = signed.app.is_demonstration().then(|| {
        html! { p.notice role="note" { "A demonstration: everybody here is invented, and nothing is kept when it ends." } }
    });
    let head = Head {
        who: &who,
        for_a_name: signed.app.for_a_name().filter(|count| *count > 0),
    };
    shell(
        title,
        nav,
        Some(&head),
        &html! { @if let Some(notice) = notice { (notice) } (body) },
    )
}

/// A page of one person: their name and year of birth stand above the heading, so that two cases are not confused.
pub(crate) fn case_page(
    signed: &Signed,
    file: &CaseFile,
    title: &str,
    nav: Nav,
    body: &Markup,
) -> Markup {
    let person = &file.course.case.person;
    let name = person.name.as_deref().unwrap_or("Name not known");
    let born = person
        .born
        .map_or("year of birth not known".to_owned(), |born| {
            format!("born {}", born.year())
        });
    let whose = html! { p.whose { (name) ", " (born) } };
    let body = html! { (row(&html! {}, &whose, &html! {})) (body) };
    page(signed, title, nav, &body)
}

/// A page for anybody: sign-in, errors.
pub(crate) fn plain_page(title: &str, nav: Nav, body: &Markup) -> Markup {
    shell(
        title,
        nav,
        None,
        &html! { (row(&html! {}, &html! { h1.title { (title) } (body) }, &html! {})) },
    )
}

/// What the head says to somebody who is signed in.
struct Head<'a> {
    who: &'a Markup,
    /// Pages that wait for a name, where that is known.
    for_a_name: Option<usize>,
}

fn shell(title: &str, nav: Nav, head: Option<&Head<'_>>, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="referrer" content="no-referrer";
                title { (title) " - Hearthpace" }
                link rel="stylesheet" href="/static/hearthpace.css";
                link rel="icon" href="data:,";
                script src="/static/hearthpace.js" defer {}
            }
            body {
                a.skip href="#main" { "Skip to the page" }
                header.head {
                    a.mark href="/" { (PreEscaped(MARK)) span { "Hearthpace" } }
                    @if let Some(head) = head {
                        nav aria-label="Main" {
                            @for (one, address, word) in WORDS {
                                a href=(address) aria-current=[(one == nav).then_some("page")] {
                                    (word)
                                    @if let (Nav::ForYourName, Some(count)) = (one, head.for_a_name) { " (" (count) ")" }
                                }
                            }
                        }
                        (head.who)
                    }
                }
                main.page id="main" { (body) }
                footer.foot {
                    p { "Decision support for trained staff; not a certified medical device. Local protocol and the treating doctor come first." }
                }
            }
        }
    }
}
