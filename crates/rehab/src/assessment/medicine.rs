//! Medicines and the nitrate for chest discomfort.

use jiff::civil::Date;

/// One medicine as it was given to us: its name is recognised by INN elsewhere, never guessed here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Medicine {
    /// Name as written.
    pub name: String,
    /// Dose as written.
    pub dose: Option<String>,
    /// Taken since.
    pub since: Option<Date>,
    /// Taken until; `None` is still taken.
    pub until: Option<Date>,
    /// Times of day as written.
    pub times: Option<String>,
    /// Taken only when needed.
    pub as_needed: Option<bool>,
}

impl Medicine {
    /// Whether it is taken on a day, as far as dates are known.
    pub fn taken_on(&self, on: Date) -> bool {
        self.since.is_none_or(|since| since <= on) && self.until.is_none_or(|until| on <= until)
    }
}

/// The nitrate spray or tablet for chest discomfort.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Nitrate {
    /// Whether it is prescribed.
    pub prescribed: Option<bool>,
    /// Whether it is in date, as last seen; where the last day is known, that day decides.
    pub in_date: Option<bool>,
    /// Last day on which it is in date.
    pub until: Option<Date>,
    /// Whether its use was taught.
    pub taught: Option<bool>,
}

impl Nitrate {
    /// Nothing asked.
    pub const fn unasked() -> Self {
        Self {
            prescribed: None,
            in_date: None,
            until: None,
            taught: None,
        }
    }

    /// Whether it is in date on a day: a day once read from it runs out by itself.
    pub fn is_in_date(&self, on: Date) -> Option<bool> {
        self.until.map(|until| on <= until).or(self.in_date)
    }
}
