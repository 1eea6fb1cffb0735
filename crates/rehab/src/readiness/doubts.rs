//! What stands in a record and cannot well be true together: it is asked, never chosen between in silence.

use crate::assessment::{Answered, HistoryItem};
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;
use crate::medicine::{MedicineEffect, Medicines};
use jiff::civil::Date;

/// Share by which a weight changes between two records before one of them is doubted (our default): a number in
/// pounds, or one digit too few, changes it by far more; a person between two visits by far less.
const DOUBTED_CHANGE: f64 = 1.0 / 3.0;
/// Ejection fraction under which no heart failure at all is asked once more (our default).
const LOW_EJECTION_FRACTION_PCT: f64 = 40.0;

/// What contradicts itself.
pub(super) const DOUBTS: Rule = Rule {
    id: RuleId("readiness/contradiction"),
    name: "Values that contradict each other are asked",
    statement: "A peak rate not above the resting rate, a weight that differs by more than a third from the one before, a \
                test of the same day as the event, an ejection fraction under 40 per cent without heart failure, and a medicine that can \
                bring low sugar without diabetes are asked again (our defaults).",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("before", "kg", 25.0, 300.0),
        Input::number("now", "kg", 25.0, 300.0),
    ],
    evaluate: |values| {
        let (before, now) = (values.number("before")?, values.number("now")?);
        let word = if is_doubtful(before, now) {
            "find-out"
        } else {
            "nothing"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("{now} after {before}"),
        ))
    },
};

/// Every question about what contradicts itself.
pub(super) fn questions(known: &Known, medicines: &Medicines) -> Vec<Finding> {
    let mut asked = peaks(known);
    asked.extend(weights(known));
    asked.extend(tests_of_the_day(known));
    asked.extend(without_the_condition(known, medicines));
    asked
}

fn peaks(known: &Known) -> Vec<Finding> {
    let Some((resting, counted)) = known.resting_hr() else {
        return Vec::new();
    };
    let tests = known.exercise_tests().into_iter();
    tests
        .filter_map(|(test, exercise)| Some((test.date, exercise.peak_hr_bpm?)))
        .filter(|(_, peak)| *peak <= resting)
        .map(|(date, peak)| {
            let text = format!(
                "Which is right? The exercise test{} reached {peak} beats a minute, and {resting} were counted at rest on \
                 {counted}",
                of(date)
            );
            DOUBTS
                .finding(Weight::FindOut, text)
                .with(Named::number("peak_hr_bpm", peak, "bpm"))
                .with(Named::number("resting_hr_bpm", resting, "bpm"))
                .asking("the report of the test; count the resting pulse again", "the pulse band")
        })
        .collect()
}

fn of(date: Option<Date>) -> String {
    date.map_or_else(String::new, |date| format!(" of {date}"))
}

fn is_doubtful(before: f64, now: f64) -> bool {
    let (least, most) = if before < now {
        (before, now)
    } else {
        (now, before)
    };
    least < most * (1.0 - DOUBTED_CHANGE)
}

/// Each weight against the one before it, the one without a day first.
fn weights(known: &Known) -> Vec<Finding> {
    let mut examinations = known.examinations();
    examinations.reverse();
    let undated = known.case.person.weight_kg.map(|kg| (None, kg));
    let dated = examinations
        .iter()
        .filter_map(|one| Some((Some(one.date), one.weight_kg?)));
    let all: Vec<(Option<Date>, f64)> = undated.into_iter().chain(dated).collect();
    all.windows(2)
        .filter(|pair| is_doubtful(pair[0].1, pair[1].1))
        .map(|pair| {
            let ((day_before, before), (day, now)) = (pair[0], pair[1]);
            let text = format!(
                "Which weight is right: {before} kg{}, or {now} kg{}?",
                of(day_before),
                of(day)
            );
            DOUBTS
                .finding(Weight::FindOut, text)
                .with(Named::number("before", before, "kg"))
                .with(Named::number("now", now, "kg"))
                .asking("weigh again at the visit", "seeing a gain of weight")
        })
        .collect()
}

/// A test of the very day of the newest event counts as one after it; whether it was is asked.
fn tests_of_the_day(known: &Known) -> Option<Finding> {
    let event = known.newest_event()?;
    let mut tests = known.tests().into_iter();
    tests.find(|test| test.date == Some(event)).map(|_| {
        let text = format!(
            "Was the test of {event} taken before or after the event of that day? It counts as one after it"
        );
        DOUBTS
            .finding(Weight::FindOut, text)
            .with(Named::date("event", event))
            .asking("the hospital's letter", "what rests on the test")
    })
}

fn without_the_condition(known: &Known, medicines: &Medicines) -> Vec<Finding> {
    let mut asked = Vec::new();
    let absent = |item| known.answer(item) == Answered::Absent;
    let fraction = known.case.heart.ejection_fraction_pct;
    let low = fraction.filter(|pct| *pct < LOW_EJECTION_FRACTION_PCT);
    if let Some(pct) = low.filter(|_| absent(HistoryItem::HeartFailure)) {
        let text =
            format!("Is there really no heart failure? The ejection fraction is {pct} per cent");
        asked.push(
            DOUBTS
                .finding(Weight::FindOut, text)
                .with(Named::number("ejection_fraction_pct", pct, "per cent"))
                .asking("the doctor's letter", "the rules for heart failure"),
        );
    }
    let low_sugar = medicines.answer(MedicineEffect::LowSugar) == Answered::Present;
    if low_sugar && absent(HistoryItem::Diabetes) {
        let text = "Is there really no diabetes? A medicine is taken that can bring low sugar";
        asked.push(DOUBTS.finding(Weight::FindOut, text).asking(
            "the patient and the doctor's list",
            "the rules for diabetes",
        ));
    }
    asked
}
