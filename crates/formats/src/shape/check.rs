//! Holds a tree against its shape and collects every problem.

use super::near::nearest;
use super::plain::{check_plain, day_of, not_ahead, number_of, unknown_word};
use super::sink::Sink;
use super::{Choice, Count, Field, Kind, Shape, Words};
use crate::tree::{Content, Node, Table};
use jiff::civil::Date;
use rehab::quantity::check_bounds;

/// Holds a tree against a shape.
pub fn check(node: &Node, shape: &'static Shape, sink: &mut Sink) {
    check_table(node, shape, "", shape, sink);
}

/// Holds one table of a tree against a shape of its own, for files whose keys are names.
pub fn check_at(node: &Node, shape: &'static Shape, path: &str, sink: &mut Sink) {
    check_table(node, shape, path, shape, sink);
}

/// The newest day in the tree that has been: plans (a medicine's end) and days of others don't count.
pub fn newest_date(node: &Node, shape: &'static Shape) -> Option<Date> {
    let Content::Table(table) = &node.content else {
        return None;
    };
    let word = deciding_word(table, shape);
    shape
        .fields_for(word)
        .filter_map(|field| newest_of(table.get(field.key)?, &field.kind))
        .max()
}

fn newest_of(node: &Node, kind: &Kind) -> Option<Date> {
    match (kind, &node.content) {
        (Kind::Day, _) => day_of(node).ok(),
        (Kind::Table(shape), _) => newest_date(node, shape),
        (Kind::List(of, _), Content::List(list)) => {
            list.iter().filter_map(|item| newest_of(item, of)).max()
        }
        (Kind::DaysByWord(_), Content::Table(table)) => table
            .entries
            .iter()
            .filter_map(|entry| day_of(&entry.node).ok())
            .max(),
        _ => None,
    }
}

fn deciding_word<'t>(table: &'t Table, shape: &Shape) -> Option<&'t str> {
    match &table.get(shape.choice.as_ref()?.key)?.content {
        Content::Text(word) => Some(word),
        _ => None,
    }
}

fn join(path: &str, key: &str) -> String {
    // A hostile key may be as long as the file.
    let key: String = key.chars().take(60).collect();
    if path.is_empty() {
        key
    } else {
        format!("{path}.{key}")
    }
}

fn check_table(
    node: &Node,
    shape: &'static Shape,
    path: &str,
    root: &'static Shape,
    sink: &mut Sink,
) {
    let Content::Table(table) = &node.content else {
        let message = format!(
            "{} stands where a table of keys is expected",
            node.content.words()
        );
        return sink.say(path, node.line, message);
    };
    let word = deciding_word(table, shape);
    if let Some(choice) = &shape.choice {
        check_choice(node, table, choice, path, sink);
    }
    // Which keys belong to a kind that is not known nobody can say; the kind itself has been told.
    let kind_is_unknown = shape
        .choice
        .as_ref()
        .is_some_and(|choice| !choice.cases.iter().any(|(one, _)| Some(*one) == word));
    for entry in &table.entries {
        let place = join(path, &entry.key);
        match shape.fields_for(word).find(|field| field.key == entry.key) {
            Some(field) if entry.node.content != Content::Null => {
                check_value(&entry.node, &field.kind, &place, root, sink);
            }
            Some(_) => {}
            None if shape
                .choice
                .as_ref()
                .is_some_and(|choice| choice.key == entry.key) => {}
            None if kind_is_unknown && shape.field(&entry.key).is_some() => {}
            None => {
                let message = unknown_key(&entry.key, shape, word, root);
                sink.say(&place, entry.line, message);
            }
        }
    }
    for field in shape.fields_for(word) {
        if field.needed && table.get(field.key).is_none() {
            let message = format!("'{}' is missing ({}); add it", field.key, field.about);
            sink.say(&join(path, field.key), node.line, message);
        }
    }
}

fn check_choice(node: &Node, table: &Table, choice: &Choice, path: &str, sink: &mut Sink) {
    let place = join(path, choice.key);
    let known: Vec<&str> = choice.cases.iter().map(|(word, _)| *word).collect();
    match table
        .get(choice.key)
        .map(|found| (&found.content, found.line))
    {
        None => {
            let message = format!("'{}' is missing; add it: {}", choice.key, known.join(", "));
            sink.say(&place, node.line, message);
        }
        Some((Content::Text(word), line)) if !known.contains(&word.as_str()) => {
            sink.say(&place, line, unknown_word(word, choice.list, &known));
        }
        Some((Content::Text(_), _)) => {}
        Some((other, line)) => {
            let message = format!(
                "{} stands where a word is expected: {}",
                other.words(),
                known.join(", ")
            );
            sink.say(&place, line, message);
        }
    }
}

