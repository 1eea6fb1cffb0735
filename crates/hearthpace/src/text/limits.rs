//! What one assessment comes to, for people.

use super::columns::wrapped;
use super::reasons::{because, folded, item, items, questions, small};
use rehab::assessed::{
    Assessed, Capacity, CapacityEstimate, CeilingKind, Decision, Limits, Met, Risk, Screening,
};
use rehab::assessment::{Case, EffortScale};
use rehab::service::{HomeConsequence, Service};

/// Decision first, then the limits, then what they rest on, last what is still to find out.
pub(crate) fn limits(case: &Case, assessed: &Assessed, service: &Service, why: bool) -> String {
    let mut out = heading(case, assessed, service);
    out.push_str(&screening(&assessed.screening));
    out.push_str(&limits_of(assessed, why));
    out.push_str(&capacity(&assessed.capacity, why));
    out.push_str(&risk(&assessed.risk, why));
    out.push_str(&home(assessed, why));
    if !assessed.findings.is_empty() {
        out.push_str("\nTo mind\n");
        out.push_str(&items(&assessed.findings));
    }
    out.push_str(&open_questions(assessed));
    out
}

/// Who, when, by which settings.
pub(super) fn heading(case: &Case, assessed: &Assessed, service: &Service) -> String {
    let name = case.person.name.as_deref().unwrap_or("Name not known");
    let age = case
        .person
        .age_years(assessed.on)
        .map_or_else(|| "age not known".to_owned(), |age| format!("{age} years"));
    let mut out = wrapped(&format!("{name}, {age} ({})", case.id.0), 0);
    out.push_str(&wrapped(
        &format!("On {}, by the settings \"{}\".", assessed.on, service.name),
        0,
    ));
    out
}

/// The decision with what spoke for it.
pub(super) fn screening(screening: &Screening) -> String {
    let decision = match screening.decision {
        Decision::Exercise => "Exercise: yes",
        Decision::NotToday => "Exercise: not today",
        Decision::NotAtHome => "Exercise: not at home",
    };
    let examined = match (screening.examined, screening.valid_until) {
        (Some(day), Some(until)) => format!("the examination of {day} counts until {until}"),
        (Some(day), None) => format!("the examination of {day} was used"),
        (None, _) => "no examination counts on this day".to_owned(),
    };
    let mut out = format!("\n{decision}\n");
    out.push_str(&wrapped(
        &format!("Screened by the set \"{}\"; {examined}.", screening.set),
        2,
    ));
    out.push_str(&items(&screening.findings));
    out
}

fn limits_of(assessed: &Assessed, why: bool) -> String {
    let limits = &assessed.limits;
    let mut out = String::from("\nLimits\n");
    let scale = match limits.effort_scale {
        EffortScale::ZeroToTen => "of 10",
        EffortScale::SixToTwenty => "on 6 to 20",
    };
    out.push_str(&wrapped(
        &format!(
            "Effort leads: {} to {} {scale}.",
            limits.effort.low, limits.effort.high
        ),
        2,
    ));
    out.push_str(&wrapped(&pulse(limits), 2));
    if assessed.device_rate_question().is_some() {
        out.push_str(&wrapped(DEVICE_RATE_MISSING, 2));
    }
    let whole = if limits.band_binds_station {
        "at each station"
    } else {
        "over a round"
    };
    out.push_str(&wrapped(
        &format!(
            "Load: {} to {} METs {whole}; no station above {} METs.",
            short(limits.mets.low.to_mets()),
            at_most(limits.mets.high.to_mets()),
            at_most(limits.mets_station_high.to_mets())
        ),
        2,
    ));
    if limits.hypotensive {
        out.push_str(&wrapped(
            "Posture: changes slowly; feet keep moving at the end.",
            2,
        ));
    }
    out.push_str(&wrapped(balance(limits.balance_max), 2));
    if why {
        out.extend(limits.because.iter().map(because));
    }
    out
}

/// A missing ceiling must not read like freedom.
const DEVICE_RATE_MISSING: &str = "No limit of the pulse is whole before the rate at which the device treats is known, and nothing can be \
     signed: ask the device clinic.";

fn pulse(limits: &Limits) -> String {
    let band = limits.hr.map_or_else(
        || "no band".to_owned(),
        |band| format!("{} to {} a minute", band.low.to_bpm(), band.high.to_bpm()),
    );
    let ceiling = limits
        .ceiling
        .map(|ceiling| (ceiling.rate.to_bpm(), ceiling.kind));
    match ceiling {
        None if limits.hr.is_none() => {
            "Pulse: neither band nor ceiling can be set; effort and symptoms alone are the limit."
                .to_owned()
        }
        None => format!("Pulse: {band}; no ceiling."),
        Some((rate, CeilingKind::Hard)) => format!("Pulse: {band}; never above {rate}."),
        Some((rate, CeilingKind::Guiding)) => {
            format!("Pulse: {band}; {rate} is a guide from a predicted maximum, not a border.")
        }
    }
}

