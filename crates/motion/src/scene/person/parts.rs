//! The parts of a person as hulls between points, with what the hands hold.

use super::super::{Look, Paint};
use super::{CHEST, Drawn, Holding, Item, Limb, NAPE, NECK, SEAT, Spot, WAIST, YOKE, of};
use crate::body::Side;
use crate::held::Round;

fn spot(at: u8, radius_mm: f64) -> Spot {
    between(at, at, 0.0, radius_mm)
}

const fn between(from: u8, to: u8, share: f64, radius_mm: f64) -> Spot {
    Spot::Between {
        from,
        to,
        share,
        radius_mm,
    }
}

fn drawn(item: Item, paint: Paint, hulls: Vec<Vec<Spot>>) -> Drawn {
    Drawn {
        paint,
        rim: true,
        seam: false,
        item,
        hulls,
    }
}

/// Discs along a bone by share of its length.
fn along(bone: [u8; 2], girth: f64, discs: &[(f64, f64)]) -> Vec<Spot> {
    let [from, to] = bone;
    let spots = discs
        .iter()
        .map(|&(share, radius_mm)| between(from, to, share, girth * radius_mm));
    spots.collect()
}

pub(super) fn upper_arm(side: Side, look: &Look) -> Drawn {
    let bone = [of(side, Limb::Shoulder), of(side, Limb::Elbow)];
    let cloth = along(bone, look.girth, &[(0.05, 50.0), (0.45, 51.0), (1.0, 42.0)]);
    drawn(Item::UpperArm(side), Paint::Sleeve, vec![cloth])
}

/// What a hand holds lies behind its fingers; what is between both hands goes with the nearer one.
pub(super) fn held_in(side: Side, holding: &Holding) -> Vec<Drawn> {
    let [front, back] = [Limb::GripFront, Limb::GripBack].map(|limb| of(side, limb));
    let palm = |side, share, radius_mm| {
        between(
            of(side, Limb::GripBack),
            of(side, Limb::GripFront),
            share,
            radius_mm,
        )
    };
    let item = Item::Forearm(side);
    let mut parts = Vec::new();
    if holding.held.weight_kg.of(side) > 0.0 {
        let ends = [(front, back), (back, front)].map(|(at, other)| {
            vec![
                between(at, other, -0.12, 25.0),
                between(at, other, 0.12, 25.0),
            ]
        });
        let grip = vec![spot(front, 10.0), spot(back, 10.0)];
        parts.push(drawn(
            item,
            Paint::Held,
            ends.into_iter().chain([grip]).collect(),
        ));
    }
    if holding.leans == Some(side) {
        let stick = vec![palm(side, 0.5, 11.0), spot(of(side, Limb::Under), 9.0)];
        let handle = vec![palm(side, 0.1, 14.0), palm(side, 1.0, 12.0)];
        parts.push(drawn(item, Paint::Held, vec![stick, handle]));
    }
    let both = side == Side::Right;
    let wrist = |side| of(side, Limb::Knuckles);
    if holding.held.stick_between && both {
        let [left, right] = Side::BOTH.map(wrist);
        let stick = vec![
            between(left, right, -0.35, 11.0),
            between(left, right, 1.35, 11.0),
        ];
        parts.push(drawn(item, Paint::Held, vec![stick]));
    }
    if let Some(band) = holding.held.band.filter(|_| both) {
        let round = match band.round {
            Round::Nothing => Vec::new(),
            Round::Back => Side::BOTH.map(|side| of(side, Limb::Back)).to_vec(),
            Round::Feet => Side::BOTH.map(|side| of(side, Limb::OuterBall)).to_vec(),
        };
        let [left, right] = Side::BOTH.map(wrist);
        let line = [&[left][..], &round, &[right]].concat();
        let line = line.into_iter().map(|point| spot(point, 0.0)).collect();
        let mut band = drawn(item, Paint::Band, vec![line]);
        band.rim = false;
        parts.push(band);
    }
    parts
}

