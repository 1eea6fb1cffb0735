//! How a result explains itself: sources, rules, reasons and findings.

mod because;
mod rule;

pub use because::{Ask, Because, Finding, Named, Value, Weight};
pub use rule::{Answer, Input, InputKind, Rule, RuleError, Values};

/// Id of an entry in the register of publications under `sources/`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SourceId(pub &'static str);

/// Id of one rule or equation, for example `hr-max/tanaka-2001`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct RuleId(pub &'static str);

impl core::fmt::Display for SourceId {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.0)
    }
}

impl core::fmt::Display for RuleId {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.0)
    }
}

closed_words!(
    /// How well a number is known to us.
    Tag as "tag" {
        Read = "read",
        Recalled = "recalled",
        Ours = "ours",
        CommonPractice = "common practice, no source",
    }
);
