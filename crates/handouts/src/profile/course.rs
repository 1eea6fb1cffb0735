//! The course of a session: its parts in time, its turns and the places it passes.

use rehab::programme::{Phase, SegmentKind, Stage};

/// How a part is walked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pace {
    /// Part of the slope up or down.
    Slope,
    /// A brisk turn: a hill.
    Brisk,
    /// An easy turn: a dip.
    Easy,
    /// Going to the next place.
    Walk,
    /// Rest.
    Rest,
}

/// One part of the course.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Part of the session.
    pub phase: Phase,
    /// How it is walked.
    pub pace: Pace,
    /// The place, as the person calls it; empty where none is recorded.
    pub place: String,
    /// Round, from 1; 0 outside the conditioning part.
    pub round: u8,
    /// Length in ms.
    pub duration_ms: u32,
    /// METs in its middle.
    pub mets: f64,
    /// Mean predicted pulse at its end in bpm.
    pub pulse: Option<f64>,
    /// Standard deviation of that prediction in bpm.
    pub pulse_sd: Option<f64>,
}

/// A brisk turn: one hill.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Turn {
    /// Number through the whole session, from 1; hills are chosen and linked by it.
    pub number: u16,
    /// Number within its round, from 1: what the person hears.
    pub in_round: u16,
    /// Turns in its round.
    pub of: u16,
    /// Round, from 1.
    pub round: u8,
    /// Which part it is.
    pub part: usize,
    /// Begin in ms.
    pub start_ms: u64,
    /// End in ms.
    pub end_ms: u64,
}

/// A stretch of time spent at one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// The place.
    pub place: String,
    /// Begin in ms.
    pub start_ms: u64,
    /// End in ms.
    pub end_ms: u64,
}

/// A session as a line of hills.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    parts: Vec<Part>,
}

impl Course {
    /// Takes the parts in order; a part without length is left out.
    pub fn new(parts: Vec<Part>) -> Self {
        let parts = parts
            .into_iter()
            .filter(|one| one.duration_ms > 0)
            .collect();
        Self { parts }
    }

    /// The course of a rung.
    pub fn of(stage: &Stage) -> Self {
        Self::new(
            stage
                .segments
                .iter()
                .map(|segment| Part {
                    phase: segment.phase,
                    pace: pace_of(segment.phase, segment.kind, segment.doing.is_some()),
                    place: segment.place_name.clone(),
                    round: segment.round,
                    duration_ms: segment.duration_ms,
                    mets: segment.mets,
                    pulse: segment.predicted_hr,
                    pulse_sd: segment.predicted_sd,
                })
                .collect(),
        )
    }

    /// The parts in order.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// Whole length in ms.
    pub fn duration_ms(&self) -> u64 {
        self.parts
            .iter()
            .map(|one| u64::from(one.duration_ms))
            .sum()
    }

    /// Begin and end of a part in ms.
    pub fn span_ms(&self, part: usize) -> (u64, u64) {
        let start = self.parts[..part]
            .iter()
            .map(|one| u64::from(one.duration_ms))
            .sum();
        (start, start + u64::from(self.parts[part].duration_ms))
    }

    /// The brisk turns in order.
    pub fn turns(&self) -> Vec<Turn> {
        let of_round = |round: u8| {
            self.parts
                .iter()
                .filter(|one| one.pace == Pace::Brisk && one.round == round)
                .count() as u16
        };
        let mut turns: Vec<Turn> = Vec::new();
        for (part, one) in self.parts.iter().enumerate() {
            if one.pace != Pace::Brisk {
                continue;
            }
            let before = turns.iter().filter(|turn| turn.round == one.round).count() as u16;
            let (start_ms, end_ms) = self.span_ms(part);
            turns.push(Turn {
                number: turns.len() as u16 + 1,
                in_round: before + 1,
                of: of_round(one.round),
                round: one.round,
                part,
                start_ms,
                end_ms,
            });
        }
        turns
    }

    /// Length of a phase in ms.
    pub fn phase_ms(&self, phase: Phase) -> u64 {
        self.parts
            .iter()
            .filter(|one| one.phase == phase)
            .map(|one| u64::from(one.duration_ms))
            .sum()
    }

