//! The cool-down: the way down, arms below the shoulder, the pulse never rising again, quiet at the end.

mod descent;

use super::eligible::Way;
use super::ground::Ground;
use super::slope::{Course, UNLIKE_LEAST, arms_low, blocks, has_seat, repeats, seated, share};
use super::warm_up::segment_kind;
use super::{ExerciseKind, MuscleGroup, Phase, Segment, SegmentKind};
use crate::evidence::{Answer, Finding, Input, Rule, RuleId, SourceId, Tag, Value};
use core::cmp::Ordering;
use descent::Descent;
use std::collections::BTreeMap;

/// Shares of the time in per cent: easing, stretching; the rest is quiet. Source: `programme-ours`.
const SHARES: (u32, u32) = (45, 25);
/// Effort at the end of the easing part, METs. Source: `programme-ours`.
const EASED_METS: f64 = 1.6;
/// Effort towards which the quiet part goes, METs; with the calves moving for the hypotensive. Source: `programme-ours`.
const QUIET_METS: f64 = 1.2;
const CALVES_METS: f64 = 1.4;
/// How far below the wanted effort a way may lie where another is open, METs: the way down is gone evenly, because the
/// pulse may not rise from a dip again. Source: `programme-ours`.
const BELOW: f64 = 0.15;
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

/// Kinds of exercise that a cool-down is made of.
const KINDS: [ExerciseKind; 3] = [
    ExerciseKind::PulseRaising,
    ExerciseKind::Mobility,
    ExerciseKind::Stretch,
];

/// What a cool-down comes after.
pub(crate) struct After<'s> {
    pub(crate) warm_up: &'s [Segment],
    pub(crate) stations: &'s [Segment],
    /// Where it begins.
    pub(crate) stop: Option<usize>,
    /// Effort at which it begins.
    pub(crate) begin_mets: f64,
    /// Nothing in it is harder: the hardest of the warm-up.
    pub(crate) most_mets: f64,
    /// As quiet as can be from the first block on.
    pub(crate) quiet: bool,
}

/// A cool-down with what there is to say.
pub(crate) struct CoolDown {
    pub(crate) segments: Vec<Segment>,
    pub(crate) finding: Option<Finding>,
}

/// A cool-down; `None` where nothing at all is open.
///
/// The predicted pulse is carried on from what stood before, and only ways are taken that do not let it rise again.
/// `longer_ms` is added to the quiet part: where the pulse is predicted to need it.
pub(crate) fn cool_down(
    ground: &Ground<'_>,
    after: &After<'_>,
    longer_ms: u32,
) -> Option<CoolDown> {
    if ground.eligible.ways.is_empty() {
        return None;
    }
    let mut way_down = WayDown::new(ground, after);
    let turns = turns(ground, after, longer_ms);
    let segments: Vec<Segment> = turns.iter().map(|turn| way_down.block(turn)).collect();
    let finding = repeats(
        "cool-down",
        "keeps the pulse from rising again",
        way_down.course.longest_repeat(),
    );
    Some(CoolDown { segments, finding })
}

/// One block to be filled.
struct Turn {
    kinds: [ExerciseKind; 3],
    wanted: f64,
    length_ms: u32,
    last: Last,
}

/// What the last blocks are for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Last {
    Not,
    /// The calves keep moving: the block before the last, for the hypotensive.
    Calves,
    /// The quietest thing there is.
    Quiet,
}

/// The blocks of a cool-down: easing, stretching, quiet, evenly down.
fn turns(ground: &Ground<'_>, after: &After<'_>, longer_ms: u32) -> Vec<Turn> {
    use ExerciseKind::{Mobility, PulseRaising, Stretch};
    let total = length_ms(ground);
    let (easing, stretching) = (share(total, SHARES.0), share(total, SHARES.1));
    let quiet = total - easing - stretching + longer_ms;
    let hypotensive = ground.asked.assessed.limits.hypotensive;
    let end = if hypotensive { CALVES_METS } else { QUIET_METS };
    let begin = after.begin_mets.max(EASED_METS);
    let most = if after.quiet { 1.0 } else { f64::INFINITY };
    let mut list = Vec::new();
    let mut part = |lengths: &[(u32, [ExerciseKind; 3])], from: f64, to: f64| {
        let count = lengths.len().max(2) as f64 - 1.0;
        for (index, (length_ms, kinds)) in lengths.iter().enumerate() {
            list.push(Turn {
                kinds: *kinds,
                wanted: most.min(from + (to - from) * index as f64 / count),
                length_ms: *length_ms,
                last: Last::Not,
            });
        }
    };
    let of = |ms: u32, kinds: [ExerciseKind; 3]| blocks(ms).into_iter().map(move |ms| (ms, kinds));
    let eased: Vec<_> = of(easing, [PulseRaising, Mobility, Stretch]).collect();
    let stretched = of(stretching, [Stretch, Mobility, PulseRaising]);
    let quietened = of(quiet, [Mobility, Stretch, PulseRaising]);
    part(&eased, begin, EASED_METS);
    part(
        &stretched.chain(quietened).collect::<Vec<_>>(),
        EASED_METS,
        end,
    );
    let count = list.len();
    if hypotensive && count >= 3 {
        list[count - 2].last = Last::Calves;
    }
    if count >= 2 {
        list[count - 1].last = Last::Quiet;
    }
    list
}

