//! Other tools of risk than the one that classes people here: their categories, cut-offs and event rates, for
//! information. None of them changes a class.

use crate::assessed::RiskClass;
use crate::evidence::{Answer, Input, Rule, RuleId, SourceId, Tag, Value};
use crate::inputs::{or_not_known, refuse, short};

/// What one column of a table says of one fact.
type Column = Option<RiskClass>;

const FRACTION: Input = Input::number("ejection_fraction_pct", "per cent", 5.0, 85.0).or_none();

const ACP: Rule = Rule {
    id: RuleId("risk/acp-categories"),
    name: "Categories of a college of physicians",
    statement: "High: ejection fraction under 30 per cent, ST depression of 2 mm or more, or a fall of systolic pressure of 15 \
                mmHg or more, among others; intermediate: under 8 METs three weeks after the event (secondary, not the whole \
                list). For information.",
    sources: &[SourceId("acp-categories")],
    tag: Tag::Read,
    inputs: &[
        FRACTION,
        Input::number("st_depression_mm", "mm", 0.0, 10.0).or_none(),
        Input::number("systolic_fall_mmhg", "mmHg", -150.0, 150.0).or_none(),
        Input::number("mets_at_3_weeks", "METs", 1.0, 25.0).or_none(),
    ],
    evaluate: |values| {
        let fraction = values.optional_number("ejection_fraction_pct");
        let depression = values.optional_number("st_depression_mm");
        let fall = values.optional_number("systolic_fall_mmhg");
        let mets = values.optional_number("mets_at_3_weeks");
        let high = fraction.is_some_and(|pct| pct < 30.0)
            || depression.is_some_and(|mm| mm >= 2.0)
            || fall.is_some_and(|mmhg| mmhg >= 15.0);
        let word = if high {
            "high"
        } else if mets.is_some_and(|mets| mets < 8.0) {
            "intermediate"
        } else {
            "neither high nor intermediate by what is given"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!(
                "fraction {}, ST depression {}, fall {}, {} at three weeks",
                or_not_known(fraction, "per cent"),
                or_not_known(depression, "mm"),
                or_not_known(fall, "mmHg"),
                or_not_known(mets, "METs")
            ),
        )
        .keep_in_mind("the list is not whole, so it never proves a low risk"))
    },
};

const ASIAN: Rule = Rule {
    id: RuleId("risk/asian-table"),
    name: "Asian table of risk",
    statement: "Class I low, II moderate, III to IV high; ejection fraction over 50 low, 40 to 50 moderate, under 40 high; angina \
                at 7 METs or more moderate, under 5 high; systolic pressure that rises by more than 5 to 20 mmHg low, 0 to 5 \
                moderate, falls high. Where the print leaves a gap the worse column is taken (ours); its column for devices \
                could not be read. For information.",
    sources: &[SourceId("asian-cr-table"), SourceId("risk-ours")],
    tag: Tag::Ours,
    inputs: &[
        Input::number("nyha", "class", 1.0, 4.0).or_none(),
        FRACTION,
        Input::number("angina_mets", "METs", 1.0, 25.0).or_none(),
        Input::number("systolic_change_mmhg", "mmHg", -150.0, 150.0).or_none(),
    ],
    evaluate: |values| {
        let (nyha, fraction) = (
            values.optional_number("nyha"),
            values.optional_number("ejection_fraction_pct"),
        );
        let (angina, change) = (
            values.optional_number("angina_mets"),
            values.optional_number("systolic_change_mmhg"),
        );
        let columns = [
            nyha.map(by_class),
            fraction.map(by_fraction),
            angina.map(by_angina),
            change.map(by_pressure),
        ];
        let Some(worst) = columns.iter().flatten().max() else {
            return refuse("nothing is given; give at least one of the inputs");
        };
        let known = columns[0].is_some() && columns[1].is_some() && columns[3].is_some();
        let word = if *worst == RiskClass::Low && !known {
            "not low as long as something is not known"
        } else {
            worst.word()
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!(
                "class: {}, fraction: {}, angina: {}, pressure: {}",
                column_word(columns[0]),
                column_word(columns[1]),
                column_word(columns[2]),
                column_word(columns[3])
            ),
        ))
    },
};

