//! Whether the case stands where screening may go on: its status, and an examination that still counts.

use super::gate::Gate;
use crate::assessment::StatusKind;
use crate::calendar::{days_after, days_between};
use crate::evidence::{
    Answer, Input, Named, Rule, RuleError, RuleId, SourceId, Tag, Value, Values, Weight,
};
use crate::known::Known;
use jiff::civil::Date;

const OURS: &[SourceId] = &[SourceId("service-ours")];

const STATUS_WORDS: &[&str] = &[
    "referred",
    "declined",
    "waiting-for-clearance",
    "active",
    "paused",
    "in-hospital",
    "discharged",
    "died",
];

/// The status of the case.
const STATUS: Rule = Rule {
    id: RuleId("screening/status"),
    name: "Status of the case",
    statement: "Only a referred or active case may be given a session. Declined, waiting for clearance, paused, in \
                hospital and discharged hold; for a person who has died nothing is ever made.",
    sources: OURS,
    tag: Tag::Ours,
    inputs: &[Input::choice("status", STATUS_WORDS)],
    evaluate: |values| {
        let kind = StatusKind::parse(values.text("status")?).map_err(|unknown| RuleError {
            message: unknown.to_string(),
        })?;
        let (weight, why) =
            status_holds(kind).unwrap_or((Weight::Note, "the case may be screened"));
        Ok(answer(weight.word(), why))
    },
};

/// How long an examination counts.
const VALIDITY: Rule = Rule {
    id: RuleId("screening/examination-validity"),
    name: "An examination counts for so many days",
    statement: "An examination counts for the days the service sets (14 by default, its own day and the last one \
                included). A newer event, admission, shock of a device or change of medicine makes it void, and so \
                does coming (back) to the programme after it. Without \
                one that counts nobody exercises: it is measured at the next visit. The pulse or the pressure at rest \
                makes an examination: a weight, a temperature, a sugar or a symptom alone is kept beside it and makes \
                nothing new count.",
    sources: OURS,
    tag: Tag::Ours,
    inputs: &[
        Input {
            name: "examined",
            kind: crate::evidence::InputKind::Date,
            optional: false,
        },
        Input {
            name: "on",
            kind: crate::evidence::InputKind::Date,
            optional: false,
        },
        Input::number("valid_days", "days", 0.0, 365.0),
    ],
    evaluate: |values| {
        let valid_days = values.number("valid_days")?;
        let until = days_after(day(values, "examined")?, valid_days as i32);
        let counts = day(values, "on")? <= until && day(values, "examined")? <= day(values, "on")?;
        let word = if counts { "counts" } else { "does not count" };
        Ok(answer(word, &format!("counts until {until}")))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[STATUS, VALIDITY];

fn day(values: &Values, name: &'static str) -> Result<Date, RuleError> {
    values.text(name)?.parse().map_err(|_| RuleError {
        message: format!("'{name}' is not a day; write it as 2026-11-25"),
    })
}

fn answer(value: &str, working: &str) -> Answer {
    Answer::new(Value::Text(value.to_owned()), working.to_owned())
}

/// What a status stops, with what to do.
const fn status_holds(kind: StatusKind) -> Option<(Weight, &'static str)> {
    match kind {
        StatusKind::Referred | StatusKind::Active => None,
        StatusKind::Declined => Some((
            Weight::NotToday,
            "They declined. Nothing is offered until they say yes; then set the case to active",
        )),
        StatusKind::WaitingForClearance => Some((
            Weight::NotToday,
            "Waiting for the doctor's clearance. Ask for it and set the case to active when it is there",
        )),
        StatusKind::Paused => Some((
            Weight::NotToday,
            "The programme is paused. Examine again and set the case to active before the next session",
        )),
        StatusKind::InHospital => Some((
            Weight::NotToday,
            "They are in hospital. After discharge examine again before any session",
        )),
        StatusKind::Discharged => Some((
            Weight::NotToday,
            "They are discharged from the programme. A new referral opens it again",
        )),
        StatusKind::Died => Some((
            Weight::NotAtHome,
            "They have died. No session, page or letter is made",
        )),
    }
}

/// Asks the status.
pub(super) fn apply_status(known: &Known, gate: &mut Gate) {
    let status = known.case.status;
    if let Some((weight, text)) = status_holds(status.kind) {
        let finding = STATUS
            .finding(weight, text)
            .with(Named::text("status", status.kind.word()));
        gate.say(match status.since {
            Some(since) => finding.with(Named::date("since", since)),
            None => finding,
        });
    }
}

/// The examination that counts: its day and the last day it counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Examined {
    pub(super) date: Date,
    pub(super) valid_until: Date,
}

/// Asks whether there is an examination that counts; says what to do when there is none.
pub(super) fn apply_validity(known: &Known, gate: &mut Gate) -> Option<Examined> {
    let Some(examination) = known.examination() else {
        let alone = known.examinations().first().map(|one| one.date);
        if let Some(date) = alone {
            gate.say(VALIDITY.finding(
                Weight::NotToday,
                format!(
                    "Of {date} neither pulse nor pressure is written, so it is no examination. Not today: examine at the \
                     next visit"
                ),
            ));
            return None;
        }
        gate.say(VALIDITY.finding(
            Weight::NotToday,
            "Nobody has examined them yet. Not today: examine at the next visit (pulse, pressure seated and \
             standing, symptoms, weight)",
        ));
        return None;
    };
    let valid_days = i32::from(known.service.examination_valid_days);
    let examined = Examined {
        date: examination.date,
        valid_until: days_after(examination.date, valid_days),
    };
    if known.on > examined.valid_until {
        let text = format!(
            "The examination of {} counted until {}. Not today: examine again at the next visit",
            examined.date, examined.valid_until
        );
        gate.say(
            VALIDITY
                .finding(Weight::NotToday, text)
                .with(Named::date("examined", examined.date))
                .with(Named::date("valid_until", examined.valid_until)),
        );
    }
    for reason in what_voids(known, examined.date) {
        let text = format!(
            "{reason}, after the examination of {}. Not today: examine again at the next visit",
            examined.date
        );
        gate.say(
            VALIDITY
                .finding(Weight::NotToday, text)
                .with(Named::date("examined", examined.date)),
        );
    }
    Some(examined)
}

/// Everything since an examination that makes it void, in words.
fn what_voids(known: &Known, examined: Date) -> Vec<String> {
    let mut reasons = Vec::new();
    // An event on the day of the examination may have come after it, so it counts as newer.
    if let Some(event) = known.newest_event().filter(|event| *event >= examined) {
        reasons.push(format!("There was a heart event or procedure on {event}"));
    }
    let status = known.case.status;
    if let Some(since) = status.since
        && status.kind == StatusKind::Active
        && since > examined
        && since <= known.on
    {
        reasons.push(format!("They came (back) to the programme on {since}"));
    }
    for medicine in &known.case.medicines {
        let began = medicine
            .since
            .is_some_and(|day| day > examined && day <= known.on);
        // A medicine whose last day has come: something has changed since, or does so today.
        let ended = medicine
            .until
            .is_some_and(|day| day > examined && day <= known.on);
        let what = match (began, ended) {
            (true, _) => "was begun or changed",
            (false, true) => "was stopped",
            (false, false) => continue,
        };
        reasons.push(format!("{} {what}", medicine.name));
    }
    reasons
}

/// Whether a day lies at most so many days before another and not after it.
pub(super) fn within_days_before(earlier: Date, later: Date, days: u16) -> bool {
    let apart = days_between(earlier, later);
    apart >= 0 && apart <= i32::from(days)
}
