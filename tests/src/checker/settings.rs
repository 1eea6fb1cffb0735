//! The settings of a service as the checker reads them: out of the text of its file, with values of its own where the file
//! says nothing.

use toml::{Table, Value};

/// Keys of a service file that no limit and no session hangs on. A key that stands neither here nor below is refused, so
/// that a new setting is never overlooked.
const NOT_CHECKED: &[&str] = &[
    "language",
    "emergency",
    "nitrate",
    "contact",
    "silent_after_days",
    "alert_to_lead_hours",
    "warm_up_stretch_s",
    "medicine_names",
    "adopted",
];

/// What a risk class leads to.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Class {
    pub(super) home: String,
    pub(super) reserve_high_pct: f64,
    pub(super) watched: f64,
    pub(super) call_days: f64,
}

/// Everything of a service that the checker asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    pub(super) name: String,
    pub(super) scale: String,
    pub(super) effort: (f64, f64),
    pub(super) effort_gentle: (f64, f64),
    pub(super) gentle_days: i64,
    pub(super) cut_offs: String,
    pub(super) weight_rule: String,
    pub(super) peak_policy: String,
    pub(super) reserve_pct: (f64, f64),
    pub(super) under_device: f64,
    pub(super) under_ischaemia: f64,
    pub(super) warm_up_s: f64,
    pub(super) cool_down_s: f64,
    pub(super) session_most_s: f64,
    /// Shortest and longest brisk and easy stations.
    pub(super) brisk_s: (f64, f64),
    pub(super) easy_s: (f64, f64),
    pub(super) change_over_s: f64,
    pub(super) warm_up_within: f64,
    pub(super) cool_down_within: f64,
    pub(super) valid_days: i64,
    pub(super) growth: f64,
    pub(super) mets_without: f64,
    pub(super) of_estimated_peak: f64,
    pub(super) low: Class,
    pub(super) moderate: Class,
    pub(super) high: Class,
}

impl Settings {
    /// Reads a service file.
    ///
    /// # Panics
    /// When it is no TOML, or holds a key that the checker does not know.
    pub fn read(text: &str) -> Self {
        let file: Table = text
            .parse()
            .unwrap_or_else(|error| panic!("a service file: {error}"));
        let mut asked = Asked {
            file: &file,
            keys: vec!["name"],
        };
        let settings = asked.settings();
        for key in file.keys() {
            let known = asked.keys.contains(&key.as_str()) || NOT_CHECKED.contains(&key.as_str());
            assert!(known, "the checker does not know the setting `{key}`");
        }
        settings
    }

    /// What the class of an answer leads to.
    pub(super) fn class(&self, class: &str) -> &Class {
        match class {
            "low" => &self.low,
            "high" => &self.high,
            _ => &self.moderate,
        }
    }

    /// Upper share of the reserve in a risk class: the lower of the band's end and the class's.
    pub(super) fn share_high(&self, class: &str) -> f64 {
        self.reserve_pct.1.min(self.class(class).reserve_high_pct) / 100.0
    }

    pub(super) fn share_low(&self) -> f64 {
        self.reserve_pct.0 / 100.0
    }
}

/// A file with the keys that were asked of it.
struct Asked<'f> {
    file: &'f Table,
    keys: Vec<&'static str>,
}

impl Asked<'_> {
    /// The values where the file says nothing are the cautious ones: `thow-2006` (secondary) for the lengths of the
    /// warm-up, the cool-down and an easy station, `uk-acpicr-bacpr` (secondary) for 40 to 70 per cent of the reserve and 60
    /// in high risk, `acsm-getp` (recalled) for the ischaemic margin; the others are our defaults.
    fn settings(&mut self) -> Settings {
        let scale = self.word("effort_scale", "0-10");
        let (usual, gentle) = if scale == "6-20" {
            ((11.0, 13.0), (10.0, 12.0))
        } else {
            ((3.0, 4.0), (2.0, 3.0))
        };
        let classes = self.table("risk_consequences");
        let class = |key: &str, home: &str, most: f64, watched: f64, days: f64| {
            let table = classes.get(key).and_then(Value::as_table);
            let number =
                |key: &str, usual| table.and_then(|one| plain(one.get(key)?)).unwrap_or(usual);
            let written = table.and_then(|one| one.get("home")?.as_str());
            Class {
                home: written.unwrap_or(home).to_owned(),
                reserve_high_pct: number("reserve_high_pct", most),
                watched: number("watched_sessions", watched),
                call_days: number("call_every_days", days),
            }
        };
        Settings {
            name: self.file["name"].as_str().unwrap_or("").to_owned(),
            effort: self.pair("effort_band", usual),
            effort_gentle: self.pair("effort_band_gentle", gentle),
            scale,
            gentle_days: self.number("gentle_days", 14.0) as i64,
            cut_offs: self.word("screening_set", "cautious"),
            weight_rule: self.word("weight_gain_rule", "of-the-set"),
            peak_policy: self.word("hr_max_policy", "by-condition"),
            reserve_pct: self.pair("hr_band_pct", (40.0, 70.0)),
            under_device: self.number("icd_margin_bpm", 20.0),
            under_ischaemia: self.number("ischaemia_margin_bpm", 10.0),
            warm_up_s: self.number("warm_up_s", 900.0),
            cool_down_s: self.number("cool_down_s", 600.0),
            session_most_s: self.number("session_max_s", 3600.0),
            brisk_s: self.times("cardiovascular_s", (30.0, 180.0)),
            easy_s: self.times("active_recovery_s", (30.0, 60.0)),
            change_over_s: self.number("changeover_s", 15.0),
            warm_up_within: self.number("warm_up_within_bpm", 20.0),
            cool_down_within: self.number("cool_down_within_bpm", 10.0),
            valid_days: self.number("examination_valid_days", 14.0) as i64,
            growth: self.number("growth_cap_pct", 15.0) / 100.0,
            mets_without: self.number("mets_without_capacity", 3.0),
            of_estimated_peak: self.number("station_of_estimated_peak_pct", 85.0) / 100.0,
            low: class("low", "yes", 70.0, 1.0, 14.0),
            moderate: class("moderate", "yes", 70.0, 2.0, 7.0),
            high: class("high", "after-agreement", 60.0, 3.0, 3.0),
        }
    }

    fn value(&mut self, key: &'static str) -> Option<&Value> {
        self.keys.push(key);
        self.file.get(key)
    }

    fn number(&mut self, key: &'static str, usual: f64) -> f64 {
        self.value(key).and_then(plain).unwrap_or(usual)
    }

    fn word(&mut self, key: &'static str, usual: &str) -> String {
        let found = self.value(key).and_then(Value::as_str);
        found.unwrap_or(usual).to_owned()
    }

    fn pair(&mut self, key: &'static str, usual: (f64, f64)) -> (f64, f64) {
        let list = self.value(key).and_then(Value::as_array);
        let ends = list.and_then(|list| Some((plain(list.first()?)?, plain(list.get(1)?)?)));
        ends.unwrap_or(usual)
    }

    fn table(&mut self, key: &'static str) -> Table {
        let found = self.value(key).and_then(Value::as_table);
        found.cloned().unwrap_or_default()
    }

    fn times(&mut self, key: &'static str, usual: (f64, f64)) -> (f64, f64) {
        let table = self.table(key);
        let of = |key: &str| table.get(key).and_then(plain);
        of("least_s").zip(of("most_s")).unwrap_or(usual)
    }
}

fn plain(value: &Value) -> Option<f64> {
    let whole = value.as_integer().map(|whole| whole as f64);
    value.as_float().or(whole)
}
