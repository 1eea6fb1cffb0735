//! A programme for people: decision, rungs with their segments, what is to come, and the proposal.

use super::columns::{hanging, wrapped};
use super::limits::{heading, open_questions, screening, short};
use super::reasons::{because, item, items};
use super::review::proposal;
use rehab::assessment::Case;
use rehab::evidence::Finding;
use rehab::programme::{Others, Phase, Plan, Segment, SegmentKind, Stage, VariantRef};
use rehab::review::Review;
use rehab::service::Service;
use rehab::wording::Words;

/// Everything that is printed of a programme.
pub(crate) struct Told<'a> {
    pub(crate) case: &'a Case,
    pub(crate) service: &'a Service,
    pub(crate) plan: &'a Plan,
    pub(crate) noticed: &'a [Finding],
    pub(crate) review: Option<&'a Review>,
    /// What else a turn of the first rung shown could be, with its number.
    pub(crate) others: Option<(u8, &'a Others)>,
    pub(crate) words: &'a Words,
    /// Whether to show beside each number why it is what it is.
    pub(crate) why: bool,
}

/// Decision, proposal, rungs, what is to come, what is still to find out.
pub(crate) fn programme(told: &Told<'_>) -> String {
    let plan = told.plan;
    let mut out = heading(told.case, &plan.assessed, told.service);
    out.push_str(&screening(&plan.assessed.screening));
    if let Some(review) = told.review {
        out.push_str(&proposal(&review.proposal, told.why));
    }
    for stage in &plan.stages {
        out.push_str(&rung(stage, told));
    }
    if plan.stages.is_empty() {
        out.push_str("\nNo rung\n");
    }
    if let Some((turn, others)) = told.others {
        out.push_str(&other_ways(turn, others, told.words));
    }
    if !told.noticed.is_empty() {
        out.push_str("\nTo mind\n");
        out.push_str(&items(told.noticed));
    }
    if !plan.sketch.is_empty() {
        out.push_str("\nTo come\n");
        for sketch in &plan.sketch {
            out.push_str(&hanging(
                &format!("{}. {}", sketch.number, sketch.text),
                2,
                5,
            ));
        }
    }
    out.push_str(&open_questions(&plan.assessed));
    out
}

fn rung(stage: &Stage, told: &Told<'_>) -> String {
    let mut out = format!("\nRung {}: {}\n", stage.number, lever(&stage.lever));
    out.push_str(&wrapped(
        &format!(
            "{} times a week, {} minutes, {} MET-minutes each.{}",
            stage.sessions_per_week,
            short(stage.minutes()),
            stage.met_minutes().round(),
            predicted(stage)
        ),
        2,
    ));
    for phase in [Phase::WarmUp, Phase::Conditioning, Phase::CoolDown] {
        out.push_str(&part(stage, phase, told.words));
    }
    out.push_str(&to_watch(stage));
    if told.why {
        out.push('\n');
        out.extend(stage.because.iter().map(because));
    }
    out
}

/// What else a turn could be, and why there are fewer than three.
fn other_ways(turn: u8, others: &Others, words: &Words) -> String {
    let mut out = format!("\nWhat else turn {turn} could be\n");
    for other in &others.ways {
        let reasons: Vec<&str> = other.because.iter().map(|one| one.text.as_str()).collect();
        let place = match other.place_name.as_str() {
            "" => String::new(),
            place => format!(" ({place})"),
        };
        let name = named(&other.doing, words);
        out.push_str(&item(&format!("{name}{place}: {}", reasons.join(" "))));
    }
    if let Some(few) = &others.why_few {
        out.push_str(&wrapped(&format!("{}.", few.text), 2));
    }
    out
}

/// What a rung changes, in the words of a practitioner.
fn lever(word: &str) -> String {
    match word {
        "few-stations" => "a few turns".to_owned(),
        "one-more-pair" => "one more brisk and easy turn".to_owned(),
        "longer-cv" => "longer brisk turns".to_owned(),
        "shorter-ar" => "shorter easy turns".to_owned(),
        "harder" => "harder ways of the turns".to_owned(),
        word => word.replace('-', " "),
    }
}

