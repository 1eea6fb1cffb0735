//! What examination, rhythm, risk and balance change in a session.

use super::Adapted;
use crate::assessed::RiskClass;
use crate::assessment::{EventKind, Rhythm};
use crate::diary::SymptomKind;
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::inputs::yes_no;
use crate::known::Known;
use crate::limits::{Balance, Posture};
use crate::programme::RestrictionReason;

/// Resting pressure from which work above the shoulder is left out.
// Source: adaptation-ours.
const HIGH_SYSTOLIC_MMHG: f64 = 160.0;
const HIGH_DIASTOLIC_MMHG: f64 = 100.0;

const HIGH_PRESSURE: Rule = Rule {
    id: RuleId("adapt/high-pressure"),
    name: "Pressure too high for overhead work",
    statement: "With a resting pressure of 160 systolic or 100 diastolic or more nothing is done above the shoulder and \
                nothing is held (our default).",
    sources: &[SourceId("adaptation-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("systolic_mmhg", "mmHg", 50.0, 280.0),
        Input::number("diastolic_mmhg", "mmHg", 20.0, 180.0),
    ],
    evaluate: |values| {
        let (systolic, diastolic) = (
            values.number("systolic_mmhg")?,
            values.number("diastolic_mmhg")?,
        );
        let high = is_high(systolic, diastolic);
        Ok(Answer::new(
            Value::Flag(high),
            format!("{systolic}/{diastolic}"),
        ))
    },
};

macro_rules! told_rule {
    ($const:ident, $id:literal, $name:literal, $statement:literal, [$($source:literal),+], $tag:ident) => {
        const $const: Rule = Rule {
            id: RuleId($id),
            name: $name,
            statement: $statement,
            sources: &[$(SourceId($source)),+],
            tag: Tag::$tag,
            inputs: &[Input::flag("present")],
            evaluate: |values| {
                let present = values.flag("present")?;
                Ok(Answer::new(Value::Flag(present), format!("present: {}", yes_no(present))))
            },
        };
    };
}

told_rule!(
    HIGH_RISK,
    "adapt/high-risk",
    "High risk",
    "In high risk nothing continuous on stairs and nothing that cannot be stopped at once (our default).",
    ["adaptation-ours"],
    Ours
);
told_rule!(
    POOR_BALANCE,
    "adapt/poor-balance",
    "Poor balance",
    "With poor balance every standing station has support within reach, and what asks for one foot is left out.",
    ["balance-ours"],
    Ours
);
told_rule!(
    HYPOTENSION,
    "adapt/hypotension",
    "Pressure that falls",
    "Where pressure was seen to be low or to fall, changes of posture are slow, feet keep moving, the cool-down is long \
     and nothing stops suddenly.",
    ["thow-2006", "adaptation-practice"],
    Recalled
);
told_rule!(
    FIBRILLATION,
    "adapt/atrial-fibrillation",
    "Atrial fibrillation or flutter",
    "In atrial fibrillation effort and the talk test lead; the pulse is counted over a full minute.",
    ["keteyian-2019", "cornelis-2018"],
    Read
);
told_rule!(
    ANGINA,
    "adapt/angina",
    "Angina on exertion",
    "With angina on exertion a spray that is known to work may be taken before exertion; it works within 1 to 3 minutes. \
     Work stays below the load that brings it on.",
    ["nhs-gtn"],
    Read
);
told_rule!(
    TRANSPLANT,
    "adapt/transplant",
    "A transplanted heart",
    "A transplanted heart answers late: longer warm-up and cool-down, effort leads.",
    ["jcm-2021-t3", "adaptation-practice"],
    Recalled
);
told_rule!(
    DEFIBRILLATOR,
    "adapt/defibrillator",
    "An implanted defibrillator",
    "With a defibrillator the pulse stays under its rate. One shock and well: clinic the same or next day; one and unwell, \
     or two or more: emergency.",
    ["pernick-icd"],
    Read
);

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[
    HIGH_PRESSURE,
    HIGH_RISK,
    POOR_BALANCE,
    HYPOTENSION,
    FIBRILLATION,
    ANGINA,
    TRANSPLANT,
    DEFIBRILLATOR,
];

fn is_high(systolic_mmhg: f64, diastolic_mmhg: f64) -> bool {
    systolic_mmhg >= HIGH_SYSTOLIC_MMHG || diastolic_mmhg >= HIGH_DIASTOLIC_MMHG
}

/// Adds what examination, rhythm, risk and balance change.
pub(super) fn apply(
    known: &Known,
    class: RiskClass,
    balance: &Balance,
    posture: &Posture,
    adapted: &mut Adapted,
) {
    if balance.poor {
        let text =
            "Poor balance: support within reach at every standing station, nothing on one foot";
        let finding = POOR_BALANCE.finding(Weight::Adapt, text);
        adapted.restrict(RestrictionReason::PoorBalance, None, finding);
    }
    if posture.hypotension_seen {
        let text = "Pressure is low or falls: few and slow changes of posture, feet moving, no sudden stop";
        let finding = HYPOTENSION.finding(Weight::Adapt, text);
        adapted.restrict(RestrictionReason::OrthostaticHypotension, None, finding);
    }
    if let Some(pressure) = known.examination().and_then(|one| one.resting_bp)
        && is_high(pressure.systolic_mmhg, pressure.diastolic_mmhg)
    {
        let text = format!(
            "Pressure {}/{} at rest: nothing above the shoulder, nothing held",
            pressure.systolic_mmhg, pressure.diastolic_mmhg
        );
        let finding = HIGH_PRESSURE
            .finding(Weight::Adapt, text)
            .with(Named::number(
                "systolic_mmhg",
                pressure.systolic_mmhg,
                "mmHg",
            ))
            .with(Named::number(
                "diastolic_mmhg",
                pressure.diastolic_mmhg,
                "mmHg",
            ));
        adapted.restrict(RestrictionReason::HighPressure, None, finding);
    }
    if class == RiskClass::High {
        let text = "High risk: gentle band, nothing continuous on stairs, nothing that cannot be stopped at once";
        let finding = HIGH_RISK.finding(Weight::Adapt, text);
        adapted.restrict(RestrictionReason::HighRisk, None, finding);
    }
    tell(known, adapted);
}

/// What is told without a restriction.
fn tell(known: &Known, adapted: &mut Adapted) {
    let heart = &known.case.heart;
    if matches!(
        heart.rhythm,
        Some(Rhythm::AtrialFibrillation | Rhythm::AtrialFlutter)
    ) {
        adapted.findings.push(FIBRILLATION.finding(
            Weight::Adapt,
            "Atrial fibrillation or flutter: effort and the talk test lead; count the pulse over a full minute",
        ));
    }
    if known.had(EventKind::Angina) || known.usual(SymptomKind::ChestDiscomfort) {
        adapted.findings.push(ANGINA.finding(
            Weight::Adapt,
            "Angina on exertion: stay below what brings it on; a spray that works may be taken before exertion",
        ));
    }
    if known.had(EventKind::Transplant) {
        adapted.findings.push(TRANSPLANT.finding(
            Weight::Adapt,
            "A transplanted heart answers late: longer warm-up and cool-down, effort leads",
        ));
    }
    if heart.device.is_some() {
        adapted.findings.push(DEFIBRILLATOR.finding(
            Weight::Adapt,
            "A defibrillator: stay under its rate. One shock and well, the clinic the same or next day; unwell or more \
             than one, emergency",
        ));
    }
}
