//! From what was typed to a case: every answer is held against the same rules as a file; what is refused is told at
//! its field.

use super::ask::{Ask, Form, Kind};
use super::given::Given;
use super::{history, medicines, path, places};
use crate::phrases::without_options;
use formats::tree::{Content, Node, Table};
use formats::{Problems, SourceFile};
use jiff::civil::Date;
use rehab::assessment::Case;
use std::collections::BTreeMap;

/// What is wrong, by the name of the field; what belongs to no field of the form stands under an empty name.
#[derive(Debug, Default)]
pub(crate) struct Wrong(pub(crate) BTreeMap<String, String>);

impl Wrong {
    fn say(&mut self, name: &str, message: &str) {
        let said = self.0.entry(name.to_owned()).or_default();
        if !said.is_empty() {
            said.push_str("; ");
        }
        said.push_str(message);
    }
}

/// The case that comes of answers laid over what is known.
pub(crate) fn read(form: &Form, given: &Given, base: &Table, on: Date) -> Result<Case, Wrong> {
    read_as(form, given, base, on, history::settle, |file| {
        formats::case::from_file(file, Some(on))
    })
}

/// What comes of answers laid over what is known; `settle` puts the table in order before it is `taken`.
pub(crate) fn read_as<T>(
    form: &Form,
    given: &Given,
    base: &Table,
    on: Date,
    settle: impl Fn(&mut Table),
    taken: impl Fn(&SourceFile) -> Result<T, Problems>,
) -> Result<T, Wrong> {
    let mut wrong = Wrong::default();
    let mut table = base.clone();
    let places = Resolved::of(form, given, &mut table, on);
    // What is kept as tables comes last: until then each of them stands where the form showed it.
    let (last, first): (Vec<&Ask>, Vec<&Ask>) = form
        .asks()
        .partition(|ask| matches!(ask.kind, Kind::Kinds(_)));
    for ask in first.into_iter().chain(last) {
        let Some(at) = places.path(&ask.path) else {
            continue;
        };
        match answer(ask, given, &table, &at, on) {
            Ok(Answer::Put(node)) => path::set(&mut table, &at, node),
            Ok(Answer::Device(word)) => set_device(&mut table, &word),
            Ok(Answer::Asked(word)) => {
                if let Err(message) = history::put(&mut table, &ask.path, &word) {
                    wrong.say(&ask.path, &message);
                }
            }
            Err(message) => wrong.say(&ask.path, &message),
        }
    }
    let moved = drop_empty_rows(form, given, &mut table);
    settle(&mut table);
    let file = SourceFile::from_tree("form", table.into());
    match taken(&file) {
        Ok(value) if wrong.0.is_empty() => Ok(value),
        Ok(_) => Err(wrong),
        Err(problems) => {
            for problem in &problems.0 {
                let name = field_of(form, &places, &moved, &problem.key_path);
                wrong.say(
                    &name,
                    &with_labels(form, &name, &without_options(&problem.message)),
                );
            }
            Err(wrong)
        }
    }
}

/// Where the words in brackets lead.
struct Resolved(BTreeMap<String, String>);

impl Resolved {
    fn of(form: &Form, given: &Given, table: &mut Table, on: Date) -> Self {
        let mut found = BTreeMap::new();
        for added in form.added {
            let mark = format!("{}[{}]", added.list, added.mark);
            let inside = format!("{mark}.");
            let answered = form.asks().any(|ask| {
                ask.path.starts_with(&inside)
                    && !ask.path.ends_with(".date")
                    && given.has(&ask.path)
            });
            if !answered {
                continue;
            }
            let item = format!("{}[{}]", added.list, path::count(table, added.list) + 1);
            for (key, value) in added.fixed {
                path::set(table, &format!("{item}.{key}"), Some((*value).into()));
            }
            path::set(table, &format!("{item}.date"), Some(on.into()));
            found.insert(mark, item);
        }
        Self(found)
    }

    /// The place of an answer; `None` where it lies in an item that is not added.
    fn path(&self, asked: &str) -> Option<String> {
        for (mark, item) in &self.0 {
            if let Some(rest) = asked.strip_prefix(mark.as_str()) {
                return Some(format!("{item}{rest}"));
            }
        }
        let is_mark = asked
            .split('[')
            .nth(1)
            .and_then(|rest| rest.split(']').next())
            .is_some_and(|inside| inside.parse::<usize>().is_err());
        (!is_mark).then(|| asked.to_owned())
    }
}

enum Answer {
    Put(Option<Node>),
    Device(String),
    Asked(String),
}

