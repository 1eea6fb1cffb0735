//! The cool-down: the way down, arms below the shoulder, never harder than the moment before, quiet at the end.

use super::eligible::Way;
use super::ground::Ground;
use super::slope::{Course, arms_low, blocks, seated, share};
use super::warm_up::segment_kind;
use super::{ExerciseKind, MuscleGroup, Phase, Segment, SegmentKind};
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};

/// Shares of the time in per cent: easing, stretching; the rest is quiet. Source: `programme-ours`.
const SHARES: (u32, u32) = (45, 25);
/// Effort at the end of the easing part, METs. Source: `programme-ours`.
const EASED_METS: f64 = 1.6;
/// Percent of the service's length for those who need slow changes of posture. Source: `programme-ours`, from practice
/// (`thow-2006`: a long cool-down with vasodilators).
const LONGER_PCT: u32 = 150;

/// Length of the cool-down in ms: the service's, half as long again for the hypotensive, within the longest session.
pub(crate) fn length_ms(ground: &Ground<'_>) -> u32 {
    let lengths = ground.asked.service.lengths;
    let usual = lengths.cool_down_s.saturating_mul(1000);
    if !ground.asked.assessed.limits.hypotensive {
        return usual;
    }
    let room = lengths
        .session_max_s
        .saturating_sub(lengths.warm_up_s)
        .saturating_mul(1000);
    share(usual, LONGER_PCT).min(room).max(usual)
}

/// A cool-down; `None` where nothing at all is open.
///
/// Nothing in it is harder than `most_mets`, the hardest of the warm-up. `longer_ms` is added to the quiet part: where the pulse is predicted to need it.
pub(crate) fn cool_down(
    ground: &Ground<'_>,
    from_stop: Option<usize>,
    begin_mets: f64,
    most_mets: f64,
    longer_ms: u32,
) -> Option<Vec<Segment>> {
    let mut course = Course::new(ground);
    course.stop = from_stop;
    let total = length_ms(ground);
    let (easing, stretching) = (share(total, SHARES.0), share(total, SHARES.1));
    let quiet = total - easing - stretching + longer_ms;
    let mut segments: Vec<Segment> = Vec::new();
    let mut ceiling = most_mets;
    let easing_blocks = blocks(easing);
    let count = easing_blocks.len().max(2) as f64 - 1.0;
    for (index, ms) in easing_blocks.into_iter().enumerate() {
        let down = (begin_mets - EASED_METS).max(0.0) * index as f64 / count;
        let wanted = begin_mets.max(EASED_METS) - down;
        let kinds = [
            ExerciseKind::PulseRaising,
            ExerciseKind::Mobility,
            ExerciseKind::Stretch,
        ];
        segments.push(block(&mut course, kinds, wanted, &mut ceiling, ms)?);
    }
    for (part, kinds) in [
        (
            stretching,
            [
                ExerciseKind::Stretch,
                ExerciseKind::Mobility,
                ExerciseKind::PulseRaising,
            ],
        ),
        (
            quiet,
            [
                ExerciseKind::Mobility,
                ExerciseKind::Stretch,
                ExerciseKind::PulseRaising,
            ],
        ),
    ] {
        for ms in blocks(part) {
            let wanted = ceiling.min(EASED_METS);
            segments.push(block(&mut course, kinds, wanted, &mut ceiling, ms)?);
        }
    }
    settle(ground, &mut course, &mut segments);
    Some(segments)
}

/// One block, never harder than the one before; rest where nothing easier is open.
fn block(
    course: &mut Course<'_, '_>,
    kinds: [ExerciseKind; 3],
    wanted: f64,
    ceiling: &mut f64,
    length_ms: u32,
) -> Option<Segment> {
    let ground = course.ground;
    for kind in kinds {
        let all: Vec<&Way<'_>> = ground.ways(kind).filter(|way| suits(way)).collect();
        let down: Vec<&Way<'_>> = all.iter().copied().filter(|way| seated(way)).collect();
        // Once seated one stays seated: one change of posture is enough.
        let list = if course.settled { &down } else { &all };
        if let Some(way) = course.nearest(list, wanted, *ceiling) {
            course.settled |= seated(way) && kind != ExerciseKind::PulseRaising;
            *ceiling = way.mets;
            let stop = course.take(way);
            return Some(ground.segment(Phase::CoolDown, segment_kind(kind), way, stop, length_ms));
        }
    }
    if ground.eligible.ways.is_empty() {
        return None;
    }
    let rest = ground.between(Phase::CoolDown, SegmentKind::Rest, course.stop, length_ms);
    *ceiling = ceiling.min(rest.mets);
    Some(Segment {
        mets: rest.mets.min(*ceiling),
        ..rest
    })
}

