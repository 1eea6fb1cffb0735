//! An unfinished sheet, kept in the record as a note that a person can read: nothing in it counts until it is signed.

use super::follow::Follows;
use crate::address;
use crate::casefile::CaseFile;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::row;
use crate::phrases::calendar_day;
use crate::typed::Typed;
use formats::journal::read_body;
use maud::{Markup, html};
use records::Entry;
use rehab::course::Happening;

/// First words of such a note.
const MARK: &str = "Call sheet kept as a draft";
/// What belongs to the page and not to the answers.
const OF_THE_PAGE: [&str; 2] = ["position", "act"];
/// Texts that the program drafts itself: only what somebody changed is kept.
const DRAFTED: [&str; 3] = ["note", "letter", "next"];

/// A sheet that was kept and not signed.
pub(super) struct Kept<'f> {
    entry: &'f Entry,
    /// The answers as they were typed.
    pub(super) typed: Typed,
    /// What would follow from them, as it stood when they were kept.
    follows: String,
}

/// The newest sheet that was kept, unless somebody was reached since.
pub(super) fn newest(file: &CaseFile) -> Option<Kept<'_>> {
    for entry in file.entries.iter().rev() {
        if entry.superseded_by.is_some() {
            continue;
        }
        match read_body(entry.kind.as_str(), &entry.body).ok()? {
            Happening::Called(call) if call.reached => return None,
            Happening::Note(text) if text.starts_with(MARK) => {
                let (typed, follows) = read(&text);
                return Some(Kept {
                    entry,
                    typed,
                    follows,
                });
            }
            _ => {}
        }
    }
    None
}

/// Keeps the sheet as it stands; an older draft is superseded and stays readable.
pub(super) async fn keep(
    signed: &Signed,
    file: &CaseFile,
    typed: &Typed,
    follows: &Follows,
) -> Result<(), PageError> {
    let note = Happening::Note(written(typed, &follows.headline));
    match newest(file) {
        Some(old) => file.supersede(signed, old.entry, note).await,
        None => file.write(signed, vec![note]).await,
    }
}

fn written(typed: &Typed, headline: &str) -> String {
    let mut lines = vec![
        format!("{MARK}; nothing in it counts until it is signed"),
        headline.to_owned(),
    ];
    for (name, value) in typed.pairs() {
        let page = OF_THE_PAGE.contains(&name) || name.starts_with("drafted-");
        let own = DRAFTED.contains(&name)
            && same_lines(value) == same_lines(typed.get(&format!("drafted-{name}")));
        if !page && !own && !value.trim().is_empty() {
            let value = same_lines(value).replace('\\', "\\\\").replace('\n', "\\n");
            lines.push(format!("{name} = {value}"));
        }
    }
    lines.join("\n")
}

fn read(text: &str) -> (Typed, String) {
    let mut lines = text.lines().skip(1);
    let follows = lines.next().unwrap_or_default().to_owned();
    let mut typed = Typed::default();
    for (name, value) in lines.filter_map(|line| line.split_once(" = ")) {
        typed.add(name, unescaped(value));
    }
    (typed, follows)
}

fn unescaped(value: &str) -> String {
    let mut text = String::new();
    let mut signs = value.chars();
    while let Some(sign) = signs.next() {
        match (sign, sign == '\\') {
            (_, true) => text.push(match signs.next() {
                Some('n') => '\n',
                Some(other) => other,
                None => '\\',
            }),
            (sign, false) => text.push(sign),
        }
    }
    text
}

/// Browsers send line ends of their own.
fn same_lines(text: &str) -> String {
    text.trim().replace("\r\n", "\n")
}

/// On the case page: the sheet that waits to be finished, and what would follow from it.
pub(crate) fn unfinished(file: &CaseFile) -> Markup {
    let Some(kept) = newest(file) else {
        return html! {};
    };
    let when = calendar_day(kept.entry.effective.date(), file.on);
    let text = html! {
        p.say { b { "A call sheet is kept as a draft and not signed: nothing in it counts yet." } }
        p { "What would follow: " (kept.follows) }
        p.acts { a.act href=(address::of_case(file.id, "call")) { "Finish the sheet" } }
    };
    html! { section.group { (row(&html! { b { "Unfinished" } br; (when) }, &text, &html! {})) } }
}

/// On the sheet: where its answers come from.
pub(super) fn told(file: &CaseFile) -> Markup {
    let Some(kept) = newest(file) else {
        return html! {};
    };
    let when = calendar_day(kept.entry.effective.date(), file.on);
    let time = kept.entry.effective.strftime("%H:%M").to_string();
    row(
        &html! {},
        &html! { p { b { "Kept as a draft on " (when) " at " (time) "." } " Its answers stand below; nothing counts until you sign." } },
        &html! { p { "Not wanted? Strike it out under " a href=(address::of_case(file.id, "written")) { "all that was written" } "." } },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_draft_is_read_as_it_was_typed() {
        let mut typed = Typed::default();
        typed.add("position", "7");
        typed.add("act", "draft");
        typed.add("day", "2026-11-20");
        typed.add("day", "2026-11-23");
        typed.add("open", "All right = well,\r\nshe said \\ and hung up");
        typed.add("done:review/ask-silence 2026", "rang twice");
        typed.add("note", "as drafted");
        typed.add("drafted-note", "as drafted");
        typed.add("letter", "changed");
        typed.add("drafted-letter", "as drafted");
        let text = written(&typed, "Ask first.");
        let (read, follows) = read(&text);
        assert_eq!(follows, "Ask first.");
        assert_eq!(
            read.all("day").collect::<Vec<_>>(),
            ["2026-11-20", "2026-11-23"]
        );
        assert_eq!(
            read.get("open"),
            "All right = well,\nshe said \\ and hung up"
        );
        assert_eq!(read.get("done:review/ask-silence 2026"), "rang twice");
        assert_eq!(read.get("letter"), "changed");
        for name in ["note", "position", "act", "drafted-letter"] {
            assert_eq!(read.get(name), "", "{name}");
        }
    }
}
