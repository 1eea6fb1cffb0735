//! The unwell path for the chest: faint is asked first, then the service's own steps with the spray, where it belongs.

use super::say::{Say, sentence};
use super::unwell::{Path, symptom_of};
use super::{Call, Node};

impl Path<'_> {
    pub(super) fn chest(&mut self) {
        let ready = self.facts.nitrate;
        let then = if ready { "chest-have" } else { "chest-none" };
        let choices = self.yes_no("chest-faint", then);
        // With anything else beside it the call comes first, and the spray while help is on its way.
        self.question(
            "chest-and",
            "chest",
            &["chest.not-gone", "unlock-door"],
            "chest.faint-ask",
            choices.clone(),
        );
        self.question("chest", "chest", &["chest.sit"], "chest.faint-ask", choices);
        self.end("chest-now", "chest", Call::Emergency, &["chest.not-gone"]);
        self.end("chest-gone", "chest", Call::Team, &["chest.gone"]);
        let gone = self.yes_no("chest-gone", "chest-now");
        self.question(
            "chest-none",
            "chest",
            &["chest.sit", "chest.no-spray"],
            "chest.gone-ask",
            gone,
        );
        if ready {
            self.end(
                "chest-faint",
                "chest",
                Call::Emergency,
                &["chest.faint-yes"],
            );
            let choices = self.yes_no("spray-1", "chest-none");
            self.question(
                "chest-have",
                "chest",
                &["chest.sit"],
                "chest.spray-ask",
                choices,
            );
            self.spray();
        } else {
            self.end("chest-faint", "chest", Call::Emergency, &["chest.not-gone"]);
        }
    }

    /// The service's own steps, each with its own wait. After the last one comes the emergency number.
    fn spray(&mut self) {
        let Some(protocol) = self.ask.service.nitrate.clone() else {
            return;
        };
        let say = Say {
            words: self.ask.words,
        };
        let count = protocol.steps.len();
        for (i, step) in protocol.steps.iter().enumerate() {
            let number = i + 1;
            let told = self.ask.words.fill(
                "unwell.chest.spray-step",
                &[
                    ("step", &say.number(number as u64)),
                    ("count", &say.number(count as u64)),
                    ("text", &step.text),
                ],
            );
            // After doses a step without a wait is the call for help: it does not ask whether a dose was taken.
            let only_call = i > 0 && step.wait_s == 0;
            let waiting = format!("spray-{number}-wait");
            let mut lines = vec![sentence(&told)];
            if i == 0 {
                lines.push(self.get("chest.spray-how"));
            }
            if step.wait_s > 0 {
                lines.push(self.get("chest.spray-press"));
            }
            let choices = if only_call {
                vec![
                    self.choice("gone", "chest-gone"),
                    self.choice("not-better", "chest-now"),
                ]
            } else {
                vec![
                    self.choice("chest.spray-used", &waiting),
                    self.choice("worse", "chest-now"),
                ]
            };
            let node = Node {
                head: self.get("chest.head"),
                lines,
                call: Call::Emergency,
                wait_ms: 0,
                question: String::new(),
                choices,
                ticks: Vec::new(),
                together: Vec::new(),
                symptom: symptom_of("chest", "chest"),
                lock: true,
                nitrate: false,
            };
            self.put(&format!("spray-{number}"), node);
            if only_call {
                continue;
            }
            let next = if number < count {
                format!("spray-{}", number + 1)
            } else {
                "chest-now".to_owned()
            };
            self.spray_wait(&waiting, step.wait_s, &next);
        }
    }

    fn spray_wait(&mut self, id: &str, wait_s: u32, next: &str) {
        let say = Say {
            words: self.ask.words,
        };
        let lines = if wait_s > 0 {
            let length = say.length(wait_s.saturating_mul(1000));
            vec![
                self.ask
                    .words
                    .fill("unwell.wait-for", &[("length", &length)]),
            ]
        } else {
            self.all(&["chest.sit"])
        };
        let mut still = self.choice("not-better", next);
        still.after_wait = wait_s > 0;
        let choices = vec![
            self.choice("gone", "chest-gone"),
            self.choice("worse", "chest-now"),
            still,
        ];
        let node = Node {
            head: self.get("chest.head"),
            lines,
            call: Call::Emergency,
            wait_ms: wait_s.saturating_mul(1000),
            question: self.get("chest.gone-ask"),
            choices,
            ticks: Vec::new(),
            together: Vec::new(),
            symptom: symptom_of("chest", "chest"),
            lock: true,
            nitrate: true,
        };
        self.put(id, node);
    }
}
