//! The readings of the newest examination against the cut-offs of the chosen set.

use super::cutoffs::{CutOff, Strength, Vital, cut_off};
use super::day_rules::{rule_of, weight_of};
use super::fibrillation;
use super::gate::Gate;
use super::standing::within_days_before;
use super::weight_gain::weight_windows;
use crate::assessment::{Answered, Examination, ExaminationSymptom, HistoryItem, Pressure};
use crate::calendar::days_between;
use crate::evidence::{Finding, Named, SourceId, Tag, Weight};
use crate::inputs::short;
use crate::known::Known;
use crate::service::ScreeningSet;

/// One reading of the day.
struct Reading {
    vital: Vital,
    value: f64,
    words: String,
}

impl Reading {
    const fn new(vital: Vital, value: f64, words: String) -> Self {
        Self {
            vital,
            value,
            words,
        }
    }
}

/// Asks every reading of the newest examination.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    let Some(examination) = known.examination() else {
        return;
    };
    let set = known.service.screening_set;
    let dizzy = [
        ExaminationSymptom::Dizziness,
        ExaminationSymptom::DizzinessOnStanding,
        ExaminationSymptom::Faint,
    ]
    .iter()
    .any(|symptom| known.reports(*symptom) == Some(true));
    // Only an agreement given with this reading in hand settles a relative cut-off.
    let agreed = known
        .agreement()
        .is_some_and(|agreement| agreement.date >= examination.date);
    let said_elsewhere = is_very_fast(known) || fibrillation::held_rate(known).is_some();
    for reading in readings(&examination) {
        // Of one fast pulse one rule speaks, the most urgent; two would give two pieces of advice.
        if reading.vital == Vital::HeartRateHigh && said_elsewhere {
            continue;
        }
        let cut = cut_off(set, reading.vital);
        if let Some(weight) = weight_of(cut, reading.value, dizzy, agreed) {
            gate.say(finding(&reading, cut, weight));
        }
    }
    weight_held(known, agreed, gate);
    recent_fever(known, gate);
    ask_missing(known, &examination, gate);
}

/// Whether the resting rate of the newest examination is the hard stop of the chosen set.
pub(super) fn is_very_fast(known: &Known) -> bool {
    let rate = known.examination().and_then(|one| one.resting_hr_bpm);
    let cut = cut_off(known.service.screening_set, Vital::HeartRateVeryHigh);
    rate.is_some_and(|rate| weight_of(cut, rate, false, true) == Some(Weight::NotToday))
}

fn readings(examination: &Examination) -> Vec<Reading> {
    let mut all = Vec::new();
    if let Some(resting) = examination.resting_bp {
        let systolic = resting.systolic_mmhg;
        pressure(&mut all, resting, "Pressure");
        if let Some(standing) = examination.standing_bp {
            let fall = systolic - standing.systolic_mmhg;
            let words = format!("Pressure falls by {fall} on standing, with symptoms");
            all.push(Reading::new(Vital::OrthostaticFall, fall, words));
        }
    }
    if let Some(standing) = examination.standing_bp {
        pressure(&mut all, standing, "Standing pressure");
    }
    if let Some(rate) = examination.resting_hr_bpm {
        for vital in [
            Vital::HeartRateHigh,
            Vital::HeartRateVeryHigh,
            Vital::HeartRateLow,
            Vital::HeartRateLowWithSymptoms,
        ] {
            all.push(Reading::new(vital, rate, format!("Resting pulse {rate}")));
        }
    }
    if let Some(degrees) = examination.temperature_c {
        let words = format!("Temperature {degrees} degrees");
        all.push(Reading::new(Vital::Temperature, degrees, words));
    }
    if let Some(per_cent) = examination.spo2_pct {
        let words = format!("Oxygen saturation {per_cent} per cent");
        all.push(Reading::new(Vital::SaturationLow, per_cent, words));
    }
    all
}

