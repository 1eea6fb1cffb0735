//! Findings and reasons for people.

use super::columns::hanging;
use rehab::evidence::{Because, Finding};

/// A finding as one item of a list.
pub(super) fn item(text: &str) -> String {
    hanging(&format!("- {text}"), 2, 4)
}

/// Findings, one item each.
pub(super) fn items(list: &[Finding]) -> String {
    list.iter().map(|finding| item(&finding.text)).collect()
}

/// What is still to find out, put together by whom to ask and what waits for it.
pub(super) fn questions(list: &[Finding]) -> String {
    let mut groups: Vec<(String, Vec<&str>)> = Vec::new();
    for finding in list {
        let title = match &finding.ask {
            Some(ask) if ask.blocks.is_empty() => capital(&ask.whom),
            Some(ask) => format!("{} (waiting for it: {})", capital(&ask.whom), ask.blocks),
            None => "Ask".to_owned(),
        };
        match groups.iter_mut().find(|(other, _)| *other == title) {
            Some((_, group)) => group.push(&finding.text),
            None => groups.push((title, vec![&finding.text])),
        }
    }
    let group = |(title, group): &(String, Vec<&str>)| {
        let items: String = folded(group)
            .iter()
            .map(|text| hanging(&format!("- {text}"), 4, 6))
            .collect();
        format!("{}{items}", hanging(title, 2, 2))
    };
    groups.iter().map(group).collect()
}

/// Texts that end alike after a colon become one: three questions "X: present or absent?" are asked in one breath.
pub(super) fn folded(texts: &[&str]) -> Vec<String> {
    const ALIKE: usize = 3;
    let end = |text: &str| text.rsplit_once(": ").map(|(_, end)| end.to_owned());
    let alike = |wanted: &str| {
        texts
            .iter()
            .filter(|text| end(text).as_deref() == Some(wanted))
            .count()
    };
    let mut out: Vec<String> = Vec::new();
    let mut done: Vec<String> = Vec::new();
    for text in texts {
        match end(text).filter(|end| alike(end) >= ALIKE) {
            None => out.push((*text).to_owned()),
            Some(shared) if done.contains(&shared) => {}
            Some(shared) => {
                let starts: Vec<&str> = texts
                    .iter()
                    .filter_map(|other| other.strip_suffix(&format!(": {shared}")))
                    .collect();
                out.push(format!("{}: {}", capital(&shared), starts.join("; ")));
                done.push(shared);
            }
        }
    }
    out
}

/// The same with a small first letter, for the middle of a sentence.
pub(super) fn small(text: &str) -> String {
    let mut signs = text.chars();
    let first = signs.next();
    let next_is_capital = signs.clone().next().is_some_and(char::is_uppercase);
    match first {
        // "ST depression" stays as it is.
        Some(first) if !next_is_capital => first.to_lowercase().chain(signs).collect(),
        _ => text.to_owned(),
    }
}

fn capital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(signs).collect()
    })
}

/// Why a number is what it is, with its working, its sources and its doubt.
pub(super) fn because(because: &Because) -> String {
    let mut out = hanging(
        &format!("* {}: {}. {}", because.rule, because.value, because.text),
        4,
        6,
    );
    if let Some(working) = &because.working {
        out.push_str(&hanging(working, 6, 8));
    }
    // What went in, as name and value; the working above shows how.
    let given: Vec<String> = because
        .inputs
        .iter()
        .map(|input| format!("{} {}", input.name.replace('_', " "), input.value))
        .collect();
    if !given.is_empty() {
        out.push_str(&hanging(&format!("From {}.", given.join(", ")), 6, 8));
    }
    for assumed in &because.assumed {
        out.push_str(&hanging(&format!("Assumed: {assumed}."), 6, 8));
    }
    if let Some(unsure) = &because.unsure {
        out.push_str(&hanging(&format!("How sure: {unsure}."), 6, 8));
    }
    if let Some(changes) = &because.changes_with {
        out.push_str(&hanging(&format!("Changes with: {changes}."), 6, 8));
    }
    let sources: Vec<&str> = because.sources.iter().map(|source| source.0).collect();
    let source = if sources.is_empty() {
        format!("Source: {}.", because.tag)
    } else {
        format!("Source: {} ({}).", sources.join(", "), because.tag)
    };
    out.push_str(&hanging(&source, 6, 8));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_that_end_alike_become_one_and_none_is_lost() {
        let texts = [
            "A: present?",
            "B: present?",
            "lone",
            "C: absent?",
            "D: present?",
        ];
        assert_eq!(folded(&texts), ["Present?: A; B; D", "lone", "C: absent?"]);
    }
}
