//! What a practitioner decided against what was proposed.

use crate::review::{Action, Proposal};

closed_words!(
    /// How a decision lies to the proposal.
    Towards as "direction of a decision" { AsProposed = "as-proposed", Caution = "caution", Risk = "risk" }
);

/// A decision that was taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// What was proposed.
    pub proposed: Action,
    /// What was decided.
    pub action: Action,
    /// The rung decided on; `None` where none was: the record stays on the rung it has, and nothing is given.
    pub to_stage: Option<u16>,
    /// How it lies to the proposal.
    pub towards: Towards,
    /// Why, where it is not as proposed.
    pub reason: Option<String>,
    /// A second name, needed towards risk.
    pub second_name: Option<String>,
}

/// Why a decision was not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecisionRefused {
    /// Towards risk without a reason.
    NeedsReason,
    /// Towards risk without a second name.
    NeedsSecondName,
    /// More than one rung beyond where the person is.
    TooFar,
    /// A page together with a decision that gives none: to ask first, or to stop.
    NoPage,
}

impl core::fmt::Display for DecisionRefused {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Self::NeedsReason => "this goes further than was proposed; write the reason",
            Self::NeedsSecondName => {
                "this goes further than was proposed; a second person of the team must give their name"
            }
            Self::NoPage => {
                "who is asked first, or stopped, is given no page; decide on a page, or leave it out"
            }
            Self::TooFar => "this is more than one page further; choose the next page, or stay",
        })
    }
}

impl core::error::Error for DecisionRefused {}

impl Taken {
    /// Takes a decision: towards caution freely, towards risk only with a reason and a second name.
    ///
    /// # Errors
    /// [`DecisionRefused`] when it goes towards risk without both, more than one rung further, or stops and gives a page.
    pub fn new(
        proposal: &Proposal,
        action: Action,
        to_stage: Option<u16>,
        reason: Option<String>,
        second_name: Option<String>,
    ) -> Result<Self, DecisionRefused> {
        let written =
            |text: &Option<String>| text.as_ref().is_some_and(|text| !text.trim().is_empty());
        if to_stage.is_some_and(|stage| stage > proposal.from_stage + 1) {
            return Err(DecisionRefused::TooFar);
        }
        if to_stage.is_some() && matches!(action, Action::AskFirst | Action::StopAndContact) {
            return Err(DecisionRefused::NoPage);
        }
        let towards = towards(proposal, action, to_stage);
        if towards == Towards::Risk && !written(&reason) {
            return Err(DecisionRefused::NeedsReason);
        }
        if towards == Towards::Risk && !written(&second_name) {
            return Err(DecisionRefused::NeedsSecondName);
        }
        Ok(Self {
            proposed: proposal.action,
            action,
            to_stage,
            towards,
            reason,
            second_name,
        })
    }
}

/// A higher rung than proposed, or exercise where none was proposed, is towards risk. On the same rung the less
/// careful action is.
fn towards(proposal: &Proposal, action: Action, to_stage: Option<u16>) -> Towards {
    let rung = |stage: Option<u16>| stage.unwrap_or(0);
    let order = rung(to_stage)
        .cmp(&rung(proposal.to_stage))
        .then_with(|| proposal.action.cmp(&action));
    match order {
        core::cmp::Ordering::Less => Towards::Caution,
        core::cmp::Ordering::Equal => Towards::AsProposed,
        core::cmp::Ordering::Greater => Towards::Risk,
    }
}
