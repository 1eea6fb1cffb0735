//! Chair, worktop, step, bar and the shadow on the floor. What is open in life is open here, so that the person behind it is seen.
//!
//! Every size that the room does not give is ours.

use super::{Disc, Lens, Paint, Seen};
use crate::body::{Body, Segment, Side};
use crate::posture::Posture;
use crate::room::{Bar, Chair, Rail, RailOf, Room, Step, Wall, Worktop};
use crate::space::{Vector, sin_cos_deg};

/// Thickness of the seat of a chair, and of a worktop.
const SEAT_M: f64 = 0.05;
const TOP_M: f64 = 0.045;
/// How high the back of a chair rises above its seat, and how much of that is open.
const BACK_M: f64 = 0.46;
const OPEN_M: f64 = 0.15;
/// How much further back the top of the back is.
const LEAN_M: f64 = 0.05;
/// How far a worktop goes back, and to either side.
const TOP_DEPTH_M: f64 = 0.45;
const TOP_HALF_M: f64 = 0.42;
/// Half the breadth of a chair whose back is held.
const HELD_CHAIR_HALF_M: f64 = 0.21;
/// How deep the seat of such a chair is.
const HELD_CHAIR_DEPTH_M: f64 = 0.40;
/// How far a wall goes to either side, and how much of its height is drawn.
const WALL_HALF_M: f64 = 0.55;
const WALL_TOP_M: f64 = 1.75;
/// How far a rail goes back and forwards.
const RAIL_BACK_M: f64 = 0.45;
const RAIL_FRONT_M: f64 = 0.65;
/// Half the thickness of a leg.
const POST_MM: f64 = 17.0;

/// One piece as it is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Piece {
    pub(super) paint: Paint,
    pub(super) shape: Shape,
}

/// The shape of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Shape {
    /// A flat face with four corners.
    Face([Seen; 4]),
    /// The three sides of a box that are seen: to the front or back, to a side, and the top.
    Solid([[Seen; 4]; 3]),
    /// A round post from one end to the other.
    Post([Seen; 2], f64),
}

/// Everything that stands in a room, in no order.
pub(super) fn pieces(body: &Body, room: &Room, lens: &Lens) -> Vec<Piece> {
    let mut set = Set {
        lens,
        pieces: Vec::new(),
    };
    if let Some(chair) = room.chair {
        set.chair(&seat_of(body, &chair));
    }
    if let Some(worktop) = room.worktop {
        set.worktop(body, &worktop);
    }
    if let Some(step) = room.step {
        set.step(body, &step);
    }
    if let Some(bar) = room.bar {
        set.chair(&held(body, &bar));
    }
    if let Some(wall) = room.wall {
        set.wall(body, &wall);
    }
    if let Some(rail) = room.rail {
        set.rail(body, &rail);
    }
    set.pieces
}

/// A chair by where it stands.
struct Standing {
    /// Where its back is.
    back: f64,
    /// 1 when it looks forwards, -1 when it looks back.
    looks: f64,
    depth: f64,
    half: f64,
    seat: f64,
    top: f64,
    lean: f64,
    /// How high its arms are.
    arms: Option<f64>,
}

fn seat_of(body: &Body, chair: &Chair) -> Standing {
    Standing {
        back: chair.back_x * body.stature_m(),
        looks: 1.0,
        depth: chair.depth_m,
        half: chair.breadth_m / 2.0,
        seat: chair.seat_m,
        top: chair.seat_m + BACK_M,
        lean: LEAN_M,
        arms: chair.arms_m,
    }
}

/// The bar as the back of a chair that looks the way the person does, its seat on the other side.
fn held(body: &Body, bar: &Bar) -> Standing {
    Standing {
        back: bar.x * body.stature_m(),
        looks: 1.0,
        depth: HELD_CHAIR_DEPTH_M,
        half: HELD_CHAIR_HALF_M,
        seat: bar.top_m - BACK_M,
        top: bar.top_m,
        lean: 0.0,
        arms: None,
    }
}

struct Set<'a> {
    lens: &'a Lens,
    pieces: Vec<Piece>,
}

