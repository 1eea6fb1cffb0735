//! A file that was read into a tree, before it is known whether what it says is possible.

use crate::shape::{Shape, newest_date};
use crate::tree::{self, Content, Node};
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
        let known = |kind: FileKind| {
            let fields = kind.shape().fields.iter();
            fields
                .filter(|field| table.get(field.key).is_some())
                .count()
        };
        let best = FileKind::ALL
            .iter()
            .copied()
            .max_by_key(|kind| (known(*kind), core::cmp::Reverse(*kind as usize)));
        match best {
            Some(kind) if known(kind) > 0 => Ok(kind),
            _ => {
                let kinds: Vec<&str> = FileKind::ALL.iter().map(|kind| kind.word()).collect();
                Err(self.refuse(&format!(
                    "the keys of this file belong to none of the formats ({}); the command 'schema' shows them",
                    kinds.join(", ")
                )))
            }
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
        Self::Instance,
    ];

    /// The word on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Case => "case",
            Self::Diary => "diary",
            Self::Service => "service",
            Self::Exercise => "exercise",
            Self::Instance => "instance",
        }
    }

    /// By its word.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|kind| kind.word() == word)
    }

    /// Its keys.
    pub fn shape(self) -> &'static Shape {
        match self {
            Self::Case => &crate::case::CASE,
            Self::Diary => &crate::diary::DIARY,
            Self::Service => &crate::service::SERVICE,
            Self::Exercise => &crate::exercise::EXERCISE,
            Self::Instance => &crate::instance::INSTANCE,
        }
    }
}
