//! The rules of the ladder, and what is said where it ends early.

use super::growth::GROWTH;
use super::shape::Lever;
use super::{Ground, NoRung};
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::programme::composer::Relaxed;
use crate::programme::eligible::Refusal;
use crate::programme::{Dose, Exercise, ExerciseKind, Stage, page_letter};
use core::cmp::Reverse;
use std::collections::BTreeMap;

const OURS: &[SourceId] = &[SourceId("programme-ours")];

/// Ladder order.
pub(super) const ORDER: Rule = Rule {
    id: RuleId("ladder/one-lever"),
    name: "One lever at a time",
    statement: "Warm-up and cool-down alone, few stations, a full round, longer brisk stations, shorter easy ones, harder variants, a second round: each rung moves one of them. Duration comes before intensity.",
    sources: &[
        SourceId("thow-2006"),
        SourceId("acsm-getp"),
        SourceId("programme-ours"),
    ],
    tag: Tag::Recalled,
    inputs: &[Input::choice("lever", LEVERS)],
    evaluate: |values| {
        let word = values.text("lever")?;
        let place = LEVERS.iter().position(|known| *known == word).unwrap_or(0);
        Ok(Answer::new(
            Value::Whole(place as i64 + 1, "in the order"),
            word,
        ))
    },
};

const LEVERS: &[&str] = &[
    Lever::WarmUpAlone.word(),
    Lever::LongerWarmUp.word(),
    Lever::FewStations.word(),
    Lever::OneMorePair.word(),
    Lever::LongerBrisk.word(),
    Lever::ShorterEasy.word(),
    Lever::Harder.word(),
    Lever::SecondRound.word(),
];

/// No capacity.
pub(super) const NO_CAPACITY: Rule = Rule {
    id: RuleId("ladder/no-capacity"),
    name: "Without any measure of capacity",
    statement: "Warm-up rungs only, at most 3.0 METs (our default), until a test says what the person can do.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::flag("capacity_known")],
    evaluate: |values| {
        let known = values.flag("capacity_known")?;
        Ok(Answer::new(
            Value::Flag(known),
            "stations only with a capacity",
        ))
    },
};

/// No list of stations.
pub(super) const NO_LIST: Rule = Rule {
    id: RuleId("ladder/no-stations"),
    name: "No list of stations fits",
    statement: "Slow, small and seated variants are tried, then the whole room in METs, then a movement again after two others; where still nothing fits, the smallest set of restrictions that would have to give way is named.",
    sources: OURS,
    tag: Tag::Ours,
    inputs: &[Input::number("eligible", "ways", 0.0, 1000.0)],
    evaluate: |values| {
        let open = values.number("eligible")?;
        Ok(Answer::new(
            Value::Flag(open >= 2.0),
            format!("{open} ways are open"),
        ))
    },
};

/// No warm-up.
pub(super) const NO_WARM_UP: Rule = Rule {
    id: RuleId("ladder/no-warm-up"),
    name: "Not even a warm-up fits",
    statement: "A warm-up and a cool-down are the least that a session is; where nothing is open, where even the easiest passes a hard ceiling, or where there is nothing to sit on and fewer than three unlike exercises are open for either, there is no rung.",
    sources: OURS,
    tag: Tag::Ours,
    inputs: &[Input::flag("anything_open")],
    evaluate: |values| {
        Ok(Answer::new(
            Value::Flag(values.flag("anything_open")?),
            "anything open",
        ))
    },
};

/// The composer's proof.
pub(super) const PROOF: Rule = Rule {
    id: RuleId("composer/objective"),
    name: "The best list of stations",
    statement: "Among all lists that hold every hard rule the composer takes the one whose brisk stations lie nearest to the training band; among equals the one that meets most needs and likes, then the most familiar, then the fewest changes of place and things, then the most varied, then the first by id. The bound shows that no other is better.",
    sources: OURS,
    tag: Tag::Ours,
    inputs: &[
        Input::number("objective", "", -1e18, 1e18),
        Input::number("bound", "", -1e18, 1e18),
    ],
    evaluate: |values| {
        let (objective, bound) = (values.number("objective")?, values.number("bound")?);
        Ok(Answer::new(
            Value::Flag(objective >= bound),
            "proven where they are equal",
        ))
    },
};