impl Set<'_> {
    /// A face that is seen from either side.
    fn face(&mut self, paint: Paint, corners: [Vector; 4]) {
        let corners = corners.map(|corner| self.lens.see(corner));
        self.pieces.push(Piece {
            paint,
            shape: Shape::Face(corners),
        });
    }

    /// A post; of two that are alike the farther one is paler.
    fn post(&mut self, ends: [Vector; 2], far: bool) {
        let paint = if far { Paint::FarWood } else { Paint::Wood };
        let ends = ends.map(|end| self.lens.see(end));
        self.pieces.push(Piece {
            paint,
            shape: Shape::Post(ends, POST_MM),
        });
    }

    /// A box.
    fn solid(&mut self, low: Vector, high: Vector) {
        let near = |direction: Vector| self.lens.see(direction).near_mm > 0.0;
        let x = if near(Vector::FORWARD) { high.x } else { low.x };
        let y = if near(Vector::LEFT) { high.y } else { low.y };
        let at = Vector::new;
        let (under, top) = (low.z, high.z);
        let sides = [
            [
                at(x, low.y, under),
                at(x, high.y, under),
                at(x, high.y, top),
                at(x, low.y, top),
            ],
            [
                at(low.x, y, under),
                at(high.x, y, under),
                at(high.x, y, top),
                at(low.x, y, top),
            ],
            [
                at(low.x, low.y, top),
                at(high.x, low.y, top),
                at(high.x, high.y, top),
                at(low.x, high.y, top),
            ],
        ];
        let sides = sides.map(|side| side.map(|corner| self.lens.see(corner)));
        self.pieces.push(Piece {
            paint: Paint::Cloth,
            shape: Shape::Solid(sides),
        });
    }

    fn is_far(&self, left: bool) -> bool {
        (self.lens.see(Vector::LEFT).near_mm < 0.0) == left
    }

    fn chair(&mut self, chair: &Standing) {
        const INSET: f64 = 0.03;
        let front = chair.back + chair.looks * chair.depth;
        let (low, high) = (chair.back.min(front), chair.back.max(front));
        let under = chair.seat - SEAT_M;
        let lean = chair.back - chair.looks * chair.lean;
        let at = Vector::new;
        for left in [true, false] {
            let y = (chair.half - INSET) * if left { 1.0 } else { -1.0 };
            let far = self.is_far(left);
            let front = front - chair.looks * INSET;
            let high = chair.arms.unwrap_or(under);
            self.post([at(front, y, 0.0), at(front, y, high)], far);
            if let Some(arms) = chair.arms {
                self.post([at(front, y, arms), at(chair.back, y, arms)], far);
            }
            self.post([at(chair.back, y, 0.0), at(lean, y, chair.top)], far);
        }
        self.solid(
            at(low, -chair.half, under),
            at(high, chair.half, chair.seat),
        );
        let y = chair.half - INSET;
        let (foot, open) = (chair.back, chair.seat + OPEN_M);
        self.face(
            Paint::ShadedCloth,
            [
                at(foot, y, open),
                at(lean, y, chair.top),
                at(lean, -y, chair.top),
                at(foot, -y, open),
            ],
        );
    }

    fn worktop(&mut self, body: &Body, worktop: &Worktop) {
        const INSET: f64 = 0.05;
        let edge = worktop.edge_x * body.stature_m();
        let (far, top) = (edge + TOP_DEPTH_M, worktop.top_m);
        let at = Vector::new;
        for left in [true, false] {
            let y = (TOP_HALF_M - INSET) * if left { 1.0 } else { -1.0 };
            let is_far = self.is_far(left);
            for x in [edge + INSET, far - INSET] {
                self.post([at(x, y, 0.0), at(x, y, top - TOP_M)], is_far);
            }
        }
        self.solid(at(edge, -TOP_HALF_M, top - TOP_M), at(far, TOP_HALF_M, top));
    }

    fn wall(&mut self, body: &Body, wall: &Wall) {
        let x = wall.x * body.stature_m();
        let (half, top) = (WALL_HALF_M, WALL_TOP_M);
        let at = |y, z| Vector::new(x, y, z);
        self.face(
            Paint::Wall,
            [at(-half, 0.0), at(half, 0.0), at(half, top), at(-half, top)],
        );
    }

    fn rail(&mut self, body: &Body, rail: &Rail) {
        let y = rail.y * body.stature_m();
        let outwards = y.signum();
        let (from, to) = (-RAIL_BACK_M, RAIL_FRONT_M);
        let at = Vector::new;
        let (sin, cos) = sin_cos_deg(rail.slope_deg);
        let top = |x: f64| rail.top_m + x * sin / cos;
        let far = self.is_far(y > 0.0);
        match rail.of {
            RailOf::Stairs => {
                self.post([at(from, y, top(from)), at(to, y, top(to))], far);
                for x in [from + 0.06, to - 0.06] {
                    let foot = (top(x) - rail.top_m).max(0.0);
                    self.post([at(x, y, foot), at(x, y, top(x))], far);
                }
            }
            RailOf::Chair => {
                let (half, deep) = (HELD_CHAIR_HALF_M, outwards * HELD_CHAIR_DEPTH_M);
                let seat = rail.top_m - BACK_M;
                for x in [-half, half] {
                    self.post([at(x, y, 0.0), at(x, y, rail.top_m)], far);
                    self.post([at(x, y + deep, 0.0), at(x, y + deep, seat - SEAT_M)], far);
                }
                let (low, high) = (y.min(y + deep), y.max(y + deep));
                self.solid(at(-half, low, seat - SEAT_M), at(half, high, seat));
                let open = seat + OPEN_M;
                self.face(
                    Paint::ShadedCloth,
                    [
                        at(-half, y, open),
                        at(half, y, open),
                        at(half, y, rail.top_m),
                        at(-half, y, rail.top_m),
                    ],
                );
            }
            RailOf::Worktop => {
                let deep = y + outwards * TOP_DEPTH_M;
                let (low, high) = (y.min(deep), y.max(deep));
                for x in [from + 0.05, to - 0.05] {
                    for y in [low + 0.05, high - 0.05] {
                        self.post([at(x, y, 0.0), at(x, y, rail.top_m - TOP_M)], far);
                    }
                }
                self.solid(at(from, low, rail.top_m - TOP_M), at(to, high, rail.top_m));
            }
            RailOf::Wall => self.face(
                Paint::Wall,
                [
                    at(from, y, 0.0),
                    at(to, y, 0.0),
                    at(to, y, WALL_TOP_M),
                    at(from, y, WALL_TOP_M),
                ],
            ),
        }
    }

    fn step(&mut self, body: &Body, step: &Step) {
        let edge = step.edge_x * body.stature_m();
        let at = Vector::new;
        self.solid(
            at(edge, -TOP_HALF_M, 0.0),
            at(edge + step.depth_m, TOP_HALF_M, step.height_m),
        );
    }
}

