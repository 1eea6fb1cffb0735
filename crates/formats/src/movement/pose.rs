//! Key poses: what a file says of one is laid over what it was.

use super::words::{Ground, LiesOn};
use crate::shape::{Sink, View};
use motion::body::Side;
use motion::key::{Arm, Foot, FootOn, Hand, HandOn, Hips, Key, Leg, OwnPart, Pair, Pause, Tilt};

/// Standing upright with hanging arms: where every movement of its own begins.
pub(super) fn standing() -> Key {
    let foot = |side: Side| {
        Leg::Placed(Foot {
            x: 0.0,
            y: side.sign() * 0.055,
            on: FootOn::Floor,
            heading_deg: side.sign() * 6.0,
            pitch_deg: 0.0,
        })
    };
    Key {
        pause: Pause::Pass,
        to_next_ms: 600,
        hips: BORNE,
        tilt: Tilt::NONE,
        middle_deg: [0.0; 6],
        legs: Pair {
            left: foot(Side::Left),
            right: foot(Side::Right),
        },
        arms: Pair::both(Arm::Angles(EASY_ARM)),
        girdle: Pair::both([0.0; 2]),
    }
}

const BORNE: Hips = Hips::Borne {
    knee_deg: 6.0,
    along: 0.40,
    to_left: 0.5,
};

/// An arm that hangs a little away from the body.
const EASY_ARM: [f64; 7] = [4.0, 7.0, 0.0, 14.0, 10.0, 0.0, 0.0];

/// Lays what a table says over a key pose.
pub(super) fn lay(view: &View<'_>, key: &mut Key, sink: &mut Sink) {
    times(view, key, sink);
    hips(view, key, sink);
    let set = |target: &mut f64, value: Option<f64>| *target = value.unwrap_or(*target);
    set(&mut key.tilt.forward_deg, view.number("lean_deg"));
    set(&mut key.tilt.left_deg, view.number("lean_left_deg"));
    set(&mut key.tilt.turn_deg, view.number("turn_deg"));
    for (name, from) in [("spine_deg", 0), ("neck_deg", 3)] {
        for (place, angle_deg) in view.numbers(name).into_iter().enumerate() {
            key.middle_deg[from + place] = angle_deg;
        }
    }
    for (name, sides) in [
        ("feet", &Side::BOTH[..]),
        ("left_foot", &[Side::Left]),
        ("right_foot", &[Side::Right]),
    ] {
        let Some(table) = view.table(name) else {
            continue;
        };
        for side in sides {
            let leg = pick(&mut key.legs, *side);
            *leg = Leg::Placed(foot(&table, *leg, *side, sink));
        }
    }
    for (name, sides) in [
        ("arms", &Side::BOTH[..]),
        ("left_arm", &[Side::Left]),
        ("right_arm", &[Side::Right]),
    ] {
        let Some(table) = view.table(name) else {
            continue;
        };
        for side in sides {
            let was = pick(&mut key.arms, *side);
            *was = arm(&table, *was, sink);
        }
    }
    for (name, sides) in [
        ("shoulders_deg", &Side::BOTH[..]),
        ("left_shoulder_deg", &[Side::Left]),
        ("right_shoulder_deg", &[Side::Right]),
    ] {
        if let [up_deg, forward_deg] = view.numbers(name)[..] {
            for side in sides {
                *pick(&mut key.girdle, *side) = [up_deg, forward_deg];
            }
        }
    }
}

fn pick<T>(pair: &mut Pair<T>, side: Side) -> &mut T {
    match side {
        Side::Left => &mut pair.left,
        Side::Right => &mut pair.right,
    }
}

fn times(view: &View<'_>, key: &mut Key, sink: &mut Sink) {
    if view.flag("pass") == Some(true) {
        if view.has("hold_ms") {
            let message = "a key pose either rests or is passed; keep one of the two";
            sink.say(&view.place("pass"), view.line_of("pass"), message);
        }
        key.pause = Pause::Pass;
    }
    if let Some(ms) = view.whole("hold_ms") {
        key.pause = Pause::Hold { ms };
    }
    key.to_next_ms = view.whole("to_next_ms").unwrap_or(key.to_next_ms);
}

fn hips(view: &View<'_>, key: &mut Key, sink: &mut Sink) {
    let borne = ["weight_along", "weight_left"].map(|name| view.number(name));
    let knee = view.number("knee_deg");
    let stands = borne.iter().any(Option::is_some);
    if view.has("seat_x") && (stands || knee.is_some() || view.has("body_lean_deg")) {
        let message = "the seat bears the hips here; knee_deg, weight_along, weight_left and body_lean_deg belong to standing";
        sink.say(&view.place("seat_x"), view.line_of("seat_x"), message);
    }
    if let Some(x) = view.number("seat_x") {
        key.hips = Hips::Seated { x };
    } else if let Some(lean_deg) = view.number("body_lean_deg") {
        let was = match key.hips {
            Hips::Borne { knee_deg, .. } | Hips::Leaning { knee_deg, .. } => knee_deg,
            Hips::Seated { .. } => 4.0,
        };
        key.hips = Hips::Leaning {
            knee_deg: knee.unwrap_or(was),
            forward_deg: lean_deg,
        };
    } else if stands || knee.is_some() {
        let was = if matches!(key.hips, Hips::Seated { .. }) || stands && !is_borne(key.hips) {
            BORNE
        } else {
            key.hips
        };
        key.hips = match was {
            Hips::Leaning {
                knee_deg,
                forward_deg,
            } => Hips::Leaning {
                knee_deg: knee.unwrap_or(knee_deg),
                forward_deg,
            },
            Hips::Borne {
                knee_deg,
                along,
                to_left,
            } => Hips::Borne {
                knee_deg: knee.unwrap_or(knee_deg),
                along: borne[0].unwrap_or(along),
                to_left: borne[1].unwrap_or(to_left),
            },
            seated @ Hips::Seated { .. } => seated,
        };
    }
}

