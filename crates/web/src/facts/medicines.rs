//! Medicines as lines: `bisoprolol 2.5 mg since 2026-08-31`.

use super::path;
use formats::tree::{Content, Node, Table};
use jiff::civil::Date;

/// The list of lines; a line that is unchanged keeps everything else that is known of it.
pub(crate) fn read(text: &str, known: Option<&Node>) -> Option<Node> {
    let known = match known.map(|node| &node.content) {
        Some(Content::List(list)) => list.as_slice(),
        _ => &[],
    };
    let made: Vec<Node> = text
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty())
        .map(|line| {
            let same = known.iter().find(|node| shown_one(node) == line);
            same.cloned().unwrap_or_else(|| one(line).into())
        })
        .collect();
    (!made.is_empty()).then(|| Content::List(made).into())
}

/// Name, then the dose from the first figure on, then the day after "since".
fn one(line: &str) -> Table {
    let (line, since) = match line.rsplit_once(" since ") {
        Some((before, after)) => match after.trim().parse::<Date>() {
            Ok(date) => (before.trim(), Some(date)),
            Err(_) => (line, None),
        },
        None => (line, None),
    };
    let dose_at = line
        .char_indices()
        .find(|(place, letter)| letter.is_ascii_digit() && line[..*place].ends_with([' ', ',']))
        .map(|(place, _)| place);
    let (name, dose) = match dose_at {
        Some(place) => (
            line[..place].trim().trim_end_matches(','),
            Some(line[place..].trim()),
        ),
        None => (line, None),
    };
    let mut table = Table::default();
    table.put("name", name);
    table.put_known("dose", dose);
    table.put_known("since", since);
    table
}

/// The lines of what is known.
pub(crate) fn shown(known: &Node) -> String {
    match &known.content {
        Content::List(list) => list.iter().map(shown_one).collect::<Vec<_>>().join("\n"),
        _ => String::new(),
    }
}

fn shown_one(node: &Node) -> String {
    let Content::Table(table) = &node.content else {
        return String::new();
    };
    let text = |key: &str| match path::get(table, key).map(|node| &node.content) {
        Some(Content::Text(text)) => Some(text.clone()),
        Some(Content::Date(date)) => Some(date.to_string()),
        _ => None,
    };
    let since = text("since").map(|date| format!("since {date}"));
    [text("name"), text("dose"), since]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_become_medicines_and_back() {
        for line in [
            "bisoprolol 2.5 mg since 2026-08-31",
            "glyceryl trinitrate spray 400 micrograms",
            "aspirin",
            "vitamin B12",
            "insulin glargine 14 units at night",
        ] {
            let node = read(line, None).unwrap();
            assert_eq!(shown(&node), line);
        }
        assert!(read(" \n ", None).is_none());
    }

    #[test]
    fn an_unchanged_line_keeps_what_else_is_known() {
        let mut table = one("ramipril 5 mg");
        table.put("as_needed", false);
        let known: Node = Content::List(vec![table.into()]).into();
        assert_eq!(read("ramipril 5 mg", Some(&known)).unwrap(), known);
        assert_ne!(read("ramipril 10 mg", Some(&known)).unwrap(), known);
    }
}
