//! The proposal: every rule that speaks is heard, and the most careful one decides.

use super::alerts::Alert;
use super::begin_again;
use super::speak;
use super::symptoms::SymptomReading;
use super::{ReviewInput, Silence, decide, recent, rules};
use crate::diary::DiaryEntry;
use crate::evidence::{Because, Value};
use crate::programme::SegmentKind;

closed_words!(
    /// What is proposed, from onwards to most careful.
    Action as "action" {
        Advance = "advance",
        Hold = "hold",
        StepBack = "step-back",
        ReEnter = "re-enter",
        AskFirst = "ask-first",
        StopAndContact = "stop-and-contact",
    }
);

/// What the program proposes; a trained person decides.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The action.
    pub action: Action,
    /// The rung the person is on.
    pub from_stage: u16,
    /// The rung proposed; `None` where nothing is done until somebody has spoken to the person.
    pub to_stage: Option<u16>,
    /// Exercises to ease because a joint was worse.
    pub ease: Vec<String>,
    /// Exercises of the proposed rung that must be watched before they may be done alone.
    pub watch_first: Vec<String>,
    /// Every rule that spoke, the deciding ones first.
    pub because: Vec<Because>,
}

impl Proposal {
    /// Whether it asks for no more than news: nothing came back yet, or not within the agreed days.
    pub(crate) fn only_waits_for_news(&self) -> bool {
        let ask = Value::Text(Action::AskFirst.word().to_owned());
        let mut asking = self.because.iter().filter(|one| one.value == ask);
        self.action == Action::AskFirst && asking.all(|one| one.rule == rules::ASK_SILENCE)
    }
}

pub(super) fn propose(
    input: &ReviewInput<'_>,
    entries: &[&DiaryEntry],
    symptoms: &[SymptomReading],
    silence: &Silence,
    alerts: &[Alert],
) -> Proposal {
    let mut spoken = speak::all(input, entries, symptoms, silence, alerts);
    if spoken.is_empty() {
        spoken.push(speak::ready(input, entries));
    }
    spoken.sort_by_key(|one| core::cmp::Reverse(one.action));
    let action = spoken.first().map_or(Action::Hold, |first| first.action);
    let to_stage = target(input, entries, action);
    Proposal {
        action,
        from_stage: input.current_stage,
        to_stage,
        ease: eased(input, entries),
        watch_first: to_stage.map_or_else(Vec::new, |stage| to_watch(input, stage)),
        because: spoken.into_iter().map(|one| one.because).collect(),
    }
}

/// The rung an action leads to.
fn target(input: &ReviewInput<'_>, entries: &[&DiaryEntry], action: Action) -> Option<u16> {
    let here = input.current_stage;
    match action {
        Action::Advance => Some(here + 1),
        Action::Hold => Some(here),
        Action::StepBack => Some(here.saturating_sub(1).max(1)),
        Action::ReEnter => {
            let gap = begin_again::longest_gap(input, entries).unwrap_or(i32::MAX);
            let back = if gap > rules::LONG_GAP_DAYS { here } else { 1 };
            Some(here.saturating_sub(back).max(1))
        }
        Action::AskFirst | Action::StopAndContact => None,
    }
}

/// Exercises the person eased in the sore entries.
fn eased(input: &ReviewInput<'_>, entries: &[&DiaryEntry]) -> Vec<String> {
    let mut list: Vec<String> = recent(entries, input.on, rules::QUIET_DAYS)
        .into_iter()
        .filter(|entry| decide::is_sore(entry))
        .flat_map(|entry| entry.eased.iter().cloned())
        .collect();
    list.sort();
    list.dedup();
    list
}

fn to_watch(input: &ReviewInput<'_>, number: u16) -> Vec<String> {
    let Some(stage) = input.stages.iter().find(|stage| stage.number == number) else {
        return Vec::new();
    };
    let conditioning = |kind: SegmentKind| {
        matches!(
            kind,
            SegmentKind::Cardiovascular | SegmentKind::ActiveRecovery
        )
    };
    let mut list: Vec<String> = stage
        .segments
        .iter()
        .filter(|segment| segment.to_watch && conditioning(segment.kind))
        .filter_map(|segment| segment.doing.as_ref().map(|doing| doing.exercise.clone()))
        .collect();
    list.sort();
    list.dedup();
    list
}
