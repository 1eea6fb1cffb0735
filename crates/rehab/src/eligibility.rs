//! Eligible at home: what the risk class means, who agreed, how many sessions were watched, and whether help can be
//! called.

use crate::assessed::{Decision, Eligibility, Risk, RiskClass};
use crate::calendar::days_between;
use crate::evidence::{Answer, Because, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::inputs::{answer_word, counted, yes_no};
use crate::known::Known;
use crate::screening::Gate;
use crate::service::{HomeConsequence, RiskConsequence};
use crate::watching::ends_the_session;
use jiff::civil::Date;
use std::collections::BTreeSet;

const SOURCES: &[SourceId] = &[SourceId("thomas-2019"), SourceId("service-ours")];

const CONSEQUENCES: &[&str] = &["yes", "after-agreement", "no"];

const HOME: Rule = Rule {
    id: RuleId("eligibility/home"),
    name: "Home, by risk class",
    statement: "Home programmes are an option for people at low to moderate risk who are stable and cannot come to a \
                centre. What each class means the service sets: yes, after the doctor's recorded agreement (the \
                default for high), or no. An agreement from before the newest event does not count.",
    sources: SOURCES,
    tag: Tag::Ours,
    inputs: &[
        Input::choice("consequence", CONSEQUENCES),
        Input::flag("agreed_since_newest_event"),
    ],
    evaluate: |values| {
        let consequence = HomeConsequence::parse(values.text("consequence")?)
            .or_else(|unknown| crate::inputs::refuse(unknown.to_string()))?;
        let agreed = values.flag("agreed_since_newest_event")?;
        let word = if may_be_at_home(consequence, agreed) {
            "home"
        } else {
            "not-at-home"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("{consequence}, agreed: {}", yes_no(agreed)),
        ))
    },
};

const WATCHED: Rule = Rule {
    id: RuleId("eligibility/watched-sessions"),
    name: "Watched before alone",
    statement: "Before anything is done alone a practitioner watches as many sessions as the service sets for the risk \
                class (1, 2 and 3 by default), counted since the newest event, one a day. A day on which something ended the \
                session is none of them: a symptom that stops, a pressure that stops, an effort at the hard end of its \
                scale.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("needed", "sessions", 0.0, 50.0),
        Input::number("watched", "sessions", 0.0, 1000.0),
    ],
    evaluate: |values| {
        let (needed, watched) = (values.number("needed")?, values.number("watched")?);
        let word = if watched >= needed {
            "alone"
        } else {
            "not yet alone"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("{watched} of {needed}"),
        ))
    },
};

const HELP: Rule = Rule {
    id: RuleId("eligibility/help-within-reach"),
    name: "Help can be called",
    statement: "Who is alone while exercising has a telephone within reach; without one no home programme. Not \
                answered, it blocks signing.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::flag("alone").or_none(),
        Input::flag("telephone").or_none(),
    ],
    evaluate: |values| {
        let yes = |name| values.optional_text(name).map(|word| word == "yes");
        let (alone, telephone) = (yes("alone"), yes("telephone"));
        let word = help(alone, telephone).map_or("help can be called", Weight::word);
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!(
                "alone: {}, telephone: {}",
                answer_word(alone),
                answer_word(telephone)
            ),
        ))
    },
};

/// Supervised or monitored sessions that a body recommends by risk class: from, to.
///
/// Source: register `aacvpr-guidelines` (recalled). For orientation: what this service does stands in its settings.
pub(crate) const fn monitored_sessions(class: RiskClass) -> (u8, u8) {
    match class {
        RiskClass::Low => (6, 18),
        RiskClass::Moderate => (12, 24),
        RiskClass::High => (18, 36),
    }
}

