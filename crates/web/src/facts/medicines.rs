//! Medicines as lines: `bisoprolol 2.5 mg since 2026-08-31`; what was written wrongly before is put right by
//! `bisoprolol 2.5 mg instead of bisoprolool`.

use formats::tree::{Content, Node, Table};
use jiff::civil::Date;

/// The list of lines. An unchanged line keeps everything that is known of it, and a medicine without a line any more is
/// not forgotten: it ended on this day, so that what was examined before does not count as if nothing had changed.
///
/// `examined`: an earlier day of an examination. What is first written after it must say since when, or nobody would see
/// that it is new since.
pub(crate) fn read(
    text: &str,
    known: Option<&Node>,
    on: Date,
    examined: Option<Date>,
) -> Result<Option<Node>, String> {
    let known = match known.map(|node| &node.content) {
        Some(Content::List(list)) => list.as_slice(),
        _ => &[],
    };
    let lines: Vec<&str> = text
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty())
        .collect();
    let mut left: Vec<&Node> = known.iter().collect();
    let unchanged: Vec<Option<&Node>> = lines
        .iter()
        .map(|line| take(&mut left, |node| shown_one(node) == *line))
        .collect();
    let mut made = Vec::new();
    for line in lines
        .iter()
        .zip(&unchanged)
        .filter(|(_, same)| same.is_none())
    {
        not_a_slip(line.0, &lines, &left)?;
    }
    for (line, same) in lines.into_iter().zip(unchanged) {
        made.push(match same {
            Some(node) => node.clone(),
            None if line.contains(INSTEAD) => put_right(line, &mut left)?.into(),
            None if known.is_empty() && examined.is_none() => one(line).into(),
            None => changed(one(line), &mut left)?.into(),
        });
    }
    made.extend(left.into_iter().map(|node| ended(node, on)));
    Ok((!made.is_empty()).then(|| Content::List(made).into()))
}

/// Between the right line and the name that was written wrongly.
const INSTEAD: &str = " instead of ";

/// A name this many letters away from one that has gone looks like the same name spelt again.
const SLIP_LETTERS: usize = 2;

/// A new name close to one that has no line any more may be the same medicine spelt rightly, or another one: only whoever
/// writes it knows, and a medicine that was never taken must not be kept as one that ended.
fn not_a_slip(line: &str, lines: &[&str], left: &[&Node]) -> Result<(), String> {
    let name = text(&one(line), "name").unwrap_or_default();
    let has_line = |other: &str| {
        lines
            .iter()
            .any(|line| text(&one(line), "name").is_some_and(|name| same_name(&name, other)))
    };
    if line.contains(INSTEAD) || left.iter().any(|node| is_named(node, &name)) {
        return Ok(());
    }
    let gone = left
        .iter()
        .filter(|node| of(node, "until").is_none())
        .filter_map(|node| of(node, "name"))
        .find(|other| !has_line(other) && letters_apart(&name, other) <= SLIP_LETTERS);
    match gone {
        Some(other) => Err(format!(
            "{other} has no line any more, and {name} is new and nearly the same name. If {other} was written wrongly, write \
             '{line}{INSTEAD}{other}'; if it was stopped, write its own line with 'until' and the day"
        )),
        None => Ok(()),
    }
}

/// What was written wrongly is replaced: it does not end, because it was never taken. What the line does not say stays.
fn put_right(line: &str, left: &mut Vec<&Node>) -> Result<Table, String> {
    let (line, wrong) = line.rsplit_once(INSTEAD).unwrap_or((line, ""));
    let before = take(left, |node| is_named(node, wrong.trim()))
        .ok_or_else(|| format!("{} is not among the medicines, so nothing stands instead of it; write its name as it is listed", wrong.trim()))?;
    let mut right = one(line.trim());
    if let Content::Table(before) = &before.content {
        for entry in &before.entries {
            if right.get(&entry.key).is_none() {
                right.entries.push(entry.clone());
            }
        }
    }
    Ok(right)
}

fn is_named(node: &Node, name: &str) -> bool {
    of(node, "name").is_some_and(|one| same_name(&one, name))
}

fn same_name(a: &str, b: &str) -> bool {
    a.to_lowercase() == b.to_lowercase()
}

/// How many letters must be put in, taken out or changed to come from one name to the other.
fn letters_apart(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (
        a.to_lowercase().chars().collect(),
        b.to_lowercase().chars().collect(),
    );
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, from) in a.iter().enumerate() {
        let mut above_left = row[0];
        row[0] = i + 1;
        for (j, to) in b.iter().enumerate() {
            let above = row[j + 1];
            let changed = above_left + usize::from(from != to);
            row[j + 1] = changed.min(above + 1).min(row[j] + 1);
            above_left = above;
        }
    }
    row[b.len()]
}

