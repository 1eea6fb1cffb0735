//! The words under the ground: places between door ticks, set in rows so that none lies on another.

use super::course::{Course, Stop, Turn};
use super::curve::Field;
use crate::measure::{Weight, break_lines, width_px};
use crate::svg::{Drawing, at};

/// Size of the smallest type in px.
pub(super) const LABEL_PX: f64 = 13.0;
const LINE_PX: f64 = 16.0;
const GAP_PX: f64 = 8.0;
/// A name may reach over its ticks by this much before it is broken.
const SLACK_PX: f64 = 2.0;
const ROWS: usize = 3;

/// One name with its place on the paper.
struct Label {
    x: f64,
    row: usize,
    lines: Vec<String>,
    chosen: bool,
}

/// Draws ticks and names; returns the height in px that they took.
pub(super) fn draw_places(
    course: &Course,
    field: &Field,
    chosen: Option<&Turn>,
    out: &mut Drawing,
) -> f64 {
    let stops = course.stops();
    for pair in stops.windows(2) {
        let x = field.x(pair[1].start_ms as f64);
        out.line("pf-door", at(x, field.ground), at(x, field.ground + 10.0));
    }
    let labels = set_labels(&stops, field, chosen);
    let mut lowest = 0.0_f64;
    for label in &labels {
        let class = if label.chosen {
            "pf-place is-chosen"
        } else {
            "pf-place"
        };
        for (i, line) in label.lines.iter().enumerate() {
            let below = 22.0 + LINE_PX * (label.row + i) as f64;
            lowest = lowest.max(below);
            out.words(class, at(label.x, field.ground + below), line);
        }
    }
    lowest
}

/// Sets each name in the first row where it is free; one that is free nowhere is left to the description, unless chosen.
fn set_labels(stops: &[Stop], field: &Field, chosen: Option<&Turn>) -> Vec<Label> {
    let mut taken: Vec<[Option<(f64, f64)>; ROWS]> = Vec::new();
    let mut labels = Vec::new();
    let is_chosen = |stop: &Stop| {
        chosen.is_some_and(|turn| stop.start_ms <= turn.start_ms && turn.end_ms <= stop.end_ms)
    };
    let mut order: Vec<&Stop> = stops.iter().collect();
    // The chosen one is set first, so that it always stands in the first row.
    order.sort_by_key(|stop| (!is_chosen(stop), stop.start_ms));
    for stop in order {
        let (from, to) = (field.x(stop.start_ms as f64), field.x(stop.end_ms as f64));
        let weight = if is_chosen(stop) {
            Weight::Bold
        } else {
            Weight::Regular
        };
        let lines = lines_within(&stop.place, weight, to - from);
        let half = lines
            .iter()
            .map(|line| width_px(line, LABEL_PX, weight))
            .fold(0.0, f64::max)
            / 2.0;
        let x = ((from + to) / 2.0).clamp(
            field.left + half,
            (field.right() - half).max(field.left + half),
        );
        let span = (x - half - GAP_PX / 2.0, x + half + GAP_PX / 2.0);
        let free = |row: usize| {
            row + lines.len() <= ROWS
                && taken.iter().all(|used| {
                    (row..row + lines.len())
                        .all(|r| used[r].is_none_or(|other| span.1 <= other.0 || other.1 <= span.0))
                })
        };
        if let Some(row) = (0..ROWS).find(|row| free(*row)) {
            let mut used = [None; ROWS];
            used[row..row + lines.len()].fill(Some(span));
            taken.push(used);
            labels.push(Label {
                x,
                row,
                chosen: is_chosen(stop),
                lines,
            });
        }
    }
    labels.sort_by(|a, b| a.x.total_cmp(&b.x));
    labels
}

/// A name on one line where it fits its span, else on two.
fn lines_within(place: &str, weight: Weight, span: f64) -> Vec<String> {
    if width_px(place, LABEL_PX, weight) <= span + SLACK_PX {
        return vec![place.to_owned()];
    }
    let mut width = span.max(44.0);
    loop {
        let lines = break_lines(place, LABEL_PX, weight, width);
        if lines.len() <= 2 {
            return lines;
        }
        width *= 1.25;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn field(width: f64) -> Field {
        Field {
            left: 0.0,
            width,
            ground: 100.0,
            height: 80.0,
            top_mets: 3.0,
            duration_ms: 600_000.0,
        }
    }

    fn stops(names: &[&str]) -> Vec<Stop> {
        let each = 600_000 / names.len() as u64;
        names
            .iter()
            .enumerate()
            .map(|(i, name)| Stop {
                place: (*name).to_owned(),
                start_ms: each * i as u64,
                end_ms: each * (i as u64 + 1),
            })
            .collect()
    }

    #[test]
    fn law_no_name_lies_on_another() {
        let names = [
            "armchair",
            "worktop",
            "hall",
            "bottom stair",
            "armchair",
            "the wall by the door",
            "hall",
        ];
        for width in [320.0, 480.0, 720.0, 1200.0] {
            let labels = set_labels(&stops(&names), &field(width), None);
            for (i, one) in labels.iter().enumerate() {
                for other in &labels[i + 1..] {
                    let half = |label: &Label| {
                        label
                            .lines
                            .iter()
                            .map(|line| width_px(line, LABEL_PX, Weight::Regular))
                            .fold(0.0, f64::max)
                            / 2.0
                    };
                    let apart = (one.x - other.x).abs() >= half(one) + half(other);
                    let rows_apart = one.row + one.lines.len() <= other.row
                        || other.row + other.lines.len() <= one.row;
                    assert!(
                        apart || rows_apart,
                        "{width}: {:?} on {:?}",
                        one.lines,
                        other.lines
                    );
                }
            }
        }
    }

    #[test]
    fn the_chosen_place_is_always_named() {
        let names = ["a very long name for a chair"; 12];
        let turn = Turn {
            number: 1,
            in_round: 1,
            of: 1,
            round: 1,
            part: 0,
            start_ms: 300_000,
            end_ms: 350_000,
        };
        let labels = set_labels(&stops(&names), &field(320.0), Some(&turn));
        assert!(labels.iter().any(|label| label.chosen));
    }
}
