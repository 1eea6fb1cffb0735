//! Days out of FHIR's dates and instants.

use jiff::civil::Date;

/// What a date of a resource says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Moment {
    /// A whole day; of an instant, the day as it was written, in its own place on earth.
    Day(Date),
    /// Only a year or a month.
    Partial(String),
    /// Nothing that can be read as a date.
    Unreadable(String),
}

impl Moment {
    pub(super) fn of(text: &str) -> Self {
        let shown = super::concept::short(text);
        let digits = |part: &str, count: usize| {
            part.len() == count && part.bytes().all(|b| b.is_ascii_digit())
        };
        let day = text.get(..10).unwrap_or("");
        let rest = text.get(10..).unwrap_or("");
        let parts: Vec<&str> = text.split('-').collect();
        match parts[..] {
            [year] if digits(year, 4) => return Self::Partial(shown),
            [year, month] if digits(year, 4) && digits(month, 2) => return Self::Partial(shown),
            _ => {}
        }
        let form = day.bytes().enumerate().all(|(at, b)| {
            if at == 4 || at == 7 {
                b == b'-'
            } else {
                b.is_ascii_digit()
            }
        });
        let day = day
            .parse::<Date>()
            .ok()
            .filter(|_| form && (rest.is_empty() || rest.starts_with('T')));
        day.map_or(Self::Unreadable(shown), Self::Day)
    }

    pub(super) fn day(&self) -> Option<Date> {
        match self {
            Self::Day(day) => Some(*day),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn dates_instants_and_parts_of_dates_are_told_apart() {
        assert_eq!(Moment::of("2026-08-30"), Moment::Day(date(2026, 8, 30)));
        assert_eq!(
            Moment::of("2026-08-30T23:59:00+02:00"),
            Moment::Day(date(2026, 8, 30))
        );
        assert_eq!(Moment::of("2026-08"), Moment::Partial("2026-08".to_owned()));
        assert_eq!(Moment::of("2026"), Moment::Partial("2026".to_owned()));
        for bad in [
            "30.08.2026",
            "2026-02-30",
            "2026-08-30 10:00",
            "",
            "2026-8-3",
            "éééééééééééé",
        ] {
            assert_eq!(Moment::of(bad), Moment::Unreadable(bad.to_owned()), "{bad}");
        }
    }
}
