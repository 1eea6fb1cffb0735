//! How soon after an event training may begin.

use super::gate::Gate;
use crate::assessment::{Answered, EventKind, HistoryItem, ProcedureKind};
use crate::calendar::{days_after, days_between};
use crate::evidence::{
    Answer, Input, Named, Rule, RuleError, RuleId, SourceId, Tag, Value, Weight,
};
use crate::inputs::yes_no;
use crate::known::Known;
use crate::service::ScreeningSet;

/// Days after an acute coronary syndrome in which nobody trains.
// Source: heart-fail-rev-2023, table 1.
const CORONARY_DAYS: i32 = 2;
/// Days after an infarction in which older lists for heart failure do not train.
// Source: esc-working-group-2001 and australian-heart-failure; disagrees with the two days above.
const INFARCTION_OLDER_DAYS: i32 = 21;
/// Weeks after implanting a defibrillator before training begins.
// Source: pernick-icd: about six weeks after the implant.
const DEFIBRILLATOR_DAYS: i32 = 42;

/// Days after the breastbone was opened in which a programme begins with care (ours).
const OPENED_DAYS: i32 = 42;

const ACUTE: Rule = Rule {
    id: RuleId("screening/acute-coronary-syndrome"),
    name: "Acute coronary syndrome under 2 days ago",
    statement: "An acute coronary syndrome less than 2 days ago is an absolute contraindication.",
    sources: &[SourceId("heart-fail-rev-2023")],
    tag: Tag::Read,
    inputs: &[Input::number("days_since", "days", 0.0, 40_000.0)],
    evaluate: |values| {
        Ok(held(
            values.number("days_since")?,
            CORONARY_DAYS,
            "not-today",
        ))
    },
};

const OLDER: Rule = Rule {
    id: RuleId("screening/infarction-under-3-weeks"),
    name: "Infarction under 3 weeks ago (older lists for heart failure)",
    statement: "Older lists for heart failure hold training for 3 weeks after an infarction; early programmes begin \
                after 2 days. The Australian set holds everyone; the cautious set holds people with heart failure \
                or whose heart failure was not asked, and cautions for the others; the other sets do not use it.",
    sources: &[
        SourceId("esc-working-group-2001"),
        SourceId("australian-heart-failure"),
    ],
    tag: Tag::Read,
    inputs: &[
        Input::number("days_since", "days", 0.0, 40_000.0),
        Input::choice("set", SETS),
        Input::choice("heart_failure", &["present", "absent", "not known"]),
    ],
    evaluate: |values| {
        let set = ScreeningSet::parse(values.text("set")?).map_err(|unknown| RuleError {
            message: unknown.to_string(),
        })?;
        let failure =
            Answered::parse(values.text("heart_failure")?).map_err(|unknown| RuleError {
                message: unknown.to_string(),
            })?;
        let word = older_list_weight(set, failure).map_or("nothing", Weight::word);
        Ok(held(
            values.number("days_since")?,
            INFARCTION_OLDER_DAYS,
            word,
        ))
    },
};

const DEFIBRILLATOR: Rule = Rule {
    id: RuleId("screening/defibrillator-under-6-weeks"),
    name: "Defibrillator implanted under 6 weeks ago",
    statement: "After a defibrillator is implanted training usually begins at about 6 weeks; before that only with \
                the implanting clinic's word, gently and with the arm spared.",
    sources: &[SourceId("pernick-icd")],
    tag: Tag::Read,
    inputs: &[Input::number("days_since", "days", 0.0, 40_000.0)],
    evaluate: |values| {
        Ok(held(
            values.number("days_since")?,
            DEFIBRILLATOR_DAYS,
            "caution",
        ))
    },
};

