//! Taking blood pressure at home and in clinic: which readings count, which mean, which limits.

use crate::assessment::Pressure;
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{refuse, short};

/// One reading at home: on which day of the week of measuring, 1 first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HomeReading {
    /// Day of measuring, from 1.
    pub day: u8,
    /// What was read.
    pub pressure: Pressure,
}

/// The mean of a week of measuring.
#[derive(Clone, Debug, PartialEq)]
pub struct HomeMean {
    /// Mean of what counts.
    pub mean: Pressure,
    /// Readings that count.
    pub counted: usize,
    /// What was not as the rule asks.
    pub cautions: Vec<&'static str>,
}

closed_words!(
    /// Why there is no mean.
    NoHomeMean as "reason for no mean" {
        OnlyFirstDay = "only the first day was measured, and it is dropped: measure on",
        NoReading = "nothing was measured",
    }
);

/// Least and most days of measuring at home.
// Source: nice-ng136.
const DAYS: (usize, usize) = (4, 7);
/// Readings a day: two, morning and evening.
// Source: nice-ng136.
const READINGS_A_DAY: usize = 4;

/// Mean of home readings: the first day dropped, all others counted.
///
/// Source: NICE NG136 (register `nice-ng136`): two seated readings at least 1 minute apart, twice daily, 4 to 7 days.
///
/// # Errors
/// [`NoHomeMean`] when nothing is left after the first day.
pub fn home_mean(readings: &[HomeReading]) -> Result<HomeMean, NoHomeMean> {
    let first = readings
        .iter()
        .map(|one| one.day)
        .min()
        .ok_or(NoHomeMean::NoReading)?;
    let counted: Vec<&HomeReading> = readings.iter().filter(|one| one.day > first).collect();
    if counted.is_empty() {
        return Err(NoHomeMean::OnlyFirstDay);
    }
    let mut days: Vec<u8> = readings.iter().map(|one| one.day).collect();
    days.sort_unstable();
    days.dedup();
    let mut cautions = Vec::new();
    if days.len() < DAYS.0 {
        cautions.push("fewer than four days");
    }
    if days.len() > DAYS.1 {
        cautions.push("more than seven days");
    }
    let full = |day: &u8| readings.iter().filter(|one| one.day == *day).count() >= READINGS_A_DAY;
    if !days.iter().all(full) {
        cautions.push("a day has fewer than two readings in the morning and two in the evening");
    }
    let pressures: Vec<Pressure> = counted.iter().map(|one| one.pressure).collect();
    Ok(HomeMean {
        mean: mean(&pressures),
        counted: counted.len(),
        cautions,
    })
}

fn mean(pressures: &[Pressure]) -> Pressure {
    let count = pressures.len() as f64;
    Pressure {
        systolic_mmhg: pressures.iter().map(|one| one.systolic_mmhg).sum::<f64>() / count,
        diastolic_mmhg: pressures.iter().map(|one| one.diastolic_mmhg).sum::<f64>() / count,
    }
}

closed_words!(
    /// How high a mean at home or a clinic pressure is.
    PressureLevel as "level of pressure" {
        Usual = "below the limit", High = "high", VeryHigh = "high, stage 2",
    }
);

/// Level of a mean at home: from 135/85 high, from 150/95 stage 2. Source: register `nice-ng136`.
pub fn home_level(mean: Pressure) -> PressureLevel {
    if mean.systolic_mmhg >= 150.0 || mean.diastolic_mmhg >= 95.0 {
        PressureLevel::VeryHigh
    } else if mean.systolic_mmhg >= 135.0 || mean.diastolic_mmhg >= 85.0 {
        PressureLevel::High
    } else {
        PressureLevel::Usual
    }
}

closed_words!(
    /// Whose rule says which readings of one sitting count.
    PressureProtocol as "protocol of pressure" {
        NiceClinic = "nice-clinic", Esc2024 = "esc-2024", Esh2023 = "esh-2023", AccAha2025 = "acc-aha-2025", Canada2025 = "canada-2025",
    }
);

/// The pressure of one sitting by a protocol; `None` with fewer readings than it asks for.
///
/// NICE: the lower of the last two (by systolic); ESC and ESH: mean of the last two of three; ACC/AHA: mean of two or
/// more; Canada: mean of three. Source: register `nice-ng136`, `pressure-guidelines`.
pub fn of_sitting(protocol: PressureProtocol, readings: &[Pressure]) -> Option<Pressure> {
    let needed = match protocol {
        PressureProtocol::NiceClinic => 1,
        PressureProtocol::AccAha2025 => 2,
        PressureProtocol::Esc2024 | PressureProtocol::Esh2023 | PressureProtocol::Canada2025 => 3,
    };
    if readings.len() < needed {
        return None;
    }
    let last_two = &readings[readings.len().saturating_sub(2)..];
    match protocol {
        PressureProtocol::NiceClinic => last_two
            .iter()
            .copied()
            .min_by(|a, b| a.systolic_mmhg.total_cmp(&b.systolic_mmhg)),
        PressureProtocol::Esc2024 | PressureProtocol::Esh2023 => Some(mean(last_two)),
        PressureProtocol::AccAha2025 | PressureProtocol::Canada2025 => Some(mean(readings)),
    }
}

/// Whether another reading is asked for: NICE after a first of 140/90 or more; ESC when two differ by more than 10; at
/// least three in fibrillation (recalled).
pub fn another_reading(
    protocol: PressureProtocol,
    readings: &[Pressure],
    fibrillation: bool,
) -> bool {
    if fibrillation && readings.len() < 3 {
        return true;
    }
    match (protocol, readings) {
        (PressureProtocol::NiceClinic, [only]) => {
            only.systolic_mmhg >= 140.0 || only.diastolic_mmhg >= 90.0
        }
        (PressureProtocol::Esc2024, [.., a, b]) if readings.len() >= 3 => {
            libm::fabs(a.systolic_mmhg - b.systolic_mmhg) > 10.0
        }
        _ => of_sitting(protocol, readings).is_none(),
    }
}

