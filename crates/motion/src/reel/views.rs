//! From where a movement is best seen.

use super::{ENDS, ends, postures};
use crate::cycle::Cycle;
use crate::scene::{Camera, Point};
use crate::settle::Unsettled;
use crate::space::Vector;

/// From where a movement is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Views {
    /// The main picture.
    pub main: Camera,
    /// A second one, where the first hides what moves most.
    pub second: Option<Camera>,
    /// How much of its way is seen, in the better of the two, of the end that is seen least among those that move most; 0 to 1.
    pub least_seen: f64,
}

impl Views {
    /// Those that show a movement best; from the side where that is nearly as good.
    ///
    /// # Errors
    /// When a limb does not reach at some moment.
    pub fn of(cycle: &Cycle) -> Result<Self, Unsettled> {
        /// By how much another camera has to be better than the side.
        const BETTER: f64 = 0.06;
        /// Less of a way than this is hidden.
        const HIDDEN: f64 = 0.55;
        let ways = Ways::of(cycle)?;
        let best = |better_by: f64, of: &dyn Fn(&Camera) -> f64| {
            Camera::of_room(cycle.room())
                .into_iter()
                .reduce(|best, camera| {
                    if of(&camera) > of(&best) + better_by {
                        camera
                    } else {
                        best
                    }
                })
        };
        let main = best(BETTER, &|camera| ways.seen(camera)).unwrap_or(Camera::SIDE);
        let least = |cameras: &[Camera]| ways.least_seen(cameras);
        let second = best(0.0, &|camera| least(&[main, *camera]))
            .filter(|_| least(&[main]) < HIDDEN)
            .filter(|camera| least(&[main, *camera]) > least(&[main]) + BETTER);
        let cameras: Vec<Camera> = core::iter::once(main).chain(second).collect();
        Ok(Self {
            main,
            second,
            least_seen: least(&cameras),
        })
    }
}

/// The longest way of every end from where it begins.
struct Ways(Vec<[Vector; ENDS]>);

impl Ways {
    fn of(cycle: &Cycle) -> Result<Self, Unsettled> {
        let all: Vec<_> = postures(cycle)?
            .iter()
            .map(|(_, posture)| ends(posture))
            .collect();
        let first = all[0];
        let from_first = |ends: &[Vector; ENDS]| core::array::from_fn(|end| ends[end] - first[end]);
        Ok(Self(all.iter().map(from_first).collect()))
    }

    /// How far an end goes, and how far on the paper of a camera.
    fn way(&self, end: usize, camera: &Camera) -> [f64; 2] {
        let origin = Point {
            x_mm: 0.0,
            y_mm: 0.0,
        };
        self.0.iter().fold([0.0, 0.0], |[most, seen], ends| {
            let paper_m = camera.see(ends[end]).distance_mm(origin) / 1000.0;
            [most.max(ends[end].length()), seen.max(paper_m)]
        })
    }

    /// The share of all ways that is seen, long ways counting more.
    fn seen(&self, camera: &Camera) -> f64 {
        let ways = (0..ENDS).map(|end| self.way(end, camera));
        let (sum, seen) = ways.fold((1e-9, 0.0), |(sum, seen), [way, paper]| {
            (sum + way * way, seen + way * paper)
        });
        seen / sum
    }

    /// Of the ends that go at least half as far as the farthest, the least share of a way that one of the cameras shows.
    fn least_seen(&self, cameras: &[Camera]) -> f64 {
        let way = |end: usize| self.way(end, &Camera::SIDE)[0];
        let farthest = (0..ENDS).map(way).fold(1e-9, f64::max);
        let share = |end: usize| {
            let shares = cameras
                .iter()
                .map(|camera| self.way(end, camera)[1] / way(end));
            shares.fold(0.0, f64::max)
        };
        (0..ENDS)
            .filter(|end| way(*end) > farthest / 2.0)
            .map(share)
            .fold(1.0, f64::min)
    }
}
