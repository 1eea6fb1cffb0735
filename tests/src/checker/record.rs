//! The case file as the checker reads it.

use super::{Settings, list, number, word};
use jiff::civil::Date;
use serde_json::Value;

/// How long ago an operation was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Since {
    /// There was none.
    Never,
    /// There was one without a day.
    Unknown,
    /// Whole days.
    Days(i64),
}

impl Since {
    /// Whether fewer than so many weeks have passed, or it is not known how many.
    pub(super) fn within_weeks(self, weeks: f64) -> bool {
        match self {
            Self::Never => false,
            Self::Unknown => true,
            Self::Days(days) => (days as f64) < weeks * 7.0,
        }
    }

    /// The newest of several operations; one without a day counts as the newest.
    fn newest(days: &[Option<i64>]) -> Self {
        if days.is_empty() {
            Self::Never
        } else if days.contains(&None) {
            Self::Unknown
        } else {
            days.iter()
                .flatten()
                .min()
                .map_or(Self::Never, |days| Self::Days((*days).max(0)))
        }
    }
}

/// A case on the day that the answer names, with the settings it was answered under.
pub(super) struct Record<'a> {
    /// The case.
    pub(super) case: &'a Value,
    /// The settings.
    pub(super) settings: &'a Settings,
    on: Date,
}

impl<'a> Record<'a> {
    pub(super) fn new(case: &'a Value, answer: &Value, settings: &'a Settings) -> Self {
        let on = date(&answer["on"]).expect("an answer names its day");
        Self { case, settings, on }
    }

    /// Days since a date of the record; `None` where it is not written.
    pub(super) fn days_since(&self, value: &Value) -> Option<i64> {
        date(value).map(|day| days(day, self.on))
    }

    pub(super) fn present(&self, item: &str) -> bool {
        has_word(&self.case["history"]["present"], item)
    }

    pub(super) fn absent(&self, item: &str) -> bool {
        let history = &self.case["history"];
        let open = has_word(&history["not_asked"], item);
        has_word(&history["absent"], item)
            || (history["rest_absent"].is_string() && !self.present(item) && !open)
    }

