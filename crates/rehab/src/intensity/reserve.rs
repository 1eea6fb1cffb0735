//! Heart-rate reserve and oxygen reserve: the bands in beats and in METs.

use crate::assessed::{HeartRateBand, MetsBand};
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::{PEAK_HR, PEAK_METS, RESTING_HR, refuse, short};
use crate::quantity::{HeartRate, Mets};

/// A whole number reached by multiplication may miss itself by less than this; it is then that whole number.
const WHOLE_WITHIN: f64 = 1e-9;

/// Heart rate at a share of the reserve: `rest + share x (peak - rest)`, not rounded.
///
/// Source: Karvonen 1957 (register `karvonen-1957`). Share as a fraction, 0.4 for 40 %.
pub fn karvonen(resting: HeartRate, peak: HeartRate, share: f64) -> HeartRate {
    let reserve_bpm = peak.to_bpm() - resting.to_bpm();
    HeartRate::bpm(resting.to_bpm() + share * reserve_bpm)
}

/// Heart rate at a share of the peak: `share x peak`, not rounded.
pub fn of_peak(peak: HeartRate, share: f64) -> HeartRate {
    HeartRate::bpm(share * peak.to_bpm())
}

closed_words!(
    /// Why there is no band.
    NoBand as "reason for no band" {
        LowPassesHigh = "the lower limit lies above the upper limit: effort only, no pulse band",
        PeakNotAboveRest = "the peak does not lie above the resting rate: effort only, no pulse band",
    }
);

/// The band of two rates in whole beats: lower end rounded up, upper end down.
///
/// # Errors
/// [`NoBand::LowPassesHigh`] when nothing is left between them.
// Source: service-ours (rounding into the band, never out of it).
pub fn rounded_band(low: HeartRate, high: HeartRate) -> Result<HeartRateBand, NoBand> {
    let low_bpm = libm::ceil(low.to_bpm() - WHOLE_WITHIN);
    let high_bpm = libm::floor(high.to_bpm() + WHOLE_WITHIN);
    if low_bpm > high_bpm {
        return Err(NoBand::LowPassesHigh);
    }
    Ok(HeartRateBand {
        low: HeartRate::bpm(low_bpm),
        high: HeartRate::bpm(high_bpm),
    })
}

/// The band between two shares (per cent) of heart-rate reserve, in whole beats.
///
/// # Errors
/// [`NoBand`] when the peak doesn't lie above the resting rate or the ends cross.
pub fn reserve_band(
    resting: HeartRate,
    peak: HeartRate,
    low_pct: f64,
    high_pct: f64,
) -> Result<HeartRateBand, NoBand> {
    if peak <= resting {
        return Err(NoBand::PeakNotAboveRest);
    }
    rounded_band(
        karvonen(resting, peak, low_pct / 100.0),
        karvonen(resting, peak, high_pct / 100.0),
    )
}

/// The band between two shares (per cent) of the peak heart rate, in whole beats.
///
/// # Errors
/// [`NoBand::LowPassesHigh`] when the ends cross.
pub fn of_peak_band(peak: HeartRate, low_pct: f64, high_pct: f64) -> Result<HeartRateBand, NoBand> {
    rounded_band(
        of_peak(peak, low_pct / 100.0),
        of_peak(peak, high_pct / 100.0),
    )
}

/// METs at a share of the oxygen reserve: `1 + share x (peak - 1)`, the same as `share x (max - 3.5) + 3.5` mL/kg/min.
///
/// Source: Swain 1998 (register `swain-1998`, recalled).
pub fn oxygen_reserve(peak: Mets, share: f64) -> Mets {
    Mets::of(1.0 + share * (peak.to_mets() - 1.0))
}

/// The band of METs between two shares (per cent) of the oxygen reserve.
///
/// A peak at or below 1 MET leaves no reserve; both ends are then 1.
pub fn oxygen_reserve_band(peak: Mets, low_pct: f64, high_pct: f64) -> MetsBand {
    let peak = peak.max(Mets::of(1.0));
    MetsBand {
        low: oxygen_reserve(peak, low_pct / 100.0),
        high: oxygen_reserve(peak, high_pct / 100.0),
    }
}

const LOW_PCT: Input = Input::number("low_pct", "per cent of reserve", 0.0, 100.0);
const HIGH_PCT: Input = Input::number("high_pct", "per cent of reserve", 0.0, 100.0);

