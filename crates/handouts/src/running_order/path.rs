//! The unwell path as a page walks it.

use std::collections::BTreeMap;

/// Whom a screen of the unwell path asks to telephone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Call {
    /// The emergency number.
    Emergency,
    /// The team, with the emergency number beside it.
    Team,
}

/// What pressing a choice does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Next {
    /// To another node.
    Node(String),
    /// Back to the session, on the easier way.
    BackEased,
    /// The pressing was a mistake: back to where it came from.
    Back,
    /// To the end: no exercise until the team has spoken to them.
    Afterwards,
}

/// One choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Words on it.
    pub label: String,
    /// What it does.
    pub next: Next,
    /// Whether it can be pressed only when the wait of the node is over.
    pub after_wait: bool,
}

/// One sign among several that can be ticked together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tick {
    /// Id of its own branch.
    pub id: &'static str,
    /// Words on it.
    pub label: String,
    /// Word for the diary.
    pub symptom: Option<String>,
}

/// Where ticked signs lead; the first that fits is taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Together {
    /// Signs that must all be ticked.
    pub needs: Vec<&'static str>,
    /// How many must be ticked at least.
    pub least: u8,
    /// The node.
    pub next: String,
}

/// One screen of the unwell path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// Its heading.
    pub head: String,
    /// What to do.
    pub lines: Vec<String>,
    /// Whom to call.
    pub call: Call,
    /// Wait in ms; 0 is none.
    pub wait_ms: u32,
    /// A question over the choices; may be empty.
    pub question: String,
    /// The choices; with ticks none.
    pub choices: Vec<Choice>,
    /// Signs that can be ticked together.
    pub ticks: Vec<Tick>,
    /// Where they lead.
    pub together: Vec<Together>,
    /// Word for the diary: what is felt, as far as it is known here.
    pub symptom: Option<String>,
    /// Whether reaching it closes the page until the team has spoken to the person.
    pub lock: bool,
    /// Whether using the nitrate stands behind reaching this node's choices.
    pub nitrate: bool,
}

/// The unwell path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unwell {
    /// Id of the first node.
    pub first: String,
    /// Nodes by id.
    pub nodes: BTreeMap<String, Node>,
    /// What stands at the end, whatever happened.
    pub after: Vec<String>,
}
