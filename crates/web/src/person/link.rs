//! One link of the chain: its name and day in the gutter, the answer, what explains it, and its reasons.

use crate::layout::{State, ring};
use maud::{Markup, html};

/// A link to be drawn.
pub(super) struct Link<'a> {
    /// Name of the link.
    pub(super) name: &'a str,
    /// When it was settled, in words; may be empty.
    pub(super) when: String,
    /// How settled it is.
    pub(super) state: State,
    /// The answer in one large line.
    pub(super) answer: Markup,
    /// What explains it.
    pub(super) text: Markup,
    /// Reasons.
    pub(super) margin: Markup,
}

/// Draws a link; a wide one runs over the margin.
pub(super) fn link(one: &Link<'_>) -> Markup {
    html! {
        section.row.li id=(one.name.to_lowercase().replace(' ', "-")) {
            div.gut { b { (one.name) } @if !one.when.is_empty() { br; (one.when) } }
            div.txt {
                span.dot { (ring(one.state)) }
                h2.ans { (one.answer) }
                (one.text)
            }
            div.mar { (one.margin) }
        }
    }
}
