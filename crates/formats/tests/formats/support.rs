//! Shared by the tests of file formats: fixtures and a maker of random files from their shapes.

use formats::shape::{Kind, Shape};
use formats::tree::{Content, Node};
use formats::{Problem, Problems};

pub(crate) const FENWICK: &str = include_str!("fixtures/fenwick.toml");
pub(crate) const EVERYTHING: &str = include_str!("fixtures/everything.toml");
pub(crate) const DIARY: &str = include_str!("fixtures/diary.json");
pub(crate) const INSTANCE: &str = include_str!("fixtures/instance.json");
pub(crate) const SERVICE: &str = include_str!("fixtures/service.toml");

/// The problems of a case in which one text was put in place of another.
pub(crate) fn problems_of_case(from: &str, to: &str) -> Vec<Problem> {
    assert!(EVERYTHING.contains(from), "the fixture holds no {from}");
    let text = EVERYTHING.replacen(from, to, 1);
    match formats::case::read("case.toml", text.as_bytes(), None) {
        Ok(_) => panic!("this must be refused: {to}"),
        Err(Problems(problems)) => problems,
    }
}

/// The line of a fixture on which a text stands.
pub(crate) fn line_of(text: &str, part: &str) -> Option<usize> {
    text.lines()
        .position(|line| line.contains(part))
        .map(|index| index + 1)
}

/// Fails when a key of a shape, or of any shape inside it, stands nowhere in a tree.
pub(crate) fn every_key_is_used(tree: &Node, shape: &'static Shape) {
    let mut wanted = Vec::new();
    keys(shape, &mut wanted);
    let mut seen = Vec::new();
    walk(tree, &mut seen);
    wanted.retain(|key| !seen.contains(&(*key).to_owned()));
    assert!(
        wanted.is_empty(),
        "these keys stand in no fixture: {wanted:?}"
    );
}

fn keys(shape: &'static Shape, out: &mut Vec<&'static str>) {
    let chosen = shape
        .choice
        .iter()
        .flat_map(|choice| choice.cases)
        .flat_map(|(_, fields)| *fields);
    for field in shape.fields.iter().chain(chosen) {
        out.push(field.key);
        if let Kind::Table(inner) | Kind::List(Kind::Table(inner), _) = &field.kind {
            keys(inner, out);
        }
    }
}

fn walk(node: &Node, out: &mut Vec<String>) {
    match &node.content {
        Content::Table(table) => {
            for entry in &table.entries {
                out.push(entry.key.clone());
                walk(&entry.node, out);
            }
        }
        Content::List(list) => list.iter().for_each(|item| walk(item, out)),
        _ => {}
    }
}