const MONITORED: Rule = Rule {
    id: RuleId("eligibility/monitored-sessions"),
    name: "Monitored sessions by risk class, where there is a centre",
    statement: "Supervised or monitored sessions in a centre: low 6 to 18, moderate 12 to 24, high 18 to 36 (recalled). \
                For orientation only: how many are watched at home the service sets.",
    sources: &[SourceId("aacvpr-guidelines")],
    tag: Tag::Recalled,
    inputs: &[Input::choice("class", &["low", "moderate", "high"])],
    evaluate: |values| {
        let class = RiskClass::parse(values.text("class")?)
            .or_else(|unknown| crate::inputs::refuse(unknown.to_string()))?;
        let (from, to) = monitored_sessions(class);
        Ok(Answer::new(
            Value::Text(format!("{from} to {to}")),
            format!("risk {class}"),
        ))
    },
};

/// The rules of this module.
pub(crate) const RULES: &[Rule] = &[HOME, WATCHED, MONITORED, HELP];

const fn may_be_at_home(consequence: HomeConsequence, agreed: bool) -> bool {
    match consequence {
        HomeConsequence::Yes => true,
        HomeConsequence::AfterAgreement => agreed,
        HomeConsequence::No => false,
    }
}

const fn help(alone: Option<bool>, telephone: Option<bool>) -> Option<Weight> {
    match (alone, telephone) {
        (_, Some(true)) | (Some(false), None) => None,
        (Some(true), Some(false)) => Some(Weight::NotAtHome),
        (Some(false), Some(false)) => Some(Weight::Caution),
        (Some(true) | None, None) | (None, Some(false)) => Some(Weight::BlocksSigning),
    }
}

/// What a risk class means in this service.
pub(crate) const fn consequence(known: &Known, class: RiskClass) -> RiskConsequence {
    let all = known.service.risk;
    match class {
        RiskClass::Low => all.low,
        RiskClass::Moderate => all.moderate,
        RiskClass::High => all.high,
    }
}

/// What is said beside a number of watched sessions, so that nobody counts three of one day as three.
const fn once_a_day(watched_done: u8) -> &'static str {
    if watched_done == 0 {
        ""
    } else {
        ", each day counted once"
    }
}

/// Days on which something was watched since the newest event, without those on which something ended the session.
pub(crate) fn watched_days(known: &Known) -> BTreeSet<Date> {
    let since = known.newest_event();
    let counts = |date: Date| date <= known.on && since.is_none_or(|event| event < date);
    let watched = || known.case.watched.iter().filter(|one| counts(one.date));
    let mut days: BTreeSet<Date> = watched().map(|one| one.date).collect();
    for one in watched().filter(|one| ends_the_session(known, one)) {
        days.remove(&one.date);
    }
    days
}

/// Answers whether home is right, and adds what speaks to the gate. `day` is what screening alone decides.
pub(crate) fn decide(known: &Known, risk: &Risk, day: Decision, gate: &mut Gate) -> Eligibility {
    let consequence = consequence(known, risk.class);
    let agreement = known.agreement();
    let home = may_be_at_home(consequence.home, agreement.is_some());
    if !home {
        say_not_at_home(known, risk.class, consequence.home, gate);
    }
    ask_help(known, gate);
    let done = watched_days(known).len();
    let watched_done = u8::try_from(done).unwrap_or(u8::MAX);
    let needed = consequence.watched_sessions;
    if watched_done < needed {
        let text = format!(
            "{watched_done} of {} watched{}: the next one is done with a practitioner, not alone",
            counted(usize::from(needed), "session", "sessions"),
            once_a_day(watched_done)
        );
        gate.say(
            WATCHED
                .finding(Weight::Note, text)
                .with(Named::whole("needed", i64::from(needed), "sessions"))
                .with(Named::whole("watched", i64::from(watched_done), "sessions")),
        );
    }
    let decision = strictest(day, gate.decision());
    Eligibility {
        home: consequence.home,
        agreed: agreement.map(|agreement| agreement.date),
        watched_needed: needed,
        watched_done,
        alone_now: decision == Decision::Exercise
            && watched_done >= needed
            && help(
                known.case.home.alone_when_exercising,
                known.case.home.telephone,
            )
            .is_none_or(|weight| weight == Weight::Caution),
        call_every_days: consequence.call_every_days,
        because: explain(known, risk.class, consequence, watched_done),
    }
}

