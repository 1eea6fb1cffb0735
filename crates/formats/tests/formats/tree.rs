//! Files into trees: lines, hostile input, and agreement with general libraries.

use formats::tree::{Content, Node, Notation, Table, read, to_json, write};
use proptest::prelude::*;

fn problem(file: &str, bytes: &[u8]) -> (Option<usize>, String) {
    let problems = read(file, bytes).expect_err("this must be refused");
    assert!(!problems.0.is_empty());
    (problems.0[0].line, problems.0[0].message.clone())
}

#[test]
fn every_value_has_its_line() {
    let text = b"id = \"x\"\n\n[person]\nname = \"O\"\n\n[[event]]\nkind = \"angina\"\n\n[[event]]\nkind = \"other\"\n";
    let tree = read("a.toml", text).unwrap();
    let Content::Table(root) = &tree.content else {
        panic!()
    };
    let Content::Table(person) = &root.get("person").unwrap().content else {
        panic!()
    };
    assert_eq!(person.get("name").unwrap().line, Some(4));
    let Content::List(events) = &root.get("event").unwrap().content else {
        panic!()
    };
    assert_eq!((events[0].line, events[1].line), (Some(6), Some(9)));

    let json = b"{\n  \"id\": \"x\",\n  \"event\": [\n    {\"kind\": \"other\"}\n  ]\n}";
    let tree = read("a.json", json).unwrap();
    let Content::Table(root) = &tree.content else {
        panic!()
    };
    let Content::List(events) = &root.get("event").unwrap().content else {
        panic!()
    };
    assert_eq!(events[0].line, Some(4));
}

#[test]
fn toml_and_json_give_the_same_tree() {
    let toml = read(
        "a",
        b"a = 1\nb = 2.5\nc = [true, \"x\"]\n[d]\ne = 2026-10-12\n",
    )
    .unwrap();
    let json = read(
        "a",
        br#"{"a":1,"b":2.5,"c":[true,"x"],"d":{"e":"2026-10-12"}}"#,
    )
    .unwrap();
    assert_eq!(to_json(&toml), to_json(&json));
}

#[test]
fn hostile_and_damaged_files_are_refused_with_a_reason() {
    assert!(problem("a.json", b"").1.contains("empty"));
    assert!(problem("a.toml", b"a = \"x\0y\"").1.contains("NUL"));
    assert_eq!(problem("a.toml", b"a = 1\nb = \xff\xfe").0, Some(2));
    assert!(problem("a.json", b"{\"a\": [1, 2").1.contains("cut off"));
    assert!(problem("a.json", b"{\"a\": tr").1.contains("cut off"));
    assert!(
        problem("a.json", b"{\"a\": 1, \"a\": 2}")
            .1
            .contains("stands twice")
    );
    assert!(problem("a.json", b"{\"a\": 1e999}").1.contains("too large"));
    assert!(problem("a.json", b"{} {}").1.contains("more after the end"));
    assert!(
        problem("a.json", b"{\"a\": \"\\ud800\"}")
            .1
            .contains("half of a sign")
    );
    assert!(problem("a.toml", b"a = 1\na = 2").1.contains("not TOML"));
    let deep = "[".repeat(100_000);
    assert!(
        problem("a.json", format!("{{\"a\": {deep}").as_bytes())
            .1
            .contains("nested deeper")
    );
    assert!(
        !problem("a.toml", format!("a = {deep}").as_bytes())
            .1
            .is_empty()
    );
    let dotted = format!("{}a = 1", "a.".repeat(50_000));
    assert!(!problem("a.toml", dotted.as_bytes()).1.is_empty());
    let large = vec![b' '; 3 * 1024 * 1024];
    assert!(problem("a.json", &large).1.contains("more than"));
    let many = format!("{{\"a\": [{}1]}}", "1,".repeat(300_000));
    assert!(problem("a.json", many.as_bytes()).1.contains("more values"));
    let many = format!("a = [{}1]", "1,".repeat(300_000));
    assert!(problem("a.toml", many.as_bytes()).1.contains("more values"));
}

