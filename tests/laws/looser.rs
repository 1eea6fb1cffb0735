//! When one answer is looser than another.

use rehab::assessed::Assessed;
use rehab::assessed::CeilingKind::{Guiding, Hard};

/// In what an answer is looser than the one before; empty when in nothing.
pub(crate) fn looser(before: &Assessed, after: &Assessed) -> Vec<String> {
    let mut found = Vec::new();
    let mut check = |holds: bool, what: String| {
        if !holds {
            found.push(what);
        }
    };
    check(
        after.screening.decision >= before.screening.decision,
        format!(
            "decision {} then {}",
            before.screening.decision, after.screening.decision
        ),
    );
    check(
        after.risk.class >= before.risk.class,
        format!("risk {} then {}", before.risk.class, after.risk.class),
    );
    let (one, two) = (&before.limits, &after.limits);
    check(
        two.mets.high <= one.mets.high,
        format!("METs {:?} then {:?}", one.mets.high, two.mets.high),
    );
    check(
        two.mets_station_high <= one.mets_station_high,
        format!(
            "station {:?} then {:?}",
            one.mets_station_high, two.mets_station_high
        ),
    );
    check(
        two.effort.high <= one.effort.high,
        format!("effort {} then {}", one.effort.high, two.effort.high),
    );
    check(
        two.balance_max <= one.balance_max,
        format!("balance {} then {}", one.balance_max, two.balance_max),
    );
    check(
        !one.hypotensive || two.hypotensive,
        "slow changes of posture gone".to_owned(),
    );
    if let (Some(one), Some(two)) = (one.hr, two.hr) {
        check(
            two.high <= one.high,
            format!("band up to {:?} then {:?}", one.high, two.high),
        );
    }
    match (one.ceiling, two.ceiling) {
        // Where the pulse stops saying how hard the heart works a measured peak says nothing either.
        _ if before.limits.pulse_model && !after.limits.pulse_model => {}
        // A hard ceiling where only a guiding one was is stricter: it binds, and the band keeps its own upper end.
        (Some(one), Some(two)) if (one.kind, two.kind) == (Guiding, Hard) => {}
        (Some(one), Some(two)) => {
            check(
                two.rate <= one.rate,
                format!("ceiling {one:?} then {two:?}"),
            );
        }
        (Some(one), None) => {
            // A guiding ceiling goes together with its band: then effort alone leads.
            check(
                one.kind == Guiding && two.hr.is_none(),
                format!("ceiling {one:?} gone"),
            );
        }
        (None, _) => {}
    }
    for adaptation in &one.adaptations {
        check(
            two.adaptations
                .iter()
                .any(|other| other.reason == adaptation.reason),
            format!("restriction {} gone", adaptation.reason),
        );
    }
    check(
        after.eligibility.watched_needed >= before.eligibility.watched_needed,
        "fewer watched sessions".to_owned(),
    );
    found
}
