//! What of the person and the home some rule needs and nobody has written down yet.

use crate::assessment::{Pacemaker, PacingMode, Rhythm, TestResult};
use crate::evidence::{Answer, Finding, Input, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;

/// What of a record is asked.
pub(super) const RECORD: Rule = Rule {
    id: RuleId("readiness/record"),
    name: "What a rule needs of the person and the home is asked",
    statement: "Birth, sex, height, weight, the regularity of the pulse, the upper tracking rate of a pacemaker, the places \
                of the home and the contacts are asked while they are missing, each from whoever knows it; what \
                rests on them is left out or taken at its most cautious meanwhile.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::flag("written_down")],
    evaluate: |values| {
        let written = values.flag("written_down")?;
        let word = if written { "nothing" } else { "find-out" };
        Ok(Answer::new(Value::Text(word.to_owned()), word))
    },
};

/// Every question about what is missing.
pub(super) fn questions(known: &Known) -> Vec<Finding> {
    let asked = person(known)
        .into_iter()
        .chain(pulse(known))
        .chain(home(known))
        .chain(contacts(known));
    asked
        .map(|(text, whom, waits)| RECORD.finding(Weight::FindOut, text).asking(whom, waits))
        .collect()
}

/// A question, who knows the answer, and what waits for it.
type Asked = (&'static str, &'static str, &'static str);

fn person(known: &Known) -> Vec<Asked> {
    let person = &known.case.person;
    let mut asked = Vec::new();
    if person.born.is_none() {
        asked.push((
            "When were they born? Without the age there is no expected peak pulse, and no norm for their tests",
            "the patient",
            "the expected peak pulse and the norms",
        ));
    }
    if person.sex.is_none() {
        asked.push((
            "Which sex are the equations and norms to use? It is not recorded",
            "the patient",
            "the norms",
        ));
    }
    let walked = |result: &TestResult| {
        matches!(
            result,
            TestResult::SixMinuteWalk { .. } | TestResult::ShuttleWalk { .. }
        )
    };
    if person.height_cm.is_none() && known.tests().iter().any(|test| walked(&test.result)) {
        asked.push((
            "How tall are they? The norm of the walk needs the height",
            "measure it at the visit",
            "the norm of the walk",
        ));
    }
    if known.weight_kg().is_none() {
        asked.push((
            "What do they weigh? No weight is recorded, so a gain cannot be seen later",
            "measure it at the visit",
            "seeing a gain of weight",
        ));
    }
    asked
}

fn pulse(known: &Known) -> Vec<Asked> {
    let heart = &known.case.heart;
    let mut asked = Vec::new();
    let uncounted = known
        .examination()
        .is_some_and(|one| one.pulse_regular.is_none());
    // In these rhythms it is known already, or the device makes it.
    let told = matches!(
        heart.rhythm,
        Some(Rhythm::AtrialFibrillation | Rhythm::AtrialFlutter | Rhythm::Paced)
    );
    if uncounted && !told {
        asked.push((
            "Is the pulse regular? It was not written down at the newest examination",
            "count it for a minute at the visit",
            "seeing a new fibrillation",
        ));
    }
    if heart.pacemaker.is_some_and(may_track) {
        asked.push((
            "Up to which rate does the pacemaker follow the heart (its upper tracking rate)? Near it the pulse can fall at \
             once",
            "the device clinic",
            "the ceiling below that rate",
        ));
    }
    asked
}

/// Whether a pacemaker may follow the sinus node and its upper rate is not known.
fn may_track(pacemaker: Pacemaker) -> bool {
    use PacingMode::{Aai, Aair, Ddi, Ddir, Vvi, Vvir};
    let never = matches!(pacemaker.mode, Some(Aai | Aair | Ddi | Ddir | Vvi | Vvir));
    pacemaker.upper_tracking_bpm.is_none() && !never
}

fn home(known: &Known) -> Option<Asked> {
    known.case.home.places.is_empty().then_some((
        "Which places has the home: a sturdy chair, a worktop, a wall, a step, stairs, a way to walk? Nothing of it is written down",
        "the patient, at the visit",
        "exercises at a worktop, wall, step or stairs",
    ))
}

fn contacts(known: &Known) -> Vec<Asked> {
    let person = &known.case.person;
    let mut asked = Vec::new();
    if person.telephones.is_empty() {
        asked.push((
            "On which number can they be called? It is not written down",
            "the patient",
            "the calls",
        ));
    }
    if person.emergency_contact.is_none() {
        asked.push((
            "Who is to be told if something happens to them? Nobody is written down",
            "the patient",
            "",
        ));
    }
    if person.doctor.is_none() {
        asked.push((
            "Who is their doctor? Nobody is written down",
            "the patient",
            "questions and letters to the doctor",
        ));
    }
    asked
}
