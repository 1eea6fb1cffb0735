//! From segments to cues: titles, places, sentences, beats and the easier way.

use super::build::Ask;
use super::refused::OrderRefused;
use super::say::{Say, capital, sentence};
use super::sequence::parts;
use super::{Cue, CueKind, Doing, Part, Stance, TurnNumber};
use crate::figure::{Build, Facts, Still, key_of, still};
use crate::profile::{Pace, pace_of};
use rehab::assessment::{EffortScale, PlaceKind};
use rehab::programme::{Exercise, Phase, Posture, Segment, SegmentKind, Variant, VariantRef};
use std::collections::BTreeMap;

/// The cues with their lists and the figures they need.
pub(super) struct Cued {
    pub(super) cues: Vec<Cue>,
    pub(super) parts: Vec<Part>,
    pub(super) figures: BTreeMap<String, Still>,
}

pub(super) fn cues(ask: &Ask<'_>) -> Result<Cued, OrderRefused> {
    let mut maker = Maker {
        ask,
        say: Say { words: ask.words },
        build: Build::of(&ask.case.id.0),
        figures: BTreeMap::new(),
    };
    let segments: Vec<&Segment> = ask
        .stage
        .segments
        .iter()
        .filter(|one| one.duration_ms > 0)
        .collect();
    let mut cues: Vec<Cue> = Vec::with_capacity(segments.len());
    let mut start_ms = 0;
    for (i, segment) in segments.iter().enumerate() {
        let mut cue = maker.cue(segment, &segments[i..], start_ms)?;
        number(&mut cue, &cues, &segments, ask);
        start_ms = cue.end_ms();
        cues.push(cue);
    }
    let parts = parts(&mut cues, maker.say);
    Ok(Cued {
        cues,
        parts,
        figures: maker.figures,
    })
}

/// Numbers of turn and station, and whether a further round begins.
fn number(cue: &mut Cue, before: &[Cue], segments: &[&Segment], ask: &Ask<'_>) {
    let words = ask.words;
    let brisk = before.iter().filter(|one| one.kind == CueKind::Brisk);
    if cue.kind == CueKind::Brisk {
        let of = segments
            .iter()
            .filter(|one| kind_of(one) == CueKind::Brisk && one.round == cue.round)
            .count() as u16;
        let number = brisk.clone().filter(|one| one.round == cue.round).count() as u16 + 1;
        cue.turn = Some(TurnNumber {
            number,
            of,
            through: brisk.count() as u16 + 1,
        });
        let (n, c) = (number.to_string(), of.to_string());
        cue.title = words.fill("page.parts.brisk-turn-of", &[("number", &n), ("count", &c)]);
        cue.short = words.fill("page.parts.brisk-turn", &[("number", &n)]);
    }
    let is_station = |kind: CueKind| matches!(kind, CueKind::Brisk | CueKind::Easy);
    if is_station(cue.kind) {
        let done = before.iter().filter(|one| is_station(one.kind)).count();
        cue.station = u8::try_from(done + 1).ok();
    }
    cue.once_more = cue.round > 1 && !before.iter().any(|one| one.round == cue.round);
}

fn kind_of(segment: &Segment) -> CueKind {
    match pace_of(segment.phase, segment.kind, segment.doing.is_some()) {
        Pace::Slope => CueKind::Slope,
        Pace::Brisk => CueKind::Brisk,
        Pace::Easy => CueKind::Easy,
        Pace::Walk => CueKind::Walk,
        Pace::Rest => CueKind::Rest,
    }
}

struct Maker<'a> {
    ask: &'a Ask<'a>,
    say: Say<'a>,
    build: Build,
    figures: BTreeMap<String, Still>,
}

