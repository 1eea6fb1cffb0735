//! The day check: rows with this person's own bounds and what each answer comes to.

use super::build::{Ask, Facts};
use super::say::Say;
use super::{Answer, Band, CheckRow, Outcome, Told};
use rehab::assessment::HistoryItem;
use rehab::diary::{DiarySymptom, SymptomKind};
use rehab::pulse_taking::seconds_to_count;
use rehab::quantity::bound_of;
use rehab::review::{SymptomClass, classify};
use rehab::screening::{
    CARBOHYDRATE_MMOL_L, CutOff, KETONES_FIRST_MMOL_L, Side, TREAT_FIRST_MMOL_L, Vital,
    WeightWindow, cut_off, weight_windows,
};
use rehab::service::Service;

/// The bounds of the day for one person, as the service's chosen set of cut-offs gives them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayBounds {
    /// Pulse at rest in bpm from which the day is left out.
    pub pulse_high: f64,
    /// Pulse at rest in bpm below which the day is left out.
    pub pulse_low: f64,
    /// Gain of weight in kg from which the day is left out.
    pub weight_gain_kg: f64,
    /// Days within which it was gained.
    pub weight_gain_days: u16,
    /// Sugar in mmol/L below which something is eaten first.
    pub sugar_eat_below: f64,
    /// Sugar in mmol/L below which the day is left out.
    pub sugar_low: f64,
    /// Sugar in mmol/L from which the day is left out.
    pub sugar_high: f64,
}

impl DayBounds {
    /// The bounds of the service's set. Whole beats: a cut-off "above 100" lets 100 pass, "at or above" does not.
    /// A gain "above" a weight is asked as "or more", which is the more cautious. Sugar from the rule `day/glucose`:
    /// at home nobody measures ketones alone, so where they would come first the day is left out.
    pub fn of(service: &Service) -> Self {
        let row = |vital| cut_off(service.screening_set, vital);
        let first_stopped = |cut: &CutOff| match cut.side {
            Side::Above => libm::floor(cut.value) + 1.0,
            _ => cut.value,
        };
        let first_passed = |cut: &CutOff| match cut.side {
            Side::AtOrBelow => libm::floor(cut.value) + 1.0,
            _ => cut.value,
        };
        let least =
            |one: &WeightWindow, other: &WeightWindow| one.gain_kg.total_cmp(&other.gain_kg);
        // Of several windows the smallest gain is asked; the others are looked at with the next examination.
        let gain = weight_windows(service).into_iter().min_by(least);
        Self {
            pulse_high: first_stopped(row(Vital::HeartRateHigh)),
            pulse_low: first_passed(row(Vital::HeartRateLow)),
            weight_gain_kg: gain.map_or(0.0, |one| libm::ceil(one.gain_kg * 100.0) / 100.0),
            weight_gain_days: gain.map_or(1, |one| one.within_days),
            sugar_eat_below: CARBOHYDRATE_MMOL_L,
            sugar_low: TREAT_FIRST_MMOL_L,
            sugar_high: KETONES_FIRST_MMOL_L,
        }
    }
}

/// Rows in the order they are asked: what needs help now comes first.
pub(super) fn rows(ask: &Ask<'_>, facts: &Facts) -> Vec<CheckRow> {
    let maker = Maker { ask };
    let mut rows = vec![
        maker.row("chest", unwell("chest")),
        maker.row("faint", unwell("faint")),
        maker.row("racing", unwell("racing")),
        maker.row("breathless", unwell("breathless")),
    ];
    if facts.device {
        rows.push(maker.row("shock", unwell("shock")));
    }
    rows.extend(maker.since_yesterday(facts));
    rows.extend(maker.changes(facts));
    if facts.sugar_can_fall {
        let row = maker.own("sugar-low", "sugar", maker.ring());
        rows.push(row.telling(maker.worse(SymptomKind::LowSugar)));
        rows.push(maker.sugar());
    }
    rows.push(maker.drink());
    if facts.pulse_counting {
        rows.push(maker.pulse());
    }
    rows
}

fn unwell(node: &str) -> Outcome {
    Outcome::Unwell(node.to_owned())
}

impl CheckRow {
    fn telling(mut self, told: Told) -> Self {
        self.told = told;
        self
    }
}

struct Maker<'a> {
    ask: &'a Ask<'a>,
}

