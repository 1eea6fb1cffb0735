//! The JSON Schema of a shape, made from the same table of keys that reading uses.

use super::{Choice, Count, Field, Kind, Shape, Within};
use rehab::quantity::bound_of;
use serde_json::{Map, Value, json};

/// The whole schema of a file (JSON Schema 2020-12).
pub fn schema(shape: &'static Shape) -> Value {
    let mut defs = Map::new();
    let body = table(shape, &mut defs);
    let mut out = Map::new();
    out.insert(
        "$schema".to_owned(),
        json!("https://json-schema.org/draft/2020-12/schema"),
    );
    out.insert("title".to_owned(), json!(shape.name));
    if let Value::Object(body) = body {
        out.extend(body);
    }
    if !defs.is_empty() {
        out.insert("$defs".to_owned(), Value::Object(defs));
    }
    Value::Object(out)
}

fn table(shape: &'static Shape, defs: &mut Map<String, Value>) -> Value {
    match &shape.choice {
        None => {
            let mut out = keys(shape.fields.iter(), defs);
            out.insert("description".to_owned(), json!(shape.about));
            Value::Object(out)
        }
        Some(choice) => chosen(shape, choice, defs),
    }
}

fn keys(
    fields: impl Iterator<Item = &'static Field>,
    defs: &mut Map<String, Value>,
) -> Map<String, Value> {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for field in fields {
        let mut value = kind(&field.kind, defs);
        if field.needed {
            required.push(json!(field.key));
        } else {
            value = or_null(value);
        }
        if let Value::Object(value) = &mut value {
            value.insert("description".to_owned(), json!(field.about));
        }
        properties.insert(field.key.to_owned(), value);
    }
    let mut out = Map::new();
    out.insert("type".to_owned(), json!("object"));
    out.insert("properties".to_owned(), Value::Object(properties));
    if !required.is_empty() {
        out.insert("required".to_owned(), Value::Array(required));
    }
    out.insert("additionalProperties".to_owned(), json!(false));
    out
}

fn chosen(shape: &'static Shape, choice: &'static Choice, defs: &mut Map<String, Value>) -> Value {
    let words: Vec<&str> = choice.cases.iter().map(|(word, _)| *word).collect();
    let branches: Vec<Value> = words
        .iter()
        .map(|word| {
            let mut then = keys(shape.fields_for(Some(word)), defs);
            if let Some(Value::Object(properties)) = then.get_mut("properties") {
                properties.insert(choice.key.to_owned(), json!({ "const": word }));
            }
            json!({ "if": { "properties": { choice.key: { "const": word } } }, "then": then })
        })
        .collect();
    json!({
        "type": "object",
        "description": shape.about,
        "required": [choice.key],
        "properties": { choice.key: { "enum": words } },
        "allOf": branches,
    })
}

/// A key left out may also be written as null.
fn or_null(mut value: Value) -> Value {
    let Value::Object(map) = &mut value else {
        return value;
    };
    if let Some(Value::Array(words)) = map.get_mut("enum") {
        words.push(Value::Null);
    } else if let Some(Value::String(one)) = map.get("type").cloned() {
        map.insert("type".to_owned(), json!([one, "null"]));
    } else {
        return json!({ "anyOf": [value, { "type": "null" }] });
    }
    value
}

fn kind(kind: &'static Kind, defs: &mut Map<String, Value>) -> Value {
    match kind {
        Kind::Text(most) => {
            json!({ "type": "string", "minLength": 1, "maxLength": most, "pattern": "\\S" })
        }
        Kind::Form { pattern, .. } => json!({ "type": "string", "pattern": pattern }),
        Kind::Bound(key) => bounded("number", key),
        Kind::WholeBound(key) => bounded("integer", key),
        Kind::Number(within) => within_of("number", *within),
        Kind::Whole(within) => within_of("integer", *within),
        Kind::Flag => json!({ "type": "boolean" }),
        Kind::Day | Kind::AnyDay | Kind::OtherDay => day(),
        Kind::Word(words) => json!({ "enum": (words.all)() }),
        Kind::List(of, count) => list(self::kind(of, defs), *count),
        Kind::Table(shape) => {
            if !defs.contains_key(shape.name) {
                // The name stands before its body is made, so that a shape that holds itself ends.
                defs.insert(shape.name.to_owned(), Value::Null);
                let body = table(shape, defs);
                defs.insert(shape.name.to_owned(), body);
            }
            json!({ "$ref": format!("#/$defs/{}", shape.name) })
        }
        Kind::DaysByWord(words) => {
            let days: Map<String, Value> = (words.all)()
                .into_iter()
                .map(|word| (word.to_owned(), day()))
                .collect();
            json!({ "type": "object", "properties": days, "additionalProperties": false })
        }
        Kind::Pressure => json!({
            "type": "array",
            "prefixItems": [bounded("number", "systolic_mmhg"), bounded("number", "diastolic_mmhg")],
            "minItems": 2, "maxItems": 2,
        }),
        Kind::Either(first, second) => {
            json!({ "anyOf": [self::kind(first, defs), self::kind(second, defs)] })
        }
        Kind::Band(within) => list(within_of("number", *within), Count::exactly(2)),
    }
}

fn day() -> Value {
    json!({ "type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$" })
}

fn list(items: Value, count: Count) -> Value {
    let mut out = Map::new();
    out.insert("type".to_owned(), json!("array"));
    out.insert("items".to_owned(), items);
    if count.least > 0 {
        out.insert("minItems".to_owned(), json!(count.least));
    }
    out.insert("maxItems".to_owned(), json!(count.most));
    if count.unique {
        out.insert("uniqueItems".to_owned(), json!(true));
    }
    Value::Object(out)
}

fn bounded(kind: &str, key: &str) -> Value {
    let bound = bound_of(key)
        .expect("every key of a shape that names a bound stands in the table (tested)");
    within_of(kind, Within::new(bound.low, bound.high, bound.unit))
}

fn within_of(kind: &str, within: Within) -> Value {
    json!({ "type": kind, "minimum": plain(within.low), "maximum": plain(within.high) })
}

/// Whole bounds are written whole.
fn plain(value: f64) -> Value {
    if value == libm::trunc(value) && value.abs() < 1e15 {
        json!(value as i64)
    } else {
        json!(value)
    }
}
