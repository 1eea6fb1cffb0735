//! Style, script and faces, carried in the program.

use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use handouts::look;

const PAGE_CSS: &str = include_str!("../assets/page.css");
const CALL_CSS: &str = include_str!("../assets/call.css");
const SCRIPT: &str = include_str!("../assets/hearthpace.js");

const FACES: &str = "@font-face{font-family:\"Noto Sans\";font-weight:400;font-display:swap;src:url(/static/regular.woff2) format(\"woff2\")}\n@font-face{font-family:\"Noto Sans\";font-weight:700;font-display:swap;src:url(/static/bold.woff2) format(\"woff2\")}\n";

fn carried(kind: &'static str, body: impl IntoResponse) -> Response {
    (
        [(CONTENT_TYPE, kind), (CACHE_CONTROL, "public, max-age=600")],
        body,
    )
        .into_response()
}

pub(crate) async fn style() -> Response {
    let all = [FACES, look::TOKENS, look::DRAWINGS, PAGE_CSS, CALL_CSS].concat();
    carried("text/css; charset=utf-8", all)
}

pub(crate) async fn script() -> Response {
    carried("text/javascript; charset=utf-8", SCRIPT)
}

pub(crate) async fn regular() -> Response {
    carried("font/woff2", look::REGULAR)
}

pub(crate) async fn bold() -> Response {
    carried("font/woff2", look::BOLD)
}
