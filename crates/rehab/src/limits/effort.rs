//! The effort band.

use crate::assessed::RiskClass;
use crate::assessment::{EffortScale, HistoryItem};
use crate::calendar::days_between;
use crate::eligibility::watched_days;
use crate::evidence::{Answer, Because, Input, Named, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::yes_no;
use crate::intensity::{EffortTable, effort_rows};
use crate::known::Known;
use crate::service::EffortBand;

const EFFORT: Rule = Rule {
    id: RuleId("limits/effort"),
    name: "Effort band",
    statement: "To begin 3 to 4 of 10; gentler, 2 to 3, in the first fortnight counted from the first watched session, \
                in high risk and in heart failure (service settings). A band of 11 to 14 on 6 to 20 without a test is \
                the common advice (recalled).",
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
        Input::number("band_low", "of 10", 0.0, 10.0),
        Input::number("band_high", "of 10", 0.0, 10.0),
        Input::number("gentle_low", "of 10", 0.0, 10.0),
        Input::number("gentle_high", "of 10", 0.0, 10.0),
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
        Ok(Answer::new(
            Value::Text(format!("{low} to {high} of 10")),
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
    let on_ten = if gentle {
        known.service.effort_band_gentle
    } else {
        known.service.effort_band
    };
    let (band, words) = on_scale(known.service.effort_scale, on_ten);
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
    if known.service.effort_scale == EffortScale::SixToTwenty {
        because = because
            .also_from(&[SourceId("essa-2010")], Tag::Read)
            .assuming("0 to 10 written as 6 to 20 by the table of ESSA 2010; UK practice pairs them otherwise");
    }
    Effort { band, because }
}

/// A band of 0 to 10 on the service's scale, with the words for it.
fn on_scale(scale: EffortScale, band: EffortBand) -> (EffortBand, String) {
    match scale {
        EffortScale::ZeroToTen => (band, format!("{} to {} of 10", band.low, band.high)),
        EffortScale::SixToTwenty => {
            let band = EffortBand {
                low: to_twenty(band.low),
                high: to_twenty(band.high),
            };
            (band, format!("{} to {} on 6 to 20", band.low, band.high))
        }
    }
}

/// An effort of 0 to 10 on 6 to 20, straight between the ends of the rows of the ESSA table.
///
/// Only for the service's own band, which is written on 0 to 10; a reading of a person is never converted.
fn to_twenty(value: f64) -> f64 {
    let rows = effort_rows(EffortTable::Essa2010);
    let ends: Vec<(f64, f64)> = rows
        .iter()
        .flat_map(|row| {
            let ((ten_from, ten_to), (from, to)) = (row.zero_to_ten, row.six_to_twenty);
            [(ten_from, from), (ten_to, to)]
        })
        .collect();
    for pair in ends.windows(2) {
        let [(from, low), (to, high)] = [pair[0], pair[1]];
        if value <= to && to > from {
            return low + (value.max(from) - from) / (to - from) * (high - low);
        }
    }
    ends.last().map_or(value, |(_, most)| *most)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Source: ESSA 2010 (secondary): 1-2 with 8-10, 3-4 with 11-13, 5-6 with 14-16, from 7 with from 17.
    #[test]
    fn published_rows_of_the_scale_table() {
        let row = |low, high| {
            let band = EffortBand { low, high };
            let on = on_scale(EffortScale::SixToTwenty, band).0;
            (on.low, on.high)
        };
        assert_eq!(row(1.0, 2.0), (8.0, 10.0));
        assert_eq!(row(3.0, 4.0), (11.0, 13.0));
        assert_eq!(row(5.0, 6.0), (14.0, 16.0));
        assert_eq!(to_twenty(7.0), 17.0);
    }
}
