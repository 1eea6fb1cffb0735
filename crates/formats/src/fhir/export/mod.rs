//! A case into a Bundle, for those parts of a case that FHIR has resources for.

mod conditions;
mod left_out;
mod observations;
mod person;

use super::concept::OURS;
use jiff::civil::Date;
use rehab::assessment::Case;
use serde_json::{Map, Value, json};

/// A Bundle and what of the case does not stand in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Exported {
    /// The Bundle, of the type collection.
    pub bundle: Value,
    /// Parts of the case that FHIR has no place for, in words.
    pub left_out: Vec<String>,
}

/// Writes a case as a Bundle; `on` is the day by which a medicine has ended or not.
pub fn export(case: &Case, on: Option<Date>) -> Exported {
    let mut out = Out::new(&case.id.0);
    person::write(case, &mut out);
    conditions::events(case, &mut out);
    conditions::history(case, &mut out);
    conditions::medicines(case, on, &mut out);
    conditions::devices(case, &mut out);
    observations::write(case, &mut out);
    Exported {
        bundle: json!({ "resourceType": "Bundle", "type": "collection", "entry": out.entries }),
        left_out: left_out::of(case),
    }
}

/// Entries in the making.
struct Out {
    case: String,
    entries: Vec<Value>,
}

impl Out {
    fn new(case: &str) -> Self {
        Self {
            case: case.to_owned(),
            entries: Vec::new(),
        }
    }

    /// Address of the patient, whose entry is the first.
    fn patient(&self) -> Value {
        json!({ "reference": address(&self.case, 1) })
    }

    /// Adds a resource and gives its address. Keys without a value are left out, as FHIR wants it.
    fn add(&mut self, kind: &str, body: Value) -> String {
        let number = self.entries.len() + 1;
        let address = address(&self.case, number);
        let mut resource = Map::new();
        resource.insert("resourceType".to_owned(), json!(kind));
        resource.insert(
            "id".to_owned(),
            json!(address.trim_start_matches("urn:uuid:")),
        );
        if let Value::Object(body) = without_nothing(body) {
            resource.extend(body);
        }
        self.entries
            .push(json!({ "fullUrl": address, "resource": resource }));
        address
    }
}

fn without_nothing(value: Value) -> Value {
    match value {
        Value::Object(map) => {
            let kept = map
                .into_iter()
                .map(|(key, value)| (key, without_nothing(value)));
            let kept: Map<String, Value> = kept.filter(|(_, value)| !is_nothing(value)).collect();
            Value::Object(kept)
        }
        Value::Array(list) => {
            let kept = list
                .into_iter()
                .map(without_nothing)
                .filter(|value| !is_nothing(value));
            Value::Array(kept.collect())
        }
        other => other,
    }
}

fn is_nothing(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::Array(list) => list.is_empty(),
        Value::Object(map) => map.is_empty(),
        _ => false,
    }
}

/// An address made of the case's id and the number of the entry: the same case gives the same addresses, and two
/// cases never share one. The bits are of a UUID of version 8, which is free for such use.
fn address(case: &str, number: usize) -> String {
    let text = format!("{case}/{number}");
    let high = (hash(&text, 0xCBF2_9CE4_8422_2325) & !0xF000) | 0x8000;
    let low = (hash(&text, 0x8422_2325_CBF2_9CE4) & !(0b11 << 62)) | (0b10 << 62);
    format!(
        "urn:uuid:{:08x}-{:04x}-{:04x}-{:04x}-{:012x}",
        high >> 32,
        (high >> 16) & 0xFFFF,
        high & 0xFFFF,
        low >> 48,
        low & 0xFFFF_FFFF_FFFF
    )
}

/// FNV-1a over the bytes, with a last mixing, because neighbouring numbers must not give neighbouring addresses.
fn hash(text: &str, start: u64) -> u64 {
    let plain = text.bytes().fold(start, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01B3)
    });
    let mixed = (plain ^ (plain >> 32)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    mixed ^ (mixed >> 29)
}

/// A code of one of our own lists.
fn ours(list: &str, code: &str) -> Value {
    json!({ "system": format!("{OURS}{list}"), "code": code, "display": code.replace('-', " ") })
}

/// A code of a public system.
fn code(system: &str, code: Option<&str>) -> Value {
    code.map_or(
        Value::Null,
        |code| json!({ "system": system, "code": code }),
    )
}

fn day(date: Option<Date>) -> Value {
    date.map_or(Value::Null, |date| json!(date.to_string()))
}
