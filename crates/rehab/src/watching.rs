//! What a watched turn shows: whether all of it was in order, and what in it would have ended the session.
//!
//! A good technique alone says nothing of the heart: what is done alone at home was watched at an effort, a pulse and a
//! pressure that were in order, without a symptom.

mod rules;

pub(crate) use rules::RULES;

use crate::assessed::{CeilingKind, Limits};
use crate::assessment::{Case, Effort, Pressure, Watched};
use crate::diary::{DiarySymptom, SymptomKind};
use crate::evidence::{Finding, Named, Weight};
use crate::inputs::counted;
use crate::known::Known;
use crate::review::{FAR_OVER_BPM, SymptomClass, classify, far_above, hardest};
use jiff::civil::Date;

/// Systolic pressure in exercise from which it is stopped, in mmHg.
// Source: cr-training-sheets: 240 to 250 over 110 to 115; the lower ends, which are the stricter ones, are ours.
// aha-acc-stop: above 250 over 115.
pub(crate) const STOP_SYSTOLIC_MMHG: f64 = 240.0;
/// Diastolic pressure in exercise from which it is stopped, in mmHg. Sources: as of the systolic one.
pub(crate) const STOP_DIASTOLIC_MMHG: f64 = 110.0;
/// Fall of systolic pressure under the resting one that stops exercise, in mmHg.
// Source: uk-phase-iv (secondary): 20 mmHg.
pub(crate) const STOP_FALL_MMHG: f64 = 20.0;

/// What a reading is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Of {
    Effort,
    Pulse,
    Pressure,
    Symptom,
}

/// One thing of a watched turn that was outside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Outside {
    pub(crate) of: Of,
    /// In words: what was seen against what is agreed.
    pub(crate) text: String,
    /// So far outside that somebody is asked before anything goes on; what the screening holds is asked there.
    pub(crate) asks: bool,
}

/// Everything of a watched turn that was outside; empty where all that was taken is in order.
pub(crate) fn outside(known: &Known, limits: &Limits, one: &Watched) -> Vec<Outside> {
    let effort = one.effort.and_then(|effort| effort_outside(limits, effort));
    let pulse = one.hr_bpm.and_then(|bpm| pulse_outside(limits, bpm));
    let pressure = pressure_stop(known, one).map(|text| Outside {
        of: Of::Pressure,
        text,
        asks: false,
    });
    let felt = symptoms(known.case, one).filter_map(|(kind, class)| {
        let outside = matches!(class, SymptomClass::Red | SymptomClass::Changed);
        outside.then(|| Outside {
            of: Of::Symptom,
            text: kind.word().replace('-', " "),
            asks: class == SymptomClass::Changed,
        })
    });
    let taken = [effort, pulse, pressure].into_iter().flatten();
    taken.chain(felt).collect()
}

/// Of another scale than the one that is agreed only the hard end can be told.
fn effort_outside(limits: &Limits, effort: Effort) -> Option<Outside> {
    let (value, scale) = (effort.value, effort.scale);
    if scale != limits.effort_scale {
        return (value >= hardest(scale)).then(|| Outside {
            of: Of::Effort,
            text: format!("effort {value} on {scale}, the hard end of its scale"),
            asks: true,
        });
    }
    let high = limits.effort.high;
    (value > high).then(|| Outside {
        of: Of::Effort,
        text: format!("effort {value}, above the agreed {high}"),
        asks: value >= high + far_above(scale),
    })
}

/// A guiding rate guides: only what is far above it is outside.
fn pulse_outside(limits: &Limits, bpm: f64) -> Option<Outside> {
    let over = |rate: f64, what: &str| Outside {
        of: Of::Pulse,
        text: format!("pulse {bpm}, {what} {rate}"),
        asks: true,
    };
    let hard = limits.hard_rate().map(|rate| rate.to_bpm());
    if let Some(rate) = hard.filter(|rate| bpm > *rate) {
        return Some(over(rate, "above the hard limit of"));
    }
    let guiding = limits
        .ceiling
        .filter(|ceiling| ceiling.kind == CeilingKind::Guiding)
        .map(|ceiling| ceiling.rate.to_bpm());
    guiding
        .filter(|rate| bpm > rate + FAR_OVER_BPM)
        .map(|rate| over(rate, "far above the guiding"))
}

/// A pressure that stops exercise: at a stop value, or fallen under the resting one.
fn pressure_stop(known: &Known, one: &Watched) -> Option<String> {
    let bp = one.bp?;
    let words = format!("pressure {}/{}", bp.systolic_mmhg, bp.diastolic_mmhg);
    if at_stop_value(bp) {
        return Some(format!(
            "{words}, at a value that stops exercise ({STOP_SYSTOLIC_MMHG}/{STOP_DIASTOLIC_MMHG})"
        ));
    }
    let resting = resting_before(known, one.date)?;
    let fall = resting.systolic_mmhg - bp.systolic_mmhg;
    (fall >= STOP_FALL_MMHG).then(|| format!("{words}, a fall of {fall} under the resting one"))
}

