//! What a Condition means: few codes, each certain.
//!
//! Source: `snomed-codes`, recalled, checked against public example resources where one was found; `icd-10-2019` and,
//! where only the clinical modification has the code, `icd-10-codes`.
//! What a code leaves open (how severe, whether paced) is a question, never an answer.

use super::concept::{Concept, SNOMED};
use crate::shape::ClosedWord;
use rehab::assessment::{EventKind, HistoryItem, Rhythm};

/// What a condition means for a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Meaning {
    /// A heart event.
    Event(EventKind),
    /// A word of the history.
    History(HistoryItem),
    /// Both.
    Both(EventKind, HistoryItem),
    /// A rhythm.
    Rhythm(Rhythm),
    /// An implanted defibrillator.
    Defibrillator,
    /// A pacemaker, or perhaps a defibrillator.
    ElectronicDevice,
    /// The code leaves open what matters.
    Ask(&'static str),
}

use EventKind as E;
use HistoryItem as H;
use Meaning::{Ask, Both, Defibrillator, ElectronicDevice, Event, History};

const SEVERE_STENOSIS: &str =
    "is the aortic stenosis severe? If so, add severe-aortic-stenosis to what is present";
const OUTFLOW: &str =
    "is the outflow obstruction severe? If so, add severe-outflow-obstruction to what is present";
const ANAEMIA: &str = "is the anaemia severe? If so, add severe-anaemia to what is present";
const FEET: &str = "are the feet numb? If so, add foot-neuropathy to what is present";
const BLOCK: &str = "is the block paced? If not, add unpaced-third-degree-block to what is present";
const VERTEBRA: &str = "is it a fragile vertebra? If so, add vertebral-fracture to what is present";
const CORONARY: &str =
    "coronary disease: which event is the reason for referral? Add it as an event";
const STENT: &str = "a stent is there: when and for what? Add it to its event";

const BY_SNOMED: &[(&str, Meaning)] = &[
    ("22298006", Event(E::MyocardialInfarction)),
    ("57054005", Event(E::MyocardialInfarction)),
    ("401303003", Event(E::MyocardialInfarction)),
    ("401314000", Event(E::MyocardialInfarction)),
    ("399211009", Event(E::MyocardialInfarction)),
    ("194828000", Event(E::Angina)),
    ("233819005", Event(E::Angina)),
    ("4557003", History(H::UnstableAngina)),
    ("53741008", Ask(CORONARY)),
    ("84114007", Both(E::HeartFailure, H::HeartFailure)),
    ("42343007", Both(E::HeartFailure, H::HeartFailure)),
    ("703272007", Both(E::HeartFailure, H::HeartFailure)),
    ("446221000", Both(E::HeartFailure, H::HeartFailure)),
    ("410429000", Both(E::CardiacArrest, H::CardiacArrest)),
    ("49436004", Meaning::Rhythm(Rhythm::AtrialFibrillation)),
    ("282825002", Meaning::Rhythm(Rhythm::AtrialFibrillation)),
    ("440059007", Meaning::Rhythm(Rhythm::AtrialFibrillation)),
    ("440028005", Meaning::Rhythm(Rhythm::AtrialFibrillation)),
    ("5370000", Meaning::Rhythm(Rhythm::AtrialFlutter)),
    ("25569003", History(H::ComplexArrhythmia)),
    ("71908006", History(H::ComplexArrhythmia)),
    ("27885002", Ask(BLOCK)),
    ("60573004", Ask(SEVERE_STENOSIS)),
    ("233873004", Ask(OUTFLOW)),
    ("45227007", Ask(OUTFLOW)),
    ("56819008", History(H::Endocarditis)),
    ("50920009", History(H::MyocarditisOrPericarditis)),
    ("3238004", History(H::MyocarditisOrPericarditis)),
    ("308546005", History(H::AorticDissection)),
    ("59282003", History(H::RecentEmbolism)),
    ("128053003", History(H::Thrombophlebitis)),
    ("64156001", History(H::Thrombophlebitis)),
    ("73211009", History(H::Diabetes)),
    ("44054006", History(H::Diabetes)),
    ("46635009", History(H::Diabetes)),
    ("13645005", History(H::ChronicObstructivePulmonaryDisease)),
    ("399957001", History(H::PeripheralArterialDisease)),
    ("230690007", History(H::Stroke)),
    ("422504002", History(H::Stroke)),
    ("64859006", History(H::Osteoporosis)),
    ("239873007", History(H::KneeOsteoarthritis)),
    ("239872002", History(H::HipOsteoarthritis)),
    ("38341003", History(H::Hypertension)),
    ("59621000", History(H::Hypertension)),
    ("709044004", History(H::ChronicKidneyDisease)),
    ("433144002", History(H::ChronicKidneyDisease)),
    ("431857002", History(H::ChronicKidneyDisease)),
    ("433146000", History(H::ChronicKidneyDisease)),
    ("35489007", History(H::ClinicalDepression)),
    ("370143000", History(H::ClinicalDepression)),
    ("28651003", History(H::OrthostaticHypotension)),
    ("399153001", History(H::Vertigo)),
    ("397540003", History(H::LowVision)),
    ("77386006", History(H::Pregnancy)),
    ("82119001", History(H::Thyroiditis)),
    ("161891005", History(H::BackPain)),
    ("45326000", History(H::ShoulderPain)),
    ("230572002", Ask(FEET)),
    ("302226006", Ask(FEET)),
    ("271737000", Ask(ANAEMIA)),
];

