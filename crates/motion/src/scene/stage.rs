//! A stage: one person in one room before one camera, ready to draw posture after posture.

use super::backdrop::Backdrop;
use super::furniture::{self, Piece, Shape};
use super::order::{Before, Order, partner};
use super::person::{self, Blueprint, HEAD, Holding, Item, POINTS, far_side};
use super::{Camera, Disc, Lens, Look, Paint, Point, Scene, Seen, head};
use crate::body::{Body, Side};
use crate::posture::Posture;
use crate::room::Room;
use crate::space::Vector;

/// One person in one room before one camera.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    room: Room,
    holding: Holding,
    look: Look,
    lens: Lens,
    /// Stature over the one at which radii are given.
    scale: f64,
    blueprint: Blueprint,
    /// Which parts of the blueprint each item has, in the order of [`Item::ALL`], then its patch.
    items: [Vec<u16>; Item::COUNT],
    patches: [Option<u16>; Item::COUNT],
    pieces: Vec<Piece>,
    backdrops: Vec<Backdrop>,
    furniture: Before,
    shadow: Option<[Vec<Disc>; 2]>,
}

/// Where the points of a body fall, and what lies before what.
#[derive(Clone, Debug, PartialEq)]
pub struct Snapshot {
    points: [Seen; POINTS],
    before: Before,
    under: Option<[Vec<Disc>; 2]>,
}

impl Snapshot {
    /// The points on the paper, in the order that a blueprint numbers them.
    pub fn points(&self) -> [Point; POINTS] {
        self.points.map(Seen::on_paper)
    }

    /// The side of the body that is far, if one is.
    pub fn far_side(&self) -> Option<Side> {
        far_side(&self.points)
    }
}

impl Stage {
    /// A person of this look and this body's stature in a room.
    pub fn of(body: &Body, room: &Room, camera: &Camera, look: &Look) -> Self {
        Self::holding(body, (room, &Holding::NOTHING), camera, look)
    }

    /// Likewise, with what the hands hold.
    pub fn holding(
        body: &Body,
        (room, holding): (&Room, &Holding),
        camera: &Camera,
        look: &Look,
    ) -> Self {
        let lens = Lens::of(camera);
        let blueprint = Blueprint::of(look, holding);
        let pieces = furniture::pieces(body, room, &lens);
        let backdrops: Vec<Backdrop> = pieces
            .iter()
            .map(|piece| Backdrop::of(&piece.shape))
            .collect();
        let of_item = |item: Item, patch: bool| {
            let parts = blueprint.parts.iter().enumerate();
            parts
                .filter(move |(_, part)| part.item == item && part.seam == patch)
                .map(|(place, _)| place as u16)
        };
        Self {
            room: *room,
            holding: *holding,
            look: *look,
            scale: body.stature_m() / person::DRAWN_AT_M,
            items: Item::ALL.map(|item| of_item(item, false).collect()),
            patches: Item::ALL.map(|item| of_item(item, true).next()),
            furniture: Before::of_furniture(&backdrops),
            lens,
            blueprint,
            pieces,
            backdrops,
            shadow: None,
        }
    }

