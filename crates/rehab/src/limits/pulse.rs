//! The pulse band and its ceiling.

use super::measured;
use super::pulse_rules::{
    DEVICE_RATE, HIGH, LOW, NO_BAND, UPPER_TRACKING, UPPER_TRACKING_MARGIN_BPM, working,
};
use super::rhythm;
use crate::assessed::{Ceiling, CeilingKind, HeartRateBand};
use crate::assessment::{Answered, HistoryItem, ProcedureKind};
use crate::evidence::{Because, Finding, Named, Rule, Value, Weight};
use crate::inputs::short;
use crate::intensity::hr_max::ExerciseMode;
use crate::intensity::{
    CeilingFacts, PeakFacts, ceiling, karvonen, predicted_peak, reserve_band, under_ceiling,
};
use crate::known::Known;
use crate::quantity::HeartRate;

/// Everything about the pulse.
#[derive(Default)]
pub(super) struct Pulse {
    pub(super) band: Option<HeartRateBand>,
    pub(super) ceiling: Option<Ceiling>,
    pub(super) never_passed: Option<HeartRate>,
    pub(super) resting: Option<HeartRate>,
    pub(super) peak: Option<HeartRate>,
    pub(super) peak_measured: bool,
    pub(super) model: bool,
    pub(super) because: Vec<Because>,
    pub(super) findings: Vec<Finding>,
    pub(super) questions: Vec<Finding>,
}

/// The peak used, with its reason.
struct Peak {
    rate: HeartRate,
    measured: bool,
    because: Because,
}

/// Pulse limits of the record on its day; `high_pct` is the upper share that the risk class leaves.
pub(super) fn pulse(known: &Known, rate_slowed: Answered, high_pct: f64) -> Pulse {
    let resting = known.resting_hr().map(|(bpm, _)| HeartRate::bpm(bpm));
    let measured = measured::measured_peak(known, rate_slowed);
    let mut pulse = Pulse {
        resting,
        questions: rhythm::questions(known),
        ..Pulse::default()
    };
    let no_target = rhythm::no_target(known);
    pulse.model = no_target.is_none();
    let mut exact_high = None;
    match no_target {
        Some(reason) => pulse.findings.push(rhythm::finding(reason)),
        None => {
            pulse.findings.extend(measured.findings.iter().cloned());
            if let Some(peak) = choose_peak(known, rate_slowed, &measured) {
                pulse.peak = Some(peak.rate);
                pulse.peak_measured = peak.measured;
                exact_high = band(known, &peak, high_pct, &mut pulse);
                if !peak.measured {
                    pulse.because.push(peak.because);
                }
            }
        }
    }
    let ischaemia = measured::ischaemia(known);
    let lowest_treated = known
        .case
        .heart
        .device
        .and_then(|device| device.lowest_treated_bpm)
        .map(HeartRate::bpm);
    let guiding = exact_high.filter(|_| !pulse.peak_measured);
    let other_hard =
        ischaemia.onset.is_some() || lowest_treated.is_some() || upper_tracking(known).is_some();
    let facts = CeilingFacts {
        ischaemia: ischaemia.onset,
        ischaemia_margin_bpm: known.service.ischaemia_margin_bpm,
        lowest_treated,
        device_margin_bpm: known.service.icd_margin_bpm,
        // Where the pulse means nothing a measured peak does not either; device and ischaemia stay. A peak that does
        // not count any more gives way to a lower guiding ceiling, but never lets another hard one rise above it.
        symptom_free_peak: measured.ceiling.filter(|peak| {
            let stands = measured.counts.is_some()
                || other_hard
                || guiding.is_none_or(|guiding| *peak <= guiding);
            pulse.model && stands
        }),
        guiding,
    };
    pulse.findings.extend(ischaemia.findings);
    pulse.questions.extend(ischaemia.questions);
    under_the_ceiling(known, &facts, &mut pulse);
    let is_hard = |ceiling: Ceiling| ceiling.kind == CeilingKind::Hard;
    if pulse.model && !pulse.ceiling.is_some_and(is_hard) {
        pulse.never_passed = measured.ceiling;
    }
    explain_tested_peak(&measured, &mut pulse);
    pulse
}

