//! What one assessment comes to: screening, capacity, risk, eligibility and limits in one value.

use crate::assessment::{Answered, EffortScale, Joint};
use crate::evidence::{Because, Finding, RuleId, Weight};
use crate::quantity::{HeartRate, Mets};
use crate::service::{EffortBand, HomeConsequence, ScreeningSet};
use jiff::civil::Date;

closed_words!(
    /// The final answer of screening and eligibility.
    Decision as "decision" { Exercise = "exercise", NotToday = "not-today", NotAtHome = "not-at-home" }
);

/// Screening on one day.
#[derive(Clone, Debug, PartialEq)]
pub struct Screening {
    /// The answer.
    pub decision: Decision,
    /// The set of cut-offs used.
    pub set: ScreeningSet,
    /// What spoke.
    pub findings: Vec<Finding>,
    /// Day of the examination used.
    pub examined: Option<Date>,
    /// Last day it counts.
    pub valid_until: Option<Date>,
}

/// One measure or estimate of capacity.
#[derive(Clone, Debug, PartialEq)]
pub struct CapacityEstimate {
    /// Peak METs.
    pub mets: Mets,
    /// Error either way in METs, one standard error of estimate where published.
    pub error_mets: Option<f64>,
    /// Name of the method ("exercise-test", "six-minute-walk" ...).
    pub method: String,
    /// Measured in an exercise test, not estimated.
    pub measured: bool,
    /// Day of the test.
    pub date: Option<Date>,
    /// Why.
    pub because: Because,
    /// Conditions that were not standard.
    pub cautions: Vec<String>,
}

/// Capacity: the one used and the others.
#[derive(Clone, Debug, PartialEq)]
pub struct Capacity {
    /// The one used.
    pub used: Option<CapacityEstimate>,
    /// The others, in order of trust.
    pub others: Vec<CapacityEstimate>,
    /// Findings of the function tests against norms and thresholds.
    pub findings: Vec<Finding>,
}

closed_words!(
    /// Risk class.
    RiskClass as "risk class" { Low = "low", Moderate = "moderate", High = "high" }
);

closed_words!(
    /// Whether a criterion is met.
    Met as "state of a criterion" { Met = "met", NotMet = "not met", NotKnown = "not known" }
);

/// One criterion of risk with its answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Criterion {
    /// Rule id.
    pub rule: RuleId,
    /// Which class it speaks for when met.
    pub class: RiskClass,
    /// Whether it is met.
    pub state: Met,
    /// In words with the value.
    pub text: String,
    /// Source ids.
    pub sources: Vec<crate::evidence::SourceId>,
}

/// Risk.
#[derive(Clone, Debug, PartialEq)]
pub struct Risk {
    /// The class.
    pub class: RiskClass,
    /// Whether something not known could change it.
    pub provisional: bool,
    /// Each criterion.
    pub criteria: Vec<Criterion>,
    /// Why.
    pub because: Because,
}

/// Whether the programme may be done at home, and what it takes before it is done alone.
#[derive(Clone, Debug, PartialEq)]
pub struct Eligibility {
    /// What the risk class means for home, as the service sets it.
    pub home: HomeConsequence,
    /// Day of the agreement that counts; one from before the newest event does not.
    pub agreed: Option<Date>,
    /// Sessions to be watched before any alone.
    pub watched_needed: u8,
    /// Sessions watched since the newest event: days with something watched that nothing ended.
    pub watched_done: u8,
    /// Whether a session may be done alone now: decision, watched sessions and telephone.
    pub alone_now: bool,
    /// Days between calls.
    pub call_every_days: u16,
    /// Why.
    pub because: Because,
}

closed_words!(
    /// Kind of a heart-rate ceiling.
    CeilingKind as "kind of ceiling" { Hard = "hard", Guiding = "guiding" }
);

/// A heart-rate ceiling: whole bpm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ceiling {
    /// The rate.
    pub rate: HeartRate,
    /// Its kind.
    pub kind: CeilingKind,
}

