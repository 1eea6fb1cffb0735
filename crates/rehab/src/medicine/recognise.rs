//! Recognising a medicine by its name: never guessed, never skipped.

use super::class::MedicineClass;
use super::class::MedicineEffect;
use super::names_heart::Group;
use super::spelling::{distance, tokens};
use super::{names_heart, names_other};
use crate::assessment::Medicine;
use crate::service::LocalMedicineName;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// A substance with its classes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Substance {
    /// International non-proprietary name.
    pub inn: &'static str,
    /// Classes it belongs to.
    pub classes: &'static [MedicineClass],
}

impl Substance {
    /// Whether one of its classes has an effect.
    pub fn has(&self, effect: MedicineEffect) -> bool {
        self.classes.iter().any(|class| class.has(effect))
    }

    /// Whether it belongs to a class.
    pub fn is(&self, class: MedicineClass) -> bool {
        self.classes.contains(&class)
    }
}

/// A piece of a name that was not recognised.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unknown {
    /// The piece as it was read.
    pub text: String,
    /// The known name nearest in spelling, to ask about; it is never assumed.
    pub nearest: Option<&'static str>,
}

/// What a written name came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recognition {
    /// Substances found, in the order of the name.
    pub substances: Vec<Substance>,
    /// Pieces that were not recognised: each is a question to somebody.
    pub unknown: Vec<Unknown>,
}

impl Recognition {
    /// Whether the whole name was understood.
    pub fn is_complete(&self) -> bool {
        self.unknown.is_empty() && !self.substances.is_empty()
    }

    /// Whether any of its substances has an effect.
    pub fn has(&self, effect: MedicineEffect) -> bool {
        self.substances.iter().any(|one| one.has(effect))
    }

    /// Its INNs, joined by " + ".
    pub fn inn(&self) -> String {
        let all: Vec<&str> = self.substances.iter().map(|one| one.inn).collect();
        all.join(" + ")
    }

    /// Its classes, each once.
    pub fn classes(&self) -> Vec<MedicineClass> {
        let mut all: Vec<MedicineClass> = Vec::new();
        for class in self.substances.iter().flat_map(|one| one.classes) {
            if !all.contains(class) {
                all.push(*class);
            }
        }
        all
    }
}

/// Recognises a name by INN; combinations part by part; local names as the service lists them.
///
/// Case, accents, salts, doses and forms are set aside. At equal length an INN wins over a local name, so a slip in the
/// local list cannot hide a known medicine.
///
/// ```
/// use rehab::medicine::{MedicineClass, recognise};
///
/// let known = recognise("Bisoprolol fumarate 2.5 mg", &[]);
/// assert!(known.is_complete() && known.classes().contains(&MedicineClass::BetaBlocker));
///
/// // A slip of the pen is a question with the nearest name, never a guess.
/// let asked = recognise("bisoprolul", &[]);
/// assert!(asked.substances.is_empty());
/// assert_eq!(asked.unknown[0].nearest, Some("bisoprolol"));
/// ```
pub fn recognise(name: &str, local: &[LocalMedicineName]) -> Recognition {
    let local: Vec<(String, &LocalMedicineName)> = local
        .iter()
        .map(|one| (key_of(&one.name), one))
        .filter(|(key, _)| !key.is_empty())
        .collect();
    let mut found = Recognition::default();
    for part in name.split(['/', '+', ',', ';', '&', '(', ')', '[', ']']) {
        read_part(part, &local, &mut found);
    }
    if found.substances.is_empty() && found.unknown.is_empty() {
        found.unknown.push(Unknown {
            text: name.trim().to_owned(),
            nearest: None,
        });
    }
    found
}

/// Recognises a recorded medicine: its dose text may say that it is a tablet or an eye drop.
pub fn recognise_medicine(medicine: &Medicine, local: &[LocalMedicineName]) -> Recognition {
    let mut found = recognise(&medicine.name, local);
    let dose = medicine.dose.as_deref().unwrap_or_default();
    if tokens(dose).iter().any(|token| token.is_tablet()) {
        found.substances.iter_mut().for_each(as_tablet);
    }
    found
}

type Index = BTreeMap<String, Vec<Substance>>;

/// Every spelling, folded, with what it stands for.
static INDEX: LazyLock<Index> = LazyLock::new(build_index);

/// Longest name in words ("potassium chloride", "omega 3 acid ethyl esters").
const LONGEST_NAME: usize = 5;