fn answer(ask: &Ask, given: &Given, table: &Table, at: &str, on: Date) -> Result<Answer, String> {
    let is_list = matches!(ask.kind, Kind::Ticks { .. } | Kind::Kinds(_) | Kind::Places);
    if !is_list && given.is_twice(&ask.path) {
        return Err("this came twice, and one of the two would be lost; write it once".to_owned());
    }
    let text = given.one(&ask.path);
    let node = match &ask.kind {
        Kind::Text | Kind::Choice(_) => (!text.is_empty()).then(|| text.into()),
        // An added item has today already, if no other day was written.
        Kind::Day if text.is_empty() && ask.path.contains('[') && ask.path.ends_with(".date") => {
            path::get(table, at).cloned()
        }
        Kind::Day => (!text.is_empty()).then(|| day(text)),
        Kind::Number => number(text)?,
        Kind::YesNo => match text {
            "yes" => Some(true.into()),
            "no" => Some(false.into()),
            _ => None,
        },
        Kind::Pressure => pressure(text)?,
        Kind::Ticks { none, .. } => ticks(given, &ask.path, none.is_some())?,
        Kind::Kinds(_) => kinds(given, &ask.path, table, at),
        Kind::Commas => list(
            text.split(',')
                .map(str::trim)
                .filter(|one| !one.is_empty())
                .map(|one| Ok(one.into())),
        )?,
        // "None" is asked, and no number at all: an empty list. Nothing written is not asked.
        Kind::Numbers if text.trim().eq_ignore_ascii_case("none") => {
            Some(Content::List(Vec::new()).into())
        }
        Kind::Numbers => list(
            text.split(',')
                .map(str::trim)
                .filter(|one| !one.is_empty())
                .map(|one| number(one).map(|node| node.unwrap_or(Content::Null.into()))),
        )?,
        Kind::Medicines => {
            let examined = medicines::examined_before(table, on);
            medicines::read(text, path::get(table, at), on, examined)?
        }
        Kind::Device => return Ok(Answer::Device(text.to_owned())),
        Kind::Asked => return Ok(Answer::Asked(text.to_owned())),
        Kind::Places => places::read(given.all(&ask.path), path::get(table, at)),
    };
    Ok(Answer::Put(node))
}

fn day(text: &str) -> Node {
    text.parse::<Date>()
        .map_or_else(|_| text.into(), Into::into)
}

fn number(text: &str) -> Result<Option<Node>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    match text.replace(',', ".").parse::<f64>() {
        Ok(number) if number.is_finite() => Ok(Some(number.into())),
        _ => Err(format!("'{text}' is not a number; write figures only")),
    }
}

/// A pressure as it is said: 128/74.
fn pressure(text: &str) -> Result<Option<Node>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let refused =
        || format!("'{text}' is not a pressure; write both numbers with a stroke, as 128/74");
    let (upper, lower) = text.split_once('/').ok_or_else(refused)?;
    let part = |text: &str| number(text.trim()).ok().flatten().ok_or_else(refused);
    Ok(Some(Content::List(vec![part(upper)?, part(lower)?]).into()))
}

fn list(items: impl Iterator<Item = Result<Node, String>>) -> Result<Option<Node>, String> {
    let items = items.collect::<Result<Vec<Node>, String>>()?;
    Ok((!items.is_empty()).then(|| Content::List(items).into()))
}

/// "None of these" is asked and absent: an empty list. Nothing ticked is not asked.
fn ticks(given: &Given, name: &str, can_say_none: bool) -> Result<Option<Node>, String> {
    let words: Vec<&str> = given.all(name).collect();
    let some: Vec<Node> = words
        .iter()
        .filter(|word| **word != "none")
        .map(|word| (*word).into())
        .collect();
    let none = can_say_none && words.contains(&"none");
    if none && !some.is_empty() {
        return Err(
            "none of these is ticked, and one of these too; take one of the two out".to_owned(),
        );
    }
    Ok((!some.is_empty() || none).then(|| Content::List(some).into()))
}

/// Tables with a key `kind`: those that are known keep their other keys.
fn kinds(given: &Given, name: &str, table: &Table, at: &str) -> Option<Node> {
    let known = match path::get(table, at).map(|node| &node.content) {
        Some(Content::List(list)) => list.clone(),
        _ => Vec::new(),
    };
    let kind_of = |node: &Node| match &node.content {
        Content::Table(inner) => path::get(inner, "kind").map(|kind| kind.content.clone()),
        _ => None,
    };
    let is_of = |node: &Node, word: &str| kind_of(node) == Some(Content::Text(word.to_owned()));
    // Two of one kind are one tick: both stay.
    let mut made: Vec<Node> = known
        .iter()
        .filter(|node| given.all(name).any(|word| is_of(node, word)))
        .cloned()
        .collect();
    for word in given.all(name) {
        if !made.iter().any(|node| is_of(node, word)) {
            let mut inner = Table::default();
            inner.put("kind", word);
            made.push(inner.into());
        }
    }
    (!made.is_empty()).then(|| Content::List(made).into())
}

