//! The settings as a form: each with the source of its built-in value.

use crate::facts::ask::{Ask, Choices, Form, Kind, Part};
use crate::facts::path;
use crate::layout::source;
use formats::tree::Table;
use rehab::assessment::EffortScale;
use rehab::service::{HomeConsequence, HrMaxPolicy, ScreeningSet, WeightGainRule};

/// The rule that says where the built-in value of a setting comes from; a setting that is not listed is a default of
/// ours.
pub(super) const RULES: [(&str, &str); 10] = [
    ("screening_set", "day/systolic-high"),
    ("weight_gain_rule", "day/weight-gain"),
    ("hr_max_policy", "hr-max/by-condition"),
    ("hr_band_pct", "intensity/reserve-band"),
    ("icd_margin_bpm", "ceiling/device-zone"),
    ("ischaemia_margin_bpm", "ceiling/ischaemia"),
    ("warm_up_s", "band/uk-warm-up-and-cool-down"),
    ("cool_down_s", "band/uk-warm-up-and-cool-down"),
    ("effort_band", "limits/effort"),
    ("station_of_estimated_peak_pct", "limits/mets-station-high"),
];

/// Settings that are the service's own words, without a built-in value.
const OWN: [&str; 5] = ["name", "emergency", "contact", "nitrate", "medicine_names"];

/// The form for settings as they stand.
pub(super) fn settings(known: &Table) -> Form {
    let mut parts = vec![
        words(),
        emergency(),
        contact(),
        nitrate(known),
        screening(),
        pulse(),
        effort(),
    ];
    parts.extend([lengths(), review()]);
    parts.extend(["low", "moderate", "high"].map(risk));
    parts.push(medicines(known));
    for part in &mut parts {
        part.sources = part.asks.iter().filter_map(origin).collect();
    }
    Form {
        title: "Service",
        lead: "Every setting with where its built-in value comes from. A change ends the adoption until a lead signs again.",
        parts,
        added: &[],
        rows: &["nitrate.protocol", "medicine_names"],
    }
}

/// Where the built-in value of a setting comes from.
fn origin(ask: &Ask) -> Option<(String, String)> {
    let key = ask.path.split(['.', '[']).next().unwrap_or_default();
    if OWN.contains(&key) {
        return None;
    }
    let rule = RULES
        .iter()
        .find(|(known, _)| *known == key)
        .and_then(|(_, id)| rehab::rules::rule(id));
    let from = rule.map_or_else(
        || "Our default.".to_owned(),
        |rule| source(rule.sources, rule.tag),
    );
    Some((ask.label.clone(), from))
}

fn part(title: &'static str, about: &'static str, asks: Vec<Ask>) -> Part {
    Part {
        title,
        about,
        sources: Vec::new(),
        asks,
    }
}

fn words() -> Part {
    part(
        "Service",
        "The name stands on every page.",
        vec![
            Ask::new("name", "Name of the service", Kind::Text),
            Ask::new("language", "Language", Kind::Text).hint("As en-GB"),
        ],
    )
}

fn emergency() -> Part {
    part(
        "Emergency",
        "Your own number and words; without them nothing is handed out.",
        vec![
            Ask::new("emergency.number", "Number to ring", Kind::Text),
            Ask::new("emergency.text", "What to do, in your words", Kind::Text).wide(),
        ],
    )
}

fn contact() -> Part {
    part(
        "The team",
        "How the team is reached; without it nothing is handed out.",
        vec![
            Ask::new("contact.name", "Name of the team", Kind::Text),
            Ask::new("contact.telephone", "Telephone", Kind::Text),
            Ask::new("contact.hours", "Hours", Kind::Text),
            Ask::new("contact.out_of_hours", "Out of hours", Kind::Text).wide(),
        ],
    )
}

fn nitrate(known: &Table) -> Part {
    let rows = path::count(known, "nitrate.protocol") + 2;
    let asks = (1..=rows).flat_map(|row| {
        [
            Ask::new(
                format!("nitrate.protocol[{row}].text"),
                format!("Step {row}"),
                Kind::Text,
            )
            .wide(),
            Ask::new(
                format!("nitrate.protocol[{row}].wait_s"),
                "Seconds to wait after it",
                Kind::Number,
            ),
        ]
    });
    let confirmed = Ask::new("nitrate.confirmed_by", "Confirmed by the lead", Kind::Text)
        .hint("Only where the steps give more than two doses, wait less than five minutes after one, or longer until the call");
    part(
        "Spray or tablet",
        "Your own steps for discomfort in the chest; without them a page gives none.",
        asks.chain([confirmed]).collect(),
    )
}

macro_rules! choices {
    ($kind:ident) => {
        $kind::ALL
            .iter()
            .map(|one| (one.word(), one.word().replace('-', " ")))
            .collect::<Choices>()
    };
}

fn screening() -> Part {
    part(
        "Screening",
        "Every cut-off of the chosen set is printed with the answer.",
        vec![
            Ask::new(
                "screening_set",
                "Set of cut-offs",
                Kind::Choice(choices!(ScreeningSet)),
            ),
            Ask::new(
                "weight_gain_rule",
                "Gain of weight",
                Kind::Choice(choices!(WeightGainRule)),
            ),
            Ask::new(
                "examination_valid_days",
                "Days an examination counts",
                Kind::Number,
            ),
        ],
    )
}

