//! Joints that hurt: the exercise changes, the heart programme stays.

use super::Adapted;
use crate::assessment::{HistoryItem, Joint, Pain};
use crate::diary::SymptomKind;
use crate::evidence::{Answer, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::inputs::{answer_word, or_not_known};
use crate::known::Known;
use crate::programme::RestrictionReason;

/// Pain of 10 during exercise up to which it goes on. Source: `joint-pain-ours`.
pub const JOINT_DURING: f64 = 5.0;

const PAIN: Rule = Rule {
    id: RuleId("adapt/joint-pain"),
    name: "A joint that hurts",
    statement: "A sore joint changes the exercise (higher seat, hands, fewer, smaller), never the heart programme; \
                strengthening is treatment. Pain up to 5 of 10 during, settled within 2 hours (recalled) and back to usual \
                next morning goes on, else that exercise is eased (our default).",
    sources: &[
        SourceId("joint-pain-ours"),
        SourceId("osteoarthritis-practice"),
    ],
    tag: Tag::Ours,
    inputs: &[
        Input::number("during", "of 10", 0.0, 10.0).or_none(),
        Input::flag("settled_2h").or_none(),
        Input::flag("worse_next_morning").or_none(),
    ],
    evaluate: |values| {
        let during = values.optional_number("during");
        let yes = |name| values.optional_text(name).map(|word| word == "yes");
        let (settled, worse) = (yes("settled_2h"), yes("worse_next_morning"));
        let word = if must_ease(during, settled, worse) {
            "ease it"
        } else {
            "goes on"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!(
                "{}, settled within 2 hours: {}, worse next morning: {}",
                or_not_known(during, "of 10"),
                answer_word(settled),
                answer_word(worse)
            ),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[PAIN];

/// Whether an exercise is eased because a joint hurt too much in it, had not settled soon, or was worse next morning.
pub(crate) fn must_ease(
    during: Option<f64>,
    settled_2h: Option<bool>,
    worse_next_morning: Option<bool>,
) -> bool {
    worse_next_morning == Some(true)
        || settled_2h == Some(false)
        || during.is_some_and(|score| score > JOINT_DURING)
}

/// The restriction a sore joint switches on; some joints have none and are only told.
const fn reason_of(joint: Joint) -> Option<RestrictionReason> {
    match joint {
        Joint::Knee => Some(RestrictionReason::KneePain),
        Joint::Hip => Some(RestrictionReason::HipPain),
        Joint::Shoulder => Some(RestrictionReason::ShoulderPain),
        Joint::Wrist => Some(RestrictionReason::WristPain),
        Joint::Back => Some(RestrictionReason::BackPain),
        Joint::Ankle | Joint::Elbow | Joint::Neck => None,
    }
}

const fn advice(joint: Joint) -> &'static str {
    match joint {
        Joint::Knee => {
            "higher seat, hands on the arms, smaller bends, no steps while it is sore; strengthening stays"
        }
        Joint::Hip => "higher seat, smaller steps, hands on the chair; strengthening stays",
        Joint::Ankle => "slow and small, hands on the chair, seated where it helps",
        Joint::Shoulder => "hands below the shoulder, lighter or no weights",
        Joint::Elbow | Joint::Wrist => "no grip on weights, no leaning on the hands",
        Joint::Back => "no bending or turning with load, seat with a back",
        Joint::Neck => "small slow turns, no looking up",
    }
}

/// Adds the joints.
pub(super) fn apply(known: &Known, adapted: &mut Adapted) {
    for joint in Joint::ALL {
        let told = newest(known, *joint);
        let because = reasons(known, *joint, told);
        if because.is_empty() {
            continue;
        }
        let ease = told
            .is_some_and(|pain| must_ease(pain.during, pain.settled_2h, pain.worse_next_morning));
        let after = if ease {
            "; what brought it on is eased"
        } else {
            ""
        };
        let text = format!(
            "Sore {joint} ({}): {}{after}",
            because.join(", "),
            advice(*joint)
        );
        let mut finding = PAIN
            .finding(Weight::Adapt, text)
            .with(Named::text("joint", joint.word()))
            .with(Named::flag("ease", ease));
        if let Some(score) = told.and_then(|pain| pain.during) {
            finding = finding.with(Named::number("during", score, "of 10"));
        }
        match reason_of(*joint) {
            Some(reason) => adapted.restrict(reason, Some(*joint), finding),
            None => adapted.findings.push(finding),
        }
    }
}

/// The newest report of a joint up to the day, unless it says that nothing hurts.
fn newest<'a>(known: &Known<'a>, joint: Joint) -> Option<&'a Pain> {
    known
        .case
        .pains
        .iter()
        .filter(|pain| pain.joint == Some(joint) && pain.date.is_none_or(|date| date <= known.on))
        .max_by_key(|pain| pain.date)
        .filter(|pain| {
            pain.during != Some(0.0)
                || pain.settled_2h == Some(false)
                || pain.worse_next_morning == Some(true)
        })
}

fn reasons(known: &Known, joint: Joint, told: Option<&Pain>) -> Vec<String> {
    let mut all = Vec::new();
    let items: &[HistoryItem] = match joint {
        Joint::Knee => &[HistoryItem::KneeOsteoarthritis],
        Joint::Hip => &[HistoryItem::HipOsteoarthritis],
        Joint::Shoulder => &[HistoryItem::ShoulderPain],
        Joint::Back => &[HistoryItem::BackPain],
        Joint::Wrist => &[HistoryItem::WristPain],
        _ => &[],
    };
    all.extend(
        items
            .iter()
            .filter(|item| known.has(**item))
            .map(|item| item.word().replace('-', " ")),
    );
    let usual = match joint {
        Joint::Knee => Some(SymptomKind::KneePain),
        Joint::Hip => Some(SymptomKind::HipPain),
        Joint::Shoulder => Some(SymptomKind::ShoulderPain),
        Joint::Back => Some(SymptomKind::BackPain),
        _ => None,
    };
    if usual.is_some_and(|kind| known.usual(kind)) {
        all.push("usual pain".to_owned());
    }
    if let Some(pain) = told {
        all.push(match pain.during {
            Some(score) => format!("{score} of 10 during exercise"),
            None => "it hurts".to_owned(),
        });
    }
    all
}