fn groups() -> impl Iterator<Item = &'static Group> {
    names_heart::GROUPS.iter().chain(names_other::GROUPS)
}

fn build_index() -> Index {
    let mut index = Index::new();
    for group in groups() {
        for names in group.names.split(", ") {
            let spellings: Vec<&'static str> = names.split('|').collect();
            let substance = Substance {
                inn: spellings[0],
                classes: group.classes,
            };
            for spelling in spellings {
                index.insert(key_of(spelling), vec![substance]);
            }
        }
    }
    for (name, parts) in names_other::COMBINATIONS {
        let substances = parts
            .iter()
            .flat_map(|part| index.get(&key_of(part)).cloned().unwrap_or_default())
            .collect();
        index.insert(key_of(name), substances);
    }
    index
}

/// The folded words of a name, joined.
fn key_of(name: &str) -> String {
    let words: Vec<String> = tokens(name).into_iter().map(|token| token.key).collect();
    words.join(" ")
}

fn read_part(part: &str, local: &[(String, &LocalMedicineName)], found: &mut Recognition) {
    let tokens = tokens(part);
    let first = found.substances.len();
    let mut unread: Vec<&str> = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let after_substance = found.substances.len() > first;
        if after_substance && tokens[at].is_salt() {
            at += 1;
            continue;
        }
        let longest = LONGEST_NAME.min(tokens.len() - at);
        let taken = (1..=longest).rev().find(|&length| {
            let words: Vec<&str> = tokens[at..at + length]
                .iter()
                .map(|one| one.key.as_str())
                .collect();
            take(&words.join(" "), local, found)
        });
        match taken {
            Some(length) => at += length,
            None => {
                if !tokens[at].is_noise() {
                    unread.push(&tokens[at].written);
                }
                at += 1;
            }
        }
    }
    if tokens.iter().any(|token| token.is_tablet()) {
        found.substances[first..].iter_mut().for_each(as_tablet);
    } else if tokens.iter().any(|token| token.is_local_use()) {
        found.substances[first..].iter_mut().for_each(as_local_use);
    }
    if !unread.is_empty() {
        let text = unread.join(" ");
        let nearest = nearest(&text);
        found.unknown.push(Unknown { text, nearest });
    }
}

/// Takes a name from the index or the local list; says whether it was there.
fn take(key: &str, local: &[(String, &LocalMedicineName)], found: &mut Recognition) -> bool {
    if let Some(substances) = INDEX.get(key) {
        found.substances.extend(substances);
        return true;
    }
    let Some((_, named)) = local.iter().find(|(local_key, _)| local_key == key) else {
        return false;
    };
    // The INN of a local name is read without local names, so that two of them cannot point at each other.
    let meant = recognise(&named.inn, &[]);
    found.substances.extend(meant.substances);
    found
        .unknown
        .extend(meant.unknown.into_iter().map(|one| Unknown {
            text: format!("{} (the local name of '{}')", one.text, named.inn),
            nearest: one.nearest,
        }));
    true
}

fn as_tablet(substance: &mut Substance) {
    if substance.is(MedicineClass::BetaBlockerEyeDrops) {
        substance.classes = &[MedicineClass::BetaBlocker];
    }
}

/// A cream, an ear drop or a nose spray of these does not act on the whole body to a degree that matters.
fn as_local_use(substance: &mut Substance) {
    let harmless = substance.is(MedicineClass::SteroidTablets)
        || substance.is(MedicineClass::AntiInflammatory);
    if harmless {
        substance.classes = &[MedicineClass::Other];
    }
}

/// The known name nearest in spelling, when it's near enough to ask about.
fn nearest(text: &str) -> Option<&'static str> {
    let key = key_of(text);
    let allowed = match key.len() {
        0..=4 => return None,
        5..=7 => 1,
        _ => 2,
    };
    // A slip rarely takes the first letter, and with it the search stays short.
    let closest = INDEX
        .iter()
        .filter(|(name, _)| name.as_bytes().first() == key.as_bytes().first())
        .map(|(name, substances)| (distance(&key, name, allowed), substances))
        .filter_map(|(distance, substances)| Some((distance?, substances)))
        .min_by_key(|(distance, _)| *distance);
    closest.and_then(|(_, substances)| substances.first().map(|one| one.inn))
}

#[cfg(test)]
mod tests;