/// Where a shadow lies: under the feet and, where there is one, the chair.
pub(super) fn under(posture: &Posture, room: &Room) -> Vec<Vector> {
    let body = posture.body();
    let feet = Side::BOTH.map(Segment::Foot);
    let mut under: Vec<Vector> = feet
        .into_iter()
        .flat_map(|foot| [posture.frame(foot).at, posture.end(foot)])
        .collect();
    let chairs = [
        room.chair.map(|chair| seat_of(body, &chair)),
        room.bar.map(|bar| held(body, &bar)),
    ];
    for chair in chairs.into_iter().flatten() {
        let front = chair.back + chair.looks * chair.depth;
        let half = chair.half;
        under.extend(
            [
                (chair.back, half),
                (front, half),
                (chair.back, -half),
                (front, -half),
            ]
            .map(|(x, y)| Vector::new(x, y, 0.0)),
        );
    }
    under
}

/// A soft patch: an outer and an inner one, each as the corners of one hull.
pub(super) fn shadow(under: &[Vector], lens: &Lens) -> [Vec<Disc>; 2] {
    const STEPS: u32 = 16;
    let circle: Vec<(f64, f64)> = (0..STEPS)
        .map(|step| sin_cos_deg(f64::from(step) * 360.0 / f64::from(STEPS)))
        .collect();
    let ground = under.iter().map(|point| (point.x, point.y)).collect();
    let ground = hull(ground);
    [0.16, 0.10].map(|round_m: f64| {
        let corners = ground.iter().flat_map(|(x, y)| {
            let corner = move |(sin, cos): &(f64, f64)| (x + round_m * cos, y + round_m * sin);
            circle.iter().map(corner)
        });
        let at = |(x, y)| Disc {
            at: lens.see(Vector::new(x, y, 0.0)).on_paper(),
            radius_mm: 0.0,
        };
        hull(corners.collect()).into_iter().map(at).collect()
    })
}

/// The corners of the convex hull of points.
fn hull(mut points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    points.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let turn = |a: (f64, f64), b: (f64, f64), c: (f64, f64)| {
        (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
    };
    let half = |run: &mut dyn Iterator<Item = (f64, f64)>| {
        let mut kept: Vec<(f64, f64)> = Vec::new();
        for point in run {
            while kept.len() > 1 && turn(kept[kept.len() - 2], kept[kept.len() - 1], point) <= 0.0 {
                kept.pop();
            }
            kept.push(point);
        }
        kept.pop();
        kept
    };
    let mut lower = half(&mut points.iter().copied());
    lower.extend(half(&mut points.iter().rev().copied()));
    lower
}
