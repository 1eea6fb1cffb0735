//! One rule or equation as an item that can be listed, read and evaluated by itself.

use super::{Because, Finding, RuleId, SourceId, Tag, Value, Weight};
use std::collections::BTreeMap;

/// A rule or equation with its statement, its sources and a way to evaluate it.
///
/// Every module of this crate that holds rules has a `RULES` table of these; the list for the manual and for
/// the command `rules` is made from them, so a rule cannot exist in the program and not in the list.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// Id, `group/name`.
    pub id: RuleId,
    /// Name in a few words.
    pub name: &'static str,
    /// What it says, in one or two sentences with units and limits of validity.
    pub statement: &'static str,
    /// Where it comes from; empty only for common practice without a source.
    pub sources: &'static [SourceId],
    /// How well its weakest number is known.
    pub tag: Tag,
    /// What it takes.
    pub inputs: &'static [Input],
    /// Evaluates it on named values.
    pub evaluate: fn(&Values) -> Result<Answer, RuleError>,
}

impl Rule {
    /// A finding of this rule; its sources and tag come with it.
    pub fn finding(&self, weight: Weight, text: impl Into<String>) -> Finding {
        Finding {
            rule: self.id,
            weight,
            text: text.into(),
            values: Vec::new(),
            sources: self.sources.to_vec(),
            tag: self.tag,
            ask: None,
        }
    }

    /// A reason of this rule for one value; its sources and tag come with it.
    pub fn because(&self, value: Value, text: impl Into<String>) -> Because {
        Because {
            rule: self.id,
            text: text.into(),
            value,
            working: None,
            inputs: Vec::new(),
            sources: self.sources.to_vec(),
            tag: self.tag,
            assumed: Vec::new(),
            unsure: None,
            changes_with: None,
        }
    }
}

/// One input of a rule.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// Name as given on the command line, unit included.
    pub name: &'static str,
    /// What it is.
    pub kind: InputKind,
    /// Whether the rule answers without it.
    pub optional: bool,
}

/// What an input may be.
#[derive(Clone, Copy, Debug)]
pub enum InputKind {
    /// A number with unit and bounds.
    Number {
        /// Unit in words.
        unit: &'static str,
        /// Least value taken.
        low: f64,
        /// Greatest value taken.
        high: f64,
    },
    /// Numbers separated by commas, each within the bounds.
    Numbers {
        /// Unit in words.
        unit: &'static str,
        /// Least value taken.
        low: f64,
        /// Greatest value taken.
        high: f64,
        /// Whether there may be none, said with the word `none` or with nothing at all.
        none: bool,
    },
    /// One of a list of words.
    Choice(&'static [&'static str]),
    /// `yes` or `no`.
    Flag,
    /// Free words, for example the name of a medicine.
    Text,
    /// A day, written 2026-11-25.
    Date,
}

impl Input {
    /// A number that must be given.
    pub const fn number(name: &'static str, unit: &'static str, low: f64, high: f64) -> Self {
        Self {
            name,
            kind: InputKind::Number { unit, low, high },
            optional: false,
        }
    }

    /// Numbers separated by commas that must be given.
    pub const fn numbers(name: &'static str, unit: &'static str, low: f64, high: f64) -> Self {
        Self {
            name,
            kind: InputKind::Numbers {
                unit,
                low,
                high,
                none: false,
            },
            optional: false,
        }
    }

    /// Numbers separated by commas, or the word that there are none.
    pub const fn numbers_or_none(
        name: &'static str,
        unit: &'static str,
        low: f64,
        high: f64,
    ) -> Self {
        Self {
            name,
            kind: InputKind::Numbers {
                unit,
                low,
                high,
                none: true,
            },
            optional: false,
        }
    }

    /// One of a list of words that must be given.
    pub const fn choice(name: &'static str, words: &'static [&'static str]) -> Self {
        Self {
            name,
            kind: InputKind::Choice(words),
            optional: false,
        }
    }

    /// A yes or no that must be given.
    pub const fn flag(name: &'static str) -> Self {
        Self {
            name,
            kind: InputKind::Flag,
            optional: false,
        }
    }

    /// Free words that must be given.
    pub const fn text(name: &'static str) -> Self {
        Self {
            name,
            kind: InputKind::Text,
            optional: false,
        }
    }

    /// The same input, not needed.
    pub const fn or_none(mut self) -> Self {
        self.optional = true;
        self
    }
}

/// The answer of a rule evaluated by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// The value.
    pub value: Value,
    /// The working with the numbers filled in.
    pub working: String,
    /// What to keep in mind: outside the validated range, not for one person, and so on.
    pub cautions: Vec<String>,
}

impl Answer {
    /// A value with its working and nothing to keep in mind.
    pub fn new(value: Value, working: impl Into<String>) -> Self {
        Self {
            value,
            working: working.into(),
            cautions: Vec::new(),
        }
    }

    /// The same answer with one more thing to keep in mind.
    #[must_use]
    pub fn keep_in_mind(mut self, caution: impl Into<String>) -> Self {
        self.cautions.push(caution.into());
        self
    }
}

/// Why a rule gave no answer.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleError {
    /// What, why and what to do.
    pub message: String,
}

