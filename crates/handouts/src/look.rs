//! The look: style sheets and faces that page, print and the practitioner's pages share.

use crate::base64;

/// Colours, type, space, dark room, print greys, focus.
pub const TOKENS: &str = include_str!("../look/tokens.css");

/// Classes of profile, thread, mark and figure.
pub const DRAWINGS: &str = concat!(
    include_str!("../look/drawings.css"),
    include_str!("../look/figure.css")
);

/// Classes of the figure alone.
pub(crate) const FIGURE: &str = include_str!("../look/figure.css");

/// Noto Sans 400, subset, as woff2.
pub const REGULAR: &[u8] = include_bytes!("../fonts/NotoSans-Regular.woff2");

/// Noto Sans 700, subset, as woff2.
pub const BOLD: &[u8] = include_bytes!("../fonts/NotoSans-Bold.woff2");

/// Both faces as `@font-face` rules with the files inside.
pub fn faces() -> String {
    let face = |weight: u16, file: &[u8]| {
        format!(
            "@font-face{{font-family:\"Noto Sans\";font-style:normal;font-weight:{weight};font-display:swap;src:url(data:font/woff2;base64,{}) format(\"woff2\")}}\n",
            base64::encode(file)
        )
    };
    face(400, REGULAR) + &face(700, BOLD)
}

/// A style sheet without its comments and indents, for a page that travels.
pub fn plain(style: &str) -> String {
    let mut out = String::with_capacity(style.len());
    let mut rest = style;
    while let Some(open) = rest.find("/*") {
        out.push_str(&rest[..open]);
        rest = rest[open..].split_once("*/").map_or("", |parts| parts.1);
    }
    out.push_str(rest);
    out.lines()
        .map(str::trim)
        .filter(|line| !line.is_empty())
        .collect::<Vec<_>>()
        .join("\n")
}
