//! What a practitioner chose for the programme, page by page, and the draft that follows from it.

use super::Course;
use crate::assessed::Assessed;
use crate::evidence::Finding;
use crate::programme::{Ban, Choices, Exercises, Pin, Plan, Stage, plan_from};
use crate::service::Service;

impl Course {
    /// The choices for one rung: bans hold on every rung, pins name stations and hold only on theirs.
    pub fn choices_for(&self, stage: u16) -> Choices {
        let mut bans: Vec<Ban> = self
            .chosen
            .values()
            .flat_map(|choices| choices.bans.iter().cloned())
            .collect();
        bans.sort();
        bans.dedup();
        let is_banned = |pin: &Pin| bans.iter().any(|ban| ban.exercise == pin.exercise);
        let own = self.chosen.get(&stage).map_or(&[][..], |own| &own.pins);
        let pins = own.iter().filter(|pin| !is_banned(pin)).cloned().collect();
        Choices {
            pins,
            bans,
            stage,
            given: self.doses.clone(),
        }
    }

    /// What was chosen for this very rung, without the bans of others: what a further choice there adds to.
    pub fn chosen_for(&self, stage: u16) -> Choices {
        self.chosen.get(&stage).cloned().unwrap_or(Choices {
            stage,
            ..Choices::none()
        })
    }

    /// The draft of a rung and the next, each with what was chosen for it.
    pub fn draft(
        &self,
        service: &Service,
        exercises: &Exercises,
        assessed: &Assessed,
        stage: u16,
    ) -> (Plan, Vec<Finding>) {
        let planned = |choices: &Choices| {
            plan_from(&self.case, service, exercises, assessed.clone(), choices)
        };
        let (mut plan, findings) = planned(&self.choices_for(stage));
        for later in plan.stages.iter_mut().filter(|one| one.number > stage) {
            let choices = self.choices_for(later.number);
            if choices.pins.is_empty() {
                continue;
            }
            let (own, _) = planned(&choices);
            let own = own
                .stages
                .into_iter()
                .find(|one| one.number == later.number);
            if let Some(own) = own {
                *later = own;
            }
        }
        (plan, findings)
    }

    /// The signed rung the person is on.
    pub fn stage(&self) -> Option<&Stage> {
        self.signed_stage(self.current_stage?)
    }

    /// The rungs a review looks at: the signed ones, and the next one of the ladder where the person stands on the last
    /// that is signed, with what was chosen for it. A signature that ends is not the end of the ladder.
    pub fn stages_in_view(
        &self,
        service: &Service,
        exercises: &Exercises,
        assessed: &Assessed,
    ) -> Vec<Stage> {
        let mut stages: Vec<Stage> = self.signed_stages().cloned().collect();
        let Some(here) = self.current_stage else {
            return stages;
        };
        // What the page at home asks for counts, not one that was signed since and not given.
        if let Some(home) = &self.at_home {
            for stage in stages.iter_mut().filter(|one| one.number == home.number) {
                stage.clone_from(home);
            }
        }
        if !stages.iter().any(|stage| stage.number == here + 1) {
            let (plan, _) = self.draft(service, exercises, assessed, here);
            stages.extend(
                plan.stages
                    .into_iter()
                    .filter(|stage| stage.number == here + 1),
            );
        }
        stages
    }
}