/// A pressure, seated or standing, against every cut-off of pressure.
fn pressure(all: &mut Vec<Reading>, taken: Pressure, name: &str) {
    let (systolic, diastolic) = (taken.systolic_mmhg, taken.diastolic_mmhg);
    let words = format!("{name} {systolic}/{diastolic}");
    for vital in [
        Vital::SystolicHigh,
        Vital::SystolicLow,
        Vital::SystolicLowWithSymptoms,
    ] {
        all.push(Reading::new(vital, systolic, words.clone()));
    }
    all.push(Reading::new(Vital::DiastolicHigh, diastolic, words));
}

/// Gain in kg of the newest weight, taken at the newest examination or alone since, over the least of the days before it;
/// to the hundredth that scales can show.
fn weight_gain(known: &Known, days: u16) -> Option<f64> {
    let examined = known.examination()?.date;
    let all = known.examinations();
    let mut since = all.iter().filter(|one| one.date >= examined);
    let (on, now) = since.find_map(|one| Some((one.date, one.weight_kg?)))?;
    let least = all
        .into_iter()
        .filter(|one| one.date < on && within_days_before(one.date, on, days))
        .filter_map(|one| one.weight_kg)
        .fold(f64::INFINITY, f64::min);
    least
        .is_finite()
        .then(|| libm::round((now - least) * 100.0) / 100.0)
}

const fn advice(vital: Vital) -> &'static str {
    match vital {
        Vital::SystolicHigh | Vital::DiastolicHigh => {
            "rest 5 minutes, measure again; if it stays, telephone the doctor today"
        }
        Vital::SystolicLow | Vital::SystolicLowWithSymptoms | Vital::OrthostaticFall => {
            "sit or lie down, drink, and telephone the doctor today about the medicines"
        }
        Vital::HeartRateHigh | Vital::HeartRateLow | Vital::HeartRateLowWithSymptoms => {
            "count again for a full minute after 5 minutes' rest; if it stays, telephone the doctor today"
        }
        Vital::HeartRateVeryHigh => "telephone the doctor now",
        Vital::Temperature => {
            "wait until they are well and 48 hours without fever, then examine again"
        }
        Vital::WeightGain => "look for swelling and breathlessness and telephone the doctor today",
        Vital::SaturationLow => {
            "measure again with warm hands; if it stays, telephone the doctor today"
        }
    }
}

fn finding(reading: &Reading, cut: &CutOff, weight: Weight) -> Finding {
    let unit = cut.vital.unit();
    let set = if cut.set == ScreeningSet::Cautious {
        "cautious cut-off".to_owned()
    } else {
        format!("cut-off of {}", cut.set)
    };
    let stops = format!(
        "{}: {set}, {} {} {unit}",
        reading.words, cut.side, cut.value
    );
    let text = match weight {
        Weight::Caution => format!("{stops}. The doctor agreed with it: look closely"),
        _ => format!("{stops}. Not today: {}", advice(cut.vital)),
    };
    rule_of(cut.vital)
        .finding(weight, text)
        .from_source(cut.source, cut.tag)
        .with(Named::number("value", reading.value, unit))
        .with(Named::number("cut_off", cut.value, unit))
        .with(Named::text("set", cut.set.word()))
}

/// A gain of weight within the days of the service's rule.
fn weight_held(known: &Known, agreed: bool, gate: &mut Gate) {
    let found = weight_windows(known.service)
        .into_iter()
        .find_map(|window| {
            let gain = weight_gain(known, window.within_days)?;
            window.holds(gain).then_some((window, gain))
        });
    let Some((window, gain)) = found else {
        return;
    };
    let days = window.within_days;
    let what = format!(
        "Weight up by {gain} kg within {days} days: held from {} {} kg",
        window.side,
        short(window.gain_kg)
    );
    let (weight, text) = if window.strength == Strength::Relative && agreed {
        let text = format!("{what}. The doctor agreed with it: look closely");
        (Weight::Caution, text)
    } else {
        let text = format!("{what}. Not today: {}", advice(Vital::WeightGain));
        (Weight::NotToday, text)
    };
    gate.say(
        rule_of(Vital::WeightGain)
            .finding(weight, text)
            .from_source(window.source, window.tag)
            .with(Named::number("value", gain, "kg"))
            .with(Named::number("cut_off", window.gain_kg, "kg"))
            .with(Named::whole("within_days", i64::from(days), "days"))
            .with(Named::text("rule", known.service.weight_gain_rule.word()))
            .with(Named::text("set", known.service.screening_set.word())),
    );
}

