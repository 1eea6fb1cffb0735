//! Chair stands in 30 seconds and two-minute step: average ranges by age and sex.
//!
//! Source: Rikli and Jones 1999 (register `rikli-jones-1999`). Chair of 43 cm; arms used scores 0; more than half-way up
//! at the end counts (register `cdc-fall-tests`). Step test: raises of the right knee to the mark at mid-thigh (recalled).

use crate::assessment::Sex;
use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{AGE, COUNT, SEX, refuse, sex_of, short};

/// Standard height of the seat in cm.
// Source: cdc-fall-tests.
pub const SEAT_CM: f64 = 43.0;

closed_words!(
    /// A count against the average range.
    Standing as "standing against the average" {
        Below = "below average", Average = "average", Above = "above average",
    }
);

/// The average range of an age and sex.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AverageRange {
    /// Least average count.
    pub low: u16,
    /// Greatest average count.
    pub high: u16,
}

impl AverageRange {
    /// Where a count stands: below means less than the lower bound.
    pub fn standing(self, count: f64) -> Standing {
        if count < f64::from(self.low) {
            Standing::Below
        } else if count > f64::from(self.high) {
            Standing::Above
        } else {
            Standing::Average
        }
    }
}

/// Ranges at 60-64, 65-69, 70-74, 75-79, 80-84, 85-89 and 90-94 years.
type Ranges = [(u16, u16); 7];

const CHAIR_MEN: Ranges = [
    (14, 19),
    (12, 18),
    (12, 17),
    (11, 17),
    (10, 15),
    (8, 14),
    (7, 12),
];
const CHAIR_WOMEN: Ranges = [
    (12, 17),
    (11, 16),
    (10, 15),
    (10, 15),
    (9, 14),
    (8, 13),
    (4, 11),
];
const STEP_MEN: Ranges = [
    (87, 115),
    (86, 116),
    (80, 110),
    (73, 109),
    (71, 103),
    (59, 91),
    (52, 86),
];
const STEP_WOMEN: Ranges = [
    (75, 107),
    (73, 107),
    (68, 101),
    (68, 100),
    (60, 91),
    (55, 85),
    (44, 72),
];

fn range(ranges: &Ranges, age_years: f64) -> Option<AverageRange> {
    if !(60.0..95.0).contains(&age_years) {
        return None;
    }
    let at = libm::floor((age_years - 60.0) / 5.0) as usize;
    ranges.get(at).map(|(low, high)| AverageRange {
        low: *low,
        high: *high,
    })
}

/// Average chair stands in 30 seconds; `None` outside 60 to 94 years.
pub fn chair_stand_range(age_years: f64, sex: Sex) -> Option<AverageRange> {
    match sex {
        Sex::Male => range(&CHAIR_MEN, age_years),
        Sex::Female => range(&CHAIR_WOMEN, age_years),
    }
}

/// Average raises in the two-minute step; `None` outside 60 to 94 years.
pub fn two_minute_step_range(age_years: f64, sex: Sex) -> Option<AverageRange> {
    match sex {
        Sex::Male => range(&STEP_MEN, age_years),
        Sex::Female => range(&STEP_WOMEN, age_years),
    }
}

/// The score of a chair-stand test: 0 when the arms were used.
pub fn chair_stand_score(count: f64, arms_used: bool) -> f64 {
    if arms_used { 0.0 } else { count }
}

fn answer(values: &Values, range: Option<AverageRange>, count: f64) -> Result<Answer, RuleError> {
    let Some(range) = range else {
        return refuse("there is no average for this age; the table goes from 60 to 94 years");
    };
    Ok(Answer::new(
        Value::Text(range.standing(count).word().to_owned()),
        format!(
            "{} against {} to {} at {} years",
            short(count),
            range.low,
            range.high,
            short(values.number("age_years")?)
        ),
    ))
}

/// Chair stand.
pub const CHAIR_STAND: Rule = Rule {
    id: RuleId("chair-stand/rikli-jones-1999"),
    name: "Chair stands in 30 seconds against the average",
    statement: "Average range by age (60 to 94) and sex; chair of 43 cm, arms used scores 0, more than half-way up at the end counts; below average is less than the lower bound.",
    sources: &[SourceId("rikli-jones-1999"), SourceId("cdc-fall-tests")],
    tag: Tag::Read,
    inputs: &[AGE, SEX, COUNT, Input::flag("arms_used").or_none()],
    evaluate: |values| {
        let arms = values.optional_text("arms_used") == Some("yes");
        let count = chair_stand_score(values.number("count")?, arms);
        answer(
            values,
            chair_stand_range(values.number("age_years")?, sex_of(values)?),
            count,
        )
    },
};

