//! The registry: every rule, equation, table and cut-off of this crate as an item with id, statement and sources.
//!
//! A module that holds rules has a `RULES` table and is chained here; nothing else lists rules.

use crate::evidence::Rule;
use crate::{
    adaptations, capacity, eligibility, function_tests, intensity, limits, load, medicine,
    metabolic, readiness, review, risk, screening,
};

/// Every rule, in the order of the modules.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    intensity::rules()
        .chain(function_tests::rules())
        .chain(metabolic::RULES)
        .chain(load::RULES)
        .chain(medicine::rules())
        .chain(screening::rules())
        .chain(capacity::RULES)
        .chain(risk::rules())
        .chain(eligibility::RULES)
        .chain(limits::rules())
        .chain(adaptations::rules())
        .chain(readiness::RULES)
        .chain(review::RULES)
}

/// The rule with an id.
pub fn rule(id: &str) -> Option<&'static Rule> {
    rules().find(|rule| rule.id.0 == id)
}

#[cfg(test)]
mod tests {
    use super::*;
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
            let common = rule.tag == crate::evidence::Tag::CommonPractice;
            assert_eq!(rule.sources.is_empty(), common, "{}", rule.id);
        }
    }
}
