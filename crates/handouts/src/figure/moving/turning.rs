//! A drawing that moves by itself, over and over: every outline goes from moment to moment without a script.
//!
//! What keeps its shape is carried and turned; what does not goes from outline to outline, always with as many corners.

use super::super::Build;
use super::{class, framed, outline, part_text, view};
use core::fmt::Write;
use motion::cycle::Cycle;
use motion::reel::Reel;
use motion::scene::{Camera, Disc, Paint, Part, Point, Scene};
use motion::settle::Unsettled;

/// The most that such a drawing may take; what is left of 25,000 is for the colours of a file that stands alone.
pub const MOST_BYTES: usize = 21_500;
/// The corners of an outline whose largest disc is small, and of one whose is not.
const CORNERS: [usize; 2] = [10, 12];
const SMALL_MM: f64 = 60.0;
/// What a carried part may be off its place, in shares of its size: head, hands and shoes are seen whole and may be a little off, while
/// cloth has to meet at the joints.
const OFF_WHOLE: f64 = 0.12;
const OFF_CLOTH: f64 = 0.02;
/// What counts as at rest.
const REST_MM: f64 = 1.0;

/// Moments that are tried, until the drawing is small enough.
const MOMENTS: [usize; 9] = [24, 21, 18, 16, 14, 12, 10, 8, 6];

/// A movement as a drawing that moves by itself, in as many moments as fit. `id` keeps its names apart from those of other drawings on
/// a page.
///
/// # Errors
/// When a limb does not reach at some moment.
pub fn turning(
    cycle: &Cycle,
    camera: &Camera,
    build: Build,
    [id, title]: [&str; 2],
) -> Result<String, Unsettled> {
    let mut text = String::new();
    let reel = Reel::of(cycle, camera, &build.look(), MOMENTS[0])?;
    for most in MOMENTS {
        text = turning_reel(&reel.fewer(most), build, [id, title]);
        if text.len() <= MOST_BYTES {
            break;
        }
    }
    Ok(text)
}

fn turning_reel(reel: &Reel, build: Build, [id, title]: [&str; 2]) -> String {
    let scenes: Vec<Scene> = (0..reel.frames().len())
        .map(|place| reel.scene(place))
        .collect();
    let times = Times::of(reel);
    let view = view(scenes.iter().filter_map(Scene::corners));
    let inside = match reel.orders() {
        [_] => parts(&scenes, 0, &times).concat(),
        runs => shown_by_turns(&scenes, runs.iter().map(|run| run.1), &times, id),
    };
    framed(build, view, title, &inside)
}

/// Every part once, and for every order a group that shows them in that order while it lasts.
fn shown_by_turns(
    scenes: &[Scene],
    runs: impl Iterator<Item = usize>,
    times: &Times,
    id: &str,
) -> String {
    let mut known: Vec<(Key, String)> = Vec::new();
    let (mut sequences, mut shown, mut from) = (Vec::new(), Vec::new(), 0);
    for count in runs {
        let texts = parts(scenes, from, times);
        let mut sequence = Vec::new();
        for (part, text) in scenes[from].parts().iter().zip(texts) {
            let key = (part.piece, part.paint);
            let place = known.iter().position(|(other, _)| *other == key);
            sequence.push(place.unwrap_or(known.len()));
            if place.is_none() {
                known.push((key, text));
            }
        }
        sequences.push(sequence);
        shown.push(times.shown(from, from + count));
        from += count;
    }
    let follows = always_followed(&sequences, known.len());
    let is_led = |part: &usize| follows.contains(&Some(*part));
    let (mut defined, mut groups) = (String::from("<defs>"), String::new());
    for first in (0..known.len()).filter(|part| !is_led(part)) {
        let _ = write!(defined, "<g id=\"{id}{first}\">");
        let mut next = Some(first);
        while let Some(part) = next {
            defined.push_str(&known[part].1);
            next = follows[part];
        }
        defined.push_str("</g>");
    }
    for (sequence, shown) in sequences.iter().zip(shown) {
        let _ = write!(groups, "<g>{shown}");
        for part in sequence.iter().filter(|part| !is_led(part)) {
            let _ = write!(groups, "<use href=\"#{id}{part}\"/>");
        }
        groups.push_str("</g>");
    }
    defined + "</defs>" + &groups
}

/// What a part of one order and of another one is known by.
type Key = (u16, Paint);

/// For every part the one that follows it directly in every order that has either.
fn always_followed(sequences: &[Vec<usize>], count: usize) -> Vec<Option<usize>> {
    let after = |sequence: &[usize], part: usize| {
        let place = sequence.iter().position(|one| *one == part)?;
        sequence.get(place + 1).copied()
    };
    (0..count)
        .map(|part| {
            let next = sequences
                .iter()
                .find_map(|sequence| after(sequence, part))?;
            let together = |sequence: &Vec<usize>| {
                let has = |one: &usize| sequence.contains(one);
                if has(&part) || has(&next) {
                    after(sequence, part) == Some(next)
                } else {
                    true
                }
            };
            sequences.iter().all(together).then_some(next)
        })
        .collect()
}