fn balance(level: u8) -> &'static str {
    match level {
        0 => "Balance: seated or with both hands held.",
        1 => "Balance: standing on both feet.",
        2 => "Balance: up to moving on one leg for a moment.",
        _ => "Balance: up to standing on one leg.",
    }
}

fn capacity(capacity: &Capacity, why: bool) -> String {
    let mut out = String::from("\nCapacity\n");
    match &capacity.used {
        None => out.push_str(&wrapped("Not known: no test counts.", 2)),
        Some(used) => {
            out.push_str(&wrapped(&estimate(used), 2));
            out.extend(used.cautions.iter().map(|caution| item(caution)));
            if why {
                out.push_str(&because(&used.because));
            }
        }
    }
    for other in &capacity.others {
        out.push_str(&item(&format!("Beside it: {}", estimate(other))));
        if why {
            out.push_str(&because(&other.because));
        }
    }
    out.push_str(&items(&capacity.findings));
    out
}

fn estimate(estimate: &CapacityEstimate) -> String {
    let how = if estimate.measured {
        "measured"
    } else {
        "estimated"
    };
    let day = estimate
        .date
        .map_or_else(String::new, |day| format!(" of {day}"));
    let error = estimate.error_mets.map_or_else(String::new, |error| {
        format!(", give or take {} METs", short(error))
    });
    format!(
        "{} METs, {how} from the {}{day}{error}.",
        short(estimate.mets.to_mets()),
        estimate.method.replace('-', " ")
    )
}

fn risk(risk: &Risk, why: bool) -> String {
    let sure = if risk.provisional {
        ", provisional"
    } else {
        ""
    };
    let mut out = format!("\nRisk: {}{sure}\n", risk.class);
    for (state, title) in [(Met::Met, "Speaks for it"), (Met::NotKnown, "Not known")] {
        let texts: Vec<&str> = risk
            .criteria
            .iter()
            .filter(|one| one.state == state)
            .map(|one| one.text.as_str())
            .collect();
        let (alone, together): (Vec<String>, Vec<String>) = folded(&texts)
            .into_iter()
            .map(|text| small(&text))
            .partition(|text| texts.contains(&text.as_str()));
        let alone = (!alone.is_empty()).then(|| alone.join("; "));
        for text in alone.into_iter().chain(together) {
            out.push_str(&item(&format!("{title}: {text}.")));
        }
    }
    if why {
        out.push_str(&because(&risk.because));
        for one in &risk.criteria {
            out.push_str(&super::columns::hanging(
                &format!(
                    "* {} ({} when met): {}; {}",
                    one.rule, one.class, one.state, one.text
                ),
                4,
                6,
            ));
        }
    }
    out
}

fn home(assessed: &Assessed, why: bool) -> String {
    let eligibility = &assessed.eligibility;
    let held = assessed.screening.decision != Decision::Exercise;
    let home = match (eligibility.home, eligibility.agreed) {
        (HomeConsequence::Yes, _) | (HomeConsequence::AfterAgreement, Some(_)) if held => {
            "not while the screening holds".to_owned()
        }
        (HomeConsequence::Yes, _) => "yes".to_owned(),
        (HomeConsequence::AfterAgreement, Some(day)) => format!("yes, agreed on {day}"),
        (HomeConsequence::AfterAgreement, None) => "only after a recorded agreement".to_owned(),
        (HomeConsequence::No, _) => "no".to_owned(),
    };
    let alone = if eligibility.alone_now {
        "may"
    } else {
        "not yet"
    };
    let watched = match eligibility.watched_needed {
        0 => eligibility.watched_done.to_string(),
        needed => format!("{} of {needed}", eligibility.watched_done),
    };
    let once = match eligibility.watched_done {
        0 => "",
        _ => " (several on one day count as one)",
    };
    let mut out = format!("\nAt home: {home}\n");
    out.push_str(&wrapped(
        &format!(
            "Sessions watched: {watched}{once}. Alone: {alone}. A call every {} days.",
            eligibility.call_every_days
        ),
        2,
    ));
    if why {
        out.push_str(&because(&eligibility.because));
    }
    out
}

/// What is still to find out; nothing when nothing is.
pub(super) fn open_questions(assessed: &Assessed) -> String {
    let mut out = String::new();
    if !assessed.to_find_out.is_empty() {
        out.push_str("\nStill to find out\n");
        out.push_str(&questions(&assessed.to_find_out));
    }
    if assessed.signing_blocked {
        out.push_str("\nNothing can be signed yet: see above what it waits for.\n");
    }
    out
}

/// One decimal, none where it is nought.
pub(super) fn short(number: f64) -> String {
    let rounded = (number * 10.0).round() / 10.0;
    format!("{rounded}")
}

/// The same for an upper limit: rounded down, so that what is shown never goes beyond what is allowed.
fn at_most(limit: f64) -> String {
    // A ten-thousandth of a step keeps 3.1 at 3.1, which is not exact in binary.
    short((limit * 10.0 + 1e-4).floor() / 10.0)
}
