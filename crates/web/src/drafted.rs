//! The programme in draft: what the record, the settings, the exercises and the choices come to today.

use crate::casefile::CaseFile;
use crate::guard::Signed;
use crate::layout::because;
use crate::phrases::{counted, sentence};
use maud::{Markup, html};
use rehab::course::{Second, SignRefused, Signature, SignedPlan, Signing, sign};
use rehab::evidence::Finding;
use rehab::programme::{Plan, Stage};

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
                div.reason {
                    @for (at, reason) in stage.because.iter().enumerate() {
                        (because(&format!("{id}-{at}"), &sentence(&reason.text), reason))
                    }
                }
            }
        }
    }
}

/// Makes the draft of a rung and the one after it, each with what was chosen for it.
pub(crate) fn draft(signed: &Signed, file: &CaseFile, stage: u16) -> Drafted {
    let exercises = signed.app.exercises();
    let (plan, findings) = file
        .course
        .draft(&file.service, exercises, &file.assessed, stage);
    Drafted { plan, findings }
}

/// What would be signed: the draft, with the page at home as it is while that still holds.
pub(crate) fn to_sign(signed: &Signed, file: &CaseFile) -> Drafted {
    let mut drafted = draft(signed, file, present(file));
    keep_present(signed, file, &mut drafted.plan.stages);
    drafted
}

fn keep_present(signed: &Signed, file: &CaseFile, stages: &mut [Stage]) {
    let exercises = signed.app.exercises();
    file.course
        .keep_present(stages, &file.service, exercises, &file.assessed);
}

/// The rungs as the program makes them by itself, with nobody's choices.
fn unchosen(signed: &Signed, file: &CaseFile, stage: u16) -> Vec<Stage> {
    let mut course = file.course.clone();
    course.chosen.clear();
    let exercises = signed.app.exercises();
    let (mut plan, _) = course.draft(&file.service, exercises, &file.assessed, stage);
    // A page that was signed before and stays as it is goes no further by being signed again.
    keep_present(signed, file, &mut plan.stages);
    plan.stages
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

/// What the plan would be under a name and a second one, or what it waits for.
pub(crate) fn signed_plan(
    signed: &Signed,
    file: &CaseFile,
    stages: &[Stage],
    by: Signature,
    second: Option<Second>,
) -> Result<SignedPlan, SignRefused> {
    let review = file.review();
    let is_given = file.course.current_stage.is_some();
    sign(Signing {
        case: &file.course.case,
        assessed: &file.assessed,
        stages,
        unchosen: &unchosen(signed, file, present(file)),
        proposal: is_given.then_some(&review.proposal),
        by,
        digests: formats::digests(&file.course.case, &file.service, &[]),
        adopted_or_invented: signed.app.is_demonstration() || file.service.adopted.is_some(),
        second,
    })
}

/// Where a signature goes further than the program would: what, why and with whom.
pub(crate) fn seconded(plan: &SignedPlan) -> Markup {
    html! {
        @for one in &plan.overrides {
            p { (sentence(&one.what)) ". Why: " (one.reason.trim_end_matches('.')) ". Second name: " (one.second_name) "." }
        }
    }
}
