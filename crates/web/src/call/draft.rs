//! An unfinished sheet: kept in the record as it was typed, and nothing in it counts until it is signed.

use super::follow::Follows;
use crate::address;
use crate::casefile::CaseFile;
use crate::error::PageError;
use crate::guard::Signed;
use crate::layout::row;
use crate::phrases::calendar_day;
use crate::typed::Typed;
use formats::journal::kind_of;
use jiff::civil::Date;
use maud::{Markup, html};
use records::Entry;
use rehab::course::{Happening, Unfinished};

/// What belongs to the page and not to the answers.
const OF_THE_PAGE: [&str; 3] = ["position", "act", "seen"];
/// Texts that the program drafts itself: only what somebody changed is kept.
const DRAFTED: [&str; 3] = ["note", "letter", "next"];

/// The day on which the answers were spoken of.
const SPOKEN: &str = "spoken";

/// The answers of the sheet that was kept and not signed; nothing typed where there is none.
pub(super) fn kept(file: &CaseFile) -> Typed {
    let mut typed = Typed::default();
    if let Some((_, sheet)) = &file.course.unfinished {
        for (name, value) in &sheet.answers {
            typed.add(name, value.clone());
        }
    }
    typed
}

/// The entry of the sheet that was kept and not signed.
fn entry(file: &CaseFile) -> Option<&Entry> {
    let (_, sheet) = file.course.unfinished.as_ref()?;
    let kind = kind_of(&Happening::Unfinished(sheet.clone()));
    file.entries
        .iter()
        .rev()
        .find(|entry| entry.superseded_by.is_none() && entry.kind.as_str() == kind)
}

/// Keeps the sheet as it stands; an older draft is superseded and stays readable.
pub(super) async fn keep(
    signed: &Signed,
    file: &CaseFile,
    typed: &Typed,
    follows: &Follows,
) -> Result<(), PageError> {
    let mut answers = answers(typed);
    answers.retain(|(name, _)| name != SPOKEN);
    answers.push((SPOKEN.to_owned(), spoken_on(file, typed).to_string()));
    let sheet = Happening::Unfinished(Unfinished {
        follows: follows.headline.clone(),
        answers,
    });
    match entry(file) {
        Some(old) => file.supersede(signed, old, sheet).await,
        None => file.write(signed, vec![sheet]).await,
    }
}

fn answers(typed: &Typed) -> Vec<(String, String)> {
    let is_own = |name: &str, value: &str| {
        let page = OF_THE_PAGE.contains(&name) || name.starts_with("drafted-");
        let drafted = DRAFTED.contains(&name)
            && same_lines(value) == same_lines(typed.get(&format!("drafted-{name}")));
        !page && !drafted && !value.trim().is_empty()
    };
    typed
        .pairs()
        .filter(|(name, value)| is_own(name, value))
        .map(|(name, value)| (name.to_owned(), same_lines(value)))
        .collect()
}

/// Browsers send line ends of their own.
fn same_lines(text: &str) -> String {
    text.trim().replace("\r\n", "\n")
}

/// On the case page: the sheet that waits to be finished, and what would follow from it.
pub(crate) fn unfinished(file: &CaseFile) -> Markup {
    let Some((date, sheet)) = &file.course.unfinished else {
        return html! {};
    };
    let when = calendar_day(*date, file.on);
    let text = html! {
        p.say { b { "A call sheet is kept as a draft and not signed: nothing in it counts yet." } }
        p { "What would follow: " (sheet.follows) }
        p.acts { a.act href=(address::of_case(file.id, "call")) { "Finish the sheet" } }
    };
    html! { section.group { (row(&html! { b { "Unfinished" } br; (when) }, &text, &html! {})) } }
}

/// The day on which the answers were spoken of: that of the draft they were kept in, or a later one that is typed.
pub(super) fn spoken_on(file: &CaseFile, typed: &Typed) -> Date {
    let Some(first) = first_spoken(file) else {
        return file.on;
    };
    let day = typed.get(SPOKEN).parse().unwrap_or(first);
    day.clamp(first.min(file.on), file.on)
}

/// The day of a begun call: keeping it again on a later one does not move it.
fn first_spoken(file: &CaseFile) -> Option<Date> {
    let (kept, sheet) = file.course.unfinished.as_ref()?;
    let mut answers = sheet.answers.iter();
    let spoken = answers.find(|(name, _)| name == SPOKEN);
    let day = spoken.and_then(|(_, day)| day.parse::<Date>().ok());
    Some(day.map_or(*kept, |day| day.min(*kept)))
}

/// On the sheet: where its answers come from, and when they were spoken of if that was not today.
pub(super) fn told(file: &CaseFile, typed: &Typed) -> Markup {
    let Some(kept) = entry(file) else {
        return html! {};
    };
    let when = calendar_day(kept.effective.date(), file.on);
    let time = kept.effective.strftime("%H:%M").to_string();
    row(
        &html! {},
        &html! {
            p { b { "Kept as a draft on " (when) " at " (time) "." } " Its answers stand below; nothing counts until you sign." }
            @if let Some(first) = first_spoken(file).filter(|first| *first < file.on) {
                label { span { "Spoken on " } input.field.short.date type="date" name=(SPOKEN) value=(spoken_on(file, typed)) min=(first) max=(file.on); }
            }
        },
        &html! { p { "Not wanted? Strike it out under " a href=(address::of_case(file.id, "written")) { "all that was written" } "." } },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_somebody_answered_is_kept() {
        let mut typed = Typed::default();
        for (name, value) in [
            ("position", "7"),
            ("act", "draft"),
            ("day", "2026-11-20"),
            ("day", "2026-11-23"),
            ("open", "All right,\r\nshe said "),
            ("note", "as drafted"),
            ("drafted-note", "as drafted"),
            ("letter", "changed"),
            ("drafted-letter", "as drafted"),
            ("falls", ""),
        ] {
            typed.add(name, value);
        }
        let pair = |name: &str, value: &str| (name.to_owned(), value.to_owned());
        let expected = [
            pair("day", "2026-11-20"),
            pair("day", "2026-11-23"),
            pair("open", "All right,\nshe said"),
            pair("letter", "changed"),
        ];
        assert_eq!(answers(&typed), expected);
    }
}
