//! The smallest change that matters of each measure, in whom it was found, and how well that is known.

use crate::evidence::{Answer, Input, Rule, RuleError, RuleId, SourceId, Tag, Value, Values};
use crate::inputs::short;

/// One published smallest change that matters.
#[derive(Clone, Copy, Debug)]
pub struct SmallestChange {
    /// Kind of test as written in files, or the name of a questionnaire.
    pub kind: &'static str,
    /// The change.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Whether more is better.
    pub more_is_better: bool,
    /// In whom, or how large ("small", "substantial").
    pub in_whom: &'static str,
    /// The rule that holds it.
    pub rule: &'static Rule,
}

/// Every published smallest change of a kind, the one nearest to cardiac rehabilitation first; empty where none was
/// found (two-minute step, timed up and go, activity questionnaire).
pub fn mcid(kind: &str) -> Vec<&'static SmallestChange> {
    ALL.iter().filter(|one| one.kind == kind).collect()
}

closed_words!(
    /// What a change came to.
    ChangeWord as "change" {
        Better = "better by at least the smallest change that matters",
        Worse = "worse by at least the smallest change that matters",
        Less = "less than the smallest change that matters",
    }
);

impl SmallestChange {
    /// What a change from the first to the second value comes to.
    pub fn judge(&self, first: f64, second: f64) -> ChangeWord {
        let gained = if self.more_is_better {
            second - first
        } else {
            first - second
        };
        // A change of exactly the smallest counts, also when binary fractions miss it by a hair.
        let enough = self.value - 1e-9;
        if gained >= enough {
            ChangeWord::Better
        } else if -gained >= enough {
            ChangeWord::Worse
        } else {
            ChangeWord::Less
        }
    }
}

fn evaluate(values: &Values, at: usize) -> Result<Answer, RuleError> {
    let one = &ALL[at];
    let (first, second) = (values.number("first")?, values.number("second")?);
    Ok(Answer::new(
        Value::Text(one.judge(first, second).word().to_owned()),
        format!(
            "{} - {} = {}, smallest change {} {} ({})",
            short(second),
            short(first),
            short(second - first),
            one.value,
            one.unit,
            one.in_whom
        ),
    )
    .keep_in_mind("only for two comparable tests; says nothing about what caused the change"))
}

const FIRST: Input = Input::number("first", "in the unit of the test", 0.0, 2000.0);
const SECOND: Input = Input::number("second", "in the unit of the test", 0.0, 2000.0);

macro_rules! changes {
    ($($place:ident: $kind:literal, $value:literal $unit:literal, $better:literal, $whom:literal,
        $id:literal, $source:literal, $tag:ident;)+) => {
        /// Every smallest change.
        const ALL: &[SmallestChange] = &[$(SmallestChange {
            kind: $kind,
            value: $value,
            unit: $unit,
            more_is_better: $better,
            in_whom: $whom,
            rule: &RULES[Place::$place as usize],
        }),+];

        /// The rules of smallest change, in the order of the table.
        pub(super) const RULES: &[Rule] = &[$(Rule {
            id: RuleId(concat!("smallest-change/", $id)),
            name: concat!("Smallest change that matters: ", $kind),
            statement: concat!($value, " ", $unit, ", ", $whom, "."),
            sources: &[SourceId($source)],
            tag: Tag::$tag,
            inputs: &[FIRST, SECOND],
            evaluate: |values| evaluate(values, Place::$place as usize),
        }),+];

        enum Place { $($place),+ }
    };
}

