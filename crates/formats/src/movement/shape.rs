//! The keys of a movement file.

use super::words::{BandRound, Beside, Ground, LiesOn, SeenFrom};
use crate::exercise::check_id;
use crate::shape::{Count, Field, Kind, Shape, Within, words_of};

const ID: Kind = Kind::Form {
    pattern: "^[a-z0-9]+(-[a-z0-9]+)*$",
    check: check_id,
};
const DEG: Kind = Kind::Number(Within::new(-180.0, 180.0, "degrees"));
const PLACE: Kind = Kind::Number(Within::new(-2.0, 2.0, "of stature"));
const SHARE: Kind = Kind::Number(Within::new(-1.0, 2.0, ""));
const CM: Kind = Kind::Number(Within::new(1.0, 300.0, "cm"));
const GRAMS: Kind = Kind::Number(Within::new(0.0, 10_000.0, "grams"));
const THREE: Kind = Kind::List(&DEG, Count::exactly(3));
const TWO: Kind = Kind::List(&DEG, Count::exactly(2));

/// The file as a whole.
pub static MOVEMENT: Shape = Shape {
    name: "movement-file",
    about: "How one exercise moves: key poses, contacts and timing, and its variants derived from one another; lengths in shares of stature, angles in degrees, pace and weights from the exercise",
    fields: &[
        Field::needed("id", ID, "id of the exercise and name of the file"),
        Field::new(
            "seen_from",
            Kind::Word(words_of::<SeenFrom>()),
            "from where it is best seen; the side if left out",
        ),
        Field::needed(
            "movement",
            Kind::List(&Kind::Table(&ONE), Count::some(20)),
            "how each variant moves",
        ),
    ],
    choice: None,
};

static ONE: Shape = Shape {
    name: "movement",
    about: "How one variant moves: its own key poses, or those of another one with a few things changed",
    fields: &[
        Field::needed("variant", ID, "id of the variant of the exercise"),
        Field::new(
            "like",
            Kind::Form {
                pattern: "^[a-z0-9-]+(/[a-z0-9-]+)?$",
                check: check_like,
            },
            "the variant it is derived from: one above in this file, or exercise/variant",
        ),
        Field::new(
            "repetitions",
            Kind::Whole(Within::new(1.0, 8.0, "")),
            "how many repetitions of the exercise one round of the movement is",
        ),
        Field::new(
            "alternates",
            Kind::Flag,
            "all key poses follow once more in a mirror",
        ),
        Field::new(
            "seen_from",
            Kind::Word(words_of::<SeenFrom>()),
            "from where this variant is best seen",
        ),
        Field::new(
            "statures_cm",
            Kind::Band(Within::new(100.0, 230.0, "cm")),
            "for whom the furniture stands right: from, to",
        ),
        Field::new(
            "bare",
            Kind::Flag,
            "takes nothing of the room and of what hands hold from the one it is like",
        ),
        Field::new("room", Kind::Table(&ROOM), "what stands in the room"),
        Field::new("held", Kind::Table(&HELD), "what the hands hold"),
        Field::new(
            "start",
            Kind::Table(&POSE),
            "what every key pose has unless it says otherwise",
        ),
        Field::new(
            "pose",
            Kind::List(&Kind::Table(&POSE), Count::up_to(24)),
            "the key poses in order; where it is like another one, changes of its key poses in order",
        ),
        Field::new(
            "every",
            Kind::Table(&POSE),
            "what is changed in every key pose, after all else",
        ),
        Field::new(
            "range",
            Kind::Number(Within::new(0.1, 2.0, "")),
            "how far it goes from its first key pose, as a share of what it is like",
        ),
    ],
    choice: None,
};

static ROOM: Shape = Shape {
    name: "room",
    about: "What stands in the room; sizes left out are those that are drawn everywhere",
    fields: &[
        Field::new("chair", Kind::Table(&CHAIR), "a chair behind the person"),
        Field::new(
            "worktop",
            Kind::Table(&WORKTOP),
            "a worktop before the person",
        ),
        Field::new("step", Kind::Table(&STEP), "a step before the person"),
        Field::new(
            "chair_back",
            Kind::Table(&BAR),
            "the back of a chair before the person, that looks away",
        ),
        Field::new("wall", Kind::Table(&WALL), "a wall before the person"),
        Field::new("rail", Kind::Table(&RAIL), "something to hold beside"),
        Field::new("walking_stick", Kind::Table(&STICK), "a walking stick"),
    ],
    choice: None,
};

static CHAIR: Shape = Shape {
    name: "movement-chair",
    about: "A chair",
    fields: &[
        Field::new("seat_cm", CM, "height of the seat"),
        Field::new("back_x", PLACE, "where the front of its back is"),
        Field::new("depth_cm", CM, "from its back to its front edge"),
        Field::new("breadth_cm", CM, "breadth of the seat"),
        Field::new("arms_cm", CM, "height of its arms, if it has any"),
    ],
    choice: None,
};

static WORKTOP: Shape = Shape {
    name: "movement-worktop",
    about: "A worktop",
    fields: &[
        Field::new("top_cm", CM, "height of its top"),
        Field::new("edge_x", PLACE, "where its near edge is"),
    ],
    choice: None,
};

static STEP: Shape = Shape {
    name: "movement-step",
    about: "A step",
    fields: &[
        Field::new("height_cm", CM, "how high it is"),
        Field::new("edge_x", PLACE, "where its edge is"),
        Field::new("depth_cm", CM, "from its edge to its far end"),
    ],
    choice: None,
};

static BAR: Shape = Shape {
    name: "movement-chair-back",
    about: "The back of a chair to hold",
    fields: &[
        Field::new("top_cm", CM, "height of its top"),
        Field::new("x", PLACE, "where it is"),
    ],
    choice: None,
};

