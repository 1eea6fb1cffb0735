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

    /// Whether somebody was examined: the pulse or the pressure at rest was taken. A weight, a temperature or a sugar taken
    /// alone is a reading and no examination.
    pub const fn examines(&self) -> bool {
        self.resting_hr_bpm.is_some() || self.resting_bp.is_some()
    }

    /// Adds what was taken or told alone on a later day: a later reading takes the place of the earlier, a symptom told
    /// before stays told.
    pub(crate) fn add(&mut self, later: &Self) {
        self.nyha = later.nyha.or(self.nyha);
        self.pulse_regular = later.pulse_regular.or(self.pulse_regular);
        self.standing_bp = later.standing_bp.or(self.standing_bp);
        self.spo2_pct = later.spo2_pct.or(self.spo2_pct);
        self.weight_kg = later.weight_kg.or(self.weight_kg);
        self.temperature_c = later.temperature_c.or(self.temperature_c);
        if later.glucose_mmol_l.is_some() {
            self.glucose_mmol_l = later.glucose_mmol_l;
            self.ketones_mmol_l = later.ketones_mmol_l;
        }
        self.oedema = later.oedema.or(self.oedema);
        if let Some(told) = &later.symptoms {
            let all = self.symptoms.get_or_insert_with(Vec::new);
            all.extend(
                told.iter()
                    .filter(|one| !all.contains(one))
                    .copied()
                    .collect::<Vec<_>>(),
            );
        }
    }
}
