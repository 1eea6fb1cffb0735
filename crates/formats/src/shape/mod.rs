//! What a file may hold, as data: one table of keys drives reading, messages and the JSON Schema.
//!
//! A file is read in three steps: text into a tree, the tree checked against its [`Shape`] (every problem is
//! collected), then views of the tree handed to the one function that makes the domain value of it.
//!
//! ```
//! use formats::shape::{Field, Kind, Shape, Sink, View, check, words_of, SHORT};
//! use rehab::assessment::PlaceKind;
//!
//! static PLACE: Shape = Shape {
//!     name: "place",
//!     about: "One place of the home.",
//!     fields: &[
//!         Field::needed("name", Kind::Text(SHORT), "the person's own name for it"),
//!         Field::needed("kind", Kind::Word(words_of::<PlaceKind>()), "what it is"),
//!         Field::new("seat_cm", Kind::Bound("seat_cm"), "height of the seat"),
//!     ],
//!     choice: None,
//! };
//!
//! let tree = formats::tree::read("place.toml", b"name = 'armchair'\nkind = 'chiar'\nseat_cm = 450")?;
//! let mut sink = Sink::new("place.toml");
//! check(&tree, &PLACE, &mut sink);
//! let place = View::of(&tree, &PLACE).and_then(|view| {
//!     // Getters give nothing where a problem was already said.
//!     Some((view.text("name")?, view.word::<PlaceKind>("kind")?, view.number("seat_cm")))
//! });
//! let problems = sink.finish(place).unwrap_err();
//! assert_eq!(problems.0.len(), 2);
//! assert!(problems.0[0].message.contains("did you mean 'chair'"));
//! # Ok::<(), formats::Problems>(())
//! ```

mod check;
mod closed;
mod near;
mod plain;
mod schema;
mod sink;
mod view;

pub use check::{check, check_at, newest_date};
pub use closed::{ClosedWord, Words, words_of};
pub use near::nearest;
pub use schema::schema;
pub use sink::Sink;
pub use view::View;

/// One table of keys.
#[derive(Debug)]
pub struct Shape {
    /// Name, for the schema.
    pub name: &'static str,
    /// What it holds, one sentence.
    pub about: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
    /// Keys that depend on the word of one key.
    pub choice: Option<Choice>,
}

/// Keys that a table has only for some words of one of its keys.
#[derive(Debug)]
pub struct Choice {
    /// The key whose word decides.
    pub key: &'static str,
    /// What it is, for messages.
    pub list: &'static str,
    /// The words with their keys.
    pub cases: &'static [(&'static str, &'static [Field])],
}

/// One key.
#[derive(Debug)]
pub struct Field {
    /// The key.
    pub key: &'static str,
    /// What its value may be.
    pub kind: Kind,
    /// Whether the table is nothing without it.
    pub needed: bool,
    /// What it is, for the schema.
    pub about: &'static str,
}

impl Field {
    /// A key that may be left out.
    pub const fn new(key: &'static str, kind: Kind, about: &'static str) -> Self {
        Self {
            key,
            kind,
            needed: false,
            about,
        }
    }

    /// A key without which the table says nothing.
    pub const fn needed(key: &'static str, kind: Kind, about: &'static str) -> Self {
        Self {
            key,
            kind,
            needed: true,
            about,
        }
    }
}

/// What a value may be.
#[derive(Debug)]
pub enum Kind {
    /// Text of at most so many characters.
    Text(usize),
    /// Text of a form that a function checks; the pattern says the same for the schema.
    Form {
        /// Regular expression of the form.
        pattern: &'static str,
        /// Refuses with what to write.
        check: fn(&str) -> Result<(), String>,
    },
    /// A number whose bound stands in the one table of bounds under this key.
    Bound(&'static str),
    /// A whole number whose bound stands in the table of bounds under this key.
    WholeBound(&'static str),
    /// A number with bounds of its own.
    Number(Within),
    /// A whole number with bounds of its own.
    Whole(Within),
    /// Yes or no.
    Flag,
    /// A day that has been: not after the day of the work and not before birth.
    Day,
    /// A day that may lie ahead.
    AnyDay,
    /// A day that does not belong to the patient's course (birth, an adoption): any day in the past.
    OtherDay,
    /// A word of a closed list.
    Word(Words),
    /// A list.
    List(&'static Kind, Count),
    /// A table.
    Table(&'static Shape),
    /// Days under words of a closed list.
    DaysByWord(Words),
    /// Systolic and diastolic pressure.
    Pressure,
    /// Two numbers, the lower first.
    Band(Within),
    /// Either of two plain kinds; messages speak of the first.
    Either(&'static Kind, &'static Kind),
}

/// Bounds of a number that stands only in files.
#[derive(Clone, Copy, Debug)]
pub struct Within {
    /// Least value taken.
    pub low: f64,
    /// Greatest value taken.
    pub high: f64,
    /// Unit in words; empty for a plain number.
    pub unit: &'static str,
}

impl Within {
    /// From, to, unit.
    pub const fn new(low: f64, high: f64, unit: &'static str) -> Self {
        Self { low, high, unit }
    }
}

/// How many entries a list may have.
#[derive(Clone, Copy, Debug)]
pub struct Count {
    /// Least.
    pub least: usize,
    /// Most.
    pub most: usize,
    /// Whether an entry may stand only once.
    pub unique: bool,
}

impl Count {
    /// Any number up to the most.
    pub const fn up_to(most: usize) -> Self {
        Self {
            least: 0,
            most,
            unique: false,
        }
    }

    /// At least one.
    pub const fn some(most: usize) -> Self {
        Self {
            least: 1,
            most,
            unique: false,
        }
    }

    /// Exactly so many.
    pub const fn exactly(count: usize) -> Self {
        Self {
            least: count,
            most: count,
            unique: false,
        }
    }

    /// The same, each entry only once.
    pub const fn each_once(mut self) -> Self {
        self.unique = true;
        self
    }
}

/// Longest name or short text.
pub const SHORT: usize = 200;

/// Longest text in own words.
pub const LONG: usize = 4000;

impl Shape {
    /// The keys that a table of this shape may have, given the word that decides.
    pub fn fields_for(&self, word: Option<&str>) -> impl Iterator<Item = &'static Field> + use<> {
        let chosen = self.choice.as_ref().and_then(|choice| {
            let found = choice.cases.iter().find(|(one, _)| Some(*one) == word);
            found.map(|(_, fields)| *fields)
        });
        self.fields.iter().chain(chosen.unwrap_or(&[]))
    }

    /// One key of this shape or of any of its choices.
    pub fn field(&self, key: &str) -> Option<&'static Field> {
        let chosen = self.choice.iter().flat_map(|choice| choice.cases);
        self.fields
            .iter()
            .chain(chosen.flat_map(|(_, fields)| *fields))
            .find(|field| field.key == key)
    }
}
