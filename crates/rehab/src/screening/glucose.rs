//! Glucose before exercise.

use super::gate::Gate;
use crate::assessment::{Examination, HistoryItem};
use crate::calendar::days_between;
use crate::evidence::{Answer, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight};
use crate::inputs::{WEIGHT, refuse, short, yes_no};
use crate::known::Known;

// Source: ada-2016, table 1, in mg/dL (page recalled); 1 mmol/L is 18.016 mg/dL, so 90, 150, 250 and 350 mg/dL
// are 5.0, 8.3, 13.9 and 19.4 mmol/L.
const SEVERE_LOW_MMOL_L: f64 = 2.9;
/// Sugar up to which it is treated before anything else.
pub const TREAT_FIRST_MMOL_L: f64 = 3.9;
/// Sugar below which something is eaten first.
pub const CARBOHYDRATE_MMOL_L: f64 = 5.0;
/// Sugar from which ketones are measured first.
pub const KETONES_FIRST_MMOL_L: f64 = 13.9;
const TOO_HIGH_MMOL_L: f64 = 19.4;
/// Blood ketones called moderate.
// Source: ketones-practice (recalled).
const MODERATE_KETONES_MMOL_L: f64 = 1.5;

const GLUCOSE: Rule = Rule {
    id: RuleId("day/glucose"),
    name: "Glucose before exercise",
    statement: "Under 2.9 mmol/L: none that day. 2.9 to 3.9: treat, measure again, not alone. Over 3.9 and under \
                5.0: 15 to 30 g of carbohydrate first. 5.0 to under 13.9: go. 13.9 to under 19.4: ketones first, \
                none if moderate or more (1.5 mmol/L, recalled). From 19.4 no session at home (our default).",
    sources: &[
        SourceId("ada-2016"),
        SourceId("ketones-practice"),
        SourceId("day-gate-ours"),
    ],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("glucose_mmol_l", "mmol/L", 0.5, 45.0),
        Input::number("ketones_mmol_l", "mmol/L", 0.0, 15.0).or_none(),
    ],
    evaluate: |values| {
        let glucose = values.number("glucose_mmol_l")?;
        let ketones = values.optional_number("ketones_mmol_l");
        let (weight, text) = judge(glucose, ketones).unwrap_or((Weight::Note, "go"));
        Ok(Answer::new(
            Value::Text(weight.word().to_owned()),
            format!("{glucose} mmol/L: {text}"),
        ))
    },
};

const ASSISTED: Rule = Rule {
    id: RuleId("day/assisted-hypoglycaemia"),
    name: "Low sugar that needed help",
    statement: "Low sugar under 2.9 mmol/L, or one that needed another person's help, in the last 24 hours holds the \
                session.",
    sources: &[SourceId("ada-2016")],
    tag: Tag::Recalled,
    inputs: &[Input::flag("in_last_24_hours")],
    evaluate: |values| {
        let yes = values.flag("in_last_24_hours")?;
        Ok(Answer::new(
            Value::Text(if yes { "not-today" } else { "nothing" }.to_owned()),
            format!("in the last 24 hours: {}", yes_no(yes)),
        ))
    },
};

const MISSING: Rule = Rule {
    id: RuleId("day/glucose-measured"),
    name: "Glucose is measured where it can fall",
    statement: "Where diabetes is treated with insulin or a sulfonylurea, glucose is measured before a session; not \
                measured, signing waits.",
    sources: &[SourceId("ada-2016"), SourceId("day-gate-ours")],
    tag: Tag::Ours,
    inputs: &[Input::flag("measured")],
    evaluate: |values| {
        let yes = values.flag("measured")?;
        Ok(Answer::new(
            Value::Text(if yes { "nothing" } else { "blocks-signing" }.to_owned()),
            format!("measured: {}", yes_no(yes)),
        ))
    },
};

/// Grams of carbohydrate for each kg and hour of exercise while the glucose lies from 5.0 to 8.3 mmol/L: from, to.
// Source: ada-2016, table 1: 90 to 150 mg/dL.
const CARBOHYDRATE_G_PER_KG_H: (f64, f64) = (0.5, 1.0);
const CARBOHYDRATE_UP_TO_MMOL_L: f64 = 8.3;

