//! Effort: the two scales, the tables that set them beside each other, and the talk test.
//!
//! The tables disagree: 11 to 14 of 6 to 20 is 3 to 5 in one and 2 to 4 in the other. So nothing here converts without
//! being told by which table, and the result is a range with the table's id, never a number in the old number's place.

use crate::assessment::{Effort, EffortScale};
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::refuse;

closed_words!(
    /// A table that sets 6-20 beside 0-10.
    EffortTable as "table of effort scales" {
        Essa2010 = "essa-2010",
        UkPractice = "uk-practice",
    }
);

/// One row: a range of 6 to 20 beside a range of 0 to 10.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EffortRow {
    /// Of 6 to 20: from, to.
    pub six_to_twenty: (f64, f64),
    /// Of 0 to 10: from, to.
    pub zero_to_ten: (f64, f64),
}

const fn row(six_to_twenty: (f64, f64), zero_to_ten: (f64, f64)) -> EffortRow {
    EffortRow {
        six_to_twenty,
        zero_to_ten,
    }
}

// Source: essa-2010 (secondary): <8 - <1, 8-10 - 1-2, 11-13 - 3-4, 14-16 - 5-6, >=17 - >=7.
const ESSA: &[EffortRow] = &[
    row((6.0, 7.0), (0.0, 0.5)),
    row((8.0, 10.0), (1.0, 2.0)),
    row((11.0, 13.0), (3.0, 4.0)),
    row((14.0, 16.0), (5.0, 6.0)),
    row((17.0, 20.0), (7.0, 10.0)),
];

// Source: thow-2006 (secondary): <11 - <3; 11-14 - 2-4 recalled. The rows overlap in the source's own words.
const UK: &[EffortRow] = &[row((6.0, 10.0), (0.0, 2.5)), row((11.0, 14.0), (2.0, 4.0))];

/// The rows of a table.
pub const fn effort_rows(table: EffortTable) -> &'static [EffortRow] {
    match table {
        EffortTable::Essa2010 => ESSA,
        EffortTable::UkPractice => UK,
    }
}

/// What a table sets beside an effort: the range of the other scale, the least and the most of every row it falls in.
/// `None` when the table has no row for it.
pub fn beside(table: EffortTable, effort: Effort) -> Option<(f64, f64)> {
    let matching = effort_rows(table).iter().filter_map(|row| {
        let (from, to) = match effort.scale {
            EffortScale::SixToTwenty => (row.six_to_twenty, row.zero_to_ten),
            EffortScale::ZeroToTen => (row.zero_to_ten, row.six_to_twenty),
        };
        (from.0 <= effort.value && effort.value <= from.1).then_some(to)
    });
    matching.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
}

closed_words!(
    /// How talking went at the end of a stage.
    TalkStage as "stage of the talk test" {
        Equivocal = "equivocal",
        LastPositive = "last-positive",
        OneBelow = "one-below-last-positive",
    }
);

/// What a stage of the talk test was found to mean on average.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TalkFacts {
    /// Per cent of the peak heart rate.
    pub of_peak_pct: f64,
    /// Effort of 10.
    pub effort_0_10: f64,
}

/// Mean share of the peak and effort at a stage of the talk test. Source: register `talk-test-abstracts`.
pub const fn talk_facts(stage: TalkStage) -> TalkFacts {
    match stage {
        TalkStage::Equivocal => TalkFacts {
            of_peak_pct: 82.0,
            effort_0_10: 6.3,
        },
        TalkStage::LastPositive => TalkFacts {
            of_peak_pct: 79.0,
            effort_0_10: 4.4,
        },
        TalkStage::OneBelow => TalkFacts {
            of_peak_pct: 73.0,
            effort_0_10: 3.6,
        },
    }
}

fn evaluate(values: &Values, table: EffortTable) -> Result<Answer, RuleError> {
    let Ok(scale) = EffortScale::parse(values.text("scale")?) else {
        return refuse("'scale' is 0-10 or 6-20; write one of them");
    };
    let value = values.number("value")?;
    let Some((low, high)) = beside(table, Effort { scale, value }) else {
        return refuse(format!(
            "the table {table} has no row for {value} of {scale}; ask the effort on the other scale"
        ));
    };
    let other = match scale {
        EffortScale::ZeroToTen => EffortScale::SixToTwenty,
        EffortScale::SixToTwenty => EffortScale::ZeroToTen,
    };
    Ok(Answer::new(
        Value::Text(format!("{low} to {high} of {other}")),
        format!("{value} of {scale} in the table {table}"),
    )
    .keep_in_mind(
        "the tables disagree: record the scale that was asked, and never put this in its place",
    ))
}

