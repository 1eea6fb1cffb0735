//! Movements back into a file: every value is written, nothing is derived.

use super::words::{BandRound, Beside, Ground, LiesOn};
use super::{Figure, pose::ANGLES};
use crate::shape::ClosedWord;
use crate::tree::{Content, Node, Table};
use motion::body::Side;
use motion::held::{Held, Round};
use motion::key::{Arm, Foot, FootOn, HandOn, Hips, Key, Leg, OwnPart, Pause};
use motion::room::{RailOf, Room};

pub(super) fn file(figures: &[Figure]) -> Table {
    let mut out = Table::default();
    if let Some(first) = figures.first() {
        out.put("id", &first.exercise);
    }
    out.put_list("movement", figures.iter().map(one).collect());
    out
}

fn one(figure: &Figure) -> Node {
    let mut out = Table::default();
    out.put("variant", &figure.variant);
    out.put("repetitions", f64::from(figure.repetitions));
    out.put("alternates", figure.movement.alternates);
    out.put("seen_from", figure.seen_from.word());
    let (low_m, high_m) = figure.statures_m;
    out.put_list(
        "statures_cm",
        [low_m, high_m].map(|metres| cm(metres).into()).to_vec(),
    );
    out.put("room", room(&figure.movement.room));
    out.put("held", held(&figure.movement.held));
    out.put_list("pose", figure.movement.keys.iter().map(key).collect());
    out.into()
}

/// Hundredths without what rounding adds.
fn cm(metres: f64) -> f64 {
    libm::round(metres * 1e9) / 1e7
}

fn room(room: &Room) -> Table {
    let mut out = Table::default();
    let table = |entries: &[(&str, Option<f64>)]| {
        let mut out = Table::default();
        for (key, value) in entries {
            out.put_known(key, *value);
        }
        out
    };
    if let Some(chair) = room.chair {
        let entries = [
            ("seat_cm", Some(cm(chair.seat_m))),
            ("back_x", Some(chair.back_x)),
            ("depth_cm", Some(cm(chair.depth_m))),
            ("breadth_cm", Some(cm(chair.breadth_m))),
            ("arms_cm", chair.arms_m.map(cm)),
        ];
        out.put("chair", table(&entries));
    }
    if let Some(worktop) = room.worktop {
        let entries = [
            ("top_cm", Some(cm(worktop.top_m))),
            ("edge_x", Some(worktop.edge_x)),
        ];
        out.put("worktop", table(&entries));
    }
    if let Some(step) = room.step {
        let entries = [
            ("height_cm", Some(cm(step.height_m))),
            ("edge_x", Some(step.edge_x)),
            ("depth_cm", Some(cm(step.depth_m))),
        ];
        out.put("step", table(&entries));
    }
    if let Some(bar) = room.bar {
        let entries = [("top_cm", Some(cm(bar.top_m))), ("x", Some(bar.x))];
        out.put("chair_back", table(&entries));
    }
    if let Some(wall) = room.wall {
        out.put("wall", table(&[("x", Some(wall.x))]));
    }
    if let Some(rail) = room.rail {
        let of = match rail.of {
            RailOf::Stairs => Beside::Rail,
            RailOf::Chair => Beside::Chair,
            RailOf::Worktop => Beside::Worktop,
            RailOf::Wall => Beside::Wall,
        };
        let mut entries = table(&[
            ("y", Some(rail.y)),
            ("top_cm", Some(cm(rail.top_m))),
            ("slope_deg", Some(rail.slope_deg)),
        ]);
        entries.put("of", of.word());
        out.put("rail", entries);
    }
    if let Some(stick) = room.stick {
        out.put(
            "walking_stick",
            table(&[("long_cm", Some(cm(stick.long_m)))]),
        );
    }
    out
}

fn held(held: &Held) -> Table {
    let mut out = Table::default();
    let grams = |kg: f64| libm::round(kg * 1e7) / 1e4;
    out.put("left_weight_g", grams(held.weight_kg.left));
    out.put("right_weight_g", grams(held.weight_kg.right));
    out.put("stick_between", held.stick_between);
    if let Some(band) = held.band {
        let round = match band.round {
            Round::Nothing => BandRound::Nothing,
            Round::Back => BandRound::Back,
            Round::Feet => BandRound::Feet,
        };
        let mut table = Table::default();
        table.put("rest", band.rest);
        table.put("round", round.word());
        out.put("band", table);
    }
    out
}

