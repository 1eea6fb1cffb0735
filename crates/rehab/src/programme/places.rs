//! The places of the home as stops of the walk.

use crate::assessment::{Case, PlaceKind};
use crate::evidence::{Answer, Finding, Input, Rule, RuleId, SourceId, Tag, Value, Weight};

/// One stop.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Stop {
    /// Index into the home's places; `None` where it is assumed.
    pub(crate) place: Option<usize>,
    /// Name as the person calls it; empty where it is assumed.
    pub(crate) name: String,
    /// What it is.
    pub(crate) kind: PlaceKind,
    /// A chair with arms; not known counts for none.
    pub(crate) arms: bool,
    /// A chair without arms; not known counts for one with arms.
    pub(crate) no_arms: bool,
    /// A rail; not known counts for none.
    pub(crate) rail: bool,
    /// Height of the step in cm, where it is known.
    pub(crate) height_cm: Option<f64>,
}

/// The stops in the order of the walk. Without a survey a sturdy chair and a clear floor are assumed and nothing else.
pub(crate) fn stops(case: &Case) -> (Vec<Stop>, Vec<Finding>) {
    if case.home.places.is_empty() {
        let assumed = |kind| Stop {
            place: None,
            name: String::new(),
            kind,
            arms: false,
            no_arms: false,
            rail: false,
            height_cm: None,
        };
        let finding = ASSUMED
            .finding(
                Weight::FindOut,
                "No place of the home is known: a sturdy chair and a clear floor are assumed, nothing else; whether the chair has arms is not counted on either way.",
            )
            .asking("the patient, at the visit", "exercises at a worktop, wall, step or stairs");
        return (
            vec![assumed(PlaceKind::Chair), assumed(PlaceKind::Floor)],
            vec![finding],
        );
    }
    let stops = case
        .home
        .places
        .iter()
        .enumerate()
        .map(|(index, place)| Stop {
            place: Some(index),
            name: place.name.clone(),
            kind: place.kind,
            arms: place.arms == Some(true),
            no_arms: place.arms == Some(false),
            rail: place.rail == Some(true),
            height_cm: place.height_cm,
        })
        .collect();
    (stops, Vec::new())
}

const ASSUMED: Rule = Rule {
    id: RuleId("places/assumed"),
    name: "Places that are assumed",
    statement: "Without a survey of the home a sturdy chair and a clear floor are assumed and nothing else; what is not known of a place (arms or no arms, rail, height) counts for not there.",
    sources: &[SourceId("programme-ours")],
    tag: Tag::Ours,
    inputs: &[Input::flag("surveyed")],
    evaluate: |values| {
        let surveyed = values.flag("surveyed")?;
        let answer = if surveyed {
            "the places of the survey"
        } else {
            "a chair and a clear floor"
        };
        Ok(Answer::new(
            Value::Text(answer.to_owned()),
            "surveyed or not",
        ))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[ASSUMED];