/// By the beginning of an ICD-10 code; the longest that fits counts.
const BY_ICD_10: &[(&str, Meaning)] = &[
    ("I20", Event(E::Angina)),
    ("I20.0", History(H::UnstableAngina)),
    ("I21", Event(E::MyocardialInfarction)),
    ("I22", Event(E::MyocardialInfarction)),
    ("I25", Ask(CORONARY)),
    ("I25.2", Event(E::MyocardialInfarction)),
    ("I25.42", Event(E::CoronaryDissection)),
    ("I26", History(H::RecentEmbolism)),
    ("I30", History(H::MyocarditisOrPericarditis)),
    ("I33", History(H::Endocarditis)),
    ("I35.0", Ask(SEVERE_STENOSIS)),
    ("I40", History(H::MyocarditisOrPericarditis)),
    ("I41", History(H::MyocarditisOrPericarditis)),
    ("I42.1", Ask(OUTFLOW)),
    ("I44.2", Ask(BLOCK)),
    ("I46", Both(E::CardiacArrest, H::CardiacArrest)),
    ("I47.2", History(H::ComplexArrhythmia)),
    ("I48", Meaning::Rhythm(Rhythm::AtrialFibrillation)),
    ("I48.3", Meaning::Rhythm(Rhythm::AtrialFlutter)),
    ("I48.4", Meaning::Rhythm(Rhythm::AtrialFlutter)),
    ("I48.92", Meaning::Rhythm(Rhythm::AtrialFlutter)),
    ("I49.0", History(H::ComplexArrhythmia)),
    ("I50", Both(E::HeartFailure, H::HeartFailure)),
    ("I51.81", Event(E::StressCardiomyopathy)),
    ("I60", History(H::Stroke)),
    ("I61", History(H::Stroke)),
    ("I63", History(H::Stroke)),
    ("I64", History(H::Stroke)),
    ("I70.2", History(H::PeripheralArterialDisease)),
    ("I71.0", History(H::AorticDissection)),
    ("I73.9", History(H::PeripheralArterialDisease)),
    ("I80", History(H::Thrombophlebitis)),
    ("I95.1", History(H::OrthostaticHypotension)),
    ("I10", History(H::Hypertension)),
    ("I11", History(H::Hypertension)),
    ("I12", History(H::Hypertension)),
    ("I13", History(H::Hypertension)),
    ("D50", Ask(ANAEMIA)),
    ("D64", Ask(ANAEMIA)),
    ("E06", History(H::Thyroiditis)),
    ("E10", History(H::Diabetes)),
    ("E11", History(H::Diabetes)),
    ("E13", History(H::Diabetes)),
    ("E14", History(H::Diabetes)),
    ("E86", History(H::Hypovolaemia)),
    ("E87.5", History(H::ElectrolyteDisturbance)),
    ("E87.6", History(H::ElectrolyteDisturbance)),
    ("F32", History(H::ClinicalDepression)),
    ("F33", History(H::ClinicalDepression)),
    ("G62", Ask(FEET)),
    ("G63", Ask(FEET)),
    ("H54", History(H::LowVision)),
    ("H81", History(H::Vertigo)),
    ("J44", History(H::ChronicObstructivePulmonaryDisease)),
    ("M16", History(H::HipOsteoarthritis)),
    ("M17", History(H::KneeOsteoarthritis)),
    ("M48.5", Ask(VERTEBRA)),
    ("M54", History(H::BackPain)),
    ("M75", History(H::ShoulderPain)),
    ("M80", History(H::Osteoporosis)),
    ("M81", History(H::Osteoporosis)),
    ("N18", History(H::ChronicKidneyDisease)),
    ("R42", History(H::Vertigo)),
    ("Z33", History(H::Pregnancy)),
    ("Z34", History(H::Pregnancy)),
    ("Z94.1", Event(E::Transplant)),
    // In the classification itself any electronic device; only its clinical modification means a pacemaker.
    ("Z95.0", ElectronicDevice),
    ("Z95.1", Event(E::BypassSurgery)),
    ("Z95.5", Ask(STENT)),
    ("Z95.810", Defibrillator),
    ("Z95.811", History(H::VentricularAssistDevice)),
    ("Z96.64", History(H::HipReplacement)),
];

