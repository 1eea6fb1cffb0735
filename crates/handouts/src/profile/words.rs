//! The words of the practitioner's profile, made from the course: phases, turns, ceiling, and the picture in words.

use super::course::{Course, Pace};
use super::full::Captions;
use rehab::assessment::EffortScale;
use rehab::programme::Phase;

/// What the words need beside the course.
#[derive(Clone, Debug)]
pub struct CaptionFacts<'a> {
    /// "Session profile of page B".
    pub title: &'a str,
    /// Whose ceiling: "Her ceiling", "His ceiling", "Ceiling".
    pub ceiling_of: &'a str,
    /// Scale of effort.
    pub scale: EffortScale,
    /// Upper end of the effort band.
    pub effort_high: f64,
    /// Ceiling of the pulse in bpm, and whether it only guides.
    pub pulse: Option<(f64, bool)>,
    /// Whether a pulse is predicted, and whether any was taken.
    pub expected: bool,
    /// Whether pulses taken are drawn.
    pub taken: bool,
    /// Name of what is done in each turn, in their order.
    pub turns: &'a [String],
}

/// Makes the words.
pub fn captions(course: &Course, facts: &CaptionFacts<'_>) -> Captions {
    let warm_up = minutes_of(course, Phase::WarmUp);
    let way_down = minutes_of(course, Phase::CoolDown);
    let round = round_words(course);
    let turns: Vec<String> = course
        .turns()
        .iter()
        .enumerate()
        .map(|(i, turn)| {
            let place = &course.parts()[turn.part].place;
            let name = facts.turns.get(i).map_or("", String::as_str);
            let length = length((turn.end_ms - turn.start_ms) as f64);
            let parts = [place.as_str(), name, length.as_str()];
            let told: Vec<&str> = parts.into_iter().filter(|one| !one.is_empty()).collect();
            format!("{} {}", turn.in_round, told.join(", "))
        })
        .collect();
    let ceiling_note = note(facts);
    let legend = match (facts.expected && facts.pulse.is_some(), facts.taken) {
        (true, true) => "fine band: pulse expected, diamonds: pulse taken",
        (true, false) => "fine band: pulse expected",
        (false, _) => "",
    };
    let phases = [
        warm_up.map_or_else(String::new, |length| format!("warm-up, {length}")),
        round.clone(),
        way_down.map_or_else(String::new, |length| format!("the long way down, {length}")),
    ];
    let stops: Vec<String> = course
        .stops()
        .iter()
        .map(|stop| stop.place.clone())
        .collect();
    let told: Vec<&str> = phases
        .iter()
        .map(String::as_str)
        .filter(|one| !one.is_empty())
        .collect();
    let description = format!(
        "{}. Places in their order: {}. Turns: {}. {}: {ceiling_note}.",
        told.join("; "),
        stops.join(", "),
        if turns.is_empty() {
            "none".to_owned()
        } else {
            turns.join("; ")
        },
        facts.ceiling_of
    );
    Captions {
        title: facts.title.to_owned(),
        description,
        ceiling: facts.ceiling_of.to_owned(),
        ceiling_note,
        legend: legend.to_owned(),
        phases,
        ends: ["warm-up".to_owned(), "way down".to_owned()],
        turns,
    }
}

fn note(facts: &CaptionFacts<'_>) -> String {
    let effort = match facts.scale {
        EffortScale::ZeroToTen => format!("effort {} of 10", facts.effort_high),
        EffortScale::SixToTwenty => format!("effort {} on 6 to 20", facts.effort_high),
    };
    match facts.pulse {
        Some((rate, guiding)) => {
            let kind = if guiding { "guiding" } else { "hard" };
            format!("{effort}, pulse {} ({kind})", libm::round(rate))
        }
        None => format!("{effort}, no pulse ceiling"),
    }
}

fn minutes_of(course: &Course, phase: Phase) -> Option<String> {
    let ms = course.phase_ms(phase);
    (ms > 0).then(|| length(ms as f64))
}

