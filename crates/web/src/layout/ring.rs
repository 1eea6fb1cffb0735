//! State as a shape and a word: full ring settled, half provisional, empty to find out.

use maud::{Markup, html};

/// The state of a link of the chain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum State {
    /// Settled.
    Settled,
    /// Provisional: an estimate, or something not known could change it.
    Provisional,
    /// To find out, or still to do.
    Open,
}

/// The ring, with its word for a screen reader.
pub(crate) fn ring(state: State) -> Markup {
    let word = match state {
        State::Settled => "settled",
        State::Provisional => "provisional",
        State::Open => "to find out",
    };
    html! {
        svg.st viewBox="0 0 15 15" role="img" aria-label=(word) {
            circle.o cx="7.5" cy="7.5" r="6" {}
            @match state {
                State::Settled => circle.f cx="7.5" cy="7.5" r="6" {},
                State::Provisional => path.f d="M7.5 1.5a6 6 0 0 1 0 12z" {},
                State::Open => {},
            }
        }
    }
}
