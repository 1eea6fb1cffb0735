//! Where a signature goes further than the program would, and the reason and second name that this needs.

use super::sign::{SignRefused, Signing};
use crate::assessed::RiskClass;
use crate::programme::{Stage, page_letter};
use crate::service::HomeConsequence;

/// Why a second name was not taken.
pub const SAME_NAME: &str =
    "the second name must be another person's; ask a colleague, or stay with what is proposed";

/// A reason and a second name as they were given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Second {
    /// Why.
    pub reason: String,
    /// The second person.
    pub name: String,
}

/// One thing in which a signature goes further than the program would, with its reason and a second name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Override {
    /// What goes further.
    pub what: String,
    /// Why.
    pub reason: String,
    /// The second person.
    pub second_name: String,
}

impl Override {
    /// Whether it is about one page, by its number.
    pub(super) fn is_of(&self, stage: u16) -> bool {
        let page = format!("page {}", page_letter(stage));
        let mut words = self.what.match_indices(&page);
        words.any(|(at, _)| !self.what[at + page.len()..].starts_with(char::is_alphanumeric))
    }
}

/// Everything that goes further, each with its reason and second name.
///
/// A high risk that is at home by a recorded agreement has both already: the doctor who agreed, and when.
pub(super) fn further(signing: &Signing<'_>) -> Result<Vec<Override>, SignRefused> {
    let mut overrides: Vec<Override> = agreed(signing).into_iter().collect();
    let what: Vec<String> = against_review(signing)
        .into_iter()
        .chain(
            signing
                .stages
                .iter()
                .filter_map(|stage| harder(signing, stage)),
        )
        .collect();
    if what.is_empty() {
        return Ok(overrides);
    }
    let written = |text: &str| !text.trim().is_empty();
    let second = signing.second.as_ref();
    let Some(second) = second.filter(|second| written(&second.reason)) else {
        return Err(SignRefused::NeedsReason(what));
    };
    if !written(&second.name) {
        return Err(SignRefused::NeedsSecondName(what));
    }
    if is_same_name(&signing.by.name, &second.name) {
        return Err(SignRefused::SameName);
    }
    overrides.extend(what.into_iter().map(|what| Override {
        what,
        reason: second.reason.trim().to_owned(),
        second_name: second.name.trim().to_owned(),
    }));
    Ok(overrides)
}

fn agreed(signing: &Signing<'_>) -> Option<Override> {
    let home = &signing.assessed.eligibility;
    let agreement = signing.case.agreement.as_ref()?;
    let day = home.agreed?;
    (home.home == HomeConsequence::AfterAgreement).then(|| Override {
        what: match signing.assessed.risk.class {
            RiskClass::High => "at home with a high risk",
            RiskClass::Moderate => "at home with a moderate risk",
            RiskClass::Low => "at home by agreement",
        }
        .to_owned(),
        reason: format!("agreed on {day}"),
        second_name: agreement.doctor.clone(),
    })
}

/// The lowest page that is signed lies above the one that the review of today proposes. Where it only waits for news, the
/// page at home stands meanwhile, and signing it anew goes no further.
fn against_review(signing: &Signing<'_>) -> Option<String> {
    let proposal = signing.proposal?;
    let lowest = signing.stages.iter().map(|stage| stage.number).min()?;
    let stands = proposal
        .only_waits_for_news()
        .then_some(proposal.from_stage);
    (lowest > proposal.to_stage.or(stands).unwrap_or(0)).then(|| match proposal.to_stage {
        Some(_) => "the review proposes an earlier page".to_owned(),
        None => {
            "the review proposes no session until somebody has spoken with the person".to_owned()
        }
    })
}

/// What was chosen makes a page harder than the program's own: its hardest part, or the pulse expected.
///
/// Compared as they are shown, METs to a tenth and the pulse in whole beats, so that a second name is asked for what
/// can be seen.
fn harder(signing: &Signing<'_>, stage: &Stage) -> Option<String> {
    let own = signing
        .unchosen
        .iter()
        .find(|one| one.number == stage.number);
    let page = format!("page {}", page_letter(stage.number));
    let Some(own) = own else {
        return Some(format!(
            "{page} is none that the program itself would give now"
        ));
    };
    let (mets, of_own) = (hardest_tenths(stage), hardest_tenths(own));
    if mets > of_own {
        return Some(format!(
            "the hardest turn of {page} is {:.1} METs, the program's own {:.1}",
            mets / 10.0,
            of_own / 10.0
        ));
    }
    let pulse = |stage: &Stage| stage.predicted.peak_hr.map(libm::round);
    match (pulse(stage), pulse(own)) {
        (Some(chosen), Some(own)) if chosen > own => Some(format!(
            "{page} is expected to reach a pulse of {chosen:.0}, the program's own {own:.0}"
        )),
        _ => None,
    }
}

fn hardest_tenths(stage: &Stage) -> f64 {
    let most = stage
        .segments
        .iter()
        .map(|one| one.mets)
        .fold(0.0, f64::max);
    libm::round(most * 10.0)
}

/// Whether a second name says nothing of somebody else: it is the first one, shortened, with initials, or with more after
/// it, such as a profession; or it is hardly a name. Then nobody else has looked.
pub fn is_same_name(name: &str, second: &str) -> bool {
    let parts_of = |text: &str| -> Vec<String> {
        let folded = text.to_lowercase().replace(['.', '(', ')'], " ");
        // What follows a comma is what the person is, not who.
        let who = folded.split(',').next().unwrap_or_default();
        who.split_whitespace().map(str::to_owned).collect()
    };
    let (own, second) = (parts_of(name), parts_of(second));
    let is_it = |part: &String, of: &String| {
        let initial =
            |short: &str, long: &str| short.chars().count() == 1 && long.starts_with(short);
        part == of || initial(part, of) || initial(of, part)
    };
    let all_in = |some: &[String], others: &[String]| {
        some.iter()
            .all(|part| others.iter().any(|of| is_it(part, of)))
    };
    let hardly = second.iter().all(|part| part.chars().count() < 2);
    let written = !second.is_empty();
    written && (hardly || all_in(&second, &own) || !own.is_empty() && all_in(&own, &second))
}

#[cfg(test)]
mod tests {
    use super::is_same_name;

    #[test]
    fn a_second_name_is_somebody_else_or_none() {
        let own = "Josie Marwood, physiotherapist";
        for same in [
            "Josie Marwood",
            "josie marwood",
            "Josie Marwood, physiotherapist",
            "Josie Marwood, nurse",
            "Josie Marwood physiotherapist",
            "J. Marwood",
            "J Marwood (lead)",
            "Marwood",
            "x",
            "J.",
        ] {
            assert!(is_same_name(own, same), "{same}");
            assert!(is_same_name("Josie Marwood", same), "{same}");
        }
        for other in [
            "Josie Carter",
            "Dr A. Nwosu",
            "Ben Marwood",
            "K. Marwood, nurse",
            "Li Wei",
        ] {
            assert!(!is_same_name(own, other), "{other}");
        }
    }
}