/// Says of a ceiling from a measured peak how it came about where it is not the plain peak of a test that counts.
fn explain_tested_peak(measured: &measured::MeasuredPeak, pulse: &mut Pulse) {
    let tested = pulse
        .because
        .iter_mut()
        .find(|one| one.rule.0 == "ceiling/tested-peak");
    if let Some(because) = tested {
        let plain = format!("the measured peak, {}", because.value);
        because.working = Some(measured.working.clone().unwrap_or(plain));
        if let Some(date) = measured.date {
            because.inputs.push(Named::date("test", date));
        }
        if measured.counts.is_none() {
            because.assumed.push(
                "the test does not count as it was; its peak is still never passed".to_owned(),
            );
        }
    }
}

fn choose_peak(
    known: &Known,
    rate_slowed: Answered,
    measured: &measured::MeasuredPeak,
) -> Option<Peak> {
    if let Some(rate) = measured.counts {
        let because =
            measured::PEAK.because(Value::Number(rate.to_bpm(), "bpm"), "Peak rate, measured.");
        return Some(Peak {
            rate,
            measured: true,
            because: match measured.date {
                Some(date) => because.with(Named::date("test", date)),
                None => because,
            },
        });
    }
    let facts = PeakFacts {
        age_years: known.case.person.age_years(known.on),
        sex: known.case.person.sex,
        resting: known.resting_hr().map(|(bpm, _)| HeartRate::bpm(bpm)),
        rate_slowed,
        heart_failure: known.answer(HistoryItem::HeartFailure),
        coronary_disease: known.coronary_disease(),
        ejection_fraction_pct: known.case.heart.ejection_fraction_pct,
        mode: ExerciseMode::Treadmill,
    };
    let predicted = predicted_peak(&facts, known.service.hr_max_policy).ok();
    let (rate, because) = match (predicted, measured.lowers) {
        (Some(predicted), Some(lower)) if lower < predicted.rate => {
            let note = format!(
                "a measured peak of {} that does not count any more is lower and is taken",
                short(lower.to_bpm())
            );
            (lower, predicted.because.assuming(note))
        }
        (Some(predicted), _) => (predicted.rate, predicted.because),
        (None, Some(lower)) => {
            let value = Value::Number(lower.to_bpm(), "bpm");
            let because = measured::PEAK
                .because(value, "Peak rate, measured once and not comparable now.")
                .assuming("no peak is predicted, so the measured one that does not count any more is taken")
                .working(format!("measured once, {}", short(lower.to_bpm())))
                .unsure("the heart may reach less now than it did in that test")
                .changes_with("a new exercise test");
            (lower, because)
        }
        (None, None) => return None,
    };
    Some(Peak {
        rate,
        measured: false,
        because,
    })
}

/// Sets the band and its reasons; gives back the exact upper end.
fn band(known: &Known, peak: &Peak, high_pct: f64, pulse: &mut Pulse) -> Option<HeartRate> {
    let (bpm, counted) = known.resting_hr()?;
    let rest = HeartRate::bpm(bpm);
    let low_pct = known.service.reserve_low_pct;
    let band = match reserve_band(rest, peak.rate, low_pct, high_pct) {
        Ok(band) => band,
        Err(why) => {
            pulse.findings.push(no_band(why.word()));
            return None;
        }
    };
    pulse.band = Some(band);
    let exact_high = karvonen(rest, peak.rate, high_pct / 100.0);
    let say = |rule: &Rule, value: HeartRate, pct: f64, exact: HeartRate, text: &str| {
        let steps = working(bpm, peak.rate.to_bpm(), pct, exact.to_bpm());
        let steps = match (&peak.because.working, peak.measured) {
            (Some(before), false) => format!("{before}; {steps}"),
            _ => steps,
        };
        let mut because = rule
            .because(Value::Whole(value.to_bpm() as i64, "bpm"), text)
            .working(steps)
            .also_from(&peak.because.sources, peak.because.tag)
            .with(Named::number("resting_hr_bpm", bpm, "bpm"))
            .with(Named::date("counted", counted))
            .with(Named::number("peak_hr_bpm", peak.rate.to_bpm(), "bpm"))
            .with(Named::number("share_pct", pct, "per cent"));
        because.inputs.extend(peak.because.inputs.iter().cloned());
        because.assumed.clone_from(&peak.because.assumed);
        because.unsure.clone_from(&peak.because.unsure);
        because
            .changes_with("an exercise test; a change of a rate-slowing medicine; the risk class")
    };
    let low_exact = karvonen(rest, peak.rate, low_pct / 100.0);
    pulse.because.push(say(
        &LOW,
        band.low,
        low_pct,
        low_exact,
        "Lower end of the band, rounded up.",
    ));
    pulse.because.push(say(
        &HIGH,
        band.high,
        high_pct,
        exact_high,
        "Upper end of the band, rounded down.",
    ));
    Some(exact_high)
}