impl core::fmt::Display for RuleError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(&self.message)
    }
}

impl core::error::Error for RuleError {}

/// Named values given to a rule, checked against its inputs.
#[derive(Clone, Debug, Default)]
pub struct Values {
    given: BTreeMap<&'static str, String>,
}

impl Values {
    /// Checks `NAME=VALUE` pairs against the inputs of a rule.
    ///
    /// # Errors
    /// A name the rule does not know, a missing input, a value of the wrong kind or outside its bounds.
    pub fn check(rule: &Rule, pairs: &[(String, String)]) -> Result<Self, RuleError> {
        let mut given = BTreeMap::new();
        for (name, text) in pairs {
            let input = rule.inputs.iter().find(|input| input.name == name);
            let input = input.ok_or_else(|| RuleError {
                message: format!(
                    "{} has no input '{name}'; it takes {}",
                    rule.id,
                    names(rule.inputs)
                ),
            })?;
            check_one(input, text)?;
            if given.insert(input.name, text.clone()).is_some() {
                return Err(RuleError {
                    message: format!("'{name}' is given twice; give it once"),
                });
            }
        }
        for input in rule.inputs {
            if !input.optional && !given.contains_key(input.name) {
                return Err(RuleError {
                    message: format!(
                        "{} needs '{}'; add {}=VALUE",
                        rule.id, input.name, input.name
                    ),
                });
            }
        }
        Ok(Self { given })
    }

    /// A number that [`Values::check`] has let through.
    ///
    /// # Errors
    /// When the input was optional and not given.
    pub fn number(&self, name: &'static str) -> Result<f64, RuleError> {
        self.optional_number(name).ok_or_else(|| missing(name))
    }

    /// A number that need not be given.
    pub fn optional_number(&self, name: &'static str) -> Option<f64> {
        self.given
            .get(name)
            .and_then(|text| text.trim().parse().ok())
    }

    /// Numbers separated by commas; empty where `none` was given to an input that takes it.
    ///
    /// # Errors
    /// When the input was optional and not given.
    pub fn numbers(&self, name: &'static str) -> Result<Vec<f64>, RuleError> {
        let text = self.given.get(name).ok_or_else(|| missing(name))?;
        if says_none(text) {
            return Ok(Vec::new());
        }
        Ok(text
            .split(',')
            .filter_map(|part| part.trim().parse().ok())
            .collect())
    }

    /// A word or free text.
    ///
    /// # Errors
    /// When the input was optional and not given.
    pub fn text(&self, name: &'static str) -> Result<&str, RuleError> {
        self.optional_text(name).ok_or_else(|| missing(name))
    }

    /// A word or free text that need not be given.
    pub fn optional_text(&self, name: &'static str) -> Option<&str> {
        self.given.get(name).map(String::as_str)
    }

    /// A yes or no.
    ///
    /// # Errors
    /// When the input was optional and not given.
    pub fn flag(&self, name: &'static str) -> Result<bool, RuleError> {
        Ok(self.text(name)? == "yes")
    }
}

fn missing(name: &str) -> RuleError {
    RuleError {
        message: format!("'{name}' is needed here; add {name}=VALUE"),
    }
}

fn names(inputs: &[Input]) -> String {
    let all: Vec<&str> = inputs.iter().map(|input| input.name).collect();
    if all.is_empty() {
        "nothing".to_owned()
    } else {
        all.join(", ")
    }
}

fn check_one(input: &Input, text: &str) -> Result<(), RuleError> {
    let refuse = |why: String| {
        Err(RuleError {
            message: format!("'{}' {why}", input.name),
        })
    };
    match input.kind {
        InputKind::Number { unit, low, high } => check_number(input.name, text, unit, low, high),
        InputKind::Numbers { none: true, .. } if says_none(text) => Ok(()),
        InputKind::Numbers {
            unit, low, high, ..
        } => text
            .split(',')
            .try_for_each(|part| check_number(input.name, part, unit, low, high)),
        InputKind::Choice(words) if !words.contains(&text) => {
            refuse(format!("is '{text}'; it is one of {}", words.join(", ")))
        }
        InputKind::Flag if text != "yes" && text != "no" => {
            refuse(format!("is '{text}'; write yes or no"))
        }
        InputKind::Date if text.parse::<jiff::civil::Date>().is_err() => {
            refuse(format!("is '{text}'; write a day as 2026-11-25"))
        }
        InputKind::Text if text.trim().is_empty() => refuse("is empty; write it".to_owned()),
        _ => Ok(()),
    }
}

/// Whether a list of numbers is said to be empty.
fn says_none(text: &str) -> bool {
    ["", "none"].contains(&text.trim())
}

fn check_number(name: &str, text: &str, unit: &str, low: f64, high: f64) -> Result<(), RuleError> {
    match text.trim().parse::<f64>() {
        Ok(value) if value.is_finite() && value >= low && value <= high => Ok(()),
        Ok(value) => Err(RuleError {
            message: format!(
                "'{name}' of {value} {unit} is outside {low} to {high}; read it again"
            ),
        }),
        Err(_) => Err(RuleError {
            message: format!("'{name}' is '{text}', not a number; write it in {unit}"),
        }),
    }
}
