//! The exercise files and the register of sources as the checker reads them.

use crate::tools::root;
use std::collections::{BTreeMap, BTreeSet};
use toml::{Table, Value};

/// One restriction of a way of exercising.
#[derive(Clone, Debug)]
pub(super) struct Restriction {
    pub(super) reason: String,
    pub(super) excludes: bool,
    pub(super) weeks: Option<f64>,
    pub(super) above_weight_g: Option<f64>,
}

/// One way of doing an exercise, with what its exercise gives it.
#[derive(Clone, Debug)]
pub(super) struct Way {
    pub(super) alike: String,
    pub(super) kinds: Vec<String>,
    pub(super) muscles: Vec<String>,
    pub(super) mets: f64,
    pub(super) mets_low: f64,
    pub(super) mets_high: f64,
    pub(super) hr_gain: f64,
    pub(super) least_peak_mets: Option<f64>,
    pub(super) posture: String,
    pub(super) arms: String,
    pub(super) balance: f64,
    pub(super) per_minute: Option<f64>,
    pub(super) places: Vec<String>,
    pub(super) props: Vec<String>,
    pub(super) weight_g: Option<f64>,
    pub(super) step_cm: Option<(f64, f64)>,
    pub(super) needs_rail: bool,
    pub(super) needs_stick: bool,
    pub(super) needs_arms: bool,
    pub(super) needs_no_arms: bool,
    pub(super) restrictions: Vec<Restriction>,
}

/// All exercises by exercise and variant, and all sources.
pub struct Library {
    ways: BTreeMap<(String, String), Way>,
    pub(super) sources: BTreeSet<String>,
}

impl Library {
    /// Reads `data/exercises` and `sources`.
    ///
    /// # Panics
    /// When a file cannot be read or lacks what the checker needs.
    pub fn read() -> Self {
        let mut ways = BTreeMap::new();
        for table in tables("data/exercises") {
            for variant in list(&table, "variant") {
                let variant = variant.as_table().expect("a variant is a table");
                let key = (text(&table, "id"), text(variant, "id"));
                ways.insert(key, way(&table, variant));
            }
        }
        let mut sources = BTreeSet::new();
        for table in tables("sources") {
            for source in list(&table, "source") {
                sources.insert(text(source.as_table().expect("a source is a table"), "id"));
            }
        }
        assert!(ways.len() > 100 && sources.len() > 50, "the data are there");
        Self { ways, sources }
    }

    pub(super) fn way(&self, exercise: &str, variant: &str) -> Option<&Way> {
        self.ways.get(&(exercise.to_owned(), variant.to_owned()))
    }

    /// The names of every way that matches, for tests that need one.
    pub fn names_where(&self, tag: &str) -> Vec<(String, String)> {
        if let Some(exercise) = tag.strip_prefix("exercise=") {
            let all = self.ways.keys().filter(|name| name.0 == exercise);
            return all.cloned().collect();
        }
        let matches = |way: &Way| match tag.split_once('=') {
            None => way.least_peak_mets.is_some(),
            Some(("arms", height)) => way.arms == height,
            Some(("excluded-by", reason)) => way
                .restrictions
                .iter()
                .any(|one| one.excludes && one.reason == reason && one.above_weight_g.is_none()),
            Some(("prop", prop)) => way.props.iter().any(|one| one == prop),
            Some(("balance", level)) => way.balance == level.parse::<f64>().unwrap_or(-1.0),
            _ => false,
        };
        let found = self.ways.iter().filter(|(_, way)| matches(way));
        found.map(|(name, _)| name.clone()).collect()
    }
}

fn tables(folder: &str) -> Vec<Table> {
    let folder = root().join(folder);
    let mut files: Vec<_> = std::fs::read_dir(&folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .map(|entry| entry.expect("a folder can be listed").path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect();
    files.sort();
    files
        .iter()
        .map(|path| {
            let text = std::fs::read_to_string(path).expect("a data file can be read");
            text.parse()
                .unwrap_or_else(|error| panic!("{}: {error}", path.display()))
        })
        .collect()
}

fn way(exercise: &Table, variant: &Table) -> Way {
    let cost = exercise["cost"].as_table().expect("a cost is a table");
    let factor = number(variant, "net_factor").expect("a variant has its factor");
    // Net cost (above rest) times the variant's factor; where a measurement disagrees with the table, the measured cost.
    let gross = |mets: f64| 1.0 + (mets - 1.0) * factor;
    let of = |key: &str| gross(number(cost, key).expect("a cost has its ends"));
    Way {
        alike: text(exercise, "alike"),
        kinds: words(exercise, "kinds"),
        muscles: words(exercise, "muscles"),
        mets: number(cost, "response").map_or_else(|| of("mets"), gross),
        mets_low: of("low"),
        mets_high: of("high"),
        hr_gain: number(exercise, "hr_gain").expect("an exercise has its gain"),
        least_peak_mets: number(exercise, "least_peak_mets"),
        posture: text(variant, "posture"),
        arms: text(variant, "arms"),
        balance: number(variant, "balance").expect("a variant has its balance"),
        per_minute: number(variant, "per_minute"),
        places: words(variant, "places"),
        props: words(variant, "props"),
        weight_g: number(variant, "weight_g"),
        step_cm: step(variant),
        needs_rail: flag(variant, "needs_rail"),
        needs_stick: flag(variant, "needs_stick"),
        needs_arms: flag(variant, "needs_arms"),
        needs_no_arms: flag(variant, "needs_no_arms"),
        restrictions: list(variant, "restrictions")
            .iter()
            .map(restriction)
            .collect(),
    }
}

fn step(variant: &Table) -> Option<(f64, f64)> {
    let range = list(variant, "step_cm");
    Some((plain(range.first()?)?, plain(range.get(1)?)?))
}

fn restriction(value: &Value) -> Restriction {
    let table = value.as_table().expect("a restriction is a table");
    Restriction {
        reason: text(table, "reason"),
        excludes: text(table, "effect") == "exclude",
        weeks: number(table, "weeks"),
        above_weight_g: number(table, "above_weight_g"),
    }
}

fn list<'a>(table: &'a Table, key: &str) -> &'a [Value] {
    let found = table.get(key).and_then(Value::as_array);
    found.map_or(&[], Vec::as_slice)
}

fn plain(value: &Value) -> Option<f64> {
    value
        .as_float()
        .or_else(|| value.as_integer().map(|whole| whole as f64))
}

fn number(table: &Table, key: &str) -> Option<f64> {
    table.get(key).and_then(plain)
}

fn flag(table: &Table, key: &str) -> bool {
    table.get(key).and_then(Value::as_bool) == Some(true)
}

fn text(table: &Table, key: &str) -> String {
    let found = table.get(key).and_then(Value::as_str);
    found.unwrap_or_default().to_owned()
}

fn words(table: &Table, key: &str) -> Vec<String> {
    list(table, key)
        .iter()
        .filter_map(|one| Some(one.as_str()?.to_owned()))
        .collect()
}