    /// Events up to the day.
    pub(super) fn events(&self) -> impl Iterator<Item = &'a Value> {
        let on = self.on;
        list(self.case, "event")
            .iter()
            .filter(move |event| date(&event["date"]).is_none_or(|day| day <= on))
    }

    pub(super) fn had(&self, kind: &str) -> bool {
        self.events().any(|event| word(event, "kind") == kind)
    }

    /// Days since the newest event, procedure or shock.
    pub(super) fn newest_event(&self) -> Option<i64> {
        let mut all = Vec::new();
        for event in self.events() {
            all.push(self.days_since(&event["date"]));
            for procedure in list(event, "procedures") {
                all.push(self.days_since(&procedure["date"]));
            }
        }
        all.push(self.days_since(&self.case["heart"]["device"]["last_shock"]));
        all.into_iter().flatten().filter(|days| *days >= 0).min()
    }

    /// Examinations up to the day, newest first; of two on one day the later written first.
    pub(super) fn examinations(&self) -> Vec<&'a Value> {
        let mut all: Vec<(i64, &Value)> = list(self.case, "examination")
            .iter()
            .rev()
            .filter_map(|one| Some((self.days_since(&one["date"])?, one)))
            .filter(|(days, _)| *days >= 0)
            .collect();
        all.sort_by_key(|(days, _)| *days);
        all.into_iter().map(|(_, one)| one).collect()
    }

    pub(super) fn newest_examination(&self) -> Option<&'a Value> {
        self.examinations().first().copied()
    }

    /// Whether the newest examination reports a symptom.
    pub(super) fn reports(&self, symptom: &str) -> bool {
        self.newest_examination()
            .is_some_and(|one| has_word(&one["symptoms"], symptom))
    }

    /// Systolic and diastolic pressure of the newest examination under a key.
    pub(super) fn pressure(&self, key: &str) -> Option<(f64, f64)> {
        let pair = self.newest_examination()?[key].as_array()?;
        Some((pair.first()?.as_f64()?, pair.get(1)?.as_f64()?))
    }

    /// Resting rate as last written.
    pub(super) fn resting_hr(&self) -> Option<f64> {
        self.examinations()
            .into_iter()
            .find_map(|one| number(one, "resting_hr_bpm"))
    }

    /// Exercise tests up to the day with the days since each, newest first, those without a day last; of two on one day
    /// the one written later first, as the house reads examinations.
    pub(super) fn exercise_tests(&self) -> Vec<(Option<i64>, &'a Value)> {
        let mut all: Vec<_> = self.tests("exercise-test");
        all.reverse();
        all.sort_by_key(|(days, _)| days.unwrap_or(i64::MAX));
        all
    }

    /// What the pressure did in the exercise tests that no test of a later day answers anew.
    pub(super) fn pressure_answers(&self) -> Vec<&'a str> {
        let told: Vec<(Option<i64>, &str)> = self
            .exercise_tests()
            .into_iter()
            .filter(|(_, test)| test["bp_response"].is_string())
            .map(|(days, test)| (days, word(test, "bp_response")))
            .collect();
        let newest = told.iter().filter_map(|(days, _)| *days).min();
        told.into_iter()
            .filter(|(days, _)| days.is_none() || *days == newest)
            .map(|(_, answer)| answer)
            .collect()
    }

    /// Tests of a kind up to the day.
    pub(super) fn tests(&self, kind: &str) -> Vec<(Option<i64>, &'a Value)> {
        list(self.case, "test")
            .iter()
            .filter(|test| word(test, "kind") == kind)
            .map(|test| (self.days_since(&test["date"]), test))
            .filter(|(days, _)| days.is_none_or(|days| days >= 0))
            .collect()
    }

    /// Days since each day on which something was watched after the newest event, the first of them first; without those
    /// on which something ended the session.
    pub(super) fn watched_days(&self) -> Vec<i64> {
        let event = self.newest_event();
        let watched: Vec<(i64, &Value)> = list(self.case, "watched")
            .iter()
            .filter_map(|one| Some((self.days_since(&one["date"])?, one)))
            .filter(|(days, _)| *days >= 0 && event.is_none_or(|event| event > *days))
            .collect();
        let ended: Vec<i64> = watched
            .iter()
            .filter(|(days, one)| self.was_ended(*days, one))
            .map(|(days, _)| *days)
            .collect();
        let mut days: Vec<i64> = watched.iter().map(|(days, _)| *days).collect();
        days.retain(|day| !ended.contains(day));
        days.sort_unstable();
        days.dedup();
        days.reverse();
        days
    }

    /// Whether a watched turn had a symptom, a pressure or an effort that ends a session.
    fn was_ended(&self, days: i64, one: &Value) -> bool {
        let usual = list(self.case, "usual_symptom");
        let breath_usual = usual
            .iter()
            .any(|one| word(one, "kind") == "breathlessness");
        let weak =
            number(&self.case["heart"], "ejection_fraction_pct").is_some_and(|pct| pct < 40.0);
        let failing = !self.absent("heart-failure") || self.had("heart-failure") || weak;
        let red = ["chest-discomfort", "faint", "palpitations", "device-shock"];
        let felt = |kind: &str| has_word(&one["symptoms"], kind);
        let symptom = red.iter().any(|kind| felt(kind))
            || felt("breathlessness") && (!breath_usual || failing);
        let of_pair = |pair: &Value, at: usize| pair.as_array()?.get(at)?.as_f64();
        let (high, low) = (of_pair(&one["bp_mmhg"], 0), of_pair(&one["bp_mmhg"], 1));
        let resting = self
            .examinations()
            .into_iter()
            .filter(|other| {
                self.days_since(&other["date"])
                    .is_some_and(|ago| ago >= days)
            })
            .find_map(|other| of_pair(&other["resting_bp_mmhg"], 0));
        let fell = high
            .zip(resting)
            .is_some_and(|(now, resting)| resting - now >= 20.0);
        let pressure =
            high.is_some_and(|high| high >= 240.0) || low.is_some_and(|low| low >= 110.0);
        let hardest = if word(&one["effort"], "scale") == "6-20" {
            17.0
        } else {
            8.0
        };
        let hard = number(&one["effort"], "value").is_some_and(|value| value >= hardest);
        symptom || fell || pressure || hard
    }

    /// Whether the person begins gently: nothing was watched yet or not for as long as the service sets, a high risk, heart
    /// failure.
    pub(super) fn gentle(&self, limits: &Value) -> bool {
        let first = self.watched_days().first().copied();
        word(&limits["risk"], "class") == "high"
            || self.present("heart-failure")
            || self.had("heart-failure")
            || first.is_none_or(|days| days < self.settings.gentle_days)
    }

    /// When the breastbone was last opened.
    pub(super) fn breastbone(&self) -> Since {
        let mut all = Vec::new();
        for event in self.events() {
            let kind = word(event, "kind");
            let opened: Vec<&Value> = list(event, "procedures")
                .iter()
                .filter(|one| match word(one, "kind") {
                    "sternotomy" | "bypass" => true,
                    "valve" => kind != "catheter-valve",
                    _ => false,
                })
                .collect();
            let surgery = matches!(
                kind,
                "bypass-surgery" | "valve-surgery" | "transplant" | "aneurysm-repair"
            );
            if opened.is_empty() && surgery {
                all.push(self.days_since(&event["date"]));
            }
            all.extend(opened.iter().map(|one| self.day_of(one, event)));
        }
        if self.present("sternum-unstable") {
            all.push(Some(0));
        }
        Since::newest(&all)
    }

    /// When a pacemaker or defibrillator was last put in.
    pub(super) fn implant(&self) -> Since {
        let mut all = Vec::new();
        for event in self.events() {
            let devices: Vec<&Value> = list(event, "procedures")
                .iter()
                .filter(|one| matches!(word(one, "kind"), "pacemaker" | "icd"))
                .collect();
            if devices.is_empty() && word(event, "kind") == "device-implant" {
                all.push(self.days_since(&event["date"]));
            }
            all.extend(devices.iter().map(|one| self.day_of(one, event)));
        }
        let heart = &self.case["heart"];
        if all.is_empty() && (heart["device"].is_object() || heart["pacemaker"].is_object()) {
            all.push(None);
        }
        Since::newest(&all)
    }

    fn day_of(&self, procedure: &Value, event: &Value) -> Option<i64> {
        self.days_since(&procedure["date"])
            .or_else(|| self.days_since(&event["date"]))
    }

    /// A defibrillator in the record, with the lowest rate it treats where that is written.
    pub(super) fn defibrillator(&self) -> Option<Option<f64>> {
        let device = &self.case["heart"]["device"];
        if device.is_object() {
            return Some(number(device, "lowest_treated_bpm"));
        }
        let by_procedure = self.events().any(|event| {
            list(event, "procedures")
                .iter()
                .any(|one| word(one, "kind") == "icd")
        });
        by_procedure.then_some(None)
    }

    /// Age in whole years on the day.
    pub(super) fn age_years(&self) -> Option<f64> {
        let born = date(&self.case["person"]["born"])?;
        let had_birthday = (self.on.month(), self.on.day()) >= (born.month(), born.day());
        let years = i32::from(self.on.year()) - i32::from(born.year());
        Some(f64::from(years - i32::from(!had_birthday)))
    }
}