/// The least load of every exercise that is open on the way down, in METs above rest as the heart feels them; alike ones
/// are taken as one.
fn easiest_loads<'g>(
    ground: &'g Ground<'_>,
    also: impl Fn(&Way<'_>) -> bool,
) -> BTreeMap<&'g str, f64> {
    let mut loads = BTreeMap::new();
    for way in ground
        .eligible
        .ways
        .iter()
        .filter(|way| suits(way) && also(way))
    {
        if KINDS.iter().any(|kind| way.exercise.is(*kind)) {
            let least = loads
                .entry(way.exercise.alike.as_str())
                .or_insert(f64::INFINITY);
            *least = load(way).min(*least);
        }
    }
    loads
}

/// A walk through the cool-down: where one is, what was used, and where the pulse is.
struct WayDown<'g, 'a> {
    course: Course<'g, 'a>,
    descent: Descent,
    most_mets: f64,
    quiet: bool,
    /// The least load of every exercise, and of every one that can be done sitting.
    loads: BTreeMap<&'g str, f64>,
    seated_loads: BTreeMap<&'g str, f64>,
}

impl<'g, 'a> WayDown<'g, 'a> {
    fn new(ground: &'g Ground<'a>, after: &After<'_>) -> Self {
        let mut course = Course::new(ground);
        course.stop = after.stop;
        Self {
            course,
            descent: Descent::after(ground, &[after.warm_up, after.stations]),
            most_mets: after.most_mets,
            quiet: after.quiet,
            loads: easiest_loads(ground, |_| true),
            seated_loads: easiest_loads(ground, seated),
        }
    }

    /// One block that does not let the pulse rise. Where everything open goes on for too long already a rest comes
    /// between; where nothing open keeps the pulse down, the easiest there is.
    fn block(&mut self, turn: &Turn) -> Segment {
        let rest = self.rest(turn.length_ms);
        let most = self.descent.most_load(turn.length_ms);
        let beside_drift = self.descent.most_load_beside_drift(turn.length_ms);
        let in_turns = |way: &Way<'_>| !self.course.is_due(way);
        let even = |way: &Way<'_>| in_turns(way) && way.mets >= turn.wanted - BELOW - 1e-9;
        let quietest = || self.quiet.then(|| self.easiest(f64::INFINITY)).flatten();
        let chosen = self
            .last(turn)
            .or_else(quietest)
            .or_else(|| self.choose(turn, most, |way| even(way) && self.leaves_room(way, turn)))
            .or_else(|| {
                self.choose(turn, most, |way| {
                    in_turns(way) && self.leaves_room(way, turn)
                })
            })
            .or_else(|| self.choose(turn, beside_drift, even))
            .or_else(|| self.choose(turn, most, in_turns))
            .or_else(|| self.choose(turn, beside_drift, in_turns));
        let chosen = chosen.or_else(|| {
            if self.can_rest(&rest) {
                None
            } else {
                let again = self.choose(turn, most, |_| true);
                again.or_else(|| self.easiest(rest.mets))
            }
        });
        match chosen {
            Some((kind, way)) => self.take(kind, way, turn.length_ms),
            None => {
                self.course.rest();
                self.goes_on(rest)
            }
        }
    }