/// Whether a pressure in exercise is at a value that stops it.
pub(crate) fn at_stop_value(bp: Pressure) -> bool {
    bp.systolic_mmhg >= STOP_SYSTOLIC_MMHG || bp.diastolic_mmhg >= STOP_DIASTOLIC_MMHG
}

fn resting_before(known: &Known, day: Date) -> Option<Pressure> {
    let examinations = known.examinations().into_iter();
    let mut before = examinations.filter(|one| one.date <= day);
    before.find_map(|one| one.resting_bp)
}

/// What was felt, each with what it means for this person. Nobody said that it was as usual.
fn symptoms<'a>(
    case: &'a Case,
    one: &'a Watched,
) -> impl Iterator<Item = (SymptomKind, SymptomClass)> + 'a {
    one.symptoms.iter().flatten().map(|kind| {
        let told = DiarySymptom {
            kind: *kind,
            usual: None,
            score: None,
            nitrate_used: None,
        };
        (*kind, classify(case, &told).0)
    })
}

/// The symptoms of a watched turn that stop.
pub(crate) fn red_symptoms(case: &Case, one: &Watched) -> Vec<SymptomKind> {
    symptoms(case, one)
        .filter(|(_, class)| *class == SymptomClass::Red)
        .map(|(kind, _)| kind)
        .collect()
}

/// Whether something in a watched turn ends a session: a symptom that stops, a pressure that stops, an effort at the hard
/// end of its scale. The day is then none of those that open the way to exercise alone.
pub(crate) fn ends_the_session(known: &Known, one: &Watched) -> bool {
    let hard = |effort: Effort| effort.value >= hardest(effort.scale);
    one.effort.is_some_and(hard)
        || pressure_stop(known, one).is_some()
        || !red_symptoms(known.case, one).is_empty()
}

/// The newest watching of every way up to the day; of two on one day the one written later.
pub(crate) fn newest<'a>(known: &Known<'a>) -> Vec<&'a Watched> {
    let mut newest: Vec<&Watched> = Vec::new();
    for one in known.case.watched.iter().filter(|one| one.date <= known.on) {
        let same =
            |before: &&Watched| before.exercise == one.exercise && before.variant == one.variant;
        match newest.iter().position(same) {
            Some(at) if newest[at].date <= one.date => newest[at] = one,
            Some(_) => {}
            None => newest.push(one),
        }
    }
    newest
}

/// One day on which something watched was outside, and nothing since has shown it in order.
pub(crate) struct Day {
    pub(crate) date: Date,
    ways: usize,
    outside: Vec<Outside>,
}

impl Day {
    /// In words; only what `says` picks, and nothing where it picks nothing.
    pub(crate) fn in_words(&self, says: impl Fn(&Outside) -> bool) -> Option<String> {
        /// As many reasons as can be read at a glance.
        const MOST: usize = 4;
        let mut texts: Vec<&str> = Vec::new();
        for one in self.outside.iter().filter(|one| says(one)) {
            if !texts.contains(&one.text.as_str()) {
                texts.push(&one.text);
            }
        }
        let more = texts.len().saturating_sub(MOST);
        texts.truncate(MOST);
        let said = texts.join("; ");
        let more = if more > 0 {
            format!("; and {more} more")
        } else {
            String::new()
        };
        (!said.is_empty()).then(|| {
            let ways = counted(self.ways, "way", "ways");
            format!(
                "watched on {}, {ways} not in order: {said}{more}",
                self.date
            )
        })
    }
}

/// The days since the newest event on which something was outside, oldest first: what was watched again since counts by
/// the newest time, and an examination on a later day settles what was asked.
pub(crate) fn days_outside(known: &Known, limits: &Limits) -> Vec<Day> {
    let examined = known.examination().map(|one| one.date);
    let since = known.newest_event().max(examined);
    let mut days: Vec<Day> = Vec::new();
    for one in newest(known) {
        let found = outside(known, limits, one);
        if found.is_empty() || since.is_some_and(|day| one.date < day) {
            continue;
        }
        match days.iter_mut().find(|day| day.date == one.date) {
            Some(day) => {
                day.ways += 1;
                day.outside.extend(found);
            }
            None => days.push(Day {
                date: one.date,
                ways: 1,
                outside: found,
            }),
        }
    }
    days.sort_by_key(|day| day.date);
    days
}

/// What the assessment of the day says of it.
pub(crate) fn findings(known: &Known, limits: &Limits) -> Vec<Finding> {
    let days = days_outside(known, limits).into_iter();
    let told = days.filter_map(|day| {
        let words = day.in_words(|_| true)?;
        let text = format!(
            "W{}. Not alone until watched again and in order",
            &words[1..]
        );
        let finding = rules::TURN.finding(Weight::Caution, text);
        Some(finding.with(Named::date("watched", day.date)))
    });
    told.collect()
}
