//! The warm-up: loosen, raise the pulse, stretch shortly, and rise to near the training band.

mod choice;
mod rise;

use super::ceiling::HardCeiling;
use super::ground::{Ground, work_of};
use super::response::predict;
use super::slope::{Course, RUNNING_MOST, blocks, repeats, share};
use super::{ExerciseKind, Segment, SegmentKind};
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use choice::block;
pub(super) use choice::suits;
use rise::{FALL_BPM, Rise};

/// Shares of the time in per cent: loosening, raising, stretching; the rest rises to the level.
/// Source: `programme-ours`.
const SHARES: (u32, u32, u32) = (30, 25, 15);
/// Effort at which it begins, METs. Source: `programme-ours`.
const BEGIN_METS: f64 = 1.5;
/// Change of side and getting into a stretch, beside the two holds. Source: `programme-ours`.
const AROUND_HOLDS_S: u32 = 10;
/// Tops that are tried, METs apart. Source: `programme-ours`.
const TOP_STEP: f64 = 0.2;
/// How many of them.
const TOPS: u32 = 20;
/// What one turn too many of the same exercise counts for when tops are compared, bpm from the band. Source:
/// `programme-ours`.
const TURN_TOO_MANY_BPM: f64 = 5.0;
/// What one beat by which the pulse falls back too far counts for, so that it comes before either. Source:
/// `programme-ours`.
const FALL_TOO_FAR: f64 = 100.0;

/// A warm-up with what there is to say.
pub(crate) struct WarmUp {
    pub(crate) segments: Vec<Segment>,
    /// Whether one exercise goes on for longer than one may.
    pub(crate) repeats: bool,
    pub(crate) findings: Vec<Finding>,
}

/// The warm-up of a person, of the service's length; `None` where nothing at all is open or passes no ceiling.
///
/// The end aims at the lower end of the METs band, and with a pulse model at a rate within the service's margin of the
/// training band: tops near that effort are tried, nearest first. Under a hard ceiling a top that passes it is never
/// taken, and none above `top_most`; if none ends near the band, or one exercise goes on for too long under each, the one
/// with least wrong is taken and said so.
pub(crate) fn warm_up(
    ground: &Ground<'_>,
    ceiling: Option<&HardCeiling>,
    length_ms: u32,
    top_most: f64,
) -> Option<WarmUp> {
    let limits = &ground.asked.assessed.limits;
    let aim = limits.mets.low.to_mets().max(BEGIN_METS).min(top_most);
    let most = limits
        .mets
        .high
        .to_mets()
        .min(limits.mets_station_high.to_mets())
        .min(top_most);
    let mut tops: Vec<f64> = (0..TOPS)
        .flat_map(|step| {
            let away = f64::from(step) * TOP_STEP;
            [aim + away, aim - away]
        })
        .filter(|top| *top <= most + 1e-9 && *top >= 1.0)
        .collect();
    tops.push(1.0);
    let mut best: Option<(f64, Tried<'_>)> = None;
    for top in tops {
        let Some(tried) = with_top(ground, length_ms, top) else {
            continue;
        };
        if !passes_nothing(ground, ceiling, &tried.segments) {
            continue;
        }
        let worse = tried.worse(ground);
        if best.as_ref().is_none_or(|(known, _)| worse < *known) {
            best = Some((worse, tried));
        }
        if worse <= 0.0 {
            break;
        }
    }
    let (_, tried) = best?;
    let mut findings = Vec::from_iter(far_from_band(ground, &tried.segments));
    findings.extend(repeats(
        "warm-up",
        "keeps the pulse from falling back",
        tried.repeat,
    ));
    Some(WarmUp {
        segments: tried.segments,
        repeats: tried.repeat.is_some(),
        findings,
    })
}

/// A warm-up that rises to one of the tops.
struct Tried<'a> {
    segments: Vec<Segment>,
    /// The exercise that goes on for too long, and for how many turns.
    repeat: Option<(&'a str, usize)>,
}

impl Tried<'_> {
    /// How much is wrong with it, in bpm: nought where it ends near the band, falls back nowhere and takes turns.
    fn worse(&self, ground: &Ground<'_>) -> f64 {
        let fall = (fall_bpm(ground, &self.segments) - FALL_BPM).max(0.0);
        let too_many = self.repeat.map_or(0, |(_, turns)| turns - RUNNING_MOST);
        off_band(ground, &self.segments) + FALL_TOO_FAR * fall + TURN_TOO_MANY_BPM * too_many as f64
    }
}

