//! The profile for the practitioner: effort against the ceiling, pulse expected and taken, places and phases.

use super::caps::{Cap, caps_of};
use super::course::{Course, Turn};
use super::curve::{Curve, Field};
use super::places::{LABEL_PX, draw_places};
use super::pulse::{PulseScale, TakenPulse, draw_band, draw_mean, draw_taken};
use crate::measure::{Weight, width_px};
use crate::svg::{Drawing, Frame, PathData, at, escape, num};
use rehab::programme::Phase;

/// Words of the practitioner's profile.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Captions {
    /// Title of the picture for those who do not see it.
    pub title: String,
    /// Its description: parts, turns, places, ceiling.
    pub description: String,
    /// The bold begin of the ceiling's words ("Her ceiling").
    pub ceiling: String,
    /// The rest of them ("effort 4 of 10, pulse 97 (guiding)").
    pub ceiling_note: String,
    /// What band and diamonds are; empty where there is no pulse.
    pub legend: String,
    /// Words of the three phases in order; an empty one is not drawn.
    pub phases: [String; 3],
    /// Short words for the begin and the end in the narrow form.
    pub ends: [String; 2],
    /// One line for each turn: its link's name, and the line under the narrow form.
    pub turns: Vec<String>,
}

/// What the practitioner's profile shows.
#[derive(Clone, Copy)]
pub struct Full<'a> {
    /// Width in px at which it is shown; type is never shrunk.
    pub width_px: u16,
    /// METs at the ceiling line: the most for one turn.
    pub top_mets: f64,
    /// How the pulse is drawn; `None` where it is not predicted or has no ceiling.
    pub pulse: Option<PulseScale>,
    /// Pulses taken.
    pub taken: &'a [TakenPulse],
    /// The chosen turn, by its number through the session.
    pub chosen: Option<u16>,
    /// METs of the chosen turn under consideration: dotted.
    pub alternative_mets: Option<f64>,
    /// Words.
    pub captions: &'a Captions,
    /// Address of each turn's link, by its number; without it hills are not links.
    pub link: Option<&'a dyn Fn(u16) -> String>,
}

/// Below this width in px names of places no longer fit and the narrow form is drawn.
const NARROW_PX: f64 = 480.0;

/// Draws the practitioner's profile.
pub fn full(course: &Course, ask: &Full<'_>) -> String {
    let width = f64::from(ask.width_px);
    let narrow = width < NARROW_PX;
    let top = if narrow { 40.0 } else { 48.0 };
    // 92 px of height at 360 px of width, 154 at 1200: the reference drawing.
    let height = libm::round(92.0 + (width - 360.0) * 62.0 / 840.0).clamp(80.0, 154.0);
    let field = Field {
        left: 0.0,
        width,
        ground: top + height,
        height,
        top_mets: ask.top_mets,
        duration_ms: (course.duration_ms() as f64).max(1.0),
    };
    let scene = Scene::of(course, field, ask);
    let mut out = Drawing::new();
    scene.draw_under(&mut out);
    draw_ceiling(ask, &field, top, &mut out);
    scene.draw_line(&mut out);
    out.line("pf-ground", at(0.0, field.ground), at(width, field.ground));
    let bottom = if narrow {
        scene.draw_narrow_words(&mut out)
    } else {
        scene.draw_wide_words(&mut out)
    };
    scene.draw_links(top, &mut out);
    out.finish(&Frame {
        class: "pf pf-full",
        width,
        height: bottom,
        title: &ask.captions.title,
        description: &ask.captions.description,
        group: ask.link.is_some(),
    })
}

struct Scene<'a> {
    course: &'a Course,
    ask: &'a Full<'a>,
    field: Field,
    curve: Curve,
    turns: Vec<Turn>,
    caps: Vec<Cap>,
    chosen: Option<usize>,
}

impl<'a> Scene<'a> {
    fn of(course: &'a Course, field: Field, ask: &'a Full<'a>) -> Self {
        let turns = course.turns();
        Self {
            course,
            ask,
            field,
            curve: Curve::of(course, &field),
            caps: caps_of(course, &field),
            chosen: ask
                .chosen
                .and_then(|number| turns.iter().position(|turn| turn.number == number)),
            turns,
        }
    }

    /// Land, pulse band, caps, pulse line.
    fn draw_under(&self, out: &mut Drawing) {
        let mut land = PathData::new();
        self.curve
            .draw(self.field.left, self.field.right(), &mut land);
        land.close();
        out.path("pf-land", &land);
        if let Some(scale) = &self.ask.pulse {
            draw_band(self.course, &self.field, scale, out);
        }
        for (i, cap) in self.caps.iter().enumerate() {
            let class = if self.chosen == Some(i) {
                "pf-hill is-chosen"
            } else {
                "pf-hill"
            };
            out.path(class, &cap.area(&self.curve));
        }
        if let Some(scale) = &self.ask.pulse {
            draw_mean(self.course, &self.field, scale, out);
        }
    }

    /// Effort line, alternative, logged pulses.
    fn draw_line(&self, out: &mut Drawing) {
        let mut line = PathData::new();
        self.curve
            .draw(self.field.left, self.field.right(), &mut line);
        out.path("pf-line", &line);
        if let Some(i) = self.chosen {
            out.path("pf-line is-chosen", &self.caps[i].line(&self.curve));
            if let Some(mets) = self.ask.alternative_mets {
                let other = self.course.with_mets(self.turns[i].part, mets);
                let curve = Curve::of(&other, &self.field);
                out.path("pf-alt", &self.caps[i].line(&curve));
            }
        }
        if let Some(scale) = &self.ask.pulse {
            draw_taken(self.ask.taken, &self.field, scale, out);
        }
    }

