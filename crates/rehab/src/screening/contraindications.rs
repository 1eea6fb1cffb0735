//! The contraindications to exercise training that a history or a letter answers, each a rule of its own.

use super::contraindication_table::TABLE;
use super::cutoffs::Strength;
use super::gate::Gate;
use crate::assessment::{Answered, HistoryItem};
use crate::evidence::{
    Answer, Finding, Input, Named, Rule, RuleError, RuleId, SourceId, Tag, Value, Values, Weight,
};
use crate::known::Known;

closed_words!(
    /// What a contraindication does while it is present.
    Consequence as "consequence of a contraindication" {
        Hold = "hold",
        NotAtHome = "not-at-home",
        UntilAgreed = "until-agreed",
    }
);

/// One contraindication.
#[derive(Clone, Copy, Debug)]
pub(super) struct Contraindication {
    rule: Rule,
    item: HistoryItem,
    strength: Strength,
    consequence: Consequence,
    do_next: &'static str,
}

const INPUTS: &[Input] = &[
    Input::choice("answer", &["present", "absent", "not known"]),
    Input::flag("doctor_agreed").or_none(),
];

const REVIEW: &[SourceId] = &[SourceId("heart-fail-rev-2023")];
pub(super) const REVIEW_AND_RESPIRATORY: &[SourceId] = &[
    SourceId("heart-fail-rev-2023"),
    SourceId("eur-respir-rev-chf"),
];
pub(super) const BOOKS: &[SourceId] = &[SourceId("acsm-getp"), SourceId("aacvpr-guidelines")];
pub(super) const OURS: &[SourceId] = &[SourceId("contraindications-ours")];

pub(super) const fn item(
    id: &'static str,
    item: HistoryItem,
    name: &'static str,
    statement: &'static str,
    do_next: &'static str,
) -> Contraindication {
    Contraindication {
        rule: Rule {
            id: RuleId(id),
            name,
            statement,
            sources: REVIEW,
            tag: Tag::Read,
            inputs: INPUTS,
            evaluate: |values| evaluate(values, Consequence::Hold),
        },
        item,
        strength: Strength::Absolute,
        consequence: Consequence::Hold,
        do_next,
    }
}

impl Contraindication {
    pub(super) const fn from(mut self, sources: &'static [SourceId], tag: Tag) -> Self {
        self.rule.sources = sources;
        self.rule.tag = tag;
        self
    }

    pub(super) const fn not_at_home(mut self) -> Self {
        self.consequence = Consequence::NotAtHome;
        self.rule.evaluate = |values| evaluate(values, Consequence::NotAtHome);
        self
    }

    /// Relative, and no home programme while it lasts.
    pub(super) const fn relative(mut self) -> Self {
        self.strength = Strength::Relative;
        self
    }

    /// Relative: a doctor who agrees in writing opens the way.
    pub(super) const fn until_agreed(mut self) -> Self {
        self.strength = Strength::Relative;
        self.consequence = Consequence::UntilAgreed;
        self.rule.evaluate = |values| evaluate(values, Consequence::UntilAgreed);
        self
    }
}

/// The rules of the table.
pub(crate) const RULES: [Rule; TABLE.len()] = {
    let mut rules = [TABLE[0].rule; TABLE.len()];
    let mut index = 0;
    while index < TABLE.len() {
        rules[index] = TABLE[index].rule;
        index += 1;
    }
    rules
};

/// What a contraindication means: nothing when absent, else what its consequence says.
const fn weight_of(consequence: Consequence, answer: Answered, agreed: bool) -> Option<Weight> {
    match (answer, consequence) {
        (Answered::Absent, _) => None,
        (Answered::NotKnown, _) => Some(Weight::FindOut),
        (Answered::Present, Consequence::Hold) => Some(Weight::NotToday),
        (Answered::Present, Consequence::NotAtHome) => Some(Weight::NotAtHome),
        (Answered::Present, Consequence::UntilAgreed) if agreed => Some(Weight::Caution),
        (Answered::Present, Consequence::UntilAgreed) => Some(Weight::NotToday),
    }
}