    /// The way nearest to a block's effort, of those up to a load that hold what else is asked.
    fn choose(
        &self,
        turn: &Turn,
        most_load: f64,
        asked: impl Fn(&Way<'_>) -> bool,
    ) -> Option<(ExerciseKind, &'g Way<'a>)> {
        turn.kinds.into_iter().find_map(|kind| {
            let ways = self.open(kind).filter(|way| load(way) <= most_load);
            // Once seated one stays seated: one change of posture is enough.
            let ways = ways.filter(|way| !self.course.settled || seated(way));
            let list: Vec<&Way<'_>> = ways.filter(|way| asked(way)).collect();
            let nearest = self.course.nearest(&list, turn.wanted, self.most_mets)?;
            Some((kind, nearest))
        })
    }

    /// Whether after a way there are still unlike ones to take turns with: a dip of the pulse may not be risen from.
    fn leaves_room(&self, way: &Way<'_>, turn: &Turn) -> bool {
        let mut descent = self.descent;
        descent.goes_on(load(way), turn.length_ms);
        let most_load = descent.most_load(turn.length_ms);
        let loads = if self.course.settled || seated(way) {
            &self.seated_loads
        } else {
            &self.loads
        };
        loads.values().filter(|load| **load <= most_load).count() >= UNLIKE_LEAST
    }

    /// What the last blocks are for, where it is open.
    fn last(&self, turn: &Turn) -> Option<(ExerciseKind, &'g Way<'a>)> {
        let calves = |way: &Way<'_>| {
            way.exercise.muscles.contains(&MuscleGroup::Calf) && way.variant.per_minute.is_some()
        };
        let fits = |way: &Way<'_>| match turn.last {
            Last::Not => false,
            Last::Calves => calves(way),
            Last::Quiet => true,
        };
        let most_load = self.descent.most_load(turn.length_ms);
        let kinds = [ExerciseKind::Mobility, ExerciseKind::Stretch];
        kinds
            .into_iter()
            .flat_map(|kind| self.open(kind).map(move |way| (kind, way)))
            .filter(|(_, way)| seated(way) && fits(way) && load(way) <= most_load)
            .filter(|(_, way)| way.mets <= self.most_mets + 1e-9)
            .min_by(easier)
    }

    fn open(&self, kind: ExerciseKind) -> impl Iterator<Item = &'g Way<'a>> + use<'g, 'a> {
        self.course.ground.ways(kind).filter(|way| suits(way))
    }

    /// The easiest way there is, where it is easier than a rest.
    fn easiest(&self, rest_mets: f64) -> Option<(ExerciseKind, &'g Way<'a>)> {
        let kinds = [ExerciseKind::Mobility, ExerciseKind::Stretch];
        kinds
            .into_iter()
            .flat_map(|kind| self.open(kind).map(move |way| (kind, way)))
            .filter(|(_, way)| way.mets < rest_mets && (!self.course.settled || seated(way)))
            .min_by(easier)
    }

    /// Whether a rest may come: where the feet should keep moving only on a seat, and never on and on.
    fn can_rest(&self, rest: &Segment) -> bool {
        let ground = self.course.ground;
        let standing = ground.asked.assessed.limits.hypotensive && !has_seat(ground);
        let allowed = rest.mets - 1.0 <= self.descent.most_load(rest.duration_ms);
        allowed && !self.quiet && !standing && !self.course.rest_is_due()
    }

    fn rest(&self, length_ms: u32) -> Segment {
        let ground = self.course.ground;
        let (kind, stop) = (SegmentKind::Rest, self.course.stop);
        ground.between(Phase::CoolDown, kind, stop, length_ms)
    }

    fn take(&mut self, kind: ExerciseKind, way: &'g Way<'a>, length_ms: u32) -> Segment {
        self.course.settled |= seated(way) && kind != ExerciseKind::PulseRaising;
        let stop = self.course.take(way);
        let ground = self.course.ground;
        let segment = ground.segment(Phase::CoolDown, segment_kind(kind), way, stop, length_ms);
        self.goes_on(segment)
    }

    fn goes_on(&mut self, segment: Segment) -> Segment {
        let load = (segment.mets - 1.0) * segment.hr_gain;
        self.descent.goes_on(load, segment.duration_ms);
        segment
    }
}

/// The load of a way, in METs above rest as the heart feels them.
fn load(way: &Way<'_>) -> f64 {
    (way.mets - 1.0) * way.exercise.hr_gain
}

/// The easier of two, ties by id.
fn easier(one: &(ExerciseKind, &Way<'_>), other: &(ExerciseKind, &Way<'_>)) -> Ordering {
    let (one, other) = (one.1, other.1);
    one.mets
        .total_cmp(&other.mets)
        .then(one.index.cmp(&other.index))
}

pub(super) fn suits(way: &Way<'_>) -> bool {
    arms_low(way) && way.variant.props.is_empty()
}

const TAPER: Rule = Rule {
    id: RuleId("cool-down/taper"),
    name: "The way down",
    statement: "Of the service's length (10 minutes or more in UK practice, 5 to 10 elsewhere), half as long again where changes of posture must be slow; arms below the shoulder, the predicted pulse never more than 1 bpm above the lowest so far, quiet at the end.",
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
