//! Events and history: what happened, what was asked, what is absent.

use jiff::civil::Date;

closed_words!(
    /// Kind of heart event.
    EventKind as "event" {
        MyocardialInfarction = "myocardial-infarction",
        Angina = "angina",
        HeartFailure = "heart-failure",
        ValveSurgery = "valve-surgery",
        CatheterValve = "catheter-valve",
        BypassSurgery = "bypass-surgery",
        DeviceImplant = "device-implant",
        Transplant = "transplant",
        CardiacArrest = "cardiac-arrest",
        CoronaryDissection = "coronary-dissection",
        StressCardiomyopathy = "stress-cardiomyopathy",
        AneurysmRepair = "aneurysm-repair",
        Other = "other",
    }
);

closed_words!(
    /// Kind of procedure.
    ProcedureKind as "procedure" {
        Stent = "stent",
        Bypass = "bypass",
        Valve = "valve",
        Pacemaker = "pacemaker",
        Icd = "icd",
        Sternotomy = "sternotomy",
        Other = "other",
    }
);

/// One heart event.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    /// What happened.
    pub kind: EventKind,
    /// When.
    pub date: Option<Date>,
    /// What was done.
    pub procedures: Vec<Procedure>,
    /// Whether its course was complicated.
    pub complicated: Option<bool>,
    /// Whether untreated narrowing remains.
    pub residual_disease: Option<bool>,
}

/// One procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Procedure {
    /// What was done.
    pub kind: ProcedureKind,
    /// When; without it the day of its event counts.
    pub date: Option<Date>,
    /// Where the vessel was entered, for a stent: "wrist" or "groin".
    pub access: Option<String>,
}

closed_words!(
    /// The closed list of what history asks: contraindications, risk criteria and conditions that change a programme.
    HistoryItem as "history word" {
        UnstableAngina = "unstable-angina",
        DecompensatedHeartFailure = "decompensated-heart-failure",
        WorseningTolerance = "worsening-tolerance",
        IschaemiaAtLowLoad = "ischaemia-at-low-load",
        Thrombophlebitis = "thrombophlebitis",
        RecentEmbolism = "recent-embolism",
        Endocarditis = "endocarditis",
        MyocarditisOrPericarditis = "myocarditis-or-pericarditis",
        AorticDissection = "aortic-dissection",
        SevereAorticStenosis = "severe-aortic-stenosis",
        AcuteIllness = "acute-illness",
        UncontrolledArrhythmia = "uncontrolled-arrhythmia",
        NewAtrialFibrillation = "new-atrial-fibrillation",
        UnpacedThirdDegreeBlock = "unpaced-third-degree-block",
        UncontrolledDiabetes = "uncontrolled-diabetes",
        SternumUnstable = "sternum-unstable",
        SevereOutflowObstruction = "severe-outflow-obstruction",
        InotropeTherapy = "inotrope-therapy",
        Thyroiditis = "thyroiditis",
        ElectrolyteDisturbance = "electrolyte-disturbance",
        Hypovolaemia = "hypovolaemia",
        SevereAnaemia = "severe-anaemia",
        SevereOrthopaedicLimit = "severe-orthopaedic-limit",
        SeverePsychologicalLimit = "severe-psychological-limit",
        LimitingComorbidity = "limiting-comorbidity",
        PressureFallInExercise = "pressure-fall-in-exercise",
        HeartFailure = "heart-failure",
        ClinicalDepression = "clinical-depression",
        ComplexArrhythmia = "complex-arrhythmia",
        CardiacArrest = "cardiac-arrest",
        PostEventIschaemia = "post-event-ischaemia",
        Diabetes = "diabetes",
        ChronicObstructivePulmonaryDisease = "chronic-obstructive-pulmonary-disease",
        PeripheralArterialDisease = "peripheral-arterial-disease",
        Stroke = "stroke",
        Osteoporosis = "osteoporosis",
        VertebralFracture = "vertebral-fracture",
        KneeOsteoarthritis = "knee-osteoarthritis",
        HipOsteoarthritis = "hip-osteoarthritis",
        HipReplacement = "hip-replacement",
        ShoulderPain = "shoulder-pain",
        BackPain = "back-pain",
        WristPain = "wrist-pain",
        FootNeuropathy = "foot-neuropathy",
        Vertigo = "vertigo",
        PoorBalance = "poor-balance",
        LowVision = "low-vision",
        OrthostaticHypotension = "orthostatic-hypotension",
        Pregnancy = "pregnancy",
        VentricularAssistDevice = "ventricular-assist-device",
        Hypertension = "hypertension",
        ChronicKidneyDisease = "chronic-kidney-disease",
        RecentAssistedHypoglycaemia = "recent-assisted-hypoglycaemia",
    }
);

closed_words!(
    /// What is known of one item.
    Answered as "answer" { Present = "present", Absent = "absent", NotKnown = "not known" }
);

/// What was asked of the history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct History {
    /// Present.
    pub present: Vec<HistoryItem>,
    /// Asked and absent.
    pub absent: Vec<HistoryItem>,
    /// One tick that answers every other item as absent, with who said so.
    pub rest_absent: Option<String>,
    /// Not asked, whatever `rest_absent` says of the others.
    pub not_asked: Vec<HistoryItem>,
    /// When an item began (replacement, embolism, fracture ...), where it is known.
    pub since: Vec<(HistoryItem, Date)>,
}

impl History {
    /// Nothing asked.
    pub const fn unasked() -> Self {
        Self {
            present: Vec::new(),
            absent: Vec::new(),
            rest_absent: None,
            not_asked: Vec::new(),
            since: Vec::new(),
        }
    }

    /// What is known of one item: listed present wins over everything, not asked over what is said of all others, and
    /// not listed is not known.
    pub fn answer(&self, item: HistoryItem) -> Answered {
        if self.present.contains(&item) {
            Answered::Present
        } else if self.not_asked.contains(&item) {
            Answered::NotKnown
        } else if self.absent.contains(&item) || self.rest_absent.is_some() {
            Answered::Absent
        } else {
            Answered::NotKnown
        }
    }

    /// Whether the item is listed as present.
    pub fn has(&self, item: HistoryItem) -> bool {
        self.present.contains(&item)
    }

    /// When an item began, where it is known.
    pub fn began(&self, item: HistoryItem) -> Option<Date> {
        self.since
            .iter()
            .find(|(one, _)| *one == item)
            .map(|(_, date)| *date)
    }
}