/// Heart-rate reserve.
pub(super) const KARVONEN: Rule = Rule {
    id: RuleId("intensity/karvonen-1957"),
    name: "Heart rate at a share of the reserve",
    statement: "Target = rest + share x (peak - rest), bpm, share in per cent of heart-rate reserve.",
    sources: &[SourceId("karvonen-1957")],
    tag: Tag::Read,
    inputs: &[
        RESTING_HR,
        PEAK_HR,
        Input::number("share_pct", "per cent of reserve", 0.0, 100.0),
    ],
    evaluate: |values| {
        let rest = values.number("resting_hr_bpm")?;
        let peak = values.number("peak_hr_bpm")?;
        let pct = values.number("share_pct")?;
        if peak <= rest {
            return refuse(NoBand::PeakNotAboveRest.word());
        }
        let target = karvonen(HeartRate::bpm(rest), HeartRate::bpm(peak), pct / 100.0).to_bpm();
        Ok(Answer::new(
            Value::Number(target, "bpm"),
            format!(
                "{rest} + {} x ({peak} - {rest}) = {}",
                short(pct / 100.0),
                short(target)
            ),
        ))
    },
};

/// The band in whole beats.
pub(super) const RESERVE_BAND: Rule = Rule {
    id: RuleId("intensity/reserve-band"),
    name: "Band of heart-rate reserve in whole beats",
    statement: "Both ends by heart-rate reserve; the lower end is rounded up and the upper end down. When the lower end passes the upper there is no pulse band: effort only.",
    sources: &[SourceId("karvonen-1957"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[RESTING_HR, PEAK_HR, LOW_PCT, HIGH_PCT],
    evaluate: |values| {
        let rest = HeartRate::bpm(values.number("resting_hr_bpm")?);
        let peak = HeartRate::bpm(values.number("peak_hr_bpm")?);
        let (low, high) = (values.number("low_pct")?, values.number("high_pct")?);
        let band = match reserve_band(rest, peak, low, high) {
            Ok(band) => band,
            Err(why) => return refuse(why.word()),
        };
        let raw = |pct: f64| short(karvonen(rest, peak, pct / 100.0).to_bpm());
        let text = format!("{} to {} bpm", band.low.to_bpm(), band.high.to_bpm());
        Ok(Answer::new(
            Value::Text(text),
            format!(
                "{} up to {}; {} down to {}",
                raw(low),
                band.low.to_bpm(),
                raw(high),
                band.high.to_bpm()
            ),
        ))
    },
};

/// Oxygen reserve.
pub(super) const OXYGEN_RESERVE: Rule = Rule {
    id: RuleId("intensity/oxygen-reserve-1998"),
    name: "METs at a share of the oxygen reserve",
    statement: "Target = share x (peak - 3.5) + 3.5 mL/kg/min; in METs 1 + share x (peak - 1).",
    sources: &[SourceId("swain-1998")],
    tag: Tag::Recalled,
    inputs: &[
        PEAK_METS,
        Input::number("share_pct", "per cent of reserve", 0.0, 100.0),
    ],
    evaluate: |values| {
        let peak = values.number("peak_mets")?;
        let pct = values.number("share_pct")?;
        let target = oxygen_reserve(Mets::of(peak), pct / 100.0).to_mets();
        Ok(Answer::new(
            Value::Number(target, "METs"),
            format!(
                "1 + {} x ({} - 1) = {}",
                short(pct / 100.0),
                short(peak),
                short(target)
            ),
        ))
    },
};

/// Share of the peak rate.
pub(super) const OF_PEAK: Rule = Rule {
    id: RuleId("intensity/share-of-peak"),
    name: "Heart rate at a share of the peak",
    statement: "Target = share x peak, bpm, share in per cent of the peak heart rate.",
    sources: &[SourceId("garber-2011")],
    tag: Tag::Read,
    inputs: &[
        PEAK_HR,
        Input::number("share_pct", "per cent of peak", 0.0, 100.0),
    ],
    evaluate: |values| {
        let peak = values.number("peak_hr_bpm")?;
        let pct = values.number("share_pct")?;
        let target = of_peak(HeartRate::bpm(peak), pct / 100.0).to_bpm();
        Ok(Answer::new(
            Value::Number(target, "bpm"),
            format!("{} x {peak} = {}", short(pct / 100.0), short(target)),
        ))
    },
};

/// The rules of reserve.
pub(super) const RULES: &[Rule] = &[KARVONEN, RESERVE_BAND, OXYGEN_RESERVE, OF_PEAK];

#[cfg(test)]
mod tests {
    use super::*;

    fn target(rest: f64, peak: f64, share: f64) -> f64 {
        karvonen(HeartRate::bpm(rest), HeartRate::bpm(peak), share).to_bpm()
    }

    fn band(rest: f64, peak: f64, low: f64, high: f64) -> (f64, f64) {
        let band = reserve_band(HeartRate::bpm(rest), HeartRate::bpm(peak), low, high).unwrap();
        (band.low.to_bpm(), band.high.to_bpm())
    }

    // Source: karvonen-1957 as printed in a worked web example: max 190, rest 70, 40 % and 85 %; and 60 years, rest 70.
    #[test]
    fn published_karvonen_examples() {
        const HALF_BEAT_BPM: f64 = 0.5;
        assert!(libm::fabs(target(70.0, 190.0, 0.40) - 118.0) < HALF_BEAT_BPM);
        assert!(libm::fabs(target(70.0, 190.0, 0.85) - 172.0) < HALF_BEAT_BPM);
        assert!(libm::fabs(target(70.0, 160.0, 0.60) - 124.0) < HALF_BEAT_BPM);
    }

    // A public page prints 152 for 80 % of the reserve of a 60-year-old with rest 70; the equation gives 142.
    #[test]
    fn the_known_wrong_152_is_not_ours() {
        assert!(libm::fabs(target(70.0, 160.0, 0.80) - 142.0) < 0.000_5);
        assert!(libm::fabs(target(70.0, 160.0, 0.80) - 152.0) > 9.0);
    }

    // Computed by hand from the equation.
    #[test]
    fn worked_bands() {
        let near = |a: f64, b: f64| assert!(libm::fabs(a - b) < 0.005, "{a} is not {b}");
        near(target(58.0, 134.7, 0.4), 88.68);
        near(target(58.0, 134.7, 0.7), 111.69);
        assert_eq!(band(58.0, 134.7, 40.0, 70.0), (89.0, 111.0));
        near(target(62.0, 161.275, 0.4), 101.71);
        near(target(62.0, 161.275, 0.7), 131.49);
        near(target(62.0, 118.5, 0.4), 84.6);
        near(target(62.0, 118.5, 0.7), 101.55);
        near(target(64.0, 115.0, 0.4), 84.4);
        near(target(64.0, 115.0, 0.7), 99.7);
        assert_eq!(band(64.0, 115.0, 40.0, 70.0), (85.0, 99.0));
    }

    #[test]
    fn worked_oxygen_reserve() {
        let uptake = |max: f64, share: f64| {
            let peak = crate::quantity::OxygenUptake::ml_per_kg_min(max).to_mets();
            oxygen_reserve(peak, share)
                .to_oxygen_uptake()
                .to_ml_per_kg_min()
        };
        let near = |a: f64, b: f64| assert!(libm::fabs(a - b) < 0.005, "{a} is not {b}");
        near(uptake(25.0, 0.5), 14.25);
        near(uptake(20.0, 0.4), 10.1);
        near(uptake(20.0, 0.7), 15.05);
        let band = oxygen_reserve_band(Mets::of(20.0 / 3.5), 40.0, 70.0);
        near(band.low.to_mets(), 2.89);
        near(band.high.to_mets(), 4.30);
    }

    // 70 + 0.4 x 120 is 118 exactly, but not in binary arithmetic; rounding up must not make it 119.
    #[test]
    fn a_whole_lower_end_stays_itself() {
        assert_eq!(band(70.0, 190.0, 40.0, 85.0), (118.0, 172.0));
    }

    #[test]
    fn no_band_when_the_ends_cross_or_the_peak_is_not_above_rest() {
        let rate = HeartRate::bpm;
        assert_eq!(
            reserve_band(rate(70.0), rate(70.0), 40.0, 70.0),
            Err(NoBand::PeakNotAboveRest)
        );
        assert_eq!(
            reserve_band(rate(69.2), rate(69.9), 40.0, 70.0),
            Err(NoBand::LowPassesHigh)
        );
    }

    #[test]
    fn law_the_rounded_band_lies_within_the_raw_one() {
        for rest in 40..100 {
            for peak in 101..200 {
                let (rest, peak) = (f64::from(rest), f64::from(peak) + 0.275);
                let (low, high) = band(rest, peak, 40.0, 70.0);
                assert!(low >= target(rest, peak, 0.4) - 1e-6);
                assert!(high <= target(rest, peak, 0.7) + 1e-6);
            }
        }
    }
}
