//! Outcome: the first against the last comparable assessment, with the smallest change that matters and its source.
//!
//! Nothing here says what brought a change about, and nothing is claimed of two tests that cannot be compared.

mod measure;

use crate::assessment::{Answered, Case, HistoryItem, Test};
use crate::evidence::{Answer, Finding, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::function_tests::{ChangeWord, Comparison, SmallestChange, comparable, mcid};
use crate::inputs::short;
use crate::known::Known;
use crate::medicine::rate_slowing_changed;
use crate::service::Service;
use jiff::civil::Date;
use measure::Measure;
use std::collections::BTreeSet;

const CHANGE: Rule = Rule {
    id: RuleId("outcome/change"),
    name: "What a change from first to last comes to",
    statement: "The first comparable test since the newest event against the last. With a published smallest change that \
                matters: better, worse, or less than it; where sources for this person disagree, it is said. Without \
                one the numbers stand alone. Not comparable, or not known whether: no word is given (our default).",
    sources: &[SourceId("service-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("change", "in the direction of better", -2000.0, 2000.0),
        Input::numbers("smallest", "the published ones", 0.0, 500.0),
    ],
    evaluate: |values| {
        let change = values.number("change")?;
        let judged: Vec<Verdict> = values
            .numbers("smallest")?
            .into_iter()
            .map(|smallest| {
                if change >= smallest {
                    Verdict::Better
                } else if -change >= smallest {
                    Verdict::Worse
                } else {
                    Verdict::Less
                }
            })
            .collect();
        let verdict = agreed(&judged);
        Ok(Answer::new(
            Value::Text(verdict.word().to_owned()),
            format!("{change} against {} published", judged.len()),
        ))
    },
};

/// The rules of this module.
pub(crate) const RULES: &[Rule] = &[CHANGE];

closed_words!(
    /// What a change comes to.
    Verdict as "word for a change" {
        Better = "better by at least the smallest change that matters",
        Worse = "worse by at least the smallest change that matters",
        Less = "less than the smallest change that matters",
        SourcesDiffer = "between the smallest changes that different sources give",
        NoSmallestChange = "no smallest change that matters was found for it",
        NotComparable = "cannot be compared",
        NotKnown = "not known whether the two can be compared",
        OnlyOnce = "taken only once",
    }
);

/// One measure, first and last.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Kind as written in files.
    pub kind: &'static str,
    /// Name in words.
    pub name: &'static str,
    /// Unit.
    pub unit: &'static str,
    /// Day and value of the first.
    pub first: (Date, f64),
    /// Day and value of the last.
    pub last: (Date, f64),
    /// What it comes to.
    pub verdict: Verdict,
    /// In one or two sentences that claim no more than the data.
    pub text: String,
    /// Smallest changes used, each with its rule.
    pub smallest: Vec<RuleId>,
    /// Where they come from.
    pub sources: Vec<SourceId>,
    /// What spoke against comparing, or is still to find out.
    pub findings: Vec<Finding>,
}

/// Every measure that was taken up to a day, first against last comparable.
pub fn outcome(case: &Case, service: &Service, on: Date) -> Vec<Change> {
    let known = Known::new(case, service, on);
    let kinds: BTreeSet<&'static str> = known
        .tests()
        .into_iter()
        .map(|test| test.result.kind())
        .collect();
    kinds
        .into_iter()
        .filter_map(|kind| of_kind(&known, kind))
        .collect()
}

/// A dated test with its one number.
struct Taken<'a> {
    test: &'a Test,
    date: Date,
    value: f64,
}

fn of_kind(known: &Known, kind: &str) -> Option<Change> {
    let mut measure = None;
    let mut taken: Vec<Taken> = Vec::new();
    for test in known.tests() {
        if test.result.kind() != kind {
            continue;
        }
        if let (Some(date), Some((found, value))) = (test.date, measure::read(&test.result)) {
            measure = Some(found);
            taken.push(Taken { test, date, value });
        }
    }
    // The list is newest first; the outcome reads from the beginning. A test from before the newest event is no first.
    taken.reverse();
    if taken.iter().any(|one| known.since_newest_event(one.test)) {
        taken.retain(|one| known.since_newest_event(one.test));
    }
    let measure = measure?;
    let last = taken.pop()?;
    if taken.is_empty() {
        return Some(only_once(measure, &last));
    }
    let compared: Vec<Comparison> = taken
        .iter()
        .map(|first| compare(known, first, &last))
        .collect();
    let best = compared
        .iter()
        .position(|one| *one == Comparison::Comparable)
        .or_else(|| {
            compared
                .iter()
                .position(|one| matches!(one, Comparison::NotKnown(_)))
        })
        .unwrap_or(0);
    Some(judge(known, measure, &taken[best], &last, &compared[best]))
}

