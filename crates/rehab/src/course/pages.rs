//! The signed pages of a person.

use super::{Course, SignedPlan};
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

    /// A new signature replaces the pages from its first on; the lower ones of earlier signatures stay signed.
    pub(super) fn sign(&mut self, plan: SignedPlan) {
        let first = plan.stages.iter().map(|stage| stage.number).min();
        self.earlier.extend(self.signed.replace(plan));
        for earlier in &mut self.earlier {
            earlier
                .stages
                .retain(|stage| first.is_none_or(|first| stage.number < first));
        }
        self.earlier.retain(|plan| !plan.stages.is_empty());
    }
}