fn set_device(table: &mut Table, word: &str) {
    let made = |kind: Option<&str>| {
        let mut inner = Table::default();
        inner.put_known("kind", kind);
        Some(Node::from(inner))
    };
    for (key, kind) in [("device", Some("icd")), ("pacemaker", None)] {
        let at = format!("heart.{key}");
        let chosen =
            (key == "device" && word == "icd") || (key == "pacemaker" && word == "pacemaker");
        match (chosen, word) {
            (true, _) if path::get(table, &at).is_none() => path::set(table, &at, made(kind)),
            (false, "none") => path::set(table, &at, None),
            _ => {}
        }
    }
}

/// Takes emptied rows out, and tells for each list which place each row has now.
fn drop_empty_rows(form: &Form, given: &Given, table: &mut Table) -> BTreeMap<String, Vec<usize>> {
    let mut moved = BTreeMap::new();
    for list in form.rows {
        let count = path::count(table, list);
        let is_empty = |place: &usize| {
            let inside = format!("{list}[{place}].");
            let mut asked = form
                .asks()
                .filter(|ask| ask.path.starts_with(&inside))
                .peekable();
            asked.peek().is_some() && asked.all(|ask| !given.has(&ask.path))
        };
        let empty: Vec<usize> = (1..=count).filter(is_empty).collect();
        path::take_out(table, list, &empty);
        moved.insert(
            (*list).to_owned(),
            (1..=count).filter(|place| !empty.contains(place)).collect(),
        );
    }
    moved
}

/// The field at which a problem is told.
fn field_of(
    form: &Form,
    places: &Resolved,
    moved: &BTreeMap<String, Vec<usize>>,
    key_path: &str,
) -> String {
    let key_path = before_moving(moved, key_path);
    let mut best: Option<(usize, &str)> = None;
    for ask in form.asks() {
        let Some(at) = places.path(&ask.path) else {
            continue;
        };
        let fits = key_path == at
            || key_path
                .strip_prefix(&at)
                .is_some_and(|rest| rest.starts_with(['.', '[']));
        if fits && best.is_none_or(|(length, _)| at.len() > length) {
            best = Some((at.len(), &ask.path));
        }
    }
    if best.is_none() && key_path.starts_with("heart.device") {
        return form
            .asks()
            .find(|ask| matches!(ask.kind, Kind::Device))
            .map_or_else(String::new, |ask| ask.path.clone());
    }
    best.map_or_else(
        || sibling(form, places, &key_path),
        |(_, name)| name.to_owned(),
    )
}

/// A message with the labels of the form where it names keys of the file: nobody sees those keys on the page.
fn with_labels(form: &Form, name: &str, message: &str) -> String {
    let mut told = String::new();
    let is_of_key = |sign: char| sign.is_ascii_alphanumeric() || sign == '_';
    let mut rest = message;
    while !rest.is_empty() {
        let end = rest.find(|sign| !is_of_key(sign)).unwrap_or(rest.len());
        let (word, after) = rest.split_at(end);
        let is_quoted = told.ends_with('\'') && after.starts_with('\'');
        match label_of(form, name, word).filter(|_| is_quoted || word.contains('_')) {
            Some(label) => told.push_str(label),
            None => told.push_str(word),
        }
        let next = after.find(is_of_key).unwrap_or(after.len());
        told.push_str(&after[..next]);
        rest = &after[next..];
    }
    told
}

/// The label of the field with this last key, the nearest to the one at which the message stands.
fn label_of<'f>(form: &'f Form, name: &str, key: &str) -> Option<&'f str> {
    let last = |path: &str| path.rsplit('.').next() == Some(key);
    let shared = |path: &str| {
        let same = path.chars().zip(name.chars()).take_while(|(a, b)| a == b);
        same.count()
    };
    let named = form.asks().filter(|ask| last(&ask.path));
    named
        .max_by_key(|ask| shared(&ask.path))
        .map(|ask| ask.label.as_str())
}

/// A missing key of an item is told at the first field of that item.
fn sibling(form: &Form, places: &Resolved, key_path: &str) -> String {
    let item = key_path.rsplit_once('.').map_or("", |(item, _)| item);
    let inside = format!("{item}.");
    let first = form.asks().find(|ask| {
        !item.is_empty()
            && places
                .path(&ask.path)
                .is_some_and(|at| at.starts_with(&inside))
    });
    first.map_or_else(String::new, |ask| ask.path.clone())
}

fn before_moving(moved: &BTreeMap<String, Vec<usize>>, key_path: &str) -> String {
    for (list, places) in moved {
        let Some((now, rest)) = key_path
            .strip_prefix(&format!("{list}["))
            .and_then(|rest| rest.split_once(']'))
        else {
            continue;
        };
        let was = now
            .parse::<usize>()
            .ok()
            .and_then(|now| places.get(now.checked_sub(1)?));
        if let Some(was) = was {
            return format!("{list}[{was}]{rest}");
        }
    }
    key_path.to_owned()
}
