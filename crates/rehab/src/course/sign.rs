//! Sign-off: the whole plan with the digests of all it was made from, under a name.

use crate::assessed::{Assessed, Decision};
use crate::programme::Stage;
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

/// A reason and a second name, where a signature goes further than the program would.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Override {
    /// Why.
    pub reason: String,
    /// The second person.
    pub second_name: String,
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
        }
    }
}

impl core::error::Error for SignRefused {}

/// Signs rungs of a plan.
///
/// # Errors
/// [`SignRefused`] with what it waits for.
pub fn sign(
    assessed: &Assessed,
    stages: &[Stage],
    by: Signature,
    digests: Digests,
    adopted_or_invented: bool,
) -> Result<SignedPlan, SignRefused> {
    if by.name.trim().is_empty() || by.role.trim().is_empty() {
        return Err(SignRefused::NoName);
    }
    if !adopted_or_invented {
        return Err(SignRefused::NotAdopted);
    }
    if assessed.screening.decision != Decision::Exercise {
        return Err(SignRefused::NotToExercise(assessed.screening.decision));
    }
    if assessed.signing_blocked {
        return Err(SignRefused::Blocked(blocking_questions(assessed)));
    }
    match stages.len() {
        0 => return Err(SignRefused::NoStage),
        more if more > COVERED => return Err(SignRefused::TooMany),
        _ => {}
    }
    Ok(SignedPlan {
        stages: stages.to_vec(),
        by,
        on: assessed.on,
        valid_until: assessed.screening.valid_until,
        digests,
    })
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
