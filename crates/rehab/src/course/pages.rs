//! The signed pages of a person.

use super::{Course, Override, SignedPlan};
use crate::programme::Stage;

impl Course {
    /// Every signed rung, lowest first: those of the newest signature, and the lower ones signed earlier.
    pub fn signed_stages(&self) -> impl Iterator<Item = &Stage> {
        let plans = self.earlier.iter().chain(&self.signed);
        plans.flat_map(|plan| &plan.stages)
    }

    /// The signature under which the rung of a number stands.
    pub fn signature_of(&self, number: u16) -> Option<&SignedPlan> {
        let mut plans = self.earlier.iter().chain(&self.signed);
        plans.find(|plan| plan.stages.iter().any(|stage| stage.number == number))
    }

    /// The signed rung of a number.
    pub fn signed_stage(&self, number: u16) -> Option<&Stage> {
        self.signed_stages().find(|stage| stage.number == number)
    }

    /// A page that is signed again as it was keeps the reason and second name of before.
    fn seconded_before(&self, plan: &SignedPlan) -> Vec<Override> {
        let mut carried: Vec<Override> = Vec::new();
        for stage in &plan.stages {
            let before = self.signature_of(stage.number);
            let Some(before) = before.filter(|before| before.stages.contains(stage)) else {
                continue;
            };
            let is_new =
                |one: &&Override| !plan.overrides.iter().any(|other| other.what == one.what);
            let of_page = before
                .overrides
                .iter()
                .filter(|one| one.is_of(stage.number));
            carried.extend(of_page.filter(is_new).cloned());
        }
        carried
    }

    /// A new signature replaces the pages from its first on; the lower ones of earlier signatures stay signed.
    pub(super) fn sign(&mut self, mut plan: SignedPlan) {
        let carried = self.seconded_before(&plan);
        plan.overrides.extend(carried);
        let first = plan.stages.iter().map(|stage| stage.number).min();
        for stage in &plan.stages {
            self.chosen_anew.remove(&stage.number);
        }
        self.earlier.extend(self.signed.replace(plan));
        for earlier in &mut self.earlier {
            earlier
                .stages
                .retain(|stage| first.is_none_or(|first| stage.number < first));
        }
        self.earlier.retain(|plan| !plan.stages.is_empty());
    }
}
