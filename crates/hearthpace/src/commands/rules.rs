//! `rules`: every rule and equation.

use super::Common;
use crate::failure::Failure;
use crate::{output, text};
use rehab::evidence::{Input, InputKind, Rule};
use serde_json::{Value, json};

/// Lists every rule and equation with id, source, tag and inputs.
#[derive(clap::Args, Debug)]
pub(crate) struct Rules {
    /// Only rules whose id, name or statement has this word
    #[arg(value_name = "WORD")]
    word: Option<String>,
}

impl Rules {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let word = self.word.as_deref().unwrap_or_default().to_lowercase();
        let found: Vec<&Rule> = rehab::rules::rules()
            .filter(|rule| has(rule, &word))
            .collect();
        if found.is_empty() {
            return Err(Failure::CannotBeDone(format!(
                "no rule speaks of '{word}'; 'rules' without a word lists all of them"
            )));
        }
        if common.json {
            return output::json_result(&Value::Array(found.into_iter().map(rule_json).collect()));
        }
        let listed: Vec<String> = found.into_iter().map(rule_text).collect();
        output::result(&listed.join("\n"))
    }
}

fn has(rule: &Rule, word: &str) -> bool {
    [rule.id.0, rule.name, rule.statement]
        .iter()
        .any(|text| text.to_lowercase().contains(word))
}

/// A rule in the machine form.
pub(super) fn rule_json(rule: &Rule) -> Value {
    json!({
        "id": rule.id.0,
        "name": rule.name,
        "statement": rule.statement,
        "sources": rule.sources.iter().map(|source| source.0).collect::<Vec<_>>(),
        "tag": rule.tag.word(),
        "inputs": rule.inputs.iter().map(input_json).collect::<Vec<_>>(),
    })
}

fn input_json(input: &Input) -> Value {
    let kind = match input.kind {
        InputKind::Number { unit, low, high } => {
            json!({ "kind": "number", "unit": unit, "low": low, "high": high })
        }
        InputKind::Numbers {
            unit,
            low,
            high,
            none,
        } => {
            json!({ "kind": "numbers", "unit": unit, "low": low, "high": high, "none": none })
        }
        InputKind::Choice(words) => json!({ "kind": "choice", "words": words }),
        InputKind::Flag => json!({ "kind": "flag" }),
        InputKind::Text => json!({ "kind": "text" }),
        InputKind::Date => json!({ "kind": "date" }),
    };
    let mut out = json!({ "name": input.name, "optional": input.optional });
    if let (Value::Object(out), Value::Object(kind)) = (&mut out, kind) {
        out.extend(kind);
    }
    out
}

/// A rule for people: id, name, statement, what it takes, where it comes from.
pub(super) fn rule_text(rule: &Rule) -> String {
    let mut out = format!("{}\n", rule.id);
    out.push_str(&text::wrapped(rule.name, 2));
    out.push_str(&text::wrapped(rule.statement, 2));
    for input in rule.inputs {
        out.push_str(&text::hanging(&input_text(input), 4, 8));
    }
    let sources: Vec<&str> = rule.sources.iter().map(|source| source.0).collect();
    let source = if sources.is_empty() {
        rule.tag.word().to_owned()
    } else {
        format!("Source: {} ({})", sources.join(", "), rule.tag.word())
    };
    out.push_str(&text::wrapped(&source, 2));
    out
}

fn input_text(input: &Input) -> String {
    let kind = match input.kind {
        InputKind::Number { unit, low, high } => format!("{unit}, {low} to {high}"),
        InputKind::Numbers {
            unit,
            low,
            high,
            none,
        } => {
            let or_none = if none { ", or none" } else { "" };
            format!("{unit}, {low} to {high}, several separated by commas{or_none}")
        }
        InputKind::Choice(words) => words.join(" | "),
        InputKind::Flag => "yes | no".to_owned(),
        InputKind::Text => "words".to_owned(),
        InputKind::Date => "a day, as 2026-10-12".to_owned(),
    };
    let optional = if input.optional {
        ", may be left out"
    } else {
        ""
    };
    format!("{}= {kind}{optional}", input.name)
}
