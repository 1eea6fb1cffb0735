//! `rules` and `rule`.

use crate::run::hearthpace;

#[test]
fn every_rule_is_listed_with_its_sources_and_can_be_found_by_a_word() {
    let all = hearthpace(&["rules", "--json"]).exits(0).json();
    let all = all.as_array().unwrap();
    assert_eq!(all.len(), rehab::rules::rules().count());
    for rule in all {
        assert!(rule["id"].is_string() && rule["statement"].is_string() && rule["tag"].is_string());
        let sourced = !rule["sources"].as_array().unwrap().is_empty();
        assert!(
            sourced || rule["tag"] == "common practice, no source",
            "{rule}"
        );
    }
    let listed = hearthpace(&["rules"]).exits(0);
    for rule in all {
        assert!(listed.out.contains(rule["id"].as_str().unwrap()));
    }
    let some = hearthpace(&["rules", "karvonen", "--json"]).exits(0).json();
    assert!(!some.as_array().unwrap().is_empty() && some.as_array().unwrap().len() < all.len());
    hearthpace(&["rules", "xylophone"])
        .exits(1)
        .says("no rule speaks of");
}

/// Tanaka 2001, JACC 37:153-6: 208 - 0.7 x age; reference values computed from it: 162.5 at 65 years.
#[test]
fn published_tanaka_is_evaluated_by_itself() {
    let ran = hearthpace(&["rule", "hr-max/tanaka-2001", "age_years=65", "--json"]).exits(0);
    let answer = ran.json();
    assert_eq!(answer["value"], 162.5);
    assert_eq!(answer["unit"], "bpm");
    assert!(!answer["sources"].as_array().unwrap().is_empty());
    hearthpace(&["rule", "hr-max/tanaka-2001", "age_years=65"])
        .exits(0)
        .shows("162.5");
}

#[test]
fn a_rule_refuses_what_it_cannot_take() {
    hearthpace(&["rule", "hr-max/tanaka-2001"])
        .exits(1)
        .says("age_years");
    hearthpace(&["rule", "hr-max/tanaka-2001", "age_years=650"])
        .exits(1)
        .says("650");
    hearthpace(&["rule", "hr-max/tanaka-2001", "age_years=nan"]).exits(1);
    hearthpace(&["rule", "hr-max/tanaka-2001", "age=65"])
        .exits(1)
        .says("has no input 'age'");
    hearthpace(&["rule", "hr-max/tanaka-2002", "age_years=65"])
        .exits(1)
        .says("did you mean 'hr-max/tanaka-2001'");
    let ran = hearthpace(&["--json", "rule", "hr-max/tanaka-2001", "age_years=650"]).exits(1);
    let error = ran.error();
    assert_eq!(error["error"], "cannot-be-done");
    assert_eq!(ran.out, "");
}