/// Fever in the two days before holds too: 48 hours without it are asked for.
fn recent_fever(known: &Known, gate: &mut Gate) {
    // Source: uk-phase-iv (training cards, secondary): restart after 48 hours without fever.
    // A fever on the evening two days ago is not yet 48 hours past, and only days are recorded.
    const HOURS_WITHOUT_DAYS: i32 = 2;
    let cut = cut_off(known.service.screening_set, Vital::Temperature);
    let all = known.examinations();
    let Some(newest) = all.first().map(|one| one.date) else {
        return;
    };
    let fever = all.into_iter().find(|one| {
        let days = days_between(one.date, newest);
        let reported = one
            .symptoms
            .as_ref()
            .is_some_and(|all| all.contains(&ExaminationSymptom::Fever));
        let measured = one.temperature_c.is_some_and(|degrees| cut.stops(degrees));
        (1..=HOURS_WITHOUT_DAYS).contains(&days) && (reported || measured)
    });
    if let Some(earlier) = fever {
        let text = format!(
            "Fever on {}, so 48 hours without fever have not surely passed. Not today: examine again after two whole \
             days without fever",
            earlier.date
        );
        gate.say(
            rule_of(Vital::Temperature)
                .finding(Weight::NotToday, text)
                .from_source(SourceId("uk-phase-iv"), Tag::Read)
                .with(Named::date("fever", earlier.date)),
        );
    }
}

/// What was not measured: it is asked for, and the decision stays what the known says.
fn ask_missing(known: &Known, examination: &Examination, gate: &mut Gate) {
    let mut ask = |vital: Vital, weight: Weight, text: &str| {
        let blocks = if weight == Weight::BlocksSigning {
            "signing"
        } else {
            ""
        };
        let question = rule_of(vital)
            .finding(weight, text)
            .asking("measure it at the visit", blocks);
        gate.ask(question);
    };
    if examination.resting_bp.is_none() {
        let text = "What is the pressure, seated? It was not measured";
        ask(Vital::SystolicHigh, Weight::BlocksSigning, text);
    }
    if examination.resting_hr_bpm.is_none() {
        let text = "What is the resting pulse? It was not counted";
        ask(Vital::HeartRateHigh, Weight::BlocksSigning, text);
    }
    if examination.standing_bp.is_none() {
        let (weight, text) = if known.reports(ExaminationSymptom::DizzinessOnStanding) == Some(true)
        {
            (
                Weight::BlocksSigning,
                "What is the pressure after standing up? They are dizzy on standing, and it was not measured",
            )
        } else {
            (
                Weight::FindOut,
                "What is the pressure after standing up? It was not measured",
            )
        };
        ask(Vital::OrthostaticFall, weight, text);
    }
    let lungs = known.has(HistoryItem::ChronicObstructivePulmonaryDisease);
    if lungs && examination.spo2_pct.is_none() {
        let text =
            "What is the oxygen saturation? With the lung disease it is measured before a session";
        ask(Vital::SaturationLow, Weight::BlocksSigning, text);
    }
    if known.answer(HistoryItem::HeartFailure) == Answered::Present {
        if examination.weight_kg.is_none() {
            let text =
                "What is the weight today? In heart failure a gain within days holds a session";
            ask(Vital::WeightGain, Weight::BlocksSigning, text);
        } else if weight_gain(known, 3).is_none() {
            let text = "Did the weight rise in the last three days? No earlier weight is recorded";
            ask(Vital::WeightGain, Weight::FindOut, text);
        }
    }
}
