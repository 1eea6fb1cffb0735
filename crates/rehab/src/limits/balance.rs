//! The highest level of balance that suits: the least that any finding allows.

use crate::assessment::{Answered, HistoryItem, TestResult, WalkingAid};
use crate::evidence::{
    Answer, Because, Finding, Input, Named, Rule, RuleId, SourceId, Tag, Value, Weight,
};
use crate::function_tests::chair_and_gait::{
    FIVE_STANDS_FALLS_S, GAIT_FRAIL_M_S, GAIT_RISK_M_S, UP_AND_GO_FALLS_S,
    five_stands_slow_above_s, gait_speed_m_s, up_and_go,
};
use crate::inputs::AGE;
use crate::known::Known;

/// Slower than this on the timed up and go only seated or with both hands.
// Source: balance-ours.
const UP_AND_GO_SLOW_S: f64 = 20.0;
/// Worse than average on the timed up and go where the age is not in the table.
// Source: bohannon-2006-tug: 60 to 99 years, upper end of the mean's interval 9.9 s.
const UP_AND_GO_WORSE_THAN_AVERAGE_S: f64 = 9.9;

const BALANCE: Rule = Rule {
    id: RuleId("limits/balance"),
    name: "Highest balance level",
    statement: "Levels: 0 seated or both hands, 1 both feet, 2 moving on one foot, 3 standing on one foot. The least \
                that any finding allows: a frame 0, a stick 1; no fall 3, one fall 2, more 1; timed up and go no worse \
                than average for the age 3, under 12 s 2, under 20 s 1, else 0; gait 1.0 m/s 3, above 0.8 m/s 2, slower \
                1; five stands no slower than average 3, under 15 s 2, else 1; poor balance or vertigo 1; stroke, low vision or numb feet 2. Level 3 only when aid and \
                falls are known and a test was good; nothing known: 1 (levels are our default).",
    sources: &[
        SourceId("balance-ours"),
        SourceId("cdc-fall-tests"),
        SourceId("bohannon-2006-tug"),
        SourceId("cesari-gait"),
        SourceId("gait-sarcopenia"),
        SourceId("buatois-2008"),
    ],
    tag: Tag::Ours,
    inputs: &[
        Input::choice("aid", &["none", "stick", "frame"]).or_none(),
        Input::number("falls_12_months", "falls", 0.0, 100.0).or_none(),
        Input::number("up_and_go_s", "s", 0.5, 180.0).or_none(),
        Input::number("gait_4m_s", "s", 0.5, 180.0).or_none(),
        Input::number("five_stands_s", "s", 0.5, 180.0).or_none(),
        AGE.or_none(),
    ],
    evaluate: |values| {
        let aid = values
            .optional_text("aid")
            .and_then(|word| WalkingAid::parse(word).ok());
        let falls = values.optional_number("falls_12_months");
        let age = values.optional_number("age_years");
        let mut caps = Vec::new();
        caps.extend(aid.map(of_aid));
        caps.extend(falls.map(|falls| of_falls(falls as u32)));
        let tests = [
            values
                .optional_number("up_and_go_s")
                .map(|seconds| of_up_and_go(seconds, age)),
            values.optional_number("gait_4m_s").map(of_gait),
            values
                .optional_number("five_stands_s")
                .map(|seconds| of_five_stands(seconds, age)),
        ];
        let tested = tests.iter().flatten().count() > 0;
        caps.extend(tests.into_iter().flatten());
        let level = level(&caps, aid.is_some(), falls.is_some(), tested);
        Ok(Answer::new(
            Value::Whole(i64::from(level), ""),
            working(&caps),
        ))
    },
};

fn working(caps: &[u8]) -> String {
    if caps.is_empty() {
        return "nothing of aid, falls and tests is known".to_owned();
    }
    let words: Vec<String> = caps.iter().map(u8::to_string).collect();
    format!("least of {}", words.join(", "))
}

/// The rules of this part.
pub(super) const RULES: &[Rule] = &[BALANCE];

const fn of_aid(aid: WalkingAid) -> u8 {
    match aid {
        WalkingAid::None => 3,
        WalkingAid::Stick => 1,
        WalkingAid::Frame => 0,
    }
}

const fn of_falls(falls: u32) -> u8 {
    match falls {
        0 => 3,
        1 => 2,
        _ => 1,
    }
}

fn of_up_and_go(seconds: f64, age_years: Option<f64>) -> u8 {
    let average = age_years
        .and_then(up_and_go)
        .map_or(UP_AND_GO_WORSE_THAN_AVERAGE_S, |mean| mean.high_s);
    if seconds >= UP_AND_GO_SLOW_S {
        0
    } else if seconds >= UP_AND_GO_FALLS_S {
        1
    } else if seconds > average {
        2
    } else {
        3
    }
}

fn of_gait(seconds: f64) -> u8 {
    let speed_m_s = gait_speed_m_s(seconds);
    if speed_m_s <= GAIT_FRAIL_M_S {
        1
    } else if speed_m_s < GAIT_RISK_M_S {
        2
    } else {
        3
    }
}

fn of_five_stands(seconds: f64, age_years: Option<f64>) -> u8 {
    let slow = age_years.and_then(five_stands_slow_above_s);
    if seconds >= FIVE_STANDS_FALLS_S {
        1
    } else if slow.is_some_and(|slow| seconds > slow) {
        2
    } else {
        3
    }
}

