//! The JSON Schemas, held against what the reader takes, by a general-purpose validator.

use crate::random::{Dice, spoil, table};
use formats::shape::schema;
use formats::{FileKind, SourceFile, tree};
use jsonschema::Validator;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::sync::LazyLock;

static VALIDATORS: LazyLock<Vec<(&'static str, Validator)>> = LazyLock::new(|| {
    let validator = |kind: &FileKind| {
        jsonschema::draft202012::new(&schema(kind.shape())).expect("a shape makes a valid schema")
    };
    FileKind::ALL
        .iter()
        .map(|kind| (kind.word(), validator(kind)))
        .collect()
});

fn validator(kind: FileKind) -> &'static Validator {
    let found = VALIDATORS.iter().find(|(word, _)| *word == kind.word());
    &found.expect("every kind has a validator").1
}

fn fixture(kind: FileKind) -> Value {
    let text = match kind {
        FileKind::Case => crate::support::EVERYTHING,
        FileKind::Diary => crate::support::DIARY,
        FileKind::Service => crate::support::SERVICE,
        FileKind::Instance => crate::support::INSTANCE,
        FileKind::Movement => include_str!("../../../../data/movements/sit-to-stand.toml"),
        FileKind::Exercise => include_str!("../../../../data/exercises/sit-to-stand.toml"),
    };
    tree::to_json(
        &SourceFile::open("x", text.as_bytes())
            .expect("a fixture")
            .tree,
    )
}

#[test]
fn reference_schemas_are_valid_and_take_the_fixtures() {
    for kind in FileKind::ALL {
        let schema = schema(kind.shape());
        assert!(jsonschema::meta::is_valid(&schema), "{}", kind.word());
        let validator = validator(*kind);
        let fixture = fixture(*kind);
        let errors: Vec<String> = validator
            .iter_errors(&fixture)
            .map(|error| error.to_string())
            .collect();
        assert!(errors.is_empty(), "{}: {errors:#?}", kind.word());
    }
}

#[test]
fn reference_schemas_refuse_what_the_reader_refuses() {
    let validator = validator(FileKind::Case);
    let broken: &[(&str, Value)] = &[
        ("/person/height_cm", json!(1.74)),
        ("/person/sex", json!("f")),
        ("/person/shoe_size", json!(43)),
        ("/person/born", json!("17.5.1951")),
        ("/test/0/kind", json!("treadmill")),
        ("/test/0/count", json!(3)),
        ("/test/0/effort/value", json!(3)),
        ("/test/11/answers", json!([1, 2])),
        ("/examination/0/nyha", json!(5)),
        ("/history/present", json!(["stroke", "stroke"])),
        ("/id", json!("short")),
    ];
    for (pointer, value) in broken {
        let mut case = fixture(FileKind::Case);
        assert!(validator.is_valid(&case));
        let (parent, key) = pointer.rsplit_once('/').unwrap();
        let place = case.pointer_mut(parent).unwrap();
        place[key] = value.clone();
        assert!(!validator.is_valid(&case), "{pointer} = {value}");
    }
}

proptest! {
    #[test]
    fn reference_random_files_fit_their_schema(seed: u64) {
        for kind in [FileKind::Case, FileKind::Diary, FileKind::Service, FileKind::Instance] {
            let made = tree::to_json(&table(kind.shape(), &mut Dice::new(seed)).into());
            let validator = validator(kind);
            let errors: Vec<String> = validator.iter_errors(&made).map(|error| error.to_string()).collect();
            prop_assert!(errors.is_empty(), "{}: {:#?}", kind.word(), errors);
        }
    }

    /// The reader is stricter (pressures swapped, days ahead); it is never looser than the schema.
    #[test]
    fn reference_what_the_schema_refuses_the_reader_refuses(seed: u64) {
        let mut dice = Dice::new(seed);
        let mut made = table(FileKind::Case.shape(), &mut dice);
        spoil(&mut made, &mut dice);
        let value = tree::to_json(&made.clone().into());
        if !validator(FileKind::Case).is_valid(&value) {
            let text = value.to_string();
            prop_assert!(formats::case::read("a.json", text.as_bytes(), None).is_err(), "{}", text);
        }
    }
}
