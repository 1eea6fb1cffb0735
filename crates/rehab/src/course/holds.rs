//! Whether a page that was signed on an earlier day still holds on this one.

use super::{AgreedEffort, Course, SignedPlan};
use crate::assessed::{Assessed, CeilingKind};
use crate::assessment::Case;
use crate::known::Known;
use crate::programme::eligible::past_limits;
use crate::programme::{Exercises, Phase, Stage, VariantRef};
use crate::service::Service;
use jiff::civil::Date;

/// Limits are shown to a tenth of a MET: what rounds to the limit does not pass it. Source: `service-ours`.
const SLACK_METS: f64 = 0.05;

/// Why a signed page waits for a new signature.
#[derive(Clone, Debug, PartialEq)]
pub enum Outdated {
    /// A heart event, a procedure or a shock came after the signature.
    Event(Date),
    /// A way that a limit or restriction refuses now, and why.
    Way(VariantRef, String),
    /// The round takes more on average than is agreed now: its mean and the most, in METs.
    Round(f64, f64),
    /// The effort agreed with it is above today's, or on another scale.
    Effort,
    /// The pulse expected passes the hard ceiling of now: both in bpm.
    Pulse(f64, f64),
}

/// Everything for which a signed page waits for a new signature; empty while it holds.
pub fn outdated(
    plan: &SignedPlan,
    stage: &Stage,
    case: &Case,
    service: &Service,
    exercises: &Exercises,
    assessed: &Assessed,
) -> Vec<Outdated> {
    let newest = Known::new(case, service, assessed.on).newest_event();
    let mut found: Vec<Outdated> = newest
        .filter(|event| *event > plan.on)
        .map(Outdated::Event)
        .into_iter()
        .collect();
    let ways = past_limits(case, service, exercises, assessed, stage);
    found.extend(
        ways.into_iter()
            .map(|(way, why)| Outdated::Way(way, why.words())),
    );
    let limits = &assessed.limits;
    let above = |agreed: &AgreedEffort| {
        agreed.scale != limits.effort_scale || agreed.band.high > limits.effort.high
    };
    if plan.effort.as_ref().is_some_and(above) {
        found.push(Outdated::Effort);
    }
    let most = limits.mets.high.to_mets();
    if let Some(mean) = mean_of_round(stage).filter(|mean| *mean > most + SLACK_METS) {
        found.push(Outdated::Round(mean, most));
    }
    let hard = assessed
        .limits
        .ceiling
        .filter(|ceiling| ceiling.kind == CeilingKind::Hard);
    if let (Some(ceiling), Some(peak)) = (hard, stage.predicted.peak_hr) {
        let ceiling = ceiling.rate.to_bpm();
        if peak > ceiling {
            found.push(Outdated::Pulse(peak, ceiling));
        }
    }
    found
}

impl Course {
    /// Puts the page somebody is on in the place of its new draft, as it was signed, while it holds: signing the next
    /// page does not change the one at home.
    pub fn keep_present(
        &self,
        stages: &mut [Stage],
        service: &Service,
        exercises: &Exercises,
        assessed: &Assessed,
    ) {
        let (Some(plan), Some(present)) = (&self.signed, self.stage()) else {
            return;
        };
        if !outdated(plan, present, &self.case, service, exercises, assessed).is_empty() {
            return;
        }
        for stage in stages {
            if stage.number == present.number {
                *stage = present.clone();
            }
        }
    }
}

/// Mean over time of the conditioning part, in METs; `None` where there is none.
fn mean_of_round(stage: &Stage) -> Option<f64> {
    let round = || {
        let all = stage.segments.iter();
        all.filter(|one| one.phase == Phase::Conditioning)
    };
    let time: f64 = round().map(|one| f64::from(one.duration_ms)).sum();
    let work: f64 = round()
        .map(|one| one.mets * f64::from(one.duration_ms))
        .sum();
    (time > 0.0).then(|| work / time)
}
