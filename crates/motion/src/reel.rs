//! A reel: a few moments of a movement from one camera, between which every point may go straight, and how to look at it.

mod views;

pub use views::Views;

use crate::body::{Segment, Side};
use crate::clash::Furniture;
use crate::cycle::Cycle;
use crate::grip::Contact;
use crate::posture::Posture;
use crate::scene::{Camera, Holding, Look, Order, POINTS, Point, Scene, Snapshot, Stage};
use crate::settle::Unsettled;
use crate::space::Vector;

/// A movement from one camera in a few moments.
#[derive(Clone, Debug, PartialEq)]
pub struct Reel {
    stage: Stage,
    period_ms: u32,
    frames: Vec<Frame>,
    runs: Vec<(Order, usize)>,
    /// When each moment was found worth keeping: the first is 0, the farthest 1.
    ranks: Vec<usize>,
    /// How far a point is at most off its place with 1, 2, 3 and so on of the moments.
    errors_mm: Vec<f64>,
}

/// One of its moments.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// When.
    pub at_ms: u32,
    /// What is seen.
    pub snapshot: Snapshot,
}

impl Reel {
    /// So many moments at most; fewer where fewer serve.
    ///
    /// # Errors
    /// When a limb does not reach at some moment.
    pub fn of(cycle: &Cycle, camera: &Camera, look: &Look, most: usize) -> Result<Self, Unsettled> {
        let postures = postures(cycle)?;
        let stage = stage(cycle, camera, look, postures.iter().map(|(_, one)| one));
        let all: Vec<Frame> = postures
            .iter()
            .map(|(at_ms, posture)| Frame {
                at_ms: *at_ms,
                snapshot: stage.snapshot(posture),
            })
            .collect();
        let kept = Kept::of(&all, farthest(cycle, &postures), most);
        let mut places: Vec<(usize, usize)> = kept.pictures.iter().copied().zip(0..).collect();
        places.sort_unstable();
        let frames = places
            .iter()
            .map(|(place, _)| all[*place].clone())
            .collect();
        let ranks = places.iter().map(|(_, rank)| *rank).collect();
        Ok(Self::kept_only(
            stage,
            cycle.period_ms(),
            (frames, ranks),
            kept.errors_mm,
        ))
    }

    fn kept_only(
        stage: Stage,
        period_ms: u32,
        (frames, ranks): (Vec<Frame>, Vec<usize>),
        errors_mm: Vec<f64>,
    ) -> Self {
        Self {
            runs: stage.orders(frames.iter().map(|frame| &frame.snapshot)),
            stage,
            period_ms,
            frames,
            ranks,
            errors_mm,
        }
    }

    /// The same in fewer moments, so many at most: those that tell most.
    pub fn fewer(&self, most: usize) -> Self {
        let most = most.max(2);
        let kept = self.frames.iter().cloned().zip(self.ranks.iter().copied());
        let kept = kept.filter(|(_, rank)| *rank < most).unzip();
        let errors_mm = self.errors_mm.iter().copied().take(most).collect();
        Self::kept_only(self.stage.clone(), self.period_ms, kept, errors_mm)
    }

    /// How long one repetition takes; after the last moment comes the first one again.
    pub const fn period_ms(&self) -> u32 {
        self.period_ms
    }

    /// Who is drawn where.
    pub const fn stage(&self) -> &Stage {
        &self.stage
    }

    /// The moments, in order, beginning at 0.
    pub fn frames(&self) -> &[Frame] {
        &self.frames
    }

    /// The orders of painting, each with how many moments one after another it serves.
    pub fn orders(&self) -> &[(Order, usize)] {
        &self.runs
    }

    /// Which of the moments is farthest from the first.
    pub fn farthest(&self) -> usize {
        self.ranks.iter().position(|rank| *rank == 1).unwrap_or(0)
    }

    /// How far a point is at most from where it is in the film, when points go straight from moment to moment.
    pub fn worst_mm(&self) -> f64 {
        self.errors_mm.last().copied().unwrap_or(0.0)
    }

    /// What is seen at one of the moments.
    pub fn scene(&self, place: usize) -> Scene {
        let mut before = 0;
        let run = self.runs.iter().find(|(_, count)| {
            before += count;
            place < before
        });
        let snapshot = &self.frames[place].snapshot;
        match run {
            Some((order, _)) => self.stage.painted(snapshot, order),
            None => Scene::default(),
        }
    }
}

/// The hand that leans on a walking stick, if one does.
fn leans(cycle: &Cycle) -> Option<Side> {
    let mut bearings = cycle.knots().map(|(at_ms, _)| cycle.bearing(at_ms));
    let on_stick = |hand: Option<Contact>| matches!(hand, Some(Contact::On(Furniture::Stick)));
    bearings.find_map(|bearing| {
        Side::BOTH
            .into_iter()
            .find(|side| on_stick(bearing.hands.of(*side)))
    })
}

/// The posture of every picture of a film.
/// What is seen at some moments, each in ms from the start.
///
/// # Errors
/// When a limb does not reach at one of them.
pub fn scenes_at(
    cycle: &Cycle,
    camera: &Camera,
    look: &Look,
    moments_ms: &[u32],
) -> Result<Vec<Scene>, Unsettled> {
    let postures: Vec<Posture> = moments_ms
        .iter()
        .map(|at_ms| posture(cycle, *at_ms))
        .collect::<Result<_, _>>()?;
    let stage = stage(cycle, camera, look, &postures);
    Ok(postures.iter().map(|one| stage.scene(one)).collect())
}

