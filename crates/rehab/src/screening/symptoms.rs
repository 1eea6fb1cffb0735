//! What the person reports on the day.

use super::gate::Gate;
use crate::assessment::{ExaminationSymptom, HistoryItem, Rhythm};
use crate::diary::SymptomKind;
use crate::evidence::{
    Answer, Input, Named, Rule, RuleError, RuleId, SourceId, Tag, Value, Weight,
};
use crate::inputs::yes_no;
use crate::known::Known;

const OURS: SourceId = SourceId("day-gate-ours");
const LEAFLETS: SourceId = SourceId("nhs-exercise-leaflets");

const SYMPTOM: Rule = Rule {
    id: RuleId("day/symptom"),
    name: "A symptom on the day",
    statement: "Chest pain at rest, angina that has changed, new breathlessness or swelling, palpitations, a new \
                irregular pulse, dizziness, a faint, fever, feeling unwell or very tired, a shock of the device, a \
                painful calf or trouble with a wound hold the session. What is usual for this person (recorded as \
                usual) is a caution only.",
    sources: &[OURS, LEAFLETS],
    tag: Tag::Ours,
    inputs: &[
        Input::choice("symptom", WORDS),
        Input::flag("usual_for_them").or_none(),
    ],
    evaluate: |values| {
        let word = values.text("symptom")?;
        let symptom = ExaminationSymptom::parse(word).map_err(|unknown| RuleError {
            message: unknown.to_string(),
        })?;
        let usual = values.optional_text("usual_for_them") == Some("yes");
        let weight = weight_of(symptom, usual);
        Ok(Answer::new(
            Value::Text(weight.word().to_owned()),
            format!("{word}, usual: {}", yes_no(usual)),
        )
        .keep_in_mind(advice(symptom)))
    },
};

const NOT_ASKED: Rule = Rule {
    id: RuleId("day/symptoms-asked"),
    name: "Symptoms are asked on the day",
    statement: "An examination without a question about symptoms leaves the day open: the decision stays as the rest \
                says and signing waits for the answer.",
    sources: &[OURS],
    tag: Tag::Ours,
    inputs: &[Input::flag("asked")],
    evaluate: |values| {
        let asked = values.flag("asked")?;
        Ok(Answer::new(
            Value::Text(if asked { "nothing" } else { "blocks-signing" }.to_owned()),
            format!("asked: {}", yes_no(asked)),
        ))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[SYMPTOM, NOT_ASKED];

const WORDS: &[&str] = &[
    "chest-pain-at-rest",
    "chest-pain-on-exertion",
    "changed-angina",
    "new-breathlessness",
    "new-swelling",
    "palpitations",
    "irregular-pulse",
    "dizziness",
    "dizziness-on-standing",
    "faint",
    "fever",
    "unwell",
    "very-tired",
    "device-shock",
    "calf-pain",
    "wound-trouble",
];

/// What a symptom does. Only some can be usual; nothing makes a faint or a shock usual.
const fn weight_of(symptom: ExaminationSymptom, usual: bool) -> Weight {
    use ExaminationSymptom as S;
    match symptom {
        S::ChestPainOnExertion | S::VeryTired | S::CalfPain | S::IrregularPulse | S::Dizziness
            if usual =>
        {
            Weight::Caution
        }
        // Alone it asks for slow changes of posture; with a fall of pressure the orthostatic cut-off holds.
        S::DizzinessOnStanding => Weight::Adapt,
        _ => Weight::NotToday,
    }
}

const fn advice(symptom: ExaminationSymptom) -> &'static str {
    use ExaminationSymptom as S;
    match symptom {
        S::ChestPainAtRest | S::ChangedAngina | S::Faint => {
            "Use the emergency text of the service where it fits, else telephone the doctor now"
        }
        S::DeviceShock => {
            "One shock and well: the device clinic the same or next day. Unwell, or more than one: emergency"
        }
        S::ChestPainOnExertion => "If it is new, telephone the doctor today",
        S::NewBreathlessness | S::NewSwelling => {
            "Weigh them, look at the legs and telephone the doctor today"
        }
        S::Palpitations | S::IrregularPulse => {
            "Count the pulse for a full minute and telephone the doctor today"
        }
        S::Dizziness => "Measure the pressure seated and standing and telephone the doctor today",
        S::DizzinessOnStanding => {
            "Measure the pressure standing; change posture slowly, feet moving"
        }
        S::Fever | S::Unwell => {
            "Wait until they are well and 48 hours without fever, then examine again"
        }
        S::VeryTired => "Rest today and ask again tomorrow; if it stays, telephone the doctor",
        S::CalfPain => "A painful calf may be a clot: telephone the doctor today",
        S::WoundTrouble => "Telephone the surgical team or the device clinic today",
    }
}

/// Whether a symptom is on record as usual for this person.
fn is_usual(known: &Known, symptom: ExaminationSymptom) -> bool {
    use ExaminationSymptom as S;
    match symptom {
        S::ChestPainOnExertion => known.usual(SymptomKind::ChestDiscomfort),
        S::VeryTired => known.usual(SymptomKind::Tiredness),
        S::Dizziness => known.usual(SymptomKind::Dizziness),
        S::CalfPain => {
            known.has(HistoryItem::PeripheralArterialDisease) && known.usual(SymptomKind::LegPain)
        }
        S::IrregularPulse => matches!(
            known.case.heart.rhythm,
            Some(Rhythm::AtrialFibrillation | Rhythm::AtrialFlutter)
        ),
        _ => false,
    }
}

/// Asks the symptoms of the newest examination.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    let Some(examination) = known.examination() else {
        return;
    };
    if examination.pulse_regular == Some(false) {
        irregular(known, gate);
    }
    let Some(symptoms) = &examination.symptoms else {
        gate.ask(
            NOT_ASKED
                .finding(
                    Weight::BlocksSigning,
                    "How are they today? Symptoms were not asked at the examination",
                )
                .asking("the patient", "signing"),
        );
        return;
    };
    for symptom in ExaminationSymptom::ALL {
        // Felt as well as told it is said once; in another rhythm the felt one is only looked at, so what is told stands.
        let said = *symptom == ExaminationSymptom::IrregularPulse
            && examination.pulse_regular == Some(false)
            && known.case.heart.rhythm != Some(Rhythm::Other);
        if said {
            continue;
        }
        if symptoms.contains(symptom) {
            let usual = is_usual(known, *symptom);
            let weight = weight_of(*symptom, usual);
            let text = match weight {
                Weight::NotToday => {
                    format!(
                        "They report {}. Not today. {}",
                        in_words(*symptom),
                        advice(*symptom)
                    )
                }
                Weight::Caution => format!(
                    "They report {}, as is usual for them. Ask whether it has changed",
                    in_words(*symptom)
                ),
                _ => format!("They report {}. {}", in_words(*symptom), advice(*symptom)),
            };
            gate.say(
                SYMPTOM
                    .finding(weight, text)
                    .with(Named::text("symptom", symptom.word())),
            );
        }
    }
}