/// The stricter of two answers.
pub(crate) fn strictest(one: Decision, other: Decision) -> Decision {
    one.max(other)
}

fn say_not_at_home(known: &Known, class: RiskClass, home: HomeConsequence, gate: &mut Gate) {
    let old = known
        .case
        .agreement
        .as_ref()
        .filter(|agreement| agreement.date <= known.on);
    let text = match (home, old) {
        (HomeConsequence::No, _) => {
            format!(
                "Risk is {class}, and this service makes no home programme for it. Offer a place with staff"
            )
        }
        (_, Some(old)) => format!(
            "Risk is {class}. {} agreed on {}, before the newest event. Not at home until they agree again",
            old.doctor, old.date
        ),
        (_, None) => format!(
            "Risk is {class}. Not at home until the doctor has agreed: write to them and record who agreed and when"
        ),
    };
    gate.say(
        HOME.finding(Weight::NotAtHome, text)
            .with(Named::text("class", class.word()))
            .with(Named::text("consequence", home.word())),
    );
    if home == HomeConsequence::AfterAgreement {
        gate.ask(
            HOME.finding(
                Weight::FindOut,
                "Does the doctor agree to a programme at home? It waits for that",
            )
            .asking("the doctor", "the decision"),
        );
    }
}

fn ask_help(known: &Known, gate: &mut Gate) {
    let home = &known.case.home;
    match help(home.alone_when_exercising, home.telephone) {
        None => {}
        Some(Weight::NotAtHome) => gate.say(HELP.finding(
            Weight::NotAtHome,
            "Alone and without a telephone. Not at home until one is within reach or somebody is there",
        )),
        Some(Weight::Caution) => gate.say(HELP.finding(
            Weight::Caution,
            "There is no telephone: whoever is there must know how to call help",
        )),
        Some(_) => gate.ask(
            HELP.finding(
                Weight::BlocksSigning,
                "Are they alone while exercising, and is a telephone within reach? Not answered yet",
            )
            .asking("the patient", "signing"),
        ),
    }
}

fn explain(
    known: &Known,
    class: RiskClass,
    consequence: RiskConsequence,
    watched_done: u8,
) -> Because {
    let home = match (consequence.home, known.agreement()) {
        (HomeConsequence::Yes, _) => "Yes".to_owned(),
        (HomeConsequence::No, _) => "No".to_owned(),
        (HomeConsequence::AfterAgreement, Some(agreement)) => {
            format!("Yes, {} agreed on {}", agreement.doctor, agreement.date)
        }
        (HomeConsequence::AfterAgreement, None) => "Not before the doctor agrees".to_owned(),
    };
    let mut because = HOME
        .because(
            Value::Text(consequence.home.word().to_owned()),
            format!(
                "{home}: risk {class}; {watched_done} of {} watched{}; a call every {}.",
                counted(
                    usize::from(consequence.watched_sessions),
                    "session",
                    "sessions"
                ),
                once_a_day(watched_done),
                counted(usize::from(consequence.call_every_days), "day", "days")
            ),
        )
        .working(format!(
            "{class} risk: {}; {watched_done} of {} watched",
            consequence.home, consequence.watched_sessions
        ))
        .with(Named::text("class", class.word()))
        .with(Named::whole(
            "watched_needed",
            i64::from(consequence.watched_sessions),
            "sessions",
        ))
        .with(Named::whole(
            "watched_done",
            i64::from(watched_done),
            "sessions",
        ))
        .changes_with("the risk class, an agreement, the service's setting");
    if let Some(agreement) = known.agreement() {
        because = because
            .with(Named::date("agreed", agreement.date))
            .with(Named::whole(
                "days_since_agreement",
                i64::from(days_between(agreement.date, known.on)),
                "days",
            ));
    }
    because
}