/// The newest day before one on which the person was examined.
pub(crate) fn examined_before(table: &Table, on: Date) -> Option<Date> {
    let Content::List(examinations) = &table.get("examination")?.content else {
        return None;
    };
    let day = |node: &Node| match &node.content {
        Content::Table(one) => match one.get("date")?.content {
            Content::Date(date) => Some(date),
            _ => None,
        },
        _ => None,
    };
    examinations
        .iter()
        .filter_map(day)
        .filter(|day| *day < on)
        .max()
}

fn take<'n>(left: &mut Vec<&'n Node>, is_it: impl Fn(&Node) -> bool) -> Option<&'n Node> {
    let at = left.iter().position(|node| is_it(node))?;
    Some(left.remove(at))
}

/// A line that is new or says something else than before must say since when: only then is it seen what was examined
/// before it. What a line does not show stays as it was.
fn changed(mut line: Table, left: &mut Vec<&Node>) -> Result<Table, String> {
    let name = text(&line, "name").unwrap_or_default();
    let is_same = |node: &Node| {
        let before = of(node, "name").map(|one| one.to_lowercase());
        before == Some(name.to_lowercase()) && of(node, "until").is_none()
    };
    let before = take(left, is_same);
    let since = text(&line, "since");
    let other_dose = before.is_some_and(|node| of(node, "dose") != text(&line, "dose"));
    let old_day = before.is_some_and(|node| of(node, "since") == since);
    if (before.is_none() || other_dose) && (since.is_none() || old_day) {
        return Err(format!(
            "{name} is new here or its dose another; write since when, at the end of its line, as 'since 2026-11-20'. \
             Where it was taken long before, any day before the newest examination will do"
        ));
    }
    if let Some(Content::Table(before)) = before.map(|node| &node.content) {
        for entry in &before.entries {
            let is_shown = ["name", "dose", "since", "until"].contains(&entry.key.as_str());
            if !is_shown {
                line.entries.push(entry.clone());
            }
        }
    }
    Ok(line)
}

fn ended(node: &Node, on: Date) -> Node {
    match &node.content {
        Content::Table(table) if table.get("until").is_none() => {
            let mut table = table.clone();
            table.put("until", on);
            table.into()
        }
        _ => node.clone(),
    }
}

/// Name, then the dose from the first figure on, then the days after "since" and "until".
fn one(line: &str) -> Table {
    let (line, until) = day_after(line, " until ");
    let (line, since) = day_after(line, " since ");
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
    table.put_known("until", until);
    table
}

/// A day behind a word at the end of a line, and the line without it.
fn day_after<'l>(line: &'l str, word: &str) -> (&'l str, Option<Date>) {
    match line.rsplit_once(word) {
        Some((before, after)) => match after.trim().parse::<Date>() {
            Ok(date) => (before.trim(), Some(date)),
            Err(_) => (line, None),
        },
        None => (line, None),
    }
}

/// The lines of what is known.
pub(crate) fn shown(known: &Node) -> String {
    match &known.content {
        Content::List(list) => list.iter().map(shown_one).collect::<Vec<_>>().join("\n"),
        _ => String::new(),
    }
}

fn shown_one(node: &Node) -> String {
    let since = of(node, "since").map(|date| format!("since {date}"));
    let until = of(node, "until").map(|date| format!("until {date}"));
    [of(node, "name"), of(node, "dose"), since, until]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(" ")
}

fn of(node: &Node, key: &str) -> Option<String> {
    match &node.content {
        Content::Table(table) => text(table, key),
        _ => None,
    }
}