const CARBOHYDRATE: Rule = Rule {
    id: RuleId("day/carbohydrate-during"),
    name: "Carbohydrate during exercise",
    statement: "Glucose 5.0 to 8.3 mmol/L before exercise: 0.5 to 1 g of carbohydrate for each kg of weight and hour of \
                exercise, once it goes on for longer. Said where a medicine can make the sugar fall.",
    sources: &[SourceId("ada-2016")],
    tag: Tag::Recalled,
    inputs: &[
        Input::number("glucose_mmol_l", "mmol/L", 0.5, 45.0),
        WEIGHT,
        Input::number("minutes", "minutes", 1.0, 240.0),
    ],
    evaluate: |values| {
        let glucose = values.number("glucose_mmol_l")?;
        let (weight, minutes) = (values.number("weight_kg")?, values.number("minutes")?);
        let Some((from, to)) = carbohydrate_g_h(glucose, weight) else {
            return refuse(
                "the amount is printed for 5.0 to 8.3 mmol/L only; see day/glucose for the other readings",
            );
        };
        let of = |per_hour: f64| short(libm::round(per_hour * minutes / 6.0) / 10.0);
        Ok(Answer::new(
            Value::Text(format!("{} to {} g", of(from), of(to))),
            format!("0.5 to 1 g x {weight} kg x {} h", short(minutes / 60.0)),
        ))
    },
};

/// The rules of this part.
pub(crate) const RULES: &[Rule] = &[GLUCOSE, ASSISTED, MISSING, CARBOHYDRATE];

/// Grams an hour of exercise; nothing outside the readings it is printed for.
fn carbohydrate_g_h(glucose_mmol_l: f64, weight_kg: f64) -> Option<(f64, f64)> {
    let printed = (CARBOHYDRATE_MMOL_L..=CARBOHYDRATE_UP_TO_MMOL_L).contains(&glucose_mmol_l);
    let (from, to) = CARBOHYDRATE_G_PER_KG_H;
    printed.then_some((from * weight_kg, to * weight_kg))
}

/// Says how much carbohydrate belongs to the session where the sugar can fall.
fn carbohydrate(known: &Known, glucose: f64, gate: &mut Gate) {
    let per_hour = known
        .weight_kg()
        .and_then(|weight| carbohydrate_g_h(glucose, weight));
    if let Some((from, to)) = per_hour {
        let text = format!(
            "Glucose {glucose} mmol/L and a medicine that can make it fall: {} to {} g of carbohydrate for an hour of \
             exercise, within reach",
            libm::round(from),
            libm::round(to)
        );
        gate.say(
            CARBOHYDRATE
                .finding(Weight::Adapt, text)
                .with(Named::number("glucose_mmol_l", glucose, "mmol/L")),
        );
    }
}

/// What a reading says; nothing when it is a reading to go on with.
fn judge(glucose_mmol_l: f64, ketones_mmol_l: Option<f64>) -> Option<(Weight, &'static str)> {
    if glucose_mmol_l < SEVERE_LOW_MMOL_L {
        return Some((
            Weight::NotToday,
            "Very low. Not today: treat at once and tell the diabetes team",
        ));
    }
    if glucose_mmol_l <= TREAT_FIRST_MMOL_L {
        return Some((
            Weight::NotToday,
            "Low. Not now: treat, measure again, and do not leave them alone",
        ));
    }
    if glucose_mmol_l < CARBOHYDRATE_MMOL_L {
        return Some((
            Weight::Caution,
            "On the low side: 15 to 30 g of carbohydrate first",
        ));
    }
    if glucose_mmol_l >= TOO_HIGH_MMOL_L {
        return Some((
            Weight::NotToday,
            "Very high. Not today: ketones, and telephone the diabetes team",
        ));
    }
    if glucose_mmol_l < KETONES_FIRST_MMOL_L {
        return None;
    }
    Some(match ketones_mmol_l {
        None => (
            Weight::NotToday,
            "High. Not before ketones are measured: with moderate or more there is no session",
        ),
        Some(ketones) if ketones >= MODERATE_KETONES_MMOL_L => (
            Weight::NotToday,
            "High with ketones. Not today: telephone the diabetes team",
        ),
        Some(_) => (
            Weight::Caution,
            "High without ketones of note: go gently, drink, measure again afterwards",
        ),
    })
}

