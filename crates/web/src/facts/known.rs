//! What is known already, as a form shows it.

use super::ask::{Form, Kind};
use super::given::Given;
use super::{history, medicines, path};
use formats::tree::{Content, Node, Table};

/// The values with which a form opens.
pub(crate) fn known(form: &Form, table: &Table) -> Given {
    let mut given = Given::default();
    for ask in form.asks() {
        if let Kind::Device = ask.kind {
            let has = |key| path::get(table, key).is_some();
            match (has("heart.device"), has("heart.pacemaker")) {
                (true, _) => given.put(&ask.path, "icd"),
                (false, true) => given.put(&ask.path, "pacemaker"),
                (false, false) => {}
            }
            continue;
        }
        if let Kind::Asked = ask.kind {
            if let Some(answer) = history::known(table, &ask.path) {
                given.put(&ask.path, answer);
            }
            continue;
        }
        let Some(node) = path::get(table, &ask.path) else {
            continue;
        };
        match (&ask.kind, &node.content) {
            (Kind::Medicines, _) => given.put(&ask.path, medicines::shown(node)),
            (Kind::Ticks { none: Some(_), .. }, Content::List(list)) if list.is_empty() => {
                given.put(&ask.path, "none");
            }
            (Kind::Ticks { .. }, Content::List(list)) => {
                for one in list {
                    given.put(&ask.path, plain(one));
                }
            }
            (Kind::Kinds(_), Content::List(list)) => {
                for one in list {
                    if let Content::Table(inner) = &one.content
                        && let Some(kind) = path::get(inner, "kind")
                    {
                        given.put(&ask.path, plain(kind));
                    }
                }
            }
            (Kind::Pressure, Content::List(list)) => {
                given.put(
                    &ask.path,
                    list.iter().map(plain).collect::<Vec<_>>().join("/"),
                );
            }
            (Kind::Commas | Kind::Numbers, Content::List(list)) => {
                given.put(
                    &ask.path,
                    list.iter().map(plain).collect::<Vec<_>>().join(", "),
                );
            }
            (Kind::Places, _) => {}
            _ => given.put(&ask.path, plain(node)),
        }
    }
    given
}

fn plain(node: &Node) -> String {
    match &node.content {
        Content::Flag(true) => "yes".to_owned(),
        Content::Flag(false) => "no".to_owned(),
        Content::Whole(number) => number.to_string(),
        Content::Number(number) => number.to_string(),
        Content::Text(text) => text.clone(),
        Content::Date(date) => date.to_string(),
        Content::Null | Content::List(_) | Content::Table(_) => String::new(),
    }
}