/// Makes the last block the quietest thing there is; for the hypotensive the block before keeps the calves moving.
fn settle<'g, 'a>(ground: &'g Ground<'a>, course: &mut Course<'g, 'a>, segments: &mut [Segment]) {
    let quiet: Vec<&Way<'_>> = ground
        .ways(ExerciseKind::Mobility)
        .chain(ground.ways(ExerciseKind::Stretch))
        .filter(|way| suits(way) && seated(way))
        .collect();
    let count = segments.len();
    if ground.asked.assessed.limits.hypotensive && count >= 3 {
        let most = segments[count - 3].mets;
        let calves: Vec<&Way<'_>> = quiet
            .iter()
            .copied()
            .filter(|way| way.exercise.muscles.contains(&MuscleGroup::Calf))
            .filter(|way| way.variant.per_minute.is_some())
            .collect();
        replace(ground, course, &mut segments[count - 2], &calves, most);
    }
    if count >= 2 {
        let most = segments[count - 2].mets;
        replace(ground, course, &mut segments[count - 1], &quiet, most);
    }
}

fn replace<'g, 'a>(
    ground: &'g Ground<'a>,
    course: &mut Course<'g, 'a>,
    segment: &mut Segment,
    ways: &[&'g Way<'a>],
    most: f64,
) {
    let easiest = ways
        .iter()
        .copied()
        .filter(|way| way.mets <= most + 1e-9)
        .min_by(|a, b| a.mets.total_cmp(&b.mets).then(a.index.cmp(&b.index)));
    if let Some(way) = easiest {
        let kind = if way.exercise.is(ExerciseKind::Mobility) {
            SegmentKind::Mobility
        } else {
            SegmentKind::Stretch
        };
        let stop = course.take(way);
        *segment = ground.segment(Phase::CoolDown, kind, way, stop, segment.duration_ms);
    }
}

fn suits(way: &Way<'_>) -> bool {
    arms_low(way) && way.variant.props.is_empty()
}

const TAPER: Rule = Rule {
    id: RuleId("cool-down/taper"),
    name: "The way down",
    statement: "Of the service's length (10 minutes or more in UK practice, 5 to 10 elsewhere), half as long again where changes of posture must be slow; arms below the shoulder, never harder than the moment before, quiet at the end.",
    sources: &[
        SourceId("thow-2006"),
        SourceId("acsm-getp"),
        SourceId("programme-ours"),
    ],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("cool_down_s", "s", 0.0, 3600.0),
        Input::flag("hypotensive"),
    ],
    evaluate: |values| {
        let usual = values.number("cool_down_s")?;
        let longer = if values.flag("hypotensive")? {
            f64::from(LONGER_PCT) / 100.0
        } else {
            1.0
        };
        Ok(Answer::new(
            Value::Number(usual * longer, "s"),
            format!("{usual} x {longer}"),
        ))
    },
};

/// Where the pulse should have come to.
pub(crate) const NEAR_REST: Rule = Rule {
    id: RuleId("cool-down/near-rest"),
    name: "Where the cool-down ends",
    statement: "Within 10 bpm of the rate before exercise, where the model can reach it; the quiet part is lengthened up to five minutes for it.",
    sources: &[SourceId("thow-2006"), SourceId("programme-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("end_bpm", "beats a minute", 25.0, 240.0),
        Input::number("before_bpm", "beats a minute", 25.0, 240.0),
        Input::number("within_bpm", "beats a minute", 0.0, 60.0).or_none(),
    ],
    evaluate: |values| {
        let within = values.optional_number("within_bpm").unwrap_or(10.0);
        let (end, before) = (values.number("end_bpm")?, values.number("before_bpm")?);
        Ok(Answer::new(
            Value::Flag(end <= before + within),
            format!("{end} against {before} + {within}"),
        ))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[TAPER, NEAR_REST];
