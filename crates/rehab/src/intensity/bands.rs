//! Training bands as each body prints them. They disagree; the service chooses, and the choice is printed on the plan.

use super::{NoBand, of_peak_band, reserve_band};
use crate::assessed::HeartRateBand;
use crate::assessment::EffortScale;
use crate::evidence::{Answer, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{PEAK_HR, RESTING_HR};
use crate::quantity::HeartRate;

/// A range of an effort scale as printed; an open upper end is `None`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EffortRange {
    /// The scale it is printed on.
    pub scale: EffortScale,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: Option<f64>,
}

/// A band as one body prints it: every measure it gives, in per cent.
#[derive(Clone, Copy, Debug)]
pub struct BodyBand {
    /// Id of the table, stored with the plan.
    pub id: &'static str,
    /// For whom, in words.
    pub for_whom: &'static str,
    /// Per cent of heart-rate reserve.
    pub reserve_pct: Option<(f64, f64)>,
    /// Per cent of the peak heart rate.
    pub of_peak_pct: Option<(f64, f64)>,
    /// Per cent of peak oxygen uptake.
    pub of_uptake_pct: Option<(f64, f64)>,
    /// Beats above the resting rate: at the beginning, later.
    pub above_rest_bpm: Option<(f64, f64)>,
    /// Effort.
    pub effort: Option<EffortRange>,
    /// The rule that holds it.
    pub rule: &'static Rule,
}

impl BodyBand {
    /// The band of heart-rate reserve for a person; `None` when this body gives none.
    pub fn reserve(
        &self,
        resting: HeartRate,
        peak: HeartRate,
    ) -> Option<Result<HeartRateBand, NoBand>> {
        self.reserve_pct
            .map(|(low, high)| reserve_band(resting, peak, low, high))
    }

    /// The band of the peak heart rate for a person; `None` when this body gives none.
    pub fn of_peak(&self, peak: HeartRate) -> Option<Result<HeartRateBand, NoBand>> {
        self.of_peak_pct
            .map(|(low, high)| of_peak_band(peak, low, high))
    }
}

/// Every band.
pub fn body_bands() -> &'static [BodyBand] {
    BANDS
}

/// The band of an id.
pub fn body_band(id: &str) -> Option<&'static BodyBand> {
    BANDS.iter().find(|band| band.id == id)
}

const fn six_to_twenty(low: f64, high: f64) -> Option<EffortRange> {
    Some(EffortRange {
        scale: EffortScale::SixToTwenty,
        low,
        high: Some(high),
    })
}

fn written(pair: (f64, f64), what: &str) -> String {
    format!("{} to {} {what}", pair.0, pair.1)
}

/// The printed numbers in words.
fn printed(band: &BodyBand) -> String {
    let mut parts = Vec::new();
    parts.extend(
        band.reserve_pct
            .map(|pair| written(pair, "% of heart-rate reserve")),
    );
    parts.extend(
        band.of_peak_pct
            .map(|pair| written(pair, "% of peak heart rate")),
    );
    parts.extend(
        band.of_uptake_pct
            .map(|pair| written(pair, "% of peak oxygen uptake")),
    );
    parts.extend(
        band.above_rest_bpm
            .map(|pair| written(pair, "bpm above rest")),
    );
    parts.extend(band.effort.map(|effort| match effort.high {
        Some(high) => format!(
            "effort {} to {high} of the scale {}",
            effort.low, effort.scale
        ),
        None => format!("effort above {} of the scale {}", effort.low, effort.scale),
    }));
    parts.join(", ")
}

fn in_beats(band: &BodyBand, values: &Values) -> Vec<String> {
    let rate = |name| values.optional_number(name).map(HeartRate::bpm);
    let (resting, peak) = (rate("resting_hr_bpm"), rate("peak_hr_bpm"));
    let words = |found: Result<HeartRateBand, NoBand>| match found {
        Ok(band) => format!("{} to {} bpm", band.low.to_bpm(), band.high.to_bpm()),
        Err(why) => why.word().to_owned(),
    };
    let mut parts = Vec::new();
    if let (Some(resting), Some(peak)) = (resting, peak) {
        parts.extend(
            band.reserve(resting, peak)
                .map(|found| format!("by reserve {}", words(found))),
        );
    }
    if let Some(peak) = peak {
        parts.extend(
            band.of_peak(peak)
                .map(|found| format!("by peak {}", words(found))),
        );
    }
    if let (Some(resting), Some((first, later))) = (resting, band.above_rest_bpm) {
        let rest = resting.to_bpm();
        parts.push(format!(
            "above rest {} to {} bpm",
            rest + first,
            rest + later
        ));
    }
    parts
}