/// Our reader must take exactly what a general library takes, but for keys that stand twice and our limits.
fn agrees_with_serde_json(text: &str) {
    let ours = read("a.json", text.as_bytes());
    let theirs = serde_json::from_str::<serde_json::Value>(text);
    match (ours, theirs) {
        (Ok(ours), Ok(theirs)) => assert_eq!(to_json(&ours), theirs, "{text}"),
        (Err(_), Err(_)) => {}
        (Ok(_), Err(error)) => panic!("only we take {text}: {error}"),
        (Err(problems), Ok(_)) => {
            let message = &problems.0[0].message;
            let known = ["stands twice", "NUL", "nested deeper", "empty"];
            assert!(
                known.iter().any(|word| message.contains(word)),
                "{text}: {message}"
            );
        }
    }
}

fn json_text() -> impl Strategy<Value = String> {
    let sign = prop::sample::select(vec![
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "\"",
        "\"a\"",
        "\"b\"",
        "1",
        "-0",
        "-1.5e3",
        "01",
        "1.",
        ".5",
        "1e5",
        "true",
        "false",
        "null",
        "\\",
        "\\u00e9",
        "\\ud83d\\ude00",
        "\\n",
        " ",
        "\n",
        "é",
        "\u{1}",
        "9223372036854775807",
        "\"\\u0041\"",
        "{\"a\":[1,2.25]}",
        "tru",
        "e",
        "+",
    ]);
    prop::collection::vec(sign, 0..14).prop_map(|signs| signs.concat())
}

fn node() -> impl Strategy<Value = Node> {
    let leaf = prop_oneof![
        any::<bool>().prop_map(Node::from),
        any::<i64>().prop_map(Node::from),
        (-1e12..1e12f64).prop_map(Node::from),
        "\\PC{0,12}".prop_map(Node::from),
        "[\\x00-\\x7f]{0,8}"
            .prop_filter("NUL is refused", |text| !text.contains('\0'))
            .prop_map(Node::from),
    ];
    leaf.prop_recursive(4, 40, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Node::from),
            table(inner).prop_map(Node::from),
        ]
    })
}

fn table(inner: impl Strategy<Value = Node>) -> impl Strategy<Value = Table> {
    prop::collection::btree_map("[a-z_]{1,6}|\\PC{1,5}", inner, 0..5).prop_map(|keys| {
        let mut table = Table::default();
        for (key, node) in keys {
            table.put(&key, node);
        }
        table
    })
}

proptest! {
    #[test]
    fn reference_json_is_read_as_by_a_general_library(text in json_text()) {
        agrees_with_serde_json(&text);
    }

    #[test]
    fn law_random_bytes_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let _ = read("a.toml", &bytes);
        let _ = read("a.json", &bytes);
    }

    #[test]
    fn law_what_is_written_is_read_back(table in table(node())) {
        let meant = to_json(&Node::from(table.clone()));
        for (name, notation) in [("a.toml", Notation::Toml), ("a.json", Notation::Json)] {
            let text = write(&table, notation);
            if table.entries.is_empty() {
                continue;
            }
            let back = read(name, text.as_bytes()).unwrap_or_else(|error| panic!("{error}\n{text}"));
            prop_assert_eq!(sorted(&to_json(&back)), sorted(&meant), "{}", text);
        }
    }
}

/// The order of keys is not part of the meaning: TOML writes plain values before tables.
fn sorted(value: &serde_json::Value) -> serde_json::Value {
    match value {
        serde_json::Value::Object(map) => {
            let mut keys: Vec<_> = map
                .iter()
                .map(|(key, value)| (key.clone(), sorted(value)))
                .collect();
            keys.sort_by(|a, b| a.0.cmp(&b.0));
            serde_json::Value::Object(keys.into_iter().collect())
        }
        serde_json::Value::Array(list) => {
            serde_json::Value::Array(list.iter().map(sorted).collect())
        }
        other => other.clone(),
    }
}
