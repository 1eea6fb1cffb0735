//! What exercise tests say for the pulse: the rate at which ischaemia begins, and the measured peak.

use crate::assessment::{Answered, ExerciseTest, ExerciseTestSymptom, PressureResponse, Test};
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::inputs::yes_no;
use crate::known::Known;
use crate::medicine::rate_slowing_changed;
use crate::quantity::HeartRate;
use jiff::civil::Date;

const ONSET: Rule = Rule {
    id: RuleId("limits/ischaemic-rate"),
    name: "Which ischaemic rate counts",
    statement: "The least rate at which angina, 1 mm of ST depression, an arrhythmia or a fall of pressure began, over \
                all exercise tests but those older than one since the newest event that found none of them. One from \
                before the event stays until a new test replaces it. Found without its rate: signing waits.",
    sources: &[SourceId("acsm-getp"), SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::numbers(
        "ischaemia_hr_bpm",
        "beats a minute",
        40.0,
        240.0,
    )],
    evaluate: |values| {
        let rates = values.numbers("ischaemia_hr_bpm")?;
        let least = rates.iter().copied().fold(f64::INFINITY, f64::min);
        Ok(Answer::new(
            Value::Number(least, "bpm"),
            format!("least of {}", rates.len()),
        ))
    },
};

/// Which measured peak counts.
pub(super) const PEAK: Rule = Rule {
    id: RuleId("limits/measured-peak"),
    name: "Which measured peak counts",
    statement: "The newest dated exercise test with a peak rate counts when no event and no slower heart came after it. \
                A test with symptoms, or whose symptoms are not recorded, did not end free of symptoms: the margin \
                below ischaemia is taken from its peak. An older peak, or one from before a rate-slowing medicine, \
                only lowers the predicted one; it is still never passed, and gives way to a lower guiding ceiling. Of several \
                tests of one day the lowest peak and the lowest ceiling count.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("peak_hr_bpm", "beats a minute", 40.0, 240.0),
        Input::flag("free_of_symptoms").or_none(),
        Input::number("margin_bpm", "beats a minute", 0.0, 60.0),
    ],
    evaluate: |values| {
        let peak = HeartRate::bpm(values.number("peak_hr_bpm")?);
        let free = values.optional_text("free_of_symptoms") == Some("yes");
        let rate = under_symptoms(peak, free, values.number("margin_bpm")?);
        Ok(Answer::new(
            Value::Number(rate.to_bpm(), "bpm"),
            format!("free of symptoms: {}", yes_no(free)),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[ONSET, PEAK];

fn under_symptoms(peak: HeartRate, free: bool, margin_bpm: f64) -> HeartRate {
    if free {
        peak
    } else {
        HeartRate::bpm(peak.to_bpm() - margin_bpm)
    }
}

/// The ischaemic rate, with what was noticed and what is asked.
pub(super) struct Ischaemia {
    pub(super) onset: Option<HeartRate>,
    pub(super) findings: Vec<Finding>,
    pub(super) questions: Vec<Finding>,
}

fn has_angina(test: &ExerciseTest) -> bool {
    test.symptoms
        .as_ref()
        .is_some_and(|all| all.contains(&ExerciseTestSymptom::Angina))
}

/// Whether a test found what has an onset to stay below.
fn found(test: &ExerciseTest) -> bool {
    // Source: acsm-getp (recalled): from 1 mm of ST depression on.
    const ISCHAEMIC_ST_MM: f64 = 1.0;
    has_angina(test)
        || test.ischaemia_hr_bpm.is_some()
        || test
            .st_depression_mm
            .is_some_and(|mm| mm >= ISCHAEMIC_ST_MM)
        || test.arrhythmia == Some(true)
        || test.bp_response == Some(PressureResponse::Fall)
}

/// Whether something went wrong after the load: no rate belongs to it, and nothing good is concluded from the test.
fn ended_badly(test: &ExerciseTest) -> bool {
    test.symptom_in_recovery == Some(true) || test.bp_response == Some(PressureResponse::FallAfter)
}

/// Whether a test looked for all of it and found none.
fn ruled_out(test: &ExerciseTest) -> bool {
    !found(test)
        && !ended_badly(test)
        && test.symptoms.is_some()
        && test.st_depression_mm.is_some()
        && test.arrhythmia == Some(false)
        && test.bp_response.is_some()
}

/// The ischaemic rate that counts on the day.
pub(super) fn ischaemia(known: &Known) -> Ischaemia {
    let mut onset: Option<(f64, Option<Date>)> = None;
    let mut without_rate = false;
    let mut from_before = false;
    let settled = known
        .exercise_tests()
        .into_iter()
        .filter(|(test, exercise)| known.since_newest_event(test) && ruled_out(exercise))
        .filter_map(|(test, _)| test.date)
        .max();
    for (test, exercise) in known.exercise_tests() {
        // One of the same day is not older than the test that found nothing, and one without a day may not be: both count.
        if test
            .date
            .zip(settled)
            .is_some_and(|(day, settled)| day < settled)
        {
            continue;
        }
        take_onset(known, test, exercise, &mut onset, &mut from_before);
        without_rate |= found(exercise) && exercise.ischaemia_hr_bpm.is_none();
    }
    let mut findings = Vec::new();
    if from_before && let Some((bpm, date)) = onset {
        let finding = ONSET.finding(
            Weight::Caution,
            format!(
                "The ischaemic rate {bpm} is from a test before the newest event or without a date; it stays until a \
                 new test replaces it"
            ),
        );
        findings.push(match date {
            Some(date) => finding.with(Named::date("test", date)),
            None => finding,
        });
    }
    let questions = if without_rate && onset.is_none() {
        vec![
            ONSET
                .finding(
                    Weight::BlocksSigning,
                    "At which heart rate did angina, ST depression, arrhythmia or the fall of pressure begin? The test \
                     found it, its rate is not recorded",
                )
                .asking("the doctor, from the report of the test", "the pulse ceiling and signing"),
        ]
    } else {
        Vec::new()
    };
    Ischaemia {
        onset: onset.map(|(bpm, _)| HeartRate::bpm(bpm)),
        findings,
        questions,
    }
}

fn take_onset(
    known: &Known,
    test: &Test,
    exercise: &ExerciseTest,
    onset: &mut Option<(f64, Option<Date>)>,
    from_before: &mut bool,
) {
    if let Some(bpm) = exercise.ischaemia_hr_bpm
        && onset.is_none_or(|(least, _)| bpm < least)
    {
        *onset = Some((bpm, test.date));
        *from_before = !known.since_newest_event(test);
    }
}

/// The measured peak.
pub(super) struct MeasuredPeak {
    /// The peak, where it counts for band and ceiling.
    pub(super) counts: Option<HeartRate>,
    /// The ceiling it gives, counting or not: less the margin where the test did not end free of symptoms.
    pub(super) ceiling: Option<HeartRate>,
    /// How that ceiling came about, where it is not the plain peak.
    pub(super) working: Option<String>,
    /// A peak that does not count and only lowers a predicted one.
    pub(super) lowers: Option<HeartRate>,
    /// Day of the test.
    pub(super) date: Option<Date>,
    /// Why it does not count, or what to keep in mind.
    pub(super) findings: Vec<Finding>,
}

/// Whether the heart may be slowed more now than it was in a test: something slows it now, or may, and the test was
/// without it, or it began or changed since, as far as is known.
fn slower_now(known: &Known, rate_slowed: Answered, test: &Test) -> bool {
    if rate_slowed == Answered::Absent || test.beta_blocked == Some(false) {
        return rate_slowed != Answered::Absent;
    }
    let changed = test.date.map_or(Answered::NotKnown, |date| {
        rate_slowing_changed(
            &known.case.medicines,
            &known.service.medicine_names,
            date,
            known.on,
        )
    });
    match changed {
        Answered::Present => true,
        Answered::NotKnown => test.beta_blocked != Some(true),
        Answered::Absent => rate_slowed == Answered::NotKnown && test.beta_blocked != Some(true),
    }
}

/// An exercise test with a peak.
struct Peaked<'a> {
    test: &'a Test,
    bpm: f64,
    /// Whether it ended free of symptoms.
    free: bool,
}

/// The exercise tests with a peak of the newest day that has one: of several of one day the safer counts.
fn peaks_of_the_newest_day<'a>(known: &Known<'a>) -> Vec<Peaked<'a>> {
    let mut tests: Vec<Peaked> = known
        .exercise_tests()
        .into_iter()
        .filter_map(|(test, exercise)| {
            let bpm = exercise.peak_hr_bpm?;
            let free = exercise.symptoms.as_ref().is_some_and(Vec::is_empty)
                && !ended_badly(exercise)
                && !found(exercise);
            Some(Peaked { test, bpm, free })
        })
        .collect();
    let day = tests.first().and_then(|one| one.test.date);
    tests.retain(|one| one.test.date == day);
    tests
}