/// All parts in the order of one moment.
fn parts(scenes: &[Scene], order_of: usize, times: &Times) -> Vec<String> {
    let scene = &scenes[order_of];
    let text = |part: &Part| {
        let mut out = String::new();
        let discs = discs_of(scenes, part, order_of);
        if discs
            .iter()
            .all(|frame| most_apart(frame, &discs[0]) < REST_MM)
        {
            part_text(scene, part, &mut out);
        } else if let Some(carried) =
            Carried::of(&discs, order_of, off_mm(part.paint, &discs[order_of]))
        {
            let [way, turn] = [("translate", &carried.ways), ("rotate", &carried.turns)];
            let _ = write!(
                out,
                "<g>{}<g>{}",
                times.moves(way.0, way.1),
                times.moves(turn.0, turn.1)
            );
            part_text(scene, part, &mut out);
            out.push_str("</g></g>");
        } else {
            changing(scene, part, &discs, times, &mut out);
        }
        out
    };
    scene.parts().iter().map(text).collect()
}

/// The discs of a part at every moment; where it is not seen, those of the moment before.
fn discs_of(scenes: &[Scene], part: &Part, order_of: usize) -> Vec<Vec<Disc>> {
    let mut last: Vec<Disc> = scenes[order_of].hulls(part).flatten().copied().collect();
    let face = scenes[order_of]
        .parts()
        .iter()
        .filter(|one| one.piece == part.piece)
        .position(|one| one == part);
    scenes
        .iter()
        .map(|scene| {
            let mut same = scene.parts().iter().filter(|one| one.piece == part.piece);
            if let Some(same) = same.nth(face.unwrap_or(0)) {
                last = scene.hulls(same).flatten().copied().collect();
            }
            last.clone()
        })
        .collect()
}

fn most_apart(a: &[Disc], b: &[Disc]) -> f64 {
    a.iter()
        .zip(b)
        .map(|(a, b)| a.at.distance_mm(b.at))
        .fold(0.0, f64::max)
}

/// The moments as shares of the period, the first one again at the end.
struct Times {
    shares: Vec<String>,
    dur: String,
}

impl Times {
    fn of(reel: &Reel) -> Self {
        let period = f64::from(reel.period_ms());
        let share = |at_ms: u32| {
            let text = format!("{:.3}", f64::from(at_ms) / period);
            let text = text.trim_end_matches('0').trim_end_matches('.');
            text.strip_prefix('0')
                .filter(|rest| !rest.is_empty())
                .unwrap_or(text)
                .to_owned()
        };
        let mut shares: Vec<String> = reel
            .frames()
            .iter()
            .map(|frame| share(frame.at_ms))
            .collect();
        shares.push("1".to_owned());
        Self {
            shares,
            dur: format!("{}ms", reel.period_ms()),
        }
    }

    /// Values at the moments; those that only repeat their neighbours are left out.
    fn values(&self, values: &[String]) -> String {
        let at = |place: usize| &values[place % values.len()];
        let kept: Vec<usize> = (0..=values.len())
            .filter(|place| {
                *place == 0
                    || *place == values.len()
                    || at(*place) != at(place - 1)
                    || at(*place) != at(place + 1)
            })
            .collect();
        let list = |of: &dyn Fn(usize) -> String| {
            kept.iter()
                .map(|place| of(*place))
                .collect::<Vec<_>>()
                .join(";")
        };
        format!(
            "dur=\"{}\" repeatCount=\"indefinite\" keyTimes=\"{}\" values=\"{}\"",
            self.dur,
            list(&|place| self.shares[place].clone()),
            list(&|place| at(place).clone())
        )
    }

    fn moves(&self, kind: &str, values: &[String]) -> String {
        if values.iter().all(|value| *value == values[0]) {
            return String::new();
        }
        format!(
            "<animateTransform attributeName=\"transform\" type=\"{kind}\" {}/>",
            self.values(values)
        )
    }

    fn outlines(&self, values: &[String]) -> String {
        format!("<animate attributeName=\"d\" {}/>", self.values(values))
    }

    /// Shown from one moment until another one.
    fn shown(&self, from: usize, to: usize) -> String {
        let [from, to] = [from, to].map(|place| &self.shares[place]);
        let (times, values) = match (from.as_str(), to.as_str()) {
            ("0", to) => (format!("0;{to}"), "inline;none"),
            (from, "1") => (format!("0;{from}"), "none;inline"),
            (from, to) => (format!("0;{from};{to}"), "none;inline;none"),
        };
        format!(
            "<animate attributeName=\"display\" calcMode=\"discrete\" dur=\"{}\" repeatCount=\"indefinite\" keyTimes=\"{times}\" values=\"{values}\"/>",
            self.dur
        )
    }
}

