//! How far a way of exercising meets this person's needs and likes, as a small whole number.

use super::eligible::Way;
use super::{Exercise, ExerciseKind, Posture};
use crate::assessed::Limits;
use crate::assessment::{Case, WalkingAid};
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};

/// Every way begins with this, so that a dislike never makes it worth less than nothing. Source: `programme-ours`.
const BEGIN: i64 = 4;
/// An active-recovery station that strengthens. Source: `programme-ours`.
const STRENGTHENS: i64 = 2;
/// A station that trains balance, where balance is a need; else half. Source: `programme-ours`.
const BALANCE: i64 = 2;
/// Liked or disliked. Source: `programme-ours`.
const LIKED: i64 = 3;

/// What there is to say for a way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Merit {
    pub(crate) strengthens: bool,
    pub(crate) balance: bool,
    pub(crate) balance_needed: bool,
    pub(crate) liked: bool,
    pub(crate) disliked: bool,
}

impl Merit {
    pub(crate) fn of(case: &Case, limits: &Limits, way: &Way<'_>, kind: ExerciseKind) -> Self {
        let exercise = way.exercise;
        let brisk = kind == ExerciseKind::Cardiovascular;
        Self {
            strengthens: !brisk && exercise.strengthens,
            // Sitting trains no balance, whatever the exercise does when it is done standing.
            balance: !brisk && exercise.trains_balance && way.variant.posture != Posture::Seated,
            balance_needed: balance_is_needed(case, limits),
            liked: named(&case.wishes.likes, exercise),
            disliked: named(&case.wishes.dislikes, exercise),
        }
    }

    pub(crate) fn benefit(self) -> u32 {
        let flag = |on: bool, worth: i64| if on { worth } else { 0 };
        let balance = if self.balance_needed {
            BALANCE
        } else {
            BALANCE / 2
        };
        let sum = BEGIN
            + flag(self.strengthens, STRENGTHENS)
            + flag(self.balance, balance)
            + flag(self.liked, LIKED)
            - flag(self.disliked, LIKED);
        u32::try_from(sum.max(0)).expect("a small sum that is not negative")
    }

    /// In words, the strongest first; empty where there is nothing special.
    pub(crate) fn words(self) -> Vec<&'static str> {
        let all = [
            (self.liked, "it is liked"),
            (
                self.balance && self.balance_needed,
                "it trains balance, which is needed",
            ),
            (self.balance && !self.balance_needed, "it trains balance"),
            (self.strengthens, "it strengthens"),
            (
                self.disliked,
                "it is disliked, but nothing else fits as well",
            ),
        ];
        all.into_iter()
            .filter(|(on, _)| *on)
            .map(|(_, words)| words)
            .collect()
    }
}

/// Falls, a walking aid or a limit on balance make balance a need.
fn balance_is_needed(case: &Case, limits: &Limits) -> bool {
    let aid = case.function.aid.is_some_and(|aid| aid != WalkingAid::None);
    let fell = case.function.falls_12_months.is_some_and(|falls| falls > 0);
    aid || fell || limits.balance_max < 3
}

/// Whether a list of wishes names an exercise: by its id, by what it is alike, or by a family.
fn named(wishes: &[String], exercise: &Exercise) -> bool {
    wishes.iter().any(|wish| {
        *wish == exercise.id || *wish == exercise.alike || exercise.families.contains(wish)
    })
}

const NEEDS: Rule = Rule {
    id: RuleId("programme/needs-and-likes"),
    name: "How far a station meets needs and likes",
    statement: "4, and 2 where an easy station strengthens, 2 where it trains balance, which nothing done sitting does, and that is needed (else 1), 3 where it is liked, less 3 where it is disliked. The composer makes the sum as large as the hard rules allow.",
    sources: &[SourceId("programme-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::flag("strengthens"),
        Input::flag("trains_balance"),
        Input::flag("balance_needed"),
        Input::flag("liked"),
        Input::flag("disliked"),
    ],
    evaluate: |values| {
        let merit = Merit {
            strengthens: values.flag("strengthens")?,
            balance: values.flag("trains_balance")?,
            balance_needed: values.flag("balance_needed")?,
            liked: values.flag("liked")?,
            disliked: values.flag("disliked")?,
        };
        let words = match merit.words() {
            none if none.is_empty() => "nothing special speaks for it or against it".to_owned(),
            words => words.join(", "),
        };
        Ok(Answer::new(
            Value::Whole(i64::from(merit.benefit()), ""),
            words,
        ))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[NEEDS];