fn posture(cycle: &Cycle, at_ms: u32) -> Result<Posture, Unsettled> {
    let pose = cycle.at_ms(f64::from(at_ms))?;
    Ok(Posture::of(cycle.body(), &pose))
}

fn postures(cycle: &Cycle) -> Result<Vec<(u32, Posture)>, Unsettled> {
    let all = cycle.frames_ms();
    all.map(|at_ms| Ok((at_ms, posture(cycle, at_ms)?)))
        .collect()
}

fn stage<'a>(
    cycle: &Cycle,
    camera: &Camera,
    look: &Look,
    shown: impl IntoIterator<Item = &'a Posture>,
) -> Stage {
    let holding = Holding {
        held: *cycle.held(),
        leans: leans(cycle),
    };
    Stage::holding(cycle.body(), (cycle.room(), &holding), camera, look).with_shadow_under(shown)
}

/// Hands, feet, knees and head: by these a movement is told.
const ENDS: usize = 7;

fn ends(posture: &Posture) -> [Vector; ENDS] {
    let at = |segment| posture.frame(segment).at;
    let [left, right] = Side::BOTH;
    [
        at(Segment::Hand(left)),
        at(Segment::Hand(right)),
        at(Segment::Foot(left)),
        at(Segment::Foot(right)),
        at(Segment::Shank(left)),
        at(Segment::Shank(right)),
        at(Segment::Head),
    ]
}

/// The first picture in which the ends together are farthest from where they begin; of those at rest, where the body rests elsewhere.
fn farthest(cycle: &Cycle, postures: &[(u32, Posture)]) -> usize {
    let rests: Vec<u32> = cycle
        .knots()
        .filter(|(at_ms, at_rest)| *at_rest && *at_ms > 0.0)
        .map(|(at_ms, _)| libm::round(at_ms) as u32)
        .collect();
    let (at_rest, _) = farthest_of(postures, |at_ms| rests.contains(&at_ms));
    let (anywhere, _) = farthest_of(postures, |_| true);
    let sum = |place: usize| {
        postures
            .get(place)
            .map_or(0.0, |(_, here)| apart_m(here, postures))
    };
    // A rest that hardly differs from the first is no end of the movement.
    if sum(at_rest) > 0.5 * sum(anywhere) {
        at_rest
    } else {
        anywhere
    }
}

/// How far all ends together are from where they begin.
fn apart_m(posture: &Posture, postures: &[(u32, Posture)]) -> f64 {
    let Some((_, first)) = postures.first() else {
        return 0.0;
    };
    let ways = ends(posture).into_iter().zip(ends(first));
    ways.map(|(here, there)| here.distance(there)).sum()
}

fn farthest_of(postures: &[(u32, Posture)], counts: impl Fn(u32) -> bool) -> (usize, f64) {
    /// A later picture counts only when it is this much farther.
    const MORE_M: f64 = 0.005;
    let mut best = (0, 0.0);
    for (place, (at_ms, posture)) in postures.iter().enumerate() {
        let sum = apart_m(posture, postures);
        if counts(*at_ms) && sum > best.1 + MORE_M {
            best = (place, sum);
        }
    }
    best
}

/// The pictures that are kept, the most telling first: the first, the farthest, and always the one that is worst told by those before.
struct Kept {
    pictures: Vec<usize>,
    errors_mm: Vec<f64>,
}

impl Kept {
    fn of(all: &[Frame], farthest: usize, most: usize) -> Self {
        /// What nobody sees.
        const GOOD_MM: f64 = 1.5;
        let points: Vec<[Point; POINTS]> =
            all.iter().map(|frame| frame.snapshot.points()).collect();
        let mut pictures = vec![0, farthest];
        pictures.dedup();
        let mut sorted = pictures.clone();
        let mut errors_mm = vec![f64::INFINITY; sorted.len() - 1];
        let mut worst: Vec<(f64, usize)> = (0..sorted.len())
            .map(|place| worst_between(&points, &sorted, place))
            .collect();
        loop {
            let ways = worst.iter().copied().enumerate();
            let (place, (error_mm, picture)) =
                ways.fold(
                    (0, (0.0, 0)),
                    |best, one| {
                        if one.1.0 > best.1.0 { one } else { best }
                    },
                );
            errors_mm.push(error_mm);
            if error_mm < GOOD_MM || sorted.len() >= most {
                return Self {
                    pictures,
                    errors_mm,
                };
            }
            pictures.push(picture);
            sorted.insert(place + 1, picture);
            worst[place] = worst_between(&points, &sorted, place);
            worst.insert(place + 1, worst_between(&points, &sorted, place + 1));
        }
    }
}

/// The picture between a kept one and the next that straight ways tell worst, and by how much.
fn worst_between(points: &[[Point; POINTS]], kept: &[usize], place: usize) -> (f64, usize) {
    let from = kept[place];
    let to = kept.get(place + 1).copied().unwrap_or(points.len());
    let (start, end) = (&points[from], &points[to % points.len()]);
    let mut worst = (0.0, from);
    for (picture, seen) in points.iter().enumerate().take(to).skip(from + 1) {
        let share = (picture - from) as f64 / (to - from) as f64;
        let off = |point: usize| {
            let straight = Point {
                x_mm: start[point].x_mm + (end[point].x_mm - start[point].x_mm) * share,
                y_mm: start[point].y_mm + (end[point].y_mm - start[point].y_mm) * share,
            };
            straight.distance_mm(seen[point])
        };
        let most = (0..POINTS).map(off).fold(0.0, f64::max);
        if most > worst.0 {
            worst = (most, picture);
        }
    }
    worst
}