impl Maker<'_> {
    fn get(&self, id: &str) -> String {
        self.ask.words.get(id).to_owned()
    }

    fn ring(&self) -> Outcome {
        Outcome::NotToday(self.get("check.outcome.leave-ring"))
    }

    /// A symptom that is there, by the review's own rule of what stops.
    fn there(&self, kind: SymptomKind) -> Told {
        self.told(kind, None)
    }

    /// A symptom that was asked for as new or worse than usual.
    fn worse(&self, kind: SymptomKind) -> Told {
        self.told(kind, Some(false))
    }

    fn told(&self, kind: SymptomKind, usual: Option<bool>) -> Told {
        let symptom = DiarySymptom {
            kind,
            usual,
            score: None,
            nitrate_used: None,
        };
        let (class, _) = classify(self.ask.case, &symptom);
        Told {
            symptom: Some(kind.word()),
            worse: usual == Some(false),
            lock: class == SymptomClass::Red,
            ..Told::default()
        }
    }

    /// How the person was since yesterday. Source: review-contraindications and the leaflets of clinical practice.
    fn since_yesterday(&self, facts: &Facts) -> Vec<CheckRow> {
        let mut rows = Vec::new();
        if facts.usual_chest {
            let row = self.own("chest-usual", "chest", self.ring());
            rows.push(row.telling(self.worse(SymptomKind::ChestDiscomfort)));
        }
        if facts.has_spray {
            // The review's rule red-nitrate-used stops, whatever it was used for.
            rows.push(self.row("spray", self.ring()).telling(Told {
                nitrate: true,
                lock: true,
                ..self.there(SymptomKind::Other)
            }));
        }
        // What stops comes before what may be nothing: so it is also asked by itself.
        if facts.heart_failure {
            let lying = self.row("breathless-lying", self.ring());
            rows.push(lying.telling(self.there(SymptomKind::Breathlessness)));
            // The review's rule red-weight-gain stops; the diary has no word of its own for it.
            rows.push(self.weight_gain().telling(Told {
                lock: true,
                ..self.there(SymptomKind::Other)
            }));
        }
        let ill = self.row("ill", self.ring());
        rows.push(ill.telling(self.there(SymptomKind::Other)));
        let tired = self.row("tired", self.ring());
        rows.push(tired.telling(self.worse(SymptomKind::Tiredness)));
        if facts.heart_failure {
            let swelling = self.row("swelling", self.ring());
            rows.push(swelling.telling(self.worse(SymptomKind::Swelling)));
        }
        let leg = self.row("leg", self.ring());
        rows.push(leg.telling(self.there(SymptomKind::LegPain)));
        rows
    }

    /// What changed since the last visit or call.
    fn changes(&self, facts: &Facts) -> Vec<CheckRow> {
        let tablets = self.row("tablets", self.ring()).telling(Told {
            medicine: true,
            ..Told::default()
        });
        let fall = self.row("fall", self.ring());
        let fall = fall.telling(self.there(SymptomKind::Fall));
        let mut rows = vec![tablets, fall, self.row("hospital", self.ring())];
        if facts.wound {
            let wound = self.row("wound", self.ring());
            rows.push(wound.telling(self.there(SymptomKind::Other)));
        }
        if facts.joints {
            let joint = self.row("joint", self.ring());
            rows.push(joint.telling(self.worse(SymptomKind::OtherJointPain)));
        }
        rows
    }

    /// A yes-no row whose question, passed line and paper line share an id.
    fn row(&self, id: &str, yes: Outcome) -> CheckRow {
        self.own(id, id, yes)
    }

    /// A yes-no row that borrows its passed line from another.
    fn own(&self, id: &str, passed: &str, yes: Outcome) -> CheckRow {
        let since = self.get("check.since-last");
        let question = self.get(&format!("check.ask.{id}"));
        let paper = self.ask.words.find(&format!("check.print.{id}"));
        CheckRow {
            id: id.to_owned(),
            question: question.replace("{since}", &since),
            passed: self.get(&format!("check.well.{passed}")),
            paper: paper.into_iter().map(str::to_owned).collect(),
            answer: Answer::YesNo { yes },
            told: Told::default(),
            listed: None,
        }
    }

    /// Alcohol: it is waited for, as after a meal; on paper it stands among what is made ready.
    fn drink(&self) -> CheckRow {
        self.row(
            "drink",
            Outcome::First(self.get("check.outcome.wait-drink")),
        )
    }

    fn weight_gain(&self) -> CheckRow {
        let say = Say {
            words: self.ask.words,
        };
        let bounds = &self.ask.bounds;
        let (value, days) = (
            say.value(bounds.weight_gain_kg),
            say.number(u64::from(bounds.weight_gain_days)),
        );
        let values = [
            ("value", value.as_str()),
            ("unit", self.ask.words.get("say.unit.kg")),
            ("days", days.as_str()),
        ];
        let mut row = self.own("weight-gain", "weight", self.ring());
        row.question = self.ask.words.fill("check.ask.weight-gain", &values);
        row.paper = vec![self.ask.words.fill("check.print.weight-gain", &values)];
        row
    }

    fn pulse(&self) -> CheckRow {
        let say = Say {
            words: self.ask.words,
        };
        let bounds = &self.ask.bounds;
        let (low, high) = (say.value(bounds.pulse_low), say.value(bounds.pulse_high));
        let seconds = count_seconds(self.ask);
        let print = |id: &str, value: &str| self.ask.words.fill(id, &[("value", value)]);
        CheckRow {
            id: "pulse".to_owned(),
            question: self.get("check.ask.pulse-count"),
            passed: self.get("check.well.pulse"),
            paper: vec![
                print("check.print.pulse-high", &high),
                print("check.print.pulse-low", &low),
            ],
            answer: self.number(
                "hr_bpm",
                "say.unit.pulse",
                0,
                Some(seconds),
                vec![
                    band(bounds.pulse_low, self.ring()),
                    band(bounds.pulse_high, Outcome::GoOn),
                    last(self.ring()),
                ],
                // Nobody must count to exercise; what a pulse would warn of was asked before it.
                Outcome::GoOn,
            ),
            told: Told::default(),
            listed: None,
        }
    }

    fn sugar(&self) -> CheckRow {
        let say = Say {
            words: self.ask.words,
        };
        let bounds = &self.ask.bounds;
        let values = [
            ("low", say.value(bounds.sugar_eat_below)),
            ("high", say.value(bounds.sugar_high)),
            ("unit", self.get("say.unit.sugar")),
        ];
        let values: Vec<(&str, &str)> = values.iter().map(|(k, v)| (*k, v.as_str())).collect();
        CheckRow {
            id: "sugar".to_owned(),
            question: self.get("check.ask.sugar"),
            passed: self.get("check.well.sugar"),
            paper: vec![self.ask.words.fill("check.print.sugar-range", &values)],
            answer: self.number(
                "glucose_mmol_l",
                "say.unit.sugar",
                1,
                None,
                vec![
                    band(bounds.sugar_low, unwell("sugar")),
                    band(
                        bounds.sugar_eat_below,
                        Outcome::First(self.get("check.outcome.wait-sugar")),
                    ),
                    band(bounds.sugar_high, Outcome::GoOn),
                    last(self.ring()),
                ],
                Outcome::First(self.get("check.outcome.measure-sugar")),
            ),
            told: Told::default(),
            listed: None,
        }
    }

    /// A number within the table of bounds, so that what the page saves is never refused later.
    fn number(
        &self,
        key: &str,
        unit: &str,
        decimals: u8,
        count_s: Option<u16>,
        bands: Vec<Band>,
        unmeasured: Outcome,
    ) -> Answer {
        let bound = bound_of(key).expect("the key stands in the table of bounds: tested");
        Answer::Number {
            unit: self.get(unit),
            least: bound.low,
            most: bound.high,
            decimals,
            count_s,
            bands,
            unmeasured,
        }
    }
}