fn column_word(column: Column) -> &'static str {
    column.map_or("not given", RiskClass::word)
}

const fn by_class(nyha: f64) -> RiskClass {
    if nyha >= 3.0 {
        RiskClass::High
    } else if nyha > 1.0 {
        RiskClass::Moderate
    } else {
        RiskClass::Low
    }
}

const fn by_fraction(pct: f64) -> RiskClass {
    if pct < 40.0 {
        RiskClass::High
    } else if pct <= 50.0 {
        RiskClass::Moderate
    } else {
        RiskClass::Low
    }
}

/// Angina at a load of 5 to under 7 METs is not printed; it counts as high.
const fn by_angina(mets: f64) -> RiskClass {
    if mets >= 7.0 {
        RiskClass::Moderate
    } else {
        RiskClass::High
    }
}

/// A rise above 20 is not printed; it counts as moderate.
const fn by_pressure(change_mmhg: f64) -> RiskClass {
    if change_mmhg < 0.0 {
        RiskClass::High
    } else if change_mmhg > 5.0 && change_mmhg <= 20.0 {
        RiskClass::Low
    } else {
        RiskClass::Moderate
    }
}

const BHAT: Rule = Rule {
    id: RuleId("risk/bhat-2021"),
    name: "How often each class was found without an exercise test",
    statement: "Classed without an exercise test, of 657 people 58 per cent were high, 31 moderate, 11 low; high against the rest \
                had adverse events with a hazard ratio of 3.0 (1.7 to 5.9), area under the curve 0.637. For information.",
    sources: &[SourceId("bhat-2021")],
    tag: Tag::Read,
    inputs: &[Input::choice("class", &["low", "moderate", "high"])],
    evaluate: |values| {
        let class = RiskClass::parse(values.text("class")?)
            .or_else(|unknown| refuse::<RiskClass>(unknown.to_string()))?;
        let share = match class {
            RiskClass::Low => 11.0,
            RiskClass::Moderate => 31.0,
            RiskClass::High => 58.0,
        };
        Ok(Answer::new(
            Value::Number(share, "per cent of 657 people"),
            format!("class {class}, without an exercise test"),
        )
        .keep_in_mind(
            "high against the rest: hazard ratio 3.0 (1.7 to 5.9), area under the curve 0.637",
        ))
    },
};

/// Points from which the score of 2014 calls the risk high.
// Source: lacombe-2014.
const SCORE_HIGH_FROM: f64 = 4.0;

const SCORE_2014: Rule = Rule {
    id: RuleId("risk/score-of-2014"),
    name: "A score of risk whose total was worked out elsewhere",
    statement: "4 points or more high, under 4 low: odds ratio 4.2 (1.0 to 20.0), negative predictive value 99.2 per cent (98.3 \
                to 99.8), one event in 1,321 hours of exercise, 656 people. The weights of its items were not obtained, so \
                the total is only read here and never worked out. For information.",
    sources: &[SourceId("lacombe-2014")],
    tag: Tag::Read,
    inputs: &[Input::number("total", "points", 0.0, 50.0)],
    evaluate: |values| {
        let total = values.number("total")?;
        let word = if total >= SCORE_HIGH_FROM {
            "high"
        } else {
            "low"
        };
        Ok(Answer::new(
            Value::Text(word.to_owned()),
            format!("{total} against {SCORE_HIGH_FROM}"),
        )
        .keep_in_mind("a low score is no proof of a low class here"))
    },
};

/// Hours of exercise for one cardiac event.
// Source: pavy-2006, rognmo-2012 (both recalled).
const HOURS_IN_REHABILITATION: f64 = 50_000.0;
const HOURS_MODERATE: f64 = 129_456.0;
const HOURS_INTERVALS: f64 = 23_182.0;

