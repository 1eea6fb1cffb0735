//! One tree of values with lines for every notation: what TOML and JSON files are read into before anybody asks
//! what they mean, and what is written out of.

mod json;
mod toml;
mod write;

use crate::{Problem, Problems};
use jiff::civil::Date;

/// How much is read: bounds memory and time on hostile input.
#[derive(Clone, Copy, Debug)]
pub struct Most {
    /// Bytes of a file.
    pub bytes: usize,
    /// Values in it.
    pub values: usize,
}

/// What is read of files of our own formats: a case of many years is far below it.
pub const MOST: Most = Most {
    bytes: 2 * 1024 * 1024,
    values: 200_000,
};

/// Deepest nesting that is read.
pub(crate) const MOST_DEPTH: usize = 32;

/// How a file is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notation {
    /// TOML.
    Toml,
    /// JSON.
    Json,
}

impl Notation {
    /// By the ending of the name, else by the first sign: JSON begins with `{` or `[` that is no TOML header.
    pub fn of(file: &str, text: &str) -> Self {
        let lower = file.to_ascii_lowercase();
        if lower.ends_with(".json") {
            return Self::Json;
        }
        if lower.ends_with(".toml") {
            return Self::Toml;
        }
        if text.trim_start().starts_with('{') {
            Self::Json
        } else {
            Self::Toml
        }
    }
}

/// One value with the line it stands on.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// What it is.
    pub content: Content,
    /// Line, counted from 1; `None` for a tree that was not read from text.
    pub line: Option<usize>,
}

/// What a value is.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// JSON's null: the same as a key left out.
    Null,
    /// Yes or no.
    Flag(bool),
    /// A whole number.
    Whole(i64),
    /// Any other number.
    Number(f64),
    /// Text.
    Text(String),
    /// A day written as such (TOML); JSON writes days as text.
    Date(Date),
    /// A list.
    List(Vec<Node>),
    /// A table of keys.
    Table(Table),
}

impl Content {
    /// What it is, in words for a message.
    pub const fn words(&self) -> &'static str {
        match self {
            Self::Null => "nothing (null)",
            Self::Flag(_) => "true or false",
            Self::Whole(_) | Self::Number(_) => "a number",
            Self::Text(_) => "text",
            Self::Date(_) => "a day",
            Self::List(_) => "a list",
            Self::Table(_) => "a table of keys",
        }
    }
}

/// One key with its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The key.
    pub key: String,
    /// Line of the key.
    pub line: Option<usize>,
    /// Its value.
    pub node: Node,
}

/// Keys with values in the order of the file.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Table {
    /// The entries; a key stands only once.
    pub entries: Vec<Entry>,
}

impl Table {
    /// The value of a key; null counts as left out.
    pub fn get(&self, key: &str) -> Option<&Node> {
        self.entries
            .iter()
            .find(|entry| entry.key == key)
            .map(|entry| &entry.node)
            .filter(|node| node.content != Content::Null)
    }

    /// Adds a key with its value; used when a tree is made for writing.
    pub fn put(&mut self, key: &str, node: impl Into<Node>) {
        self.entries.push(Entry {
            key: key.to_owned(),
            line: None,
            node: node.into(),
        });
    }

    /// Adds a key when there is a value.
    pub fn put_known<T: Into<Node>>(&mut self, key: &str, value: Option<T>) {
        if let Some(value) = value {
            self.put(key, value);
        }
    }

    /// Adds a list when it is not empty.
    pub fn put_list(&mut self, key: &str, list: Vec<Node>) {
        if !list.is_empty() {
            self.put(key, Content::List(list));
        }
    }

    /// Adds a table when it is not empty.
    pub fn put_table(&mut self, key: &str, table: Self) {
        if !table.entries.is_empty() {
            self.put(key, Content::Table(table));
        }
    }
}

impl From<Content> for Node {
    fn from(content: Content) -> Self {
        Self {
            content,
            line: None,
        }
    }
}

