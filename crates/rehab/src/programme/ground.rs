//! What is the same for every rung of one person: places, ways, response, ceiling, change-overs, times a week.

use super::at_home::AtHome;
use super::ceiling::HardCeiling;
use super::choices::Choices;
use super::eligible::{self, Eligible, Way};
use super::places::{self, Stop};
use super::response::{Response, Work};
use super::{ExerciseKind, Exercises, Phase, Segment, SegmentKind};
use crate::assessed::{Assessed, RiskClass};
use crate::assessment::{Case, HistoryItem};
use crate::eligibility::watched_days;
use crate::evidence::{Answer, Finding, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::known::Known;
use crate::service::Service;

/// Walking slowly indoors, and marching gently in its stead: METs best, low, high. Source: `compendium-2024` (17151,
/// 2.3) and `movement-ours`.
const MOVING: (f64, f64, f64) = (2.3, 1.8, 2.8);
/// Standing or sitting quietly. Source: `compendium-2024` (07040, 1.3; 07021, 1.0).
const RESTING: (f64, f64, f64) = (1.3, 1.0, 1.3);
/// Most times a week at first and in heart failure. Source: `ccs-heart-failure` (2 to 3 times a week to begin).
const GENTLE_TIMES: u8 = 3;
/// Shortest change-over for those who need slow changes of posture, s, also where a service sets less. Source:
/// `programme-ours`.
const SLOW_CHANGE_OVER_S: u32 = 15;
/// Least and most times a week. Source: `programme-ours`.
pub(crate) const TIMES: (u8, u8) = (2, 5);
/// Times a week where no wish is known. Source: `uk-acpicr-bacpr`, `thow-2006` (three times a week).
const USUAL_TIMES: u8 = 3;

/// What is asked for.
#[derive(Clone, Copy)]
pub(crate) struct Asked<'a> {
    pub(crate) case: &'a Case,
    pub(crate) service: &'a Service,
    pub(crate) exercises: &'a Exercises,
    pub(crate) assessed: &'a Assessed,
    pub(crate) choices: &'a Choices,
}

/// How one gets from one station to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ChangeOver {
    /// How long it lasts, s.
    pub(crate) seconds: u32,
    /// Walking and marching are open.
    pub(crate) moving: bool,
    pub(crate) mets: f64,
    pub(crate) mets_low: f64,
    pub(crate) mets_high: f64,
}

/// The ground.
pub(crate) struct Ground<'a> {
    pub(crate) asked: Asked<'a>,
    pub(crate) stops: Vec<Stop>,
    pub(crate) eligible: Eligible<'a>,
    pub(crate) response: Option<Response>,
    /// Hard ceiling of the longest session.
    pub(crate) ceiling: Option<HardCeiling>,
    pub(crate) change_over: ChangeOver,
    /// Times a week as wished and allowed; a ladder may have fewer, see its climb.
    pub(crate) times_a_week: u8,
    /// The page that lies at home.
    pub(crate) at_home: Option<AtHome>,
    pub(crate) findings: Vec<Finding>,
}

impl<'a> Ground<'a> {
    pub(crate) fn new(asked: Asked<'a>) -> Self {
        let known = Known::new(asked.case, asked.service, asked.assessed.on);
        let (stops, findings) = places::stops(asked.case);
        let eligible = eligible::sort(&eligible::Ask {
            known,
            assessed: asked.assessed,
            exercises: asked.exercises,
            choices: asked.choices,
            stops: &stops,
        });
        let response = Response::of(asked.case, asked.service, asked.assessed);
        let longest_s = f64::from(asked.service.lengths.session_max_s);
        let ceiling = response
            .as_ref()
            .and_then(|response| HardCeiling::of(&asked, response, &eligible.ways, longest_s));
        let change_over = change_over(&asked, response.as_ref(), ceiling.as_ref());
        Self {
            times_a_week: times_a_week(&known, asked.assessed),
            at_home: AtHome::on(&asked.choices.given, asked.assessed.on),
            asked,
            stops,
            eligible,
            response,
            ceiling,
            change_over,
            findings,
        }
    }

    /// Hard ceiling of a session of a length.
    pub(crate) fn ceiling_of(&self, session_s: f64) -> Option<HardCeiling> {
        let response = self.response.as_ref()?;
        HardCeiling::of(&self.asked, response, &self.eligible.ways, session_s)
    }

