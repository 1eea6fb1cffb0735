//! Whether a page that was signed on an earlier day still holds on this one.

use super::{AgreedEffort, Course};
use crate::assessed::Assessed;
use crate::known::Known;
use crate::programme::{
    Choices, Exercises, PastLimit, Pin, Stage, is_station, outgrown, past_limits,
};
use crate::service::Service;
use jiff::civil::Date;

/// Why a signed page waits for a new signature.
#[derive(Clone, Debug, PartialEq)]
pub enum Outdated {
    /// A heart event, a procedure or a shock came after the signature.
    Event(Date),
    /// The effort agreed with it is above today's, or on another scale.
    Effort,
    /// It is of an earlier signature and outgrows the page at home: its week and the most it may be, MET-minutes.
    Growth(f64, f64),
    /// It passes what holds today.
    Past(PastLimit),
}

impl Course {
    /// Everything for which a signed page waits for a new signature; empty while it holds, and where it is not signed.
    /// A page is judged by the signature under which it stands itself.
    pub fn outdated(
        &self,
        stage: &Stage,
        service: &Service,
        exercises: &Exercises,
        assessed: &Assessed,
    ) -> Vec<Outdated> {
        self.past(stage, service, exercises, assessed, None)
    }

    fn past(
        &self,
        stage: &Stage,
        service: &Service,
        exercises: &Exercises,
        assessed: &Assessed,
        chosen: Option<&Choices>,
    ) -> Vec<Outdated> {
        let Some(plan) = self.signature_of(stage.number) else {
            return Vec::new();
        };
        let newest = Known::new(&self.case, service, assessed.on).newest_event();
        let mut found: Vec<Outdated> = newest
            .filter(|event| *event > plan.on)
            .map(Outdated::Event)
            .into_iter()
            .collect();
        let limits = &assessed.limits;
        let above = |agreed: &AgreedEffort| {
            agreed.scale != limits.effort_scale || agreed.band.high > limits.effort.high
        };
        if plan.effort.as_ref().is_some_and(above) {
            found.push(Outdated::Effort);
        }
        // A page of the newest signature was held against the page at home when it was made.
        if self.signed.as_ref() != Some(plan) {
            let cap_pct = service.growth_cap_pct;
            let grown = outgrown(&self.doses, stage, cap_pct, assessed.on);
            found.extend(grown.map(|(week, most)| Outdated::Growth(week, most)));
        }
        let past = past_limits(&self.case, service, exercises, assessed, stage, chosen);
        found.extend(past.into_iter().map(Outdated::Past));
        found
    }

    /// Puts the page somebody is on in the place of its new draft, as it was signed: signing the next page does not change
    /// the one at home. Only while it holds, and while nothing was chosen for it, eased or banned since.
    pub fn keep_present(
        &self,
        stages: &mut [Stage],
        service: &Service,
        exercises: &Exercises,
        assessed: &Assessed,
    ) {
        let Some(present) = self.stage() else {
            return;
        };
        let choices = self.choices_for(present.number);
        if self.chosen_anew.contains(&present.number)
            || !choices.pins.iter().all(|pin| stands(present, pin))
            || !self
                .past(present, service, exercises, assessed, Some(&choices))
                .is_empty()
        {
            return;
        }
        for stage in stages {
            if stage.number == present.number {
                *stage = present.clone();
            }
        }
    }
}

/// Whether a page has what a pin asks for.
fn stands(stage: &Stage, pin: &Pin) -> bool {
    let first_round = stage
        .segments
        .iter()
        .filter(|one| is_station(one) && one.round <= 1);
    let mut doing = first_round
        .zip(1_u8..)
        .filter_map(|(one, at)| Some((at, one.doing.as_ref()?)));
    doing.any(|(at, doing)| {
        pin.station.is_none_or(|station| station == at)
            && pin.exercise == doing.exercise
            && pin
                .variant
                .as_ref()
                .is_none_or(|variant| *variant == doing.variant)
    })
}
