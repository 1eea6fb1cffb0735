//! The person, the standing of the case, and function.

use jiff::civil::Date;

/// Id of a case, 8 to 40 characters.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct CaseId(pub String);

closed_words!(
    /// Sex, for equations only.
    Sex as "sex" { Female = "female", Male = "male" }
);

/// The person.
#[derive(Clone, Debug, PartialEq)]
pub struct Person {
    /// Full name.
    pub name: Option<String>,
    /// How the person wants to be called.
    pub called: Option<String>,
    /// Day of birth.
    pub born: Option<Date>,
    /// Sex, for equations only.
    pub sex: Option<Sex>,
    /// Height in cm.
    pub height_cm: Option<f64>,
    /// Weight in kg, as last known; an examination's weight is newer.
    pub weight_kg: Option<f64>,
    /// Language tag (BCP 47).
    pub language: Option<String>,
    /// Telephone numbers, best first.
    pub telephones: Vec<String>,
    /// Whom to ring for the person.
    pub emergency_contact: Option<String>,
    /// The treating doctor.
    pub doctor: Option<String>,
    /// Whether and for which language an interpreter is needed.
    pub interpreter: Option<String>,
    /// How the person hears ("better on the left").
    pub hearing: Option<String>,
    /// How the person sees.
    pub sight: Option<String>,
    /// Whether reading is easy.
    pub reading: Option<String>,
    /// What to know of memory.
    pub memory: Option<String>,
    /// Consent as recorded.
    pub consent: Option<String>,
    /// Where the person lives.
    pub address: Option<String>,
}

impl Person {
    /// Nothing known.
    pub fn unknown() -> Self {
        Self {
            name: None,
            called: None,
            born: None,
            sex: None,
            height_cm: None,
            weight_kg: None,
            language: None,
            telephones: Vec::new(),
            emergency_contact: None,
            doctor: None,
            interpreter: None,
            hearing: None,
            sight: None,
            reading: None,
            memory: None,
            consent: None,
            address: None,
        }
    }

    /// Completed years on a day.
    pub fn age_years(&self, on: Date) -> Option<f64> {
        let born = self.born?;
        let had_birthday = (on.month(), on.day()) >= (born.month(), born.day());
        let years = i32::from(on.year()) - i32::from(born.year()) - i32::from(!had_birthday);
        (years >= 0).then_some(f64::from(years))
    }
}

closed_words!(
    /// Where a case stands.
    StatusKind as "status" {
        Referred = "referred",
        Declined = "declined",
        WaitingForClearance = "waiting-for-clearance",
        Active = "active",
        Paused = "paused",
        InHospital = "in-hospital",
        Discharged = "discharged",
        Died = "died",
    }
);

/// Where a case stands, and since when.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Status {
    /// The standing.
    pub kind: StatusKind,
    /// Since when.
    pub since: Option<Date>,
}

closed_words!(
    /// Walking aid.
    WalkingAid as "walking aid" { None = "none", Stick = "stick", Frame = "frame" }
);

/// Walking aid and falls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Function {
    /// Walking aid in daily life.
    pub aid: Option<WalkingAid>,
    /// Falls in the last 12 months.
    pub falls_12_months: Option<u32>,
}
