//! What was measured and asked at one contact.

use jiff::civil::Date;

/// Blood pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressure {
    /// Systolic in mmHg.
    pub systolic_mmhg: f64,
    /// Diastolic in mmHg.
    pub diastolic_mmhg: f64,
}

closed_words!(
    /// What the person reports on the day.
    ExaminationSymptom as "symptom" {
        ChestPainAtRest = "chest-pain-at-rest",
        ChestPainOnExertion = "chest-pain-on-exertion",
        ChangedAngina = "changed-angina",
        NewBreathlessness = "new-breathlessness",
        NewSwelling = "new-swelling",
        Palpitations = "palpitations",
        IrregularPulse = "irregular-pulse",
        Dizziness = "dizziness",
        DizzinessOnStanding = "dizziness-on-standing",
        Faint = "faint",
        Fever = "fever",
        Unwell = "unwell",
        VeryTired = "very-tired",
        DeviceShock = "device-shock",
        CalfPain = "calf-pain",
        WoundTrouble = "wound-trouble",
    }
);

/// One examination.
#[derive(Clone, Debug, PartialEq)]
pub struct Examination {
    /// Day of the contact.
    pub date: Date,
    /// Functional class I to IV.
    pub nyha: Option<u8>,
    /// Resting heart rate in bpm.
    pub resting_hr_bpm: Option<f64>,
    /// Whether the pulse was regular.
    pub pulse_regular: Option<bool>,
    /// Resting pressure, seated.
    pub resting_bp: Option<Pressure>,
    /// Pressure within 3 minutes of standing.
    pub standing_bp: Option<Pressure>,
    /// Oxygen saturation in per cent.
    pub spo2_pct: Option<f64>,
    /// Weight in kg.
    pub weight_kg: Option<f64>,
    /// Temperature in degrees Celsius.
    pub temperature_c: Option<f64>,
    /// Glucose in mmol/L.
    pub glucose_mmol_l: Option<f64>,
    /// Ketones in mmol/L.
    pub ketones_mmol_l: Option<f64>,
    /// Swelling of the legs.
    pub oedema: Option<bool>,
    /// Symptoms; `None` was not asked, empty was asked and absent.
    pub symptoms: Option<Vec<ExaminationSymptom>>,
}

impl Examination {
    /// An examination of which only the day is known.
    pub const fn on(date: Date) -> Self {
        Self {
            date,
            nyha: None,
            resting_hr_bpm: None,
            pulse_regular: None,
            resting_bp: None,
            standing_bp: None,
            spo2_pct: None,
            weight_kg: None,
            temperature_c: None,
            glucose_mmol_l: None,
            ketones_mmol_l: None,
            oedema: None,
            symptoms: None,
        }
    }
}
