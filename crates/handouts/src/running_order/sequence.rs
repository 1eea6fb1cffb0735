//! The session as lists in order, to be done from paper with a clock: every part, every thing in it, how long.
//!
//! A thing can last 33.75 seconds, and no clock shows that. So the moments at which one thing ends and the next begins are
//! taken at the nearest mark of a clock's face, and a length is what lies between two of them: no part gets shorter or
//! longer by it, and nothing begins more than half a mark too early or too late.

use super::say::{Say, sentence};
use super::{Cue, CueKind, Stance};
use rehab::assessment::Support;
use rehab::programme::{Phase, Posture};

/// Marks of a clock's face in ms. Source: page-ours.
const MARK_MS: u64 = 5_000;

/// A part of the session as a list: getting warm, a round, slowing down.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Part of the session.
    pub phase: Phase,
    /// Round, from 1; 0 outside the conditioning part.
    pub round: u8,
    /// "Getting warm", "Round 2 of 2".
    pub head: String,
    /// "At the armchair", where all of it is at one place; else empty.
    pub place: String,
    /// How many brisk turns, in words; empty where there is none.
    pub turns: String,
    /// Length in seconds.
    pub length_s: u32,
    /// The same in words.
    pub length: String,
    /// Where it is the round before it once more, second for second: the sentence that says so.
    pub again: Option<String>,
    /// What is done, in order.
    pub rows: Vec<Row>,
}

/// A thing to do in its turn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Its cue in [`super::RunningOrder::cues`]; the first, where the same thing goes on.
    pub cue: usize,
    /// What the clock shows when it begins, from the begin of the part: "3:45".
    pub from: String,
    /// How it is begun where that differs from the row before: "standing, both hands on, at the worktop".
    pub how: String,
    /// Length in seconds.
    pub length_s: u32,
    /// The same in words.
    pub length: String,
}

/// The lists of a session; every cue is given its length as the clock shows it.
pub(super) fn parts(cues: &mut [Cue], say: Say<'_>) -> Vec<Part> {
    let mut parts: Vec<Part> = Vec::new();
    let mut from = 0;
    let rounds = cues.iter().map(|cue| cue.round).max().unwrap_or(0);
    while from < cues.len() {
        let key = |cue: &Cue| (cue.phase, cue.round);
        let of = key(&cues[from]);
        let same = cues[from..].iter().take_while(|cue| key(cue) == of);
        let to = from + same.count();
        let ends = ends_s(&cues[from..to]);
        let mut begin_s = 0;
        for (cue, end_s) in cues[from..to].iter_mut().zip(&ends) {
            cue.length = sentence(&say.length((end_s - begin_s).saturating_mul(1000)));
            begin_s = *end_s;
        }
        let mut part = Maker { cues, say }.part(from..to, &ends, rounds);
        let before = parts.last().filter(|before| before.phase == part.phase);
        if let Some(before) = before {
            part.again = again(cues, before.rows[0].cue..from, from..to, say);
        }
        parts.push(part);
        from = to;
    }
    parts
}

/// When each cue of a part ends, in seconds from the begin of the part, as a clock shows it; the last as it is.
fn ends_s(cues: &[Cue]) -> Vec<u32> {
    let start = cues.first().map_or(0, |cue| cue.start_ms);
    let whole = cues.last().map_or(0, |cue| cue.end_ms() - start);
    let whole_s = whole.div_ceil(1000);
    let ends = cues.iter().map(|cue| {
        let end = cue.end_ms() - start;
        let marked_s = (end + MARK_MS / 2) / MARK_MS * MARK_MS / 1000;
        if end == whole {
            whole_s
        } else {
            marked_s.min(whole_s)
        }
    });
    ends.map(|end| u32::try_from(end).unwrap_or(u32::MAX))
        .collect()
}

/// What says that a round is the one before it once more, where it is exactly that.
fn again(
    cues: &[Cue],
    before: std::ops::Range<usize>,
    this: std::ops::Range<usize>,
    say: Say<'_>,
) -> Option<String> {
    let (one, two) = (&cues[before], &cues[this]);
    let same = one.len() == two.len()
        && one.iter().zip(two).all(|(one, two)| {
            (one.kind, one.duration_ms, &one.place) == (two.kind, two.duration_ms, &two.place)
                && one.doing == two.doing
                && one.easier == two.easier
        });
    let round = one.first()?.round.to_string();
    same.then(|| say.words.fill("print.list.again", &[("round", &round)]))
}

struct Maker<'a> {
    cues: &'a [Cue],
    say: Say<'a>,
}