fn compare(known: &Known, first: &Taken, last: &Taken) -> Comparison {
    let changed = rate_slowing_changed(
        &known.case.medicines,
        &known.service.medicine_names,
        first.date,
        last.date,
    );
    comparable(first.test, last.test, changed)
}

/// The smallest changes that are for this person: for the walk by heart failure, else the first of the list.
fn for_this_person(known: &Known, kind: &str) -> Vec<&'static SmallestChange> {
    let all = mcid(kind);
    let failure = known.answer(HistoryItem::HeartFailure);
    let by_failure = all
        .iter()
        .any(|one| one.in_whom.starts_with("heart failure"));
    match failure {
        _ if !by_failure => all.into_iter().take(1).collect(),
        Answered::Present => keep(all, true),
        Answered::Absent => keep(all, false),
        Answered::NotKnown => all,
    }
}

fn keep(all: Vec<&'static SmallestChange>, failure: bool) -> Vec<&'static SmallestChange> {
    all.into_iter()
        .filter(|one| one.in_whom.starts_with("heart failure") == failure)
        .collect()
}

fn agreed(judged: &[Verdict]) -> Verdict {
    match judged.first() {
        None => Verdict::NoSmallestChange,
        Some(first) if judged.iter().all(|one| one == first) => *first,
        Some(_) => Verdict::SourcesDiffer,
    }
}

fn judge(
    known: &Known,
    measure: Measure,
    first: &Taken,
    last: &Taken,
    comparison: &Comparison,
) -> Change {
    let smallest = for_this_person(known, last.test.result.kind());
    let judged: Vec<Verdict> = smallest
        .iter()
        .map(|one| match one.judge(first.value, last.value) {
            ChangeWord::Better => Verdict::Better,
            ChangeWord::Worse => Verdict::Worse,
            ChangeWord::Less => Verdict::Less,
        })
        .collect();
    let verdict = match comparison {
        Comparison::Comparable => agreed(&judged),
        Comparison::NotComparable(_) => Verdict::NotComparable,
        Comparison::NotKnown(_) => Verdict::NotKnown,
    };
    let change = short(last.value - first.value);
    let sign = if change > 0.0 { "+" } else { "" };
    let numbers = format!(
        "{}: {} {unit} on {}, {} {unit} on {} ({sign}{change})",
        measure.name,
        short(first.value),
        first.date,
        short(last.value),
        last.date,
        unit = measure.unit
    );
    let text = match verdict {
        Verdict::Better | Verdict::Worse | Verdict::Less | Verdict::SourcesDiffer => format!(
            "{numbers}: {verdict} ({}). This does not say what brought it about",
            published(&smallest)
        ),
        Verdict::NoSmallestChange => format!("{numbers}: {verdict}"),
        _ => format!("{numbers}: {verdict}, so nothing is concluded"),
    };
    Change {
        kind: last.test.result.kind(),
        name: measure.name,
        unit: measure.unit,
        first: (first.date, first.value),
        last: (last.date, last.value),
        verdict,
        text,
        smallest: smallest.iter().map(|one| one.rule.id).collect(),
        sources: smallest
            .iter()
            .flat_map(|one| one.rule.sources.iter().copied())
            .collect(),
        findings: comparison.findings().to_vec(),
    }
}

fn published(smallest: &[&SmallestChange]) -> String {
    let all: Vec<String> = smallest
        .iter()
        .map(|one| format!("{} {}, {}", one.value, one.unit, one.in_whom))
        .collect();
    all.join("; ")
}

fn only_once(measure: Measure, taken: &Taken) -> Change {
    Change {
        kind: taken.test.result.kind(),
        name: measure.name,
        unit: measure.unit,
        first: (taken.date, taken.value),
        last: (taken.date, taken.value),
        verdict: Verdict::OnlyOnce,
        text: format!(
            "{}: {} {} on {}, taken only once since the newest event",
            measure.name,
            short(taken.value),
            measure.unit,
            taken.date
        ),
        smallest: Vec::new(),
        sources: Vec::new(),
        findings: Vec::new(),
    }
}

#[cfg(test)]
mod tests;