    /// Open ways of a kind.
    pub(crate) fn ways(&self, kind: ExerciseKind) -> impl Iterator<Item = &Way<'a>> {
        self.eligible
            .ways
            .iter()
            .filter(move |way| way.exercise.is(kind))
    }

    /// A segment in which a way is done at a stop.
    pub(crate) fn segment(
        &self,
        phase: Phase,
        kind: SegmentKind,
        way: &Way<'a>,
        stop: usize,
        duration_ms: u32,
    ) -> Segment {
        Segment {
            phase,
            kind,
            doing: Some(way.named()),
            place: self.stops[stop].place,
            place_name: self.stops[stop].name.clone(),
            round: 0,
            duration_ms,
            per_minute: way.variant.per_minute,
            mets: way.mets,
            mets_low: way.mets_low,
            mets_high: way.mets_high,
            hr_gain: way.exercise.hr_gain,
            predicted_hr: None,
            predicted_sd: None,
            easier: self.eligible.easier(self.asked.exercises, way),
            to_watch: !way.watched,
        }
    }

    /// A segment between stations, or one of rest where nothing else is open.
    pub(crate) fn between(
        &self,
        phase: Phase,
        kind: SegmentKind,
        stop: Option<usize>,
        duration_ms: u32,
    ) -> Segment {
        let (mets, mets_low, mets_high) = if kind == SegmentKind::Rest {
            RESTING
        } else {
            MOVING
        };
        let stop = stop.and_then(|stop| self.stops.get(stop));
        Segment {
            phase,
            kind,
            doing: None,
            place: stop.and_then(|stop| stop.place),
            place_name: stop.map_or_else(String::new, |stop| stop.name.clone()),
            round: 0,
            duration_ms,
            per_minute: None,
            mets,
            mets_low,
            mets_high,
            hr_gain: 1.0,
            predicted_hr: None,
            predicted_sd: None,
            easier: None,
            to_watch: false,
        }
    }
}

/// What the response needs of segments.
pub(crate) fn work_of(segments: &[Segment]) -> Vec<Work> {
    segments
        .iter()
        .map(|segment| Work {
            duration_ms: segment.duration_ms,
            mets: segment.mets,
            mets_low: segment.mets_low,
            mets_high: segment.mets_high,
            hr_gain: segment.hr_gain,
        })
        .collect()
}

fn change_over(
    asked: &Asked<'_>,
    response: Option<&Response>,
    ceiling: Option<&HardCeiling>,
) -> ChangeOver {
    let limits = &asked.assessed.limits;
    let under_ceiling = response.zip(ceiling).is_none_or(|(response, ceiling)| {
        response.level_bpm + response.slope * (MOVING.0 - 1.0)
            <= ceiling.most_bpm - ceiling.drift_most_bpm
    });
    let moving =
        limits.balance_max >= 1 && limits.mets_station_high.to_mets() >= MOVING.0 && under_ceiling;
    let (mets, mets_low, mets_high) = if moving { MOVING } else { RESTING };
    let set_s = asked.service.lengths.changeover_s;
    let seconds = if limits.hypotensive {
        set_s.max(SLOW_CHANGE_OVER_S)
    } else {
        set_s
    };
    ChangeOver {
        seconds,
        moving,
        mets,
        mets_low,
        mets_high,
    }
}

/// Times a week: the wish within two to five; at most three in the first fortnight, in high risk and in heart failure. After
/// an event one begins again.
fn times_a_week(known: &Known<'_>, assessed: &Assessed) -> u8 {
    let wish = known.case.wishes.sessions_per_week.unwrap_or(USUAL_TIMES);
    let first = watched_days(known).into_iter().next();
    let gentle_days = i32::from(known.service.gentle_days);
    let beginning =
        first.is_none_or(|first| crate::calendar::days_between(first, known.on) < gentle_days);
    let gentle =
        beginning || assessed.risk.class == RiskClass::High || known.has(HistoryItem::HeartFailure);
    let most = if gentle { GENTLE_TIMES } else { TIMES.1 };
    wish.clamp(TIMES.0, most)
}

const TIMES_RULE: Rule = Rule {
    id: RuleId("programme/times-a-week"),
    name: "Sessions a week",
    statement: "As wished, from 2 to 5; at most 3 in the first fortnight (counted from the first watched session since the newest event), in high risk and in heart failure; 3 where no wish is known. The number stays the same from rung to rung, because one session more would pass the growth of a week; for the same reason it stays that of the page at home where more does not fit.",
    sources: &[
        SourceId("ccs-heart-failure"),
        SourceId("uk-acpicr-bacpr"),
        SourceId("programme-ours"),
    ],
    tag: Tag::Ours,
    inputs: &[
        Input::number("wish", "a week", 1.0, 14.0).or_none(),
        Input::flag("gentle"),
    ],
    evaluate: |values| {
        let wish = values
            .optional_number("wish")
            .unwrap_or(f64::from(USUAL_TIMES));
        let most = if values.flag("gentle")? {
            GENTLE_TIMES
        } else {
            TIMES.1
        };
        let times = wish.clamp(f64::from(TIMES.0), f64::from(most));
        Ok(Answer::new(
            Value::Whole(times as i64, "a week"),
            format!("{wish} within 2 and {most}"),
        ))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[TIMES_RULE];