/// The rates that a band needs to be written in beats.
fn rates_of(band: &BodyBand) -> Vec<&'static str> {
    let resting = band.reserve_pct.is_some() || band.above_rest_bpm.is_some();
    let peak = band.reserve_pct.is_some() || band.of_peak_pct.is_some();
    let mut names = Vec::new();
    names.extend(resting.then_some(RESTING_HR.name));
    names.extend(peak.then_some(PEAK_HR.name));
    names
}

fn evaluate(values: &Values, at: usize) -> Result<Answer, RuleError> {
    let band = &BANDS[at];
    let mut parts = in_beats(band, values);
    let missing: Vec<&str> = rates_of(band)
        .into_iter()
        .filter(|name| values.optional_number(name).is_none())
        .collect();
    if rates_of(band).is_empty() {
        parts.push("the body gives no rate here: effort leads".to_owned());
    } else if !missing.is_empty() {
        parts.push(format!("for beats give {}", missing.join(" and ")));
    }
    Ok(Answer::new(Value::Text(printed(band)), parts.join("; ")))
}

macro_rules! bands {
    ($($place:ident: $id:literal, $tag:ident, [$($source:literal),+], $whom:literal, $statement:literal,
        { $($field:ident: $value:expr),+ };)+) => {
        const NOTHING: BodyBand = BodyBand {
            id: "",
            for_whom: "",
            reserve_pct: None,
            of_peak_pct: None,
            of_uptake_pct: None,
            above_rest_bpm: None,
            effort: None,
            rule: &RULES[0],
        };

        const BANDS: &[BodyBand] = &[$(BodyBand {
            id: $id,
            for_whom: $whom,
            $($field: $value,)+
            rule: &RULES[Place::$place as usize],
            ..NOTHING
        }),+];

        /// One rule for each band.
        pub(super) const RULES: &[Rule] = &[$(Rule {
            id: RuleId(concat!("band/", $id)),
            name: concat!("Training band: ", $whom),
            statement: $statement,
            sources: &[$(SourceId($source)),+],
            tag: Tag::$tag,
            inputs: &[RESTING_HR.or_none(), PEAK_HR.or_none()],
            evaluate: |values| evaluate(values, Place::$place as usize),
        }),+];

        enum Place { $($place),+ }
    };
}

bands! {
    Uk: "uk-acpicr-bacpr", Read, ["uk-acpicr-bacpr"], "UK cardiac rehabilitation",
        "40 to 70 % of heart-rate reserve (unaccustomed people start at 40 %), effort 11 to 14 of 6 to 20; warm-up and cool-down 9 to 11 (secondary).",
        { reserve_pct: Some((40.0, 70.0)), effort: six_to_twenty(11.0, 14.0) };
    UkHighRisk: "uk-acpicr-bacpr-high-risk", Read, ["uk-acpicr-bacpr"], "UK cardiac rehabilitation, high risk",
        "40 to 60 % of heart-rate reserve in high risk, effort 11 to 14 of 6 to 20 (secondary).",
        { reserve_pct: Some((40.0, 60.0)), effort: six_to_twenty(11.0, 14.0) };
    UkWarmUp: "uk-warm-up-and-cool-down", Read, ["uk-acpicr-bacpr"], "UK warm-up and cool-down",
        "Effort 9 to 11 of 6 to 20 (secondary).",
        { effort: six_to_twenty(9.0, 11.0) };
    UsTested: "acsm-aacvpr-tested", Recalled, ["acsm-getp", "aacvpr-guidelines"], "US cardiac rehabilitation with an exercise test",
        "40 to 80 % of heart-rate or oxygen reserve, effort 12 to 16 of 6 to 20.",
        { reserve_pct: Some((40.0, 80.0)), effort: six_to_twenty(12.0, 16.0) };
    UsUntested: "acsm-aacvpr-untested", Recalled, ["acsm-getp", "aacvpr-guidelines", "keteyian-2023"], "US cardiac rehabilitation without an exercise test",
        "Rest + 20, later + 30 bpm, effort 11 to 14 of 6 to 20. Criticised: rest + 20 left 100 % and rest + 30 48 % of people below half the reserve.",
        { above_rest_bpm: Some((20.0, 30.0)), effort: six_to_twenty(11.0, 14.0) };
    CanadaFailure: "ccs-heart-failure", Read, ["ccs-heart-failure"], "heart failure, Canada",
        "Effort 3 to 5 of 10, or 65 to 85 % of peak heart rate, or 50 to 75 % of peak oxygen uptake; from 10-15 minutes 2 or 3 times a week to 30 minutes 5 times.",
        { of_peak_pct: Some((65.0, 85.0)), of_uptake_pct: Some((50.0, 75.0)),
          effort: Some(EffortRange { scale: EffortScale::ZeroToTen, low: 3.0, high: Some(5.0) }) };
    GermanModerate: "german-moderate", Read, ["jcm-2021-t3"], "German-language practice, moderate",
        "65 to 75 % of peak heart rate, 40 to 60 % of reserve, effort 12 to 14 of 6 to 20.",
        { reserve_pct: Some((40.0, 60.0)), of_peak_pct: Some((65.0, 75.0)), effort: six_to_twenty(12.0, 14.0) };
    GermanVigorous: "german-vigorous", Read, ["jcm-2021-t3"], "German-language practice, vigorous",
        "75 to 85 % of peak heart rate, 60 to 70 % of reserve, effort above 15 of 6 to 20.",
        { reserve_pct: Some((60.0, 70.0)), of_peak_pct: Some((75.0, 85.0)),
          effort: Some(EffortRange { scale: EffortScale::SixToTwenty, low: 15.0, high: None }) };
    Fibrillation: "atrial-fibrillation", Read, ["keteyian-2019"], "atrial fibrillation",
        "Effort 11 to 14 of 6 to 20 and the talk test; the heart rate is not used.",
        { effort: six_to_twenty(11.0, 14.0) };
    Sinus: "sinus-rhythm-2019", Read, ["keteyian-2019"], "sinus rhythm, US table of 2019",
        "55 to 80 % of heart-rate reserve.",
        { reserve_pct: Some((55.0, 80.0)) };
    Stroke: "stroke", Recalled, ["aha-stroke"], "after a stroke",
        "55 to 80 % of peak heart rate, effort 11 to 14 of 6 to 20; 40 to 70 % of reserve (recalled).",
        { reserve_pct: Some((40.0, 70.0)), of_peak_pct: Some((55.0, 80.0)), effort: six_to_twenty(11.0, 14.0) };
}