    /// The same with one shadow under all these postures, instead of one that follows the feet.
    pub fn with_shadow_under<'a>(
        mut self,
        postures: impl IntoIterator<Item = &'a Posture>,
    ) -> Self {
        let under: Vec<Vector> = postures
            .into_iter()
            .flat_map(|posture| furniture::under(posture, &self.room))
            .collect();
        self.shadow = Some(furniture::shadow(&under, &self.lens));
        self
    }

    /// What the person is drawn from.
    pub const fn blueprint(&self) -> &Blueprint {
        &self.blueprint
    }

    /// Stature over the one at which radii are given.
    pub const fn scale(&self) -> f64 {
        self.scale
    }

    /// Where everything of a posture falls.
    pub fn snapshot(&self, posture: &Posture) -> Snapshot {
        let points = person::points(posture, (&self.room, &self.holding), &self.look, &self.lens);
        let under = match &self.shadow {
            Some(_) => None,
            None => Some(furniture::shadow(
                &furniture::under(posture, &self.room),
                &self.lens,
            )),
        };
        Snapshot {
            before: self
                .furniture
                .with_person(&points, self.scale, &self.backdrops),
            points,
            under,
        }
    }

    /// What is seen of a posture.
    pub fn scene(&self, posture: &Posture) -> Scene {
        let snapshot = self.snapshot(posture);
        self.painted(&snapshot, &snapshot.before.order())
    }

    /// Orders that serve pictures one after another: each with how many it serves, as few as can be.
    pub fn orders<'a>(
        &self,
        snapshots: impl IntoIterator<Item = &'a Snapshot>,
    ) -> Vec<(Order, usize)> {
        let mut runs: Vec<(Before, usize)> = Vec::new();
        for snapshot in snapshots {
            let before = snapshot.before.without_rings();
            let joined = runs.last().and_then(|(run, _)| run.and(&before));
            match (runs.last_mut(), joined) {
                (Some((run, count)), Some(joined)) => {
                    *run = joined;
                    *count += 1;
                }
                _ => runs.push((before, 1)),
            }
        }
        runs.into_iter()
            .map(|(before, count)| (before.order(), count))
            .collect()
    }

    /// The numbers of all parts from far to near in an order, as the snapshot shows them; shadows have none.
    pub fn pieces(&self, snapshot: &Snapshot, order: &Order) -> Vec<u16> {
        let mut pieces = Vec::with_capacity(48);
        let mut painted = 0_u64;
        for thing in order.things() {
            let thing = *thing as usize;
            painted |= 1 << thing;
            let Some(item) = Item::ALL.get(thing) else {
                pieces.push((self.blueprint.parts.len() + thing - Item::COUNT) as u16);
                continue;
            };
            let parts = &self.items[thing];
            if *item == Item::Head {
                let seen = self.head_order(snapshot).into_iter().flatten();
                pieces.extend(seen.map(|place| parts[place]));
            } else {
                pieces.extend(parts);
            }
            // The patch over a joint follows the later of its two bones.
            for (place, joint) in Item::ALL.iter().enumerate() {
                let pair = partner(*joint).map(|other| (1_u64 << place) | (1 << other.index()));
                let now =
                    pair.is_some_and(|pair| pair & painted == pair && pair & (1 << thing) != 0);
                if let Some(patch) = self.patches[place].filter(|_| now) {
                    pieces.push(patch);
                }
            }
        }
        pieces
    }

    fn head_order(&self, snapshot: &Snapshot) -> [Option<usize>; 7] {
        let [middle, forward, left, _] =
            core::array::from_fn(|place| snapshot.points[HEAD as usize + place].near_mm);
        let length_mm = 100.0 * self.scale;
        head::order((forward - middle) / length_mm, (left - middle) / length_mm)
    }

    /// The paint of a part of the person.
    pub fn paint(&self, piece: u16, far_side: Option<Side>) -> Paint {
        let part = &self.blueprint.parts[usize::from(piece)];
        if part.item.side().is_some() && part.item.side() == far_side {
            part.paint.far()
        } else {
            part.paint
        }
    }

    /// A snapshot painted in an order.
    pub fn painted(&self, snapshot: &Snapshot, order: &Order) -> Scene {
        let mut scene = Scene::default();
        let shadows = self.shadow.as_ref().or(snapshot.under.as_ref());
        let number = (self.blueprint.parts.len() + self.pieces.len()) as u16;
        for (place, paint) in [Paint::SoftShadow, Paint::Shadow].into_iter().enumerate() {
            scene.start_part(paint, number + place as u16);
            if let Some(shadows) = shadows {
                scene.add_hull(shadows[place].iter().copied());
            }
        }
        let far_side = snapshot.far_side();
        for piece in self.pieces(snapshot, order) {
            match self.blueprint.parts.get(usize::from(piece)) {
                Some(part) if !part.hulls.is_empty() => {
                    scene.start_part(self.paint(piece, far_side), piece);
                    if let Some(started) = scene.parts.last_mut() {
                        started.person = true;
                        started.rim = part.rim;
                        started.seam = part.seam;
                    }
                    for hull in &part.hulls {
                        scene.add_hull(hull.iter().map(|spot| {
                            let (at, radius_mm) = spot.seen(&snapshot.points, self.scale);
                            Disc {
                                at: at.on_paper(),
                                radius_mm,
                            }
                        }));
                    }
                }
                Some(_) => {}
                None => {
                    let furniture = &self.pieces[usize::from(piece) - self.blueprint.parts.len()];
                    match furniture.shape {
                        Shape::Face(corners) => {
                            scene.start_part(furniture.paint, piece);
                            scene.add_hull(corners.map(|at| corner(at, 0.0)));
                        }
                        Shape::Solid(faces) => {
                            let paints = [Paint::ShadedCloth, Paint::DarkCloth, furniture.paint];
                            for (face, paint) in faces.into_iter().zip(paints) {
                                scene.start_part(paint, piece);
                                scene.add_hull(face.map(|at| corner(at, 0.0)));
                            }
                        }
                        Shape::Post(ends, radius_mm) => {
                            scene.start_part(furniture.paint, piece);
                            scene.add_hull(ends.map(|at| corner(at, radius_mm)));
                        }
                    }
                }
            }
        }
        scene
    }
}

const fn corner(at: Seen, radius_mm: f64) -> Disc {
    Disc {
        at: at.on_paper(),
        radius_mm,
    }
}
