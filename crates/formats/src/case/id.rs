//! The id of a case.

use jiff::civil::Date;
use rehab::assessment::CaseId;

/// What an id looks like, as what may not stand in it: names for kinds of letters are not known to every validator of
/// schemas. Signs further on that are neither letter nor digit are left to [`check`]; so is the count, since some
/// validators count a rare letter twice.
pub(crate) const PATTERN: &str = concat!(
    "^[^\\u0000-/:-@\\[-`{-\\u00A9\\u00AB-\\u00B1\\u00B4\\u00B6-\\u00B8\\u00BB\\u00BF\\u00D7\\u00F7\\u2000-\\u206F\\uFEFF]",
    "[^\\u0000-,/:-@\\[-\\^`{-\\u00A9\\u00AB-\\u00B1\\u00B4\\u00B6-\\u00B8\\u00BB\\u00BF\\u00D7\\u00F7\\u2000-\\u206F\\uFEFF]{7,78}$"
);

const LEAST: usize = 8;
const MOST: usize = 40;

/// Refuses what cannot be an id. Ids become parts of file names and addresses, so no other signs are taken.
pub(crate) fn check(text: &str) -> Result<(), String> {
    let count = text.chars().count();
    if !(LEAST..=MOST).contains(&count) {
        return Err(format!(
            "the id has {count} characters; it takes {LEAST} to {MOST}, or leave it out and it is derived"
        ));
    }
    let inner = |sign: char| sign.is_alphanumeric() || matches!(sign, '-' | '_' | '.');
    if text.chars().all(inner) && text.starts_with(char::is_alphanumeric) {
        Ok(())
    } else {
        Err("the id may hold letters, digits, hyphens, dots and underlines, and begins with a letter or digit".to_owned())
    }
}

/// The id of a case that has none: family name, other names and day of birth, as far as they are known. The
/// whole day and all names stand in it, because two people of one family name and year are not rare.
pub(crate) fn derive(name: Option<&str>, born: Option<Date>) -> CaseId {
    let words: Vec<String> = name
        .unwrap_or_default()
        .split(|sign: char| !sign.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let mut parts: Vec<String> = Vec::new();
    if let Some((family, given)) = words.split_last() {
        parts.push(family.clone());
        parts.extend(given.iter().cloned());
    } else {
        parts.push("unnamed".to_owned());
    }
    let day = born.map_or_else(|| "birth-unknown".to_owned(), |born| born.to_string());
    let room = MOST - 1 - day.chars().count();
    let name: String = parts.join("-").chars().take(room).collect();
    CaseId(format!("{}-{day}", name.trim_end_matches('-')))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_derived_id_is_an_id() {
        let born = Some(date(1951, 5, 17));
        let long = "Wilhelmina Theodora Maximiliana von und zu Unterderbrücke";
        for (name, expected) in [
            (Some("Orla Fenwick"), "fenwick-orla-1951-05-17"),
            (Some("  Ngọc-Ánh  Lý "), "lý-ngọc-ánh-1951-05-17"),
            (Some(long), "unterderbrücke-wilhelmina-theo-1951-05-17"),
            (None, "unnamed-1951-05-17"),
            (Some("¡!"), "unnamed-1951-05-17"),
        ] {
            let id = derive(name, born).0;
            check(&id).unwrap();
            if name != Some(long) {
                assert_eq!(id, expected);
            }
        }
        check(&derive(None, None).0).unwrap();
        check(&derive(Some("Li"), None).0).unwrap();
    }
}
