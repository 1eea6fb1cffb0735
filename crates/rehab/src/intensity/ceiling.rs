//! Heart-rate ceilings and how they combine: the least of the hard ones, else the guiding one.

use super::NoBand;
use crate::assessed::{Ceiling, CeilingKind, HeartRateBand};
use crate::evidence::{Answer, Because, Input, Named, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::{PEAK_HR, refuse, short};
use crate::quantity::HeartRate;

/// Margin below the rate at which ischaemia begins, in bpm.
// Source: acsm-getp (recalled).
pub const ISCHAEMIA_MARGIN_BPM: f64 = 10.0;

/// Margin below the lowest rate a device treats, in bpm; sources say 10 (read), 10 to 15, 10 to 20 (recalled).
// Source: service-ours.
pub const DEVICE_MARGIN_BPM: f64 = 20.0;

/// Least margin below a device's lowest treated rate that a source knows, in bpm.
// Source: pernick-icd.
const DEVICE_MARGIN_LEAST_BPM: f64 = 10.0;

/// The ceiling below the rate at which angina, ST depression, arrhythmia or a pressure fall began.
pub fn below_ischaemia(onset: HeartRate, margin_bpm: f64) -> HeartRate {
    HeartRate::bpm(onset.to_bpm() - margin_bpm)
}

/// The ceiling below the lowest rate at which a device treats.
pub fn below_device_zone(lowest_treated: HeartRate, margin_bpm: f64) -> HeartRate {
    HeartRate::bpm(lowest_treated.to_bpm() - margin_bpm)
}

/// The ceiling from a measured peak without symptoms: never above it.
pub fn tested_peak(symptom_free_peak: HeartRate) -> HeartRate {
    symptom_free_peak
}

/// What a ceiling can come from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CeilingFacts {
    /// Rate at the start of angina, of 1 mm ST depression, of an arrhythmia or of a pressure fall.
    pub ischaemia: Option<HeartRate>,
    /// The service's margin below it, in bpm.
    pub ischaemia_margin_bpm: f64,
    /// Lowest rate a device treats.
    pub lowest_treated: Option<HeartRate>,
    /// The service's margin below it, in bpm.
    pub device_margin_bpm: f64,
    /// Measured peak that was free of symptoms.
    pub symptom_free_peak: Option<HeartRate>,
    /// Upper end of the band from a predicted maximum, used only where no hard ceiling exists.
    pub guiding: Option<HeartRate>,
}

/// The ceiling: the least of the hard ones, rounded down; where none exists, the guiding one. All that were compared
/// are explained, the one that counts first.
pub fn ceiling(facts: &CeilingFacts) -> Option<(Ceiling, Vec<Because>)> {
    let mut hard = hard_ceilings(facts);
    hard.sort_by(|(a, _), (b, _)| a.to_bpm().total_cmp(&b.to_bpm()));
    if let Some((rate, _)) = hard.first() {
        let ceiling = Ceiling {
            rate: whole_beats_down(*rate),
            kind: CeilingKind::Hard,
        };
        return Some((
            ceiling,
            hard.into_iter().map(|(_, because)| because).collect(),
        ));
    }
    let rate = whole_beats_down(facts.guiding?);
    let because = GUIDING.because(
        Value::Number(rate.to_bpm(), "bpm"),
        "Guiding ceiling: the upper end of the band from a predicted maximum; it never blocks.",
    );
    let kind = CeilingKind::Guiding;
    Some((Ceiling { rate, kind }, vec![because]))
}

/// A band cut to a ceiling.
///
/// # Errors
/// [`NoBand::LowPassesHigh`] when the ceiling lies below the band's lower end.
pub fn under_ceiling(band: HeartRateBand, ceiling: Ceiling) -> Result<HeartRateBand, NoBand> {
    let high = band.high.min(ceiling.rate);
    if high < band.low {
        return Err(NoBand::LowPassesHigh);
    }
    Ok(HeartRateBand { high, ..band })
}

fn whole_beats_down(rate: HeartRate) -> HeartRate {
    HeartRate::bpm(libm::floor(rate.to_bpm() + 1e-9))
}

fn hard_ceilings(facts: &CeilingFacts) -> Vec<(HeartRate, Because)> {
    let mut found = Vec::new();
    if let Some(onset) = facts.ischaemia {
        let margin = facts.ischaemia_margin_bpm;
        let rate = below_ischaemia(onset, margin);
        found.push((
            rate,
            explained(
                &ISCHAEMIA,
                "Below the rate at which ischaemia begins.",
                rate,
                Some((onset, margin)),
            ),
        ));
    }
    if let Some(lowest) = facts.lowest_treated {
        let margin = facts.device_margin_bpm;
        let rate = below_device_zone(lowest, margin);
        found.push((
            rate,
            explained(
                &DEVICE,
                "Below the lowest rate the device treats.",
                rate,
                Some((lowest, margin)),
            ),
        ));
    }
    if let Some(peak) = facts.symptom_free_peak {
        let rate = tested_peak(peak);
        found.push((
            rate,
            explained(
                &TESTED_PEAK,
                "Never above the peak measured without symptoms.",
                rate,
                None,
            ),
        ));
    }
    found
}