fn predicted(stage: &Stage) -> String {
    let mut out = String::new();
    if let Some(peak) = stage.predicted.peak_hr {
        out.push_str(&format!(" Highest pulse predicted: {}.", peak.round()));
    }
    if let Some(chance) = stage.predicted.ceiling_probability {
        out.push_str(&format!(
            " Chance of passing the ceiling once: {} in 100.",
            short(chance * 100.0)
        ));
    }
    out
}

/// Widths of what is done, its METs and its pulse, so that a session can be read down its columns.
const DOING: usize = 54;
const METS: usize = 6;
const PULSE: usize = 7;

fn part(stage: &Stage, phase: Phase, words: &Words) -> String {
    let segments: Vec<&Segment> = stage
        .segments
        .iter()
        .filter(|one| one.phase == phase)
        .collect();
    if segments.is_empty() {
        return String::new();
    }
    let seconds: f64 = segments
        .iter()
        .map(|one| f64::from(one.duration_ms) / 1000.0)
        .sum();
    let name = match phase {
        Phase::WarmUp => "Warm-up",
        Phase::Conditioning => "Brisk and easy turns",
        Phase::CoolDown => "Cool-down",
    };
    let title = format!("{name}, {}", clock(seconds));
    let mut out = format!("\n  {title:<61}{:>METS$}{:>PULSE$}\n", "METs", "pulse");
    let (mut round, mut place) = (0, "");
    for segment in segments {
        if segment.round > round {
            round = segment.round;
            out.push_str(&format!("  Round {round}\n"));
        }
        if segment.place_name != place {
            place = &segment.place_name;
            out.push_str(&format!(
                "  {}\n",
                if place.is_empty() { "anywhere" } else { place }
            ));
        }
        out.push_str(&line(segment, words));
    }
    out
}

fn line(segment: &Segment, words: &Words) -> String {
    let what = match &segment.doing {
        None => match segment.kind {
            SegmentKind::Walk => "walk".to_owned(),
            SegmentKind::Rest => "rest".to_owned(),
            _ => "march on the spot".to_owned(),
        },
        Some(doing) => named(doing, words),
    };
    let rate = segment
        .predicted_hr
        .map_or_else(String::new, |rate| rate.round().to_string());
    let time = clock(f64::from(segment.duration_ms) / 1000.0);
    let mut lines = within(&what, DOING).into_iter();
    let first = lines.next().unwrap_or_default();
    let mark = if segment.to_watch { " *" } else { "" };
    let mut out = format!(
        "  {time:>5}  {first:<DOING$}{:>METS$.1}{rate:>PULSE$}{mark}\n",
        segment.mets
    );
    for more in lines {
        out.push_str(&format!("         {more}\n"));
    }
    out
}

/// An exercise and its way in words.
fn named(doing: &VariantRef, words: &Words) -> String {
    match words.exercise(doing) {
        Some(words) if words.way.is_empty() => words.name.clone(),
        Some(words) => format!("{}, {}", words.name, words.way),
        None => format!("{}/{}", doing.exercise, doing.variant),
    }
}

/// A text in lines of at most so many signs; words are never cut.
fn within(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let last = lines.len() - 1;
        if !lines[last].is_empty() && lines[last].chars().count() + 1 + word.chars().count() > width
        {
            lines.push(word.to_owned());
        } else {
            let gap = if lines[last].is_empty() { "" } else { " " };
            lines[last].push_str(gap);
            lines[last].push_str(word);
        }
    }
    lines
}

fn to_watch(stage: &Stage) -> String {
    let marked = stage.segments.iter().filter(|one| one.to_watch).count();
    if marked == 0 {
        return String::new();
    }
    format!(
        "\n{}",
        wrapped("* A practitioner watches this before it is done alone.", 2)
    )
}

fn clock(seconds: f64) -> String {
    let whole = seconds.round() as u64;
    format!("{}:{:02}", whole / 60, whole % 60)
}
