//! A row of the spine.

use maud::{Markup, html};

/// Gutter (when, where, which link), text, margin (because, last time, last heard).
pub(crate) fn row(gutter: &Markup, text: &Markup, margin: &Markup) -> Markup {
    html! {
        div.row {
            div.gut { (gutter) }
            div.txt { (text) }
            div.mar { (margin) }
        }
    }
}