/// Hard rules of the composer.
pub(super) const HARD: Rule = Rule {
    id: RuleId("composer/hard-rules"),
    name: "Hard rules of a list of stations",
    statement: "Brisk and easy stations in turns; no main muscle group twice running (work of the whole body is no group); each movement once in a round, again after two others only where too few are open; no neighbouring stations with the arms above the shoulder; for the hypotensive never two changes of posture running; the mean METs of a round and the cost of each station within the limits; the pulse rule; the growth of the dose; at most 2 new exercises at one contact once the first stations are learned; the longest session.",
    sources: &[SourceId("thow-2006"), SourceId("programme-ours")],
    tag: Tag::Ours,
    inputs: &[Input::number("new_exercises", "exercises", 0.0, 60.0)],
    evaluate: |values| {
        let new = values.number("new_exercises")?;
        Ok(Answer::new(
            Value::Flag(new <= 2.0),
            format!("{new} against 2"),
        ))
    },
};

/// A station.
pub(super) const STATION: Rule = Rule {
    id: RuleId("programme/station"),
    name: "Why a station stands",
    statement: "A station is open to this person and home, and is part of the list that meets most needs and likes under the hard rules.",
    sources: OURS,
    tag: Tag::Ours,
    inputs: &[Input::number("mets", "METs", 1.0, 25.0)],
    evaluate: |values| {
        let mets = values.number("mets")?;
        Ok(Answer::new(
            Value::Number(mets, "METs"),
            "best estimate of its cost",
        ))
    },
};

/// The table.
pub(crate) const RULES: &[Rule] = &[
    super::aim::AIM,
    ORDER,
    GROWTH,
    NO_CAPACITY,
    NO_LIST,
    NO_WARM_UP,
    PROOF,
    HARD,
    STATION,
];

/// Only warm-up rungs, and which test to do.
pub(super) fn no_capacity(ground: &Ground<'_>) -> Finding {
    let top = ground.asked.assessed.limits.mets_station_high.to_mets();
    NO_CAPACITY
        .finding(
            Weight::FindOut,
            format!(
                "No measure of capacity, so warm-up rungs only, up to {top:.1} METs. A test that measures METs opens the stations: the six-minute walk, the shuttle walk, the step test or the twelve activity questions."
            ),
        )
        .with(Named::number("mets_station_high", top, "METs"))
        .asking("measure it at the visit", "every rung with stations")
}

/// No first rung.
pub(super) fn no_warm_up(ground: &Ground<'_>, none: &NoRung) -> Finding {
    let text = match none {
        NoRung::PassesCeiling => too_close(ground),
        NoRung::TooLong => {
            "Warm-up and cool-down together pass the longest session; change the lengths in the service's settings.".to_owned()
        }
        NoRung::GrowsTooFast => {
            "Even the gentlest warm-up open today passes what the page at home may grow by in a week; that page stays as it is.".to_owned()
        }
        NoRung::NoSeat(unlike) => no_seat(*unlike),
        _ => nothing_open(ground),
    };
    NO_WARM_UP.finding(Weight::Caution, text)
}

/// Where no warm-up exercise is open: the fewest reasons that would have to give way for one, of as few the reasons that
/// refuse most.
fn nothing_open(ground: &Ground<'_>) -> String {
    let of_warm_up = |exercise: &Exercise| {
        [
            ExerciseKind::PulseRaising,
            ExerciseKind::Mobility,
            ExerciseKind::Stretch,
        ]
        .iter()
        .any(|kind| exercise.is(*kind))
    };
    let mut reasons: BTreeMap<Vec<String>, usize> = BTreeMap::new();
    for refused in &ground.eligible.refused {
        if of_warm_up(refused.exercise) && refused.variant.props.is_empty() {
            let words = refused.why.iter().map(Refusal::words).collect();
            *reasons.entry(words).or_default() += 1;
        }
    }
    let fewest = reasons
        .into_iter()
        .min_by_key(|(words, ways)| (words.len(), Reverse(*ways)));
    fewest.map_or_else(
        || "No exercise for a warm-up is in the library.".to_owned(),
        |(words, ways)| {
            format!(
                "No warm-up exercise is open for this person and home. If this gave way, {ways} would be: {}.",
                words.join("; and ")
            )
        },
    )
}

/// Where nothing to sit on is known and what is open standing is too little to take turns with.
fn no_seat(unlike: usize) -> String {
    let open = match unlike {
        0 => "no exercise is".to_owned(),
        1 => "only one exercise is".to_owned(),
        more => format!("only {more} unlike exercises are"),
    };
    format!(
        "Nothing to sit on is among the places of this home, and standing {open} open under the limits of today for warm-up or cool-down: one would go on and on, and nothing quiet would end the session. If this gave way, the sitting exercises would be open: no chair in the home. Find a sturdy chair and add it to the places."
    )
}