fn unknown_key(
    key: &str,
    shape: &'static Shape,
    word: Option<&str>,
    root: &'static Shape,
) -> String {
    let shown: String = key.chars().take(60).collect();
    let fields: Vec<&Field> = shape.fields_for(word).collect();
    let mut known: Vec<&str> = fields.iter().map(|field| field.key).collect();
    known.extend(shape.choice.as_ref().map(|choice| choice.key));
    if let (Some(choice), Some(word)) = (&shape.choice, word)
        && shape.field(key).is_some()
    {
        return format!(
            "'{shown}' does not belong to the {} '{word}'; remove it",
            choice.list
        );
    }
    if let Some(near) = nearest(key, known.iter().copied()) {
        return format!("'{shown}' is not a known key; did you mean '{near}'");
    }
    if let Some(home) = home_of(key, root, "") {
        return format!("'{shown}' is not a key of this table; it belongs under [{home}]");
    }
    format!(
        "'{shown}' is not a known key; known here are {}",
        known.join(", ")
    )
}

/// The table of the file that has exactly this key.
fn home_of(key: &str, shape: &'static Shape, path: &str) -> Option<String> {
    for field in shape.fields {
        let inner = match &field.kind {
            Kind::Table(inner) | Kind::List(Kind::Table(inner), _) => inner,
            _ => continue,
        };
        let place = join(path, field.key);
        if inner.field(key).is_some() {
            return Some(place);
        }
        if let Some(found) = home_of(key, inner, &place) {
            return Some(found);
        }
    }
    None
}

fn check_value(
    node: &Node,
    kind: &'static Kind,
    path: &str,
    root: &'static Shape,
    sink: &mut Sink,
) {
    match kind {
        Kind::Table(shape) => check_table(node, shape, path, root, sink),
        Kind::List(of, count) => check_list(node, of, *count, path, root, sink),
        Kind::DaysByWord(words) => check_days(node, *words, path, sink),
        Kind::Pressure => check_pressure(node, path, sink),
        Kind::Day => match day_of(node) {
            Ok(day) => check_course(day, path, node.line, sink),
            Err(message) => sink.say(path, node.line, message),
        },
        plain => {
            if let Err(message) = check_plain(node, plain, sink.on) {
                sink.say(path, node.line, message);
            }
        }
    }
}

fn check_list(
    node: &Node,
    of: &'static Kind,
    count: Count,
    path: &str,
    root: &'static Shape,
    sink: &mut Sink,
) {
    let Content::List(list) = &node.content else {
        let message = format!(
            "{} stands where a list in square brackets is expected",
            node.content.words()
        );
        return sink.say(path, node.line, message);
    };
    if list.len() < count.least || list.len() > count.most {
        let wanted = if count.least == count.most {
            count.least.to_string()
        } else {
            format!("{} to {}", count.least, count.most)
        };
        let message = format!("the list has {} entries; it takes {wanted}", list.len());
        sink.say(path, node.line, message);
        return;
    }
    for (index, item) in list.iter().enumerate() {
        let place = format!("{path}[{}]", index + 1);
        if count.unique && list[..index].iter().any(|one| one.content == item.content) {
            sink.say(
                &place,
                item.line,
                "this stands twice in the list; keep one of them",
            );
        }
        check_value(item, of, &place, root, sink);
    }
}

fn check_days(node: &Node, words: Words, path: &str, sink: &mut Sink) {
    let Content::Table(table) = &node.content else {
        let message = format!(
            "{} stands where a table of days is expected",
            node.content.words()
        );
        return sink.say(path, node.line, message);
    };
    let known = (words.all)();
    for entry in &table.entries {
        let place = join(path, &entry.key);
        if !known.contains(&entry.key.as_str()) {
            sink.say(
                &place,
                entry.line,
                unknown_word(&entry.key, words.list, &known),
            );
        }
        match day_of(&entry.node) {
            Ok(day) => check_course(day, &place, entry.line, sink),
            Err(message) => sink.say(&place, entry.line, message),
        }
    }
}

fn check_pressure(node: &Node, path: &str, sink: &mut Sink) {
    let form = "write the pressure as [systolic, diastolic], for example [128, 74]";
    let Content::List(list) = &node.content else {
        return sink.say(
            path,
            node.line,
            format!("{} stands here; {form}", node.content.words()),
        );
    };
    let numbers: Vec<f64> = list.iter().filter_map(|one| number_of(one).ok()).collect();
    let [systolic, diastolic] = numbers[..] else {
        return sink.say(path, node.line, format!("this is not two numbers; {form}"));
    };
    if list.len() != 2 {
        return sink.say(path, node.line, format!("this is not two numbers; {form}"));
    }
    if systolic < diastolic {
        let message = format!(
            "systolic and diastolic are swapped: {systolic} is below {diastolic}; write [{diastolic}, {systolic}] if that is what was measured"
        );
        return sink.say(path, node.line, message);
    }
    if systolic == diastolic {
        let message = format!(
            "systolic and diastolic are both {systolic}, which is not possible; measure again"
        );
        return sink.say(path, node.line, message);
    }
    for (key, value) in [("systolic_mmhg", systolic), ("diastolic_mmhg", diastolic)] {
        if let Err(error) = check_bounds(key, value) {
            sink.say(path, node.line, error.message);
        }
    }
}

fn check_course(day: Date, path: &str, line: Option<usize>, sink: &mut Sink) {
    if let Err(message) = not_ahead(day, sink.on) {
        sink.say(path, line, message);
    }
    if let Some(born) = sink.born.filter(|born| day < *born) {
        sink.say(
            path,
            line,
            format!("{day} lies before the day of birth, {born}; read both again"),
        );
    }
}
