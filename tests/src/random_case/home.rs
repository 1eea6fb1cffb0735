//! The home with its places, and what the person wants and has.

use super::draw::{Draw, Kind};
use rehab::assessment::{Case, Place, PlaceKind, Prop, Screen};

const NAMES: &[(&str, PlaceKind, f64)] = &[
    ("armchair", PlaceKind::Chair, 0.95),
    ("kitchen chair", PlaceKind::Chair, 0.6),
    ("worktop", PlaceKind::Worktop, 0.75),
    ("the wall by the door", PlaceKind::Wall, 0.6),
    ("bottom stair", PlaceKind::Step, 0.45),
    ("stairs", PlaceKind::Stairs, 0.4),
    ("hall", PlaceKind::Path, 0.65),
    ("rug", PlaceKind::Floor, 0.5),
];

pub(super) fn draw(draw: &mut Draw, kind: Kind, case: &mut Case) {
    let home = &mut case.home;
    let (alone, telephone) = (draw.chance(0.55), draw.chance(0.985));
    home.alone_when_exercising = draw.known(kind.thorough, alone);
    home.telephone = draw.known(kind.thorough, telephone);
    for screen in Screen::ALL {
        if draw.chance(0.5) {
            home.screens.push(*screen);
        }
    }
    for prop in Prop::ALL {
        if draw.chance(0.3) {
            home.props.push(*prop);
        }
    }
    for (name, what, often) in NAMES {
        if draw.chance(*often) {
            home.places.push(place(draw, kind, name, *what));
        }
    }
    wishes(draw, kind, case);
}

fn place(draw: &mut Draw, kind: Kind, name: &str, what: PlaceKind) -> Place {
    let chair = what == PlaceKind::Chair;
    let stepped = matches!(what, PlaceKind::Step | PlaceKind::Stairs);
    let (seat, arms) = (draw.number(38.0, 55.0, 1.0), draw.chance(0.6));
    let (height, rail) = (draw.number(10.0, 21.0, 0.5), draw.chance(0.7));
    let way = draw.number(1.0, 9.0, 0.5);
    Place {
        name: name.to_owned(),
        kind: what,
        seat_cm: if chair {
            draw.known(kind.thorough, seat)
        } else {
            None
        },
        arms: if chair {
            draw.known(kind.thorough, arms)
        } else {
            None
        },
        height_cm: if stepped {
            draw.known(kind.thorough, height)
        } else {
            None
        },
        rail: if stepped {
            draw.known(kind.thorough, rail)
        } else {
            None
        },
        metres_to_next: draw.known(0.7 * kind.thorough, way),
    }
}

const LIKED: &[&str] = &[
    "walking", "arms", "chair", "dance", "step", "marching", "legs", "strength",
];

fn wishes(draw: &mut Draw, kind: Kind, case: &mut Case) {
    let wishes = &mut case.wishes;
    for family in LIKED {
        match draw.whole(0, 9) {
            0..=1 => wishes.likes.push((*family).to_owned()),
            2 => wishes.dislikes.push((*family).to_owned()),
            _ => {}
        }
    }
    let times = draw.whole(2, 5).unsigned_abs() as u8;
    wishes.sessions_per_week = draw.known(kind.thorough, times);
    if draw.chance(0.5) {
        let grams = draw.pick(&[415.0, 500.0, 1000.0]);
        wishes.weights_g = vec![grams, grams];
    }
    wishes.goal = draw.known(kind.thorough, "Walk to the bus stop and back".to_owned());
    let counts = draw.chance(0.4);
    wishes.pulse_counting = draw.known(kind.thorough, counts);
}
