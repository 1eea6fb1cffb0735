//! The numbers by which the page's script draws a movement: where the points of the body fall at a few moments, and what is drawn from
//! them. The script goes straight from moment to moment and does no kinematics.

use super::super::Build;
use super::{class, view};
use core::fmt::Write;
use motion::body::Side;
use motion::cycle::Cycle;
use motion::reel::Reel;
use motion::scene::{Blueprint, Camera, Holding, POINTS, Paint, Part, Point, Scene, Spot};
use motion::settle::Unsettled;

/// The most moments of a movement.
pub const MOST_FRAMES: usize = 24;
/// The most that the numbers of a movement may take.
pub const MOST_NUMBERS_BYTES: usize = 5_000;

/// The signs that numbers are written with: safe in JSON, in HTML and in a script.
const SIGNS: &[u8; 64] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_";
/// What is added to a number of mm, so that it is never below 0.
const OFFSET_MM: f64 = 2048.0;
/// A point that moves less than this stays where it is at first.
const REST_MM: f64 = 1.0;

/// The numbers of a movement as one JSON object.
///
/// `p` how long it takes in ms; `v` left, top, width and height; `t` the moments in frames of 40 ms; `m` which points move; `q` all points
/// at the first moment; `f` the moving points at each further one; `l` 1 when the left side is far, 0 the right one, -1 none; `o` the
/// orders, each with how many moments it serves; `s` the pieces of furniture and the shadows as class and path. Two signs make a number
/// of mm, one sign the number of a piece.
///
/// # Errors
/// When a limb does not reach at some moment.
pub fn numbers(cycle: &Cycle, camera: &Camera, build: Build) -> Result<String, Unsettled> {
    let mut text = String::new();
    let reel = Reel::of(cycle, camera, &build.look(), MOST_FRAMES)?;
    for most in (12..=MOST_FRAMES).rev() {
        text = of_reel(&reel.fewer(most));
        if text.len() <= MOST_NUMBERS_BYTES {
            break;
        }
    }
    Ok(text)
}

fn of_reel(reel: &Reel) -> String {
    let frames: Vec<[Point; POINTS]> = reel
        .frames()
        .iter()
        .map(|frame| frame.snapshot.points())
        .collect();
    let first = &frames[0];
    let moves = |point: &usize| {
        let apart = frames
            .iter()
            .map(|frame| frame[*point].distance_mm(first[*point]));
        apart.fold(0.0, f64::max) > REST_MM
    };
    let used = reel.stage().blueprint().points();
    let moving: Vec<usize> = used.into_iter().filter(moves).collect();
    let scenes: Vec<Scene> = (0..frames.len()).map(|place| reel.scene(place)).collect();
    let [x, y, width, height] = view(scenes.iter().filter_map(Scene::corners));
    let times: String = reel
        .frames()
        .iter()
        .map(|frame| pair(frame.at_ms / 40))
        .collect();
    let moving_text: String = moving.iter().map(|point| sign(*point as u32)).collect();
    let rest: String = frames[1..]
        .iter()
        .flat_map(|frame| moving.iter().map(|point| place(frame[*point])))
        .collect();
    let far = match reel.frames()[0].snapshot.far_side() {
        Some(Side::Left) => 1,
        Some(Side::Right) => 0,
        None => -1,
    };
    let parts = reel.stage().blueprint().parts.len();
    let mut from = 0;
    let orders: Vec<String> = reel
        .orders()
        .iter()
        .map(|(order, count)| {
            let pieces = reel.stage().pieces(&reel.frames()[from].snapshot, order);
            from += count;
            let signs: String = pieces.iter().map(|piece| sign(u32::from(*piece))).collect();
            format!("[{count},\"{signs}\"]")
        })
        .collect();
    format!(
        "{{\"p\":{},\"v\":[{x},{y},{width},{height}],\"t\":\"{times}\",\"m\":\"{moving_text}\",\"q\":\"{}\",\"f\":\"{rest}\",\"l\":{far},\"o\":[{}],\"s\":{{{}}}}}",
        reel.period_ms(),
        first.iter().map(|point| place(*point)).collect::<String>(),
        orders.join(","),
        furniture(&scenes[0], parts)
    )
}

/// Everything that is no part of the person, by the sign of its piece.
fn furniture(scene: &Scene, person: usize) -> String {
    let mut pieces: Vec<(u16, Vec<String>)> = Vec::new();
    for part in scene
        .parts()
        .iter()
        .filter(|part| usize::from(part.piece) >= person)
    {
        let text = format!("[\"{}\",\"{}\"]", class(part.paint), path(scene, part));
        match pieces.iter_mut().find(|(piece, _)| *piece == part.piece) {
            Some((_, texts)) => texts.push(text),
            None => pieces.push((part.piece, vec![text])),
        }
    }
    let shown = pieces
        .iter()
        .map(|(piece, texts)| format!("\"{}\":[{}]", sign(u32::from(*piece)), texts.join(",")));
    shown.collect::<Vec<_>>().join(",")
}

fn path(scene: &Scene, part: &Part) -> String {
    let mut data = String::new();
    for hull in scene.hulls(part) {
        if matches!(part.paint, Paint::Shadow | Paint::SoftShadow) {
            super::outline::polygon(&super::outline::sampled(hull, 16), &mut data);
        } else {
            super::outline::exact(hull, &mut data);
        }
    }
    data
}

fn sign(number: u32) -> char {
    char::from(SIGNS[number as usize % SIGNS.len()])
}

fn pair(number: u32) -> String {
    [number / 64, number % 64].map(sign).iter().collect()
}

fn place(point: Point) -> String {
    let whole = |mm: f64| libm::round(mm + OFFSET_MM).clamp(0.0, 4095.0) as u32;
    pair(whole(point.x_mm)) + &pair(whole(point.y_mm))
}

/// What the script draws a person from: for every part its class on the near and on the far side, whether it has a rim and of which side it
/// is, and its hulls of `[from, to, per cent of the way, radius]` or, in the head, `[x, y, z, radius, 0]`.
pub fn blueprint(build: Build, holding: &Holding) -> String {
    let scale = build.stature_m() / 1.62;
    let parts = Blueprint::of(&build.look(), holding).parts;
    let texts = parts.iter().map(|part| {
        let side = match part.item.side() {
            Some(Side::Left) => 1,
            Some(Side::Right) => 0,
            None => -1,
        };
        let kind = if part.paint.is_line() {
            2
        } else {
            i32::from(part.rim)
        };
        let hulls: Vec<String> = part
            .hulls
            .iter()
            .map(|hull| hull_text(hull, scale))
            .collect();
        format!(
            "[\"{}\",\"{}\",{kind},{side},[{}]]",
            class(part.paint),
            class(part.paint.far()),
            hulls.join(",")
        )
    });
    format!("[{}]", texts.collect::<Vec<_>>().join(","))
}

fn hull_text(hull: &[Spot], scale: f64) -> String {
    let mut text = String::from("[");
    for spot in hull {
        if text.len() > 1 {
            text.push(',');
        }
        let whole = |value: f64| libm::round(value) as i64;
        let _ = match spot {
            Spot::Between {
                from,
                to,
                share,
                radius_mm,
            } => write!(
                text,
                "[{from},{to},{},{}]",
                whole(100.0 * share),
                whole(radius_mm * scale)
            ),
            Spot::Head { at_mm, radius_mm } => {
                let [x, y, z] = at_mm.map(whole);
                write!(text, "[{x},{y},{z},{},0]", whole(radius_mm * scale))
            }
        };
    }
    text + "]"
}