changes! {
    WalkCoronary: "six-minute-walk", 25.0 "m", true, "coronary disease",
        "six-minute-walk-coronary", "gremeaux-2011", Read;
    WalkFailureLow: "six-minute-walk", 30.1 "m", true, "heart failure",
        "six-minute-walk-heart-failure", "shoemaker-2013", Read;
    WalkFailureHigh: "six-minute-walk", 36.0 "m", true, "heart failure, a second source (about 36 m)",
        "six-minute-walk-heart-failure-taeger", "taeger-2014", Read;
    Shuttle: "shuttle-walk", 70.0 "m", true, "cardiac rehabilitation (70 to 92 m; 47 m can be told from chance)",
        "shuttle-walk", "houchen-wolloff-2015", Read;
    ChairStand: "chair-stand-30s", 2.0 "stands", true, "osteoarthritis of the hip",
        "chair-stand-30s", "wright-2011", Recalled;
    OneMinute: "sit-to-stand-1min", 3.0 "stands", true, "lung disease (1.9 to 3.1)",
        "sit-to-stand-1min", "vaidya-2016", Read;
    FiveStands: "five-sit-to-stand", 1.7 "s", false, "lung disease",
        "five-sit-to-stand", "jones-2013", Recalled;
    GaitSmall: "gait-4m", 0.05 "m/s", true, "small change (0.03 to 0.05 m/s)",
        "gait-4m-small", "kwon-2009", Read;
    GaitSubstantial: "gait-4m", 0.08 "m/s", true, "substantial change",
        "gait-4m-substantial", "kwon-2009", Read;
    GaitPerera: "gait-4m", 0.10 "m/s", true, "substantial change, a second source (small 0.05 m/s)",
        "gait-4m-perera", "perera-2006", Recalled;
    Phq: "phq-9", 5.0 "points", false, "mood; a second source has about 20 % (1.7 points)",
        "phq-9", "loewe-2004", Recalled;
    Gad: "gad-7", 4.0 "points", false, "worry; a second source has 1.5 points",
        "gad-7", "toussaint-2020", Read;
    Who: "who-5", 10.0 "points", true, "well-being, on the scale of 0 to 100",
        "who-5", "who-5", Read;
    Hads: "hads", 1.7 "points", false, "anxiety or depression scale, heart patients",
        "hads", "lemay-2019", Read;
    HeartQuality: "macnew", 0.5 "points", true, "quality of life with heart disease, scale of 1 to 7",
        "macnew", "dixon-2002", Read;
    FailureQuality: "mlhfq", 5.0 "points", false, "heart failure (recalled; a review of 2019 has 3.59 to 19.14)",
        "mlhfq", "mlhfq-2019", Recalled;
    CardiomyopathyQuality: "kccq-12", 5.0 "points", true, "small change (10 moderate, 20 large)",
        "kccq-12", "kccq", Recalled;
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(kind: &str, expected: &[f64]) {
        let found: Vec<f64> = mcid(kind).iter().map(|one| one.value).collect();
        assert_eq!(found, expected, "{kind}");
    }

    // Sources stand beside each value in the table: gremeaux-2011, shoemaker-2013, taeger-2014, houchen-wolloff-2015 ...
    #[test]
    fn published_smallest_changes() {
        check("six-minute-walk", &[25.0, 30.1, 36.0]);
        check("shuttle-walk", &[70.0]);
        check("chair-stand-30s", &[2.0]);
        check("sit-to-stand-1min", &[3.0]);
        check("five-sit-to-stand", &[1.7]);
        check("gait-4m", &[0.05, 0.08, 0.10]);
        check("phq-9", &[5.0]);
        check("gad-7", &[4.0]);
        check("who-5", &[10.0]);
        check("hads", &[1.7]);
    }

    #[test]
    fn where_none_was_found_none_is_given() {
        for kind in [
            "two-minute-step",
            "timed-up-and-go",
            "activity-status",
            "exercise-test",
            "step",
        ] {
            check(kind, &[]);
        }
    }

    #[test]
    fn exactly_the_smallest_change_counts_in_either_direction() {
        let walk = mcid("six-minute-walk")[0];
        assert_eq!(walk.judge(300.0, 325.0), ChangeWord::Better);
        assert_eq!(walk.judge(300.0, 324.9), ChangeWord::Less);
        assert_eq!(walk.judge(325.0, 300.0), ChangeWord::Worse);
        let stands = mcid("five-sit-to-stand")[0];
        assert_eq!(stands.judge(14.0, 12.3), ChangeWord::Better);
        assert_eq!(stands.judge(12.3, 14.0), ChangeWord::Worse);
    }

    #[test]
    fn each_change_holds_its_own_rule() {
        for one in ALL {
            assert!(
                one.rule.name.ends_with(one.kind),
                "{} holds {}",
                one.kind,
                one.rule.id
            );
        }
    }
}