/// The least cap; level 3 only where aid, falls and a test are known, 2 where only some is, 1 where nothing is.
fn level(caps: &[u8], aid_known: bool, falls_known: bool, tested: bool) -> u8 {
    let known = [aid_known, falls_known, tested]
        .iter()
        .filter(|known| **known)
        .count();
    let most = match known {
        3 => 3,
        0 => 1,
        _ => 2,
    };
    caps.iter().copied().min().unwrap_or(3).min(most)
}

/// The level with what was noticed.
pub(crate) struct Balance {
    pub(crate) most: u8,
    /// Whether something found, not something missing, makes balance poor.
    pub(crate) poor: bool,
    pub(crate) because: Because,
    pub(crate) findings: Vec<Finding>,
    pub(crate) questions: Vec<Finding>,
}

/// Balance of the record on its day.
pub(crate) fn balance(known: &Known) -> Balance {
    let function = known.case.function;
    let mut caps: Vec<(u8, String)> = Vec::new();
    if let Some(aid) = function.aid {
        caps.push((of_aid(aid), format!("walking aid: {aid}")));
    }
    if let Some(falls) = function.falls_12_months {
        caps.push((of_falls(falls), format!("{falls} falls in 12 months")));
    }
    let tests = tested(known);
    let was_tested = !tests.is_empty();
    caps.extend(tests);
    caps.extend(conditions(known));
    let levels: Vec<u8> = caps.iter().map(|(cap, _)| *cap).collect();
    let most = level(
        &levels,
        function.aid.is_some(),
        function.falls_12_months.is_some(),
        was_tested,
    );
    let least = levels.iter().copied().min().unwrap_or(3);
    let poor = least <= 1;
    let mut because = BALANCE.because(
        Value::Whole(i64::from(most), "of 3"),
        "Highest balance level: the least that any finding allows.",
    );
    for (cap, what) in &caps {
        because = because.with(Named::text("finding", format!("{what}: up to {cap}")));
    }
    if most < least {
        because =
            because.assuming("what is not known of aid, falls or a test keeps the level lower");
    }
    let parts: Vec<String> = levels.iter().map(u8::to_string).collect();
    let because = because
        .working(format!(
            "least of [{}], at most {most} by what is known",
            parts.join(", ")
        ))
        .unsure("a level is a start; the first session is watched")
        .changes_with("a test of balance, a fall, another walking aid");
    let speaking: Vec<&str> = caps
        .iter()
        .filter(|(cap, _)| *cap <= 1)
        .map(|(_, what)| what.as_str())
        .collect();
    let findings = if poor {
        let text = format!(
            "Balance is poor ({}): support within reach, no standing on one foot",
            speaking.join("; ")
        );
        vec![BALANCE.finding(Weight::Adapt, text).with(Named::whole(
            "balance_max",
            i64::from(most),
            "",
        ))]
    } else {
        Vec::new()
    };
    Balance {
        most,
        poor,
        because,
        findings,
        questions: questions(known, was_tested),
    }
}

/// What the newest test of each kind allows.
fn tested(known: &Known) -> Vec<(u8, String)> {
    let age = known.case.person.age_years(known.on);
    let mut kinds = std::collections::BTreeSet::new();
    let mut all = Vec::new();
    for test in known.tests() {
        let found = match test.result {
            TestResult::TimedUpAndGo { seconds } => (
                of_up_and_go(seconds, age),
                format!("timed up and go {seconds} s"),
            ),
            TestResult::Gait4m { seconds } => {
                (of_gait(seconds), format!("4 metres in {seconds} s"))
            }
            TestResult::FiveSitToStand { seconds } => (
                of_five_stands(seconds, age),
                format!("five stands in {seconds} s"),
            ),
            _ => continue,
        };
        if kinds.insert(test.result.kind()) {
            all.push(found);
        }
    }
    all
}

fn conditions(known: &Known) -> Vec<(u8, String)> {
    [
        (HistoryItem::PoorBalance, 1, "poor balance"),
        (HistoryItem::Vertigo, 1, "vertigo"),
        (HistoryItem::Stroke, 2, "a stroke"),
        (HistoryItem::LowVision, 2, "low vision"),
        (HistoryItem::FootNeuropathy, 2, "numb feet"),
    ]
    .into_iter()
    .filter(|(item, _, _)| known.answer(*item) == Answered::Present)
    .map(|(_, cap, words)| (cap, words.to_owned()))
    .collect()
}

fn questions(known: &Known, was_tested: bool) -> Vec<Finding> {
    let function = known.case.function;
    let mut missing = Vec::new();
    if function.aid.is_none() {
        missing.push("walking aid");
    }
    if function.falls_12_months.is_none() {
        missing.push("falls in the last 12 months");
    }
    if !was_tested {
        missing.push("a test of balance (timed up and go, 4 metres or five stands)");
    }
    if missing.is_empty() {
        return Vec::new();
    }
    let text = format!("How is the balance? Missing: {}", missing.join(", "));
    vec![BALANCE.finding(Weight::FindOut, text).asking(
        "ask and measure at the visit",
        "standing exercises without support",
    )]
}
