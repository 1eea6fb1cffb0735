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
    for entry in &table.entries {
        if !is_table(&entry.node) && !is_list_of_tables(&entry.node) {
            out.push_str(&format!("{} = {}\n", key(&entry.key), inline(&entry.node)));
        }
    }
    for entry in &table.entries {
        let name = if path.is_empty() {
            key(&entry.key)
        } else {
            format!("{path}.{}", key(&entry.key))
        };
        match &entry.node.content {
            Content::Table(inner) => {
                out.push_str(&format!("\n[{name}]\n"));
                toml_table(out, inner, &name);
            }
            Content::List(list) if is_list_of_tables(&entry.node) => {
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
