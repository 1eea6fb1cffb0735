//! The programme in draft: what the record, the settings, the exercises and the choices come to today.

use crate::casefile::CaseFile;
use crate::guard::Signed;
use crate::layout::because;
use crate::phrases::{counted, sentence};
use maud::{Markup, html};
use rehab::course::{Happening, SignRefused, Signature, SignedPlan, sign};
use rehab::evidence::Finding;
use rehab::programme::{Choices, Pin, Plan, Stage, plan_from};

/// A draft of one rung and the next.
pub(crate) struct Drafted {
    /// The programme.
    pub(crate) plan: Plan,
    /// What was noticed while it was made.
    pub(crate) findings: Vec<Finding>,
}

/// The rung somebody is on, else the first.
pub(crate) fn present(file: &CaseFile) -> u16 {
    file.course.current_stage.unwrap_or(1)
}

/// Every reason of a page, closed behind one word.
pub(crate) fn reasons(stage: &Stage, id: &str) -> Markup {
    let count = counted(stage.because.len(), "reason", "reasons");
    html! {
        @if !stage.because.is_empty() {
            details.bc.many id={ "because-" (id) } {
                summary { "Because: " (count) }
                @for (at, reason) in stage.because.iter().enumerate() {
                    (because(&format!("{id}-{at}"), &sentence(&reason.text), reason))
                }
            }
        }
    }
}

/// What was chosen for a rung: the bans that hold now, and the pins that were chosen last for this very rung. A course
/// keeps only the newest choice, so the pins of another rung are looked up in what was written.
pub(crate) fn choices_for(file: &CaseFile, stage: u16) -> Choices {
    let mut choices = file.course.choices_for(stage);
    let newest = file.happened.iter().rev().find_map(|(_, one)| match one {
        Happening::Chosen(chosen) if chosen.stage == stage => Some(chosen),
        _ => None,
    });
    if let Some(newest) = newest {
        let banned = |pin: &Pin| choices.bans.iter().any(|ban| ban.exercise == pin.exercise);
        choices.pins = newest
            .pins
            .iter()
            .filter(|pin| !banned(pin))
            .cloned()
            .collect();
    }
    choices
}

/// Makes the draft of a rung and the one after it, each with what was chosen for it.
pub(crate) fn draft(signed: &Signed, file: &CaseFile, stage: u16) -> Drafted {
    let planned = |stage: u16| {
        plan_from(
            &file.course.case,
            &file.service,
            signed.app.exercises(),
            file.assessed.clone(),
            &choices_for(file, stage),
        )
    };
    let (mut plan, findings) = planned(stage);
    for later in plan.stages.iter_mut().filter(|one| one.number > stage) {
        if choices_for(file, later.number).pins.is_empty() {
            continue;
        }
        let (own, _) = planned(later.number);
        if let Some(chosen) = own
            .stages
            .into_iter()
            .find(|one| one.number == later.number)
        {
            *later = chosen;
        }
    }
    Drafted { plan, findings }
}

/// The signature of somebody signed in: the name, and the role behind the comma.
pub(crate) fn signature(signed: &Signed, role: &str) -> Signature {
    let (name, own) = match signed.user.full_name.split_once(',') {
        Some((name, role)) => (name.trim(), role.trim()),
        None => (signed.user.full_name.trim(), role.trim()),
    };
    Signature {
        name: name.to_owned(),
        role: own.to_owned(),
    }
}

/// What the plan would be under a name, or what it waits for.
pub(crate) fn signed_plan(
    signed: &Signed,
    file: &CaseFile,
    stages: &[Stage],
    by: Signature,
) -> Result<SignedPlan, SignRefused> {
    let allowed = signed.app.is_demonstration() || file.service.adopted.is_some();
    let digests = formats::digests(&file.course.case, &file.service, &[]);
    sign(&file.assessed, stages, by, digests, allowed)
}
