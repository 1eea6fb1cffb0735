//! Everything that is known of one person: the case.
//!
//! What is not known is `None` or not listed; what was asked and is absent is written. Missing never equals absent.

mod examination;
mod heart;
mod history;
mod home;
mod medicine;
mod person;
mod test;
mod watched;

pub use examination::{Examination, ExaminationSymptom, Pressure};
pub use heart::{Device, Heart, Pacemaker, PacingMode, Rhythm};
pub use history::{Answered, Event, EventKind, History, HistoryItem, Procedure, ProcedureKind};
pub use home::{Home, Place, PlaceKind, Prop, Screen, Wishes};
pub use medicine::{Medicine, Nitrate};
pub use person::{CaseId, Function, Person, Sex, Status, StatusKind, WalkingAid};
pub use test::{
    Effort, EffortScale, ExerciseTest, ExerciseTestSymptom, PressureResponse, StepStage, Test,
    TestPlace, TestResult,
};
pub use watched::{Agreement, Joint, Pain, Support, Technique, UsualSymptom, Watched};

/// Ejection fraction below which a heart is followed as a failing one, whether or not anybody wrote the words.
// Source: service-ours.
const LOW_EJECTION_FRACTION_PCT: f64 = 40.0;

/// All that is known of one patient.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Id of the case.
    pub id: CaseId,
    /// The person.
    pub person: Person,
    /// Where the case stands.
    pub status: Status,
    /// Heart events, any order; the newest is the reason for referral.
    pub events: Vec<Event>,
    /// What is known of the heart.
    pub heart: Heart,
    /// What was asked: present, absent; not listed is not known.
    pub history: History,
    /// Medicines with their dates.
    pub medicines: Vec<Medicine>,
    /// The nitrate spray or tablet for chest discomfort.
    pub nitrate: Nitrate,
    /// What is normal for this person; `None` when never asked.
    pub usual_symptoms: Vec<UsualSymptom>,
    /// Walking aid and falls.
    pub function: Function,
    /// One per contact.
    pub examinations: Vec<Examination>,
    /// Function and exercise tests, questionnaires.
    pub tests: Vec<Test>,
    /// The home and its places.
    pub home: Home,
    /// What the person wants and has.
    pub wishes: Wishes,
    /// A doctor's recorded agreement.
    pub agreement: Option<Agreement>,
    /// What a practitioner has watched this person do.
    pub watched: Vec<Watched>,
    /// Joints that hurt.
    pub pains: Vec<Pain>,
}

impl Case {
    /// A case of which nothing is known but its id.
    pub fn unknown(id: CaseId) -> Self {
        Self {
            id,
            person: Person::unknown(),
            status: Status {
                kind: StatusKind::Active,
                since: None,
            },
            events: Vec::new(),
            heart: Heart::unknown(),
            history: History::unasked(),
            medicines: Vec::new(),
            nitrate: Nitrate::unasked(),
            usual_symptoms: Vec::new(),
            function: Function {
                aid: None,
                falls_12_months: None,
            },
            examinations: Vec::new(),
            tests: Vec::new(),
            home: Home::unknown(),
            wishes: Wishes::unasked(),
            agreement: None,
            watched: Vec::new(),
            pains: Vec::new(),
        }
    }

    /// Heart failure, for everything that follows weight and swelling: written down, as an event, or by an ejection
    /// fraction that is low without the label. Not asked is not absent.
    pub fn heart_failure(&self) -> Answered {
        let happened = self
            .events
            .iter()
            .any(|event| event.kind == EventKind::HeartFailure);
        let low = self
            .heart
            .ejection_fraction_pct
            .is_some_and(|percent| percent < LOW_EJECTION_FRACTION_PCT);
        match happened || low {
            true => Answered::Present,
            false => self.history.answer(HistoryItem::HeartFailure),
        }
    }
}
