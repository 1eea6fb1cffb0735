//! Tables that say which share of what counts as light, moderate or vigorous. The same number means different bands in
//! different tables, so a level is never given without the id of its table.

use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::{refuse, short};
use crate::quantity::Mets;

closed_words!(
    /// What a level is measured by.
    LevelMeasure as "measure of intensity" {
        Uptake = "uptake-pct", OfPeak = "peak-hr-pct", Reserve = "reserve-pct", Effort = "effort-6-20",
    }
);

/// A printed range; an open end is `None`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintedRange {
    /// Lower end; `None` for "less than the next level".
    pub low: Option<f64>,
    /// Upper end; `None` for "or more".
    pub high: Option<f64>,
    /// Whether the lower end itself is outside ("> 85").
    pub over: bool,
}

/// One level of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Its name in the table.
    pub name: &'static str,
    /// Per cent of maximal oxygen uptake.
    pub uptake: Option<PrintedRange>,
    /// Per cent of the peak heart rate.
    pub of_peak: Option<PrintedRange>,
    /// Per cent of heart-rate or oxygen reserve.
    pub reserve: Option<PrintedRange>,
    /// Effort of 6 to 20.
    pub effort: Option<PrintedRange>,
}

impl Level {
    /// The range of one measure.
    pub const fn range(&self, measure: LevelMeasure) -> Option<PrintedRange> {
        match measure {
            LevelMeasure::Uptake => self.uptake,
            LevelMeasure::OfPeak => self.of_peak,
            LevelMeasure::Reserve => self.reserve,
            LevelMeasure::Effort => self.effort,
        }
    }
}

/// A table with its levels from least to most.
#[derive(Clone, Copy, Debug)]
pub struct LevelTable {
    /// Id, stored with a plan that uses it.
    pub id: &'static str,
    /// Its levels, least first.
    pub levels: &'static [Level],
    /// The rule that holds it.
    pub rule: &'static Rule,
}

impl LevelTable {
    /// The level of a value: the highest one whose lower end it reaches, so that the gaps between printed whole numbers
    /// belong to the lower level. `None` when it lies below the table or the table lacks the measure.
    pub fn level(&self, measure: LevelMeasure, value: f64) -> Option<&'static Level> {
        let reached = |level: &&Level| {
            level.range(measure).is_some_and(|range| match range.low {
                None => true,
                Some(low) if range.over => value > low,
                Some(low) => value >= low,
            })
        };
        self.levels.iter().rfind(reached)
    }
}

/// Every table.
pub fn level_tables() -> &'static [LevelTable] {
    TABLES
}

/// The table of an id.
pub fn level_table(id: &str) -> Option<&'static LevelTable> {
    TABLES.iter().find(|table| table.id == id)
}

/// Level of absolute METs: light 2.0 to 2.9, moderate 3.0 to 5.9, vigorous 6.0 and more; `None` below 2.
///
/// Source: register `garber-2011`.
pub fn absolute_level(mets: Mets) -> Option<&'static str> {
    match mets.to_mets() {
        value if value >= 6.0 => Some("vigorous"),
        value if value >= 3.0 => Some("moderate"),
        value if value >= 2.0 => Some("light"),
        _ => None,
    }
}

const fn to(low: f64, high: f64) -> Option<PrintedRange> {
    Some(PrintedRange {
        low: Some(low),
        high: Some(high),
        over: false,
    })
}

const fn below(high: f64) -> Option<PrintedRange> {
    Some(PrintedRange {
        low: None,
        high: Some(high),
        over: false,
    })
}

const fn from(low: f64) -> Option<PrintedRange> {
    Some(PrintedRange {
        low: Some(low),
        high: None,
        over: false,
    })
}

const fn over(low: f64) -> Option<PrintedRange> {
    Some(PrintedRange {
        low: Some(low),
        high: None,
        over: true,
    })
}

const fn level(
    name: &'static str,
    [uptake, of_peak, reserve, effort]: [Option<PrintedRange>; 4],
) -> Level {
    Level {
        name,
        uptake,
        of_peak,
        reserve,
        effort,
    }
}

