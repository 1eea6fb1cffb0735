//! Codes as they stand in resources, and the systems they come from.

use super::bundle::Resource;
use crate::tree::Node;

/// SNOMED CT.
pub(super) const SNOMED: &str = "http://snomed.info/sct";
/// LOINC.
pub(super) const LOINC: &str = "http://loinc.org";
/// UCUM units.
pub(super) const UCUM: &str = "http://unitsofmeasure.org";
/// Words of our own formats; what we write with them, we read back exactly.
pub(super) const OURS: &str = "urn:hearthpace:";

/// One code.
#[derive(Clone, Copy, Debug)]
pub(super) struct Coding<'t> {
    pub(super) system: &'t str,
    pub(super) code: &'t str,
}

impl Coding<'_> {
    pub(super) fn is_icd_10(self) -> bool {
        self.system.contains("icd-10")
    }
}

/// A concept: its codes and what it is called.
#[derive(Clone, Debug)]
pub(super) struct Concept<'t> {
    pub(super) codings: Vec<Coding<'t>>,
    /// The text, else the first display; empty when there is neither.
    pub(super) called: &'t str,
}

impl<'t> Concept<'t> {
    pub(super) fn at(resource: &Resource<'t>, path: &str) -> Self {
        resource.node(path).map_or_else(Self::none, Self::of)
    }

    fn none() -> Self {
        Self {
            codings: Vec::new(),
            called: "",
        }
    }

    pub(super) fn of(node: &'t Node) -> Self {
        let codings: Vec<Coding<'t>> = node
            .all("coding")
            .into_iter()
            .filter_map(|coding| {
                Some(Coding {
                    system: coding.text("system").unwrap_or(""),
                    code: coding.text("code")?,
                })
            })
            .collect();
        let display = || {
            node.all("coding")
                .into_iter()
                .find_map(|coding| coding.text("display"))
        };
        Self {
            called: node.text("text").or_else(display).unwrap_or(""),
            codings,
        }
    }

    /// The word of one of our own lists.
    pub(super) fn ours(&self, list: &str) -> Option<&'t str> {
        self.codings.iter().find_map(|coding| {
            let own = coding.system.strip_prefix(OURS)?;
            (own == list).then_some(coding.code)
        })
    }

    pub(super) fn code_of(&self, system: &str) -> Option<&'t str> {
        self.codings
            .iter()
            .find(|coding| coding.system == system)
            .map(|coding| coding.code)
    }

    /// How a message names it.
    pub(super) fn shown(&self) -> String {
        let codes: Vec<String> = self
            .codings
            .iter()
            .map(|coding| format!("{}|{}", coding.system, coding.code))
            .collect();
        match (self.called.is_empty(), codes.is_empty()) {
            (true, true) => "something without code and text".to_owned(),
            (false, true) => format!("'{}'", short(self.called)),
            (true, false) => short(&codes.join(", ")),
            (false, false) => format!("'{}' ({})", short(self.called), short(&codes.join(", "))),
        }
    }
}

/// What a status says: the strongest of these words that stands in any of its codes or in its text, so that a doubt
/// written down anywhere is heard; nothing where it is none of them, and `unsaid` where there is no status at all.
pub(super) fn status<'w>(
    resource: &Resource<'_>,
    path: &str,
    strongest_first: &[&'w str],
    unsaid: &'w str,
) -> Option<&'w str> {
    let Some(node) = resource.node(path) else {
        return Some(unsaid);
    };
    let concept = Concept::of(node);
    let codes = concept.codings.iter().map(|coding| coding.code);
    let text = node.text("text").into_iter().chain(node.own_text());
    let said: Vec<String> = codes
        .chain(text)
        .chain([concept.called])
        .map(|word| word.trim().to_lowercase().replace([' ', '_'], "-"))
        .collect();
    let mut words = strongest_first.iter().copied();
    words.find(|word| said.iter().any(|one| one == word))
}

/// The beginning of a text, for a message.
pub(super) fn short(text: &str) -> String {
    const MOST: usize = 80;
    let clean = text
        .chars()
        .map(|sign| if sign.is_control() { ' ' } else { sign });
    clean.take(MOST).collect()
}
