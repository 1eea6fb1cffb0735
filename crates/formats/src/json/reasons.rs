//! Values, reasons and findings in the machine form.

use rehab::evidence::{Because, Finding, Named, SourceId, Tag, Value as Reason};
use serde_json::{Map, Value, json};

/// Rounds to so many decimals; the same for every number of a result, so that comparisons between them hold.
pub(super) fn rounded(number: f64, decimals: i32) -> Value {
    let factor = f64::from(10_i32.pow(decimals.unsigned_abs()));
    let value = (number * factor).round() / factor;
    if value == value.trunc() && value.abs() < 1e15 {
        json!(value as i64)
    } else {
        json!(value)
    }
}

/// A number to three decimals.
pub(super) fn number(number: f64) -> Value {
    rounded(number, 3)
}

/// A value and its unit; no unit where it has none.
pub fn value(value: &Reason) -> (Value, Option<&'static str>) {
    let unit = |unit: &'static str| (!unit.is_empty()).then_some(unit);
    match value {
        Reason::Number(number, of) => (self::number(*number), unit(of)),
        Reason::Whole(number, of) => (json!(number), unit(of)),
        Reason::Flag(flag) => (json!(flag), None),
        Reason::Date(date) => (json!(date.to_string()), None),
        Reason::Text(text) => (json!(text), None),
    }
}

/// Sources as one text: their ids, or that it is common practice without one.
fn source(sources: &[SourceId], tag: Tag) -> String {
    if sources.is_empty() {
        tag.word().to_owned()
    } else {
        ids(sources).join(", ")
    }
}

pub(super) fn ids(sources: &[SourceId]) -> Vec<&'static str> {
    sources.iter().map(|source| source.0).collect()
}

fn named(list: &[Named]) -> Value {
    let values: Map<String, Value> = list
        .iter()
        .map(|named| {
            let (found, unit) = value(&named.value);
            (
                named.name.to_owned(),
                json!({ "value": found, "unit": unit }),
            )
        })
        .collect();
    Value::Object(values)
}

pub(super) fn because(because: &Because) -> Value {
    let (found, unit) = value(&because.value);
    json!({
        "id": because.rule.0,
        "text": because.text,
        "value": found,
        "unit": unit,
        "source": source(&because.sources, because.tag),
        "tag": because.tag.word(),
        "working": because.working,
        "inputs": named(&because.inputs),
        "assumed": because.assumed,
        "unsure": because.unsure,
        "changes_with": because.changes_with,
    })
}

pub(super) fn finding(finding: &Finding) -> Value {
    let mut out = json!({
        "id": finding.rule.0,
        "weight": finding.weight.word(),
        "text": finding.text,
        "values": named(&finding.values),
        "source": source(&finding.sources, finding.tag),
        "tag": finding.tag.word(),
    });
    if let (Some(ask), Value::Object(out)) = (&finding.ask, &mut out) {
        out.insert("whom".to_owned(), json!(ask.whom));
        let blocks = (!ask.blocks.is_empty()).then_some(&ask.blocks);
        out.insert("blocks".to_owned(), json!(blocks));
    }
    out
}

pub(super) fn findings(list: &[Finding]) -> Value {
    Value::Array(list.iter().map(finding).collect())
}

pub(super) fn reasons(list: &[Because]) -> Value {
    Value::Array(list.iter().map(because).collect())
}