const ACSM_2011: &[Level] = &[
    level(
        "very light",
        [below(37.0), below(57.0), below(30.0), below(9.0)],
    ),
    level(
        "light",
        [
            to(37.0, 45.0),
            to(57.0, 63.0),
            to(30.0, 39.0),
            to(9.0, 11.0),
        ],
    ),
    level(
        "moderate",
        [
            to(46.0, 63.0),
            to(64.0, 76.0),
            to(40.0, 59.0),
            to(12.0, 13.0),
        ],
    ),
    level(
        "vigorous",
        [
            to(64.0, 90.0),
            to(77.0, 95.0),
            to(60.0, 89.0),
            to(14.0, 17.0),
        ],
    ),
    level(
        "near-maximal",
        [from(91.0), from(96.0), from(90.0), from(18.0)],
    ),
];

const ACSM_2000: &[Level] = &[
    level(
        "moderate",
        [None, to(55.0, 69.0), to(40.0, 59.0), to(12.0, 13.0)],
    ),
    level(
        "hard",
        [None, to(70.0, 89.0), to(60.0, 84.0), to(14.0, 16.0)],
    ),
    level("very hard", [None, from(90.0), from(85.0), to(17.0, 20.0)]),
];

const ESSA_2010: &[Level] = &[
    level(
        "moderate",
        [None, to(55.0, 70.0), to(40.0, 59.0), to(11.0, 13.0)],
    ),
    level(
        "vigorous",
        [None, to(70.0, 90.0), to(60.0, 84.0), to(14.0, 16.0)],
    ),
    level("high", [None, from(90.0), from(85.0), from(17.0)]),
];

const ESC_2020: &[Level] = &[
    level("low", [None, below(55.0), below(40.0), to(10.0, 11.0)]),
    level(
        "moderate",
        [None, to(55.0, 74.0), to(40.0, 69.0), to(12.0, 13.0)],
    ),
    level(
        "high",
        [None, to(75.0, 90.0), to(70.0, 85.0), to(14.0, 16.0)],
    ),
    level("very high", [None, over(90.0), over(85.0), to(17.0, 19.0)]),
];

fn evaluate(values: &Values, at: usize) -> Result<Answer, RuleError> {
    let table = &TABLES[at];
    let Ok(measure) = LevelMeasure::parse(values.text("measure")?) else {
        return refuse("'measure' is not one of this table; choose one of the list");
    };
    if table
        .levels
        .iter()
        .all(|level| level.range(measure).is_none())
    {
        return refuse(format!(
            "the table {} has no {measure}; take another table or measure",
            table.id
        ));
    }
    let value = values.number("value")?;
    let name = table
        .level(measure, value)
        .map_or("below the table", |level| level.name);
    Ok(Answer::new(
        Value::Text(name.to_owned()),
        format!("{measure} {} in the table {}", short(value), table.id),
    )
    .keep_in_mind("other tables call the same number differently: keep the table's id with it"))
}

macro_rules! tables {
    ($($place:ident: $id:literal, $levels:ident, $tag:ident, [$($source:literal),+], $name:literal, $statement:literal;)+) => {
        const TABLES: &[LevelTable] = &[$(LevelTable {
            id: $id,
            levels: $levels,
            rule: &TABLE_RULES[Place::$place as usize],
        }),+];

        const TABLE_RULES: &[Rule] = &[$(Rule {
            id: RuleId(concat!("levels/", $id)),
            name: $name,
            statement: $statement,
            sources: &[$(SourceId($source)),+],
            tag: Tag::$tag,
            inputs: &[
                Input::choice("measure", &["uptake-pct", "peak-hr-pct", "reserve-pct", "effort-6-20"]),
                Input::number("value", "in the measure", 0.0, 120.0),
            ],
            evaluate: |values| evaluate(values, Place::$place as usize),
        }),+];

        enum Place { $($place),+ }
    };
}

tables! {
    Acsm2011: "acsm-2011", ACSM_2011, Read, ["garber-2011", "acsm-2018-table"], "Levels, ACSM 2011 and 2018",
        "Moderate 46-63 % VO2max, 64-76 % HRmax, 40-59 % reserve, effort 12-13; vigorous 64-90, 77-95, 60-89, 14-17; near-maximal from 91, 96 (one print has 95), 90, 18; light from 37, 57, 30, 9.";
    Acsm2000: "acsm-2000", ACSM_2000, Read, ["acsm-2000-table"], "Levels, ACSM 2000",
        "Moderate 40-59 % reserve, 55-69 % HRmax, effort 12-13; hard 60-84, 70-89, 14-16; very hard from 85, 90, 17.";
    Essa2010: "essa-2010", ESSA_2010, Read, ["essa-2010"], "Levels, ESSA 2010",
        "Moderate 40-59 % reserve, 55-70 % HRmax, effort 11-13; vigorous 60-84, 70-90, 14-16; high from 85, 90, 17. Printed ends overlap; the shared value counts as the higher level.";
    Esc2020: "esc-2020", ESC_2020, Recalled, ["pelliccia-2021", "anselmi-2021"], "Levels, ESC 2020",
        "Low below 40 % reserve and 55 % HRmax, effort 10-11; moderate 40-69, 55-74, 12-13; high 70-85, 75-90, 14-16; very high over 85, 90, 17-19. In cardiac patients the first ventilatory threshold lay in its high band in 67 to 80 %.";
}

