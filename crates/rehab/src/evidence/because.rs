//! Reasons and findings.

use super::{RuleId, SourceId, Tag};
use jiff::civil::Date;

/// A value inside a reason or finding.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number with its unit.
    Number(f64, &'static str),
    /// A number that is a count or a whole bpm, with its unit.
    Whole(i64, &'static str),
    /// A yes or no.
    Flag(bool),
    /// A day.
    Date(Date),
    /// Words.
    Text(String),
}

impl core::fmt::Display for Value {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Value::Number(number, unit) => {
                let rounded = libm::round(number * 1000.0) / 1000.0;
                if unit.is_empty() {
                    write!(f, "{rounded}")
                } else {
                    write!(f, "{rounded} {unit}")
                }
            }
            Value::Whole(number, "") => write!(f, "{number}"),
            Value::Whole(1, unit) => write!(f, "1 {}", of_one(unit)),
            Value::Whole(number, unit) => write!(f, "{number} {unit}"),
            Value::Flag(true) => f.write_str("yes"),
            Value::Flag(false) => f.write_str("no"),
            Value::Date(date) => write!(f, "{date}"),
            Value::Text(text) => f.write_str(text),
        }
    }
}

/// What is counted, where there is one of it.
fn of_one(unit: &'static str) -> &'static str {
    match unit {
        "sessions" => "session",
        "ways" => "way",
        "criteria" => "criterion",
        unit => unit,
    }
}

/// A value with its name.
#[derive(Clone, Debug, PartialEq)]
pub struct Named {
    /// Name as in the rule's inputs.
    pub name: &'static str,
    /// The value.
    pub value: Value,
}

impl Named {
    /// A number with its unit.
    pub const fn number(name: &'static str, value: f64, unit: &'static str) -> Self {
        Self {
            name,
            value: Value::Number(value, unit),
        }
    }

    /// A whole number with its unit.
    pub const fn whole(name: &'static str, value: i64, unit: &'static str) -> Self {
        Self {
            name,
            value: Value::Whole(value, unit),
        }
    }

    /// Words.
    pub fn text(name: &'static str, value: impl Into<String>) -> Self {
        Self {
            name,
            value: Value::Text(value.into()),
        }
    }

    /// A day.
    pub const fn date(name: &'static str, value: Date) -> Self {
        Self {
            name,
            value: Value::Date(value),
        }
    }

    /// A yes or no.
    pub const fn flag(name: &'static str, value: bool) -> Self {
        Self {
            name,
            value: Value::Flag(value),
        }
    }
}

/// Why a number is what it is: the explanation that opens beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct Because {
    /// The rule or equation that made it.
    pub rule: RuleId,
    /// One sentence for the practitioner.
    pub text: String,
    /// The value it explains.
    pub value: Value,
    /// The working, for example `164 - 0.7 x 75 = 111.5`.
    pub working: Option<String>,
    /// What went in.
    pub inputs: Vec<Named>,
    /// Where rule and numbers come from.
    pub sources: Vec<SourceId>,
    /// How well the weakest number in it is known.
    pub tag: Tag,
    /// What was assumed.
    pub assumed: Vec<String>,
    /// How uncertain it is, in words with numbers.
    pub unsure: Option<String>,
    /// What would change it.
    pub changes_with: Option<String>,
}

closed_words!(
    /// What a finding does.
    Weight as "weight of a finding" {
        NotAtHome = "not-at-home",
        NotToday = "not-today",
        BlocksSigning = "blocks-signing",
        Caution = "caution",
        Adapt = "adapt",
        FindOut = "find-out",
        Note = "note",
    }
);

/// Something the program noticed: a rule id, named values and the sentence that stands with the rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule that spoke.
    pub rule: RuleId,
    /// What it does.
    pub weight: Weight,
    /// The English statement with its values filled in.
    pub text: String,
    /// The values.
    pub values: Vec<Named>,
    /// Where the rule comes from.
    pub sources: Vec<SourceId>,
    /// How well its number is known.
    pub tag: Tag,
    /// For something to find out: from whom, and what waits for it.
    pub ask: Option<Ask>,
}

/// A question still open: from whom, and what it blocks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ask {
    /// Who knows: "the patient", "the doctor", "measure it at the visit" ...
    pub whom: String,
    /// What waits for the answer; empty when nothing does.
    pub blocks: String,
}

impl Finding {
    /// With one more named value.
    #[must_use]
    pub fn with(mut self, value: Named) -> Self {
        self.values.push(value);
        self
    }

    /// With whom to ask and what waits for the answer.
    #[must_use]
    pub fn asking(mut self, whom: impl Into<String>, blocks: impl Into<String>) -> Self {
        self.ask = Some(Ask {
            whom: whom.into(),
            blocks: blocks.into(),
        });
        self
    }

    /// With the source and tag of the number that spoke, where a table gives each row its own.
    #[must_use]
    pub fn from_source(mut self, source: SourceId, tag: Tag) -> Self {
        self.sources = vec![source];
        self.tag = tag;
        self
    }
}

impl Because {
    /// With the working, numbers filled in.
    #[must_use]
    pub fn working(mut self, working: impl Into<String>) -> Self {
        self.working = Some(working.into());
        self
    }

    /// With one more input.
    #[must_use]
    pub fn with(mut self, input: Named) -> Self {
        self.inputs.push(input);
        self
    }

    /// With one more source, which may make the weakest tag weaker.
    #[must_use]
    pub fn also_from(mut self, sources: &[SourceId], tag: Tag) -> Self {
        for source in sources {
            if !self.sources.contains(source) {
                self.sources.push(*source);
            }
        }
        self.tag = self.tag.max(tag);
        self
    }

    /// With something assumed.
    #[must_use]
    pub fn assuming(mut self, what: impl Into<String>) -> Self {
        self.assumed.push(what.into());
        self
    }

    /// With how uncertain it is.
    #[must_use]
    pub fn unsure(mut self, how: impl Into<String>) -> Self {
        self.unsure = Some(how.into());
        self
    }

    /// With what would change it.
    #[must_use]
    pub fn changes_with(mut self, what: impl Into<String>) -> Self {
        self.changes_with = Some(what.into());
        self
    }
}