const SCALE: Input = Input::choice("scale", &["0-10", "6-20"]);
const VALUE: Input = Input::number("value", "on the scale", 0.0, 20.0);

const ESSA_RULE: Rule = Rule {
    id: RuleId("effort/essa-2010"),
    name: "The two effort scales side by side, ESSA 2010",
    statement: "Below 8 beside below 1; 8-10 beside 1-2; 11-13 beside 3-4; 14-16 beside 5-6; 17 and more beside 7 and more (secondary).",
    sources: &[SourceId("essa-2010")],
    tag: Tag::Read,
    inputs: &[SCALE, VALUE],
    evaluate: |values| evaluate(values, EffortTable::Essa2010),
};

const UK_RULE: Rule = Rule {
    id: RuleId("effort/uk-practice"),
    name: "The two effort scales side by side, UK practice",
    statement: "Below 11 beside below 3 (secondary); 11-14 beside 2-4 (recalled). Disagrees with ESSA 2010.",
    sources: &[SourceId("thow-2006")],
    tag: Tag::Recalled,
    inputs: &[SCALE, VALUE],
    evaluate: |values| evaluate(values, EffortTable::UkPractice),
};

const TALK: Rule = Rule {
    id: RuleId("effort/talk-test"),
    name: "Talk test",
    statement: "Train one or two stages below the last stage at which talking was clearly comfortable. Equivocal, last positive, one below: about 82, 79, 73 % of the peak heart rate and 6.3, 4.4, 3.6 of 10; all stages within 40 to 80 % of maximal uptake (58 to 77 %).",
    sources: &[SourceId("lyon-2014"), SourceId("talk-test-abstracts")],
    tag: Tag::Read,
    inputs: &[Input::choice(
        "stage",
        &["equivocal", "last-positive", "one-below-last-positive"],
    )],
    evaluate: |values| {
        let Ok(stage) = TalkStage::parse(values.text("stage")?) else {
            return refuse("'stage' is not one of the list; choose one");
        };
        let facts = talk_facts(stage);
        Ok(Answer::new(
            Value::Number(facts.of_peak_pct, "% of peak heart rate"),
            format!("effort about {} of 10", facts.effort_0_10),
        )
        .keep_in_mind("means of groups, from abstracts"))
    },
};

/// The rules of effort.
pub(super) const RULES: &[Rule] = &[ESSA_RULE, UK_RULE, TALK];

#[cfg(test)]
mod tests {
    use super::*;

    fn check(table: EffortTable, scale: EffortScale, value: f64, expected: Option<(f64, f64)>) {
        assert_eq!(beside(table, Effort { scale, value }), expected);
    }

    // Source: essa-2010 (secondary reproduction), printed rows.
    #[test]
    fn published_essa_rows() {
        use EffortScale::{SixToTwenty, ZeroToTen};
        check(EffortTable::Essa2010, SixToTwenty, 9.0, Some((1.0, 2.0)));
        check(EffortTable::Essa2010, SixToTwenty, 13.0, Some((3.0, 4.0)));
        check(EffortTable::Essa2010, SixToTwenty, 17.0, Some((7.0, 10.0)));
        check(EffortTable::Essa2010, ZeroToTen, 5.0, Some((14.0, 16.0)));
    }

    #[test]
    fn the_tables_disagree_and_both_are_kept() {
        let effort = Effort {
            scale: EffortScale::SixToTwenty,
            value: 12.0,
        };
        assert_ne!(
            beside(EffortTable::Essa2010, effort),
            beside(EffortTable::UkPractice, effort)
        );
        // 2 of 10 stands in both rows of UK practice: everything from 6 to 14 may be meant.
        check(
            EffortTable::UkPractice,
            EffortScale::ZeroToTen,
            2.0,
            Some((6.0, 14.0)),
        );
    }

    #[test]
    fn what_a_table_does_not_say_is_not_made_up() {
        check(
            EffortTable::UkPractice,
            EffortScale::SixToTwenty,
            15.0,
            None,
        );
        check(EffortTable::Essa2010, EffortScale::SixToTwenty, 7.5, None);
    }

    // Source: talk-test-abstracts, printed means.
    #[test]
    fn published_talk_test() {
        assert_eq!(
            talk_facts(TalkStage::Equivocal),
            TalkFacts {
                of_peak_pct: 82.0,
                effort_0_10: 6.3
            }
        );
        assert_eq!(
            talk_facts(TalkStage::LastPositive),
            TalkFacts {
                of_peak_pct: 79.0,
                effort_0_10: 4.4
            }
        );
        assert_eq!(
            talk_facts(TalkStage::OneBelow),
            TalkFacts {
                of_peak_pct: 73.0,
                effort_0_10: 3.6
            }
        );
    }
}