const fn is_borne(hips: Hips) -> bool {
    matches!(hips, Hips::Borne { .. })
}

fn foot(view: &View<'_>, was: Leg, side: Side, sink: &mut Sink) -> Foot {
    let Leg::Placed(mut foot) = was else {
        // No file tells the angles of a leg.
        return Foot {
            x: 0.0,
            y: side.sign() * 0.055,
            on: FootOn::Floor,
            heading_deg: 0.0,
            pitch_deg: 0.0,
        };
    };
    foot.x = view.number("x").unwrap_or(foot.x);
    foot.y = view.number("out").map_or(foot.y, |out| side.sign() * out);
    foot.heading_deg = view
        .number("heading_deg")
        .map_or(foot.heading_deg, |out_deg| side.sign() * out_deg);
    foot.pitch_deg = view.number("pitch_deg").unwrap_or(foot.pitch_deg);
    let lift = view.number("lift");
    match (view.word::<Ground>("on"), lift) {
        (Some(Ground::Floor), None) => foot.on = FootOn::Floor,
        (Some(Ground::Step), None) => foot.on = FootOn::Step,
        (Some(Ground::Air) | None, Some(lift)) => foot.on = FootOn::Air { lift },
        (Some(Ground::Air), None) => {
            let message = "a foot in the air needs 'lift', how high it is; add it";
            sink.say(&view.place("on"), view.line_of("on"), message);
        }
        (Some(_), Some(_)) => {
            let message = "a foot that stands has no 'lift'; remove it, or write on = \"air\"";
            sink.say(&view.place("lift"), view.line_of("lift"), message);
        }
        (None, None) => {}
    }
    foot
}

/// The keys of angles, in the order of the angles of an arm.
pub(super) const ANGLES: [&str; 7] = [
    "forward_deg",
    "out_deg",
    "turn_deg",
    "elbow_deg",
    "thumb_in_deg",
    "wrist_deg",
    "wrist_thumb_deg",
];

fn arm(view: &View<'_>, was: Arm, sink: &mut Sink) -> Arm {
    let told = ANGLES.map(|name| view.number(name));
    let is_free = told.iter().any(Option::is_some);
    let Some(on) = view.word::<LiesOn>("on") else {
        for name in ["x", "height", "along", "out", "inward_deg"] {
            if view.has(name) && !matches!(was, Arm::Placed(_)) {
                let message = "this says where a hand lies, and nothing says on what; add 'on'";
                sink.say(&view.place(name), view.line_of(name), message);
            }
        }
        if let (Arm::Placed(hand), false) = (was, is_free) {
            return Arm::Placed(placed(view, hand));
        }
        let was = match was {
            Arm::Angles(angles) => angles,
            Arm::Placed(_) => EASY_ARM,
        };
        return Arm::Angles(core::array::from_fn(|place| {
            told[place].unwrap_or(was[place])
        }));
    };
    if is_free {
        let message =
            "an arm has either a hand that lies on something or angles; keep one of the two";
        sink.say(&view.place("on"), view.line_of("on"), message);
    }
    let (on, out) = begins(on);
    let hand = Hand {
        on,
        out,
        inward_deg: 0.0,
    };
    Arm::Placed(placed(view, hand))
}

/// Where a hand lies on something unless it is told otherwise.
fn begins(on: LiesOn) -> (HandOn, f64) {
    let own = |part| (HandOn::Own(part), 0.0);
    match on {
        LiesOn::ChairBack => (HandOn::Bar, 0.10),
        LiesOn::Worktop => (HandOn::Worktop { x: 0.2 }, 0.12),
        LiesOn::Seat => (HandOn::Seat { x: -0.22 }, 0.0),
        LiesOn::ArmRest => (HandOn::ArmRest { x: -0.08 }, 0.15),
        LiesOn::Wall => (HandOn::Wall { height: 0.85 }, 0.14),
        LiesOn::Rail => (HandOn::Rail { x: 0.08 }, 0.0),
        LiesOn::Stick => (HandOn::Stick { x: 0.08 }, 0.17),
        LiesOn::Thigh => own(OwnPart::Thigh { along: 0.62 }),
        LiesOn::Belly => own(OwnPart::Belly),
        LiesOn::Hip => own(OwnPart::Hip),
        LiesOn::OtherShoulder => own(OwnPart::OtherShoulder),
        LiesOn::OtherArm => own(OwnPart::OtherArm),
    }
}

fn placed(view: &View<'_>, mut hand: Hand) -> Hand {
    hand.out = view.number("out").unwrap_or(hand.out);
    hand.inward_deg = view.number("inward_deg").unwrap_or(hand.inward_deg);
    match &mut hand.on {
        HandOn::Worktop { x }
        | HandOn::Seat { x }
        | HandOn::ArmRest { x }
        | HandOn::Rail { x }
        | HandOn::Stick { x } => *x = view.number("x").unwrap_or(*x),
        HandOn::Wall { height } => *height = view.number("height").unwrap_or(*height),
        HandOn::Own(OwnPart::Thigh { along }) => {
            *along = view.number("along").unwrap_or(*along);
        }
        HandOn::Bar | HandOn::Own(_) => {}
    }
    hand
}