const EVENTS: Rule = Rule {
    id: RuleId("risk/event-rate"),
    name: "How rare cardiac events are in exercise",
    statement: "One cardiac event in 50,000 hours of rehabilitation; in 129,456 hours of moderate and in 23,182 of high-intensity \
                interval exercise (recalled). Times the hours: the expected number. For information.",
    sources: &[SourceId("pavy-2006"), SourceId("rognmo-2012")],
    tag: Tag::Recalled,
    inputs: &[
        Input::choice("exercise", &["rehabilitation", "moderate", "intervals"]),
        Input::number("hours", "hours of exercise", 0.0, 10_000_000.0),
    ],
    evaluate: |values| {
        let hours = values.number("hours")?;
        let each = match values.text("exercise")? {
            "rehabilitation" => HOURS_IN_REHABILITATION,
            "moderate" => HOURS_MODERATE,
            _ => HOURS_INTERVALS,
        };
        Ok(Answer::new(
            Value::Number(hours / each, "events expected"),
            format!("{hours} / {each} = {}", short(hours / each)),
        )
        .keep_in_mind("counted in supervised programmes; at home nobody counted"))
    },
};

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[ACP, ASIAN, BHAT, SCORE_2014, EVENTS];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::Values;

    fn answer(rule: &Rule, given: &[(&str, &str)]) -> String {
        let pairs: Vec<(String, String)> = given
            .iter()
            .map(|(name, value)| ((*name).to_owned(), (*value).to_owned()))
            .collect();
        let values = Values::check(rule, &pairs).unwrap();
        (rule.evaluate)(&values).unwrap().value.to_string()
    }

    // Source: acp-categories (secondary): 30 per cent, 2 mm, 15 mmHg, 8 METs. Both sides of each.
    #[test]
    fn published_categories_of_the_college() {
        let of = |name, value| answer(&ACP, &[(name, value)]);
        let neither = "neither high nor intermediate by what is given";
        assert_eq!(of("ejection_fraction_pct", "29"), "high");
        assert_eq!(of("ejection_fraction_pct", "30"), neither);
        assert_eq!(of("st_depression_mm", "2"), "high");
        assert_eq!(of("st_depression_mm", "1.9"), neither);
        assert_eq!(of("systolic_fall_mmhg", "15"), "high");
        assert_eq!(of("systolic_fall_mmhg", "14"), neither);
        assert_eq!(of("mets_at_3_weeks", "7.9"), "intermediate");
        assert_eq!(of("mets_at_3_weeks", "8"), neither);
    }

    // Source: asian-cr-table, table 4; gaps of the print take the worse column (ours).
    #[test]
    fn published_columns_of_the_asian_table() {
        use RiskClass::{High, Low, Moderate};
        assert_eq!(
            [1.0, 2.0, 3.0, 4.0].map(by_class),
            [Low, Moderate, High, High]
        );
        assert_eq!(
            [50.1, 50.0, 40.0, 39.9].map(by_fraction),
            [Low, Moderate, Moderate, High]
        );
        assert_eq!([7.0, 6.9, 4.9].map(by_angina), [Moderate, High, High]);
        assert_eq!(
            [6.0, 20.0, 21.0, 5.0, 0.0, -1.0].map(by_pressure),
            [Low, Low, Moderate, Moderate, Moderate, High]
        );
        assert_eq!(
            answer(&ASIAN, &[("nyha", "1")]),
            "not low as long as something is not known"
        );
    }

    // Sources: lacombe-2014; pavy-2006 and rognmo-2012 (recalled).
    #[test]
    fn published_cut_off_of_the_score_and_rates_of_events() {
        assert_eq!(answer(&SCORE_2014, &[("total", "4")]), "high");
        assert_eq!(answer(&SCORE_2014, &[("total", "3.9")]), "low");
        let rate = |exercise, hours| answer(&EVENTS, &[("exercise", exercise), ("hours", hours)]);
        assert_eq!(rate("rehabilitation", "50000"), "1 events expected");
        assert_eq!(rate("moderate", "129456"), "1 events expected");
        assert_eq!(rate("intervals", "23182"), "1 events expected");
    }
}