const OPENED: Rule = Rule {
    id: RuleId("screening/opened-heart-under-6-weeks"),
    name: "Heart surgery through the breastbone under 6 weeks ago",
    statement: "In the first 6 weeks after the breastbone was opened a programme begins at its gentlest, with the wound \
                looked at and the arms spared.",
    sources: &[SourceId("day-gate-ours")],
    tag: Tag::Ours,
    inputs: &[Input::number("days_since", "days", 0.0, 40_000.0)],
    evaluate: |values| Ok(held(values.number("days_since")?, OPENED_DAYS, "caution")),
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[ACUTE, OLDER, DEFIBRILLATOR, OPENED];

/// Words of the sets, for inputs.
pub(super) const SETS: &[&str] = &{
    let mut words = [""; ScreeningSet::ALL.len()];
    let mut at = 0;
    while at < words.len() {
        words[at] = ScreeningSet::ALL[at].word();
        at += 1;
    }
    words
};

fn held(days_since: f64, days: i32, word: &str) -> Answer {
    let holds = days_since < f64::from(days);
    Answer::new(
        Value::Text(if holds { word } else { "nothing" }.to_owned()),
        format!(
            "{days_since} days is {} {days}",
            if holds { "under" } else { "not under" }
        ),
    )
}

const fn older_list_weight(set: ScreeningSet, failure: Answered) -> Option<Weight> {
    match (set, failure) {
        (ScreeningSet::AustralianHeartFailure, _) => Some(Weight::NotToday),
        (ScreeningSet::Cautious, Answered::Absent) => Some(Weight::Caution),
        (ScreeningSet::Cautious, _) => Some(Weight::NotToday),
        _ => None,
    }
}

/// Asks the events.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    let newest = |wanted: fn(EventKind) -> bool| {
        known
            .events()
            .filter(|event| wanted(event.kind))
            .filter_map(|event| event.date)
            .max()
    };
    let coronary = newest(|kind| {
        matches!(
            kind,
            EventKind::MyocardialInfarction | EventKind::CoronaryDissection
        )
    });
    if let Some(date) = coronary {
        infarction(known, gate, date);
    }
    if let Some(date) = newest_implant(known)
        && days_between(date, known.on) < DEFIBRILLATOR_DAYS
    {
        let until = days_after(date, DEFIBRILLATOR_DAYS);
        let text = format!(
            "The defibrillator was implanted on {date}. Training usually begins about six weeks later, {until}: \
             before that ask the implanting clinic, go gently and spare the arm"
        );
        gate.say(
            DEFIBRILLATOR
                .finding(Weight::Caution, text)
                .with(Named::date("implanted", date)),
        );
    }
    if let Some(date) = known.sternotomies().into_iter().flatten().max()
        && days_between(date, known.on) < OPENED_DAYS
    {
        let text = format!(
            "The breastbone was opened on {date}, under six weeks ago: look at the wound, begin gently and spare the arms"
        );
        gate.say(
            OPENED
                .finding(Weight::Caution, text)
                .with(Named::date("opened", date)),
        );
    }
    ask_missing_dates(known, gate);
}

fn infarction(known: &Known, gate: &mut Gate, date: jiff::civil::Date) {
    let days = days_between(date, known.on);
    if days < CORONARY_DAYS {
        let text = format!(
            "The heart attack was on {date}, under 2 days ago. Not today: not before {}",
            days_after(date, CORONARY_DAYS)
        );
        gate.say(
            ACUTE
                .finding(Weight::NotToday, text)
                .with(Named::date("event", date)),
        );
    }
    let failure = known.answer(HistoryItem::HeartFailure);
    if days < INFARCTION_OLDER_DAYS
        && let Some(weight) = older_list_weight(known.service.screening_set, failure)
    {
        let until = days_after(date, INFARCTION_OLDER_DAYS);
        let text = match weight {
            Weight::NotToday if failure == Answered::NotKnown => format!(
                "The heart attack was on {date}, under 3 weeks ago, and whether there is heart failure is not \
                 answered. Not today: ask, or wait until {until}"
            ),
            Weight::NotToday => format!(
                "The heart attack was on {date}, under 3 weeks ago, and this set of cut-offs waits. Not today: \
                 not before {until}"
            ),
            _ => format!(
                "The heart attack was on {date}, under 3 weeks ago. Early programmes begin after 2 days, older \
                 lists wait until {until}: begin gently"
            ),
        };
        gate.say(
            OLDER
                .finding(weight, text)
                .with(Named::date("event", date))
                .with(Named::text("heart_failure", failure.word())),
        );
    }
}

/// Day on which the newest defibrillator was implanted, where a procedure says so.
fn newest_implant(known: &Known) -> Option<jiff::civil::Date> {
    known
        .events()
        .flat_map(|event| {
            event
                .procedures
                .iter()
                .filter(|one| one.kind == ProcedureKind::Icd)
                .map(|one| one.date.or(event.date))
        })
        .flatten()
        .filter(|date| *date <= known.on)
        .max()
}

const EVENT_DATE: Rule = Rule {
    id: RuleId("screening/event-date"),
    name: "Events have their day",
    statement: "How long ago an event was decides what may be trained and which tests still count, so an event \
                without a day is asked for and blocks signing.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::flag("dated")],
    evaluate: |values| {
        let dated = values.flag("dated")?;
        Ok(Answer::new(
            Value::Text(if dated { "nothing" } else { "blocks-signing" }.to_owned()),
            format!("dated: {}", yes_no(dated)),
        ))
    },
};

/// The rule about missing days.
pub(crate) const DATE_RULES: &[Rule] = &[EVENT_DATE];

fn ask_missing_dates(known: &Known, gate: &mut Gate) {
    for event in known.events().filter(|event| event.date.is_none()) {
        let text = format!(
            "When was the event ({})? Its day is not recorded",
            event.kind
        );
        gate.ask(
            EVENT_DATE
                .finding(Weight::BlocksSigning, text)
                .with(Named::text("event", event.kind.word()))
                .asking("the referral letter", "signing"),
        );
    }
    if known.events().next().is_none() {
        gate.ask(
            EVENT_DATE
                .finding(
                    Weight::BlocksSigning,
                    "Why were they referred? No heart event is recorded",
                )
                .asking("the referral letter", "signing"),
        );
    }
}