/// The hand, and the cuff that lies over the wrist.
pub(super) fn forearm(side: Side, look: &Look) -> [Drawn; 2] {
    let [elbow, wrist] = [Limb::Elbow, Limb::Wrist].map(|limb| of(side, limb));
    let [knuckles, tips] = [Limb::Knuckles, Limb::Tips].map(|limb| of(side, limb));
    let thumb = of(side, Limb::Thumb);
    let hand = vec![
        vec![spot(wrist, 25.0), spot(knuckles, 33.0)],
        vec![
            spot(knuckles, 33.0),
            between(knuckles, tips, 0.55, 29.0),
            spot(tips, 17.0),
        ],
        vec![
            between(wrist, knuckles, 0.4, 22.0),
            between(wrist, thumb, 0.62, 17.0),
        ],
        vec![between(wrist, thumb, 0.62, 17.0), spot(thumb, 12.5)],
    ];
    let cloth = along(
        [elbow, wrist],
        look.girth,
        &[(0.0, 42.0), (0.28, 43.0), (0.94, 31.0)],
    );
    [
        drawn(Item::Forearm(side), Paint::Skin, hand),
        drawn(Item::Forearm(side), Paint::Sleeve, vec![cloth]),
    ]
}

pub(super) fn thigh(side: Side, look: &Look) -> Drawn {
    let bone = [of(side, Limb::Hip), of(side, Limb::Knee)];
    let cloth = along(bone, look.girth, &[(0.0, 87.0), (0.42, 79.0), (1.0, 56.0)]);
    drawn(Item::Thigh(side), Paint::Leg, vec![cloth])
}

/// The shoe, and the trouser leg over it; heel to ball, and ball to toes, so that the shoe bends where the foot does.
pub(super) fn shank(side: Side, look: &Look) -> [Drawn; 2] {
    let at = |limb| of(side, limb);
    let ball = [
        spot(at(Limb::OuterBall), 27.0),
        spot(at(Limb::InnerBall), 27.0),
    ];
    let shoe = [
        [
            &[spot(at(Limb::Heel), 36.0), spot(at(Limb::Instep), 43.0)][..],
            &ball,
        ]
        .concat(),
        [&ball[..], &[spot(at(Limb::Toes), 26.0)]].concat(),
    ];
    let girth = look.girth;
    let cloth = vec![
        spot(at(Limb::Knee), girth * 56.0),
        spot(at(Limb::Calf), girth * 56.0),
        between(at(Limb::Knee), at(Limb::Ankle), 0.94, girth * 41.0),
    ];
    [
        drawn(Item::Shank(side), Paint::Shoe, shoe.into()),
        drawn(Item::Shank(side), Paint::Leg, vec![cloth]),
    ]
}

pub(super) fn neck() -> Drawn {
    let hull = vec![spot(NAPE, 54.0), spot(NECK, 46.0)];
    drawn(Item::Neck, Paint::Skin, vec![hull])
}

pub(super) fn trunk(look: &Look) -> Drawn {
    let pair = |at: u8, radius_mm: f64| [0, 1].map(|side| spot(at + side, radius_mm));
    let shoulders = pair(YOKE, 47.0);
    let chest = pair(CHEST, 88.0 * (0.5 + 0.5 * look.waist));
    let belly = pair(WAIST, 88.0 * look.waist);
    let seat = pair(SEAT, 92.0 * (0.4 + 0.6 * look.waist));
    let hulls = vec![
        [&shoulders[..], &[spot(NAPE, 50.0)], &chest].concat(),
        [chest, belly].concat(),
        [belly, seat].concat(),
    ];
    drawn(Item::Trunk, Paint::Trunk, hulls)
}

/// Covers the rim between two bones round their joint.
pub(super) fn patch(item: Item, paint: Paint, points: [u8; 3], radii: [f64; 3]) -> Drawn {
    /// How far along either bone.
    const REACH: f64 = 0.3;
    /// What it stays inside of the limb by.
    const INSIDE_MM: f64 = 1.0;
    let [start, joint, end] = points;
    let [thick, middle, thin] = radii;
    let middle_spot = spot(joint, middle - INSIDE_MM);
    let far = |to, radius: f64| {
        between(
            joint,
            to,
            REACH,
            middle + (radius - middle) * REACH - INSIDE_MM,
        )
    };
    Drawn {
        paint,
        rim: false,
        seam: true,
        item,
        hulls: vec![
            vec![middle_spot, far(start, thick)],
            vec![middle_spot, far(end, thin)],
        ],
    }
}
