//! The tree back into text.

use super::{Content, Node, Table};
use serde_json::Value;

/// TOML: plain values first, then tables, then lists of tables, so that every key stays in its own table.
pub(super) fn toml(table: &Table) -> String {
    let mut out = String::new();
    toml_table(&mut out, table, "");
    out
}

fn toml_table(out: &mut String, table: &Table, path: &str) {
    let nested = !path.is_empty();
    let plain =
        |node: &Node| (!is_table(node) && !is_list_of_tables(node)) || (nested && is_small(node));
    for entry in table.entries.iter().filter(|entry| plain(&entry.node)) {
        out.push_str(&format!("{} = {}\n", key(&entry.key), laid(&entry.node)));
    }
    for entry in table.entries.iter().filter(|entry| !plain(&entry.node)) {
        let name = if nested {
            format!("{path}.{}", key(&entry.key))
        } else {
            key(&entry.key)
        };
        match &entry.node.content {
            Content::Table(inner) => {
                out.push_str(&format!("\n[{name}]\n"));
                toml_table(out, inner, &name);
            }
            Content::List(list) => {
                for item in list {
                    if let Content::Table(inner) = &item.content {
                        out.push_str(&format!("\n[[{name}]]\n"));
                        toml_table(out, inner, &name);
                    }
                }
            }
            _ => {}
        }
    }
}

/// Longest table that stands in one line of its own.
const INLINE: usize = 72;

/// Whether a table, or every table of a list, is short enough to stand in one line, as people write an effort.
fn is_small(node: &Node) -> bool {
    let small = |node: &Node| match &node.content {
        Content::Table(table) => {
            table
                .entries
                .iter()
                .all(|entry| !is_table(&entry.node) && !is_list_of_tables(&entry.node))
                && inline(node).chars().count() <= INLINE
        }
        _ => false,
    };
    match &node.content {
        Content::List(list) => list.iter().all(small),
        _ => small(node),
    }
}

/// In one line, but a long list of tables with one line for each.
fn laid(node: &Node) -> String {
    let line = inline(node);
    match &node.content {
        Content::List(list) if is_list_of_tables(node) && line.chars().count() > INLINE + 12 => {
            let lines: String = list
                .iter()
                .map(|item| format!("  {},\n", inline(item)))
                .collect();
            format!("[\n{lines}]")
        }
        _ => line,
    }
}

fn is_table(node: &Node) -> bool {
    matches!(node.content, Content::Table(_))
}

fn is_list_of_tables(node: &Node) -> bool {
    matches!(&node.content, Content::List(list) if !list.is_empty() && list.iter().all(is_table))
}

fn inline(node: &Node) -> String {
    match &node.content {
        Content::Null => "\"\"".to_owned(),
        Content::Flag(flag) => flag.to_string(),
        Content::Whole(number) => number.to_string(),
        Content::Number(number) => format!("{number:?}"),
        Content::Text(text) => quoted(text),
        Content::Date(date) => date.to_string(),
        Content::List(list) => {
            let parts: Vec<String> = list.iter().map(inline).collect();
            format!("[{}]", parts.join(", "))
        }
        Content::Table(table) => {
            let parts: Vec<String> = table
                .entries
                .iter()
                .map(|entry| format!("{} = {}", key(&entry.key), inline(&entry.node)))
                .collect();
            format!("{{ {} }}", parts.join(", "))
        }
    }
}

fn key(key: &str) -> String {
    let bare = |sign: char| sign.is_ascii_alphanumeric() || sign == '_' || sign == '-';
    if !key.is_empty() && key.chars().all(bare) {
        key.to_owned()
    } else {
        quoted(key)
    }
}

fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for sign in text.chars() {
        match sign {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            '\r' => out.push_str("\\r"),
            sign if sign < ' ' || sign == '\u{7f}' => {
                out.push_str(&format!("\\u{:04X}", u32::from(sign)));
            }
            sign => out.push(sign),
        }
    }
    out.push('"');
    out
}

/// JSON, two spaces to a level.
pub(super) fn json(table: &Table) -> String {
    let value = json_value(&Node::from(Content::Table(table.clone())));
    let mut text = serde_json::to_string_pretty(&value)
        .expect("a tree of text keys and finite numbers can always be written");
    text.push('\n');
    text
}

pub(super) fn json_value(node: &Node) -> Value {
    match &node.content {
        Content::Null => Value::Null,
        Content::Flag(flag) => Value::Bool(*flag),
        Content::Whole(number) => Value::from(*number),
        Content::Number(number) => Value::from(*number),
        Content::Text(text) => Value::String(text.clone()),
        Content::Date(date) => Value::String(date.to_string()),
        Content::List(list) => Value::Array(list.iter().map(json_value).collect()),
        Content::Table(table) => Value::Object(
            table
                .entries
                .iter()
                .map(|entry| (entry.key.clone(), json_value(&entry.node)))
                .collect(),
        ),
    }
}