impl Maker<'_> {
    fn cue(
        &mut self,
        segment: &Segment,
        from_here: &[&Segment],
        start_ms: u64,
    ) -> Result<Cue, OrderRefused> {
        let kind = kind_of(segment);
        // The way to a place is told with the place it leads to.
        let ahead = from_here
            .iter()
            .find(|one| kind_of(one) != CueKind::Walk)
            .copied()
            .unwrap_or(segment);
        let place = if kind == CueKind::Walk {
            ahead.place_name.clone()
        } else {
            segment.place_name.clone()
        };
        let (doing, easier) = match &segment.doing {
            Some(named) => (self.doing(named, segment)?, self.easier(named, segment)?),
            None => self.plain(segment, ahead, kind)?,
        };
        let words = self.ask.words;
        let title = match kind {
            CueKind::Slope if segment.phase == Phase::WarmUp => words.get("page.parts.warm-up"),
            CueKind::Slope => words.get("page.parts.cool-down"),
            CueKind::Brisk => words.get("page.parts.brisk-turn"),
            CueKind::Easy => words.get("page.parts.easy-turn"),
            CueKind::Walk if segment.kind == SegmentKind::March => words.get("page.parts.march"),
            CueKind::Walk => words.get("page.parts.walk"),
            CueKind::Rest => words.get("page.parts.rest"),
        };
        let at_place = if place.is_empty() {
            String::new()
        } else {
            words.fill("page.session.at-place", &[("place", &place)])
        };
        Ok(Cue {
            start_ms,
            duration_ms: segment.duration_ms,
            phase: segment.phase,
            kind,
            round: segment.round,
            once_more: false,
            station: None,
            turn: None,
            title: title.to_owned(),
            short: title.to_owned(),
            place,
            at_place,
            serves: self.serves(segment),
            length: String::new(),
            feel: self.feel(segment, kind),
            doing,
            easier,
        })
    }

    fn serves(&self, segment: &Segment) -> String {
        segment
            .doing
            .as_ref()
            .and_then(|named| self.ask.words.exercise(named))
            .map_or_else(String::new, |words| sentence(&words.serves))
    }

    fn feel(&self, segment: &Segment, kind: CueKind) -> String {
        let words = self.ask.words;
        let band = self.ask.limits.effort;
        let (low, high) = (self.say.value(band.low), self.say.value(band.high));
        let values = [("low", low.as_str()), ("high", high.as_str())];
        match kind {
            CueKind::Brisk if self.ask.limits.effort_scale == EffortScale::SixToTwenty => {
                words.fill("page.session.effort-brisk-20", &values)
            }
            CueKind::Brisk => words.fill("page.session.effort-brisk", &values),
            CueKind::Easy => words.get("page.session.effort-easy").to_owned(),
            CueKind::Slope if segment.phase == Phase::WarmUp => {
                words.get("page.session.effort-warm-up").to_owned()
            }
            CueKind::Slope => words.get("page.session.effort-cool-down").to_owned(),
            CueKind::Walk | CueKind::Rest => String::new(),
        }
    }

    fn find(&self, named: &VariantRef) -> Result<(&Exercise, &Variant), OrderRefused> {
        self.ask
            .exercises
            .find(named)
            .ok_or_else(|| OrderRefused::UnknownExercise {
                exercise: named.exercise.clone(),
                variant: named.variant.clone(),
            })
    }

    fn place_kind(&self, segment: &Segment) -> Option<PlaceKind> {
        let place = self.ask.case.home.places.get(segment.place?)?;
        Some(place.kind)
    }

    /// One way of doing an exercise in words and picture.
    fn doing(&mut self, named: &VariantRef, segment: &Segment) -> Result<Doing, OrderRefused> {
        let ask = self.ask;
        let said = ask
            .words
            .exercise(named)
            .ok_or_else(|| OrderRefused::NoWords {
                exercise: named.exercise.clone(),
                variant: named.variant.clone(),
                language: ask.words.language().to_owned(),
            })?;
        let place = self.place_kind(segment);
        let (exercise, variant) =
            ask.exercises
                .find(named)
                .ok_or_else(|| OrderRefused::UnknownExercise {
                    exercise: named.exercise.clone(),
                    variant: named.variant.clone(),
                })?;
        let facts = Facts::of(exercise, variant, place);
        let key = key_of(&facts);
        let build = self.build;
        self.figures
            .entry(key.clone())
            .or_insert_with(|| still(&facts, build, &said.name));
        let is_own = segment.doing.as_ref() == Some(named);
        let per_minute = if is_own {
            segment.per_minute
        } else {
            variant.per_minute
        };
        Ok(Doing {
            what: Some(named.clone()),
            name: said.name.clone(),
            way: said.way.clone(),
            set_up: said.set_up.clone(),
            stance: Some(Stance {
                posture: variant.posture,
                support: variant.support,
            }),
            lines: said.say.iter().take(3).cloned().collect(),
            tempo_long: self.tempo_long(variant, per_minute),
            tempo: self.tempo(variant, per_minute),
            care: said.care.clone(),
            figure: Some(key),
        })
    }

    fn tempo(&self, variant: &Variant, per_minute: Option<f64>) -> String {
        let words = self.ask.words;
        if let Some(rate) = per_minute {
            let rate = self.say.number(libm::round(rate) as u64);
            let steps = variant.posture == Posture::Walking;
            let id = if steps {
                "page.session.steps"
            } else {
                "page.session.beat"
            };
            return words.fill(id, &[("per_minute", &rate)]);
        }
        match variant.hold_s {
            Some((from, _)) => {
                let seconds = self.say.number(libm::round(from) as u64);
                words.fill("page.session.hold", &[("seconds", &seconds)])
            }
            None => String::new(),
        }
    }

    fn tempo_long(&self, variant: &Variant, per_minute: Option<f64>) -> String {
        let tempo = self.tempo(variant, per_minute);
        if per_minute.is_some() {
            format!("{tempo} {}", self.ask.words.get("page.session.slower-fine"))
        } else {
            tempo
        }
    }

    /// The easier way that stands ready: the plan's own, which was chosen for this person, where it can be done at this
    /// place; where it cannot, or there is none, the same thing smaller and slower.
    fn easier(&mut self, named: &VariantRef, segment: &Segment) -> Result<Doing, OrderRefused> {
        let place = self.place_kind(segment);
        if let Some(candidate) = segment.easier.as_ref().filter(|one| *one != named) {
            let (_, variant) = self.find(candidate)?;
            // A seated way fits wherever there is a chair, and every session has one within reach.
            let fits = place.is_none_or(|kind| variant.places.contains(&kind))
                || variant.posture == Posture::Seated;
            if fits {
                return self.doing(candidate, segment);
            }
        }
        let mut same = self.doing(named, segment)?;
        same.way = self.ask.words.get("page.eased.smaller-way").to_owned();
        same.lines = vec![
            self.ask.words.get("page.eased.smaller").to_owned(),
            self.ask.words.get("page.eased.easiest").to_owned(),
        ];
        same.tempo = String::new();
        same.tempo_long = String::new();
        Ok(same)
    }

    /// Walking over, marching in its stead, and rest: with what comes next made ready.
    fn plain(
        &mut self,
        segment: &Segment,
        ahead: &Segment,
        kind: CueKind,
    ) -> Result<(Doing, Doing), OrderRefused> {
        let ask = self.ask;
        let words = ask.words;
        let next = match &ahead.doing {
            Some(named) => Some(self.doing(named, ahead)?),
            None => None,
        };
        let first = if kind == CueKind::Rest {
            words.get("page.session.rest-now").to_owned()
        } else if segment.kind == SegmentKind::March {
            words.get("page.session.march-there").to_owned()
        } else if ahead.place_name.is_empty() {
            words.get("page.session.stay-here").to_owned()
        } else {
            words.fill("page.session.go-to-place", &[("place", &ahead.place_name)])
        };
        let name = match kind {
            CueKind::Rest => words.get("page.parts.rest").to_owned(),
            _ if segment.kind == SegmentKind::March => words.get("page.parts.march").to_owned(),
            _ if ahead.place_name.is_empty() => first.trim_end_matches('.').to_owned(),
            _ => capital(words.get("page.parts.walk")),
        };
        let mut lines = vec![first];
        if let Some(next) = &next {
            lines.push(words.fill("page.session.after-this", &[("exercise", &next.name)]));
        }
        let doing = Doing {
            what: None,
            name,
            way: String::new(),
            set_up: next
                .as_ref()
                .map_or_else(String::new, |one| one.set_up.clone()),
            stance: None,
            lines,
            tempo: String::new(),
            tempo_long: String::new(),
            care: String::new(),
            figure: next.as_ref().and_then(|one| one.figure.clone()),
        };
        let mut easier = doing.clone();
        easier.lines = vec![words.get("page.session.rest-now").to_owned()];
        Ok((doing, easier))
    }
}
