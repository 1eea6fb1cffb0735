//! Views of a checked tree: every getter gives what is there in the right kind, else nothing.

use super::plain::{band_of, day_of, number_of, text_of, whole_of};
use super::{ClosedWord, Kind, Shape, Within};
use crate::tree::{Content, Node, Table};
use jiff::civil::Date;
use rehab::assessment::Pressure;

/// One table of a tree with its shape and place.
#[derive(Clone, Debug)]
pub struct View<'t> {
    table: &'t Table,
    shape: &'static Shape,
    /// Path of the table in the file.
    pub path: String,
    /// Its line.
    pub line: Option<usize>,
}

impl<'t> View<'t> {
    /// The whole file; `None` when it is not a table (which the check has said).
    pub fn of(node: &'t Node, shape: &'static Shape) -> Option<Self> {
        Self::at(node, shape, String::new())
    }

    fn at(node: &'t Node, shape: &'static Shape, path: String) -> Option<Self> {
        match &node.content {
            Content::Table(table) => Some(Self {
                table,
                shape,
                path,
                line: node.line,
            }),
            _ => None,
        }
    }

    /// The value of a key. Asking for a key that the shape does not have is a bug that any test finds.
    pub fn node(&self, key: &str) -> Option<&'t Node> {
        let is_choice = self
            .shape
            .choice
            .as_ref()
            .is_some_and(|choice| choice.key == key);
        debug_assert!(
            is_choice || self.shape.field(key).is_some(),
            "'{key}' stands in no table of keys of {}",
            self.shape.name
        );
        self.table.get(key)
    }

    /// Path of a key of this table.
    pub fn place(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    /// Line of a key, else of the table.
    pub fn line_of(&self, key: &str) -> Option<usize> {
        self.table.get(key).and_then(|node| node.line).or(self.line)
    }

    /// Whether the key is there.
    pub fn has(&self, key: &str) -> bool {
        self.node(key).is_some()
    }

    /// Text.
    pub fn text(&self, key: &str) -> Option<String> {
        text_of(self.node(key)?).ok().map(str::to_owned)
    }

    /// A number.
    pub fn number(&self, key: &str) -> Option<f64> {
        number_of(self.node(key)?).ok()
    }

    /// A whole number of any small type.
    pub fn whole<T: TryFrom<i64>>(&self, key: &str) -> Option<T> {
        let whole = whole_of(self.node(key)?).ok()?;
        T::try_from(whole).ok()
    }

    /// Yes or no.
    pub fn flag(&self, key: &str) -> Option<bool> {
        match self.node(key)?.content {
            Content::Flag(flag) => Some(flag),
            _ => None,
        }
    }

    /// A day.
    pub fn day(&self, key: &str) -> Option<Date> {
        day_of(self.node(key)?).ok()
    }

    /// A word of a closed list.
    pub fn word<T: ClosedWord>(&self, key: &str) -> Option<T> {
        T::read(text_of(self.node(key)?).ok()?)
    }

    /// Words of a closed list; `None` when the key is not there.
    pub fn words<T: ClosedWord>(&self, key: &str) -> Option<Vec<T>> {
        let words = self
            .list(key)?
            .iter()
            .filter_map(|item| T::read(text_of(item).ok()?));
        Some(words.collect())
    }

    /// Texts; none when the key is not there.
    pub fn texts(&self, key: &str) -> Vec<String> {
        let items = self.list(key).unwrap_or(&[]).iter();
        items
            .filter_map(|item| text_of(item).ok().map(str::to_owned))
            .collect()
    }

    /// Numbers; none when the key is not there.
    pub fn numbers(&self, key: &str) -> Vec<f64> {
        let items = self.list(key).unwrap_or(&[]).iter();
        items.filter_map(|item| number_of(item).ok()).collect()
    }

    /// Small whole numbers; none when the key is not there.
    pub fn wholes<T: TryFrom<i64>>(&self, key: &str) -> Vec<T> {
        let items = self.list(key).unwrap_or(&[]).iter();
        items
            .filter_map(|item| T::try_from(whole_of(item).ok()?).ok())
            .collect()
    }

    /// The items of a list.
    pub fn list(&self, key: &str) -> Option<&'t [Node]> {
        match &self.node(key)?.content {
            Content::List(list) => Some(list),
            _ => None,
        }
    }

    /// Blood pressure.
    pub fn pressure(&self, key: &str) -> Option<Pressure> {
        match self.numbers(key)[..] {
            [systolic_mmhg, diastolic_mmhg] => Some(Pressure {
                systolic_mmhg,
                diastolic_mmhg,
            }),
            _ => None,
        }
    }

    /// Two numbers, the lower first.
    pub fn band(&self, key: &str) -> Option<(f64, f64)> {
        let any = Within::new(f64::MIN, f64::MAX, "");
        band_of(self.node(key)?, any).ok()
    }

    /// Days under words of a closed list.
    pub fn days_by_word<T: ClosedWord>(&self, key: &str) -> Vec<(T, Date)> {
        let Some(Content::Table(table)) = self.node(key).map(|node| &node.content) else {
            return Vec::new();
        };
        let days = table.entries.iter();
        days.filter_map(|entry| Some((T::read(&entry.key)?, day_of(&entry.node).ok()?)))
            .collect()
    }

    /// A table under a key.
    pub fn table(&self, key: &str) -> Option<Self> {
        let shape = match self.shape.field(key)?.kind {
            Kind::Table(shape) => shape,
            _ => return None,
        };
        Self::at(self.node(key)?, shape, self.place(key))
    }

    /// Tables of a list under a key.
    pub fn tables(&self, key: &str) -> Vec<Self> {
        let Some(Kind::List(Kind::Table(shape), _)) =
            self.shape.field(key).map(|field| &field.kind)
        else {
            return Vec::new();
        };
        let items = self.list(key).unwrap_or(&[]).iter().enumerate();
        items
            .filter_map(|(index, item)| {
                Self::at(item, shape, format!("{}[{}]", self.place(key), index + 1))
            })
            .collect()
    }
}
