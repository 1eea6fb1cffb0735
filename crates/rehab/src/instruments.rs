//! Questionnaires of mood, worry, well-being and quality of life: scores and bands.
//!
//! The free ones are scored here; of the licensed ones only the range of a score that was worked out elsewhere is known.
//! No question's words stand in the program.

use crate::evidence::{
    Answer, Finding, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values, Weight,
};
use crate::inputs::refuse;

closed_words!(
    /// Band of a score of mood or worry.
    Severity as "severity" {
        Minimal = "minimal", Mild = "mild", Moderate = "moderate", ModeratelySevere = "moderately severe", Severe = "severe",
    }
);

/// A score with its band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scored {
    /// Sum of the answers.
    pub score: u16,
    /// Band.
    pub severity: Severity,
}

/// Well-being.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WellBeing {
    /// Sum of the answers, 0 to 25.
    pub raw: u16,
    /// Raw x 4, 0 to 100. Not (raw - 5) x 4, as a public page has it.
    pub score: u16,
    /// 50 or less: ask about mood.
    pub low: bool,
    /// 28 or less: like depression.
    pub very_low: bool,
}

closed_words!(
    /// Why a questionnaire gives no score.
    NotScored as "reason for no score" {
        Unanswered = "not every question is answered: ask the ones that are open; there is no score from a part",
        NotAnAnswer = "an answer lies outside the range of the questionnaire; read the form again",
    }
);

fn sum(answers: &[u8], questions: usize, most: u8) -> Result<u16, NotScored> {
    if answers.len() > questions || answers.iter().any(|answer| *answer > most) {
        return Err(NotScored::NotAnAnswer);
    }
    if answers.len() < questions {
        return Err(NotScored::Unanswered);
    }
    Ok(answers.iter().map(|answer| u16::from(*answer)).sum())
}

/// Nine items of mood, each 0 to 3: 0-4 minimal, 5-9 mild, 10-14 moderate, 15-19 moderately severe, 20-27 severe.
///
/// Source: register `kroenke-2001`, `phq-gad-release-2010`.
///
/// # Errors
/// [`NotScored`].
pub fn phq_9(answers: &[u8]) -> Result<Scored, NotScored> {
    let score = sum(answers, 9, 3)?;
    let severity = match score {
        0..=4 => Severity::Minimal,
        5..=9 => Severity::Mild,
        10..=14 => Severity::Moderate,
        15..=19 => Severity::ModeratelySevere,
        _ => Severity::Severe,
    };
    Ok(Scored { score, severity })
}

/// The alert of the ninth item: any answer above 0 needs a person to speak with the patient on the same day. It counts
/// also when other answers are missing.
pub fn ninth_item_alert(answers: &[u8]) -> Option<Finding> {
    let ninth = answers.get(8).copied().filter(|answer| *answer > 0)?;
    Some(NINTH_ITEM.finding(
        Weight::Caution,
        format!("The ninth question of mood was answered {ninth}: somebody trained speaks with the person today and writes what was done"),
    ))
}

/// Seven items of worry, each 0 to 3: 0-4 minimal, 5-9 mild, 10-14 moderate, 15-21 severe.
///
/// Source: register `spitzer-2006`, `phq-gad-release-2010`.
///
/// # Errors
/// [`NotScored`].
pub fn gad_7(answers: &[u8]) -> Result<Scored, NotScored> {
    let score = sum(answers, 7, 3)?;
    let severity = match score {
        0..=4 => Severity::Minimal,
        5..=9 => Severity::Mild,
        10..=14 => Severity::Moderate,
        _ => Severity::Severe,
    };
    Ok(Scored { score, severity })
}

/// Whether the first two items of mood or of worry are positive: a sum of 3 or more (recalled).
///
/// # Errors
/// [`NotScored`].
pub fn two_items_positive(answers: &[u8]) -> Result<bool, NotScored> {
    Ok(sum(answers, 2, 3)? >= 3)
}

