//! When one printed answer is looser than another.

use serde_json::Value;

/// In what an answer is looser than the one before; empty when in nothing.
pub(crate) fn looser(before: &Value, after: &Value) -> Vec<String> {
    let mut found = Vec::new();
    let mut check = |holds: bool, path: &str| {
        if !holds {
            let shown = format!("/{}", path.replace('.', "/"));
            found.push(format!(
                "{path}: {:?} then {:?}",
                before.pointer(&shown),
                after.pointer(&shown)
            ));
        }
    };
    let order = |words: &[&str], value: &Value| words.iter().position(|word| value == word);
    let decisions = ["exercise", "not-today", "not-at-home"];
    check(
        order(&decisions, &after["screening"]["decision"])
            >= order(&decisions, &before["screening"]["decision"]),
        "screening.decision",
    );
    let classes = ["low", "moderate", "high"];
    check(
        order(&classes, &after["risk"]["class"]) >= order(&classes, &before["risk"]["class"]),
        "risk.class",
    );
    for path in [
        "limits.mets.high",
        "limits.mets_station_high",
        "limits.effort.high",
        "limits.balance_max",
    ] {
        check(number(after, path) <= number(before, path), path);
    }
    check(
        after["limits"]["hypotensive"] == true || before["limits"]["hypotensive"] == false,
        "limits.hypotensive",
    );
    if let (Some(one), Some(two)) = (
        number(before, "limits.hr.high"),
        number(after, "limits.hr.high"),
    ) {
        check(two <= one, "limits.hr.high");
    }
    check(ceiling_holds(before, after), "limits.hr_ceiling");
    check(
        reasons(before)
            .iter()
            .all(|reason| reasons(after).contains(reason)),
        "limits.adaptations",
    );
    check(
        number(after, "eligibility.watched_needed") >= number(before, "eligibility.watched_needed"),
        "eligibility.watched_needed",
    );
    found
}

fn number(answer: &Value, path: &str) -> Option<f64> {
    answer
        .pointer(&format!("/{}", path.replace('.', "/")))?
        .as_f64()
}

fn reasons(answer: &Value) -> Vec<&Value> {
    let list = answer["limits"]["adaptations"].as_array();
    list.into_iter()
        .flatten()
        .map(|one| &one["reason"])
        .collect()
}

/// A hard ceiling never rises or goes; a guiding one may give way to a hard one, or go together with its band. Where the
/// pulse stops saying how hard the heart works a measured peak says nothing either.
fn ceiling_holds(before: &Value, after: &Value) -> bool {
    let (one, two) = (&before["limits"], &after["limits"]);
    let guiding = |limits: &Value| limits["hr_ceiling_kind"] == "guiding";
    if one["pulse_model"] == true && two["pulse_model"] == false {
        return true;
    }
    match (one["hr_ceiling"].as_f64(), two["hr_ceiling"].as_f64()) {
        (Some(first), Some(second)) => second <= first || (guiding(one) && !guiding(two)),
        (Some(_), None) => guiding(one) && two["hr"].is_null(),
        (None, _) => true,
    }
}