/// Two-minute step.
pub const TWO_MINUTE_STEP: Rule = Rule {
    id: RuleId("two-minute-step/rikli-jones-1999"),
    name: "Two-minute step against the average",
    statement: "Average range of right-knee raises in two minutes by age (60 to 94) and sex; knee to the mark at mid-thigh (recalled).",
    sources: &[SourceId("rikli-jones-1999")],
    tag: Tag::Recalled,
    inputs: &[AGE, SEX, COUNT],
    evaluate: |values| {
        let range = two_minute_step_range(values.number("age_years")?, sex_of(values)?);
        answer(values, range, values.number("count")?)
    },
};

/// The rules of these tests.
pub(super) const RULES: &[Rule] = &[CHAIR_STAND, TWO_MINUTE_STEP];

#[cfg(test)]
mod tests {
    use super::*;

    fn check(range: Option<AverageRange>, count: f64, standing: Standing) {
        assert_eq!(range.expect("in the table").standing(count), standing);
    }

    // Looked up by hand in the printed table.
    #[test]
    fn worked_standings() {
        check(chair_stand_range(72.0, Sex::Male), 11.0, Standing::Below);
        check(chair_stand_range(92.0, Sex::Female), 4.0, Standing::Average);
        check(chair_stand_range(66.0, Sex::Male), 12.0, Standing::Average);
        check(
            two_minute_step_range(75.0, Sex::Female),
            61.0,
            Standing::Below,
        );
        check(
            two_minute_step_range(75.0, Sex::Female),
            101.0,
            Standing::Above,
        );
    }

    // Source: rikli-jones-1999, printed ranges, first and last column of each row.
    #[test]
    fn published_ranges_at_the_ends_of_the_table() {
        let ends = |of: fn(f64, Sex) -> Option<AverageRange>, sex| {
            let pair = |age| of(age, sex).map(|range| (range.low, range.high)).unwrap();
            (pair(60.0), pair(94.9))
        };
        assert_eq!(ends(chair_stand_range, Sex::Male), ((14, 19), (7, 12)));
        assert_eq!(ends(chair_stand_range, Sex::Female), ((12, 17), (4, 11)));
        assert_eq!(
            ends(two_minute_step_range, Sex::Male),
            ((87, 115), (52, 86))
        );
        assert_eq!(
            ends(two_minute_step_range, Sex::Female),
            ((75, 107), (44, 72))
        );
    }

    /// Every printed range of the step test. Source: rikli-jones-1999. A corrupt copy of this table stands on a public page;
    /// how it is corrupt was not written down, so each usual slip of a copy is held off: the sexes exchanged, a column
    /// slipped by one age, the ends of two ranges exchanged.
    #[test]
    fn published_step_ranges_are_not_those_of_a_corrupt_copy() {
        let men = [
            (87, 115),
            (86, 116),
            (80, 110),
            (73, 109),
            (71, 103),
            (59, 91),
            (52, 86),
        ];
        let women = [
            (75, 107),
            (73, 107),
            (68, 101),
            (68, 100),
            (60, 91),
            (55, 85),
            (44, 72),
        ];
        let ours = |sex| {
            [60.0, 65.0, 70.0, 75.0, 80.0, 85.0, 90.0].map(|age| {
                let range = two_minute_step_range(age, sex).expect("in the table");
                (range.low, range.high)
            })
        };
        assert_eq!(ours(Sex::Male), men);
        assert_eq!(ours(Sex::Female), women);
        for (sex, own, other) in [(Sex::Male, men, women), (Sex::Female, women, men)] {
            for at in 0..7 {
                let found = ours(sex)[at];
                assert_ne!(found, other[at], "the sexes exchanged");
                assert_ne!(found, own[(at + 1) % 7], "slipped by one age");
                assert_ne!(found.0, own[at].1, "low and high exchanged");
            }
        }
    }

    #[test]
    fn arms_used_scores_nothing_and_other_ages_have_no_average() {
        assert_eq!(chair_stand_score(14.0, true), 0.0);
        assert_eq!(chair_stand_range(59.9, Sex::Male), None);
        assert_eq!(two_minute_step_range(95.0, Sex::Female), None);
    }

    #[test]
    fn law_ranges_are_ordered_and_do_not_rise_much_with_age() {
        for ranges in [&CHAIR_MEN, &CHAIR_WOMEN, &STEP_MEN, &STEP_WOMEN] {
            assert!(ranges.iter().all(|(low, high)| low < high));
            assert!(ranges.windows(2).all(|pair| pair[1].0 <= pair[0].0));
        }
    }
}
