//! What must be adapted for this person: operations that heal, joints that hurt, conditions that change a session.

mod by_body;
mod conditions;
mod operations;
mod pain;
mod table;

pub use pain::JOINT_DURING;
pub(crate) use pain::must_ease;

use crate::assessed::{Adaptation, RiskClass};
use crate::assessment::Joint;
use crate::evidence::{Finding, Rule};
use crate::known::Known;
use crate::limits::{Balance, Posture};
use crate::programme::RestrictionReason;

/// Every rule of this module.
pub(crate) fn rules() -> impl Iterator<Item = &'static Rule> {
    operations::RULES
        .iter()
        .chain(pain::RULES)
        .chain(table::TABLE.iter().map(|one| &one.rule))
        .chain(conditions::RULES)
        .chain(by_body::RULES)
}

/// Adaptations with what else was noticed and what is still to find out.
#[derive(Default)]
pub(crate) struct Adapted {
    pub(crate) adaptations: Vec<Adaptation>,
    pub(crate) findings: Vec<Finding>,
    pub(crate) questions: Vec<Finding>,
}

impl Adapted {
    /// Adds a restriction that holds as long as its reason does.
    fn restrict(&mut self, reason: RestrictionReason, joint: Option<Joint>, finding: Finding) {
        self.findings.push(finding.clone());
        self.adaptations.push(Adaptation {
            reason,
            weeks_since: None,
            until: None,
            joint,
            finding,
        });
    }
}

/// Adaptations of the record on its day.
pub(crate) fn adapt(
    known: &Known,
    class: RiskClass,
    balance: &Balance,
    posture: &Posture,
) -> Adapted {
    let mut adapted = Adapted::default();
    operations::apply(known, &mut adapted);
    pain::apply(known, &mut adapted);
    table::apply(known, &mut adapted);
    conditions::apply(known, class, balance, posture, &mut adapted);
    adapted
}
