//! A file that was read into a tree, before it is known whether what it says is possible.

use crate::shape::{Shape, newest_date};
use crate::tree::{self, Content, Node, Table};
use crate::{Problem, Problems};
use jiff::civil::Date;

/// A file with its name and its tree.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Name as it was given.
    pub name: String,
    /// What it holds.
    pub tree: Node,
}

impl SourceFile {
    /// Reads the text of a file into its tree.
    ///
    /// # Errors
    /// Every problem that keeps the file from being read.
    pub fn open(name: &str, bytes: &[u8]) -> Result<Self, Problems> {
        Ok(Self {
            name: name.to_owned(),
            tree: tree::read(name, bytes)?,
        })
    }

    /// A tree that did not come from a file, for example the body of a request.
    pub fn from_tree(name: &str, tree: Node) -> Self {
        Self {
            name: name.to_owned(),
            tree,
        }
    }

    /// The newest day that has been, by the keys of a shape.
    pub fn newest_date(&self, shape: &'static Shape) -> Option<Date> {
        newest_date(&self.tree, shape)
    }

    /// What kind of file it is, by the keys at its top.
    ///
    /// # Errors
    /// When no kind of file has these keys.
    pub fn kind(&self) -> Result<FileKind, Problems> {
        let Content::Table(table) = &self.tree.content else {
            return Err(self.refuse(
                "a file of this program begins with keys, not with a list or a plain value",
            ));
        };
        let best = FileKind::ALL
            .iter()
            .copied()
            .max_by_key(|kind| (kind.keys_in(table), core::cmp::Reverse(*kind as usize)));
        match best {
            Some(kind) if kind.keys_in(table) > 0 => Ok(kind),
            _ => {
                let kinds: Vec<&str> = FileKind::ALL.iter().map(|kind| kind.word()).collect();
                Err(self.refuse(&format!(
                    "the keys of this file belong to none of the formats ({}); the command 'schema' shows them",
                    kinds.join(", ")
                )))
            }
        }
    }

    /// Refuses a file that is plainly of another kind than the one that is wanted, before every key of it is told as
    /// unknown.
    ///
    /// # Errors
    /// When more of its keys belong to another kind, or it is a FHIR resource.
    pub(crate) fn must_be(&self, wanted: FileKind) -> Result<(), Problems> {
        let Content::Table(table) = &self.tree.content else {
            return Ok(());
        };
        if table.get("resourceType").is_some() {
            return Err(self.refuse(&format!(
                "this is a FHIR resource, not a {} file; read a bundle with the command 'import'",
                wanted.word()
            )));
        }
        match self.kind() {
            Ok(kind) if kind.keys_in(table) > wanted.keys_in(table) => Err(self.refuse(&format!(
                "this is {} file, not a {} file; look whether the two were taken for each other",
                kind.named(),
                wanted.word()
            ))),
            _ => Ok(()),
        }
    }

    fn refuse(&self, message: &str) -> Problems {
        Problems(vec![Problem {
            file: self.name.clone(),
            key_path: String::new(),
            line: None,
            message: message.to_owned(),
        }])
    }
}

/// The formats that have a shape of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A case.
    Case,
    /// A diary.
    Diary,
    /// The settings of a service.
    Service,
    /// An exercise.
    Exercise,
    /// How an exercise moves.
    Movement,
    /// A problem of the composer.
    Instance,
}

impl FileKind {
    /// All of them.
    pub const ALL: &'static [Self] = &[
        Self::Case,
        Self::Diary,
        Self::Service,
        Self::Exercise,
        Self::Movement,
        Self::Instance,
    ];

    /// The word on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Case => "case",
            Self::Diary => "diary",
            Self::Service => "service",
            Self::Exercise => "exercise",
            Self::Movement => "movement",
            Self::Instance => "instance",
        }
    }

    /// By its word.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|kind| kind.word() == word)
    }

    /// The kind with its article, for a message.
    const fn named(self) -> &'static str {
        match self {
            Self::Case => "a case",
            Self::Diary => "a diary",
            Self::Service => "a service",
            Self::Exercise => "an exercise",
            Self::Movement => "a movement",
            Self::Instance => "a composer problem",
        }
    }

    /// How many of its keys stand at the top of a file.
    fn keys_in(self, table: &Table) -> usize {
        let fields = self.shape().fields.iter();
        fields
            .filter(|field| table.get(field.key).is_some())
            .count()
    }

    /// Its keys.
    pub fn shape(self) -> &'static Shape {
        match self {
            Self::Case => &crate::case::CASE,
            Self::Diary => &crate::diary::DIARY,
            Self::Service => &crate::service::SERVICE,
            Self::Exercise => &crate::exercise::EXERCISE,
            Self::Movement => &crate::movement::MOVEMENT,
            Self::Instance => &crate::instance::INSTANCE,
        }
    }
}
