//! What warm-up and cool-down share: dividing a time into blocks, choosing the way nearest to an effort, and taking turns.

use super::eligible::Way;
use super::ground::Ground;
use super::{ArmHeight, ExerciseKind, Posture};
use crate::assessment::PlaceKind;
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use std::collections::BTreeSet;

/// Length of one block, about. Source: `programme-ours`.
const BLOCK_MS: u32 = 45_000;
/// How far above the wanted effort a way may lie, METs. Source: `programme-ours`.
const ABOVE: f64 = 0.15;
/// What each earlier use counts against a way, METs: so that ways take turns. Source: `programme-ours`.
const USED: f64 = 0.12;
/// What each of the latest turns with the same exercise counts against a way, METs, so that of ways of about the same
/// effort the unlike comes next; and how many turns are looked back on. Source: `programme-ours`.
const ALIKE: f64 = 0.35;
const LATEST: usize = 4;
/// Blocks that one exercise goes on for before something else comes; its variants count as one. Source:
/// `programme-ours`.
pub(super) const RUNNING_MOST: usize = 3;

/// Divides a time into blocks of about the same whole number of milliseconds; the last takes what is left over.
pub(super) fn blocks(total_ms: u32) -> Vec<u32> {
    let count = (total_ms / BLOCK_MS).max(1);
    let each = total_ms / count;
    let mut list = vec![each; count as usize];
    if let Some(last) = list.last_mut() {
        *last += total_ms - each * count;
    }
    list
}

/// A share of a time in whole milliseconds.
pub(super) fn share(total_ms: u32, percent: u32) -> u32 {
    (u64::from(total_ms) * u64::from(percent) / 100) as u32
}

/// A walk through warm-up or cool-down: where one is, what was used.
pub(super) struct Course<'g, 'a> {
    pub(super) ground: &'g Ground<'a>,
    pub(super) stop: Option<usize>,
    /// Standing already (warm-up) or seated already (cool-down): then it is kept where it can be.
    pub(super) settled: bool,
    /// Times each open way was used.
    used: Vec<u32>,
    /// What was done, turn by turn, by the name that alike exercises share; `None` for a rest.
    turns: Vec<Option<&'a str>>,
}

impl<'g, 'a> Course<'g, 'a> {
    pub(super) fn new(ground: &'g Ground<'a>) -> Self {
        Self {
            ground,
            stop: None,
            settled: false,
            used: vec![0; ground.eligible.ways.len()],
            turns: Vec::new(),
        }
    }

    /// Of some ways the one nearest to an effort and least used; ties by id.
    ///
    /// Ways above `most` are left out. Ways a little above the wanted effort may stand; if all lie further above, the
    /// easiest of them.
    pub(super) fn nearest(
        &self,
        ways: &[&'g Way<'a>],
        wanted: f64,
        most: f64,
    ) -> Option<&'g Way<'a>> {
        let open: Vec<&&Way<'_>> = ways.iter().filter(|way| way.mets <= most + 1e-9).collect();
        let easiest = open
            .iter()
            .map(|way| way.mets)
            .fold(f64::INFINITY, f64::min);
        let top = (wanted + ABOVE).max(easiest);
        open.into_iter()
            .filter(|way| way.mets <= top + 1e-9)
            .map(|way| (self.distance(way, wanted), *way))
            .min_by(|(a, first), (b, second)| a.total_cmp(b).then(first.index.cmp(&second.index)))
            .map(|(_, way)| way)
    }

    fn distance(&self, way: &Way<'_>, wanted: f64) -> f64 {
        let used = self.used[way.index];
        let moves = self.stop.is_some_and(|stop| !way.stops.contains(&stop));
        let latest = self.turns.iter().rev().take(LATEST);
        let alike = latest.filter(|turn| **turn == Some(way.exercise.alike.as_str()));
        (way.mets - wanted).abs()
            + USED * f64::from(used)
            + ALIKE * alike.count() as f64
            + if moves { USED } else { 0.0 }
    }

    /// Whether the exercise of a way has gone on for as long as one may before something else comes.
    pub(super) fn is_due(&self, way: &Way<'_>) -> bool {
        self.running(Some(&way.exercise.alike)) >= RUNNING_MOST
    }

    /// Whether the rests have.
    pub(super) fn rest_is_due(&self) -> bool {
        self.running(None) >= RUNNING_MOST
    }

    /// How many of the last turns were one thing, without a break.
    fn running(&self, what: Option<&str>) -> usize {
        let back = self.turns.iter().rev();
        back.take_while(|turn| **turn == what).count()
    }

