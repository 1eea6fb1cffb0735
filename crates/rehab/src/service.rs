//! What a service sets: rule sets, policies, lengths, margins, words. Every value can be edited and is printed.

use crate::assessment::EffortScale;
use jiff::civil::Date;

closed_words!(
    /// The set of day-of cut-offs a service screens by.
    ScreeningSet as "screening set" {
        Cautious = "cautious",
        UkPhaseIv = "uk-phase-iv",
        HeartFailureReview2023 = "heart-failure-review-2023",
        AustralianHeartFailure = "australian-heart-failure",
        AcsmAacvpr = "acsm-aacvpr",
        UkTeachingDeck = "uk-teaching-deck",
        AacvprSheets2004 = "aacvpr-2004-sheets",
    }
);

closed_words!(
    /// Which gain of weight holds the day: that of the chosen set, or one of the printed variants.
    WeightGainRule as "rule for a gain of weight" {
        OfTheSet = "of-the-set",
        HeartFailureReview2023 = "heart-failure-review-2023",
        AustralianHeartFailure = "australian-heart-failure",
        EscPatients = "esc-patients",
        UsPatientText = "us-patient-text",
        UsSkipExercise = "us-skip-exercise",
    }
);

closed_words!(
    /// Which maximal-heart-rate equation applies when no test was taken.
    HrMaxPolicy as "policy for the maximal heart rate" {
        ByCondition = "by-condition",
        UkPractice = "uk-practice",
        Fox = "fox-1971",
        Tanaka = "tanaka-2001",
        Inbar = "inbar-1994",
        Gellish = "gellish-2007",
        Gulati = "gulati-2010",
        Sydo = "sydo-2014",
        None = "none",
    }
);

closed_words!(
    /// Whether a class may exercise at home.
    HomeConsequence as "consequence" { Yes = "yes", AfterAgreement = "after-agreement", No = "no" }
);

/// Consequences of one risk class.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RiskConsequence {
    /// Whether the programme may be done at home.
    pub home: HomeConsequence,
    /// Upper end of the training band, per cent of reserve.
    pub reserve_high_pct: f64,
    /// Sessions watched before any alone.
    pub watched_sessions: u8,
    /// Days between calls.
    pub call_every_days: u16,
}

/// Consequences by class.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RiskConsequences {
    /// Low risk.
    pub low: RiskConsequence,
    /// Moderate risk.
    pub moderate: RiskConsequence,
    /// High risk.
    pub high: RiskConsequence,
}

/// An inclusive range of the effort scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EffortBand {
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
}

/// How a person reaches help: the service's own words and numbers, never defaulted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Emergency {
    /// Number to ring.
    pub number: String,
    /// The service's own text.
    pub text: String,
}

/// How the team is reached.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contact {
    /// Name of the team.
    pub name: String,
    /// Telephone.
    pub telephone: String,
    /// Hours.
    pub hours: String,
    /// What to do out of hours.
    pub out_of_hours: Option<String>,
}

/// The steps a service gives for the nitrate: minutes and doses are its own protocol.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NitrateProtocol {
    /// Steps in order, each with the wait after it.
    pub steps: Vec<NitrateStep>,
    /// The lead who confirmed steps that differ from the published ones.
    pub confirmed_by: Option<String>,
}

/// One step of the nitrate protocol.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NitrateStep {
    /// What to do, in the service's words.
    pub text: String,
    /// Seconds to wait before the next.
    pub wait_s: u32,
}

/// Who adopted these settings and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Adopted {
    /// Name and role of the lead.
    pub by: String,
    /// When.
    pub date: Date,
}

/// A brand or local name of a medicine, with the INN it stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LocalMedicineName {
    /// Local name.
    pub name: String,
    /// International non-proprietary name.
    pub inn: String,
}

/// Lengths of the session's parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SessionLengths {
    /// Warm-up in seconds.
    pub warm_up_s: u32,
    /// Cool-down in seconds.
    pub cool_down_s: u32,
    /// Longest session in seconds.
    pub session_max_s: u32,
    /// Cardiovascular stations: shortest, first and longest time in seconds.
    pub cardiovascular_s: StationTimes,
    /// Active-recovery stations: shortest, first and longest time in seconds.
    pub active_recovery_s: StationTimes,
    /// Warm-up stretches are held this long, in seconds.
    pub warm_up_stretch_s: StationTimes,
    /// Time to walk from one place to the next, in seconds.
    pub changeover_s: u32,
}

/// Times of one kind of station, in seconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StationTimes {
    /// Shortest.
    pub least_s: u32,
    /// At the start.
    pub first_s: u32,
    /// Longest.
    pub most_s: u32,
}

