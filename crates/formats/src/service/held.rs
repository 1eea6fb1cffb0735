//! What settings are held to beyond the range of each: help that can be reached, and classes that never loosen.

use crate::shape::{Sink, View};
use rehab::service::{HomeConsequence, NitrateProtocol, RiskConsequences, Service};

/// Least wait in seconds between two steps of the spray (ours): it acts in 1 to 3 minutes (nhs-gtn).
const LEAST_WAIT_S: u32 = 60;
/// Doses before the call for help. Sources: `nice-cg126`, `nhs-gtn`: two; three are the older advice that these replace.
const PUBLISHED_DOSES: usize = 2;
/// Wait after each dose in seconds. Sources: `nice-cg126`, `nhs-gtn`: five minutes.
const PUBLISHED_WAIT_S: u32 = 300;
/// Longest until the call in seconds: two doses, five minutes after each. Sources: `nice-cg126`, `nhs-gtn`.
const PUBLISHED_UNTIL_CALL_S: u32 = 600;
/// What a third dose is called in a step of English words; one step may hold several doses.
const THIRD_DOSE: [&str; 8] = [
    "3 doses",
    "three doses",
    "third dose",
    "3rd dose",
    "3 times",
    "three times",
    "3 tablets",
    "three tablets",
];

/// A number to ring has figures.
pub(super) fn emergency(view: &View<'_>, service: &Service, sink: &mut Sink) {
    let figures = |text: &str| text.chars().any(|sign| sign.is_ascii_digit());
    if let Some(emergency) = &service.emergency
        && !figures(&emergency.number)
    {
        let message = format!(
            "'{}' is no number that can be rung; write its figures",
            emergency.number
        );
        sink.say(
            &view.place("emergency.number"),
            view.line_of("emergency"),
            message,
        );
    }
}

/// Every step of the spray that is waited for is a dose; after the last comes the call. What differs from the published
/// steps needs the name of the lead who confirmed it.
pub(super) fn nitrate(view: &View<'_>, service: &Service, sink: &mut Sink) {
    let Some(protocol) = &service.nitrate else {
        return;
    };
    let before_last = protocol.steps.len().saturating_sub(1);
    for (at, step) in protocol.steps[..before_last].iter().enumerate() {
        if step.wait_s < LEAST_WAIT_S {
            let message = format!(
                "step {} waits {} s before the next dose; wait at least {LEAST_WAIT_S} s, or say what to do in one step",
                at + 1,
                step.wait_s
            );
            sink.say(
                &view.place("nitrate.protocol"),
                view.line_of("nitrate"),
                message,
            );
        }
    }
    let confirmed = protocol
        .confirmed_by
        .as_ref()
        .is_some_and(|name| !name.trim().is_empty());
    if let Some(what) = differs(protocol).filter(|_| !confirmed) {
        let message = format!(
            "the steps of the spray or tablet {what}; published advice is one dose, five minutes, a second dose, and the call for help five minutes after it; change the steps, or write the lead who confirmed them"
        );
        sink.say(
            &view.place("nitrate.confirmed_by"),
            view.line_of("nitrate"),
            message,
        );
    }
}

/// In what the steps go beyond the published ones.
fn differs(protocol: &NitrateProtocol) -> Option<&'static str> {
    let doses: Vec<u32> = protocol
        .steps
        .iter()
        .map(|step| step.wait_s)
        .filter(|wait_s| *wait_s > 0)
        .collect();
    let tells_of_a_third = protocol.steps.iter().any(|step| {
        let text = step.text.to_lowercase();
        THIRD_DOSE.iter().any(|words| text.contains(words))
    });
    let until_call: u32 = doses.iter().sum();
    if doses.len() > PUBLISHED_DOSES || tells_of_a_third {
        Some("give more than two doses before the call for help")
    } else if doses.iter().any(|wait_s| *wait_s < PUBLISHED_WAIT_S) {
        Some("wait less than five minutes after a dose")
    } else if until_call > PUBLISHED_UNTIL_CALL_S {
        Some("wait longer than ten minutes until the call for help")
    } else {
        None
    }
}

/// A sicker class is never held more loosely than the one below it, and high risk never exercises at home without an
/// agreement.
pub(super) fn risk(view: &View<'_>, risk: &RiskConsequences, sink: &mut Sink) {
    let mut say = |key: &str, message: String| {
        sink.say(
            &view.place(&format!("risk_consequences.{key}")),
            view.line_of("risk_consequences"),
            message,
        );
    };
    if risk.high.home == HomeConsequence::Yes {
        let message = "in high risk a programme at home needs the agreement of the doctor or lead; choose 'after-agreement' or 'no'";
        say("high.home", message.to_owned());
    }
    let classes = [
        ("moderate", &risk.moderate, "low", &risk.low),
        ("high", &risk.high, "moderate", &risk.moderate),
    ];
    for (sicker, one, less, other) in classes {
        if one.home < other.home {
            say(
                &format!("{sicker}.home"),
                format!(
                    "{sicker} risk is let exercise at home more freely than {less} risk; be at least as strict"
                ),
            );
        }
        if one.reserve_high_pct > other.reserve_high_pct {
            say(
                &format!("{sicker}.reserve_high_pct"),
                format!(
                    "the band of {sicker} risk ends at {} per cent, above that of {less} risk at {}; end it no higher",
                    one.reserve_high_pct, other.reserve_high_pct
                ),
            );
        }
        if one.watched_sessions < other.watched_sessions {
            say(
                &format!("{sicker}.watched_sessions"),
                format!(
                    "{sicker} risk is watched {} times and {less} risk {} times; watch at least as often",
                    one.watched_sessions, other.watched_sessions
                ),
            );
        }
        if one.call_every_days > other.call_every_days {
            say(
                &format!("{sicker}.call_every_days"),
                format!(
                    "{sicker} risk is called every {} days and {less} risk every {}; call at least as often",
                    one.call_every_days, other.call_every_days
                ),
            );
        }
    }
}