    /// The exercise that goes on for longer than one may, and for how many turns it does; the longest, the first of them.
    pub(super) fn longest_repeat(&self) -> Option<(&'a str, usize)> {
        let runs = self.turns.chunk_by(|one, next| one == next);
        runs.filter_map(|run| Some((run[0]?, run.len())))
            .filter(|(_, turns)| *turns > RUNNING_MOST)
            .rev()
            .max_by_key(|(_, turns)| *turns)
    }

    /// Takes a way: counts it and goes to where it is done, staying where one is if it can be done there.
    pub(super) fn take(&mut self, way: &Way<'a>) -> usize {
        self.used[way.index] += 1;
        self.turns.push(Some(&way.exercise.alike));
        let stop = match self.stop {
            Some(stop) if way.stops.contains(&stop) => stop,
            _ => way.stops.first().copied().unwrap_or(0),
        };
        self.stop = Some(stop);
        stop
    }

    /// A turn of rest.
    pub(super) fn rest(&mut self) {
        self.turns.push(None);
    }

    /// How often a way was used.
    pub(super) fn times(&self, way: &Way<'_>) -> u32 {
        self.used[way.index]
    }
}

/// Whether the arms stay below the shoulder.
pub(super) fn arms_low(way: &Way<'_>) -> bool {
    matches!(
        way.variant.arms,
        ArmHeight::Still | ArmHeight::BelowShoulder
    )
}

/// Whether it is done sitting.
pub(super) fn seated(way: &Way<'_>) -> bool {
    way.variant.posture == Posture::Seated
}

/// Unlike exercises that warm-up and cool-down must have each where there is no seat. Source: `programme-ours`.
pub(super) const UNLIKE_LEAST: usize = 3;
/// Effort that a way down can still end on, METs. Source: `programme-ours`.
const END_METS: f64 = 2.0;

/// Whether there is something to sit on.
pub(super) fn has_seat(ground: &Ground<'_>) -> bool {
    ground
        .stops
        .iter()
        .any(|stop| stop.kind == PlaceKind::Chair)
}

/// How many unlike exercises are open for the poorer of warm-up and the end of the way down, where they are too few
/// without a seat: then one would go on and on.
pub(super) fn too_few_unlike(ground: &Ground<'_>) -> Option<usize> {
    let most = ground.asked.assessed.limits.mets.high.to_mets();
    let warm_up = unlike(ground, |way, kind| {
        super::warm_up::suits(way, kind) && way.mets <= most
    });
    let way_down = unlike(ground, |way, _| {
        super::cool_down::suits(way) && way.mets <= END_METS
    });
    Some(warm_up.min(way_down)).filter(|unlike| *unlike < UNLIKE_LEAST)
}

/// How many exercises are open, alike ones taken as one, of those for warm-up and cool-down that suit.
fn unlike(ground: &Ground<'_>, suits: impl Fn(&Way<'_>, ExerciseKind) -> bool) -> usize {
    use ExerciseKind::{Mobility, PulseRaising, Stretch};
    let open = [Mobility, PulseRaising, Stretch]
        .into_iter()
        .flat_map(|kind| ground.ways(kind).map(move |way| (way, kind)));
    let names: BTreeSet<&str> = open
        .filter(|(way, kind)| suits(way, *kind))
        .map(|(way, _)| way.exercise.alike.as_str())
        .collect();
    names.len()
}

/// What is said where one exercise goes on for longer than one may, because nothing else is open.
pub(super) fn repeats(part: &str, why: &str, longest: Option<(&str, usize)>) -> Option<Finding> {
    let (exercise, turns) = longest?;
    let text = format!(
        "The {part} goes on with {exercise} for {turns} blocks, because nothing else that is open here {why}; stay with them, leave short pauses, and look at what is refused."
    );
    let finding = REPEATS
        .finding(Weight::Note, text)
        .with(Named::text("exercise", exercise.to_owned()))
        .with(Named::whole("blocks", turns as i64, "blocks"));
    Some(finding)
}

const REPEATS: Rule = Rule {
    id: RuleId("slope/repeats"),
    name: "One exercise after another",
    statement: "In warm-up and cool-down one exercise, its variants taken as one, goes on for at most 3 blocks of about 45 s before something else comes; where nothing else is open it goes on, and that is said.",
    sources: &[SourceId("programme-ours")],
    tag: Tag::Ours,
    inputs: &[Input::number("blocks", "blocks", 1.0, 100.0)],
    evaluate: |values| {
        let blocks = values.number("blocks")?;
        Ok(Answer::new(
            Value::Flag(blocks <= RUNNING_MOST as f64),
            format!("{blocks} against {RUNNING_MOST}"),
        ))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[REPEATS];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_blocks_add_up_to_the_millisecond() {
        for total in [1, 44_999, 45_000, 100_001, 270_000, 315_777, 900_000] {
            let list = blocks(total);
            assert_eq!(list.iter().sum::<u32>(), total);
            assert!(list.iter().all(|ms| *ms > 0));
        }
    }
}
