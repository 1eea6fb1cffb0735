//! Why a station has fewer than three other ways.

use super::ExerciseKind;
use super::alternatives::OFFERED;
use super::composer::{Class, HardRule, Instance, in_words, standing_in_the_way};
use super::ground::Ground;
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use std::collections::{BTreeMap, BTreeSet};

/// Reasons that are named, the most frequent first.
const NAMED: usize = 3;

const FEW: Rule = Rule {
    id: RuleId("programme/other-ways"),
    name: "Other ways of a station",
    statement: "Up to three other ways are offered for a station, one of each exercise, each of which breaks no hard rule with all other stations as they are. Where there are fewer it is said what stands in the way of the rest.",
    sources: &[SourceId("programme-ours")],
    tag: Tag::Ours,
    inputs: &[Input::number("offered", "ways", 0.0, 3.0)],
    evaluate: |values| {
        let offered = values.number("offered")?;
        let few = offered < OFFERED as f64;
        Ok(Answer::new(
            Value::Flag(few),
            format!("{offered} against {OFFERED}"),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[FEW];

/// A candidate that was tried at the station, with the whole list it would have made.
pub(super) struct Tried {
    pub(super) candidate: usize,
    pub(super) list: Vec<usize>,
    /// Whether the list holds every rule and only the chance of passing the ceiling is too large.
    pub(super) too_fast: bool,
}

/// What stands in the way of the exercises that are not offered; `None` where three ways are. `told` are the exercises
/// that stand there or are offered.
pub(super) fn why(
    ground: &Ground<'_>,
    instance: &Instance,
    class: Class,
    told: &BTreeSet<&str>,
    ways: usize,
    tried: &[Tried],
) -> Option<Finding> {
    if ways >= OFFERED {
        return None;
    }
    let broken = broken(instance, told, tried);
    let open: BTreeSet<&str> = broken.keys().copied().chain(told.iter().copied()).collect();
    let closed = closed(ground, class, &open);
    let mut rules: BTreeMap<&'static str, usize> = BTreeMap::new();
    for words in broken.values().flatten() {
        *rules.entry(*words).or_default() += 1;
    }
    let mut parts = Vec::new();
    if !broken.is_empty() {
        parts.push(format!(
            "{} would break a rule beside the other turns ({})",
            exercises(broken.len()),
            most_frequent(&rules).join("; ")
        ));
    }
    if closed.count > 0 {
        parts.push(format!(
            "{} for such a turn {} closed to this person (most often: {})",
            exercises(closed.count),
            if closed.count == 1 { "is" } else { "are" },
            most_frequent(&closed.reasons).join("; ")
        ));
    }
    if parts.is_empty() {
        parts.push("there are no further exercises for such a turn".to_owned());
    }
    let text = format!("{}: {}", how_many(ways), parts.join(", and "));
    Some(FEW.finding(Weight::Note, text).with(Named::whole(
        "offered",
        i64::try_from(ways).unwrap_or(i64::MAX),
        "ways",
    )))
}

fn how_many(ways: usize) -> String {
    match ways {
        0 => "Nothing else fits here".to_owned(),
        1 => "Only one other way fits here".to_owned(),
        more => format!("Only {more} other ways fit here"),
    }
}

fn exercises(count: usize) -> String {
    if count == 1 {
        "1 exercise".to_owned()
    } else {
        format!("{count} exercises")
    }
}

/// Open exercises of which no way fits, each with the rules that stand in the way by themselves.
fn broken<'i>(
    instance: &'i Instance,
    told: &BTreeSet<&str>,
    tried: &[Tried],
) -> BTreeMap<&'i str, BTreeSet<&'static str>> {
    let exercise = |one: &Tried| instance.candidates[one.candidate].exercise.as_str();
    let tried: Vec<&Tried> = tried
        .iter()
        .filter(|one| !told.contains(exercise(one)))
        .collect();
    let lists: Vec<Vec<usize>> = tried.iter().map(|one| one.list.clone()).collect();
    let standing = standing_in_the_way(instance, &lists);
    let mut found: BTreeMap<&str, BTreeSet<&'static str>> = BTreeMap::new();
    for (one, rules) in tried.into_iter().zip(standing) {
        let words = found.entry(exercise(one)).or_default();
        if one.too_fast {
            words.insert(in_words(HardRule::Pulse));
        } else {
            words.extend(rules.into_iter().map(in_words));
        }
    }
    for words in found.values_mut().filter(|words| words.is_empty()) {
        words.insert("several rules at once");
    }
    found
}

/// Exercises that are closed to this person in every way.
struct Closed {
    count: usize,
    reasons: BTreeMap<String, usize>,
}

fn closed(ground: &Ground<'_>, class: Class, open: &BTreeSet<&str>) -> Closed {
    let kind = match class {
        Class::Cardiovascular => ExerciseKind::Cardiovascular,
        Class::ActiveRecovery => ExerciseKind::ActiveRecovery,
    };
    let ways = ground.ways(kind).map(|way| way.exercise.id.as_str());
    let somewhere: BTreeSet<&str> = ways.chain(open.iter().copied()).collect();
    let mut by_exercise: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for refused in &ground.eligible.refused {
        let exercise = refused.exercise;
        if exercise.is(kind) && !somewhere.contains(exercise.id.as_str()) {
            let words = refused.why.iter().map(|one| one.words());
            by_exercise.entry(&exercise.id).or_default().extend(words);
        }
    }
    let mut reasons = BTreeMap::new();
    for words in by_exercise.values().flatten() {
        *reasons.entry(words.clone()).or_default() += 1;
    }
    Closed {
        count: by_exercise.len(),
        reasons,
    }
}

/// The most frequent words, of equal ones the first by the alphabet.
fn most_frequent<W: AsRef<str> + Ord>(counts: &BTreeMap<W, usize>) -> Vec<&str> {
    let mut all: Vec<(&str, usize)> = counts
        .iter()
        .map(|(words, count)| (words.as_ref(), *count))
        .collect();
    all.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(b.0)));
    all.truncate(NAMED);
    all.into_iter().map(|(words, _)| words).collect()
}