/// Whether a list of words holds one.
pub(super) fn has_word(value: &Value, wanted: &str) -> bool {
    let words = value.as_array().into_iter().flatten();
    words.into_iter().any(|one| one.as_str() == Some(wanted))
}

fn date(value: &Value) -> Option<Date> {
    value.as_str()?.parse().ok()
}

/// Days from one date to another, counted over the number of each in the calendar.
fn days(from: Date, to: Date) -> i64 {
    ordinal(to) - ordinal(from)
}

/// Number of a day, counted from the first of March of the year nought.
fn ordinal(day: Date) -> i64 {
    let (mut year, mut month) = (i64::from(day.year()), i64::from(day.month()));
    if month < 3 {
        year -= 1;
        month += 12;
    }
    365 * year + year.div_euclid(4) - year.div_euclid(100)
        + year.div_euclid(400)
        + (153 * (month - 3) + 2) / 5
        + i64::from(day.day())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_counted_over_leap_days() {
        let day = |text: &str| text.parse::<Date>().expect("a date");
        assert_eq!(days(day("2028-02-28"), day("2028-03-01")), 2);
        assert_eq!(days(day("2026-02-28"), day("2026-03-01")), 1);
        assert_eq!(days(day("2025-11-25"), day("2026-11-25")), 365);
        assert_eq!(days(day("2026-11-25"), day("2026-11-12")), -13);
    }
}
