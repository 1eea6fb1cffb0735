//! Tests of function and capacity, and questionnaires, as they were taken.

use super::WalkingAid;
use jiff::civil::Date;

closed_words!(
    /// Which effort scale a number belongs to; never converted in silence.
    EffortScale as "effort scale" { ZeroToTen = "0-10", SixToTwenty = "6-20" }
);

/// An effort reading with its scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effort {
    /// The scale it was asked on.
    pub scale: EffortScale,
    /// The value.
    pub value: f64,
}

closed_words!(
    /// Where a test was taken.
    TestPlace as "place of the test" { Home = "home", Clinic = "clinic", Hospital = "hospital", Outdoors = "outdoors" }
);

/// One test with the conditions that make it comparable.
#[derive(Clone, Debug, PartialEq)]
pub struct Test {
    /// Day.
    pub date: Option<Date>,
    /// Where.
    pub place: Option<TestPlace>,
    /// Aid used during it.
    pub aid: Option<WalkingAid>,
    /// Effort at its end.
    pub effort: Option<Effort>,
    /// Whether a beta-blocker was working during it.
    pub beta_blocked: Option<bool>,
    /// What was found.
    pub result: TestResult,
}

/// What a test found.
#[derive(Clone, Debug, PartialEq)]
pub enum TestResult {
    /// A symptom-limited exercise test.
    Exercise(ExerciseTest),
    /// Two-minute step test: right-knee raises.
    TwoMinuteStep {
        /// Raises of the right knee.
        count: f64,
    },
    /// Six-minute walk.
    SixMinuteWalk {
        /// Distance in metres.
        distance_m: f64,
        /// Length of the course in metres; the standard is 30.
        course_m: Option<f64>,
    },
    /// Incremental shuttle walk.
    ShuttleWalk {
        /// Distance in metres.
        distance_m: f64,
        /// Length of the course in metres; the standard is 10.
        course_m: Option<f64>,
    },
    /// Incremental step test.
    Step {
        /// Height of the step in metres.
        step_height_m: f64,
        /// One reading per stage, lowest first.
        stages: Vec<StepStage>,
    },
    /// Chair stands in 30 seconds.
    ChairStand30s {
        /// Full stands.
        count: f64,
    },
    /// Chair stands in one minute.
    SitToStand1Min {
        /// Full stands.
        count: f64,
    },
    /// Time for five chair stands.
    FiveSitToStand {
        /// Seconds.
        seconds: f64,
    },
    /// Timed up and go.
    TimedUpAndGo {
        /// Seconds.
        seconds: f64,
    },
    /// Gait over 4 metres.
    Gait4m {
        /// Seconds.
        seconds: f64,
    },
    /// Activity questionnaire of twelve yes or no items.
    ActivityStatus {
        /// Numbers (1 to 12) of the items answered yes.
        yes: Vec<u8>,
    },
    /// Nine items of mood, each 0 to 3.
    Phq9 {
        /// The nine answers.
        answers: Vec<u8>,
    },
    /// Seven items of worry, each 0 to 3.
    Gad7 {
        /// The seven answers.
        answers: Vec<u8>,
    },
    /// Five items of well-being, each 0 to 5.
    Who5 {
        /// The five answers.
        answers: Vec<u8>,
    },
}

impl TestResult {
    /// The kind as written in files.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Exercise(_) => "exercise-test",
            Self::TwoMinuteStep { .. } => "two-minute-step",
            Self::SixMinuteWalk { .. } => "six-minute-walk",
            Self::ShuttleWalk { .. } => "shuttle-walk",
            Self::Step { .. } => "step",
            Self::ChairStand30s { .. } => "chair-stand-30s",
            Self::SitToStand1Min { .. } => "sit-to-stand-1min",
            Self::FiveSitToStand { .. } => "five-sit-to-stand",
            Self::TimedUpAndGo { .. } => "timed-up-and-go",
            Self::Gait4m { .. } => "gait-4m",
            Self::ActivityStatus { .. } => "activity-status",
            Self::Phq9 { .. } => "phq-9",
            Self::Gad7 { .. } => "gad-7",
            Self::Who5 { .. } => "who-5",
        }
    }
}

/// One stage of a step test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepStage {
    /// Heart rate at its end in bpm.
    pub hr_bpm: f64,
    /// Effort at its end, on the test's scale.
    pub effort: Option<f64>,
}

closed_words!(
    /// Symptom during an exercise test.
    ExerciseTestSymptom as "symptom of the test" {
        Angina = "angina",
        Breathlessness = "breathlessness",
        Dizziness = "dizziness",
        Other = "other",
    }
);

closed_words!(
    /// How systolic pressure answered: in the test, or severely low after it. Of several the gravest: a fall with load,
    /// then one after it.
    PressureResponse as "pressure response" {
        Normal = "normal",
        Flat = "flat",
        Fall = "fall",
        FallAfter = "fall-after",
    }
);

/// A symptom-limited exercise test.
#[derive(Clone, Debug, PartialEq)]
pub struct ExerciseTest {
    /// Peak heart rate in bpm.
    pub peak_hr_bpm: Option<f64>,
    /// Peak capacity in METs.
    pub peak_mets: Option<f64>,
    /// Symptoms; `None` was not recorded, empty was none.
    pub symptoms: Option<Vec<ExerciseTestSymptom>>,
    /// Load in METs at which the first symptom came.
    pub symptom_mets: Option<f64>,
    /// Whether a symptom came in recovery.
    pub symptom_in_recovery: Option<bool>,
    /// Complex ventricular arrhythmia in test or recovery.
    pub arrhythmia: Option<bool>,
    /// Heart rate in bpm at the start of angina or of 1 mm ST depression.
    pub ischaemia_hr_bpm: Option<f64>,
    /// ST depression in mm; 0 is none.
    pub st_depression_mm: Option<f64>,
    /// Pressure response.
    pub bp_response: Option<PressureResponse>,
    /// Whether the heart rate rose as expected.
    pub chronotropic_incompetence: Option<bool>,
    /// Fall of heart rate in the first minute of recovery in bpm.
    pub hr_recovery_1min_bpm: Option<f64>,
    /// "treadmill" or "cycle".
    pub mode: Option<String>,
}

impl ExerciseTest {
    /// A test of which nothing but its having been taken is known.
    pub const fn unknown() -> Self {
        Self {
            peak_hr_bpm: None,
            peak_mets: None,
            symptoms: None,
            symptom_mets: None,
            symptom_in_recovery: None,
            arrhythmia: None,
            ischaemia_hr_bpm: None,
            st_depression_mm: None,
            bp_response: None,
            chronotropic_incompetence: None,
            hr_recovery_1min_bpm: None,
            mode: None,
        }
    }
}