/// A band of whole bpm, lower end rounded up, upper end down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeartRateBand {
    /// Lower end.
    pub low: HeartRate,
    /// Upper end.
    pub high: HeartRate,
}

/// A band of METs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MetsBand {
    /// Lower end.
    pub low: Mets,
    /// Upper end.
    pub high: Mets,
}

/// What must be adapted for this person, as far as it limits exercises.
#[derive(Clone, Debug, PartialEq)]
pub struct Adaptation {
    /// The restriction it switches on.
    pub reason: crate::programme::RestrictionReason,
    /// Weeks since the operation or implant, for restrictions that end.
    pub weeks_since: Option<f64>,
    /// Last day it holds, where it ends.
    pub until: Option<Date>,
    /// The joint, for pain.
    pub joint: Option<Joint>,
    /// Why.
    pub finding: Finding,
}

/// The limits of the work.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// Heart-rate band; none in atrial fibrillation, flutter, after transplant or where low passes high.
    pub hr: Option<HeartRateBand>,
    /// Ceiling with its kind.
    pub ceiling: Option<Ceiling>,
    /// A peak that was measured once and gave way to a lower guiding ceiling: a pulse above it passed a hard one still.
    pub never_passed: Option<HeartRate>,
    /// Resting rate used.
    pub resting_hr: Option<HeartRate>,
    /// Peak rate used, measured or predicted.
    pub peak_hr: Option<HeartRate>,
    /// Whether that peak was measured.
    pub peak_hr_measured: bool,
    /// Whether the pulse can be predicted at all (not in fibrillation, flutter, transplant, fixed-rate pacing).
    pub pulse_model: bool,
    /// Whether a beta-blocker or another rate-slowing medicine is taken.
    pub rate_slowed: Answered,
    /// Effort scale.
    pub effort_scale: EffortScale,
    /// Effort band.
    pub effort: EffortBand,
    /// METs band.
    pub mets: MetsBand,
    /// Most for a single station.
    pub mets_station_high: Mets,
    /// Whether the band binds each station (capacity measured) or the mean of a round (estimated).
    pub band_binds_station: bool,
    /// Needs slow changes of posture.
    pub hypotensive: bool,
    /// Highest balance level that suits (0 to 3).
    pub balance_max: u8,
    /// What must be adapted.
    pub adaptations: Vec<Adaptation>,
    /// Why, one for each number.
    pub because: Vec<Because>,
}

impl Limits {
    /// The rate that no page may be expected to pass: the hard ceiling, else a peak that was measured once.
    pub fn hard_rate(&self) -> Option<HeartRate> {
        let hard = self
            .ceiling
            .filter(|ceiling| ceiling.kind == CeilingKind::Hard);
        hard.map(|ceiling| ceiling.rate).or(self.never_passed)
    }
}

/// All of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Assessed {
    /// The day it is for.
    pub on: Date,
    /// Screening, with the final decision.
    pub screening: Screening,
    /// Capacity.
    pub capacity: Capacity,
    /// Risk.
    pub risk: Risk,
    /// Home, agreement, watched sessions.
    pub eligibility: Eligibility,
    /// Limits.
    pub limits: Limits,
    /// Still to find out, from whom.
    pub to_find_out: Vec<Finding>,
    /// Everything else that was noticed (medicines, conditions, cautions).
    pub findings: Vec<Finding>,
    /// Whether anything blocks signing.
    pub signing_blocked: bool,
}

impl Assessed {
    /// The question for the rate at which an implanted device treats, while it is open: until it is answered no limit of
    /// the pulse is whole, and a missing ceiling is no freedom.
    pub fn device_rate_question(&self) -> Option<&Finding> {
        self.to_find_out
            .iter()
            .find(|one| one.rule == crate::limits::DEVICE_RATE_KNOWN)
    }

    /// The first of what blocks signing.
    pub fn what_blocks(&self) -> Option<&Finding> {
        self.to_find_out
            .iter()
            .chain(&self.screening.findings)
            .chain(&self.findings)
            .find(|one| one.weight == Weight::BlocksSigning)
    }
}