fn evaluate(values: &Values, consequence: Consequence) -> Result<Answer, RuleError> {
    let word = values.text("answer")?;
    let answer = Answered::parse(word).map_err(|unknown| RuleError {
        message: unknown.to_string(),
    })?;
    let agreed = values.optional_text("doctor_agreed") == Some("yes");
    let meaning = weight_of(consequence, answer, agreed).map_or("nothing", Weight::word);
    Ok(Answer::new(
        Value::Text(meaning.to_owned()),
        format!("{word}, consequence {consequence}: {meaning}"),
    ))
}

/// How strongly an item of the history speaks against exercise; `None` where it is no contraindication.
pub fn strength_of(item: HistoryItem) -> Option<Strength> {
    let found = TABLE.iter().find(|one| one.item == item);
    found.map(|one| one.strength)
}

/// Asks every contraindication of the record.
pub(super) fn apply(known: &Known, gate: &mut Gate) {
    for one in TABLE {
        let answer = known.answer(one.item);
        let agreed = known.agreement().is_some();
        match weight_of(one.consequence, answer, agreed) {
            None => {}
            Some(Weight::FindOut) => gate.ask(one.question()),
            Some(weight) => gate.say(one.finding(weight, known)),
        }
    }
}

impl Contraindication {
    fn finding(&self, weight: Weight, known: &Known) -> Finding {
        let what = format!("{}: {} contraindication", self.rule.name, self.strength);
        let text = match (weight, known.agreement()) {
            (Weight::NotAtHome, _) => format!("{what}. Not at home: {}", self.do_next),
            (Weight::Caution, Some(agreement)) => format!(
                "{what}. {} agreed on {}; keep to the lower end and look closely",
                agreement.doctor, agreement.date
            ),
            _ => format!("{what}. Not today: {}", self.do_next),
        };
        let finding = self
            .rule
            .finding(weight, text)
            .with(Named::text("strength", self.strength.word()));
        match known.case.history.began(self.item) {
            Some(date) => finding.with(Named::date("since", date)),
            None => finding,
        }
    }

    /// An unanswered absolute contraindication blocks signing; an unanswered relative one waits.
    fn question(&self) -> Finding {
        let (weight, blocks) = match self.strength {
            Strength::Absolute => (Weight::BlocksSigning, "signing"),
            Strength::Relative => (Weight::FindOut, ""),
        };
        let text = format!("{}: present or absent? Not answered yet", self.rule.name);
        self.rule
            .finding(weight, text)
            .asking("the patient and the doctor's letter", blocks)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_absolute_list_is_absolute() {
        // Source: Heart Fail Rev 2023, table 1, as far as a history answers it.
        for item in [
            HistoryItem::UnstableAngina,
            HistoryItem::DecompensatedHeartFailure,
            HistoryItem::WorseningTolerance,
            HistoryItem::IschaemiaAtLowLoad,
            HistoryItem::Thrombophlebitis,
            HistoryItem::RecentEmbolism,
            HistoryItem::Endocarditis,
            HistoryItem::MyocarditisOrPericarditis,
            HistoryItem::AorticDissection,
            HistoryItem::SevereAorticStenosis,
            HistoryItem::AcuteIllness,
            HistoryItem::UncontrolledArrhythmia,
            HistoryItem::NewAtrialFibrillation,
            HistoryItem::UnpacedThirdDegreeBlock,
            HistoryItem::UncontrolledDiabetes,
        ] {
            let one = TABLE.iter().find(|one| one.item == item).unwrap();
            assert_eq!(one.strength, Strength::Absolute, "{item}");
            assert_ne!(one.consequence, Consequence::UntilAgreed, "{item}");
        }
    }

    #[test]
    fn each_item_of_the_history_stands_once() {
        for one in TABLE {
            let same = TABLE.iter().filter(|other| other.item == one.item);
            assert_eq!(same.count(), 1, "{}", one.item);
        }
    }

    #[test]
    fn an_agreement_opens_only_what_may_be_agreed() {
        let present = Answered::Present;
        assert_eq!(
            weight_of(Consequence::UntilAgreed, present, false),
            Some(Weight::NotToday)
        );
        assert_eq!(
            weight_of(Consequence::UntilAgreed, present, true),
            Some(Weight::Caution)
        );
        assert_eq!(
            weight_of(Consequence::Hold, present, true),
            Some(Weight::NotToday)
        );
        assert_eq!(
            weight_of(Consequence::NotAtHome, present, true),
            Some(Weight::NotAtHome)
        );
    }
}