static WALL: Shape = Shape {
    name: "movement-wall",
    about: "A wall",
    fields: &[Field::new("x", PLACE, "where it is")],
    choice: None,
};

static RAIL: Shape = Shape {
    name: "movement-rail",
    about: "Something to hold that runs forwards beside the person",
    fields: &[
        Field::new("of", Kind::Word(words_of::<Beside>()), "what it is"),
        Field::new("y", PLACE, "how far to the left"),
        Field::new("top_cm", CM, "height of its top"),
        Field::new("slope_deg", DEG, "how steeply it rises forwards"),
    ],
    choice: None,
};

static STICK: Shape = Shape {
    name: "movement-walking-stick",
    about: "A walking stick",
    fields: &[Field::new("long_cm", CM, "how long it is")],
    choice: None,
};

static HELD: Shape = Shape {
    name: "held",
    about: "What the hands hold; weights come from the exercise unless they are told here",
    fields: &[
        Field::new("left_weight_g", GRAMS, "weight in the left hand"),
        Field::new("right_weight_g", GRAMS, "weight in the right hand"),
        Field::new("stick_between", Kind::Flag, "a stick between the hands"),
        Field::new("band", Kind::Table(&BAND), "a band from hand to hand"),
    ],
    choice: None,
};

static BAND: Shape = Shape {
    name: "band",
    about: "A stretch band from hand to hand",
    fields: &[
        Field::needed("rest", PLACE, "how long it is at rest"),
        Field::new(
            "round",
            Kind::Word(words_of::<BandRound>()),
            "what it goes round on its way",
        ),
    ],
    choice: None,
};

/// A key pose, or what is changed of one.
pub(super) static POSE: Shape = Shape {
    name: "pose",
    about: "A key pose; what is left out is as it was",
    fields: &[
        Field::new(
            "hold_ms",
            Kind::Whole(Within::new(0.0, 20_000.0, "ms")),
            "rests here for so long; 0 is a turning point",
        ),
        Field::new("pass", Kind::Flag, "goes through without resting"),
        Field::new(
            "to_next_ms",
            Kind::Whole(Within::new(40.0, 20_000.0, "ms")),
            "how long it takes to the next",
        ),
        Field::new("seat_x", PLACE, "sits, with the hips here"),
        Field::new("knee_deg", DEG, "how far the straighter leg is bent"),
        Field::new(
            "weight_along",
            SHARE,
            "where along the feet the weight is: 0 heels, 1 toes",
        ),
        Field::new(
            "weight_left",
            SHARE,
            "how much of the way from the right foot to the left one",
        ),
        Field::new(
            "body_lean_deg",
            DEG,
            "the whole straight body leans forwards on hands",
        ),
        Field::new("lean_deg", DEG, "top of the pelvis forwards"),
        Field::new("lean_left_deg", DEG, "top of the pelvis to the left"),
        Field::new("turn_deg", DEG, "front of the pelvis to the left"),
        Field::new(
            "spine_deg",
            THREE,
            "spine forwards, to the left, turned left",
        ),
        Field::new("neck_deg", THREE, "neck forwards, to the left, turned left"),
        Field::new("feet", Kind::Table(&FOOT), "both feet"),
        Field::new("left_foot", Kind::Table(&FOOT), "the left foot"),
        Field::new("right_foot", Kind::Table(&FOOT), "the right foot"),
        Field::new("arms", Kind::Table(&ARM), "both arms"),
        Field::new("left_arm", Kind::Table(&ARM), "the left arm"),
        Field::new("right_arm", Kind::Table(&ARM), "the right arm"),
        Field::new(
            "shoulders_deg",
            TWO,
            "both shoulders themselves: up, forward",
        ),
        Field::new("left_shoulder_deg", TWO, "the left shoulder itself"),
        Field::new("right_shoulder_deg", TWO, "the right shoulder itself"),
    ],
    choice: None,
};

static FOOT: Shape = Shape {
    name: "foot",
    about: "Where a foot is",
    fields: &[
        Field::new("x", PLACE, "forwards"),
        Field::new("out", PLACE, "outwards from the middle"),
        Field::new("on", Kind::Word(words_of::<Ground>()), "what bears it"),
        Field::new("lift", PLACE, "how high in the air"),
        Field::new("heading_deg", DEG, "its toes outwards"),
        Field::new("pitch_deg", DEG, "its heel up; below 0 its toes up"),
    ],
    choice: None,
};

static ARM: Shape = Shape {
    name: "arm",
    about: "What an arm does: its hand lies on something, or its angles",
    fields: &[
        Field::new(
            "on",
            Kind::Word(words_of::<LiesOn>()),
            "what its hand lies on",
        ),
        Field::new("x", PLACE, "where the hand lies, forwards"),
        Field::new("height", PLACE, "where it lies on a wall, upwards"),
        Field::new("along", SHARE, "where it lies on the thigh, from the hip"),
        Field::new("out", PLACE, "where it lies, outwards"),
        Field::new("inward_deg", DEG, "its fingers inwards"),
        Field::new("forward_deg", DEG, "arm forwards"),
        Field::new("out_deg", DEG, "arm outwards"),
        Field::new("turn_deg", DEG, "front of the arm inwards"),
        Field::new("elbow_deg", DEG, "elbow bent"),
        Field::new("thumb_in_deg", DEG, "thumb inwards"),
        Field::new("wrist_deg", DEG, "hand towards its palm"),
        Field::new("wrist_thumb_deg", DEG, "hand towards its thumb"),
    ],
    choice: None,
};

fn check_like(text: &str) -> Result<(), String> {
    match text.split_once('/') {
        Some((exercise, variant)) => check_id(exercise).and_then(|()| check_id(variant)),
        None => check_id(text),
    }
}