/// Five items of well-being, each 0 to 5: raw x 4; 50 or less screens, 28 or less is like depression.
///
/// Source: register `who-5` (secondary).
///
/// # Errors
/// [`NotScored`].
pub fn who_5(answers: &[u8]) -> Result<WellBeing, NotScored> {
    let raw = sum(answers, 5, 5)?;
    let score = raw * 4;
    Ok(WellBeing {
        raw,
        score,
        low: score <= 50,
        very_low: score <= 28,
    })
}

/// The range of a score that is worked out outside: the questionnaire is licensed and none of its words are here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScoreEntry {
    /// Short name as in files.
    pub kind: &'static str,
    /// Least score.
    pub low: f64,
    /// Greatest score.
    pub high: f64,
    /// Bands of the score: from, in words.
    pub bands: &'static [(f64, &'static str)],
}

impl ScoreEntry {
    /// The band of a score; `None` outside the range or without bands.
    pub fn band(&self, score: f64) -> Option<&'static str> {
        if !(self.low..=self.high).contains(&score) {
            return None;
        }
        self.bands
            .iter()
            .rfind(|(from, _)| score >= *from)
            .map(|(_, word)| *word)
    }
}

/// The licensed questionnaires of which a score may be entered.
pub const SCORE_ENTRIES: &[ScoreEntry] = &[
    ScoreEntry {
        kind: "hads",
        low: 0.0,
        high: 21.0,
        bands: &[(0.0, "usual"), (8.0, "borderline"), (11.0, "raised")],
    },
    ScoreEntry {
        kind: "macnew",
        low: 1.0,
        high: 7.0,
        bands: &[],
    },
    ScoreEntry {
        kind: "mlhfq",
        low: 0.0,
        high: 105.0,
        bands: &[],
    },
    ScoreEntry {
        kind: "kccq-12",
        low: 0.0,
        high: 100.0,
        bands: &[],
    },
    ScoreEntry {
        kind: "eq-5d-scale",
        low: 0.0,
        high: 100.0,
        bands: &[],
    },
    ScoreEntry {
        kind: "eq-5d-index",
        low: -1.0,
        high: 1.0,
        bands: &[],
    },
];

/// The entry of a questionnaire.
pub fn score_entry(kind: &str) -> Option<&'static ScoreEntry> {
    SCORE_ENTRIES.iter().find(|entry| entry.kind == kind)
}

/// Answers given to a rule, whole and small.
fn answers(values: &Values) -> Result<Vec<u8>, RuleError> {
    let given = values.numbers("answers")?;
    if given.iter().any(|answer| libm::floor(*answer) != *answer) {
        return refuse(NotScored::NotAnAnswer.word());
    }
    Ok(given.into_iter().map(|answer| answer as u8).collect())
}

fn scored(found: Result<Scored, NotScored>) -> Result<Answer, RuleError> {
    match found {
        Ok(one) => Ok(Answer::new(
            Value::Text(one.severity.word().to_owned()),
            format!("sum of the answers = {}", one.score),
        )),
        Err(why) => refuse(why.word()),
    }
}

/// Mood, for findings elsewhere.
pub(crate) const PHQ_9: Rule = Rule {
    id: RuleId("instrument/phq-9"),
    name: "Mood, nine items",
    statement: "Sum 0 to 27: 0-4 minimal, 5-9 mild, 10-14 moderate, 15-19 moderately severe, 20-27 severe. No score from a part.",
    sources: &[SourceId("phq-gad-release-2010"), SourceId("kroenke-2001")],
    tag: Tag::Recalled,
    inputs: &[Input::numbers("answers", "0 to 3", 0.0, 3.0)],
    evaluate: |values| {
        let given = answers(values)?;
        let answer = scored(phq_9(&given))?;
        Ok(match ninth_item_alert(&given) {
            Some(alert) => answer.keep_in_mind(alert.text),
            None => answer,
        })
    },
};

const NINTH_ITEM: Rule = Rule {
    id: RuleId("instrument/phq-9-ninth-item"),
    name: "Mood, the ninth item",
    statement: "Any answer above 0: somebody trained speaks with the person on the same day.",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[Input::number("answer", "0 to 3", 0.0, 3.0)],
    evaluate: |values| {
        let answer = values.number("answer")?;
        Ok(Answer::new(
            Value::Flag(answer > 0.0),
            format!("{answer} against 0"),
        ))
    },
};