fn text(table: &Table, key: &str) -> Option<String> {
    match table.get(key).map(|node| &node.content) {
        Some(Content::Text(text)) => Some(text.clone()),
        Some(Content::Date(date)) => Some(date.to_string()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ON: Date = jiff::civil::date(2026, 11, 25);

    fn list(lines: &[Table]) -> Node {
        let nodes = lines.iter().cloned().map(Node::from).collect();
        Content::List(nodes).into()
    }

    fn read_again(text: &str, known: &Node) -> Result<Node, String> {
        Ok(read(text, Some(known), ON, None)?.unwrap())
    }

    #[test]
    fn lines_become_medicines_and_back() {
        for line in [
            "bisoprolol 2.5 mg since 2026-08-31",
            "amoxicillin 500 mg since 2026-11-20 until 2026-11-27",
            "glyceryl trinitrate spray 400 micrograms",
            "aspirin",
            "vitamin B12",
            "insulin glargine 14 units at night",
        ] {
            let node = read(line, None, ON, None).unwrap().unwrap();
            assert_eq!(shown(&node), line);
        }
        assert!(read(" \n ", None, ON, None).unwrap().is_none());
        let examined = Some(jiff::civil::date(2026, 11, 20));
        let refused = read("bisoprolol 2.5 mg", None, ON, examined).unwrap_err();
        assert!(refused.contains("since when"), "{refused}");
        assert!(read("bisoprolol 2.5 mg since 2026-11-22", None, ON, examined).is_ok());
    }

    #[test]
    fn a_changed_line_says_since_when_and_keeps_what_it_does_not_show() {
        let mut table = one("ramipril 5 mg since 2026-09-01");
        table.put("as_needed", false);
        table.put("times", "at night");
        let known = list(&[table]);
        let same = read_again("ramipril 5 mg since 2026-09-01", &known);
        assert_eq!(same.unwrap(), known);
        for silent in [
            "ramipril 10 mg",
            "ramipril 10 mg since 2026-09-01",
            "ramipril 5 mg since 2026-09-01\naspirin 75 mg",
        ] {
            let refused = read_again(silent, &known).unwrap_err();
            assert!(refused.contains("since when"), "{silent}: {refused}");
        }
        let changed = read_again("Ramipril 10 mg since 2026-11-20", &known).unwrap();
        let Content::List(items) = &changed.content else {
            panic!("a list was made")
        };
        assert_eq!(items.len(), 1);
        assert_eq!(of(&items[0], "times").as_deref(), Some("at night"));
        assert_eq!(of(&items[0], "since").as_deref(), Some("2026-11-20"));
    }

    #[test]
    fn a_name_put_right_is_asked_about_and_ends_nothing() {
        let mut table = one("bisoprolool 2.5 mg since 2026-08-31");
        table.put("times", "in the morning");
        let known = list(&[table, one("aspirin")]);
        let slip = "bisoprolol 2.5 mg since 2026-08-31\naspirin";
        let asked = read_again(slip, &known).unwrap_err();
        assert!(
            asked.contains("instead of bisoprolool") && asked.contains("until"),
            "{asked}"
        );
        let right = read_again("bisoprolol 2.5 mg instead of bisoprolool\naspirin", &known);
        let right = right.unwrap();
        assert_eq!(
            shown(&right),
            "bisoprolol 2.5 mg since 2026-08-31\naspirin",
            "the one that was never taken has not ended"
        );
        let Content::List(items) = &right.content else {
            panic!("a list was made")
        };
        assert_eq!(of(&items[0], "times").as_deref(), Some("in the morning"));
        let stopped = "bisoprolol 2.5 mg since 2026-11-20\nbisoprolool 2.5 mg since 2026-08-31 until 2026-11-19\naspirin";
        let stopped = shown(&read_again(stopped, &known).unwrap());
        assert!(stopped.contains("bisoprolool 2.5 mg since 2026-08-31 until 2026-11-19"));
        let unknown = read_again("ramipril 5 mg instead of atenolol\naspirin", &known);
        assert!(unknown.unwrap_err().contains("not among the medicines"));
        // Another medicine in its place is no slip.
        let other = "ramipril 5 mg since 2026-11-20\naspirin";
        assert!(
            shown(&read_again(other, &known).unwrap())
                .contains("bisoprolool 2.5 mg since 2026-08-31 until 2026-11-25")
        );
    }

    #[test]
    fn a_medicine_without_a_line_ended_today_and_stays_known() {
        let known = list(&[one("bisoprolol 2.5 mg since 2026-08-31"), one("aspirin")]);
        let after = read_again("aspirin", &known).unwrap();
        let text = "aspirin\nbisoprolol 2.5 mg since 2026-08-31 until 2026-11-25";
        assert_eq!(shown(&after), text);
        let later = read(text, Some(&after), jiff::civil::date(2026, 12, 1), None);
        assert_eq!(later.unwrap().unwrap(), after);
        let emptied = read("", Some(&after), jiff::civil::date(2026, 12, 1), None);
        let emptied = shown(&emptied.unwrap().unwrap());
        assert!(
            emptied.contains("until 2026-11-25") && emptied.contains("aspirin until 2026-12-01")
        );
    }
}
