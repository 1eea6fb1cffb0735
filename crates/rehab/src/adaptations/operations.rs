//! What heals: the breastbone, the arm on the side of a device, the place where a catheter went in, a new hip.

use super::Adapted;
use crate::assessed::Adaptation;
use crate::assessment::{EventKind, HistoryItem, ProcedureKind};
use crate::calendar::{days_after, days_between};
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;
use crate::programme::RestrictionReason;
use jiff::civil::Date;

/// Weeks during which loads on the breastbone are limited: the longer of the usual 6 to 8 and the traditional 12.
// Source: sternal-precautions.
const STERNOTOMY_WEEKS: i32 = 12;
/// Weeks during which the arm on the side of a device stays below the shoulder: the longer of 4 to 6.
// Source: device-arm-survey.
const DEVICE_ARM_WEEKS: i32 = 6;
/// Days without heavy lifting after a catheter at the wrist, the longest of the leaflets.
// Source: access-leaflets: 24 to 48 hours of rest, up to 2 kg for 3 to 4 days.
pub(super) const WRIST_DAYS: i32 = 4;
/// Days without long walks after a catheter at the groin, and days without lifting over 4.5 kg.
// Source: access-leaflets: 48 hours, and two weeks over 10 lb.
const GROIN_WALK_DAYS: i32 = 2;
pub(super) const GROIN_LIFT_DAYS: i32 = 14;
/// Weeks of care with bending, crossing and turning after a new hip.
// Source: hip-precautions (recalled).
const HIP_WEEKS: i32 = 12;

const DAYS: &[Input] = &[Input::number("days_since", "days", 0.0, 40_000.0)];

macro_rules! healing_rule {
    ($id:literal, $name:literal, $statement:literal, $source:literal, $tag:ident, $days:expr) => {
        Rule {
            id: RuleId($id),
            name: $name,
            statement: $statement,
            sources: &[SourceId($source)],
            tag: Tag::$tag,
            inputs: DAYS,
            evaluate: |values| {
                let days = values.number("days_since")?;
                let holds = days < f64::from($days);
                Ok(Answer::new(
                    Value::Flag(holds),
                    format!("{days} days against {}", $days),
                ))
            },
        }
    };
}

const STERNOTOMY: Rule = healing_rule!(
    "adapt/sternotomy",
    "The breastbone heals",
    "Loaded lifting, pushing and pulling are limited for 6 to 8 weeks, traditionally up to 12; 12 is used. Both arms \
     together, close to the body and free of pain is the gentler alternative. Resistance work from 5 weeks on (recalled).",
    "sternal-precautions",
    Recalled,
    STERNOTOMY_WEEKS * 7
);
const DEVICE_ARM: Rule = healing_rule!(
    "adapt/device-arm",
    "The arm on the side of a new device",
    "The elbow stays below the shoulder for 4 to 6 weeks after a pacemaker or defibrillator; 6 is used. Gentle movement \
     keeps the shoulder free. A device under the skin needs less: the clinic may lift it earlier.",
    "device-arm-survey",
    Read,
    DEVICE_ARM_WEEKS * 7
);
const WRIST_ACCESS: Rule = healing_rule!(
    "adapt/catheter-at-the-wrist",
    "A catheter went in at the wrist",
    "Rest of the wrist for 24 to 48 hours, at most 2 kg for 3 to 4 days; 4 days are used.",
    "access-leaflets",
    Read,
    WRIST_DAYS
);
const GROIN_ACCESS: Rule = healing_rule!(
    "adapt/catheter-at-the-groin",
    "A catheter went in at the groin",
    "No long walk for 48 hours, nothing over 4.5 kg (10 lb) for 2 weeks.",
    "access-leaflets",
    Read,
    GROIN_LIFT_DAYS
);
const HIP: Rule = healing_rule!(
    "adapt/hip-replacement",
    "A new hip",
    "For about 12 weeks no bending beyond a right angle, no crossing of the legs and no turning on the leg, unless the \
     surgeon says otherwise.",
    "hip-precautions",
    Recalled,
    HIP_WEEKS * 7
);

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[STERNOTOMY, DEVICE_ARM, WRIST_ACCESS, GROIN_ACCESS, HIP];

/// Adds what still heals.
pub(super) fn apply(known: &Known, adapted: &mut Adapted) {
    sternotomy(known, adapted);
    device_arm(known, adapted);
    access(known, adapted);
    hip(known, adapted);
}

/// Something that heals: since when, and for how many days it holds.
struct Healing<'a> {
    rule: &'a Rule,
    reason: RestrictionReason,
    since: Option<Date>,
    days: i32,
    text: &'a str,
}

/// Adds a restriction while it holds; without its day it holds, and the day is asked for.
fn heal(known: &Known, healing: &Healing, adapted: &mut Adapted) {
    let finding = match healing.since {
        Some(since) => {
            let passed = days_between(since, known.on).max(0);
            if passed >= healing.days {
                return;
            }
            let until = days_after(since, healing.days);
            finding(healing, format!("{} Until {until}", healing.text))
                .with(Named::date("since", since))
                .with(Named::date("until", until))
        }
        None => finding(
            healing,
            format!(
                "{} Its day is not recorded, so it holds until it is",
                healing.text
            ),
        ),
    };
    if healing.since.is_none() {
        adapted.questions.push(
            healing
                .rule
                .finding(
                    Weight::FindOut,
                    format!(
                        "When was it ({})? It decides when loads are free",
                        healing.rule.name
                    ),
                )
                .asking("the hospital's letter", "the exercises it restricts"),
        );
    }
    adapted.findings.push(finding.clone());
    adapted.adaptations.push(Adaptation {
        reason: healing.reason,
        weeks_since: healing
            .since
            .map(|since| f64::from(days_between(since, known.on).max(0)) / 7.0),
        until: healing.since.map(|since| days_after(since, healing.days)),
        joint: None,
        finding,
    });
}

