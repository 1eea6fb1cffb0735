//! Stations beside each other, and what they cost together.

use super::library::Way;
use super::record::Record;
use super::today::{pressure_falls, watched_well};
use super::{Faults, Library, list, number, session, word};
use serde_json::Value;
use std::collections::BTreeMap;

/// What rounding to the thousandth may come to on either side.
const PRINTED_METS: f64 = 0.001_1;

/// One station with what the data say of it.
struct Station<'a> {
    segment: &'a Value,
    way: &'a Way,
}

impl Station<'_> {
    fn name(&self) -> String {
        format!(
            "{}/{}",
            word(self.segment, "exercise"),
            word(self.segment, "variant")
        )
    }

    fn brisk(&self) -> bool {
        word(self.segment, "kind") == "cardiovascular"
    }

    fn round(&self) -> u64 {
        self.segment["round"].as_u64().unwrap_or(0)
    }
}

pub(super) fn check(
    library: &Library,
    record: &Record<'_>,
    limits: &Value,
    stage: &Value,
    faults: &mut Faults,
) {
    session::check_cool_down_arms(library, stage, faults);
    let stations: Vec<Station<'_>> = list(stage, "segments")
        .iter()
        .filter(|one| matches!(word(one, "kind"), "cardiovascular" | "active-recovery"))
        .filter_map(|segment| {
            let way = library.way(word(segment, "exercise"), word(segment, "variant"))?;
            Some(Station { segment, way })
        })
        .collect();
    let known = stations.is_empty() || limits["capacity"]["mets"].is_number();
    faults.expect(known, "stations/capacity", || {
        "stations without any measure of capacity".to_owned()
    });
    check_each(record, &stations, faults);
    check_neighbours(&stations, faults);
    check_repeats(&stations, faults);
    let slow = pressure_falls(record) || limits["limits"]["hypotensive"].as_bool() == Some(true);
    if slow {
        check_posture(&stations, faults);
    }
    check_mets(record, limits, stage, faults);
    check_means(limits, stage, &stations, faults);
}

fn check_each(record: &Record<'_>, stations: &[Station<'_>], faults: &mut Faults) {
    for (at, station) in stations.iter().enumerate() {
        let in_conditioning = word(station.segment, "phase") == "conditioning";
        faults.expect(
            in_conditioning && station.brisk() == at.is_multiple_of(2),
            "stations/turns",
            || format!("station {at} is {}", station.segment["kind"]),
        );
        let seconds = number(station.segment, "seconds").unwrap_or(0.0);
        let (least, most) = if station.brisk() {
            record.settings.brisk_s
        } else {
            record.settings.easy_s
        };
        faults.expect((least..=most).contains(&seconds), "stations/times", || {
            format!("{} for {seconds} s of {least} to {most}", station.name())
        });
    }
    faults.expect(stations.len().is_multiple_of(2), "stations/turns", || {
        format!("{} stations", stations.len())
    });
}

/// No main muscle group twice running; work of the whole body is no group. Arms above the shoulder never side by side.
fn check_neighbours(stations: &[Station<'_>], faults: &mut Faults) {
    for pair in stations.windows(2) {
        let (first, second) = (&pair[0], &pair[1]);
        let shared: Vec<&String> = first
            .way
            .muscles
            .iter()
            .filter(|group| group.as_str() != "whole-body" && second.way.muscles.contains(group))
            .collect();
        faults.expect(shared.is_empty(), "stations/muscles", || {
            format!("{} then {}: {shared:?}", first.name(), second.name())
        });
        let both = first.way.arms == "above-shoulder" && second.way.arms == "above-shoulder";
        faults.expect(!both, "stations/arms", || {
            format!("{} then {}", first.name(), second.name())
        });
    }
}

/// A movement comes once in a round, or again after at least two others.
fn check_repeats(stations: &[Station<'_>], faults: &mut Faults) {
    for (at, station) in stations.iter().enumerate() {
        let again = stations[at + 1..]
            .iter()
            .take(2)
            .find(|other| other.round() == station.round() && other.way.alike == station.way.alike);
        faults.expect(again.is_none(), "stations/repeats", || {
            format!("{} again at once", station.name())
        });
    }
}

/// Where pressure falls never two changes of posture running: sitting, standing and rising are three postures.
fn check_posture(stations: &[Station<'_>], faults: &mut Faults) {
    let posture = |station: &Station<'_>| match station.way.posture.as_str() {
        "seated" => 0,
        "rising" => 2,
        _ => 1,
    };
    for three in stations.windows(3) {
        let list: Vec<i32> = three.iter().map(posture).collect();
        let twice = list[0] != list[1] && list[1] != list[2];
        faults.expect(!twice, "stations/posture", || {
            let names: Vec<String> = three.iter().map(Station::name).collect();
            names.join(", ")
        });
    }
}

/// No segment of a session is dearer than one station may be; what was watched within the effort is excepted where
/// capacity is only estimated.
fn check_mets(record: &Record<'_>, limits: &Value, stage: &Value, faults: &mut Faults) {
    let most = number(&limits["limits"], "mets_station_high").unwrap_or(0.0);
    let measured = limits["capacity"]["measured"].as_bool() == Some(true);
    for segment in list(stage, "segments") {
        let mets = number(segment, "mets").unwrap_or(f64::NAN);
        let (exercise, variant) = (word(segment, "exercise"), word(segment, "variant"));
        let excepted = !measured && watched_well(record, limits, exercise, variant);
        faults.expect(
            mets <= most + PRINTED_METS || excepted,
            "stations/mets",
            || {
                format!(
                    "{} {exercise}/{variant}: {mets} above {most}",
                    segment["kind"]
                )
            },
        );
    }
}

/// The band's upper end binds the mean of every round over time, with its change-overs and without.
fn check_means(limits: &Value, stage: &Value, stations: &[Station<'_>], faults: &mut Faults) {
    let most = number(&limits["limits"]["mets"], "high").unwrap_or(0.0);
    let alone = stations.iter().map(|one| one.segment);
    let whole = list(stage, "segments")
        .iter()
        .filter(|one| word(one, "phase") == "conditioning");
    for (what, rounds) in [("stations", means(alone)), ("round", means(whole))] {
        for (round, mean) in rounds {
            faults.expect(mean <= most + PRINTED_METS, "stations/mean", || {
                format!("{what} of round {round}: mean {mean} above {most}")
            });
        }
    }
}

fn means<'s>(segments: impl Iterator<Item = &'s Value>) -> BTreeMap<u64, f64> {
    let mut sums: BTreeMap<u64, (f64, f64)> = BTreeMap::new();
    for segment in segments {
        let seconds = number(segment, "seconds").unwrap_or(0.0);
        let sum = sums
            .entry(segment["round"].as_u64().unwrap_or(0))
            .or_default();
        sum.0 += number(segment, "mets").unwrap_or(0.0) * seconds;
        sum.1 += seconds;
    }
    sums.into_iter()
        .map(|(round, (load, seconds))| (round, load / seconds))
        .collect()
}