fn no_band(why: &str) -> Finding {
    NO_BAND.finding(Weight::Caution, format!("No pulse band: {why}"))
}

/// Sets the ceiling and cuts the band to it.
fn under_the_ceiling(known: &Known, facts: &CeilingFacts, pulse: &mut Pulse) {
    if known.device_unnamed() {
        pulse.questions.push(
            DEVICE_RATE
                .finding(
                    Weight::BlocksSigning,
                    "Which device was implanted, and if it can treat, from which rate on? Nothing is signed before",
                )
                .asking("the device clinic", "the pulse ceiling and signing"),
        );
    }
    let device_rate_missing = device_rate_missing(known);
    if device_rate_missing {
        pulse.band = None;
        pulse
            .because
            .retain(|one| one.rule != LOW.id && one.rule != HIGH.id);
        pulse.questions.push(
            DEVICE_RATE
                .finding(
                    Weight::BlocksSigning,
                    "At which rate does the defibrillator begin to treat? Without it there is no pulse ceiling of the \
                     device and nothing is signed",
                )
                .asking("the device clinic", "the pulse ceiling and signing"),
        );
        // What is known to bring ischaemia on stays a ceiling, whatever the device does above it.
        if facts.ischaemia.is_none() {
            return;
        }
    }
    let mut reasons = Vec::new();
    let mut found = None;
    if let Some((least, because)) = ceiling(facts) {
        found = Some(least);
        reasons = because;
    }
    if let Some((tracked, because)) = upper_tracking(known)
        && found.is_none_or(|least| least.kind == CeilingKind::Guiding || tracked.rate < least.rate)
    {
        // A guiding ceiling that lies lower than the pacemaker's still shows in the band's upper end.
        found = Some(tracked);
        reasons.retain(|one| one.rule.0 != "ceiling/guiding");
        reasons.insert(0, because);
    }
    pulse.ceiling = found;
    for reason in &mut reasons {
        if found.is_some_and(|least| least.kind == CeilingKind::Guiding) {
            let high = pulse.because.iter().find(|one| one.rule == HIGH.id);
            if let Some(high) = high {
                reason.working.clone_from(&high.working);
                reason.unsure.clone_from(&high.unsure);
                reason.changes_with.clone_from(&high.changes_with);
            }
        }
    }
    pulse.because.extend(reasons);
    if let (Some(band), Some(least)) = (pulse.band, found) {
        match under_ceiling(band, least) {
            Ok(cut) => pulse.band = Some(cut),
            Err(why) => {
                let text = format!(
                    "{}; the band would begin at {} and the ceiling is {}",
                    why.word(),
                    band.low.to_bpm(),
                    least.rate.to_bpm()
                );
                pulse.findings.push(
                    no_band(&text)
                        .with(Named::number("low_bpm", band.low.to_bpm(), "bpm"))
                        .with(Named::number("ceiling_bpm", least.rate.to_bpm(), "bpm")),
                );
                pulse.band = None;
            }
        }
    }
}

/// Whether a defibrillator is recorded without the rate at which it treats.
fn device_rate_missing(known: &Known) -> bool {
    let by_procedure = known
        .events()
        .flat_map(|event| &event.procedures)
        .any(|procedure| procedure.kind == ProcedureKind::Icd);
    match known.case.heart.device {
        Some(device) => device.lowest_treated_bpm.is_none(),
        None => by_procedure,
    }
}

fn upper_tracking(known: &Known) -> Option<(Ceiling, Because)> {
    let upper = known.case.heart.pacemaker?.upper_tracking_bpm?;
    let rate = HeartRate::bpm(libm::floor(upper - UPPER_TRACKING_MARGIN_BPM));
    let because = UPPER_TRACKING
        .because(
            Value::Whole(rate.to_bpm() as i64, "bpm"),
            "Below the upper tracking rate of the pacemaker.",
        )
        .working(format!(
            "{} - {UPPER_TRACKING_MARGIN_BPM} = {}",
            short(upper),
            short(rate.to_bpm())
        ))
        .with(Named::number("upper_tracking_bpm", upper, "bpm"))
        .changes_with("a new setting of the pacemaker");
    let kind = CeilingKind::Hard;
    Some((Ceiling { rate, kind }, because))
}