/// Everything a service sets.
#[derive(Clone, Debug, PartialEq)]
pub struct Service {
    /// Name of the service.
    pub name: String,
    /// Language tag of its words.
    pub language: String,
    /// Emergency number and text; without it no pack is made.
    pub emergency: Option<Emergency>,
    /// The nitrate steps; without them the pack gives none.
    pub nitrate: Option<NitrateProtocol>,
    /// How the team is reached; without it no pack is made.
    pub contact: Option<Contact>,
    /// Effort scale it uses.
    pub effort_scale: EffortScale,
    /// Effort band to begin, on the service's own scale.
    pub effort_band: EffortBand,
    /// Effort band in the first fortnight, in high risk and in heart failure, on the same scale.
    pub effort_band_gentle: EffortBand,
    /// Days of the gentle beginning.
    pub gentle_days: u16,
    /// Day-of cut-offs.
    pub screening_set: ScreeningSet,
    /// Which gain of weight holds the day.
    pub weight_gain_rule: WeightGainRule,
    /// Policy for the maximal heart rate.
    pub hr_max_policy: HrMaxPolicy,
    /// Training band, per cent of heart-rate reserve: lower end.
    pub reserve_low_pct: f64,
    /// Training band, per cent of heart-rate reserve: upper end (a risk class may lower it).
    pub reserve_high_pct: f64,
    /// Below the lowest treated rate of a device, in bpm.
    pub icd_margin_bpm: f64,
    /// Below the rate at which ischaemia begins, in bpm.
    pub ischaemia_margin_bpm: f64,
    /// Lengths.
    pub lengths: SessionLengths,
    /// The warm-up ends within this of the training band, in bpm.
    pub warm_up_within_bpm: f64,
    /// The cool-down ends within this of the rate before exercise, in bpm.
    pub cool_down_within_bpm: f64,
    /// Days an examination counts.
    pub examination_valid_days: u16,
    /// Days without news after which a person is silent.
    pub silent_after_days: u16,
    /// Hours after which an alert goes to the lead.
    pub alert_to_lead_hours: u16,
    /// Greatest growth of the weekly dose, per cent.
    pub growth_cap_pct: f64,
    /// METs top without any measure of capacity.
    pub mets_without_capacity: f64,
    /// Share of an estimated peak that one station may reach, per cent.
    pub station_of_estimated_peak_pct: f64,
    /// Consequences of the risk classes.
    pub risk: RiskConsequences,
    /// Local names of medicines.
    pub medicine_names: Vec<LocalMedicineName>,
    /// Who adopted these settings; before that only invented people can be signed for.
    pub adopted: Option<Adopted>,
}

impl EffortBand {
    /// The band to begin with, on either scale. Source: `service-ours`; the two scales have no agreed conversion,
    /// so each has a band of its own.
    pub const fn to_begin(scale: EffortScale) -> Self {
        match scale {
            EffortScale::ZeroToTen => Self {
                low: 3.0,
                high: 4.0,
            },
            EffortScale::SixToTwenty => Self {
                low: 11.0,
                high: 13.0,
            },
        }
    }

    /// The gentle band: first fortnight, high risk, heart failure. Source: `service-ours`.
    pub const fn gentle(scale: EffortScale) -> Self {
        match scale {
            EffortScale::ZeroToTen => Self {
                low: 2.0,
                high: 3.0,
            },
            EffortScale::SixToTwenty => Self {
                low: 10.0,
                high: 12.0,
            },
        }
    }
}

impl Service {
    /// The built-in cautious set, used and named when no service file is given. Sources: `service-ours` for every
    /// default of ours; the values with publications stand with their rules.
    pub fn cautious() -> Self {
        Self {
            name: "built-in cautious set".to_owned(),
            language: "en-GB".to_owned(),
            emergency: None,
            nitrate: None,
            contact: None,
            effort_scale: EffortScale::ZeroToTen,
            effort_band: EffortBand::to_begin(EffortScale::ZeroToTen),
            effort_band_gentle: EffortBand::gentle(EffortScale::ZeroToTen),
            gentle_days: 14,
            screening_set: ScreeningSet::Cautious,
            weight_gain_rule: WeightGainRule::OfTheSet,
            hr_max_policy: HrMaxPolicy::ByCondition,
            reserve_low_pct: 40.0,
            reserve_high_pct: 70.0,
            icd_margin_bpm: 20.0,
            ischaemia_margin_bpm: 10.0,
            lengths: SessionLengths {
                warm_up_s: 900,
                cool_down_s: 600,
                session_max_s: 3600,
                cardiovascular_s: StationTimes {
                    least_s: 30,
                    first_s: 60,
                    most_s: 180,
                },
                active_recovery_s: StationTimes {
                    least_s: 30,
                    first_s: 30,
                    most_s: 60,
                },
                warm_up_stretch_s: StationTimes {
                    least_s: 8,
                    first_s: 10,
                    most_s: 15,
                },
                changeover_s: 15,
            },
            warm_up_within_bpm: 20.0,
            cool_down_within_bpm: 10.0,
            examination_valid_days: 14,
            silent_after_days: 10,
            alert_to_lead_hours: 24,
            growth_cap_pct: 15.0,
            mets_without_capacity: 3.0,
            station_of_estimated_peak_pct: 85.0,
            risk: RiskConsequences {
                low: RiskConsequence {
                    home: HomeConsequence::Yes,
                    reserve_high_pct: 70.0,
                    watched_sessions: 1,
                    call_every_days: 14,
                },
                moderate: RiskConsequence {
                    home: HomeConsequence::Yes,
                    reserve_high_pct: 70.0,
                    watched_sessions: 2,
                    call_every_days: 7,
                },
                high: RiskConsequence {
                    home: HomeConsequence::AfterAgreement,
                    reserve_high_pct: 60.0,
                    watched_sessions: 3,
                    call_every_days: 3,
                },
            },
            medicine_names: Vec::new(),
            adopted: None,
        }
    }
}
