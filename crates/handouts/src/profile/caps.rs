//! The caps of the brisk turns: each hill between its neighbouring dips, closed by a straight chord.

use super::course::{Course, Pace, Turn};
use super::curve::{Curve, Field};
use crate::svg::PathData;

/// Where a hill begins and ends in px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cap {
    pub(super) from: f64,
    pub(super) to: f64,
}

impl Cap {
    /// The hill as an area.
    pub(super) fn area(self, curve: &Curve) -> PathData {
        let mut data = PathData::new();
        curve.draw(self.from, self.to, &mut data);
        data.close();
        data
    }

    /// The hill as a line.
    pub(super) fn line(self, curve: &Curve) -> PathData {
        let mut data = PathData::new();
        curve.draw(self.from, self.to, &mut data);
        data
    }
}

/// The cap of every turn, in order.
pub(super) fn caps_of(course: &Course, field: &Field) -> Vec<Cap> {
    let turns = course.turns();
    let dips: Vec<f64> = turns
        .windows(2)
        .map(|pair| dip_between(course, &pair[0], &pair[1]))
        .collect();
    let session = course.duration_ms() as f64;
    turns
        .iter()
        .enumerate()
        .map(|(i, turn)| {
            let (start, end) = (turn.start_ms as f64, turn.end_ms as f64);
            let before = i.checked_sub(1).map(|one| dips[one]);
            let after = dips.get(i).copied();
            // Where there is no dip, the hill reaches as far into the slope as into its dip on the other side.
            let reach = match (before, after) {
                (Some(dip), _) => start - dip,
                (None, Some(dip)) => dip - end,
                (None, None) => (end - start) / 4.0,
            };
            Cap {
                from: field.x(before.unwrap_or((start - reach).max(0.0))),
                to: field.x(after.unwrap_or((end + reach).min(session))),
            }
        })
        .collect()
}

/// The middle of the gentlest part between two turns; their border where nothing lies between.
fn dip_between(course: &Course, one: &Turn, two: &Turn) -> f64 {
    let parts = course.parts();
    let mut lowest: Option<usize> = None;
    for part in one.part + 1..two.part {
        if parts[part].pace != Pace::Brisk
            && lowest.is_none_or(|best| parts[part].mets < parts[best].mets)
        {
            lowest = Some(part);
        }
    }
    lowest.map_or(one.end_ms as f64, |part| {
        let (start, end) = course.span_ms(part);
        (start + end) as f64 / 2.0
    })
}
