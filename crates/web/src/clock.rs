//! The only clock of the pages: real, or held at a day for a demonstration.

use jiff::civil::{Date, DateTime};
use jiff::{Timestamp, ZonedDateTime};

/// Where pages take the time from.
#[derive(Clone, Copy, Debug)]
pub enum Clock {
    /// The machine's clock and time zone.
    Real,
    /// Held at this day; the time of day goes on.
    Held(Date),
}

impl Clock {
    /// Today, in the local time of the service.
    pub fn today(self) -> Date {
        match self {
            Self::Real => ZonedDateTime::now().date(),
            Self::Held(date) => date,
        }
    }

    /// The local time of the service.
    pub fn local(self) -> DateTime {
        self.today().to_datetime(ZonedDateTime::now().time())
    }

    /// This moment, for what is recorded and for sessions: never held.
    pub fn now(self) -> Timestamp {
        Timestamp::now()
    }
}