/// Worry, for findings elsewhere.
pub(crate) const GAD_7: Rule = Rule {
    id: RuleId("instrument/gad-7"),
    name: "Worry, seven items",
    statement: "Sum 0 to 21: 0-4 minimal, 5-9 mild, 10-14 moderate, 15-21 severe. No score from a part.",
    sources: &[SourceId("phq-gad-release-2010"), SourceId("spitzer-2006")],
    tag: Tag::Recalled,
    inputs: &[Input::numbers("answers", "0 to 3", 0.0, 3.0)],
    evaluate: |values| scored(gad_7(&answers(values)?)),
};

const TWO_ITEMS: Rule = Rule {
    id: RuleId("instrument/two-items"),
    name: "Mood or worry, two items",
    statement: "The first two items of mood, or of worry: a sum of 3 or more is positive, and the whole questionnaire follows.",
    sources: &[SourceId("kroenke-2001"), SourceId("spitzer-2006")],
    tag: Tag::Recalled,
    inputs: &[Input::numbers("answers", "0 to 3", 0.0, 3.0)],
    evaluate: |values| match two_items_positive(&answers(values)?) {
        Ok(positive) => Ok(Answer::new(
            Value::Flag(positive),
            "sum of two answers against 3",
        )),
        Err(why) => refuse(why.word()),
    },
};

/// Well-being, for findings elsewhere.
pub(crate) const WHO_5: Rule = Rule {
    id: RuleId("instrument/who-5"),
    name: "Well-being, five items",
    statement: "Raw 0 to 25 x 4; 50 or less (raw below 13): ask about mood; 28 or less is like depression.",
    sources: &[SourceId("who-5")],
    tag: Tag::Read,
    inputs: &[Input::numbers("answers", "0 to 5", 0.0, 5.0)],
    evaluate: |values| match who_5(&answers(values)?) {
        Ok(found) => {
            let answer = Answer::new(
                Value::Whole(i64::from(found.score), "of 100"),
                format!("{} x 4 = {}", found.raw, found.score),
            );
            Ok(match (found.low, found.very_low) {
                (_, true) => {
                    answer.keep_in_mind("28 or less: like depression; ask about mood today")
                }
                (true, _) => answer.keep_in_mind("50 or less: ask about mood"),
                _ => answer,
            })
        }
        Err(why) => refuse(why.word()),
    },
};

const ENTRY: Rule = Rule {
    id: RuleId("instrument/score-entry"),
    name: "Scores of licensed questionnaires",
    statement: "Only a score worked out elsewhere is taken, none of the words: hospital anxiety and depression 0-21 a scale (0-7, 8-10, 11-21), heart-disease quality of life 1-7, heart failure 0-105, cardiomyopathy 0-100, five dimensions scale 0-100 and index (-1 to 1, ours).",
    sources: &[
        SourceId("lemay-2019"),
        SourceId("dixon-2002"),
        SourceId("mlhfq-2019"),
        SourceId("kccq"),
        SourceId("eq-5d"),
    ],
    tag: Tag::Recalled,
    inputs: &[
        Input::choice(
            "kind",
            &[
                "hads",
                "macnew",
                "mlhfq",
                "kccq-12",
                "eq-5d-scale",
                "eq-5d-index",
            ],
        ),
        Input::number("score", "points", -1.0, 105.0),
    ],
    evaluate: |values| {
        let Some(entry) = score_entry(values.text("kind")?) else {
            return refuse("'kind' is not one of the list; choose one");
        };
        let score = values.number("score")?;
        if !(entry.low..=entry.high).contains(&score) {
            return refuse(format!(
                "a score of {score} is outside {} to {}; read it again",
                entry.low, entry.high
            ));
        }
        let band = entry.band(score).unwrap_or("no bands are published for it");
        Ok(Answer::new(
            Value::Text(band.to_owned()),
            format!("{score} of {} to {}", entry.low, entry.high),
        ))
    },
};

/// The rules of the questionnaires.
pub(crate) const RULES: &[Rule] = &[PHQ_9, NINTH_ITEM, GAD_7, TWO_ITEMS, WHO_5, ENTRY];

#[cfg(test)]
mod tests;
