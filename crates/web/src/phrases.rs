//! Days, numbers and lists in words, as a colleague would say them.

use handouts::running_order::page_letter;
use jiff::civil::Date;
use rehab::assessment::{EffortScale, EventKind, ProcedureKind, StatusKind};
use rehab::calendar::days_between;
use rehab::service::EffortBand;

/// A day as it is said on a day: today, yesterday, Monday, 13 November, 3 March 2025.
pub(crate) fn day(date: Date, on: Date) -> String {
    match days_between(date, on) {
        0 => "today".to_owned(),
        1 => "yesterday".to_owned(),
        -1 => "tomorrow".to_owned(),
        -6..=6 => date.strftime("%A").to_string(),
        _ => calendar_day(date, on),
    }
}

/// The same after a verb: today, on Monday, on 13 November.
pub(crate) fn on_day(date: Date, on: Date) -> String {
    match days_between(date, on) {
        -1..=1 => day(date, on),
        _ => format!("on {}", day(date, on)),
    }
}

/// 13 November, with the year where it is another one.
pub(crate) fn calendar_day(date: Date, on: Date) -> String {
    let form = if date.year() == on.year() {
        "%-d %B"
    } else {
        "%-d %B %Y"
    };
    date.strftime(form).to_string()
}

/// An effort as it is agreed: 2 to 4 of 10.
pub(crate) fn effort(scale: EffortScale, band: EffortBand) -> String {
    let scale = match scale {
        EffortScale::ZeroToTen => "of 10",
        EffortScale::SixToTwenty => "on 6 to 20",
    };
    format!("{} to {} {scale}", band.low, band.high)
}

/// 13 November 2026.
pub(crate) fn full_day(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

/// Text of a rule with its days in words instead of figures.
pub(crate) fn days_in_words(text: &str, on: Date) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(start) = rest.find(|letter: char| letter.is_ascii_digit()) {
        let (before, from) = rest.split_at(start);
        out.push_str(before);
        let figures = from.len()
            - from
                .trim_start_matches(|letter: char| letter.is_ascii_digit() || letter == '-')
                .len();
        let (run, after) = from.split_at(figures);
        match run.parse::<Date>() {
            Ok(date) if run.len() == 10 => out.push_str(&calendar_day(date, on)),
            _ => out.push_str(run),
        }
        rest = after;
    }
    out.push_str(rest);
    out
}

const SMALL: [&str; 21] = [
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
];

/// A count in words up to twenty, then in figures.
pub(crate) fn count(number: usize) -> String {
    SMALL
        .get(number)
        .map_or_else(|| number.to_string(), |word| (*word).to_owned())
}

/// A count with its noun: one call, two calls, no calls.
pub(crate) fn counted(number: usize, one: &str, more: &str) -> String {
    format!("{} {}", count(number), if number == 1 { one } else { more })
}

/// The first letter large.
pub(crate) fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// The first letter small, for words that go on a sentence; a name or an abbreviation of capitals stays.
pub(crate) fn begun(words: &str) -> String {
    let mut letters = words.chars();
    let second_is_small = words.chars().nth(1).is_some_and(|one| !one.is_uppercase());
    match letters.next() {
        Some(first) if second_is_small && !words.starts_with("I ") => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => words.to_owned(),
    }
}

/// With a full stop, unless it ends with a mark already.
pub(crate) fn stopped(words: &str) -> String {
    let ended = words.ends_with(['.', '?', ':', ';']);
    format!("{words}{}", if ended { "" } else { "." })
}

/// a, b and c.
pub(crate) fn list(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The page of a rung as practitioner and person call it.
pub(crate) fn page_of(stage: u16) -> String {
    format!("page {}", page_letter(stage))
}

/// How often a page is done, kept together on one line.
pub(crate) fn times_a_week(times: u8) -> String {
    match times {
        1 => "once\u{a0}a\u{a0}week".to_owned(),
        2 => "twice\u{a0}a\u{a0}week".to_owned(),
        more => format!("{}\u{a0}times\u{a0}a\u{a0}week", count(usize::from(more))),
    }
}

/// A heart event in plain words.
pub(crate) const fn event(kind: EventKind) -> &'static str {
    match kind {
        EventKind::MyocardialInfarction => "heart attack",
        EventKind::Angina => "angina",
        EventKind::HeartFailure => "heart failure",
        EventKind::ValveSurgery => "valve operation",
        EventKind::CatheterValve => "valve by catheter",
        EventKind::BypassSurgery => "bypass operation",
        EventKind::DeviceImplant => "device implant",
        EventKind::Transplant => "heart transplant",
        EventKind::CardiacArrest => "cardiac arrest",
        EventKind::CoronaryDissection => "coronary dissection",
        EventKind::StressCardiomyopathy => "stress cardiomyopathy",
        EventKind::AneurysmRepair => "aneurysm repair",
        EventKind::Other => "heart event",
    }
}

/// A procedure in plain words.
pub(crate) const fn procedure(kind: ProcedureKind) -> &'static str {
    match kind {
        ProcedureKind::Stent => "stent",
        ProcedureKind::Bypass => "bypass",
        ProcedureKind::Valve => "new valve",
        ProcedureKind::Pacemaker => "pacemaker",
        ProcedureKind::Icd => "defibrillator",
        ProcedureKind::Sternotomy => "opened breastbone",
        ProcedureKind::Other => "another procedure",
    }
}

/// A standing in plain words.
pub(crate) const fn status(kind: StatusKind) -> &'static str {
    match kind {
        StatusKind::Referred => "referred, not yet seen",
        StatusKind::Declined => "declined",
        StatusKind::WaitingForClearance => "waiting for clearance",
        StatusKind::Active => "with us",
        StatusKind::Paused => "paused",
        StatusKind::InHospital => "in hospital",
        StatusKind::Discharged => "discharged",
        StatusKind::Died => "died",
    }
}

/// A message about a file in words of a page: a page has no options as a command has.
pub(crate) fn without_options(message: &str) -> String {
    message
        .replace("the day this is worked out for", "the day of the program")
        .replace(", or give a later day with --on", "")
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn days_are_said_as_one_says_them() {
        let on = date(2026, 11, 25);
        assert_eq!(on_day(on, on), "today");
        assert_eq!(on_day(date(2026, 11, 24), on), "yesterday");
        assert_eq!(on_day(date(2026, 11, 23), on), "on Monday");
        assert_eq!(on_day(date(2026, 11, 18), on), "on 18 November");
        assert_eq!(on_day(date(2025, 3, 3), on), "on 3 March 2025");
    }

    #[test]
    fn only_whole_days_in_a_text_are_put_in_words() {
        let on = date(2026, 11, 25);
        assert_eq!(
            days_in_words("used on 2026-11-23, 2 times, band 40-70, 2026-13-45", on),
            "used on 23 November, 2 times, band 40-70, 2026-13-45"
        );
    }

    #[test]
    fn lists_end_with_and() {
        let parts = |words: &[&str]| {
            words
                .iter()
                .map(|word| (*word).to_owned())
                .collect::<Vec<_>>()
        };
        assert_eq!(list(&parts(&["a"])), "a");
        assert_eq!(list(&parts(&["a", "b", "c"])), "a, b and c");
    }
}
