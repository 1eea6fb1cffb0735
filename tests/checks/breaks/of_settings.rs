//! Settings changed under a good answer: what was right under the settings it was made with is wrong under the others. Only
//! a checker that reads the file can tell.

/// A change of one setting, and the rule that must say that the answer doesn't keep to it.
pub(crate) struct Changed {
    /// The rule.
    pub(crate) rule: &'static str,
    /// The setting as it stands in the file, in place of the one of the answer.
    pub(crate) line: &'static str,
}

const fn changed(rule: &'static str, line: &'static str) -> Changed {
    Changed { rule, line }
}

/// Every change, at least one for each key that the checker reads.
pub(crate) const CHANGES: &[Changed] = &[
    changed("settings/named", "name = \"Another service\""),
    changed("effort/band", "effort_scale = \"6-20\""),
    changed("effort/band", "effort_band = [2, 4]"),
    changed("effort/band", "effort_band_gentle = [1, 3]"),
    changed("effort/band", "gentle_days = 90"),
    changed("programme/times", "gentle_days = 90"),
    changed("today/reading", "weight_gain_rule = \"us-patient-text\""),
    changed(
        "today/infarction",
        "screening_set = \"australian-heart-failure\"",
    ),
    changed("pulse/peak", "hr_max_policy = \"tanaka-2001\""),
    changed("pulse/peak", "hr_max_policy = \"uk-practice\""),
    changed("pulse/peak", "hr_max_policy = \"none\""),
    changed("pulse/reserve", "hr_band_pct = [39, 70]"),
    changed("pulse/reserve", "hr_band_pct = [40, 55]"),
    changed("load/low", "hr_band_pct = [30, 70]"),
    changed("load/band", "hr_band_pct = [40, 55]"),
    changed("ceiling/device", "icd_margin_bpm = 30"),
    changed("ceiling/value", "icd_margin_bpm = 10"),
    changed("ceiling/ischaemia", "ischaemia_margin_bpm = 25"),
    changed("ceiling/tested-peak", "ischaemia_margin_bpm = 25"),
    changed("session/warm-up", "warm_up_s = 1800"),
    changed("session/cool-down", "cool_down_s = 1800"),
    changed("session/length", "session_max_s = 1200"),
    changed(
        "stations/times",
        "cardiovascular_s = { least_s = 5, first_s = 10, most_s = 20 }",
    ),
    changed(
        "stations/times",
        "active_recovery_s = { least_s = 40, first_s = 45, most_s = 60 }",
    ),
    changed("session/change-over", "changeover_s = 40"),
    changed("heart/warm-up", "warm_up_within_bpm = 5"),
    changed("heart/cool-down", "cool_down_within_bpm = 5"),
    changed("today/examined", "examination_valid_days = 1"),
    changed("programme/growth", "growth_cap_pct = 1"),
    changed("load/band", "mets_without_capacity = 1.5"),
    changed("load/station", "station_of_estimated_peak_pct = 50"),
    changed(
        "today/agreement",
        "risk_consequences = { moderate = { home = \"no\" } }",
    ),
    changed(
        "home/class",
        "risk_consequences = { moderate = { home = \"after-agreement\" } }",
    ),
    changed(
        "home/class",
        "risk_consequences = { high = { call_every_days = 1 } }",
    ),
    changed(
        "home/watched",
        "risk_consequences = { moderate = { watched_sessions = 9 } }",
    ),
    changed(
        "pulse/reserve",
        "risk_consequences = { high = { reserve_high_pct = 45 } }",
    ),
    changed(
        "load/band",
        "risk_consequences = { moderate = { reserve_high_pct = 50 } }",
    ),
];
