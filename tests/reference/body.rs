//! The moving body against a general library for bodies of many joints: where everything is, and where placed limbs end.

use motion::body::{Body, Segment, Side};
use motion::joint::{Freedom, Limb};
use motion::limb::{place_foot, place_hand};
use motion::pose::Pose;
use motion::posture::Posture;
use motion::space::{Frame, Rotation, Turns, Vector};
use serde_json::{Map, Value, json};
use std::io::Write;
use tests::Draw;
use tests::tools::{root, run_python};

/// Poses for each stature.
const POSES: u64 = 80;
const STATURES_M: [f64; 4] = [1.45, 1.62, 1.74, 1.95];
/// What two ways of computing the same may differ by.
const ROUNDING_M: f64 = 1e-9;
/// Likewise for the nine numbers of a rotation.
const ROUNDING: f64 = 1e-9;

fn within(draw: &mut Draw, low: f64, high: f64) -> f64 {
    low + draw.share() * (high - low)
}

/// Any place and turn of the pelvis, and every angle within its norm.
fn random_pose(seed: u64) -> Pose {
    let mut draw = Draw::new(seed);
    let mut pose = Pose::upright_at(Frame {
        at: Vector::new(
            within(&mut draw, -1.0, 1.0),
            within(&mut draw, -1.0, 1.0),
            within(&mut draw, 0.2, 1.2),
        ),
        turned: Rotation::of(Turns {
            about_left_deg: within(&mut draw, -170.0, 170.0),
            about_forward_deg: within(&mut draw, -85.0, 85.0),
            about_up_deg: within(&mut draw, -170.0, 170.0),
        }),
    });
    for freedom in Freedom::all() {
        let range = freedom.norm();
        pose.set_deg(freedom, within(&mut draw, range.low_deg, range.high_deg));
    }
    pose
}

fn triple(vector: Vector) -> Value {
    json!([vector.x, vector.y, vector.z])
}

/// The rotation as rows of a matrix whose columns are forward, left and up.
fn frame(frame: Frame) -> Value {
    let Rotation { forward, left, up } = frame.turned;
    json!({
        "at": triple(frame.at),
        "turned": [
            [forward.x, left.x, up.x],
            [forward.y, left.y, up.y],
            [forward.z, left.z, up.z],
        ],
    })
}

fn name(segment: Segment) -> String {
    let of = |side, word: &str| match side {
        Side::Left => format!("left {word}"),
        Side::Right => format!("right {word}"),
    };
    match segment {
        Segment::Pelvis => "pelvis".to_owned(),
        Segment::Abdomen => "abdomen".to_owned(),
        Segment::Thorax => "thorax".to_owned(),
        Segment::Head => "head".to_owned(),
        Segment::UpperArm(side) => of(side, "upper-arm"),
        Segment::Forearm(side) => of(side, "forearm"),
        Segment::Hand(side) => of(side, "hand"),
        Segment::Thigh(side) => of(side, "thigh"),
        Segment::Shank(side) => of(side, "shank"),
        Segment::Foot(side) => of(side, "foot"),
    }
}

/// What the library is told: the angles and where the pelvis is.
fn told(body: &Body, pose: &Pose) -> Map<String, Value> {
    let angles =
        Freedom::all().map(|freedom| (freedom.to_string(), json!(pose.angle_deg(freedom))));
    let told = json!({
        "stature_m": body.stature_m(),
        "pelvis": frame(pose.pelvis),
        "angles_deg": Map::from_iter(angles),
    });
    match told {
        Value::Object(told) => told,
        other => panic!("{other} is an object"),
    }
}

/// A pose with where everything is.
fn posed(body: &Body, pose: &Pose) -> Value {
    let posture = Posture::of(body, pose);
    let segments = Segment::ALL.map(|segment| (name(segment), frame(posture.frame(segment))));
    let ends = Segment::ALL
        .into_iter()
        .filter(|segment| matches!(segment, Segment::Head | Segment::Hand(_) | Segment::Foot(_)))
        .map(|segment| {
            (
                format!("{} end", name(segment)),
                triple(posture.end(segment)),
            )
        });
    let mut line = told(body, pose);
    line.insert("segments".to_owned(), Map::from_iter(segments).into());
    line.insert("ends".to_owned(), Map::from_iter(ends).into());
    line.insert(
        "centre_of_mass".to_owned(),
        triple(posture.centre_of_mass()),
    );
    line.into()
}

/// All four limbs of another pose of the same trunk, placed where this one has feet and hands.
fn placed(body: &Body, pose: &Pose) -> Value {
    let goal = Posture::of(body, pose);
    let mut solved = pose.clone();
    let mut goals = Map::new();
    for side in Side::BOTH {
        for limb in Limb::LEG.into_iter().chain(Limb::ARM) {
            solved.set_deg(Freedom::Of(side, limb), 3.0);
        }
        let [foot, hand] = [Segment::Foot(side), Segment::Hand(side)];
        let elbow = goal.frame(Segment::Forearm(side)).at - goal.frame(Segment::UpperArm(side)).at;
        place_foot(body, &mut solved, side, goal.frame(foot))
            .expect("a foot of a pose is in reach");
        place_hand(body, &mut solved, side, goal.frame(hand), elbow).expect("and so is a hand");
        for segment in [foot, hand] {
            goals.insert(name(segment), frame(goal.frame(segment)));
        }
    }
    let mut line = told(body, &solved);
    line.insert("placed".to_owned(), goals.into());
    line.into()
}

#[test]
fn reference_a_general_library_of_jointed_bodies_puts_every_segment_and_placed_limb_at_the_same_place()
 {
    let folder = root().join("target/checker");
    std::fs::create_dir_all(&folder).expect("target can be written");
    let path = folder.join("poses.jsonl");
    let mut file = std::fs::File::create(&path).expect("target can be written");
    for (place, stature_m) in STATURES_M.into_iter().enumerate() {
        let body = Body::of_stature_m(stature_m).expect("an adult");
        for seed in 0..POSES {
            let pose = random_pose(1 + seed + POSES * place as u64);
            for line in [posed(&body, &pose), placed(&body, &pose)] {
                writeln!(file, "{line}").expect("target can be written");
            }
        }
    }
    let script = std::fs::read_to_string(root().join("tests/python/body.py"));
    let script = script.expect("the script stands in the tests");
    let printed = run_python(&script, &[&path.to_string_lossy()]);
    let found: Value = serde_json::from_str(&printed).expect("the script prints JSON");
    println!("{found:#}");
    let count = POSES * STATURES_M.len() as u64;
    assert_eq!(found["poses"], json!(count));
    assert_eq!(found["points"], json!(count * (16 + 5)));
    assert_eq!(found["placed"], json!(count * 4));
    let below = |what: &str, limit: f64| {
        let most = found[what].as_f64().expect("a difference");
        assert!(most < limit, "{what}: {most}");
    };
    below("point_m", ROUNDING_M);
    below("centre_m", ROUNDING_M);
    below("placed_m", ROUNDING_M);
    below("rotation", ROUNDING);
    below("placed_rotation", ROUNDING);
}