fn explained(rule: &Rule, text: &str, rate: HeartRate, from: Option<(HeartRate, f64)>) -> Because {
    let mut because = rule.because(Value::Number(rate.to_bpm(), "bpm"), text);
    because.changes_with = Some("a new exercise test; a new device setting".to_owned());
    if let Some((onset, margin)) = from {
        because.working = Some(working(onset.to_bpm(), margin));
        because.inputs = vec![
            Named::number("hr_bpm", onset.to_bpm(), "bpm"),
            Named::number("margin_bpm", margin, "bpm"),
        ];
    }
    because
}

fn working(from_bpm: f64, margin_bpm: f64) -> String {
    format!(
        "{} - {} = {}",
        short(from_bpm),
        short(margin_bpm),
        short(from_bpm - margin_bpm)
    )
}

const MARGIN: Input = Input::number("margin_bpm", "beats a minute", 0.0, 60.0);

/// Ischaemic ceiling.
pub(super) const ISCHAEMIA: Rule = Rule {
    id: RuleId("ceiling/ischaemia"),
    name: "Ceiling below the ischaemic rate",
    statement: "Upper rate at least 10 bpm below the rate at the start of angina, ST depression of 1 mm or more, arrhythmia or a systolic fall. Hard.",
    sources: &[SourceId("acsm-getp"), SourceId("aacvpr-guidelines")],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("ischaemia_hr_bpm", "beats a minute", 40.0, 240.0),
        MARGIN.or_none(),
    ],
    evaluate: |values| {
        let onset = values.number("ischaemia_hr_bpm")?;
        let margin = values
            .optional_number("margin_bpm")
            .unwrap_or(ISCHAEMIA_MARGIN_BPM);
        let rate = below_ischaemia(HeartRate::bpm(onset), margin);
        let answer = Answer::new(Value::Number(rate.to_bpm(), "bpm"), working(onset, margin));
        Ok(if margin < ISCHAEMIA_MARGIN_BPM {
            answer.keep_in_mind("the margin is smaller than the sources' 10 bpm")
        } else {
            answer
        })
    },
};

/// Device ceiling.
pub(super) const DEVICE: Rule = Rule {
    id: RuleId("ceiling/device-zone"),
    name: "Ceiling below the lowest treated rate of a device",
    statement: "Upper rate 20 bpm below the lowest rate at which the defibrillator treats (default; a service may set down to 10). Sources: 10 (read), 10 to 15 and 10 to 20 (recalled). Hard.",
    sources: &[
        SourceId("pernick-icd"),
        SourceId("acsm-getp"),
        SourceId("pedretti-2021"),
        SourceId("service-ours"),
    ],
    tag: Tag::Ours,
    inputs: &[
        Input::number("lowest_treated_bpm", "beats a minute", 100.0, 260.0),
        MARGIN.or_none(),
    ],
    evaluate: |values| {
        let lowest = values.number("lowest_treated_bpm")?;
        let margin = values
            .optional_number("margin_bpm")
            .unwrap_or(DEVICE_MARGIN_BPM);
        let rate = below_device_zone(HeartRate::bpm(lowest), margin);
        let answer = Answer::new(Value::Number(rate.to_bpm(), "bpm"), working(lowest, margin));
        Ok(if margin < DEVICE_MARGIN_LEAST_BPM {
            answer.keep_in_mind("the margin is smaller than any source's 10 bpm")
        } else {
            answer
        })
    },
};

/// Measured peak.
pub(super) const TESTED_PEAK: Rule = Rule {
    id: RuleId("ceiling/tested-peak"),
    name: "Never above the measured peak",
    statement: "The upper rate is never above the peak that was measured without symptoms. Hard.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[PEAK_HR],
    evaluate: |values| {
        let peak = values.number("peak_hr_bpm")?;
        Ok(Answer::new(
            Value::Number(peak, "bpm"),
            format!("the measured peak, {}", short(peak)),
        ))
    },
};