#[cfg(test)]
mod tests {
    use super::*;

    // Sources stand beside each band: uk-acpicr-bacpr, ccs-heart-failure, jcm-2021-t3, keteyian-2019, aha-stroke.
    #[test]
    fn published_bands() {
        let reserve = |id| body_band(id).unwrap().reserve_pct;
        let peak = |id| body_band(id).unwrap().of_peak_pct;
        assert_eq!(reserve("uk-acpicr-bacpr"), Some((40.0, 70.0)));
        assert_eq!(reserve("uk-acpicr-bacpr-high-risk"), Some((40.0, 60.0)));
        assert_eq!(reserve("sinus-rhythm-2019"), Some((55.0, 80.0)));
        assert_eq!(peak("ccs-heart-failure"), Some((65.0, 85.0)));
        assert_eq!(peak("german-vigorous"), Some((75.0, 85.0)));
        assert_eq!(peak("stroke"), Some((55.0, 80.0)));
    }

    #[test]
    fn fibrillation_has_no_heart_rate() {
        let band = body_band("atrial-fibrillation").unwrap();
        assert!(
            band.reserve_pct.is_none()
                && band.of_peak_pct.is_none()
                && band.above_rest_bpm.is_none()
        );
        assert!(band.effort.is_some());
    }

    #[test]
    fn a_band_asks_only_for_the_rates_it_is_written_in() {
        let working = |id: &str, given: &[(&str, &str)]| {
            let rule = body_band(id).unwrap().rule;
            let pairs: Vec<(String, String)> = given
                .iter()
                .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()))
                .collect();
            let values = Values::check(rule, &pairs).unwrap();
            (rule.evaluate)(&values).unwrap().working
        };
        let both = [("resting_hr_bpm", "62"), ("peak_hr_bpm", "150")];
        for effort_only in ["atrial-fibrillation", "uk-warm-up-and-cool-down"] {
            for given in [&both[..], &[]] {
                let said = working(effort_only, given);
                assert!(!said.contains("give "), "{said}");
            }
        }
        assert!(!working("uk-acpicr-bacpr", &both).contains("give"));
        assert!(working("uk-acpicr-bacpr", &both[..1]).contains("give peak_hr_bpm"));
        assert!(!working("acsm-aacvpr-untested", &both[..1]).contains("give"));
        assert!(working("ccs-heart-failure", &[]).ends_with("give peak_hr_bpm"));
    }

    #[test]
    fn each_band_holds_its_own_rule() {
        for band in body_bands() {
            assert_eq!(band.rule.id.0, format!("band/{}", band.id));
        }
    }

    // Computed by hand: 58 + 0.4 x 76.7 = 88.68 and 58 + 0.6 x 76.7 = 104.02.
    #[test]
    fn worked_high_risk_band() {
        let band = body_band("uk-acpicr-bacpr-high-risk").unwrap();
        let found = band
            .reserve(HeartRate::bpm(58.0), HeartRate::bpm(134.7))
            .unwrap()
            .unwrap();
        assert_eq!((found.low.to_bpm(), found.high.to_bpm()), (89.0, 104.0));
    }
}