/// What to ask where even sitting work may pass a hard ceiling.
fn too_close(ground: &Ground<'_>) -> String {
    let how_close = ground
        .response
        .as_ref()
        .zip(ground.ceiling)
        .map(|(response, ceiling)| {
            format!(
                "the pulse at rest is {:.0}, the ceiling {:.0}, and to be sure not to pass it the pulse would have to stay under {:.0}. ",
                response.level_bpm,
                ceiling.ceiling_bpm,
                libm::ceil(ceiling.most_bpm)
            )
        });
    format!(
        "Even the easiest warm-up, sitting down, may pass the hard pulse ceiling: {}Ask the doctor three things: does the ceiling still hold, or is a new exercise test or another setting of the device due? Can the pulse at rest be brought down? Should the first sessions be in a place where the heart is watched?",
        how_close.unwrap_or_default()
    )
}

/// No rung with stations.
pub(super) fn no_list(ground: &Ground<'_>, none: &NoRung) -> Finding {
    let open = ground.eligible.ways.len();
    let text = match none {
        NoRung::NoList(relax) if !relax.is_empty() => format!(
            "No list of stations fits this person and home. It would if this gave way: {}.",
            sentence(relax)
        ),
        NoRung::NoList(_) => format!(
            "No list of stations fits this person and home, and no three restrictions alone explain it; {open} ways are open. Look at what is refused."
        ),
        NoRung::PassesCeiling => {
            "Every list of stations may pass the hard pulse ceiling; warm-up rungs only. Ask the doctor about the ceiling.".to_owned()
        }
        NoRung::TooLong => {
            "Warm-up, the first stations and cool-down pass the longest session; change the lengths in the service's settings.".to_owned()
        }
        NoRung::GrowsTooFast => {
            "The first stations would pass the growth of the dose in a week; lengthen the warm-up in the service's settings.".to_owned()
        }
        NoRung::NothingOpen => "No exercise is open for this person and home.".to_owned(),
        NoRung::NoSeat(unlike) => no_seat(*unlike),
    };
    NO_LIST
        .finding(Weight::Caution, text)
        .with(Named::whole("eligible", open as i64, "ways"))
}

/// A rung that the page at home keeps from being offered, and what is offered in its stead.
pub(super) fn grows_too_fast(
    ground: &Ground<'_>,
    would: &Stage,
    offered: Option<&Stage>,
) -> Finding {
    let home = ground.at_home.as_ref().map_or(0.0, |home| home.of_week());
    let (page, cap) = (
        page_letter(would.number),
        ground.asked.service.growth_cap_pct,
    );
    let week = Dose::of(would).of_week();
    let instead = offered.map_or_else(
        || "nothing made today fits, so the page at home stays as it is".to_owned(),
        |stage| {
            format!(
                "offered are page {} and {} times a week",
                page_letter(stage.number),
                stage.sessions_per_week
            )
        },
    );
    GROWTH
        .finding(
            Weight::Note,
            format!(
                "Page {page}, {} times a week as wished and as the limits of today allow, would come to {week:.0} MET-minutes a week; the page at home comes to {home:.0}, and a week grows by at most {cap:.0} per cent or one pair of stations: {instead}.",
                would.sessions_per_week
            ),
        )
        .with(Named::number("before_met_minutes", home, "MET-minutes"))
        .with(Named::number("week_met_minutes", week, "MET-minutes"))
}

/// Fewer than four stations so far, and why.
pub(super) fn few_stations(stations: u32, none: Option<&NoRung>) -> Finding {
    let why = match none {
        None => "one pair more breaks no limit, and comes with a later rung".to_owned(),
        Some(NoRung::NoList(relax)) if !relax.is_empty() => {
            format!("one pair more would fit if this gave way: {}", sentence(relax))
        }
        Some(NoRung::NoList(_) | NoRung::NothingOpen | NoRung::NoSeat(_)) => {
            "no list with one pair more holds every rule; look at what is refused".to_owned()
        }
        Some(NoRung::PassesCeiling) => {
            "with one pair more the pulse may pass the hard ceiling; ask the doctor about the ceiling".to_owned()
        }
        Some(NoRung::TooLong) => {
            "with one pair more the session passes its longest; change the lengths in the service's settings".to_owned()
        }
        Some(NoRung::GrowsTooFast) => {
            "one pair more would pass the growth of the dose in a week".to_owned()
        }
    };
    NO_LIST
        .finding(
            Weight::Note,
            format!("{stations} stations and no full round yet: {why}."),
        )
        .with(Named::whole("stations", i64::from(stations), "stations"))
}

fn sentence(relax: &[Relaxed]) -> String {
    let words: Vec<&str> = relax.iter().map(|one| one.words.as_str()).collect();
    words.join("; and ")
}
