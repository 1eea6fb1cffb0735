//! The page that lies at home: what a page made anew is held against.

use super::Stage;
use super::ladder::{dearest_pair, most_met_minutes};
use jiff::civil::Date;

/// Slack on a comparison of doses, MET-minutes.
pub(crate) const SLACK: f64 = 1e-6;
/// Days of the week within which the dose may grow once.
const WEEK_DAYS: i32 = 7;

/// Dose of a page as it was given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dose {
    /// One session, MET-minutes from the low ends.
    pub met_minutes: f64,
    /// Its dearest brisk and easy station with their change-overs, MET-minutes; nought without stations.
    pub pair: f64,
    /// Times a week.
    pub times: u8,
}

impl Dose {
    /// Of a page.
    pub fn of(stage: &Stage) -> Self {
        Self {
            met_minutes: stage.met_minutes(),
            pair: dearest_pair(&stage.segments),
            times: stage.sessions_per_week,
        }
    }

    /// The most that one session may be so many times a week after this one, MET-minutes, where its dearest pair of
    /// stations comes to `pair`. A week grows with its times as with its sessions.
    pub(crate) fn most_after(&self, cap_pct: f64, pair: f64, times: u8) -> f64 {
        let session = most_met_minutes(self.met_minutes, cap_pct, self.pair.max(pair));
        session * (f64::from(self.times) / f64::from(times)).min(1.0)
    }

    /// Of a whole week, MET-minutes.
    pub fn of_week(&self) -> f64 {
        self.met_minutes * f64::from(self.times)
    }
}

/// A page that went home.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GivenDose {
    /// The day.
    pub date: Date,
    /// Its rung.
    pub stage: u16,
    /// Its dose.
    pub dose: Dose,
}

/// What lies at home on a day.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct AtHome {
    /// The rung the person is on.
    stage: u16,
    /// What the same rung made anew is held against: the least that lay there within a week, so that it grows once.
    same: Dose,
    /// What the next rung is held against.
    next: Dose,
}

impl AtHome {
    /// Of everything that went home, oldest first.
    pub(crate) fn on(given: &[GivenDose], on: Date) -> Option<Self> {
        let last = given.last()?;
        let lay = |at: usize| {
            let later = given.get(at + 1);
            later.is_none_or(|later| crate::calendar::days_between(later.date, on) < WEEK_DAYS)
        };
        let within = given.iter().enumerate().filter(|(at, _)| lay(*at));
        let same = within
            .map(|(_, one)| one.dose)
            .min_by(|a, b| a.of_week().total_cmp(&b.of_week()))?;
        Some(Self {
            stage: last.stage,
            same,
            next: last.dose,
        })
    }

    /// What a rung is held against; nothing beyond the next one, which comes a week later at the earliest.
    pub(crate) fn of(&self, number: u16) -> Option<&Dose> {
        match number.checked_sub(self.stage) {
            None | Some(0) => Some(&self.same),
            Some(1) => Some(&self.next),
            Some(_) => None,
        }
    }

    /// Dose of a week of the page at home, MET-minutes.
    pub(crate) fn of_week(&self) -> f64 {
        self.next.of_week()
    }

    /// Times a week of the page at home.
    pub(crate) const fn times(&self) -> u8 {
        self.next.times
    }
}

/// How far a page outgrows what lies at home: its week and the most that it may be, MET-minutes; nothing while it does not.
pub fn outgrown(given: &[GivenDose], stage: &Stage, cap_pct: f64, on: Date) -> Option<(f64, f64)> {
    let home = AtHome::on(given, on)?;
    let dose = Dose::of(stage);
    let most = home
        .of(stage.number)?
        .most_after(cap_pct, dose.pair, dose.times);
    let week = |session: f64| session * f64::from(dose.times);
    (dose.met_minutes > most + SLACK).then(|| (week(dose.met_minutes), week(most)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_rung_made_anew_twice_in_a_week_grows_once() {
        let given = |day: i8, met_minutes: f64| GivenDose {
            date: date(2026, 11, day),
            stage: 2,
            dose: Dose {
                met_minutes,
                pair: 0.0,
                times: 3,
            },
        };
        let list = [given(1, 40.0), given(10, 46.0), given(12, 52.9)];
        let against = |day: i8, number: u16| {
            let home = AtHome::on(&list, date(2026, 11, day)).expect("a page lies at home");
            home.of(number).map(|dose| dose.met_minutes)
        };
        assert_eq!(
            against(13, 2),
            Some(40.0),
            "the page of the first lay there until the 10th"
        );
        assert_eq!(against(17, 2), Some(46.0));
        assert_eq!(against(19, 2), Some(52.9));
        assert_eq!(against(13, 3), Some(52.9));
        assert_eq!(against(13, 4), None);
    }
}
