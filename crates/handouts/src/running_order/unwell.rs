//! The unwell path: one thing at a time, the number on every screen, the spray only where it belongs.

use super::build::{Ask, Facts};
use super::say::Say;
use super::{Call, Choice, Next, Node, Tick, Together, Unwell};
use rehab::diary::SymptomKind;
use std::collections::BTreeMap;

/// Builds the path for this person.
pub(super) fn unwell(ask: &Ask<'_>, facts: &Facts) -> Unwell {
    let mut path = Path {
        ask,
        facts,
        nodes: BTreeMap::new(),
    };
    path.first();
    path.chest();
    path.faint();
    path.racing();
    if facts.device {
        path.shock();
    }
    path.breathless();
    if facts.diabetes {
        path.sugar();
    }
    path.fall();
    path.other();
    path.several();
    let mut after = vec!["no-exercise", "ring", "write-down"];
    if facts.nitrate {
        after.push("spray-check");
    }
    Unwell {
        first: "first".to_owned(),
        nodes: path.nodes,
        after: after
            .iter()
            .map(|id| ask.words.get(&format!("unwell.after.{id}")).to_owned())
            .collect(),
    }
}

/// Ends of the path at which the person stays where they are: faint, or hurt in a fall.
const STAYS: [&str; 3] = ["chest-faint", "faint-now", "fall-hurt"];

pub(super) struct Path<'a> {
    pub(super) ask: &'a Ask<'a>,
    pub(super) facts: &'a Facts,
    nodes: BTreeMap<String, Node>,
}