const fn band(below: f64, outcome: Outcome) -> Band {
    Band {
        below: Some(below),
        outcome,
    }
}

const fn last(outcome: Outcome) -> Band {
    Band {
        below: None,
        outcome,
    }
}

/// Seconds over which this person counts the pulse: the full minute where it is or may be irregular.
pub(super) fn count_seconds(ask: &Ask<'_>) -> u16 {
    let regular = ask
        .case
        .examinations
        .iter()
        .rev()
        .find_map(|one| one.pulse_regular);
    libm::round(seconds_to_count(ask.case.heart.rhythm, regular)) as u16
}

/// What the person gets ready before the session.
pub(super) fn ready(ask: &Ask<'_>, facts: &Facts) -> Vec<String> {
    let all = [
        (true, "meal"),
        (true, "tablets"),
        (facts.nitrate, "spray"),
        (true, "telephone"),
        (facts.sugar_can_fall, "sugar"),
        (facts.alone, "door"),
        (facts.low_vision, "glasses"),
        (facts.wound, "arms"),
        (true, "chair"),
        (true, "floor"),
        (true, "shoes"),
    ];
    all.iter()
        .filter(|(concerns, _)| *concerns)
        .map(|(_, id)| ask.words.get(&format!("page.ready.{id}")).to_owned())
        .collect()
}

/// Whether a joint of this person is known to be sore.
pub(super) fn has_sore_joint(ask: &Ask<'_>) -> bool {
    let items = [
        HistoryItem::KneeOsteoarthritis,
        HistoryItem::HipOsteoarthritis,
        HistoryItem::ShoulderPain,
        HistoryItem::WristPain,
    ];
    !ask.case.pains.is_empty() || items.iter().any(|item| ask.case.history.has(*item))
}
