//! The way that fills a block of the warm-up.

use super::rise::Rise;
use super::{BEGIN_METS, segment_kind};
use crate::programme::eligible::Way;
use crate::programme::slope::{Course, seated};
use crate::programme::{ExerciseKind, Phase, Segment};

/// What is asked of a way, in the order in which it is given up: that something else comes in its turn, that the posture
/// is kept, that the pulse does not fall back.
#[derive(Clone, Copy)]
struct Asks {
    turns: bool,
    posture: bool,
    keeps_up: bool,
}

const ASKS: [Asks; 5] = [
    Asks::of(true, true, true),
    Asks::of(true, false, true),
    Asks::of(false, true, true),
    Asks::of(true, true, false),
    Asks::of(false, true, false),
];

impl Asks {
    const fn of(turns: bool, posture: bool, keeps_up: bool) -> Self {
        Self {
            turns,
            posture,
            keeps_up,
        }
    }
}

pub(super) fn block<'a>(
    course: &mut Course<'_, 'a>,
    rise: &Rise,
    kinds: [ExerciseKind; 3],
    wanted: f64,
    length_ms: u32,
) -> Option<Segment> {
    let ground = course.ground;
    let open = |kind: ExerciseKind| ground.ways(kind).filter(move |way| suits(way, kind));
    let most = rise.top.max(BEGIN_METS.min(wanted)) + 1e-9;
    let under = |kind: ExerciseKind, asks: Asks| {
        let ways = open(kind).filter(|way| way.mets <= most);
        let ways: Vec<&Way<'_>> = ways
            .filter(|way| !asks.keeps_up || rise.keeps_up(way))
            .collect();
        Some((kind, choose(course, kind, &ways, wanted, asks)?))
    };
    // One change of posture is enough where changes must be slow.
    let slow = ground.asked.assessed.limits.hypotensive;
    let asked = ASKS.iter().filter(|asks| asks.posture || !slow);
    let mut asked = asked.flat_map(|asks| kinds.map(|kind| (kind, *asks)));
    let chosen = asked.find_map(|(kind, asks)| under(kind, asks));
    // Where nothing at all lies under the top, the easiest there is.
    let chosen = chosen.or_else(|| {
        let all: Vec<(ExerciseKind, &Way<'_>)> = kinds
            .iter()
            .flat_map(|kind| open(*kind).map(|way| (*kind, way)))
            .collect();
        let easiest = easiest(&all.iter().map(|(_, way)| *way).collect::<Vec<_>>())?;
        all.into_iter().find(|(_, way)| way.index == easiest.index)
    });
    let (kind, way) = chosen?;
    course.settled |= !seated(way);
    let stop = course.take(way);
    Some(ground.segment(Phase::WarmUp, segment_kind(kind), way, stop, length_ms))
}

/// Of the ways under the top the one that suits a block. One rises to raise the pulse and for nothing else, and stays up
/// where something is open standing: one change of posture is enough.
fn choose<'g, 'a>(
    course: &Course<'g, 'a>,
    kind: ExerciseKind,
    ways: &[&'g Way<'a>],
    wanted: f64,
    asks: Asks,
) -> Option<&'g Way<'a>> {
    let (down, up): (Vec<&Way<'_>>, Vec<&Way<'_>>) =
        ways.iter().copied().partition(|way| seated(way));
    let raises = kind == ExerciseKind::PulseRaising;
    let list = if course.settled && asks.posture && !up.is_empty() {
        up
    } else if raises || down.is_empty() || (course.settled && !asks.posture) {
        ways.to_vec()
    } else {
        down
    };
    let turns = |way: &&Way<'_>| !asks.turns || !course.is_due(way);
    let list: Vec<&Way<'_>> = list.into_iter().filter(turns).collect();
    if raises {
        course.nearest(&list, wanted, f64::INFINITY)
    } else {
        fresh(course, &list)
    }
}

/// What is for warm-up: nothing to fetch, and holds rather than quiet breathing.
pub(in crate::programme) fn suits(way: &Way<'_>, kind: ExerciseKind) -> bool {
    let holds = kind != ExerciseKind::Stretch || way.variant.hold_s.is_some();
    way.variant.props.is_empty() && holds
}

/// The least used way; of those the easiest, then by id.
fn fresh<'g, 'a>(course: &Course<'g, 'a>, ways: &[&'g Way<'a>]) -> Option<&'g Way<'a>> {
    ways.iter().copied().min_by(|first, second| {
        course_uses(course, first)
            .cmp(&course_uses(course, second))
            .then_with(|| first.mets.total_cmp(&second.mets))
            .then(first.index.cmp(&second.index))
    })
}

/// How often the exercise of a way was used: its variants count as one.
fn course_uses(course: &Course<'_, '_>, way: &Way<'_>) -> u32 {
    course
        .ground
        .eligible
        .ways
        .iter()
        .filter(|other| other.exercise.alike == way.exercise.alike)
        .map(|other| course.times(other))
        .sum()
}

fn easiest<'g, 'a>(ways: &[&'g Way<'a>]) -> Option<&'g Way<'a>> {
    ways.iter()
        .copied()
        .min_by(|a, b| a.mets.total_cmp(&b.mets).then(a.index.cmp(&b.index)))
}
