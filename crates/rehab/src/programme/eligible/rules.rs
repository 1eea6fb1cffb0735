//! The rules of eligibility, each with a way to try it.

use super::refusal::RefusedBy;
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value};

const OURS: &[SourceId] = &[SourceId("programme-ours")];

/// The table.
pub(crate) const RULES: &[Rule] = &[
    Rule {
        id: RuleId("eligible/ban"),
        name: "A ban",
        statement: "What the practitioner bans for this person is not offered.",
        sources: OURS,
        tag: Tag::Ours,
        inputs: &[Input::flag("banned")],
        evaluate: |values| open(!values.flag("banned")?, "banned or not"),
    },
    Rule {
        id: RuleId("eligible/not-for-them"),
        name: "Watched and not for them",
        statement: "A variant whose newest watching found it not to be for this person is not offered.",
        sources: OURS,
        tag: Tag::Ours,
        inputs: &[Input::choice(
            "technique",
            &["good", "needed-help", "not-for-them"],
        )],
        evaluate: |values| {
            open(
                values.text("technique")? != "not-for-them",
                "technique as last watched",
            )
        },
    },
    Rule {
        id: RuleId("eligible/joint-eased"),
        name: "An exercise in which a joint hurt",
        statement: "Pain above 5 of 10 during an exercise, not settled within 2 hours after it (recalled), or worse than usual next morning: its hardest open variant is taken away. The exercise stays.",
        sources: &[
            SourceId("joint-pain-ours"),
            SourceId("osteoarthritis-practice"),
        ],
        tag: Tag::Ours,
        inputs: &[
            Input::number("during", "of 10", 0.0, 10.0),
            Input::flag("worse_next_morning"),
            Input::flag("settled_2h").or_none(),
        ],
        evaluate: |values| {
            let hurts = values.number("during")? > 5.0
                || values.flag("worse_next_morning")?
                || values.optional_text("settled_2h") == Some("no");
            open(
                !hurts,
                "more than 5 of 10, not settled in 2 hours, or worse next morning",
            )
        },
    },
    Rule {
        id: RuleId("eligible/adapt-second"),
        name: "A variant that needs care comes second",
        statement: "A variant that a restriction lets stand only with care is offered where no other variant of the exercise stands without it; then it is watched before it is done alone.",
        sources: OURS,
        tag: Tag::Ours,
        inputs: &[Input::flag("another_without")],
        evaluate: |values| {
            open(
                !values.flag("another_without")?,
                "another variant without the restriction",
            )
        },
    },
    Rule {
        id: RuleId("eligible/things"),
        name: "Things at hand",
        statement: "Only what is at hand is used; a walking stick is that of who walks with one, or one among the things at hand. A pair of weights suits where the lighter of the two is at most the weight of the variant and at least half of it.",
        sources: OURS,
        tag: Tag::Ours,
        inputs: &[
            Input::number("variant_g", "g", 0.0, 20_000.0),
            Input::number("second_piece_g", "g", 0.0, 20_000.0),
        ],
        evaluate: |values| {
            let (most, piece) = (
                values.number("variant_g")?,
                values.number("second_piece_g")?,
            );
            open(
                piece <= most && piece >= most / 2.0,
                "half of the weight to the weight",
            )
        },
    },
    Rule {
        id: RuleId("eligible/place"),
        name: "Places of the home",
        statement: "Only places from the survey, with the rail, the arms, the side without arms or the height of the step that the variant needs; not known counts for not there.",
        sources: OURS,
        tag: Tag::Ours,
        inputs: &[
            Input::number("step_cm", "cm", 3.0, 30.0),
            Input::number("from_cm", "cm", 3.0, 30.0),
            Input::number("to_cm", "cm", 3.0, 30.0),
        ],
        evaluate: |values| {
            let step = values.number("step_cm")?;
            open(
                step >= values.number("from_cm")? && step <= values.number("to_cm")?,
                "height of the step within the variant's",
            )
        },
    },
    Rule {
        id: RuleId("eligible/restriction"),
        name: "Restrictions by body and operation",
        statement: "A restriction that excludes holds while its reason does, until its weeks have passed and above its weight; weeks that are not known count as too few.",
        sources: &[SourceId("programme-ours"), SourceId("movement-ours")],
        tag: Tag::Ours,
        inputs: &[
            Input::number("weeks", "weeks", 0.0, 104.0),
            Input::number("weeks_since", "weeks", 0.0, 5200.0).or_none(),
        ],
        evaluate: |values| {
            let since = values.optional_number("weeks_since");
            let weeks = values.number("weeks")?;
            open(
                since.is_some_and(|since| since >= weeks),
                "weeks since against weeks",
            )
        },
    },
    Rule {
        id: RuleId("eligible/balance"),
        name: "Balance a variant asks for",
        statement: "0 seated or two hands, 1 two feet, 2 one leg in passing, 3 one leg held: at most the level that suits this person.",
        sources: &[SourceId("movement-ours")],
        tag: Tag::Ours,
        inputs: &[
            Input::number("asked", "level", 0.0, 3.0),
            Input::number("balance_max", "level", 0.0, 3.0),
        ],
        evaluate: |values| {
            open(
                values.number("asked")? <= values.number("balance_max")?,
                "asked against most",
            )
        },
    },
    Rule {
        id: RuleId("eligible/capacity"),
        name: "Exercises for the fit only",
        statement: "An exercise that names a least capacity is offered only where the capacity is known and reaches it.",
        sources: &[SourceId("movement-ours")],
        tag: Tag::Ours,
        inputs: &[
            Input::number("least_mets", "METs", 1.0, 25.0),
            Input::number("peak_mets", "METs", 1.0, 25.0).or_none(),
        ],
        evaluate: |values| {
            let least = values.number("least_mets")?;
            let peak = values.optional_number("peak_mets");
            open(
                peak.is_some_and(|peak| peak >= least),
                "capacity against the least",
            )
        },
    },
    Rule {
        id: RuleId("eligible/station-mets"),
        name: "Most METs of one station",
        statement: "The best estimate of the cost is at most the limit for one station. Where capacity is only estimated, a variant that was watched done well at an effort not above the band is open whatever the table says.",
        sources: &[SourceId("service-ours")],
        tag: Tag::Ours,
        inputs: &[
            Input::number("mets", "METs", 1.0, 25.0),
            Input::number("mets_station_high", "METs", 1.0, 25.0),
            Input::flag("watched_within_effort"),
            Input::flag("capacity_measured"),
        ],
        evaluate: |values| {
            let under = values.number("mets")? <= values.number("mets_station_high")?;
            let seen =
                values.flag("watched_within_effort")? && !values.flag("capacity_measured")?;
            open(under || seen, "cost against the limit, or watched")
        },
    },
];

fn open(open: bool, working: &str) -> Result<Answer, RuleError> {
    Ok(Answer::new(Value::Flag(open), working))
}

/// The rule behind a reason.
pub(super) const fn rule_id(by: RefusedBy) -> RuleId {
    RuleId(match by {
        RefusedBy::Ban => "eligible/ban",
        RefusedBy::NotForThem => "eligible/not-for-them",
        RefusedBy::JointEased => "eligible/joint-eased",
        RefusedBy::AdaptSecond => "eligible/adapt-second",
        RefusedBy::Prop(_) | RefusedBy::Weights | RefusedBy::Stick => "eligible/things",
        RefusedBy::Place(_) | RefusedBy::PlaceLacks(_) | RefusedBy::ArmsOfChair => "eligible/place",
        RefusedBy::Restriction(_) => "eligible/restriction",
        RefusedBy::Balance => "eligible/balance",
        RefusedBy::Capacity => "eligible/capacity",
        RefusedBy::Mets => "eligible/station-mets",
    })
}
