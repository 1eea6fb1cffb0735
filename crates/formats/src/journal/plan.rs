//! A signed plan as it is stored, and back.

use super::happening::{BodyError, day, some_day};
use super::stage::StoredStage;
use super::word;
use rehab::assessment::EffortScale;
use rehab::course::{AgreedEffort, Digests, Override, Signature, SignedPlan};
use rehab::programme::Stage;
use rehab::service::EffortBand;
use serde::{Deserialize, Serialize};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StoredPlan {
    stages: Vec<StoredStage>,
    signed_by: String,
    role: String,
    on: String,
    valid_until: Option<String>,
    case_digest: String,
    service_digest: String,
    exercises_digest: String,
    program: String,
    /// Left out by versions that knew none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    overrides: Vec<StoredOverride>,
    /// Left out by versions that did not keep it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    effort: Option<StoredEffort>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredEffort {
    #[serde(with = "word")]
    scale: EffortScale,
    low: f64,
    high: f64,
}

impl From<AgreedEffort> for StoredEffort {
    fn from(agreed: AgreedEffort) -> Self {
        Self {
            scale: agreed.scale,
            low: agreed.band.low,
            high: agreed.band.high,
        }
    }
}

impl From<StoredEffort> for AgreedEffort {
    fn from(stored: StoredEffort) -> Self {
        Self {
            scale: stored.scale,
            band: EffortBand {
                low: stored.low,
                high: stored.high,
            },
        }
    }
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StoredOverride {
    what: String,
    reason: String,
    second_name: String,
}

impl From<&SignedPlan> for StoredPlan {
    fn from(plan: &SignedPlan) -> Self {
        Self {
            stages: plan.stages.iter().map(StoredStage::from).collect(),
            signed_by: plan.by.name.clone(),
            role: plan.by.role.clone(),
            on: plan.on.to_string(),
            valid_until: plan.valid_until.map(|date| date.to_string()),
            case_digest: plan.digests.case.clone(),
            service_digest: plan.digests.service.clone(),
            exercises_digest: plan.digests.exercises.clone(),
            program: plan.digests.program.clone(),
            overrides: plan.overrides.iter().map(StoredOverride::from).collect(),
            effort: plan.effort.map(StoredEffort::from),
        }
    }
}

impl From<&Override> for StoredOverride {
    fn from(one: &Override) -> Self {
        Self {
            what: one.what.clone(),
            reason: one.reason.clone(),
            second_name: one.second_name.clone(),
        }
    }
}

impl From<StoredOverride> for Override {
    fn from(one: StoredOverride) -> Self {
        Self {
            what: one.what,
            reason: one.reason,
            second_name: one.second_name,
        }
    }
}

impl StoredPlan {
    /// The plan that was stored.
    pub(super) fn plan(self) -> Result<SignedPlan, BodyError> {
        Ok(SignedPlan {
            stages: self.stages.into_iter().map(Stage::from).collect(),
            by: Signature {
                name: self.signed_by,
                role: self.role,
            },
            on: day(&self.on)?,
            valid_until: some_day(self.valid_until)?,
            digests: Digests {
                case: self.case_digest,
                service: self.service_digest,
                exercises: self.exercises_digest,
                program: self.program,
            },
            overrides: self.overrides.into_iter().map(Override::from).collect(),
            effort: self.effort.map(AgreedEffort::from),
        })
    }
}