    /// The places in the order they are passed. The way to a place belongs to it; a part without a place to the one before.
    pub fn stops(&self) -> Vec<Stop> {
        let mut stops: Vec<Stop> = Vec::new();
        for part in 0..self.parts.len() {
            let (start_ms, end_ms) = self.span_ms(part);
            let place = self.place_of(part);
            match stops.last_mut() {
                Some(last) if place.is_empty() || last.place == place => last.end_ms = end_ms,
                _ => stops.push(Stop {
                    place: place.to_owned(),
                    start_ms,
                    end_ms,
                }),
            }
        }
        stops.retain(|stop| !stop.place.is_empty());
        stops
    }

    fn place_of(&self, part: usize) -> &str {
        let ahead = self.parts[part..].iter().find(|one| one.pace != Pace::Walk);
        ahead.map_or(self.parts[part].place.as_str(), |one| one.place.as_str())
    }

    /// The same course with one part at other METs: an alternative under consideration.
    pub fn with_mets(&self, part: usize, mets: f64) -> Self {
        let mut other = self.clone();
        other.parts[part].mets = mets;
        other
    }
}

/// How a segment is walked.
pub fn pace_of(phase: Phase, kind: SegmentKind, has_exercise: bool) -> Pace {
    match kind {
        SegmentKind::Rest => Pace::Rest,
        // Going or marching to the next place is no turn, neither in the picture nor in what is said.
        SegmentKind::Walk if !has_exercise || phase == Phase::Conditioning => Pace::Walk,
        SegmentKind::March if !has_exercise => Pace::Walk,
        _ if phase != Phase::Conditioning => Pace::Slope,
        SegmentKind::Cardiovascular | SegmentKind::March => Pace::Brisk,
        _ => Pace::Easy,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_to_the_next_place_is_no_turn() {
        let round = Phase::Conditioning;
        for (kind, has_exercise) in [
            (SegmentKind::Walk, false),
            (SegmentKind::Walk, true),
            (SegmentKind::March, false),
        ] {
            assert_eq!(pace_of(round, kind, has_exercise), Pace::Walk, "{kind:?}");
        }
        assert_eq!(pace_of(round, SegmentKind::March, true), Pace::Brisk);
        assert_eq!(
            pace_of(round, SegmentKind::ActiveRecovery, true),
            Pace::Easy
        );
        assert_eq!(
            pace_of(Phase::WarmUp, SegmentKind::March, false),
            Pace::Walk
        );
    }

    fn part(phase: Phase, pace: Pace, place: &str, round: u8, seconds: u32) -> Part {
        Part {
            phase,
            pace,
            place: place.to_owned(),
            round,
            duration_ms: seconds * 1000,
            mets: 2.0,
            pulse: None,
            pulse_sd: None,
        }
    }

    #[test]
    fn turns_are_counted_through_the_session_and_within_their_round() {
        let course = Course::new(vec![
            part(Phase::WarmUp, Pace::Slope, "armchair", 0, 60),
            part(Phase::Conditioning, Pace::Brisk, "hall", 1, 60),
            part(Phase::Conditioning, Pace::Easy, "hall", 1, 30),
            part(Phase::Conditioning, Pace::Brisk, "hall", 1, 60),
            part(Phase::Conditioning, Pace::Brisk, "hall", 2, 60),
        ]);
        let told: Vec<_> = course
            .turns()
            .iter()
            .map(|turn| (turn.number, turn.in_round, turn.of, turn.round))
            .collect();
        assert_eq!(told, [(1, 1, 2, 1), (2, 2, 2, 1), (3, 1, 1, 2)]);
    }

    #[test]
    fn the_way_to_a_place_belongs_to_that_place() {
        let course = Course::new(vec![
            part(Phase::WarmUp, Pace::Slope, "armchair", 0, 60),
            part(Phase::Conditioning, Pace::Walk, "armchair", 1, 15),
            part(Phase::Conditioning, Pace::Brisk, "hall", 1, 60),
        ]);
        let stops = course.stops();
        assert_eq!(stops.len(), 2);
        assert_eq!(
            (stops[1].place.as_str(), stops[1].start_ms, stops[1].end_ms),
            ("hall", 60_000, 135_000)
        );
    }
}
