//! `compose`: one problem of the composer.

use crate::run::{changed, file, fixture, hearthpace};
use serde_json::Value;

#[test]
fn a_problem_is_solved_with_its_proof() {
    let answer = hearthpace(&["compose", &fixture("instance.json"), "--json"])
        .exits(0)
        .json();
    assert_eq!(answer["proven"], true);
    assert_eq!(answer["objective"], answer["bound"]);
    assert_eq!(answer["chosen"].as_array().unwrap().len(), 3);
    hearthpace(&["compose", &fixture("instance.json")])
        .exits(0)
        .shows("proven best")
        .shows("heel-raise/worktop@worktop");
}

#[test]
fn where_nothing_fits_it_says_what_would_have_to_give_way() {
    let text = changed(
        "instance.json",
        "\"refused_by\": []",
        "\"refused_by\": [\"knee-pain\"]",
    );
    let path = file("none.json", text);
    let answer = hearthpace(&["compose", &path, "--json"]).exits(0).json();
    assert_eq!(
        (&answer["chosen"], &answer["proven"]),
        (&Value::Null, &Value::Bool(true))
    );
    assert_eq!(answer["relax"][0]["id"], "knee-pain");
    hearthpace(&["compose", &path])
        .exits(0)
        .shows("Nothing fits")
        .shows("a sore knee refuses deep bending");
}

#[test]
fn what_is_no_problem_is_refused() {
    hearthpace(&["compose", &fixture("fenwick.toml")])
        .exits(1)
        .says("is not a known key");
}
