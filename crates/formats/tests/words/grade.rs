//! How hard the texts are to read.

use super::reading::{Counts, count, grade, syllables, words_of};
use super::{british, every_text, for_patients, said};
use std::collections::BTreeMap;

/// A child of eleven reads this; so can somebody who is tired and afraid.
const HARDEST_GRADE: f64 = 6.0;

/// A label of one to three words ("January", "Ease off") says nothing about how a text is read.
fn is_sentence(text: &str) -> bool {
    words_of(text).len() > 3
}

fn grade_of(texts: &[&str]) -> f64 {
    grade(
        texts
            .iter()
            .map(|text| count(text))
            .fold(Counts::default(), Counts::add),
    )
}

#[test]
fn published_grade_of_the_platypus_sentence() {
    let counts = Counts {
        words: 13.0,
        sentences: 1.0,
        syllables: 24.0,
    };
    assert!((grade(counts) - 11.3).abs() < 0.05, "{}", grade(counts));
    let text = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.";
    let counted = count(text);
    assert_eq!((counted.words, counted.sentences), (13.0, 1.0));
    // Its count joins "-ian" into one syllable; ours is the same.
    assert!((counted.syllables - 24.0).abs() <= 1.0, "{counted:?}");
}

#[test]
fn reference_syllables_of_a_pronouncing_dictionary() {
    let table = include_str!("../data/syllables.tsv");
    let (mut all, mut same, mut ours, mut theirs) = (0.0, 0.0, 0.0, 0.0);
    let mut wrong = Vec::new();
    for line in table.lines().filter(|line| !line.starts_with('#')) {
        let (word, count) = line.split_once('\t').expect("two columns");
        let count: f64 = count.parse().expect("a number");
        all += 1.0;
        ours += syllables(word);
        theirs += count;
        if (syllables(word) - count).abs() < 0.5 {
            same += 1.0;
        } else {
            wrong.push(word);
        }
    }
    assert!(all > 500.0, "the table holds {all} words only");
    assert!(same / all > 0.95, "{same} of {all} alike; not: {wrong:?}");
    // The grade moves by 11.8 x the share: half a per cent is less than a tenth of a grade.
    assert!(
        (ours / theirs - 1.0).abs() < 0.01,
        "{ours} against {theirs}"
    );
}

#[test]
fn law_every_variant_is_read_at_grade_six_or_easier() {
    let words = british();
    for (named, one) in words.exercises() {
        let grade = grade_of(&said(one));
        assert!(
            grade <= HARDEST_GRADE,
            "{}/{} is read at grade {grade:.1}",
            named.exercise,
            named.variant
        );
        let say: Vec<&str> = one.say.iter().map(String::as_str).collect();
        assert!(grade_of(&say) <= HARDEST_GRADE, "{named:?}: {say:?}");
    }
}

#[test]
fn law_every_part_for_patients_is_read_at_grade_six_or_easier() {
    let words = british();
    let mut parts: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    let sentences = words
        .ids()
        .filter(|id| for_patients(id) && is_sentence(words.get(id)));
    for id in sentences {
        let part = id.rsplit_once('.').map_or(id, |(part, _)| part);
        parts
            .entry(part.to_owned())
            .or_default()
            .push(words.get(id));
    }
    assert!(parts.len() > 30, "{} parts only", parts.len());
    for (part, texts) in parts {
        let grade = grade_of(&texts);
        assert!(grade <= HARDEST_GRADE, "{part} is read at grade {grade:.1}");
    }
}

/// One hard line is not made good by easy ones round it.
#[test]
fn law_no_single_text_for_patients_is_hard() {
    /// A text of one or two sentences swings more than a page.
    const HARDEST_TEXT: f64 = 10.0;
    let words = british();
    for (name, text) in every_text(&words) {
        if for_patients(&name) && is_sentence(&text) {
            let grade = grade_of(&[&text]);
            assert!(
                grade <= HARDEST_TEXT,
                "{name} is read at grade {grade:.1}: {text}"
            );
        }
    }
}

#[test]
fn law_no_sentence_for_patients_is_long() {
    /// Words in one sentence.
    const MOST: usize = 20;
    let words = british();
    for (name, text) in every_text(&words)
        .iter()
        .filter(|(name, _)| for_patients(name))
    {
        for sentence in text.split(['.', '?', ':']) {
            let length = words_of(sentence).len();
            assert!(
                length <= MOST,
                "{name} has a sentence of {length} words: {sentence}"
            );
        }
    }
}

#[test]
fn an_instruction_is_at_most_three_sentences() {
    for (named, one) in british().exercises() {
        let sentences: f64 = one.say.iter().map(|text| count(text).sentences).sum();
        assert!(sentences <= 3.0, "{named:?}: {:?}", one.say);
    }
}