macro_rules! node_from {
    ($($kind:ty => $make:expr),+ $(,)?) => {
        $(impl From<$kind> for Node {
            fn from(value: $kind) -> Self {
                let make: fn($kind) -> Content = $make;
                make(value).into()
            }
        })+
    };
}

node_from!(
    bool => Content::Flag,
    i64 => Content::Whole,
    u8 => |value| Content::Whole(i64::from(value)),
    u16 => |value| Content::Whole(i64::from(value)),
    u32 => |value| Content::Whole(i64::from(value)),
    f64 => number_content,
    &str => |value| Content::Text(value.to_owned()),
    String => Content::Text,
    &String => |value| Content::Text(value.clone()),
    Date => Content::Date,
    Vec<Node> => Content::List,
    Table => Content::Table,
);

/// A number is written whole where it is whole: 161, not 161.0.
fn number_content(value: f64) -> Content {
    const EXACT: f64 = 9_007_199_254_740_992.0;
    let whole = value as i64;
    if value.abs() < EXACT && whole as f64 == value {
        Content::Whole(whole)
    } else {
        Content::Number(value)
    }
}

/// Reads a file into a tree.
///
/// # Errors
/// Every problem that keeps the file from being read: too large, not UTF-8, NUL bytes, cut off, not TOML or JSON.
pub fn read(file: &str, bytes: &[u8]) -> Result<Node, Problems> {
    read_within(file, bytes, MOST)
}

/// The same with other bounds.
///
/// # Errors
/// As for [`read`].
pub fn read_within(file: &str, bytes: &[u8], most: Most) -> Result<Node, Problems> {
    let text = text_of(file, bytes, most.bytes).map_err(|problem| Problems(vec![problem]))?;
    match Notation::of(file, text) {
        Notation::Json => json::parse(text, most.values)
            .map_err(|slip| Problems(vec![problem_at(file, Some(slip.line), slip.message)])),
        Notation::Toml => toml::parse(text, most.values).map_err(|slips| {
            Problems(
                slips
                    .into_iter()
                    .map(|slip| problem_at(file, Some(slip.line), slip.message))
                    .collect(),
            )
        }),
    }
}

/// Writes a table in a notation, ending with a line end.
pub fn write(table: &Table, notation: Notation) -> String {
    match notation {
        Notation::Toml => write::toml(table),
        Notation::Json => write::json(table),
    }
}

/// The tree as a JSON value of the library that web and results use.
pub fn to_json(node: &Node) -> serde_json::Value {
    write::json_value(node)
}

/// Where the text of a file stops making sense.
#[derive(Debug)]
struct Slip {
    line: usize,
    message: String,
}

fn problem_at(file: &str, line: Option<usize>, message: String) -> Problem {
    Problem::new(file, "", line, &message)
}

fn text_of<'b>(file: &str, bytes: &'b [u8], most: usize) -> Result<&'b str, Problem> {
    if bytes.len() > most {
        let message = format!(
            "the file has {} bytes, more than the {most} that are read; it is not a file of this program or it is damaged",
            bytes.len()
        );
        return Err(problem_at(file, None, message));
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = core::str::from_utf8(bytes).map_err(|error| {
        let line = line_of(bytes, error.valid_up_to());
        let message = "the file is not UTF-8 text; save it as UTF-8, or it is damaged".to_owned();
        problem_at(file, Some(line), message)
    })?;
    if let Some(at) = text.find('\0') {
        let message = "the file holds a NUL byte; it is not text or it is damaged".to_owned();
        return Err(problem_at(file, Some(line_of(bytes, at)), message));
    }
    if text.trim().is_empty() {
        return Err(problem_at(
            file,
            None,
            "the file is empty; it may have been cut off".to_owned(),
        ));
    }
    Ok(text)
}

/// Line of a byte position, counted from 1.
fn line_of(bytes: &[u8], at: usize) -> usize {
    1 + bytes[..at.min(bytes.len())]
        .iter()
        .filter(|byte| **byte == b'\n')
        .count()
}
