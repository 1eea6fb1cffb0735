//! What of a page that was made on an earlier day would be refused by the limits of today.

use super::{Ask, Refusal, RefusedBy, sort};
use crate::assessed::Assessed;
use crate::assessment::Case;
use crate::known::Known;
use crate::programme::places::stops;
use crate::programme::{Choices, Exercises, Stage, VariantRef};
use crate::service::Service;

/// Every way of a page that a limit or a restriction refuses now, with the first of its reasons. What is only kept back
/// so that another way comes first is not among them.
pub fn past_limits(
    case: &Case,
    service: &Service,
    exercises: &Exercises,
    assessed: &Assessed,
    stage: &Stage,
) -> Vec<(VariantRef, Refusal)> {
    let (stops, _) = stops(case);
    let choices = Choices::none();
    let sorted = sort(&Ask {
        known: Known::new(case, service, assessed.on),
        assessed,
        exercises,
        choices: &choices,
        stops: &stops,
    });
    let by_limit = |refusal: &&Refusal| {
        matches!(
            refusal.by,
            RefusedBy::NotForThem
                | RefusedBy::Restriction(_)
                | RefusedBy::Balance
                | RefusedBy::Capacity
                | RefusedBy::Mets
        )
    };
    let refusal = |doing: &VariantRef| {
        let refused = sorted
            .refused
            .iter()
            .find(|one| one.exercise.id == doing.exercise && one.variant.id == doing.variant)?;
        refused.why.iter().find(by_limit).copied()
    };
    let mut list: Vec<(VariantRef, Refusal)> = Vec::new();
    for doing in stage.segments.iter().filter_map(|one| one.doing.as_ref()) {
        if !list.iter().any(|(known, _)| known == doing) {
            list.extend(refusal(doing).map(|why| (doing.clone(), why)));
        }
    }
    list
}
