//! Saying numbers, lengths and days in words.

use jiff::civil::Date;
use rehab::wording::Words;

/// Speaks in the words of one language.
#[derive(Clone, Copy)]
pub(super) struct Say<'a> {
    pub(super) words: &'a Words,
}

impl Say<'_> {
    /// A whole number: in words up to twelve, then in digits.
    pub(super) fn number(self, value: u64) -> String {
        self.words
            .find(&format!("say.number.{value}"))
            .map_or_else(|| value.to_string(), str::to_owned)
    }

    /// A length of time: "two minutes", "one and a half minutes", "45 seconds".
    pub(super) fn length(self, ms: u32) -> String {
        let seconds = u64::from(ms.div_ceil(1000));
        let (minutes, rest) = (seconds / 60, seconds % 60);
        let count = self.number(minutes);
        match (minutes, rest) {
            (0, 30) => self.words.get("say.half-minute").to_owned(),
            (0, _) => self
                .words
                .fill("say.seconds", &[("count", &self.number(seconds))]),
            (1, 0) => self.words.get("say.minute").to_owned(),
            (_, 0) => self.words.fill("say.minutes", &[("count", &count)]),
            (_, 30) => self.words.fill("say.minutes-half", &[("count", &count)]),
            // A minute and a bit is easier to time in seconds.
            (1, _) => self
                .words
                .fill("say.seconds", &[("count", &seconds.to_string())]),
            _ => self.words.fill(
                "say.minutes-seconds",
                &[("count", &count), ("seconds", &rest.to_string())],
            ),
        }
    }

    /// A day: "25 November 2026".
    pub(super) fn date(self, date: Date) -> String {
        self.words.fill(
            "say.date",
            &[
                ("day", &date.day().to_string()),
                (
                    "month",
                    self.words.get(&format!("say.month.{}", date.month())),
                ),
                ("year", &date.year().to_string()),
            ],
        )
    }

    /// A number as it is written, without a needless decimal.
    pub(super) fn value(self, value: f64) -> String {
        let tenths = libm::round(value * 10.0) / 10.0;
        format!("{tenths}").replace('.', self.words.get("say.decimal"))
    }
}

/// The same words as a sentence: a capital to begin with and a full stop to end.
pub(super) fn sentence(text: &str) -> String {
    let mut signs = text.trim().chars();
    let Some(first) = signs.next() else {
        return String::new();
    };
    let mut out: String = first.to_uppercase().collect();
    out.push_str(signs.as_str());
    if !out.ends_with(['.', '?', '!', ':']) {
        out.push('.');
    }
    out
}

/// The same words with a capital to begin with.
pub(crate) fn capital(text: &str) -> String {
    let mut signs = text.chars();
    match signs.next() {
        Some(first) => first.to_uppercase().collect::<String>() + signs.as_str(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sentences_begin_with_a_capital_and_end_once() {
        assert_eq!(
            sentence("for the step of the bus"),
            "For the step of the bus."
        );
        assert_eq!(sentence("Is it so?"), "Is it so?");
        assert_eq!(sentence("  "), "");
        assert_eq!(capital("école"), "École");
    }
}