/// Guiding ceiling.
pub(super) const GUIDING: Rule = Rule {
    id: RuleId("ceiling/guiding"),
    name: "Guiding ceiling from a predicted maximum",
    statement: "Where no ischaemic rate, device rate or measured peak exists, the upper end of the band from the service's predicted maximum is shown as guiding, with its error; it never blocks.",
    sources: &[SourceId("keteyian-2023"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::number(
        "upper_end_bpm",
        "beats a minute",
        25.0,
        240.0,
    )],
    evaluate: |values| {
        let upper = values.number("upper_end_bpm")?;
        let rate = whole_beats_down(HeartRate::bpm(upper)).to_bpm();
        Ok(Answer::new(
            Value::Number(rate, "bpm"),
            format!("{} down to {rate}", short(upper)),
        ))
    },
};

/// How they combine.
pub(super) const LEAST: Rule = Rule {
    id: RuleId("ceiling/least"),
    name: "The least of the ceilings",
    statement: "Final upper rate = least of the upper end of the band, the ischaemic, the device and the measured-peak ceiling; when the lower end lies above it there is no pulse band: effort only, and a flag.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("low_bpm", "beats a minute", 25.0, 240.0),
        Input::numbers("upper_bpm", "beats a minute", 25.0, 240.0),
    ],
    evaluate: |values| {
        let low = values.number("low_bpm")?;
        let uppers = values.numbers("upper_bpm")?;
        let least = uppers.iter().copied().fold(f64::INFINITY, f64::min);
        let least = libm::floor(least + 1e-9);
        if low > least {
            return refuse(NoBand::LowPassesHigh.word());
        }
        Ok(Answer::new(
            Value::Number(least, "bpm"),
            format!("least of {} uppers", uppers.len()),
        ))
    },
};

/// The rules of ceilings.
pub(super) const RULES: &[Rule] = &[ISCHAEMIA, DEVICE, TESTED_PEAK, GUIDING, LEAST];

#[cfg(test)]
mod tests {
    use super::*;

    fn facts() -> CeilingFacts {
        CeilingFacts {
            ischaemia: None,
            ischaemia_margin_bpm: ISCHAEMIA_MARGIN_BPM,
            lowest_treated: None,
            device_margin_bpm: DEVICE_MARGIN_BPM,
            symptom_free_peak: None,
            guiding: Some(HeartRate::bpm(101.55)),
        }
    }

    fn check(facts: CeilingFacts, bpm: f64, kind: CeilingKind) {
        let (ceiling, because) = ceiling(&facts).expect("something gives a ceiling");
        assert_eq!((ceiling.rate.to_bpm(), ceiling.kind), (bpm, kind));
        assert!(!because.is_empty());
    }

    // Computed by hand: onset 118 gives 108; a device at 170 gives 160 with a margin of 10 and 150 with 20.
    #[test]
    fn worked_ceilings() {
        let rate = HeartRate::bpm;
        assert_eq!(below_ischaemia(rate(118.0), 10.0).to_bpm(), 108.0);
        assert_eq!(below_device_zone(rate(170.0), 10.0).to_bpm(), 160.0);
        assert_eq!(below_device_zone(rate(170.0), 20.0).to_bpm(), 150.0);
    }

    #[test]
    fn the_least_hard_ceiling_counts_and_the_guiding_one_only_alone() {
        check(facts(), 101.0, CeilingKind::Guiding);
        let device = CeilingFacts {
            lowest_treated: Some(HeartRate::bpm(170.0)),
            ..facts()
        };
        check(device, 150.0, CeilingKind::Hard);
        let both = CeilingFacts {
            ischaemia: Some(HeartRate::bpm(118.0)),
            ..device
        };
        check(both, 108.0, CeilingKind::Hard);
        let tested = CeilingFacts {
            symptom_free_peak: Some(HeartRate::bpm(104.0)),
            ..both
        };
        check(tested, 104.0, CeilingKind::Hard);
        assert_eq!(
            ceiling(&CeilingFacts {
                guiding: None,
                ..facts()
            }),
            None
        );
    }

    #[test]
    fn a_ceiling_below_the_lower_end_leaves_no_band() {
        let band = HeartRateBand {
            low: HeartRate::bpm(89.0),
            high: HeartRate::bpm(111.0),
        };
        let at = |bpm| Ceiling {
            rate: HeartRate::bpm(bpm),
            kind: CeilingKind::Hard,
        };
        assert_eq!(
            under_ceiling(band, at(108.0)).map(|cut| cut.high.to_bpm()),
            Ok(108.0)
        );
        assert_eq!(under_ceiling(band, at(150.0)), Ok(band));
        assert_eq!(under_ceiling(band, at(88.0)), Err(NoBand::LowPassesHigh));
    }

    #[test]
    fn law_a_lower_onset_or_device_rate_never_raises_the_ceiling() {
        for onset in 80..180 {
            for lowest in 120..200 {
                let with = |onset: i32, lowest: i32| {
                    let facts = CeilingFacts {
                        ischaemia: Some(HeartRate::bpm(f64::from(onset))),
                        lowest_treated: Some(HeartRate::bpm(f64::from(lowest))),
                        ..facts()
                    };
                    ceiling(&facts).expect("hard").0.rate
                };
                assert!(with(onset - 1, lowest) <= with(onset, lowest));
                assert!(with(onset, lowest - 1) <= with(onset, lowest));
            }
        }
    }
}