/// The measured peak of the newest day with an exercise test that has one.
pub(super) fn measured_peak(known: &Known, rate_slowed: Answered) -> MeasuredPeak {
    let mut peak = MeasuredPeak {
        counts: None,
        ceiling: None,
        working: None,
        lowers: None,
        date: None,
        findings: Vec::new(),
    };
    let tests = peaks_of_the_newest_day(known);
    let Some(bpm) = tests.iter().map(|one| one.bpm).min_by(f64::total_cmp) else {
        return peak;
    };
    let rate = HeartRate::bpm(bpm);
    let margin = known.service.ischaemia_margin_bpm;
    peak.date = tests.first().and_then(|one| one.test.date);
    let mut doubts = Vec::new();
    if peak.date.is_none() {
        doubts.push("its day is not recorded".to_owned());
    } else if tests.iter().any(|one| !known.since_newest_event(one.test)) {
        doubts.push("it is from before the newest event".to_owned());
    }
    // A heart that is slower now than in the test reaches less; one that is faster now is only held more strictly.
    if tests
        .iter()
        .any(|one| slower_now(known, rate_slowed, one.test))
    {
        doubts.push(
            "a rate-slowing medicine works now, or may, that did not, as far as is known, work then"
                .to_owned(),
        );
    }
    let ceilings = tests
        .iter()
        .map(|one| under_symptoms(HeartRate::bpm(one.bpm), one.free, margin));
    peak.ceiling = ceilings.min_by(|one, other| one.to_bpm().total_cmp(&other.to_bpm()));
    let with_symptoms = tests
        .iter()
        .filter(|one| !one.free)
        .map(|one| one.bpm)
        .min_by(f64::total_cmp);
    if let Some(bpm) = with_symptoms {
        peak.working = (peak.ceiling == Some(HeartRate::bpm(bpm - margin))).then(|| {
            format!(
                "{bpm} - {margin} = {}: the test did not, as far as known, end free of symptoms",
                bpm - margin
            )
        });
        peak.findings.push(
            PEAK.finding(
                Weight::Caution,
                format!(
                    "The exercise test did not, as far as known, end free of symptoms: the ceiling stays {margin} below \
                     its peak of {bpm}"
                ),
            )
            .with(Named::number("peak_hr_bpm", bpm, "bpm")),
        );
    }
    if doubts.is_empty() {
        peak.counts = Some(rate);
    } else {
        peak.lowers = Some(rate);
        peak.findings.push(
            PEAK.finding(
                Weight::Caution,
                format!(
                    "The measured peak of {bpm} does not count as it was ({}); it only lowers the predicted one",
                    doubts.join("; ")
                ),
            )
            .with(Named::number("peak_hr_bpm", bpm, "bpm")),
        );
    }
    peak
}
