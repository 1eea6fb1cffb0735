//! Sign-off: the whole plan with the digests of all it was made from, under a name.

use super::further::{Override, Second, further};
use crate::assessed::{Assessed, Decision, Limits};
use crate::assessment::{Case, EffortScale};
use crate::programme::Stage;
use crate::review::Proposal;
use crate::service::EffortBand;
use jiff::civil::Date;

/// Rungs that one sign-off may cover: the present one and the next two.
const COVERED: usize = 3;

/// Who signed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signature {
    /// Name.
    pub name: String,
    /// Role.
    pub role: String,
}

/// Digests of everything a plan was made from, so that it can be made again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Digests {
    /// Of the case.
    pub case: String,
    /// Of the service's settings.
    pub service: String,
    /// Of the exercise data.
    pub exercises: String,
    /// Version of the program.
    pub program: String,
}

/// A signed plan, whole.
#[derive(Clone, Debug, PartialEq)]
pub struct SignedPlan {
    /// The rungs it covers, lowest first.
    pub stages: Vec<Stage>,
    /// Who signed.
    pub by: Signature,
    /// When.
    pub on: Date,
    /// Last day the examination behind it counts.
    pub valid_until: Option<Date>,
    /// What it was made from.
    pub digests: Digests,
    /// Where it goes further than the program would, each with its reason and second name.
    pub overrides: Vec<Override>,
    /// The effort that was agreed with it; `None` where it was signed before that was kept.
    pub effort: Option<AgreedEffort>,
}

/// An effort as it was agreed with a signature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AgreedEffort {
    /// The scale.
    pub scale: EffortScale,
    /// From where to where on it.
    pub band: EffortBand,
}

impl SignedPlan {
    /// The limits of a day with the effort that was signed: what is printed is what was agreed.
    pub fn limits(&self, today: &Limits) -> Limits {
        let mut limits = today.clone();
        if let Some(agreed) = self.effort {
            limits.effort_scale = agreed.scale;
            limits.effort = agreed.band;
        }
        limits
    }
}

/// What is to be signed, and what the program itself would have.
#[derive(Clone, Debug)]
pub struct Signing<'a> {
    /// The case.
    pub case: &'a Case,
    /// Its assessment of the day.
    pub assessed: &'a Assessed,
    /// The rungs to be signed, lowest first.
    pub stages: &'a [Stage],
    /// The rungs as the program makes them without anybody's choices.
    pub unchosen: &'a [Stage],
    /// What the review of today proposes, once a page was given.
    pub proposal: Option<&'a Proposal>,
    /// Who signs.
    pub by: Signature,
    /// What the rungs were made from.
    pub digests: Digests,
    /// Whether the service's lead has adopted the settings, or the person is invented.
    pub adopted_or_invented: bool,
    /// Reason and second name, where they were given.
    pub second: Option<Second>,
}

/// Why a plan was not signed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SignRefused {
    /// The decision is not to exercise at home today.
    NotToExercise(Decision),
    /// Something to find out blocks it: the questions.
    Blocked(Vec<String>),
    /// There is nothing to sign.
    NoStage,
    /// More rungs than one sign-off covers.
    TooMany,
    /// No name or no role.
    NoName,
    /// The service's lead has not adopted the settings, and the person is not an invented one.
    NotAdopted,
    /// It goes further than the program would, as told, and there is no reason.
    NeedsReason(Vec<String>),
    /// The same, and there is no second name.
    NeedsSecondName(Vec<String>),
    /// The second name is that of the one who signs.
    SameName,
}

impl core::fmt::Display for SignRefused {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::NotToExercise(decision) => {
                write!(f, "the answer today is {decision}, so nothing can be signed; see the reasons under screening")
            }
            Self::Blocked(questions) => {
                write!(f, "signing waits for: {}; find these out first", questions.join("; "))
            }
            Self::NoStage => f.write_str("there is no page to sign; see the reasons under programme"),
            Self::TooMany => write!(f, "one signature covers at most {COVERED} pages; sign fewer"),
            Self::NoName => f.write_str("a signature needs name and role; write \"NAME, role\""),
            Self::NotAdopted => f.write_str(
                "the service's settings are not adopted yet, so only invented people can be signed for; \
                 its lead adopts them under Service",
            ),
            Self::NeedsReason(what) => {
                write!(f, "this goes further than the program would: {}; write the reason", what.join("; "))
            }
            Self::NeedsSecondName(what) => {
                write!(
                    f,
                    "this goes further than the program would: {}; a second person of the team must give their name",
                    what.join("; ")
                )
            }
            Self::SameName => f.write_str(super::further::SAME_NAME),
        }
    }
}

impl core::error::Error for SignRefused {}

/// Signs rungs of a plan: towards caution freely, towards risk only with a reason and a second name.
///
/// # Errors
/// [`SignRefused`] with what it waits for.
pub fn sign(signing: Signing<'_>) -> Result<SignedPlan, SignRefused> {
    check(&signing)?;
    let overrides = further(&signing)?;
    Ok(SignedPlan {
        stages: signing.stages.to_vec(),
        on: signing.assessed.on,
        valid_until: signing.assessed.screening.valid_until,
        by: signing.by,
        digests: signing.digests,
        overrides,
        effort: Some(AgreedEffort {
            scale: signing.assessed.limits.effort_scale,
            band: signing.assessed.limits.effort,
        }),
    })
}

/// What no reason and no second name can replace.
fn check(signing: &Signing<'_>) -> Result<(), SignRefused> {
    let (by, assessed) = (&signing.by, signing.assessed);
    if by.name.trim().is_empty() || by.role.trim().is_empty() {
        return Err(SignRefused::NoName);
    }
    if !signing.adopted_or_invented {
        return Err(SignRefused::NotAdopted);
    }
    if assessed.screening.decision != Decision::Exercise {
        return Err(SignRefused::NotToExercise(assessed.screening.decision));
    }
    if assessed.signing_blocked {
        return Err(SignRefused::Blocked(blocking_questions(assessed)));
    }
    match signing.stages.len() {
        0 => Err(SignRefused::NoStage),
        more if more > COVERED => Err(SignRefused::TooMany),
        _ => Ok(()),
    }
}

fn blocking_questions(assessed: &Assessed) -> Vec<String> {
    let all = assessed
        .to_find_out
        .iter()
        .chain(&assessed.findings)
        .chain(&assessed.screening.findings);
    let mut questions: Vec<String> = all
        .filter(|finding| finding.weight == crate::evidence::Weight::BlocksSigning)
        .map(|finding| finding.text.clone())
        .collect();
    questions.dedup();
    questions
}
