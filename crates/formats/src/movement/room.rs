//! Rooms and what hands hold, as a movement file tells them.

use super::words::{BandRound, Beside};
use crate::shape::View;
use motion::held::{Band, Held, Round};
use motion::key::Pair;
use motion::room::{Bar, Chair, Rail, RailOf, Room, Step, Stick, Wall, Worktop};

/// Lays what a table says over a room.
pub(super) fn lay(view: &View<'_>, room: &mut Room) {
    let metres = |view: &View<'_>, key: &str| view.number(key).map(|cm| cm / 100.0);
    if let Some(view) = view.table("chair") {
        let was = room.chair.unwrap_or(Chair {
            seat_m: 0.45,
            back_x: -0.34,
            depth_m: 0.42,
            breadth_m: 0.45,
            arms_m: None,
        });
        room.chair = Some(Chair {
            seat_m: metres(&view, "seat_cm").unwrap_or(was.seat_m),
            back_x: view.number("back_x").unwrap_or(was.back_x),
            depth_m: metres(&view, "depth_cm").unwrap_or(was.depth_m),
            breadth_m: metres(&view, "breadth_cm").unwrap_or(was.breadth_m),
            arms_m: metres(&view, "arms_cm").or(was.arms_m),
        });
    }
    if let Some(view) = view.table("worktop") {
        let was = room.worktop.unwrap_or(Worktop {
            top_m: 0.90,
            edge_x: 0.16,
        });
        room.worktop = Some(Worktop {
            top_m: metres(&view, "top_cm").unwrap_or(was.top_m),
            edge_x: view.number("edge_x").unwrap_or(was.edge_x),
        });
    }
    if let Some(view) = view.table("step") {
        let was = room.step.unwrap_or(Step {
            height_m: 0.15,
            edge_x: 0.12,
            depth_m: 0.50,
        });
        room.step = Some(Step {
            height_m: metres(&view, "height_cm").unwrap_or(was.height_m),
            edge_x: view.number("edge_x").unwrap_or(was.edge_x),
            depth_m: metres(&view, "depth_cm").unwrap_or(was.depth_m),
        });
    }
    if let Some(view) = view.table("chair_back") {
        let was = room.bar.unwrap_or(Bar {
            top_m: 0.90,
            x: 0.22,
        });
        room.bar = Some(Bar {
            top_m: metres(&view, "top_cm").unwrap_or(was.top_m),
            x: view.number("x").unwrap_or(was.x),
        });
    }
    if let Some(view) = view.table("wall") {
        let was = room.wall.unwrap_or(Wall { x: 0.36 });
        room.wall = Some(Wall {
            x: view.number("x").unwrap_or(was.x),
        });
    }
    beside(view, room);
}

fn beside(view: &View<'_>, room: &mut Room) {
    if let Some(view) = view.table("rail") {
        let was = room.rail.unwrap_or(Rail {
            of: RailOf::Chair,
            y: 0.20,
            top_m: 0.90,
            slope_deg: 0.0,
        });
        room.rail = Some(Rail {
            of: view.word("of").map_or(was.of, rail_of),
            y: view.number("y").unwrap_or(was.y),
            top_m: view.number("top_cm").map_or(was.top_m, |cm| cm / 100.0),
            slope_deg: view.number("slope_deg").unwrap_or(was.slope_deg),
        });
    }
    if let Some(view) = view.table("walking_stick") {
        let was = room.stick.unwrap_or(Stick { long_m: 0.84 });
        room.stick = Some(Stick {
            long_m: view.number("long_cm").map_or(was.long_m, |cm| cm / 100.0),
        });
    }
}

const fn rail_of(word: Beside) -> RailOf {
    match word {
        Beside::Rail => RailOf::Stairs,
        Beside::Chair => RailOf::Chair,
        Beside::Worktop => RailOf::Worktop,
        Beside::Wall => RailOf::Wall,
    }
}

/// Lays what a table says over what the hands hold.
pub(super) fn hold(view: &View<'_>, held: &mut Held) {
    let kg = |key: &str| view.number(key).map(|grams| grams / 1000.0);
    held.weight_kg = Pair {
        left: kg("left_weight_g").unwrap_or(held.weight_kg.left),
        right: kg("right_weight_g").unwrap_or(held.weight_kg.right),
    };
    held.stick_between = view.flag("stick_between").unwrap_or(held.stick_between);
    if let Some(view) = view.table("band") {
        held.band = Some(Band {
            rest: view.number("rest").unwrap_or(0.5),
            round: match view.word("round") {
                Some(BandRound::Back) => Round::Back,
                Some(BandRound::Feet) => Round::Feet,
                Some(BandRound::Nothing) | None => Round::Nothing,
            },
        });
    }
}