/// What a concept means, by our own words first, then SNOMED CT, then ICD-10.
pub(super) fn meaning(concept: &Concept<'_>) -> Option<Meaning> {
    if let Some(item) = concept.ours("history").and_then(HistoryItem::read) {
        return Some(History(item));
    }
    if let Some(kind) = concept.ours("event").and_then(EventKind::read) {
        return Some(Event(kind));
    }
    let snomed = concept
        .code_of(SNOMED)
        .and_then(|code| BY_SNOMED.iter().find(|(one, _)| *one == code));
    snomed.map(|(_, meaning)| *meaning).or_else(|| {
        concept
            .codings
            .iter()
            .filter(|coding| coding.is_icd_10())
            .find_map(|coding| by_icd_10(coding.code))
    })
}

fn by_icd_10(code: &str) -> Option<Meaning> {
    let fits = BY_ICD_10.iter().filter(|(start, _)| {
        code.strip_prefix(start)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with('.') || start.contains('.'))
    });
    fits.max_by_key(|(start, _)| start.len())
        .map(|(_, meaning)| *meaning)
}

/// The SNOMED CT code that a word of the history is written with beside our own.
pub(super) fn snomed_of_history(item: HistoryItem) -> Option<&'static str> {
    let means = |meaning: &Meaning| matches!(meaning, History(one) | Both(_, one) if *one == item);
    BY_SNOMED
        .iter()
        .find(|(_, meaning)| means(meaning))
        .map(|(code, _)| *code)
}

/// The SNOMED CT code that an event is written with beside our own.
pub(super) fn snomed_of_event(kind: EventKind) -> Option<&'static str> {
    let means = |meaning: &Meaning| matches!(meaning, Event(one) | Both(one, _) if *one == kind);
    BY_SNOMED
        .iter()
        .find(|(_, meaning)| means(meaning))
        .map(|(code, _)| *code)
}

/// Words that make a text without a known code a question worth asking.
const TELLING: &[(&str, HistoryItem)] = &[
    ("heart failure", H::HeartFailure),
    ("cardiac failure", H::HeartFailure),
    ("unstable angina", H::UnstableAngina),
    ("cardiac arrest", H::CardiacArrest),
    ("aortic stenosis", H::SevereAorticStenosis),
    ("embol", H::RecentEmbolism),
    ("endocarditis", H::Endocarditis),
    ("myocarditis", H::MyocarditisOrPericarditis),
    ("pericarditis", H::MyocarditisOrPericarditis),
    ("dissection", H::AorticDissection),
    ("ventricular tachycardia", H::ComplexArrhythmia),
    ("ventricular fibrillation", H::ComplexArrhythmia),
    ("atrial fibrillation", H::NewAtrialFibrillation),
    ("heart block", H::UnpacedThirdDegreeBlock),
    ("diabet", H::Diabetes),
    ("depress", H::ClinicalDepression),
    ("stroke", H::Stroke),
    ("pulmonary disease", H::ChronicObstructivePulmonaryDisease),
    ("claudication", H::PeripheralArterialDisease),
    ("osteoporosis", H::Osteoporosis),
    ("hip replacement", H::HipReplacement),
    ("pregnan", H::Pregnancy),
    ("assist device", H::VentricularAssistDevice),
    ("sternum", H::SternumUnstable),
];

/// The word of the history that a text may mean.
pub(super) fn hint(called: &str) -> Option<HistoryItem> {
    let called = called.to_lowercase();
    TELLING
        .iter()
        .find(|(word, _)| called.contains(word))
        .map(|(_, item)| *item)
}