fn pulse() -> Part {
    part(
        "Pulse",
        "A predicted maximum only guides; a device or ischaemic rate is a hard ceiling.",
        vec![
            Ask::new(
                "hr_max_policy",
                "Maximum without a test",
                Kind::Choice(choices!(HrMaxPolicy)),
            ),
            Ask::new("hr_band_pct", "Training band", Kind::Numbers)
                .hint("Per cent of reserve, both ends: 40, 70"),
            Ask::new(
                "icd_margin_bpm",
                "Below a device's lowest rate",
                Kind::Number,
            )
            .hint("Beats a minute"),
            Ask::new(
                "ischaemia_margin_bpm",
                "Below the ischaemic rate",
                Kind::Number,
            )
            .hint("Beats a minute"),
            Ask::new("warm_up_within_bpm", "Warm-up ends within", Kind::Number)
                .hint("Beats of the training band"),
            Ask::new(
                "cool_down_within_bpm",
                "Cool-down ends within",
                Kind::Number,
            )
            .hint("Beats of the pulse before"),
        ],
    )
}

fn effort() -> Part {
    part(
        "Effort and load",
        "Effort leads where no exercise test was done.",
        vec![
            Ask::new(
                "effort_scale",
                "Scale",
                Kind::Choice(
                    EffortScale::ALL
                        .iter()
                        .map(|one| (one.word(), one.word().to_owned()))
                        .collect(),
                ),
            ),
            Ask::new("effort_band", "To begin", Kind::Numbers).hint("Both ends: 3, 4"),
            Ask::new("effort_band_gentle", "Gentle", Kind::Numbers)
                .hint("First days, high risk, heart failure"),
            Ask::new("gentle_days", "Days of the gentle beginning", Kind::Number),
            Ask::new(
                "mets_without_capacity",
                "Load without any test",
                Kind::Number,
            )
            .hint("METs"),
            Ask::new(
                "station_of_estimated_peak_pct",
                "One turn, of an estimated peak",
                Kind::Number,
            )
            .hint("Per cent"),
            Ask::new("growth_cap_pct", "Growth a week, at most", Kind::Number).hint("Per cent"),
        ],
    )
}

fn lengths() -> Part {
    let mut asks = vec![
        Ask::new("warm_up_s", "Warm-up", Kind::Number).hint("Seconds"),
        Ask::new("cool_down_s", "Cool-down", Kind::Number).hint("Seconds"),
        Ask::new("session_max_s", "Longest session", Kind::Number).hint("Seconds"),
        Ask::new("changeover_s", "From place to place", Kind::Number).hint("Seconds"),
    ];
    for (key, label) in [
        ("cardiovascular_s", "Brisk turn"),
        ("active_recovery_s", "Easy turn"),
        ("warm_up_stretch_s", "Stretch"),
    ] {
        for (end, word) in [
            ("least_s", "shortest"),
            ("first_s", "at the start"),
            ("most_s", "longest"),
        ] {
            asks.push(
                Ask::new(
                    format!("{key}.{end}"),
                    format!("{label}, {word}"),
                    Kind::Number,
                )
                .hint("Seconds"),
            );
        }
    }
    part(
        "Lengths",
        "The composer chooses inside these ranges, for each person.",
        asks,
    )
}

fn review() -> Part {
    part(
        "Silence and alerts",
        "No news is never good news.",
        vec![
            Ask::new("silent_after_days", "Silent after", Kind::Number).hint("Days without news"),
            Ask::new(
                "alert_to_lead_hours",
                "An alert goes to the lead after",
                Kind::Number,
            )
            .hint("Hours"),
        ],
    )
}

fn risk(class: &str) -> Part {
    let title = match class {
        "low" => "Low risk",
        "moderate" => "Moderate risk",
        _ => "High risk",
    };
    let at = |key: &str| format!("risk_consequences.{class}.{key}");
    part(
        title,
        "",
        vec![
            Ask::new(
                at("home"),
                "At home",
                Kind::Choice(choices!(HomeConsequence)),
            ),
            Ask::new(
                at("reserve_high_pct"),
                "Upper end of the band",
                Kind::Number,
            )
            .hint("Per cent of reserve"),
            Ask::new(
                at("watched_sessions"),
                "Sessions watched before any alone",
                Kind::Number,
            ),
            Ask::new(at("call_every_days"), "A call every", Kind::Number).hint("Days"),
        ],
    )
}

fn medicines(known: &Table) -> Part {
    let rows = path::count(known, "medicine_names") + 3;
    let asks = (1..=rows).flat_map(|row| {
        [
            Ask::new(
                format!("medicine_names[{row}].name"),
                "Local name",
                Kind::Text,
            ),
            Ask::new(
                format!("medicine_names[{row}].inn"),
                "stands for",
                Kind::Text,
            )
            .hint("International name"),
        ]
    });
    part(
        "Local names",
        "Brand names used here. The program knows international names only.",
        asks.collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_named_as_a_source_exists() {
        for (key, id) in RULES {
            assert!(rehab::rules::rule(id).is_some(), "{key}: {id}");
        }
    }

    #[test]
    fn every_key_of_the_settings_has_a_field() {
        let table = formats::service::to_table(&rehab::service::Service::cautious());
        let form = settings(&table);
        for entry in &table.entries {
            let inside = [format!("{}.", entry.key), format!("{}[", entry.key)];
            let found = form.asks().any(|ask| {
                ask.path == entry.key || inside.iter().any(|start| ask.path.starts_with(start))
            });
            assert!(
                found || entry.key == "adopted",
                "{} has no field",
                entry.key
            );
        }
    }
}
