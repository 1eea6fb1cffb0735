//! Days between days.

use jiff::civil::Date;

/// Whole days from one day to another; negative when the second is earlier.
pub fn days_between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(i32::MAX, |span| span.get_days())
}

/// The day a number of days later; the last day there is when that lies beyond the calendar.
pub fn days_after(from: Date, days: i32) -> Date {
    from.checked_add(jiff::Span::new().days(days))
        .unwrap_or(Date::MAX)
}

/// How long ago a day was, in words.
pub fn ago(days: i32) -> String {
    match days {
        0 => "today".to_owned(),
        1 => "yesterday".to_owned(),
        days => format!("{days} days ago"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn counts_over_a_leap_day_and_backwards() {
        assert_eq!(days_between(date(2028, 2, 28), date(2028, 3, 1)), 2);
        assert_eq!(days_between(date(2026, 11, 25), date(2026, 11, 12)), -13);
        assert_eq!(days_between(date(2025, 11, 25), date(2026, 11, 25)), 365);
        assert_eq!(days_after(date(2026, 11, 12), 14), date(2026, 11, 26));
    }

    #[test]
    fn one_day_ago_is_said_as_people_say_it() {
        assert_eq!([0, 1, 2].map(ago), ["today", "yesterday", "2 days ago"]);
    }
}
