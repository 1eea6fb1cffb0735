//! Every source a rule names stands in the register, once, with a tag; and no rule claims more than its sources hold.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Ids of the register with their tags, read line by line: the register is plain enough for that.
fn register() -> BTreeMap<String, String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sources");
    let mut found = BTreeMap::new();
    for file in fs::read_dir(folder).expect("the register is a folder") {
        let text = fs::read_to_string(file.expect("readable").path()).expect("readable");
        let mut id = None;
        for line in text.lines() {
            if let Some(value) = quoted(line, "id") {
                id = Some(value);
            } else if let Some(tag) = quoted(line, "tag") {
                let id = id.take().expect("a tag follows its id");
                assert!(found.insert(id.clone(), tag).is_none(), "{id} stands twice");
            }
        }
        assert_eq!(id, None, "a source has no tag");
    }
    found
}

fn quoted(line: &str, key: &str) -> Option<String> {
    let rest = line.strip_prefix(key)?.trim_start().strip_prefix('=')?;
    Some(rest.trim().trim_matches('"').to_owned())
}

#[test]
fn every_source_of_a_rule_stands_in_the_register() {
    let register = register();
    for rule in rehab::rules::rules() {
        for source in rule.sources {
            assert!(
                register.contains_key(source.0),
                "{} names {source}",
                rule.id
            );
        }
    }
}

#[test]
fn a_rule_that_claims_to_be_read_has_a_source_that_was_read() {
    let register = register();
    for rule in rehab::rules::rules() {
        if rule.tag == rehab::evidence::Tag::Read {
            let read = rule.sources.iter().any(|one| register[one.0] == "read");
            assert!(read, "{} is tagged read, its sources are not", rule.id);
        }
    }
}