    fn middle_of(&self, turn: &Turn) -> f64 {
        self.field.x((turn.start_ms + turn.end_ms) as f64 / 2.0)
    }

    /// Numbers of the turns, within their round; where they would touch, only every second or third, and the chosen.
    fn draw_numbers(&self, y: f64, out: &mut Drawing) {
        let nearest = self
            .turns
            .windows(2)
            .map(|pair| self.middle_of(&pair[1]) - self.middle_of(&pair[0]))
            .fold(f64::INFINITY, f64::min);
        let every = libm::ceil(14.0 / nearest.max(2.0)).max(1.0) as u16;
        for (i, turn) in self.turns.iter().enumerate() {
            let shown = (turn.in_round - 1) % every == 0 || self.chosen == Some(i);
            if shown {
                out.words(
                    "pf-no",
                    at(self.middle_of(turn), y),
                    &turn.in_round.to_string(),
                );
            }
        }
    }

    fn draw_wide_words(&self, out: &mut Drawing) -> f64 {
        let ground = self.field.ground;
        self.draw_numbers(ground - 13.0, out);
        let chosen = self.chosen.map(|i| &self.turns[i]);
        let low = draw_places(self.course, &self.field, chosen, out).max(8.0);
        let span_y = ground + low + 14.0;
        let phases = [Phase::WarmUp, Phase::Conditioning, Phase::CoolDown];
        let mut start = 0.0;
        for (phase, words) in phases.into_iter().zip(&self.ask.captions.phases) {
            let length = self.course.phase_ms(phase) as f64;
            if length > 0.0 && !words.is_empty() {
                let (from, to) = (self.field.x(start), self.field.x(start + length));
                out.line("pf-span", at(from + 3.0, span_y), at(to - 3.0, span_y));
                let half = width_px(words, LABEL_PX, Weight::Regular) / 2.0;
                let x = ((from + to) / 2.0).clamp(half, (self.field.width - half).max(half));
                out.words("pf-t mid", at(x, span_y + 22.0), words);
            }
            start += length;
        }
        span_y + 30.0
    }

    fn draw_narrow_words(&self, out: &mut Drawing) -> f64 {
        let ground = self.field.ground;
        self.draw_numbers(ground + 18.0, out);
        let [first, last] = &self.ask.captions.ends;
        let size = |words: &str| width_px(words, LABEL_PX, Weight::Regular) + 10.0;
        let free_left = self
            .turns
            .first()
            .map_or(self.field.width / 2.0, |turn| self.middle_of(turn));
        let free_right = self.turns.last().map_or(self.field.width / 2.0, |turn| {
            self.field.right() - self.middle_of(turn)
        });
        if size(first) <= free_left {
            out.words("pf-t", at(self.field.left, ground + 18.0), first);
        }
        if size(last) <= free_right {
            out.words("pf-t r", at(self.field.right(), ground + 18.0), last);
        }
        let Some(i) = self.chosen else {
            return ground + 28.0;
        };
        if let Some(words) = self.ask.captions.turns.get(i) {
            out.words("pf-t", at(self.field.left, ground + 44.0), words);
        }
        ground + 58.0
    }

    fn draw_links(&self, top: f64, out: &mut Drawing) {
        let Some(link) = self.ask.link else {
            return;
        };
        for (i, (turn, cap)) in self.turns.iter().zip(&self.caps).enumerate() {
            // A finger needs 24 px at least.
            let middle = (cap.from + cap.to) / 2.0;
            let half = ((cap.to - cap.from) / 2.0).max(12.0);
            let name = self.ask.captions.turns.get(i).map_or("", String::as_str);
            let current = if self.chosen == Some(i) {
                " aria-current=\"true\""
            } else {
                ""
            };
            out.raw(&format!(
                "<a class=\"pf-link\" id=\"turn-{}\" href=\"{}\" aria-label=\"{}\"{current}><title>{}</title><rect class=\"pf-hit\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></a>",
                turn.number,
                escape(&link(turn.number)),
                escape(name),
                escape(name),
                num(middle - half),
                num(top),
                num(half * 2.0),
                num(self.field.height + 12.0),
            ));
        }
    }
}

fn draw_ceiling(ask: &Full<'_>, field: &Field, y: f64, out: &mut Drawing) {
    let captions = ask.captions;
    out.line("pf-limit", at(0.0, y), at(field.width, y));
    out.raw(&format!(
        "<text class=\"pf-t\" x=\"0\" y=\"{}\"><tspan class=\"pf-b\">{}</tspan> {}</text>",
        num(y - 10.0),
        escape(&captions.ceiling),
        escape(&captions.ceiling_note)
    ));
    let left = width_px(&captions.ceiling, LABEL_PX, Weight::Bold)
        + width_px(&captions.ceiling_note, LABEL_PX, Weight::Regular);
    let right = width_px(&captions.legend, LABEL_PX, Weight::Regular);
    if !captions.legend.is_empty() && left + right + 40.0 <= field.width {
        out.words("pf-t r", at(field.width, y - 10.0), &captions.legend);
    }
}
