//! Places in a case file: `home.place[2].name`.

use formats::tree::{Content, Entry, Node, Table};

/// One step of a path: a key, and the item of its list, counted from 1.
fn steps(path: &str) -> Vec<(&str, Option<usize>)> {
    path.split('.')
        .map(|step| match step.split_once('[') {
            Some((key, item)) => (key, item.trim_end_matches(']').parse().ok()),
            None => (step, None),
        })
        .collect()
}

/// The value at a path.
pub(crate) fn get<'t>(table: &'t Table, path: &str) -> Option<&'t Node> {
    let mut table = table;
    let steps = steps(path);
    let (last, before) = steps.split_last()?;
    for step in before {
        match &item(table, *step)?.content {
            Content::Table(inner) => table = inner,
            _ => return None,
        }
    }
    item(table, *last)
}

fn item<'t>(table: &'t Table, (key, place): (&str, Option<usize>)) -> Option<&'t Node> {
    let node = table.get(key)?;
    match (place, &node.content) {
        (None, _) => Some(node),
        (Some(place), Content::List(list)) => list.get(place.checked_sub(1)?),
        (Some(_), _) => None,
    }
}

/// The text at a path.
pub(crate) fn text<'t>(table: &'t Table, path: &str) -> Option<&'t str> {
    match &get(table, path)?.content {
        Content::Text(text) => Some(text),
        _ => None,
    }
}

/// How many items a list at a path has.
pub(crate) fn count(table: &Table, path: &str) -> usize {
    match get(table, path).map(|node| &node.content) {
        Some(Content::List(list)) => list.len(),
        _ => 0,
    }
}

/// Puts a value at a path, making tables and items on the way; `None` takes it out.
pub(crate) fn set(table: &mut Table, path: &str, value: Option<Node>) {
    if value.is_none() && get(table, path).is_none() {
        return;
    }
    set_at(table, &steps(path), value);
}

fn set_at(table: &mut Table, steps: &[(&str, Option<usize>)], value: Option<Node>) {
    let Some(((key, place), rest)) = steps.split_first() else {
        return;
    };
    if rest.is_empty() && place.is_none() {
        table.entries.retain(|entry| entry.key != *key);
        if let Some(value) = value {
            table.put(key, value);
        }
        return;
    }
    let node = entry(table, key);
    let node = match place {
        Some(place) => list_item(node, *place),
        None => node,
    };
    if rest.is_empty() {
        if let Some(value) = value {
            *node = value;
        }
        return;
    }
    if !matches!(node.content, Content::Table(_)) {
        *node = Table::default().into();
    }
    if let Content::Table(inner) = &mut node.content {
        set_at(inner, rest, value);
    }
}

fn entry<'t>(table: &'t mut Table, key: &str) -> &'t mut Node {
    let place = table.entries.iter().position(|entry| entry.key == key);
    let place = place.unwrap_or_else(|| {
        table.entries.push(Entry {
            key: key.to_owned(),
            line: None,
            node: Content::Null.into(),
        });
        table.entries.len() - 1
    });
    &mut table.entries[place].node
}

fn list_item(node: &mut Node, place: usize) -> &mut Node {
    if !matches!(node.content, Content::List(_)) {
        *node = Content::List(Vec::new()).into();
    }
    let Content::List(list) = &mut node.content else {
        unreachable!("it was made a list in the line above")
    };
    while list.len() < place.max(1) {
        list.push(Table::default().into());
    }
    &mut list[place.max(1) - 1]
}

/// Takes items out of a list at a path, by their places from 1; an emptied list goes too.
pub(crate) fn take_out(table: &mut Table, path: &str, places: &[usize]) {
    let Some(Content::List(list)) = get(table, path).map(|node| node.content.clone()) else {
        return;
    };
    let kept: Vec<Node> = list
        .into_iter()
        .enumerate()
        .filter(|(place, _)| !places.contains(&(place + 1)))
        .map(|(_, node)| node)
        .collect();
    let value = (!kept.is_empty()).then(|| Content::List(kept).into());
    set(table, path, value);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_put_at_a_path_is_found_there() {
        let mut table = Table::default();
        set(&mut table, "home.place[2].name", Some("hall".into()));
        assert_eq!(count(&table, "home.place"), 2);
        assert_eq!(
            get(&table, "home.place[2].name").unwrap().content,
            Content::Text("hall".to_owned())
        );
        assert!(get(&table, "home.place[1].name").is_none());
        take_out(&mut table, "home.place", &[1]);
        assert!(get(&table, "home.place[1].name").is_some());
        set(&mut table, "home.place[1].name", None);
        assert!(get(&table, "home.place[1].name").is_none());
        set(&mut table, "person.born", None);
        assert!(
            table.get("person").is_none(),
            "nothing is made by taking nothing out"
        );
    }
}
