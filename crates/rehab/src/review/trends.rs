//! Planned against done, effort, pulse and load over time.

use crate::assessment::{Effort, EffortScale};
use crate::calendar::days_between;
use crate::diary::{DiaryEntry, PulseMoment};
use crate::programme::Stage;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// One week of sessions, counted back from the day of the review.
#[derive(Clone, Debug, PartialEq)]
pub struct Week {
    /// First day of the week.
    pub from: Date,
    /// Days with a session.
    pub done: u32,
    /// Sessions planned a week on the present rung.
    pub planned: u32,
    /// Load: effort (0 to 10) times minutes, of each day the heaviest session told, summed; `None` where a day lacks
    /// effort or minutes, or tells effort on another scale.
    /// Source: `foster-2001`.
    pub load: Option<f64>,
}

/// What was done, over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Trends {
    /// Weeks, oldest first.
    pub weeks: Vec<Week>,
    /// Days with a session among the last 14.
    pub done_in_14_days: u32,
    /// Sessions planned for 14 days.
    pub planned_in_14_days: u32,
    /// Stations done of stations planned, numerator and denominator, where both are told.
    pub stations: (u32, u32),
    /// Effort at the hardest moment, by day.
    pub effort: Vec<(Date, Effort)>,
    /// Highest pulse at the end of a station, by day.
    pub station_pulse: Vec<(Date, f64)>,
    /// Pulse before the session, by day.
    pub pulse_before: Vec<(Date, f64)>,
}

const WEEKS: i32 = 8;

/// Trends of entries in order.
pub fn trends(entries: &[&DiaryEntry], stages: &[Stage], current: u16, on: Date) -> Trends {
    let planned = stages
        .iter()
        .find(|stage| stage.number == current)
        .map_or(0, |stage| u32::from(stage.sessions_per_week));
    let weeks = (0..WEEKS)
        .rev()
        .map(|back| week(entries, planned, on, back))
        .collect();
    let within = |days: i32| {
        entries
            .iter()
            .filter(move |entry| entry.is_session() && days_between(entry.date, on) < days)
    };
    Trends {
        weeks,
        done_in_14_days: days_of(within(14)) as u32,
        planned_in_14_days: planned * 2,
        stations: stations(entries),
        effort: entries
            .iter()
            .filter_map(|entry| Some((entry.date, entry.effort?)))
            .collect(),
        station_pulse: entries
            .iter()
            .filter_map(|entry| Some((entry.date, highest_station_pulse(entry)?)))
            .collect(),
        pulse_before: entries
            .iter()
            .filter_map(|entry| Some((entry.date, pulse_at(entry, PulseMoment::Before)?)))
            .collect(),
    }
}

fn week(entries: &[&DiaryEntry], planned: u32, on: Date, back: i32) -> Week {
    let in_week = |entry: &&&DiaryEntry| {
        let days = days_between(entry.date, on);
        entry.is_session() && days >= back * 7 && days < (back + 1) * 7
    };
    let of_week: Vec<&&DiaryEntry> = entries.iter().filter(in_week).collect();
    let days: BTreeSet<Date> = of_week.iter().map(|entry| entry.date).collect();
    let load = days.iter().try_fold(0.0, |sum, day| {
        let of_day = of_week.iter().filter(|entry| entry.date == *day);
        Some(sum + of_day.filter_map(|entry| load(entry)).reduce(f64::max)?)
    });
    Week {
        from: crate::calendar::days_after(on, -(back * 7 + 6)),
        done: days.len() as u32,
        planned,
        load: load.filter(|_| !days.is_empty()),
    }
}

fn load(entry: &DiaryEntry) -> Option<f64> {
    let effort = entry
        .effort
        .filter(|effort| effort.scale == EffortScale::ZeroToTen)?;
    Some(effort.value * entry.minutes?)
}

/// A session told twice, on the telephone and on paper, is one.
fn days_of<'a>(entries: impl Iterator<Item = &'a &'a DiaryEntry>) -> usize {
    entries
        .map(|entry| entry.date)
        .collect::<BTreeSet<_>>()
        .len()
}

fn stations(entries: &[&DiaryEntry]) -> (u32, u32) {
    entries.iter().fold((0, 0), |(done, planned), entry| {
        match (entry.stations_done, entry.stations_planned) {
            (Some(d), Some(p)) => (done + u32::from(d), planned + u32::from(p)),
            _ => (done, planned),
        }
    })
}

/// The highest pulse at the end of any station of one entry, in bpm.
pub(super) fn highest_station_pulse(entry: &DiaryEntry) -> Option<f64> {
    entry
        .pulses
        .iter()
        .filter(|pulse| matches!(pulse.at, PulseMoment::EndOfStation(_)))
        .map(|pulse| pulse.bpm)
        .reduce(f64::max)
}

/// The highest pulse of one entry, whenever it was taken, in bpm.
pub(super) fn highest_pulse(entry: &DiaryEntry) -> Option<f64> {
    entry.pulses.iter().map(|pulse| pulse.bpm).reduce(f64::max)
}

/// The lowest pulse of one entry, whenever it was taken, in bpm.
pub(super) fn lowest_pulse(entry: &DiaryEntry) -> Option<f64> {
    entry.pulses.iter().map(|pulse| pulse.bpm).reduce(f64::min)
}

/// The highest pulse of one entry at a moment of the session, in bpm.
pub(super) fn pulse_at(entry: &DiaryEntry, moment: PulseMoment) -> Option<f64> {
    entry
        .pulses
        .iter()
        .filter(|pulse| pulse.at == moment)
        .map(|pulse| pulse.bpm)
        .reduce(f64::max)
}