/// A part that keeps its shape: where it is carried, and how far it is turned about the middle of its first place.
struct Carried {
    ways: Vec<String>,
    turns: Vec<String>,
}

impl Carried {
    /// From its place at one moment, which is the one that is drawn.
    fn of(discs: &[Vec<Disc>], drawn: usize, off_mm: f64) -> Option<Self> {
        let first = &discs[drawn];
        let pivot = middle(first);
        let mut carried = Self {
            ways: Vec::new(),
            turns: Vec::new(),
        };
        for frame in discs {
            let here = middle(frame);
            let turn = turned(first, pivot, frame, here);
            let (sin, cos) = libm::sincos(turn);
            let fits = first.iter().zip(frame).all(|(from, to)| {
                let (dx, dy) = (from.at.x_mm - pivot.x_mm, from.at.y_mm - pivot.y_mm);
                let at = Point {
                    x_mm: here.x_mm + dx * cos - dy * sin,
                    y_mm: here.y_mm + dx * sin + dy * cos,
                };
                at.distance_mm(to.at) < off_mm
            });
            if !fits {
                return None;
            }
            carried.ways.push(
                format!(
                    "{:.0} {:.0}",
                    here.x_mm - pivot.x_mm,
                    here.y_mm - pivot.y_mm
                )
                .replace("-0", "0"),
            );
            let degrees = libm::round(turn.to_degrees() * 2.0) / 2.0;
            carried
                .turns
                .push(format!("{degrees} {:.0} {:.0}", pivot.x_mm, pivot.y_mm));
        }
        Some(carried)
    }
}

/// What a carried part may be off its place.
fn off_mm(paint: Paint, discs: &[Disc]) -> f64 {
    let is_cloth = matches!(
        paint,
        Paint::Sleeve | Paint::FarSleeve | Paint::Leg | Paint::FarLeg | Paint::Trunk
    );
    let middle = middle(discs);
    let reach = discs
        .iter()
        .map(|disc| disc.at.distance_mm(middle) + disc.radius_mm);
    let size_mm = 2.0 * reach.fold(0.0, f64::max);
    size_mm * if is_cloth { OFF_CLOTH } else { OFF_WHOLE }
}

fn middle(discs: &[Disc]) -> Point {
    let count = discs.len() as f64;
    Point {
        x_mm: discs.iter().map(|disc| disc.at.x_mm).sum::<f64>() / count,
        y_mm: discs.iter().map(|disc| disc.at.y_mm).sum::<f64>() / count,
    }
}

/// The turn that carries the first discs best onto the others.
fn turned(first: &[Disc], pivot: Point, frame: &[Disc], here: Point) -> f64 {
    let (mut along, mut across) = (0.0, 0.0);
    for (from, to) in first.iter().zip(frame) {
        let (ax, ay) = (from.at.x_mm - pivot.x_mm, from.at.y_mm - pivot.y_mm);
        let (bx, by) = (to.at.x_mm - here.x_mm, to.at.y_mm - here.y_mm);
        along += ax * bx + ay * by;
        across += ax * by - ay * bx;
    }
    libm::atan2(across, along)
}

/// A part whose outline changes.
fn changing(scene: &Scene, part: &Part, discs: &[Vec<Disc>], times: &Times, out: &mut String) {
    let counts: Vec<usize> = scene.hulls(part).map(<[Disc]>::len).collect();
    let data = |frame: &Vec<Disc>| {
        let (mut data, mut from) = (String::new(), 0);
        for count in &counts {
            let hull = &frame[from..from + count];
            from += count;
            if part.paint.is_line() || part.seam {
                outline::line(hull, &mut data);
            } else {
                let large = hull.iter().any(|disc| disc.radius_mm > SMALL_MM);
                let corners = CORNERS[usize::from(large)];
                outline::polygon(&outline::sampled(hull, corners), &mut data);
            }
        }
        data
    };
    let values: Vec<String> = discs.iter().map(data).collect();
    // What covers a joint is a thick line here, no broader than the joint.
    let rim = if part.rim || part.seam || part.paint.is_line() {
        ""
    } else {
        " fg-in"
    };
    let seam = if part.seam {
        let radii = discs[0].iter().map(|disc| disc.radius_mm);
        let width_mm = 2.0 * radii.fold(f64::INFINITY, f64::min);
        format!(" fg-seam\" style=\"stroke-width:{width_mm:.0}")
    } else {
        String::new()
    };
    let _ = write!(
        out,
        "<path class=\"{}{rim}{seam}\" d=\"{}\">{}</path>",
        class(part.paint),
        values[0],
        times.outlines(&values)
    );
}
