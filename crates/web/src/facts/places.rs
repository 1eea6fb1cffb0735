//! Common places of a home, to begin with; heights and rails are asked later.

use super::path;
use formats::tree::{Content, Node, Table};

/// Word in the form, the person's name for it, its kind, and whether a chair has arms.
const COMMON: [(&str, &str, &str, Option<bool>); 6] = [
    ("armchair", "armchair", "chair", Some(true)),
    ("kitchen-chair", "kitchen chair", "chair", Some(false)),
    ("worktop", "worktop", "worktop", None),
    ("hall", "hall", "path", None),
    ("bottom-stair", "bottom stair", "step", None),
    ("wall", "wall", "wall", None),
];

/// The words to choose from.
pub(crate) fn words() -> Vec<(&'static str, String)> {
    let label = |one: &(&'static str, &str, &str, Option<bool>)| match one.0 {
        "armchair" => "a firm chair with arms".to_owned(),
        "kitchen-chair" => "a firm chair without arms".to_owned(),
        "worktop" => "a worktop to hold".to_owned(),
        "hall" => "a hall or way of some metres".to_owned(),
        "bottom-stair" => "a bottom stair".to_owned(),
        _ => "a free wall".to_owned(),
    };
    COMMON.iter().map(|one| (one.0, label(one))).collect()
}

/// The places chosen; a place that is known already stays as it is.
pub(crate) fn read<'g>(
    chosen: impl Iterator<Item = &'g str>,
    known: Option<&Node>,
) -> Option<Node> {
    let mut list = match known.map(|node| &node.content) {
        Some(Content::List(list)) => list.clone(),
        _ => Vec::new(),
    };
    for word in chosen {
        let Some((_, name, kind, arms)) = COMMON.iter().find(|one| one.0 == word) else {
            continue;
        };
        if list.iter().any(|node| name_of(node) == Some(name)) {
            continue;
        }
        let mut table = Table::default();
        table.put("name", *name);
        table.put("kind", *kind);
        table.put_known("arms", *arms);
        list.push(table.into());
    }
    (!list.is_empty()).then(|| Content::List(list).into())
}

fn name_of(node: &Node) -> Option<&str> {
    let Content::Table(table) = &node.content else {
        return None;
    };
    match &path::get(table, "name")?.content {
        Content::Text(name) => Some(name),
        _ => None,
    }
}
