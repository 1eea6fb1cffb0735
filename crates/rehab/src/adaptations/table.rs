//! Conditions of the history, each with what it changes in a session.

use super::Adapted;
use crate::assessment::HistoryItem;
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::known::Known;
use crate::programme::RestrictionReason;

/// One condition: its rule, the item that says so and the restriction it switches on.
pub(super) struct Condition {
    pub(super) rule: Rule,
    item: HistoryItem,
    reason: Option<RestrictionReason>,
    text: &'static str,
}

const PRESENT: &[Input] = &[Input::flag("present")];

macro_rules! condition {
    ($item:ident, $reason:expr, $id:literal, $name:literal, $statement:literal, [$($source:literal),+], $tag:ident, $text:literal) => {
        Condition {
            rule: Rule {
                id: RuleId($id),
                name: $name,
                statement: $statement,
                sources: &[$(SourceId($source)),+],
                tag: Tag::$tag,
                inputs: PRESENT,
                evaluate: |values| {
                    let word = if values.flag("present")? { $text } else { "nothing" };
                    Ok(Answer::new(Value::Text(word.to_owned()), word))
                },
            },
            item: HistoryItem::$item,
            reason: $reason,
            text: $text,
        }
    };
}

/// The table.
pub(super) const TABLE: &[Condition] = &[
    condition!(
        HeartFailure,
        None,
        "adapt/heart-failure",
        "Heart failure",
        "Heart failure: begin with 10 to 15 minutes two or three times a week and grow to 30 minutes five times; longer \
         warm-up and cool-down, intervals, weight every day (the latter recalled). The minutes are those of the brisk and \
         easy turns; warm-up and cool-down come on top (our reading).",
        ["ccs-heart-failure", "adaptation-practice"],
        Recalled,
        "Heart failure: the turns come to 10 to 15 minutes at most to begin, two or three times a week; a long warm-up and \
         cool-down come on top, and the first page is these alone; intervals, weight every day"
    ),
    condition!(
        Diabetes,
        None,
        "adapt/diabetes",
        "Diabetes",
        "Diabetes: glucose before and, with insulin or a sulfonylurea, after the session; fast sugar within reach; feet \
         looked at. A beta-blocker can hide the signs of low sugar (recalled).",
        ["ada-2016", "adaptation-practice"],
        Recalled,
        "Diabetes: glucose before the session, fast sugar within reach, look at the feet; a beta-blocker hides low sugar"
    ),
    condition!(
        ChronicObstructivePulmonaryDisease,
        None,
        "adapt/lung-disease",
        "Chronic obstructive lung disease",
        "Chronic obstructive lung disease: keep oxygen saturation at 88 per cent or more, breathlessness up to 3 to 4 of \
         10, intervals, breathing out with the effort (recalled).",
        ["garvey-2012", "adaptation-practice"],
        Recalled,
        "Lung disease: saturation stays at 88 per cent or more, breathless up to 3 to 4 of 10, intervals"
    ),
    condition!(
        PeripheralArterialDisease,
        Some(RestrictionReason::Claudication),
        "adapt/claudication",
        "Peripheral arterial disease",
        "Peripheral arterial disease: walk to moderate or strong leg pain, rest until it is gone, repeat; 30 to 45 minutes, \
         three times a week or more, 12 weeks or more.",
        ["gerhard-herman-2016", "adaptation-practice"],
        Read,
        "Leg arteries: walk to moderate leg pain, rest until it is gone, repeat; growing to 30 to 45 minutes"
    ),
    condition!(
        Stroke,
        None,
        "adapt/stroke",
        "Stroke",
        "After a stroke: 20 to 60 minutes, 3 to 5 days a week, effort 11 to 14 on 6 to 20, one to three sets of 10 to 15; \
         every station with a chair or wall against a fall.",
        ["aha-stroke"],
        Read,
        "After a stroke: every station with a chair or wall within reach, the stronger side first shown"
    ),
    condition!(
        Osteoporosis,
        Some(RestrictionReason::Osteoporosis),
        "adapt/osteoporosis",
        "Osteoporosis",
        "Osteoporosis: no loaded or end-range bending of the back; with falls balance comes first.",
        ["brooke-wavell-2022"],
        Read,
        "Osteoporosis: no bending or twisting of the back with load or to the end of its range"
    ),
    condition!(
        VertebralFracture,
        Some(RestrictionReason::Osteoporosis),
        "adapt/vertebral-fracture",
        "Vertebral fracture",
        "After a vertebral fracture: impact no more than a brisk walk, no loaded or end-range bending of the back.",
        ["brooke-wavell-2022"],
        Read,
        "After a vertebral fracture: no impact beyond a brisk walk, no bending of the back with load"
    ),
    condition!(
        FootNeuropathy,
        Some(RestrictionReason::FootNeuropathy),
        "adapt/foot-neuropathy",
        "Numb feet",
        "Numb feet: sturdy shoes, feet looked at before and after, no standing on the toes or heel to toe (recalled).",
        ["adaptation-practice"],
        Recalled,
        "Numb feet: sturdy shoes, look at the feet before and after"
    ),
    condition!(
        LowVision,
        Some(RestrictionReason::LowVision),
        "adapt/low-vision",
        "Low vision",
        "Low vision: cues that can be heard, strong contrast, a fixed clear space, no step unless there is a rail (our \
         default).",
        ["adaptation-ours"],
        Ours,
        "Low vision: spoken cues, strong contrast, a fixed clear space, no step without a rail"
    ),
    condition!(
        Vertigo,
        Some(RestrictionReason::Vertigo),
        "adapt/vertigo",
        "Vertigo",
        "Vertigo: no quick turns of the head, no looking up, support within reach (recalled).",
        ["adaptation-practice"],
        Recalled,
        "Vertigo: slow turns, eyes on one point, support within reach"
    ),
    condition!(
        Hypertension,
        None,
        "adapt/hypertension",
        "High blood pressure",
        "Known high blood pressure: no held breath, no long holds, pressure measured before each watched session (recalled).",
        ["adaptation-practice"],
        Recalled,
        "High blood pressure: breathe freely, no long holds; measure before each watched session"
    ),
];

/// Adds the conditions that are present.
pub(super) fn apply(known: &Known, adapted: &mut Adapted) {
    for condition in TABLE.iter().filter(|one| known.has(one.item)) {
        let finding = condition.rule.finding(Weight::Adapt, condition.text);
        match condition.reason {
            Some(reason) => adapted.restrict(reason, None, finding),
            None => adapted.findings.push(finding),
        }
    }
}
