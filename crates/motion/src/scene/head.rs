//! The head: skull, face, hair, ears and spectacles as hulls about its middle, so that it may be seen from anywhere.
//!
//! Faces have a nose and no expression. Every place is ours, in millimetres: forwards, left, up.

use super::Paint;
use super::look::{Hair, Look};
use super::person::{Drawn, Item, Spot};

/// From the middle of the head to its crown.
pub(super) const CROWN_MM: f64 = 116.0;

/// What of a head a part is; they are painted in an order that depends on where the face looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Feature {
    Back,
    Hair,
    Face,
    Nose,
    LeftEar,
    RightEar,
    Spectacles,
}

impl Feature {
    const ALL: [Self; 7] = [
        Self::Back,
        Self::Hair,
        Self::Face,
        Self::Nose,
        Self::LeftEar,
        Self::RightEar,
        Self::Spectacles,
    ];
}

/// All parts of a head, in the order of [`Feature::ALL`].
pub(super) fn parts(look: &Look) -> Vec<Drawn> {
    let part = |feature| {
        let (paint, hulls) = match feature {
            Feature::Back => back(look),
            Feature::Hair => (Paint::Hair, hair(look.hair)),
            Feature::Face => (Paint::Skin, face()),
            Feature::Nose => (Paint::Nose, nose()),
            Feature::LeftEar => (Paint::Skin, ear(1.0)),
            Feature::RightEar => (Paint::Skin, ear(-1.0)),
            Feature::Spectacles => (Paint::Line, spectacles(look)),
        };
        Drawn {
            paint,
            rim: match feature {
                Feature::Nose | Feature::Spectacles => false,
                // A bald skull and its face are one.
                Feature::Face => look.hair != Hair::Crown,
                _ => true,
            },
            seam: false,
            item: Item::Head,
            hulls,
        }
    };
    Feature::ALL.map(part).into()
}

/// The features that are seen, from far to near: `facing` is 1 when the face looks at the viewer and -1 when it looks away, `left` is 1
/// when the left ear does.
pub(super) fn order(facing: f64, left: f64) -> [Option<usize>; 7] {
    const TURNED_AWAY: f64 = -0.3;
    let at = |feature: Feature| Some(feature as usize);
    let (near_ear, far_ear) = if left > 0.0 {
        (Feature::LeftEar, Feature::RightEar)
    } else {
        (Feature::RightEar, Feature::LeftEar)
    };
    let spectacles = at(Feature::Spectacles).filter(|_| facing > -0.1);
    let nose = at(Feature::Nose).filter(|_| facing > 0.6);
    // An ear is covered by the head when it looks away, and both are seen at the rims from the front.
    let near_ear = at(near_ear);
    let far_ear = at(far_ear).filter(|_| left.abs() < 0.4);
    let [back, hair, face] = [Feature::Back, Feature::Hair, Feature::Face].map(at);
    if facing > TURNED_AWAY {
        [far_ear, back, hair, face, nose, near_ear, spectacles]
    } else {
        [far_ear, face, near_ear, back, hair, None, None]
    }
}

const fn spot(at_mm: [f64; 3], radius_mm: f64) -> Spot {
    Spot::Head { at_mm, radius_mm }
}

fn pair(x: f64, y: f64, z: f64, radius_mm: f64) -> [Spot; 2] {
    [-y, y].map(|y| spot([x, y, z], radius_mm))
}

/// What shows behind: the bald skull, or a bun.
fn back(look: &Look) -> (Paint, Vec<Vec<Spot>>) {
    match look.hair {
        Hair::Crown => (
            Paint::Skin,
            vec![vec![
                spot([-10.0, 0.0, 32.0], 82.0),
                spot([-34.0, 0.0, 14.0], 66.0),
            ]],
        ),
        Hair::Bun => (Paint::Hair, vec![vec![spot([-104.0, 0.0, 22.0], 36.0)]]),
        Hair::Short | Hair::Curls => (Paint::Hair, vec![vec![spot([-52.0, 0.0, -40.0], 32.0)]]),
    }
}