/// What is said where the warm-up ends off the band.
fn far_from_band(ground: &Ground<'_>, segments: &[Segment]) -> Option<Finding> {
    let off = off_band(ground, segments);
    if off <= 0.0 {
        return None;
    }
    let within = ground.asked.service.warm_up_within_bpm;
    let finding = NEAR_BAND
        .finding(
            Weight::Note,
            format!(
                "The warm-up is predicted to end {:.0} bpm further from the training band than the {within} bpm it should; nothing open comes nearer without passing a limit or letting the pulse fall back on the way.",
                libm::ceil(off)
            ),
        )
        .with(Named::number("off_bpm", off, "bpm"));
    Some(finding)
}

/// How far the end lies outside of where it should: within the margin below the band, and under a hard ceiling not
/// above the band.
fn off_band(ground: &Ground<'_>, segments: &[Segment]) -> f64 {
    let limits = &ground.asked.assessed.limits;
    let (Some(response), Some(band)) = (&ground.response, limits.hr) else {
        return 0.0;
    };
    let end = predict(response, &work_of(segments))
        .last()
        .map_or(0.0, |moment| moment.mean_bpm);
    let low = band.low.to_bpm() - ground.asked.service.warm_up_within_bpm;
    // A band that only guides does not hold the warm-up down.
    let above = if ground.ceiling.is_some() {
        end - band.high.to_bpm()
    } else {
        0.0
    };
    (low - end).max(above).max(0.0)
}

/// The largest fall of the predicted pulse on the way up, bpm.
fn fall_bpm(ground: &Ground<'_>, segments: &[Segment]) -> f64 {
    let Some(response) = &ground.response else {
        return 0.0;
    };
    let (mut highest, mut fall) = (response.level_bpm, 0.0_f64);
    for moment in predict(response, &work_of(segments)) {
        highest = highest.max(moment.mean_bpm);
        fall = fall.max(highest - moment.mean_bpm);
    }
    fall
}

/// Whether the predicted mean stays under a hard ceiling.
fn passes_nothing(
    ground: &Ground<'_>,
    ceiling: Option<&HardCeiling>,
    segments: &[Segment],
) -> bool {
    let (Some(response), Some(ceiling)) = (&ground.response, ceiling) else {
        return true;
    };
    predict(response, &work_of(segments))
        .iter()
        .all(|moment| moment.mean_bpm <= ceiling.most_bpm)
}

/// A warm-up that rises to a top: gently as far as the stretches reach, so that they are no valley, then to the top.
fn with_top<'a>(ground: &Ground<'a>, length_ms: u32, top: f64) -> Option<Tried<'a>> {
    let mut course = Course::new(ground);
    let mut rise = Rise::new(ground, top);
    let mut segments = Vec::new();
    let (loosen, raise, stretch) = SHARES;
    let parts = [
        share(length_ms, loosen),
        share(length_ms, raise),
        share(length_ms, stretch),
    ];
    let stretched_ms = parts.iter().sum::<u32>();
    let effort = |at_ms: u32| {
        let between = |from: f64, to: f64, ms: u32, of_ms: u32| {
            from + (to - from) * f64::from(ms) / f64::from(of_ms)
        };
        let begin = BEGIN_METS.min(top);
        if at_ms <= stretched_ms {
            between(begin, rise.stretching, at_ms, stretched_ms)
        } else {
            let (ms, of_ms) = (at_ms - stretched_ms, length_ms - stretched_ms);
            between(rise.stretching, top, ms, of_ms)
        }
    };
    let mut wanted = Vec::new();
    let mut at_ms = 0;
    for (ms, part) in [
        (parts[0], Part::Loosen),
        (parts[1], Part::Raise),
        (parts[2], Part::Stretch),
        (length_ms - stretched_ms, Part::Raise),
    ] {
        let lengths = if part == Part::Stretch {
            stretch_blocks(ground, ms)
        } else {
            blocks(ms)
        };
        for (index, length) in lengths.into_iter().enumerate() {
            at_ms += length;
            wanted.push((part.kinds(index), effort(at_ms), length));
        }
    }
    for (kinds, effort, length) in wanted {
        let segment = block(&mut course, &rise, kinds, effort, length)?;
        rise.after(&segment);
        segments.push(segment);
    }
    let repeat = course.longest_repeat();
    Some(Tried { segments, repeat })
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    Loosen,
    Raise,
    Stretch,
}