/// Asks glucose; `can_fall` says whether insulin or a sulfonylurea is taken, as far as it is known.
pub(super) fn apply(known: &Known, can_fall: bool, gate: &mut Gate) {
    if known.has(HistoryItem::RecentAssistedHypoglycaemia) {
        gate.say(ASSISTED.finding(
            Weight::NotToday,
            "They needed help with low sugar in the last day. Not today: tell the diabetes team",
        ));
    }
    let Some(examination) = known.examination() else {
        return;
    };
    low_before(known, &examination, gate);
    match examination.glucose_mmol_l {
        Some(glucose) => {
            if let Some((weight, text)) = judge(glucose, examination.ketones_mmol_l) {
                gate.say(finding(weight, text, glucose, &examination));
            }
            if can_fall {
                carbohydrate(known, glucose, gate);
            }
        }
        None if can_fall => gate.ask(
            MISSING
                .finding(
                    Weight::BlocksSigning,
                    "What is the glucose before exercise? A medicine they take can make it fall",
                )
                .asking("measure it at the visit", "signing"),
        ),
        None => {}
    }
}

/// A very low reading earlier in the last 24 hours holds, whatever the newest says; only days are recorded, so today and
/// yesterday count.
fn low_before(known: &Known, newest: &Examination, gate: &mut Gate) {
    let earlier = known
        .examinations()
        .into_iter()
        .skip(1)
        .filter(|one| (0..=1).contains(&days_between(one.date, known.on)))
        .filter_map(|one| Some((one.date, one.glucose_mmol_l?)))
        .find(|(_, glucose)| *glucose < SEVERE_LOW_MMOL_L);
    let told_by_newest = newest
        .glucose_mmol_l
        .is_some_and(|glucose| glucose < SEVERE_LOW_MMOL_L);
    if let Some((date, glucose)) = earlier.filter(|_| !told_by_newest) {
        let text = format!(
            "Glucose was {glucose} mmol/L on {date}, very low and within the last day. Not today: tell the diabetes team"
        );
        gate.say(
            ASSISTED
                .finding(Weight::NotToday, text)
                .with(Named::number("glucose_mmol_l", glucose, "mmol/L"))
                .with(Named::date("measured", date)),
        );
    }
}

fn finding(weight: Weight, text: &str, glucose: f64, examination: &Examination) -> Finding {
    let finding = GLUCOSE
        .finding(weight, format!("Glucose {glucose} mmol/L. {text}"))
        .with(Named::number("glucose_mmol_l", glucose, "mmol/L"));
    match examination.ketones_mmol_l {
        Some(ketones) => finding.with(Named::number("ketones_mmol_l", ketones, "mmol/L")),
        None => finding,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Source: Colberg 2016, table 1: 90 to 150 mg/dL (5.0 to 8.3 mmol/L), 0.5 to 1 g/kg/h. By hand: 70 kg, 35 to 70 g.
    #[test]
    fn published_carbohydrate_during_exercise() {
        assert_eq!(carbohydrate_g_h(4.9, 70.0), None);
        assert_eq!(carbohydrate_g_h(5.0, 70.0), Some((35.0, 70.0)));
        assert_eq!(carbohydrate_g_h(8.3, 70.0), Some((35.0, 70.0)));
        assert_eq!(carbohydrate_g_h(8.4, 70.0), None);
    }

    // Source: Colberg 2016, table 1, and the position of 2019 on low values; both sides of each boundary.
    #[test]
    fn published_glucose_boundaries() {
        let weight = |glucose, ketones| judge(glucose, ketones).map(|(weight, _)| weight);
        assert_eq!(weight(2.8, None), Some(Weight::NotToday));
        assert_eq!(weight(3.9, None), Some(Weight::NotToday));
        assert_eq!(weight(4.0, None), Some(Weight::Caution));
        assert_eq!(weight(4.9, None), Some(Weight::Caution));
        assert_eq!(weight(5.0, None), None);
        assert_eq!(weight(13.8, None), None);
        assert_eq!(weight(13.9, None), Some(Weight::NotToday));
        assert_eq!(weight(13.9, Some(1.4)), Some(Weight::Caution));
        assert_eq!(weight(13.9, Some(1.5)), Some(Weight::NotToday));
        assert_eq!(weight(19.3, Some(0.2)), Some(Weight::Caution));
        assert_eq!(weight(19.4, Some(0.2)), Some(Weight::NotToday));
    }
}