/// Difference between the arms above which both are measured again and the higher arm is used, mmHg.
// Source: nice-ng136 (recalled).
pub const ARM_GAP_MMHG: f64 = 15.0;

/// What to do before a reading.
// Source: pressure-guidelines.
pub const PREPARATION: [&str; 7] = [
    "five minutes of rest",
    "no smoking, coffee, tea or exercise for 30 minutes",
    "an empty bladder",
    "back supported",
    "arm at the height of the heart",
    "a cuff that fits",
    "no talking",
];

fn pairs(values: &Values) -> Result<Vec<Pressure>, RuleError> {
    let (high, low) = (
        values.numbers("systolic_mmhg")?,
        values.numbers("diastolic_mmhg")?,
    );
    if high.len() != low.len() {
        return refuse("there are not as many diastolic as systolic readings; write them in pairs");
    }
    let pairs: Vec<Pressure> = high
        .into_iter()
        .zip(low)
        .map(|(systolic_mmhg, diastolic_mmhg)| Pressure {
            systolic_mmhg,
            diastolic_mmhg,
        })
        .collect();
    if pairs
        .iter()
        .any(|one| one.diastolic_mmhg >= one.systolic_mmhg)
    {
        return refuse(
            "a diastolic reading is not below its systolic one; they may be swapped, read them again",
        );
    }
    Ok(pairs)
}

fn words(pressure: Pressure) -> String {
    format!(
        "{}/{} mmHg",
        short(pressure.systolic_mmhg),
        short(pressure.diastolic_mmhg)
    )
}

const SYSTOLIC: Input = Input::numbers("systolic_mmhg", "mmHg", 50.0, 280.0);
const DIASTOLIC: Input = Input::numbers("diastolic_mmhg", "mmHg", 20.0, 180.0);

const HOME: Rule = Rule {
    id: RuleId("pressure/home-mean"),
    name: "Mean of a week of home readings",
    statement: "Two seated readings at least 1 minute apart, twice daily, 4 to 7 days; the first day is dropped, the rest averaged; from 135/85 high, from 150/95 stage 2.",
    sources: &[SourceId("nice-ng136")],
    tag: Tag::Read,
    inputs: &[
        Input::numbers("day", "day of measuring", 1.0, 31.0),
        SYSTOLIC,
        DIASTOLIC,
    ],
    evaluate: |values| {
        let (days, pairs) = (values.numbers("day")?, pairs(values)?);
        if days.len() != pairs.len() {
            return refuse(
                "there are not as many days as readings; write one day for each reading",
            );
        }
        let readings: Vec<HomeReading> = days
            .into_iter()
            .zip(pairs)
            .map(|(day, pressure)| HomeReading {
                day: day as u8,
                pressure,
            })
            .collect();
        let found = match home_mean(&readings) {
            Ok(found) => found,
            Err(why) => return refuse(why.word()),
        };
        Ok(Answer {
            value: Value::Text(format!(
                "{} ({})",
                words(found.mean),
                home_level(found.mean)
            )),
            working: format!("mean of {} readings after the first day", found.counted),
            cautions: found.cautions.into_iter().map(str::to_owned).collect(),
        })
    },
};

const SITTING: Rule = Rule {
    id: RuleId("pressure/sitting"),
    name: "Which readings of one sitting count",
    statement: "NICE clinic: a second reading after 140/90 or more, a third if very different, the lower of the last two; ESC 2024 and ESH 2023: three, mean of the last two (ESC more when they differ by over 10); ACC/AHA 2025: mean of two or more; Canada 2025: mean of three. Fibrillation: three or more. Arms differing by more than 15: again, then the higher arm.",
    sources: &[SourceId("nice-ng136"), SourceId("pressure-guidelines")],
    tag: Tag::Recalled,
    inputs: &[
        Input::choice(
            "protocol",
            &[
                "nice-clinic",
                "esc-2024",
                "esh-2023",
                "acc-aha-2025",
                "canada-2025",
            ],
        ),
        SYSTOLIC,
        DIASTOLIC,
    ],
    evaluate: |values| {
        let Ok(protocol) = PressureProtocol::parse(values.text("protocol")?) else {
            return refuse("'protocol' is not one of the list; choose one");
        };
        let readings = pairs(values)?;
        let Some(found) = of_sitting(protocol, &readings) else {
            return refuse(format!(
                "{protocol} asks for more readings than {}; take another",
                readings.len()
            ));
        };
        let answer = Answer::new(
            Value::Text(words(found)),
            format!("{} readings by {protocol}", readings.len()),
        );
        Ok(if another_reading(protocol, &readings, false) {
            answer.keep_in_mind("another reading is asked for")
        } else {
            answer
        })
    },
};

const PREPARE: Rule = Rule {
    id: RuleId("pressure/preparation"),
    name: "Before a reading of pressure",
    statement: "Five minutes of rest; no smoking, caffeine or exercise for 30 minutes; empty bladder; back supported; arm at heart height; cuff that fits; no talking.",
    sources: &[SourceId("pressure-guidelines")],
    tag: Tag::Read,
    inputs: &[],
    evaluate: |_| {
        Ok(Answer::new(
            Value::Text(PREPARATION.join("; ")),
            "a list, nothing is computed",
        ))
    },
};

/// The rules of pressure.
pub(crate) const RULES: &[Rule] = &[HOME, SITTING, PREPARE];

#[cfg(test)]
mod tests;