impl Part {
    /// What a block is, and what stands in where nothing of it is open. Between stretches the feet keep moving.
    const fn kinds(self, index: usize) -> [ExerciseKind; 3] {
        use ExerciseKind::{Mobility, PulseRaising, Stretch};
        match self {
            Self::Loosen => [Mobility, PulseRaising, Stretch],
            Self::Raise => [PulseRaising, Mobility, Stretch],
            Self::Stretch if index.is_multiple_of(2) => [Stretch, Mobility, PulseRaising],
            Self::Stretch => [PulseRaising, Mobility, Stretch],
        }
    }
}

/// Stretches and moving in turns: two holds and a change of side, then as long moving.
fn stretch_blocks(ground: &Ground<'_>, total_ms: u32) -> Vec<u32> {
    let hold_s = ground.asked.service.lengths.warm_up_stretch_s.first_s;
    let each = 1000 * (2 * hold_s + AROUND_HOLDS_S);
    let count = (total_ms / each).max(1);
    let mut list = vec![total_ms / count; count as usize];
    if let Some(last) = list.last_mut() {
        *last += total_ms - total_ms / count * count;
    }
    list
}

/// The kind a segment has for a kind of exercise.
pub(super) const fn segment_kind(kind: ExerciseKind) -> SegmentKind {
    match kind {
        ExerciseKind::Mobility => SegmentKind::Mobility,
        ExerciseKind::Stretch => SegmentKind::Stretch,
        ExerciseKind::PulseRaising => SegmentKind::PulseRaising,
        ExerciseKind::Cardiovascular => SegmentKind::Cardiovascular,
        ExerciseKind::ActiveRecovery => SegmentKind::ActiveRecovery,
    }
}

const NEAR_BAND: Rule = Rule {
    id: RuleId("warm-up/near-band"),
    name: "Where the warm-up ends",
    statement: "Graded, of the service's length (15 minutes or more in UK practice, 5 to 10 elsewhere); it ends within 20 bpm of the training band where the pulse can be predicted, and under a hard ceiling not above it, else at the lower end of the METs band.",
    sources: &[
        SourceId("thow-2006"),
        SourceId("acsm-getp"),
        SourceId("programme-ours"),
    ],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("end_bpm", "beats a minute", 25.0, 240.0),
        Input::number("band_low_bpm", "beats a minute", 25.0, 240.0),
        Input::number("within_bpm", "beats a minute", 0.0, 60.0).or_none(),
    ],
    evaluate: |values| {
        let within = values.optional_number("within_bpm").unwrap_or(20.0);
        let (end, low) = (values.number("end_bpm")?, values.number("band_low_bpm")?);
        Ok(Answer::new(
            Value::Flag(end >= low - within),
            format!("{end} against {low} - {within}"),
        ))
    },
};

const STRETCHES: Rule = Rule {
    id: RuleId("warm-up/stretches"),
    name: "Stretches in the warm-up",
    statement: "Held 8 to 10 s on each side (service setting), with the feet moving between them.",
    sources: &[],
    tag: Tag::CommonPractice,
    inputs: &[Input::number("hold_s", "s", 1.0, 60.0)],
    evaluate: |values| {
        let hold = values.number("hold_s")?;
        Ok(Answer::new(
            Value::Flag((8.0..=10.0).contains(&hold)),
            format!("{hold} within 8 to 10"),
        ))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[NEAR_BAND, STRETCHES];