/// "five brisk turns, four easy, 14 minutes"; of a second round what one round holds, and how often.
fn round_words(course: &Course) -> String {
    let count = |pace: Pace| {
        let first = course
            .parts()
            .iter()
            .filter(|one| one.pace == pace && one.round <= 1);
        first.filter(|one| one.phase == Phase::Conditioning).count()
    };
    let (brisk, easy) = (count(Pace::Brisk), count(Pace::Easy));
    let Some(length) = minutes_of(course, Phase::Conditioning) else {
        return String::new();
    };
    let rounds = course
        .parts()
        .iter()
        .map(|one| one.round)
        .max()
        .unwrap_or(0);
    let mut words = match brisk {
        1 => "one brisk turn".to_owned(),
        more => format!("{} brisk turns", number(more)),
    };
    if easy > 0 {
        words += &format!(", {} easy", number(easy));
    }
    match rounds {
        0 | 1 => {}
        2 => words += ", twice round",
        more => words += &format!(", {} times round", number(more.into())),
    }
    format!("{words}, {length}")
}

fn length(ms: f64) -> String {
    let seconds = libm::round(ms / 1000.0);
    let minutes = libm::round(seconds / 60.0);
    if seconds < 90.0 && seconds != 60.0 {
        format!("{seconds} seconds")
    } else if minutes <= 1.0 {
        "1 minute".to_owned()
    } else if seconds % 60.0 == 30.0 && seconds < 600.0 {
        format!("{}.5 minutes", libm::floor(seconds / 60.0))
    } else {
        format!("{minutes} minutes")
    }
}

/// Whole numbers in words up to twelve.
fn number(value: usize) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    WORDS
        .get(value)
        .map_or_else(|| value.to_string(), |word| (*word).to_owned())
}

#[cfg(test)]
mod tests {
    use super::super::course::Part;
    use super::*;

    fn course(rounds: u8) -> Course {
        let part = |phase, pace, round, seconds: u32| Part {
            phase,
            pace,
            place: "hall".to_owned(),
            round,
            duration_ms: seconds * 1000,
            mets: 2.0,
            pulse: None,
            pulse_sd: None,
        };
        let mut parts = vec![part(Phase::WarmUp, Pace::Slope, 0, 900)];
        for round in 1..=rounds {
            for turn in 0..5 {
                parts.push(part(Phase::Conditioning, Pace::Brisk, round, 120));
                if turn < 4 {
                    parts.push(part(Phase::Conditioning, Pace::Easy, round, 60));
                }
            }
        }
        parts.push(part(Phase::CoolDown, Pace::Slope, 0, 600));
        Course::new(parts)
    }

    fn said(rounds: u8, pulse: Option<(f64, bool)>) -> Captions {
        let turns = vec!["Up and down".to_owned(); 10];
        captions(
            &course(rounds),
            &CaptionFacts {
                title: "Session profile of page B",
                ceiling_of: "Her ceiling",
                scale: EffortScale::ZeroToTen,
                effort_high: 4.0,
                pulse,
                expected: true,
                taken: true,
                turns: &turns,
            },
        )
    }

    #[test]
    fn phases_and_ceiling_are_said_as_in_the_drawing_we_look_to() {
        let said = said(1, Some((97.0, true)));
        assert_eq!(
            said.phases,
            [
                "warm-up, 15 minutes",
                "five brisk turns, four easy, 14 minutes",
                "the long way down, 10 minutes"
            ]
        );
        assert_eq!(said.ceiling_note, "effort 4 of 10, pulse 97 (guiding)");
        assert_eq!(said.turns[3], "4 hall, Up and down, 2 minutes");
        assert!(said.description.contains("Places in their order: hall"));
    }

    #[test]
    fn a_second_round_and_a_missing_pulse_are_said() {
        assert_eq!(
            said(2, None).phases[1],
            "five brisk turns, four easy, twice round, 28 minutes"
        );
        let none = said(1, None);
        assert_eq!(none.ceiling_note, "effort 4 of 10, no pulse ceiling");
        assert_eq!(none.legend, "");
        assert_eq!(said(0, None).phases[1], "");
    }

    #[test]
    fn lengths_are_short_and_true() {
        assert_eq!(length(30_000.0), "30 seconds");
        assert_eq!(length(60_000.0), "1 minute");
        assert_eq!(length(90_000.0), "1.5 minutes");
        assert_eq!(length(150_000.0), "2.5 minutes");
        assert_eq!(length(840_000.0), "14 minutes");
    }
}
