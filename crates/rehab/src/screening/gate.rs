//! What screening gathers: what spoke and what is still to find out.

use crate::assessed::Decision;
use crate::evidence::{Finding, Weight};

/// Findings and questions of one day.
#[derive(Clone, Debug, Default)]
pub(crate) struct Gate {
    /// What spoke.
    pub(crate) findings: Vec<Finding>,
    /// What is still to find out.
    pub(crate) questions: Vec<Finding>,
}

impl Gate {
    /// Adds something that was noticed.
    pub(crate) fn say(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// Adds something to find out.
    pub(crate) fn ask(&mut self, question: Finding) {
        self.questions.push(question);
    }

    /// The strictest answer that a finding gives.
    pub(crate) fn decision(&self) -> Decision {
        let says = |weight: Weight| self.findings.iter().any(|one| one.weight == weight);
        if says(Weight::NotAtHome) {
            Decision::NotAtHome
        } else if says(Weight::NotToday) {
            Decision::NotToday
        } else {
            Decision::Exercise
        }
    }
}
