//! The history: three answers for each item, and one line that answers all that is left.

use super::ask::{Ask, Choices, Form, Kind, Part};
use super::path;
use crate::phrases::sentence;
use formats::tree::{Content, Node, Table};
use rehab::assessment::HistoryItem;
use rehab::screening::{Strength, strength_of};

/// The answers, each with its list in the case file.
const ANSWERS: [(&str, &str, &str); 3] = [
    ("present", "history.present", "present"),
    ("absent", "history.absent", "asked and absent"),
    ("not-asked", "history.not_asked", "not asked"),
];

/// What began on a day that rules count from.
const SINCE: [HistoryItem; 1] = [HistoryItem::HipReplacement];

/// The three answers, as written and as shown.
pub(super) fn answers() -> Choices {
    ANSWERS
        .iter()
        .map(|(word, _, label)| (*word, (*label).to_owned()))
        .collect()
}

/// The form: what speaks against exercise first.
pub(super) fn history() -> Form {
    let group = |title, about, strength| Part {
        title,
        about,
        sources: Vec::new(),
        asks: HistoryItem::ALL
            .iter()
            .filter(|item| strength_of(**item) == strength)
            .map(|item| {
                let path = format!("history.{}", item.word());
                Ask::new(path, item.word().replace('-', " "), Kind::Asked).wide()
            })
            .collect(),
    };
    let rest = Ask::new(
        "history.rest_absent",
        "All others were asked and are absent: who says so, and when",
        Kind::Text,
    )
    .hint("One line that answers all that is left open below, as: letter of 1 October and by asking. What is set below stays as it is set; left empty, what is open is not known");
    let since = SINCE.iter().map(|item| {
        let path = format!("history.since.{}", item.word());
        let label = format!("{} on", sentence(&item.word().replace('-', " ")));
        Ask::new(path, label, Kind::Day)
    });
    Form {
        title: "History",
        lead: "What speaks against exercise stands first. Signing waits until each of those is answered.",
        parts: vec![
            Part {
                title: "All at once",
                about: "Only what was really asked; one that was not is set so below.",
                sources: Vec::new(),
                asks: vec![rest.wide()],
            },
            group(
                "Against exercise",
                "Absolute: a present one stops, an open one keeps from signing.",
                Some(Strength::Absolute),
            ),
            group(
                "To settle first",
                "Relative: a present one waits for its treatment or the doctor's word.",
                Some(Strength::Relative),
            ),
            group(
                "What else matters",
                "For risk, and for what suits at home.",
                None,
            ),
            Part {
                title: "Since when",
                about: "",
                sources: Vec::new(),
                asks: since.collect(),
            },
        ],
        added: &[],
        rows: &[],
    }
}

fn item_of(asked: &str) -> &str {
    asked.trim_start_matches("history.")
}

fn listed(table: &Table, list: &str) -> Vec<Node> {
    match path::get(table, list).map(|node| &node.content) {
        Some(Content::List(items)) => items.clone(),
        _ => Vec::new(),
    }
}

/// The answer that stands written for the item of a question.
pub(super) fn known(table: &Table, asked: &str) -> Option<&'static str> {
    let item = Content::Text(item_of(asked).to_owned());
    let stands = |list: &str| listed(table, list).iter().any(|one| one.content == item);
    let found = ANSWERS.iter().find(|(_, list, _)| stands(list));
    found.map(|(word, _, _)| *word)
}

/// Writes an answer down: an item stands in one list only, and none is left to what is said of all others.
pub(super) fn put(table: &mut Table, asked: &str, answer: &str) -> Result<(), String> {
    if !answer.is_empty() && !ANSWERS.iter().any(|(word, _, _)| *word == answer) {
        return Err(format!(
            "'{answer}' is no answer; choose present, asked and absent, or not asked"
        ));
    }
    let item = Content::Text(item_of(asked).to_owned());
    for (word, list, _) in ANSWERS {
        let mut items = listed(table, list);
        let stands = items.iter().any(|one| one.content == item);
        if word == answer && !stands {
            items.push(item.clone().into());
        } else if word != answer && stands {
            items.retain(|one| one.content != item);
        } else {
            continue;
        }
        let value = (!items.is_empty()).then(|| Content::List(items).into());
        path::set(table, list, value);
    }
    Ok(())
}

/// A day for which the form has no field goes with the item it belongs to.
pub(super) fn settle(table: &mut Table) {
    let present = listed(table, "history.present");
    for item in HistoryItem::ALL {
        let word = Content::Text(item.word().to_owned());
        if !SINCE.contains(item) && !present.iter().any(|one| one.content == word) {
            path::set(table, &format!("history.since.{}", item.word()), None);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_item_is_asked_once_and_absolute_ones_first() {
        let form = history();
        let asked: Vec<&str> = form
            .asks()
            .filter(|ask| matches!(ask.kind, Kind::Asked))
            .map(|ask| item_of(&ask.path))
            .collect();
        assert_eq!(asked.len(), HistoryItem::ALL.len());
        for item in HistoryItem::ALL {
            assert!(asked.contains(&item.word()), "{item}");
        }
        let strengths: Vec<Option<Strength>> = asked
            .iter()
            .map(|word| strength_of(HistoryItem::parse(word).unwrap()))
            .collect();
        let last_absolute = strengths
            .iter()
            .rposition(|one| *one == Some(Strength::Absolute));
        let first_other = strengths
            .iter()
            .position(|one| *one != Some(Strength::Absolute));
        assert!(last_absolute < first_other);
    }

    #[test]
    fn an_item_stands_in_one_list_only() {
        let mut table = Table::default();
        for answer in ["present", "absent", "not-asked", "present"] {
            put(&mut table, "history.vertigo", answer).unwrap();
            assert_eq!(known(&table, "history.vertigo"), Some(answer));
            let lists = ANSWERS
                .iter()
                .filter(|(_, list, _)| path::count(&table, list) > 0);
            assert_eq!(lists.count(), 1);
        }
        put(&mut table, "history.vertigo", "").unwrap();
        assert_eq!(known(&table, "history.vertigo"), None);
        assert!(put(&mut table, "history.vertigo", "perhaps").is_err());
    }
}
