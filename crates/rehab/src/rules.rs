//! The registry: every rule, equation, table and cut-off of this crate as an item with id, statement and sources.
//!
//! A module that holds rules has a `RULES` table and is chained here; nothing else lists rules.

use crate::evidence::Rule;
use crate::{
    adaptations, capacity, eligibility, function_tests, instruments, intensity, kinetics, limits,
    load, medicine, metabolic, outcome, pressure_taking, programme, pulse_taking, readiness,
    recovery, review, risk, screening, watching,
};

/// Every rule, in the order of the modules.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    intensity::rules()
        .chain(function_tests::rules())
        .chain(metabolic::RULES)
        .chain(load::RULES)
        .chain(kinetics::RULES)
        .chain(recovery::RULES)
        .chain(pulse_taking::RULES)
        .chain(pressure_taking::RULES)
        .chain(instruments::RULES)
        .chain(medicine::rules())
        .chain(screening::rules())
        .chain(capacity::rules())
        .chain(risk::rules())
        .chain(eligibility::RULES)
        .chain(watching::RULES)
        .chain(limits::rules())
        .chain(adaptations::rules())
        .chain(readiness::RULES)
        .chain(outcome::RULES)
        .chain(programme::rules())
        .chain(review::RULES)
}

/// The rule with an id.
///
/// ```
/// use rehab::evidence::{Value, Values};
///
/// let rule = rehab::rules::rule("programme/training-band").unwrap();
/// let given = [("load_mets", "2.4"), ("low_mets", "3.0"), ("high_mets", "4.2")];
/// let pairs = given.map(|(name, value)| (name.to_owned(), value.to_owned()));
/// let answer = (rule.evaluate)(&Values::check(rule, &pairs).unwrap()).unwrap();
/// // 0.6 METs below the band are three steps of a quarter of a MET, the last one begun.
/// assert_eq!(answer.value, Value::Whole(3, "steps"));
/// assert!(rehab::rules::rule("programme/no-such-rule").is_none());
/// ```
pub fn rule(id: &str) -> Option<&'static Rule> {
    rules().find(|rule| rule.id.0 == id)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::{InputKind, Tag, Value, Values};
    use std::collections::BTreeSet;

    #[test]
    fn every_id_is_kebab_case_in_a_group_and_stands_once() {
        let mut seen = BTreeSet::new();
        for rule in rules() {
            let id = rule.id.0;
            let parts: Vec<&str> = id.split('/').collect();
            assert_eq!(parts.len(), 2, "{id} is not group/name");
            for part in parts {
                let plain = part
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
                assert!(plain && !part.is_empty(), "{id} is not kebab case");
                assert!(!part.starts_with('-') && !part.ends_with('-'), "{id}");
            }
            assert!(seen.insert(id), "{id} stands twice");
        }
    }

    #[test]
    fn every_rule_states_itself_and_only_common_practice_has_no_source() {
        for rule in rules() {
            assert!(
                !rule.name.is_empty() && !rule.statement.is_empty(),
                "{}",
                rule.id
            );
            let common = rule.tag == Tag::CommonPractice;
            assert_eq!(rule.sources.is_empty(), common, "{}", rule.id);
        }
    }

    #[test]
    fn law_a_rule_with_a_recalled_number_is_not_tagged_read() {
        let wrong: Vec<&str> = rules()
            .filter(|rule| rule.statement.contains("recalled") && rule.tag == Tag::Read)
            .map(|rule| rule.id.0)
            .collect();
        assert!(wrong.is_empty(), "tagged read, but say recalled: {wrong:?}");
    }

    /// A text for an input: at the lower end, in the middle or at the upper end of what it takes.
    fn sample(kind: InputKind, share: f64) -> String {
        match kind {
            InputKind::Number { low, high, .. } => {
                format!("{}", libm::round(low + share * (high - low)))
            }
            InputKind::Numbers { low, high, .. } => {
                let one = libm::round(low + share * (high - low));
                format!("{one},{one}")
            }
            InputKind::Choice(words) => {
                let at = libm::round(share * (words.len() - 1) as f64) as usize;
                words[at].to_owned()
            }
            InputKind::Flag => if share > 0.5 { "yes" } else { "no" }.to_owned(),
            InputKind::Text => "bisoprolol".to_owned(),
            InputKind::Date => "2026-11-25".to_owned(),
        }
    }

    /// Why a text is the program talking to itself: a debug form, an enum's name, a truth value.
    fn not_plain(text: &str) -> Option<String> {
        let marks = ["Some(", "None", "Ok(", "Err(", "{", "}", "[", "]"];
        let found = marks.iter().find(|mark| text.contains(**mark));
        if let Some(mark) = found {
            return Some((*mark).to_owned());
        }
        let words = text.split(|c: char| !c.is_ascii_alphanumeric());
        let camel = |word: &str| {
            let letters = word.as_bytes();
            letters.first().is_some_and(u8::is_ascii_uppercase)
                && letters
                    .windows(2)
                    .any(|pair| pair[0].is_ascii_lowercase() && pair[1].is_ascii_uppercase())
        };
        words
            .into_iter()
            .find(|word| camel(word) || ["true", "false", "NaN", "inf"].contains(word))
            .map(str::to_owned)
    }

    #[test]
    fn what_is_not_plain_is_noticed() {
        for text in [
            "Some(39.9) against 40",
            "None METs against 5",
            "usual: true",
            "NotToday",
            "least of [3, 2]",
        ] {
            assert!(not_plain(text).is_some(), "{text}");
        }
        let plain = "128/74 mmHg, 4 METs, 14 mL/kg/min by VO2peak: not-today, class II";
        assert_eq!(not_plain(plain), None);
    }

    /// Inputs of a rule at several places of their ranges, with all optional ones, with none, and without each.
    fn samples(rule: &Rule) -> Vec<Values> {
        let mut all = Vec::new();
        let left_out: Vec<&str> = rule
            .inputs
            .iter()
            .filter(|one| one.optional)
            .map(|one| one.name)
            .collect();
        for share in [0.0, 0.3, 0.5, 0.8, 1.0] {
            for flipped in [false, true] {
                let mut leaving: Vec<Vec<&str>> = vec![Vec::new(), left_out.clone()];
                leaving.extend(left_out.iter().map(|name| vec![*name]));
                for without in leaving {
                    let pairs: Vec<(String, String)> = rule
                        .inputs
                        .iter()
                        .filter(|input| !without.contains(&input.name))
                        .map(|input| {
                            let number = matches!(
                                input.kind,
                                InputKind::Number { .. } | InputKind::Numbers { .. }
                            );
                            let share = if flipped && !number {
                                1.0 - share
                            } else {
                                share
                            };
                            (input.name.to_owned(), sample(input.kind, share))
                        })
                        .collect();
                    all.extend(Values::check(rule, &pairs));
                }
            }
        }
        all
    }

    #[test]
    fn law_no_rule_speaks_in_debug_forms_and_every_answer_shows_its_working() {
        let mut found = BTreeSet::new();
        for rule in rules() {
            for values in samples(rule) {
                let said = match (rule.evaluate)(&values) {
                    Ok(answer) => {
                        if answer.working.trim().is_empty() {
                            found.insert(format!("{}: no working", rule.id));
                        }
                        let mut said = vec![answer.value.to_string(), answer.working];
                        said.extend(answer.cautions);
                        said
                    }
                    Err(error) => vec![error.message],
                };
                for text in said {
                    if let Some(mark) = not_plain(&text) {
                        found.insert(format!("{}: '{mark}' in '{text}'", rule.id));
                    }
                }
            }
        }
        assert!(found.is_empty(), "{found:#?}");
    }

    #[test]
    fn law_every_rule_answers_or_says_why_at_the_ends_of_its_inputs() {
        let mut answered = 0;
        for rule in rules() {
            for share in [0.0, 0.5, 1.0] {
                for optional_too in [true, false] {
                    let inputs = rule
                        .inputs
                        .iter()
                        .filter(|input| optional_too || !input.optional);
                    let pairs: Vec<(String, String)> = inputs
                        .map(|input| (input.name.to_owned(), sample(input.kind, share)))
                        .collect();
                    let Ok(values) = Values::check(rule, &pairs) else {
                        // A whole number between close bounds may round out of them.
                        continue;
                    };
                    match (rule.evaluate)(&values) {
                        Ok(answer) => {
                            answered += 1;
                            if let Value::Number(number, _) = answer.value {
                                assert!(number.is_finite(), "{} gives {number}", rule.id);
                            }
                        }
                        Err(error) => assert!(!error.message.is_empty(), "{}", rule.id),
                    }
                }
            }
        }
        assert!(answered > 300, "only {answered} evaluations gave an answer");
    }
}
