//! The resources of a bundle, and looking into them.

use crate::file::SourceFile;
use crate::tree::{Content, Node};
use crate::{Problem, Problems};

impl Node {
    /// The first value on a path such as `name.family`; of a list, its first entry.
    pub(super) fn find(&self, path: &str) -> Option<&Self> {
        let mut node = self.first()?;
        for key in path.split('.') {
            let Content::Table(table) = &node.content else {
                return None;
            };
            node = table.get(key)?.first()?;
        }
        Some(node)
    }

    /// The text that this value is.
    pub(super) fn own_text(&self) -> Option<&str> {
        match &self.content {
            Content::Text(text) if !text.trim().is_empty() => Some(text),
            _ => None,
        }
    }

    fn first(&self) -> Option<&Self> {
        match &self.content {
            Content::List(list) => list.first().and_then(Self::first),
            _ => Some(self),
        }
    }

    /// Every entry of a list under a key; a single value counts as a list of one.
    pub(super) fn all(&self, key: &str) -> Vec<&Self> {
        let Content::Table(table) = &self.content else {
            return Vec::new();
        };
        match table.get(key).map(|node| (node, &node.content)) {
            None => Vec::new(),
            Some((_, Content::List(list))) => list.iter().collect(),
            Some((node, _)) => vec![node],
        }
    }

    /// Text on a path.
    pub(super) fn text(&self, path: &str) -> Option<&str> {
        self.find(path)?.own_text()
    }

    /// A number on a path.
    pub(super) fn number(&self, path: &str) -> Option<f64> {
        match self.find(path)?.content {
            Content::Whole(number) => Some(number as f64),
            Content::Number(number) => Some(number),
            _ => None,
        }
    }

    /// Yes or no on a path.
    pub(super) fn flag(&self, path: &str) -> Option<bool> {
        match self.find(path)?.content {
            Content::Flag(flag) => Some(flag),
            _ => None,
        }
    }
}

/// One resource with its place in the bundle.
#[derive(Clone, Debug)]
pub(super) struct Resource<'t> {
    node: &'t Node,
    pub(super) kind: &'t str,
    pub(super) id: Option<&'t str>,
    full_url: Option<&'t str>,
    /// Number of the entry, counted from 1.
    pub(super) entry: usize,
}

impl<'t> Resource<'t> {
    pub(super) fn node(&self, path: &str) -> Option<&'t Node> {
        self.node.find(path)
    }

    pub(super) fn text(&self, path: &str) -> Option<&'t str> {
        self.node.text(path)
    }

    pub(super) fn number(&self, path: &str) -> Option<f64> {
        self.node.number(path)
    }

    pub(super) fn flag(&self, path: &str) -> Option<bool> {
        self.node.flag(path)
    }

    pub(super) fn all(&self, key: &str) -> Vec<&'t Node> {
        self.node.all(key)
    }

    /// The ways in which other resources of the bundle may name this one.
    pub(super) fn references(&self) -> Vec<String> {
        let relative = self.id.map(|id| format!("{}/{id}", self.kind));
        relative
            .into_iter()
            .chain(self.full_url.map(str::to_owned))
            .collect()
    }

    /// Whether a reference means this resource.
    pub(super) fn is_meant_by(&self, reference: &str) -> bool {
        let relative = self.id.is_some_and(|id| {
            reference
                .strip_suffix(id)
                .and_then(|rest| rest.strip_suffix('/'))
                .is_some_and(|rest| rest == self.kind || rest.ends_with(&format!("/{}", self.kind)))
        });
        relative || self.full_url == Some(reference)
    }
}

/// A bundle of one patient.
#[derive(Debug)]
pub(super) struct Bundle<'t> {
    pub(super) resources: Vec<Resource<'t>>,
}

impl<'t> Bundle<'t> {
    pub(super) fn of(file: &'t SourceFile) -> Result<Self, Problems> {
        let refuse = |message: String| {
            Err(Problems(vec![Problem {
                file: file.name.clone(),
                key_path: "resourceType".to_owned(),
                line: file.tree.line,
                message,
            }]))
        };
        match file.tree.text("resourceType") {
            Some("Bundle") => {}
            Some(other) => {
                return refuse(format!(
                    "this is a FHIR resource of the type {}, not a Bundle; put it into a Bundle with its Patient",
                    super::concept::short(other)
                ));
            }
            None => {
                return refuse(
                    "this is no FHIR resource; a FHIR R4 Bundle in JSON is read".to_owned(),
                );
            }
        }
        let entries = file.tree.all("entry").into_iter().enumerate();
        let resources: Vec<Resource<'t>> = entries
            .filter_map(|(index, entry)| {
                let node = entry.find("resource")?;
                Some(Resource {
                    node,
                    kind: node.text("resourceType").unwrap_or("(no type)"),
                    id: node.text("id"),
                    full_url: entry.text("fullUrl"),
                    entry: index + 1,
                })
            })
            .collect();
        let patients = resources.iter().filter(|one| one.kind == "Patient").count();
        if patients > 1 {
            return refuse(format!(
                "the bundle holds {patients} patients; give one bundle for each person"
            ));
        }
        if resources.is_empty() {
            return refuse("the bundle holds no resource; export it again".to_owned());
        }
        Ok(Self { resources })
    }

    pub(super) fn patient(&self) -> Option<&Resource<'t>> {
        self.resources.iter().find(|one| one.kind == "Patient")
    }

    /// Whether a resource is of the bundle's patient, as far as it says whose it is.
    pub(super) fn is_of_the_patient(&self, resource: &Resource<'t>) -> bool {
        let whose = resource
            .text("subject.reference")
            .or_else(|| resource.text("patient.reference"));
        match (whose, self.patient()) {
            (Some(whose), Some(patient)) => patient.is_meant_by(whose),
            _ => true,
        }
    }

    /// The resource that a reference means.
    pub(super) fn resolve(&self, reference: &str) -> Option<&Resource<'t>> {
        self.resources.iter().find(|one| one.is_meant_by(reference))
    }
}