impl Path<'_> {
    pub(super) fn get(&self, id: &str) -> String {
        self.ask.words.get(&format!("unwell.{id}")).to_owned()
    }

    pub(super) fn all(&self, ids: &[&str]) -> Vec<String> {
        ids.iter().map(|id| self.get(id)).collect()
    }

    pub(super) fn choice(&self, label: &str, next: &str) -> Choice {
        Choice {
            label: self.get(label),
            next: Next::Node(next.to_owned()),
            after_wait: false,
        }
    }

    pub(super) fn yes_no(&self, yes: &str, no: &str) -> Vec<Choice> {
        let button = |id: &str, next: &str| Choice {
            label: self.ask.words.get(id).to_owned(),
            next: Next::Node(next.to_owned()),
            after_wait: false,
        };
        vec![
            button("page.buttons.yes", yes),
            button("page.buttons.no", no),
        ]
    }

    fn over(&self) -> Vec<Choice> {
        vec![Choice {
            label: self.get("when-over"),
            next: Next::Afterwards,
            after_wait: false,
        }]
    }

    pub(super) fn put(&mut self, id: &str, node: Node) {
        self.nodes.insert(id.to_owned(), node);
    }

    /// A screen that asks one question.
    pub(super) fn question(
        &mut self,
        id: &str,
        kind: &str,
        lines: &[&str],
        question: &str,
        choices: Vec<Choice>,
    ) {
        let node = Node {
            head: self.get(&format!("{kind}.head")),
            lines: self.all(lines),
            call: Call::Emergency,
            wait_ms: 0,
            question: self.get(question),
            choices,
            ticks: Vec::new(),
            together: Vec::new(),
            symptom: symptom_of(id, kind),
            lock: true,
            nitrate: false,
        };
        self.put(id, node);
    }

    /// A screen at which one path ends: a call, then what comes afterwards.
    pub(super) fn end(&mut self, id: &str, kind: &str, call: Call, lines: &[&str]) {
        let mut lines = self.all(lines);
        if call == Call::Emergency {
            // Nobody who may faint or has hurt themselves is sent to the door.
            let door = match STAYS.contains(&id) {
                true => "door-by-other",
                false => "unlock-door",
            };
            lines.extend(self.all(&[door, "stay-on-line"]));
        }
        let node = Node {
            head: self.get(&format!("{kind}.head")),
            lines,
            call,
            wait_ms: 0,
            question: String::new(),
            choices: self.over(),
            ticks: Vec::new(),
            together: Vec::new(),
            symptom: symptom_of(id, kind),
            lock: true,
            nitrate: false,
        };
        self.put(id, node);
    }

    /// What can be felt by this person, in the order it is asked.
    fn kinds(&self) -> Vec<&'static str> {
        let mut kinds = vec!["chest", "faint", "racing"];
        if self.facts.device {
            kinds.push("shock");
        }
        kinds.push("breathless");
        if self.facts.diabetes {
            kinds.push("sugar");
        }
        kinds.push("fall");
        kinds
    }

    fn first(&mut self) {
        let mut choices: Vec<Choice> = self
            .kinds()
            .iter()
            .map(|kind| self.choice(&format!("kind.{kind}"), kind))
            .collect();
        choices.push(self.choice("another", "several"));
        choices.push(Choice {
            label: self.get("mistake"),
            next: Next::Back,
            after_wait: false,
        });
        let node = Node {
            head: self.get("sit-down"),
            lines: self.all(&["do-not-wait"]),
            call: Call::Emergency,
            wait_ms: 0,
            question: self.get("what"),
            choices,
            ticks: Vec::new(),
            together: Vec::new(),
            symptom: None,
            lock: false,
            nitrate: false,
        };
        self.put("first", node);
    }

    /// More than one sign, or something else. Two together are never less than one of them: the emergency number is
    /// called first, and with the chest the spray still follows where it belongs.
    fn several(&mut self) {
        let mut kinds = self.kinds();
        kinds.push("other");
        let ticks = kinds
            .iter()
            .map(|kind| Tick {
                id: kind,
                label: self.get(&format!("kind.{kind}")),
                symptom: match *kind {
                    // Beside something else a fall or a joint counts as the fall.
                    "fall" => Some(SymptomKind::Fall.word().to_owned()),
                    kind => symptom_of(kind, kind),
                },
            })
            .collect();
        let to = |needs: &[&'static str], least: u8, next: &str| Together {
            needs: needs.to_vec(),
            least,
            next: next.to_owned(),
        };
        let mut together = vec![
            to(&["chest", "faint"], 2, "chest-faint"),
            to(&["chest"], 2, "chest-and"),
        ];
        if self.facts.diabetes {
            together.push(to(&["sugar"], 2, "several-sugar"));
        }
        together.push(to(&[], 2, "several-now"));
        together.extend(kinds.iter().map(|kind| to(&[kind], 1, kind)));
        let node = Node {
            head: self.get("several.head"),
            lines: self.all(&["several.call"]),
            call: Call::Emergency,
            wait_ms: 0,
            question: self.get("several.ask"),
            choices: Vec::new(),
            ticks,
            together,
            symptom: None,
            lock: true,
            nitrate: false,
        };
        self.put("several", node);
        self.end("several-now", "several", Call::Emergency, &["several.now"]);
        if self.facts.diabetes {
            self.end(
                "several-sugar",
                "several",
                Call::Emergency,
                &["several.now", "sugar.take"],
            );
        }
    }

    fn faint(&mut self) {
        let mut lines = vec!["faint.sit", "faint.legs"];
        if self.facts.nitrate {
            lines.push("faint.no-spray");
        }
        let mut choices = self.yes_no("faint-now", "faint-passed");
        if self.facts.diabetes {
            choices.push(self.choice("kind.sugar", "sugar"));
        }
        self.question("faint", "faint", &lines, "faint.fainted-ask", choices);
        self.end("faint-now", "faint", Call::Emergency, &["faint.fainted"]);
        self.end(
            "faint-passed",
            "faint",
            Call::Team,
            &["faint.slowly", "faint.passed"],
        );
    }

    fn racing(&mut self) {
        let choices = self.yes_no("racing-now", "racing-wait");
        self.question(
            "racing",
            "racing",
            &["racing.sit"],
            "racing.with-ask",
            choices,
        );
        self.end("racing-now", "racing", Call::Emergency, &["racing.with"]);
        let choices = self.yes_no("racing-passed", "racing-lasts");
        self.question(
            "racing-wait",
            "racing",
            &["racing.sit"],
            "racing.lasts-ask",
            choices,
        );
        self.end("racing-lasts", "racing", Call::Emergency, &["racing.lasts"]);
        self.end("racing-passed", "racing", Call::Team, &["racing.passed"]);
    }

    fn shock(&mut self) {
        let choices = self.yes_no("shock-now", "shock-one");
        self.question("shock", "shock", &["shock.sit"], "shock.more-ask", choices);
        self.end("shock-now", "shock", Call::Emergency, &["shock.more"]);
        self.end("shock-one", "shock", Call::Team, &["shock.one"]);
    }

    fn breathless(&mut self) {
        let choices = self.yes_no("breathless-better", "breathless-now");
        self.question(
            "breathless",
            "breathless",
            &["breathless.sit", "breathless.slow"],
            "breathless.better-ask",
            choices,
        );
        self.end(
            "breathless-now",
            "breathless",
            Call::Emergency,
            &["breathless.not-better"],
        );
        self.end(
            "breathless-better",
            "breathless",
            Call::Team,
            &["breathless.better"],
        );
    }

    fn sugar(&mut self) {
        let choices = vec![
            self.choice("feel-better", "sugar-better"),
            self.choice("not-better", "sugar-now"),
        ];
        self.question(
            "sugar",
            "sugar",
            &["sugar.sit", "sugar.take", "sugar.check"],
            "sugar.better-ask",
            choices,
        );
        self.end("sugar-now", "sugar", Call::Emergency, &["sugar.not-better"]);
        self.end("sugar-better", "sugar", Call::Team, &["sugar.better"]);
    }

    fn fall(&mut self) {
        let mut choices = self.yes_no("fall-hurt", "fall-ring");
        choices.push(self.choice("fall.only-joint", "joint"));
        self.question("fall", "fall", &["fall.still"], "fall.hurt-ask", choices);
        let mut lines = vec!["fall.hurt"];
        if self.facts.bleeds {
            lines.push("fall.thinner");
        }
        self.end("fall-hurt", "fall", Call::Emergency, &lines);
        let mut lines = vec!["fall.ring"];
        if self.facts.bleeds {
            lines.insert(0, "fall.thinner");
        }
        self.end("fall-ring", "fall", Call::Team, &lines);
        self.end(
            "joint-rest",
            "joint",
            Call::Team,
            &["fall.joint", "fall.ring"],
        );
        let say = Say {
            words: self.ask.words,
        };
        let most = say.number(libm::round(rehab::review::JOINT_DURING) as u64);
        let asked = self
            .ask
            .words
            .fill("unwell.fall.joint-ask", &[("most", &most)]);
        let mut choices = self.yes_no("joint-rest", "joint-rest");
        choices[0].next = Next::BackEased;
        self.question(
            "joint",
            "joint",
            &["fall.joint-lighter"],
            "fall.still",
            choices,
        );
        if let Some(node) = self.nodes.get_mut("joint") {
            node.question = asked;
            node.call = Call::Team;
        }
    }

    fn other(&mut self) {
        self.end("other", "other", Call::Emergency, &["other.call"]);
    }
}

/// The diary's word for what is felt: a faint only once it is told, and at "a fall, or a joint" nothing yet.
pub(super) fn symptom_of(id: &str, kind: &str) -> Option<String> {
    let kind = match (id, kind) {
        ("fall", _) | (_, "several") => return None,
        ("faint-now", _) => SymptomKind::Faint,
        (_, "faint") => SymptomKind::Dizziness,
        (_, "chest") => SymptomKind::ChestDiscomfort,
        (_, "racing") => SymptomKind::Palpitations,
        (_, "shock") => SymptomKind::DeviceShock,
        (_, "breathless") => SymptomKind::Breathlessness,
        (_, "sugar") => SymptomKind::LowSugar,
        (_, "fall") => SymptomKind::Fall,
        (_, "joint") => SymptomKind::OtherJointPain,
        _ => SymptomKind::Other,
    };
    Some(kind.word().to_owned())
}
