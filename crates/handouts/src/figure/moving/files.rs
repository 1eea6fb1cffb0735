//! Pictures that stand alone: each a file with its own colours, for whoever opens it outside of our pages.

use super::super::Build;
use super::{MOST_FRAMES, drawn, scene_alone, turning};
use crate::look;
use core::fmt::Write;
use motion::body::Body;
use motion::cycle::{Cycle, CycleFault};
use motion::movement::Movement;
use motion::reel::{Reel, Views, scenes_at};
use motion::scene::Camera;
use motion::settle::Unsettled;

/// The most that a file that moves by itself may take, its colours included.
pub const MOST_FILE_BYTES: usize = 25_000;

/// One picture of a movement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Name of its file: `moving.svg`, `print.svg`, `pose-1.svg`; a second view bears a 2.
    pub name: String,
    /// The whole file.
    pub svg: String,
}

/// All pictures of a movement: of each view one that moves and one for print, and every key pose.
///
/// Who wants it seen from the front gets that view alone; else the views that show most of it.
///
/// # Errors
/// When the drawn person cannot make the movement.
pub fn pictures(
    movement: &Movement,
    from_front: bool,
    build: Build,
    title: &str,
) -> Result<Vec<Picture>, CycleFault> {
    let body = Body::of_stature_m(build.stature_m()).expect("the drawn people are adults");
    let cycle = Cycle::of(&body.drawn(), movement)?;
    let (main, second) = views(&cycle, from_front).map_err(at_first)?;
    let mut all = Vec::new();
    for (camera, mark) in [(Some(main), ""), (second, "-2")] {
        let Some(camera) = camera else { continue };
        let moving = turning(&cycle, &camera, build, ["m", title]).map_err(at_first)?;
        let reel = Reel::of(&cycle, &camera, &build.look(), MOST_FRAMES);
        let print = drawn(&reel.map_err(at_first)?, build, title).svg;
        all.push(picture(format!("moving{mark}.svg"), &moving));
        all.push(picture(format!("print{mark}.svg"), &print));
    }
    let poses = scenes_at(&cycle, &main, &build.look(), &key_moments(movement));
    for (number, scene) in (1..).zip(poses.map_err(at_first)?) {
        let svg = scene_alone(&scene, build, &format!("{title}: pose {number}"));
        all.push(picture(format!("pose-{number}.svg"), &svg));
    }
    Ok(all)
}

/// A movement that was made has no limb that does not reach; if one does it is told without its moment.
const fn at_first(why: Unsettled) -> CycleFault {
    CycleFault::OnTheWay { at_ms: 0, why }
}

fn views(cycle: &Cycle, from_front: bool) -> Result<(Camera, Option<Camera>), Unsettled> {
    if from_front {
        let [.., front] = Camera::of_room(cycle.room());
        return Ok((front, None));
    }
    let views = Views::of(cycle)?;
    Ok((views.main, views.second))
}

/// When each key pose that is written down is reached.
fn key_moments(movement: &Movement) -> Vec<u32> {
    let ways = movement.keys.iter().scan(0, |at_ms, key| {
        let here = *at_ms;
        *at_ms += key.rest_ms() + key.to_next_ms;
        Some(here)
    });
    ways.collect()
}

fn picture(name: String, svg: &str) -> Picture {
    let style = format!("</title><style>{}</style>", colours());
    Picture {
        name,
        svg: svg.replacen("</title>", &style, 1),
    }
}

/// The classes of the figure and the colours that they use, in daylight.
fn colours() -> String {
    let tokens = look::plain(look::TOKENS);
    let daylight = tokens.split('}').next().unwrap_or_default();
    let classes = look::plain(look::FIGURE);
    let of_paper = classes
        .lines()
        .filter(|line| !line.starts_with('['))
        .collect::<String>();
    let mut out = String::from(":root{");
    for token in daylight.split(['{', ';']).map(str::trim) {
        let Some((name, value)) = token.split_once(':') else {
            continue;
        };
        let used = of_paper.contains(&format!("var({name})"));
        if used || name == "--paper" {
            let _ = write!(out, "{name}:{};", value.trim());
        }
    }
    out + "}" + &of_paper
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_has_every_colour_that_its_classes_name() {
        let text = colours();
        let named: Vec<&str> = text
            .split("var(")
            .skip(1)
            .filter_map(|rest| rest.split(')').next())
            .collect();
        assert!(named.len() > 20, "{text}");
        for name in named {
            assert!(text.contains(&format!("{name}:")), "{name} in {text}");
        }
        assert!(!text.contains("data-room"), "{text}");
    }
}