impl Maker<'_> {
    fn part(&self, cues: std::ops::Range<usize>, ends: &[u32], rounds: u8) -> Part {
        let first = &self.cues[cues.start];
        let words = self.say.words;
        let head = match first.phase {
            Phase::WarmUp => words.get("page.parts.warm-up").to_owned(),
            Phase::CoolDown => words.get("page.parts.cool-down").to_owned(),
            Phase::Conditioning if rounds > 1 => words.fill(
                "print.list.round",
                &[
                    ("round", &first.round.to_string()),
                    ("count", &rounds.to_string()),
                ],
            ),
            Phase::Conditioning => words.get("page.parts.conditioning").to_owned(),
        };
        let mut places: Vec<&str> = Vec::new();
        for cue in &self.cues[cues.clone()] {
            if !cue.place.is_empty() && !places.contains(&cue.place.as_str()) {
                places.push(&cue.place);
            }
        }
        let place = match places.as_slice() {
            [one] => words.fill("page.session.at-place", &[("place", one)]),
            _ => String::new(),
        };
        let rows = self.rows(cues.clone(), ends, places.len() > 1);
        let length_s = ends.last().copied().unwrap_or(0);
        Part {
            phase: first.phase,
            round: first.round,
            head,
            place,
            turns: self.turns(&self.cues[cues]),
            length_s,
            length: self.length(length_s),
            again: None,
            rows,
        }
    }

    fn turns(&self, cues: &[Cue]) -> String {
        let words = self.say.words;
        match cues.iter().filter(|cue| cue.turn.is_some()).count() as u64 {
            0 => String::new(),
            1 => words.get("print.list.turn").to_owned(),
            more => words.fill("print.list.turns", &[("count", &self.say.number(more))]),
        }
    }

    /// A row for every cue; what goes on unchanged is one.
    fn rows(&self, cues: std::ops::Range<usize>, ends: &[u32], tells_place: bool) -> Vec<Row> {
        let mut rows: Vec<Row> = Vec::new();
        let mut begin_s = 0;
        for (index, end_s) in cues.clone().zip(ends) {
            let before = (index > cues.start).then(|| index - 1);
            let length_s = end_s - begin_s;
            match rows.last_mut() {
                Some(last) if before.is_some_and(|before| self.goes_on(before, index)) => {
                    last.length_s += length_s;
                    last.length = self.length(last.length_s);
                }
                _ => rows.push(Row {
                    cue: index,
                    from: format!("{}:{:02}", begin_s / 60, begin_s % 60),
                    how: self.how(before, index, tells_place),
                    length_s,
                    length: self.length(length_s),
                }),
            }
            begin_s = *end_s;
        }
        rows
    }

    fn goes_on(&self, before: usize, index: usize) -> bool {
        let (one, two) = (&self.cues[before], &self.cues[index]);
        one.kind == CueKind::Slope
            && two.kind == CueKind::Slope
            && one.doing == two.doing
            && one.easier == two.easier
            && one.place == two.place
    }

    /// How a thing is begun, as far as that differs from the one before: posture, hands, which of two of one name, place.
    fn how(&self, before: Option<usize>, index: usize, tells_place: bool) -> String {
        let words = self.say.words;
        let cue = &self.cues[index];
        let before = before.map(|before| &self.cues[before]);
        let stood = before.and_then(|cue| cue.doing.stance);
        let mut how: Vec<String> = Vec::new();
        if let Some(stance) = cue.doing.stance {
            how.extend(told(stood, stance).map(|id| words.get(id).to_owned()));
        }
        if self.has_namesake(cue) {
            how.retain(|one| !cue.doing.way.contains(one.as_str()));
            how.push(cue.doing.way.clone());
        }
        let moved = before.is_none_or(|before| before.place != cue.place);
        // The sentence of a way to a place names the place.
        let named = cue.doing.what.is_none() && cue.told().contains(&cue.place);
        if tells_place && moved && !named && !cue.place.is_empty() {
            how.push(words.fill("print.list.at-place", &[("place", &cue.place)]));
        }
        how.join(", ")
    }

    /// Whether something else of this session bears the same name and is begun alike.
    fn has_namesake(&self, cue: &Cue) -> bool {
        let doing = &cue.doing;
        doing.what.is_some()
            && self.cues.iter().any(|other| {
                other.doing.name == doing.name
                    && other.doing.what != doing.what
                    && other.doing.stance == doing.stance
            })
    }

    /// A length in figures, short enough for a column.
    fn length(&self, seconds: u32) -> String {
        let words = self.say.words;
        let (minutes, rest) = ((seconds / 60).to_string(), (seconds % 60).to_string());
        match (seconds / 60, seconds % 60) {
            (1, 0) => words.get("print.list.minute").to_owned(),
            (0 | 1, _) => words.fill("print.list.seconds", &[("seconds", &seconds.to_string())]),
            (_, 0) => words.fill("print.list.minutes", &[("minutes", &minutes)]),
            _ => words.fill(
                "print.list.minutes-seconds",
                &[("minutes", &minutes), ("seconds", &rest)],
            ),
        }
    }
}

/// Ids of the words for what changes in posture and hands.
fn told(before: Option<Stance>, now: Stance) -> impl Iterator<Item = &'static str> {
    let sits = |stance: Stance| {
        stance.support == Support::Seated
            || matches!(stance.posture, Posture::Seated | Posture::Rising)
    };
    let posture = match (before.map(sits), sits(now)) {
        (Some(same), now) if same == now => None,
        (_, true) => Some("print.list.sitting"),
        (_, false) if now.posture == Posture::Walking => None,
        (_, false) => Some("print.list.standing"),
    };
    let changed = before.is_none_or(|before| before.support != now.support);
    let hands = match now.support {
        Support::OneHand if changed => Some("print.list.one-hand"),
        Support::TwoHands if changed => Some("print.list.two-hands"),
        // Letting go is told; that nothing was held before the first thing is not.
        Support::None if changed && before.is_some_and(|before| !sits(before)) => {
            Some("print.list.hands-free")
        }
        _ => None,
    };
    posture.into_iter().chain(hands)
}
