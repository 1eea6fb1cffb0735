//! The patterns of every schema, compiled where validators of schemas run: Python's expressions, and those of
//! ECMA-262 without and with the flag for Unicode.

use formats::FileKind;
use serde_json::{Value, json};
use tests::tools::{run_node, run_python};

/// Ids that the program takes.
const TAKEN: [&str; 6] = [
    "fenwick-orla-1951-05-17",
    "lý-ngọc-ánh-1951-05-17",
    "unterderbrücke-wilhelmina-theo-1951-05-17",
    "Łukasz_1.b",
    "山田太郎-1951-05-17",
    "12345678",
];
/// Ids that it refuses, also by the pattern.
const REFUSED: [&str; 8] = [
    "short",
    "with blank",
    "../../etc/passwd",
    "-leading-hyphen",
    "colon:colon",
    "turned\u{202e}round",
    "line\nbreak-1951",
    "what?what?",
];

const PYTHON: &str = r"
import json, re, sys
given = json.loads(sys.argv[1])
compiled = [re.compile(one) for one in given['patterns']]
of_id = re.compile(given['id'])
print(json.dumps([len(compiled), [bool(of_id.search(one)) for one in given['ids']]]))
";

const NODE: &str = r"
const given = JSON.parse(process.argv[process.argv.length - 1]);
for (const flag of ['', 'u']) {
  const compiled = given.patterns.map((one) => new RegExp(one, flag));
  const ofId = new RegExp(given.id, flag);
  console.log(JSON.stringify([compiled.length, given.ids.map((one) => ofId.test(one))]));
}
";

fn patterns(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            if let Some(Value::String(pattern)) = map.get("pattern") {
                found.push(pattern.clone());
            }
            map.values().for_each(|one| patterns(one, found));
        }
        Value::Array(list) => list.iter().for_each(|one| patterns(one, found)),
        _ => {}
    }
}

#[test]
fn reference_every_pattern_of_a_schema_compiles_in_python_and_as_ecma_262() {
    let mut all = Vec::new();
    for kind in FileKind::ALL {
        patterns(&formats::shape::schema(kind.shape()), &mut all);
    }
    all.sort();
    all.dedup();
    assert!(all.len() >= 5, "{all:?}");
    let case = formats::shape::schema(FileKind::Case.shape());
    let id = &case["properties"]["id"]["pattern"];
    assert!(id.is_string(), "{case:#}");
    let ids: Vec<&str> = TAKEN.iter().chain(&REFUSED).copied().collect();
    let given = json!({ "patterns": all, "id": id, "ids": ids }).to_string();
    let expected: Vec<bool> = ids.iter().map(|one| TAKEN.contains(one)).collect();
    let expected = json!([all.len(), expected]);
    let printed = [run_python(PYTHON, &[&given]), run_node(NODE, &[&given])];
    let lines: Vec<&str> = printed.iter().flat_map(|text| text.lines()).collect();
    assert_eq!(lines.len(), 3, "{printed:?}");
    for line in lines {
        let found: Value = serde_json::from_str(line).expect("the script prints JSON");
        assert_eq!(found, expected);
    }
}