fn face() -> Vec<Vec<Spot>> {
    let brow = pair(20.0, 27.0, 38.0, 43.0);
    let cheeks = pair(26.0, 29.0, -6.0, 38.0);
    let jaw = pair(2.0, 36.0, -46.0, 24.0);
    let chin = [spot([50.0, 0.0, -72.0], 21.0)];
    let front = [&brow[..], &cheeks, &jaw, &chin].concat();
    let nose = vec![
        spot([58.0, 0.0, 18.0], 8.0),
        spot([82.0, 0.0, -16.0], 9.0),
        spot([62.0, 0.0, -26.0], 9.0),
    ];
    vec![front, nose]
}

/// The ridge and the tip, as a line that tells where a face looks.
fn nose() -> Vec<Vec<Spot>> {
    let line = [[76.0, 0.0, 6.0], [88.0, 0.0, -20.0], [74.0, 8.0, -26.0]];
    vec![line.map(|at| spot(at, 0.0)).into()]
}

fn ear(side: f64) -> Vec<Vec<Spot>> {
    vec![vec![
        spot([-22.0, 70.0 * side, 2.0], 15.0),
        spot([-16.0, 68.0 * side, -20.0], 10.0),
    ]]
}

fn hair(hair: Hair) -> Vec<Vec<Spot>> {
    let cap = |front: f64| {
        let mut cap = vec![
            spot([-14.0, 0.0, 34.0], 84.0),
            spot([-30.0, 0.0, 6.0], 70.0),
            spot([-50.0, 0.0, -30.0], 38.0),
        ];
        cap.extend(pair(front, 24.0, 66.0, 38.0));
        cap
    };
    match hair {
        Hair::Short => vec![cap(24.0)],
        // Drawn back over the ears to the bun.
        Hair::Bun => vec![
            cap(20.0),
            [pair(-18.0, 58.0, 6.0, 22.0), pair(-70.0, 10.0, 20.0, 40.0)].concat(),
        ],
        Hair::Curls => curls(),
        Hair::Crown => vec![
            [
                &[
                    spot([-58.0, 0.0, 2.0], 42.0),
                    spot([-54.0, 0.0, -34.0], 30.0),
                ][..],
                &pair(-22.0, 62.0, 8.0, 18.0),
                &pair(-26.0, 58.0, -22.0, 14.0),
            ]
            .concat(),
        ],
    }
}

/// A core with curls all round.
fn curls() -> Vec<Vec<Spot>> {
    let mut hulls = vec![vec![
        spot([-16.0, 0.0, 34.0], 82.0),
        spot([-34.0, 0.0, 0.0], 72.0),
    ]];
    let mut curl = |x, z, radius| hulls.push(vec![spot([x, 0.0, z], radius)]);
    curl(34.0, 88.0, 32.0);
    curl(-8.0, 104.0, 32.0);
    curl(-52.0, 90.0, 33.0);
    curl(-88.0, 54.0, 33.0);
    curl(-100.0, 10.0, 32.0);
    curl(-84.0, -32.0, 31.0);
    for (x, y, z) in [
        (-8.0, 70.0, 62.0),
        (-22.0, 80.0, 22.0),
        (-34.0, 72.0, -18.0),
        (22.0, 44.0, 84.0),
        (-48.0, 60.0, 60.0),
    ] {
        for side in pair(x, y, z, 28.0) {
            hulls.push(vec![side]);
        }
    }
    hulls
}

/// Two rims, the bridge and the two temples, as lines.
fn spectacles(look: &Look) -> Vec<Vec<Spot>> {
    if !look.spectacles {
        return Vec::new();
    }
    const CORNERS: u32 = 10;
    const PLANE_X: f64 = 72.0;
    let rim = |side: f64| {
        (0..=CORNERS)
            .map(|corner| {
                let (sin, cos) = crate::space::sin_cos_deg(
                    f64::from(corner % CORNERS) * 360.0 / f64::from(CORNERS),
                );
                spot(
                    [PLANE_X - 4.0, side * 31.0 + 23.0 * cos, 4.0 + 19.0 * sin],
                    0.0,
                )
            })
            .collect()
    };
    let temple = |side: f64| {
        vec![
            spot([PLANE_X - 4.0, side * 54.0, 8.0], 0.0),
            spot([-14.0, side * 72.0, 12.0], 0.0),
        ]
    };
    let bridge = vec![
        spot([PLANE_X, -8.0, 8.0], 0.0),
        spot([PLANE_X, 8.0, 8.0], 0.0),
    ];
    vec![rim(1.0), rim(-1.0), bridge, temple(1.0), temple(-1.0)]
}