fn finding(healing: &Healing, text: String) -> Finding {
    healing.rule.finding(Weight::Adapt, text)
}

fn sternotomy(known: &Known, adapted: &mut Adapted) {
    let text = "The breastbone heals: no loaded lifting, pushing or pulling, arms together and close to the body.";
    if known.has(HistoryItem::SternumUnstable) {
        let finding = STERNOTOMY.finding(
            Weight::Adapt,
            "The breastbone is unstable: no lifting, pushing or pulling until the surgeon has seen it",
        );
        adapted.restrict(RestrictionReason::Sternotomy, None, finding);
        return;
    }
    let days = known.sternotomies();
    let since = if days.contains(&None) {
        None
    } else {
        days.iter().flatten().max().copied()
    };
    if !days.is_empty() {
        let healing = Healing {
            rule: &STERNOTOMY,
            reason: RestrictionReason::Sternotomy,
            since,
            days: STERNOTOMY_WEEKS * 7,
            text,
        };
        heal(known, &healing, adapted);
    }
}

/// Days on which a device was implanted; `None` for one without a day. A device that is recorded without any
/// implant among the events has no day either.
fn implants(known: &Known) -> Vec<Option<Date>> {
    let mut days = Vec::new();
    for event in known.events() {
        let device =
            |kind: ProcedureKind| matches!(kind, ProcedureKind::Pacemaker | ProcedureKind::Icd);
        let mut found = false;
        for procedure in event.procedures.iter().filter(|one| device(one.kind)) {
            days.push(procedure.date.or(event.date));
            found = true;
        }
        if event.kind == EventKind::DeviceImplant && !found {
            days.push(event.date);
        }
    }
    let heart = &known.case.heart;
    if days.is_empty() && (heart.device.is_some() || heart.pacemaker.is_some()) {
        days.push(None);
    }
    days
}

fn device_arm(known: &Known, adapted: &mut Adapted) {
    let days = implants(known);
    if days.is_empty() {
        return;
    }
    let since = if days.contains(&None) {
        None
    } else {
        days.iter().flatten().max().copied()
    };
    let healing = Healing {
        rule: &DEVICE_ARM,
        reason: RestrictionReason::DeviceArm,
        since,
        days: DEVICE_ARM_WEEKS * 7,
        text: "The arm on the side of the device stays below the shoulder; move it gently.",
    };
    heal(known, &healing, adapted);
}

fn access(known: &Known, adapted: &mut Adapted) {
    let newest = known
        .events()
        .flat_map(|event| {
            event
                .procedures
                .iter()
                .filter(|one| one.kind == ProcedureKind::Stent)
                .filter_map(|one| Some((one.date.or(event.date)?, one.access.as_deref())))
        })
        .max_by_key(|(date, _)| *date);
    let Some((date, way)) = newest else {
        return;
    };
    let passed = days_between(date, known.on);
    if way != Some("groin") && passed < WRIST_DAYS {
        let healing = Healing {
            rule: &WRIST_ACCESS,
            reason: RestrictionReason::WristPain,
            since: Some(date),
            days: WRIST_DAYS,
            text: "A catheter went in at the wrist, or its place is not recorded: spare that hand, at most 2 kg.",
        };
        heal(known, &healing, adapted);
    }
    if way != Some("wrist") && passed < GROIN_LIFT_DAYS {
        let walk = days_after(date, GROIN_WALK_DAYS);
        let lift = days_after(date, GROIN_LIFT_DAYS);
        adapted.findings.push(
            GROIN_ACCESS
                .finding(
                    Weight::Adapt,
                    format!(
                        "A catheter went in at the groin, or its place is not recorded: no long walk until {walk}, \
                         nothing over 4.5 kg until {lift}"
                    ),
                )
                .with(Named::date("since", date)),
        );
    }
}

fn hip(known: &Known, adapted: &mut Adapted) {
    if !known.has(HistoryItem::HipReplacement) {
        return;
    }
    let since = known.case.history.began(HistoryItem::HipReplacement);
    for reason in [
        RestrictionReason::HipReplacement,
        RestrictionReason::HipFlexion,
        RestrictionReason::HipAdduction,
        RestrictionReason::HipPivot,
    ] {
        let healing = Healing {
            rule: &HIP,
            reason,
            since,
            days: HIP_WEEKS * 7,
            text: "A new hip: no bending beyond a right angle, no crossing, no turning on the leg.",
        };
        heal(known, &healing, adapted);
    }
    dedupe(&mut adapted.findings);
    dedupe(&mut adapted.questions);
}

/// One finding of each text: several restrictions of one operation say it once.
fn dedupe(findings: &mut Vec<Finding>) {
    let mut seen: Vec<String> = Vec::new();
    findings.retain(|one| {
        let new = !seen.contains(&one.text);
        seen.push(one.text.clone());
        new
    });
}