fn numbers(numbers: &[f64]) -> Vec<Node> {
    numbers.iter().map(|number| (*number).into()).collect()
}

fn key(key: &Key) -> Node {
    let mut out = Table::default();
    match key.pause {
        Pause::Hold { ms } => out.put("hold_ms", f64::from(ms)),
        Pause::Pass => out.put("pass", true),
    }
    out.put("to_next_ms", f64::from(key.to_next_ms));
    match key.hips {
        Hips::Borne {
            knee_deg,
            along,
            to_left,
        } => {
            out.put("knee_deg", knee_deg);
            out.put("weight_along", along);
            out.put("weight_left", to_left);
        }
        Hips::Leaning {
            knee_deg,
            forward_deg,
        } => {
            out.put("knee_deg", knee_deg);
            out.put("body_lean_deg", forward_deg);
        }
        Hips::Seated { x } => out.put("seat_x", x),
    }
    out.put("lean_deg", key.tilt.forward_deg);
    out.put("lean_left_deg", key.tilt.left_deg);
    out.put("turn_deg", key.tilt.turn_deg);
    out.put_list("spine_deg", numbers(&key.middle_deg[..3]));
    out.put_list("neck_deg", numbers(&key.middle_deg[3..]));
    for (side, word) in [(Side::Left, "left"), (Side::Right, "right")] {
        if let Leg::Placed(placed) = key.legs.of(side) {
            out.put(&format!("{word}_foot"), foot(side, &placed));
        }
        out.put(&format!("{word}_arm"), arm(&key.arms.of(side)));
        out.put_list(
            &format!("{word}_shoulder_deg"),
            numbers(&key.girdle.of(side)),
        );
    }
    out.into()
}

fn foot(side: Side, foot: &Foot) -> Table {
    let mut out = Table::default();
    out.put("x", foot.x);
    out.put("out", side.sign() * foot.y);
    let on = match foot.on {
        FootOn::Floor => Ground::Floor,
        FootOn::Step => Ground::Step,
        FootOn::Air { lift } => {
            out.put("lift", lift);
            Ground::Air
        }
    };
    out.put("on", on.word());
    out.put("heading_deg", side.sign() * foot.heading_deg);
    out.put("pitch_deg", foot.pitch_deg);
    out
}

fn arm(arm: &Arm) -> Table {
    let mut out = Table::default();
    let hand = match arm {
        Arm::Angles(angles) => {
            for (name, angle_deg) in ANGLES.into_iter().zip(angles) {
                out.put(name, *angle_deg);
            }
            return out;
        }
        Arm::Placed(hand) => hand,
    };
    let mut at = |name: &str, value: f64| out.put(name, Content::Number(value));
    let on = match hand.on {
        HandOn::Bar => LiesOn::ChairBack,
        HandOn::Worktop { x } => {
            at("x", x);
            LiesOn::Worktop
        }
        HandOn::Seat { x } => {
            at("x", x);
            LiesOn::Seat
        }
        HandOn::ArmRest { x } => {
            at("x", x);
            LiesOn::ArmRest
        }
        HandOn::Rail { x } => {
            at("x", x);
            LiesOn::Rail
        }
        HandOn::Stick { x } => {
            at("x", x);
            LiesOn::Stick
        }
        HandOn::Wall { height } => {
            at("height", height);
            LiesOn::Wall
        }
        HandOn::Own(OwnPart::Thigh { along }) => {
            at("along", along);
            LiesOn::Thigh
        }
        HandOn::Own(OwnPart::Belly) => LiesOn::Belly,
        HandOn::Own(OwnPart::Hip) => LiesOn::Hip,
        HandOn::Own(OwnPart::OtherShoulder) => LiesOn::OtherShoulder,
        HandOn::Own(OwnPart::OtherArm) => LiesOn::OtherArm,
    };
    out.put("on", on.word());
    out.put("out", hand.out);
    out.put("inward_deg", hand.inward_deg);
    out
}
