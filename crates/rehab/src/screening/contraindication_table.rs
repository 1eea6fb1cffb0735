//! The table of contraindications: each with its strength, its consequence and what to do.

use super::contraindications::{BOOKS, Contraindication, OURS, REVIEW_AND_RESPIRATORY, item};
use crate::assessment::HistoryItem;
use crate::evidence::{SourceId, Tag};

const DOCTOR_TODAY: &str = "telephone the treating doctor today";
const HOSPITAL_NOW: &str = "use the emergency text of the service";
const SPECIALIST: &str = "the specialist decides where and how; write to them";

/// The table.
pub(super) const TABLE: &[Contraindication] = &[
    item(
        "contraindication/unstable-angina",
        HistoryItem::UnstableAngina,
        "Unstable angina",
        "Unstable angina is an absolute contraindication: chest discomfort at rest, unpredictable, at a lower load \
         than usual, or new within one month.",
        HOSPITAL_NOW,
    )
    .from(
        &[SourceId("heart-fail-rev-2023"), SourceId("uk-phase-iv")],
        Tag::Read,
    ),
    item(
        "contraindication/decompensated-heart-failure",
        HistoryItem::DecompensatedHeartFailure,
        "Decompensated heart failure",
        "Uncompensated or decompensated heart failure is an absolute contraindication until it is stable.",
        DOCTOR_TODAY,
    )
    .from(REVIEW_AND_RESPIRATORY, Tag::Read),
    item(
        "contraindication/worsening-tolerance",
        HistoryItem::WorseningTolerance,
        "Tolerance worsening over days",
        "Exercise tolerance or breathlessness that has become worse over 3 to 5 days is an absolute contraindication.",
        DOCTOR_TODAY,
    )
    .from(REVIEW_AND_RESPIRATORY, Tag::Read),
    item(
        "contraindication/ischaemia-at-low-load",
        HistoryItem::IschaemiaAtLowLoad,
        "Ischaemia at a low load",
        "Significant ischaemia at a low load (under 2 METs, about 50 W) is an absolute contraindication.",
        SPECIALIST,
    )
    .from(REVIEW_AND_RESPIRATORY, Tag::Read)
    .not_at_home(),
    item(
        "contraindication/thrombophlebitis",
        HistoryItem::Thrombophlebitis,
        "Acute thrombophlebitis",
        "Acute thrombophlebitis is an absolute contraindication.",
        DOCTOR_TODAY,
    ),
    item(
        "contraindication/recent-embolism",
        HistoryItem::RecentEmbolism,
        "Recent embolism",
        "A recent systemic or pulmonary embolism is an absolute contraindication (one body: under 4 weeks, secondary).",
        DOCTOR_TODAY,
    )
    .from(
        &[
            SourceId("heart-fail-rev-2023"),
            SourceId("australian-heart-failure"),
        ],
        Tag::Read,
    ),
    item(
        "contraindication/endocarditis",
        HistoryItem::Endocarditis,
        "Active endocarditis",
        "Active endocarditis is an absolute contraindication.",
        DOCTOR_TODAY,
    ),
    item(
        "contraindication/myocarditis-or-pericarditis",
        HistoryItem::MyocarditisOrPericarditis,
        "Acute myocarditis or pericarditis",
        "Acute myocarditis or pericarditis is an absolute contraindication.",
        DOCTOR_TODAY,
    ),
    item(
        "contraindication/aortic-dissection",
        HistoryItem::AorticDissection,
        "Aortic dissection",
        "Aortic dissection is an absolute contraindication; after treatment the specialist decides.",
        SPECIALIST,
    )
    .not_at_home(),
    item(
        "contraindication/severe-aortic-stenosis",
        HistoryItem::SevereAorticStenosis,
        "Symptomatic severe aortic stenosis",
        "Symptomatic severe aortic stenosis is an absolute contraindication (older texts, recalled: valve \
         area under 1.0 cm2).",
        SPECIALIST,
    )
    .from(
        &[
            SourceId("heart-fail-rev-2023"),
            SourceId("acsm-getp"),
            SourceId("aacvpr-guidelines"),
        ],
        Tag::Recalled,
    )
    .not_at_home(),
    item(
        "contraindication/acute-illness",
        HistoryItem::AcuteIllness,
        "Acute illness or fever",
        "Acute systemic illness or fever is an absolute contraindication.",
        "wait until they are well and 48 hours without fever, then examine again",
    ),
    item(
        "contraindication/uncontrolled-arrhythmia",
        HistoryItem::UncontrolledArrhythmia,
        "Uncontrolled arrhythmia",
        "Uncontrolled or life-threatening arrhythmia is an absolute contraindication.",
        DOCTOR_TODAY,
    ),
    item(
        "contraindication/new-atrial-fibrillation",
        HistoryItem::NewAtrialFibrillation,
        "New atrial fibrillation or flutter",
        "Atrial fibrillation or flutter that is new is an absolute contraindication until a doctor has settled it.",
        DOCTOR_TODAY,
    ),
    item(
        "contraindication/unpaced-third-degree-block",
        HistoryItem::UnpacedThirdDegreeBlock,
        "Third-degree block without a pacemaker",
        "Third-degree atrioventricular block without a pacemaker is an absolute contraindication.",
        DOCTOR_TODAY,
    ),
    item(
        "contraindication/uncontrolled-diabetes",
        HistoryItem::UncontrolledDiabetes,
        "Uncontrolled diabetes",
        "Uncontrolled diabetes is an absolute contraindication.",
        DOCTOR_TODAY,
    ),
    item(
        "contraindication/sternum-unstable",
        HistoryItem::SternumUnstable,
        "Unstable breastbone",
        "A breastbone that clicks, moves or gapes after surgery holds back training until the surgeon has seen it \
         (our default).",
        "telephone the surgical team today; no pushing, pulling or lifting",
    )
    .from(OURS, Tag::Ours),
    item(
        "contraindication/thyroiditis",
        HistoryItem::Thyroiditis,
        "Acute thyroiditis",
        "Acute thyroiditis is a contraindication until it is treated.",
        DOCTOR_TODAY,
    )
    .from(BOOKS, Tag::Recalled)
    .relative(),
    item(
        "contraindication/electrolyte-disturbance",
        HistoryItem::ElectrolyteDisturbance,
        "Low or high potassium",
        "Low or high potassium is a contraindication until it is corrected.",
        DOCTOR_TODAY,
    )
    .from(BOOKS, Tag::Recalled)
    .relative(),
    item(
        "contraindication/hypovolaemia",
        HistoryItem::Hypovolaemia,
        "Loss of fluid",
        "Hypovolaemia is a contraindication until it is corrected.",
        DOCTOR_TODAY,
    )
    .from(BOOKS, Tag::Recalled)
    .relative(),
    item(
        "contraindication/severe-anaemia",
        HistoryItem::SevereAnaemia,
        "Severe anaemia",
        "Severe anaemia is a contraindication until it is treated.",
        DOCTOR_TODAY,
    )
    .from(BOOKS, Tag::Recalled)
    .relative(),
    item(
        "contraindication/inotrope-therapy",
        HistoryItem::InotropeTherapy,
        "Inotrope therapy",
        "Treatment with dobutamine or another inotrope is a relative contraindication; never at home (our default).",
        SPECIALIST,
    )
    .relative()
    .not_at_home(),
    item(
        "contraindication/severe-outflow-obstruction",
        HistoryItem::SevereOutflowObstruction,
        "Severe outflow obstruction",
        "Severe hypertrophic obstruction is a relative contraindication; never at home (our default).",
        SPECIALIST,
    )
    .relative()
    .not_at_home(),
    item(
        "contraindication/ventricular-assist-device",
        HistoryItem::VentricularAssistDevice,
        "Ventricular assist device",
        "With a ventricular assist device training belongs to the implanting centre, not to an unattended home \
         programme (our default).",
        SPECIALIST,
    )
    .from(OURS, Tag::Ours)
    .relative()
    .not_at_home(),
    item(
        "contraindication/pregnancy",
        HistoryItem::Pregnancy,
        "Pregnancy with heart disease",
        "Heart disease and pregnancy: only under a specialist, not in an unattended home programme (our default).",
        SPECIALIST,
    )
    .from(
        &[
            SourceId("contraindications-ours"),
            SourceId("mottola-2019"),
            SourceId("meah-2020"),
        ],
        Tag::Ours,
    )
    .relative()
    .not_at_home(),
    item(
        "contraindication/complex-arrhythmia",
        HistoryItem::ComplexArrhythmia,
        "Complex ventricular arrhythmia",
        "Complex ventricular arrhythmia at rest or with exertion is a relative contraindication.",
        "ask the doctor whether they agree to a home programme",
    )
    .until_agreed(),
    item(
        "contraindication/pressure-fall-in-exercise",
        HistoryItem::PressureFallInExercise,
        "Pressure that falls with exercise",
        "Systolic pressure that falls with exercise is a relative contraindication.",
        "ask the doctor whether they agree to a home programme",
    )
    .until_agreed(),
    item(
        "contraindication/limiting-comorbidity",
        HistoryItem::LimitingComorbidity,
        "A comorbidity that limits exercise",
        "A comorbidity that severely limits exercise is a relative contraindication.",
        "ask the doctor whether they agree to a home programme",
    )
    .until_agreed(),
    item(
        "contraindication/severe-orthopaedic-limit",
        HistoryItem::SevereOrthopaedicLimit,
        "Severe orthopaedic limit",
        "A severe orthopaedic condition that forbids exercise is a relative contraindication.",
        "ask the doctor whether they agree to a home programme",
    )
    .from(BOOKS, Tag::Recalled)
    .until_agreed(),
    item(
        "contraindication/severe-psychological-limit",
        HistoryItem::SeverePsychologicalLimit,
        "Severe psychological limit",
        "A severe psychological condition that forbids exercise is a relative contraindication.",
        "ask the doctor whether they agree to a home programme",
    )
    .from(BOOKS, Tag::Recalled)
    .until_agreed(),
];
