//! `rule`: evaluates one rule or equation by itself.

use super::Common;
use super::rules::{rule_json, rule_text};
use crate::failure::Failure;
use crate::{output, text};
use formats::shape::nearest;
use rehab::evidence::{Answer, Rule, Value as Answered, Values};
use serde_json::{Value, json};

/// Evaluates one rule or equation.
#[derive(clap::Args, Debug)]
pub(crate) struct EvaluateRule {
    /// Id of the rule, as listed by 'rules'
    id: String,
    /// Its inputs, for example age_years=65
    #[arg(value_name = "NAME=VALUE", value_parser = pair)]
    values: Vec<(String, String)>,
}

fn pair(text: &str) -> Result<(String, String), String> {
    text.split_once('=')
        .filter(|(name, _)| !name.is_empty())
        .map(|(name, value)| (name.to_owned(), value.to_owned()))
        .ok_or_else(|| "write an input as NAME=VALUE, for example age_years=65".to_owned())
}

impl EvaluateRule {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let rule = rehab::rules::rule(&self.id).ok_or_else(|| unknown(&self.id))?;
        let refused = |error: rehab::evidence::RuleError| Failure::CannotBeDone(error.message);
        let values = Values::check(rule, &self.values).map_err(refused)?;
        let answer = (rule.evaluate)(&values).map_err(refused)?;
        if common.json {
            output::json_result(&answer_json(rule, &self.values, &answer))
        } else {
            output::result(&answer_text(rule, &answer))
        }
    }
}

fn unknown(id: &str) -> Failure {
    let near = nearest(id, rehab::rules::rules().map(|rule| rule.id.0));
    let hint = near.map_or_else(
        || "'rules' lists all of them".to_owned(),
        |near| format!("did you mean '{near}'"),
    );
    Failure::CannotBeDone(format!("there is no rule '{id}'; {hint}"))
}

fn answer_json(rule: &Rule, given: &[(String, String)], answer: &Answer) -> Value {
    let (value, unit) = formats::json::value(&answer.value);
    let given: serde_json::Map<String, Value> = given
        .iter()
        .map(|(name, value)| (name.clone(), Value::String(value.clone())))
        .collect();
    let mut out = rule_json(rule);
    if let Value::Object(out) = &mut out {
        out.insert("given".to_owned(), Value::Object(given));
        out.insert("value".to_owned(), value);
        out.insert("unit".to_owned(), json!(unit));
        out.insert("working".to_owned(), json!(answer.working));
        out.insert("cautions".to_owned(), json!(answer.cautions));
    }
    out
}

fn answer_text(rule: &Rule, answer: &Answer) -> String {
    let mut out = format!("{}\n", shown(&answer.value));
    if !answer.working.is_empty() {
        out.push_str(&text::wrapped(&answer.working, 2));
    }
    for caution in &answer.cautions {
        out.push_str(&text::hanging(&format!("Note: {caution}"), 2, 4));
    }
    out.push('\n');
    out.push_str(&rule_text(rule));
    out
}

fn shown(value: &Answered) -> String {
    value.to_string()
}