/// A pulse felt to be irregular: usual in known fibrillation, a reason to look closely in another known rhythm that is
/// not regular, else new.
fn irregular(known: &Known, gate: &mut Gate) {
    let (weight, text) = match known.case.heart.rhythm {
        Some(Rhythm::AtrialFibrillation | Rhythm::AtrialFlutter) => return,
        Some(Rhythm::Other) => (
            Weight::Caution,
            "The pulse is irregular, as the rhythm may be: count a full minute, and ask whether it has changed",
        ),
        _ => (
            Weight::NotToday,
            "The pulse is irregular and no such rhythm is recorded. Not today: count a full minute and telephone the \
             doctor today",
        ),
    };
    gate.say(SYMPTOM.finding(weight, text).with(Named::text(
        "symptom",
        ExaminationSymptom::IrregularPulse.word(),
    )));
}

const fn in_words(symptom: ExaminationSymptom) -> &'static str {
    use ExaminationSymptom as S;
    match symptom {
        S::ChestPainAtRest => "chest pain at rest",
        S::ChestPainOnExertion => "chest pain on exertion",
        S::ChangedAngina => "angina that has changed",
        S::NewBreathlessness => "new breathlessness",
        S::NewSwelling => "new swelling",
        S::Palpitations => "palpitations",
        S::IrregularPulse => "an irregular pulse",
        S::Dizziness => "dizziness",
        S::DizzinessOnStanding => "dizziness on standing",
        S::Faint => "a faint",
        S::Fever => "fever",
        S::Unwell => "being unwell",
        S::VeryTired => "being very tired",
        S::DeviceShock => "a shock of the device",
        S::CalfPain => "a painful calf",
        S::WoundTrouble => "trouble with a wound",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_makes_a_red_symptom_usual() {
        use ExaminationSymptom as S;
        for symptom in [
            S::ChestPainAtRest,
            S::ChangedAngina,
            S::Faint,
            S::DeviceShock,
            S::Palpitations,
            S::NewBreathlessness,
        ] {
            assert_eq!(weight_of(symptom, true), Weight::NotToday, "{symptom}");
        }
        assert_eq!(weight_of(S::ChestPainOnExertion, false), Weight::NotToday);
        assert_eq!(weight_of(S::ChestPainOnExertion, true), Weight::Caution);
    }

    #[test]
    fn the_words_of_the_rule_are_the_words_of_the_list() {
        let words: Vec<&str> = ExaminationSymptom::ALL
            .iter()
            .map(|one| one.word())
            .collect();
        assert_eq!(words, WORDS);
    }
}
