//! The effort band.

use crate::assessed::RiskClass;
use crate::assessment::{EffortScale, HistoryItem};
use crate::calendar::days_between;
use crate::eligibility::watched_days;
use crate::evidence::{Answer, Because, Input, Named, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::yes_no;
use crate::known::Known;
use crate::service::EffortBand;

const EFFORT: Rule = Rule {
    id: RuleId("limits/effort"),
    name: "Effort band",
    statement: "To begin 3 to 4 of 10, or 11 to 13 on 6 to 20; gentler, 2 to 3 or 10 to 12, in the first fortnight \
                counted from the first watched session, in high risk and in heart failure (service settings). A service \
                sets its bands on its own scale; none is converted, because the tables of the two scales disagree. A \
                band of 11 to 14 on 6 to 20 without a test is the common advice (recalled).",
    sources: &[
        SourceId("service-ours"),
        SourceId("uk-acpicr-bacpr"),
        SourceId("acsm-getp"),
    ],
    tag: Tag::Ours,
    inputs: &[
        Input::flag("first_fortnight"),
        Input::flag("high_risk"),
        Input::flag("heart_failure"),
        Input::number("band_low", "on the service's scale", 0.0, 20.0),
        Input::number("band_high", "on the service's scale", 0.0, 20.0),
        Input::number("gentle_low", "on the service's scale", 0.0, 20.0),
        Input::number("gentle_high", "on the service's scale", 0.0, 20.0),
        Input::choice("scale", &["0-10", "6-20"]).or_none(),
    ],
    evaluate: |values| {
        let gentle = values.flag("first_fortnight")?
            || values.flag("high_risk")?
            || values.flag("heart_failure")?;
        let (low, high) = if gentle {
            (values.number("gentle_low")?, values.number("gentle_high")?)
        } else {
            (values.number("band_low")?, values.number("band_high")?)
        };
        let scale = match values.optional_text("scale") {
            Some("6-20") => EffortScale::SixToTwenty,
            _ => EffortScale::ZeroToTen,
        };
        Ok(Answer::new(
            Value::Text(in_words(scale, EffortBand { low, high })),
            format!("gentle: {}", yes_no(gentle)),
        ))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[EFFORT];

/// The effort band with its reason.
pub(super) struct Effort {
    pub(super) band: EffortBand,
    pub(super) because: Because,
}

/// The effort band of the record on its day.
pub(super) fn effort(known: &Known, class: RiskClass) -> Effort {
    let first = watched_days(known).into_iter().next();
    let gentle_days = i32::from(known.service.gentle_days);
    let beginning = first.is_none_or(|first| days_between(first, known.on) < gentle_days);
    let mut reasons = Vec::new();
    if beginning {
        reasons.push(format!("the first {gentle_days} days"));
    }
    if class == RiskClass::High {
        reasons.push("high risk".to_owned());
    }
    if known.has(HistoryItem::HeartFailure) {
        reasons.push("heart failure".to_owned());
    }
    let gentle = !reasons.is_empty();
    // Both bands stand on the service's own scale.
    let band = if gentle {
        known.service.effort_band_gentle
    } else {
        known.service.effort_band
    };
    let words = in_words(known.service.effort_scale, band);
    let text = if gentle {
        format!("Effort {words}, the gentle band: {}.", reasons.join(", "))
    } else {
        format!("Effort {words}, the service's band to begin.")
    };
    let mut because = EFFORT
        .because(Value::Text(words), text)
        .working(if gentle {
            format!("gentle band, because of {}", reasons.join(", "))
        } else {
            "no reason for the gentle band".to_owned()
        })
        .unsure(
            "how hard work feels differs between people: teach it, and watch with the talk test",
        )
        .with(Named::text("risk", class.word()))
        .with(Named::flag(
            "heart_failure",
            known.has(HistoryItem::HeartFailure),
        ))
        .changes_with("the end of the first fortnight, the risk class, the service's band");
    if let Some(first) = first {
        because = because.with(Named::date("first_watched", first));
    }
    Effort { band, because }
}

/// A band with its scale.
fn in_words(scale: EffortScale, band: EffortBand) -> String {
    let on = match scale {
        EffortScale::ZeroToTen => "of 10",
        EffortScale::SixToTwenty => "on 6 to 20",
    };
    format!("{} to {} {on}", band.low, band.high)
}