const ABSOLUTE: Rule = Rule {
    id: RuleId("levels/absolute-mets"),
    name: "Levels by absolute METs",
    statement: "Light 2.0 to 2.9, moderate 3.0 to 5.9, vigorous 6.0 METs and more.",
    sources: &[SourceId("garber-2011")],
    tag: Tag::Read,
    inputs: &[Input::number("mets", "METs", 0.5, 25.0)],
    evaluate: |values| {
        let mets = values.number("mets")?;
        let level = absolute_level(Mets::of(mets)).unwrap_or("below light");
        Ok(Answer::new(
            Value::Text(level.to_owned()),
            format!("{mets} METs"),
        ))
    },
};

/// The rules of the tables.
pub(super) fn rules() -> impl Iterator<Item = &'static Rule> {
    const MORE: &[Rule] = &[ABSOLUTE];
    TABLE_RULES.iter().chain(MORE)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(table: &str, measure: LevelMeasure, value: f64, name: &str) {
        let found = level_table(table).unwrap().level(measure, value);
        assert_eq!(
            found.map(|level| level.name),
            Some(name),
            "{table} {measure} {value}"
        );
    }

    // Source: garber-2011 (secondary reproduction), printed lower ends of every level.
    #[test]
    fn published_acsm_2011() {
        use LevelMeasure::{Effort, OfPeak, Reserve, Uptake};
        for (name, uptake, peak, reserve, effort) in [
            ("light", 37.0, 57.0, 30.0, 9.0),
            ("moderate", 46.0, 64.0, 40.0, 12.0),
            ("vigorous", 64.0, 77.0, 60.0, 14.0),
            ("near-maximal", 91.0, 96.0, 90.0, 18.0),
        ] {
            check("acsm-2011", Uptake, uptake, name);
            check("acsm-2011", OfPeak, peak, name);
            check("acsm-2011", Reserve, reserve, name);
            check("acsm-2011", Effort, effort, name);
        }
        check("acsm-2011", Reserve, 29.9, "very light");
        check("acsm-2011", Reserve, 59.0, "moderate");
        check("acsm-2011", OfPeak, 95.0, "vigorous");
    }

    #[test]
    fn the_same_number_means_different_levels_in_different_tables() {
        use LevelMeasure::{OfPeak, Reserve};
        check("acsm-2011", Reserve, 65.0, "vigorous");
        check("esc-2020", Reserve, 65.0, "moderate");
        check("acsm-2011", OfPeak, 60.0, "light");
        check("acsm-2000", OfPeak, 60.0, "moderate");
        check("essa-2010", OfPeak, 70.0, "vigorous");
        check("esc-2020", Reserve, 85.0, "high");
        check("esc-2020", Reserve, 85.1, "very high");
    }

    #[test]
    fn below_a_table_or_without_the_measure_there_is_no_level() {
        let table = level_table("acsm-2000").unwrap();
        assert_eq!(table.level(LevelMeasure::Reserve, 39.0), None);
        assert_eq!(table.level(LevelMeasure::Uptake, 70.0), None);
        assert_eq!(absolute_level(Mets::of(1.9)), None);
        assert_eq!(absolute_level(Mets::of(5.9)), Some("moderate"));
    }

    #[test]
    fn law_more_is_never_a_lower_level() {
        for table in level_tables() {
            for measure in LevelMeasure::ALL {
                let mut before = None;
                for value in 0..=100 {
                    let found = table.level(*measure, f64::from(value));
                    let at =
                        found.and_then(|one| table.levels.iter().position(|level| level == one));
                    assert!(at >= before, "{} {measure} {value}", table.id);
                    before = at;
                }
            }
        }
    }
}
