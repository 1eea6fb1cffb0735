//! `schema`: what is printed is a schema, and it takes the fixtures.

use crate::run::{fixture, hearthpace};

#[test]
fn every_format_has_a_schema() {
    for (kind, fixtures) in [
        ("case", &["fenwick.toml", "everything.toml"][..]),
        ("diary", &["diary.json"]),
        ("service", &["service.toml"]),
        ("exercise", &[]),
    ] {
        let schema = hearthpace(&["schema", kind]).exits(0).json();
        assert_eq!(
            schema["$schema"],
            "https://json-schema.org/draft/2020-12/schema"
        );
        let validator = jsonschema::draft202012::new(&schema).unwrap();
        for name in fixtures {
            let bytes = std::fs::read(fixture(name)).unwrap();
            let tree = formats::SourceFile::open(name, &bytes).unwrap().tree;
            assert!(validator.is_valid(&formats::tree::to_json(&tree)), "{name}");
        }
        assert!(
            !validator.is_valid(&serde_json::json!({ "colour": "red" })),
            "{kind}"
        );
    }
}
