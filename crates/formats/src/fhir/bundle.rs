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

    /// Whether a reference means this resource. One of several versions is the same resource; the same number on another
    /// server is not.
    pub(super) fn is_meant_by(&self, reference: &str) -> bool {
        let reference = without_version(reference);
        let own_url = self.full_url.map(without_version);
        let on_a_server = |url: &str| url.starts_with("http://") || url.starts_with("https://");
        if let Some(own) = own_url.filter(|own| on_a_server(own) && on_a_server(reference))
            && self
                .id
                .is_some_and(|id| own.ends_with(&format!("/{}/{id}", self.kind)))
        {
            return own == reference;
        }
        let relative = self.id.is_some_and(|id| {
            reference
                .strip_suffix(id)
                .and_then(|rest| rest.strip_suffix('/'))
                .is_some_and(|rest| rest == self.kind || rest.ends_with(&format!("/{}", self.kind)))
        });
        relative || own_url == Some(reference)
    }

    /// Whether anything in it carries an extension that changes the meaning of what it stands on.
    pub(super) fn is_modified(&self) -> bool {
        is_modified(self.node)
    }

    /// Whom it is about, as far as it says so.
    pub(super) fn subject(&self) -> Option<&'t Node> {
        self.node("subject").or_else(|| self.node("patient"))
    }
}

/// A reference without the version at its end.
pub(super) fn without_version(reference: &str) -> &str {
    reference
        .split_once("/_history/")
        .map_or(reference, |(resource, _)| resource)
}

fn is_modified(node: &Node) -> bool {
    match &node.content {
        Content::List(list) => list.iter().any(is_modified),
        Content::Table(table) => {
            let own = table.get("modifierExtension").is_some();
            own || table.entries.iter().any(|entry| is_modified(&entry.node))
        }
        _ => false,
    }
}

/// Whose a resource is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Whose<'t> {
    /// The bundle's patient's.
    Theirs,
    /// It does not say.
    NotSaid,
    /// Somebody else's, or of somebody who cannot be told from somebody else.
    Another(&'t str),
}

/// A bundle of one patient.
#[derive(Debug)]
pub(super) struct Bundle<'t> {
    pub(super) resources: Vec<Resource<'t>>,
    /// Numbers of the entries that hold no resource.
    pub(super) without_resource: Vec<usize>,
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
        if file.tree.text("type") == Some("history") {
            return refuse(
                "this bundle is a history: it holds earlier versions beside the present one; export what holds today"
                    .to_owned(),
            );
        }
        let (resources, without_resource) = resources(&file.tree);
        let patients = resources.iter().filter(|one| one.kind == "Patient").count();
        if patients > 1 {
            return refuse(format!(
                "the bundle holds {patients} patients; give one bundle for each person"
            ));
        }
        if resources.is_empty() {
            return refuse("the bundle holds no resource; export it again".to_owned());
        }
        if patients == 0 {
            return refuse(
                "the bundle holds no Patient, so nobody can tell whose it is; export it together with its Patient"
                    .to_owned(),
            );
        }
        Ok(Self {
            resources,
            without_resource,
        })
    }

    pub(super) fn patient(&self) -> Option<&Resource<'t>> {
        self.resources.iter().find(|one| one.kind == "Patient")
    }

    /// Whose a resource is. A name alone tells nobody from another person of that name; a number of theirs does.
    pub(super) fn whose(&self, resource: &Resource<'t>) -> Whose<'t> {
        let (Some(subject), Some(patient)) = (resource.subject(), self.patient()) else {
            return Whose::NotSaid;
        };
        if let Some(reference) = subject.text("reference") {
            return if patient.is_meant_by(reference) {
                Whose::Theirs
            } else {
                Whose::Another(reference)
            };
        }
        let number = |node: &'t Node| Some((node.text("system")?, node.text("value")?));
        let named = subject.find("identifier").and_then(number);
        let mut own = patient.all("identifier").into_iter().filter_map(number);
        if named.is_some_and(|named| own.any(|one| one == named)) {
            return Whose::Theirs;
        }
        let shown = subject.text("display").or(named.map(|(_, value)| value));
        Whose::Another(shown.unwrap_or("somebody without a reference"))
    }

    /// The resource that a reference means.
    pub(super) fn resolve(&self, reference: &str) -> Option<&Resource<'t>> {
        self.resources.iter().find(|one| one.is_meant_by(reference))
    }
}

/// The resources of a bundle, and the numbers of the entries that hold none.
fn resources(tree: &Node) -> (Vec<Resource<'_>>, Vec<usize>) {
    let (mut resources, mut without) = (Vec::new(), Vec::new());
    for (index, entry) in tree.all("entry").into_iter().enumerate() {
        let number = index + 1;
        let Some(node) = entry.find("resource") else {
            without.push(number);
            continue;
        };
        resources.push(Resource {
            node,
            kind: node.text("resourceType").unwrap_or("(no type)"),
            id: node.text("id"),
            full_url: entry.text("fullUrl"),
            entry: number,
        });
    }
    (resources, without)
}
