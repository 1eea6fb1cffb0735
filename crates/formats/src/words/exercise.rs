//! What is said about exercises: a table for each exercise and one for each variant, which says only what differs.

use crate::shape::{Count, Field, Kind, LONG, SHORT, Shape, Sink, View, check_at};
use crate::tree::{self, Content, Entry};
use crate::{Problem, Problems};
use rehab::programme::VariantRef;
use rehab::wording::ExerciseWords;
use std::collections::BTreeMap;

/// At most three short sentences stand on the page.
const SAY: Kind = Kind::List(&Kind::Text(SHORT), Count::some(3));

static EXERCISE_WORDS: Shape = Shape {
    name: "words-of-an-exercise",
    about: "What is said about an exercise in whichever way it is done",
    fields: &[
        Field::needed("name", Kind::Text(40), "name, short and plain"),
        Field::needed(
            "set_up",
            Kind::Text(LONG),
            "where to stand or sit, what to hold",
        ),
        Field::needed("say", SAY, "what to do, at most three short sentences"),
        Field::needed("watch", Kind::Text(LONG), "the common fault and its cure"),
        Field::needed("feel", Kind::Text(LONG), "what it should feel like"),
        Field::needed("breathe", Kind::Text(LONG), "how to breathe"),
        Field::needed("care", Kind::Text(LONG), "what to take care of"),
        Field::new("serves", Kind::Text(SHORT), "the daily task it serves"),
    ],
    choice: None,
};

static VARIANT_WORDS: Shape = Shape {
    name: "words-of-a-variant",
    about: "How a variant differs; what is left out is said as for the exercise",
    fields: &[
        Field::needed("way", Kind::Text(80), "how it differs, in a few words"),
        Field::new("name", Kind::Text(40), "name, short and plain"),
        Field::new(
            "set_up",
            Kind::Text(LONG),
            "where to stand or sit, what to hold",
        ),
        Field::new("say", SAY, "what to do, at most three short sentences"),
        Field::new("watch", Kind::Text(LONG), "the common fault and its cure"),
        Field::new("feel", Kind::Text(LONG), "what it should feel like"),
        Field::new("breathe", Kind::Text(LONG), "how to breathe"),
        Field::new("care", Kind::Text(LONG), "what to take care of"),
        Field::new("serves", Kind::Text(SHORT), "the daily task it serves"),
    ],
    choice: None,
};

/// What was read so far, before variants are completed from their exercises.
#[derive(Default)]
pub(super) struct Said {
    exercises: BTreeMap<String, Partial>,
    variants: BTreeMap<VariantRef, (String, Partial)>,
}

#[derive(Clone, Default)]
struct Partial {
    name: Option<String>,
    way: Option<String>,
    set_up: Option<String>,
    say: Vec<String>,
    watch: Option<String>,
    feel: Option<String>,
    breathe: Option<String>,
    care: Option<String>,
    serves: Option<String>,
}

/// Reads one file of words of exercises.
pub(super) fn read(name: &str, text: &str, said: &mut Said) -> Result<(), Problems> {
    let node = tree::read(name, text.as_bytes())?;
    let mut sink = Sink::new(name);
    if let Content::Table(table) = &node.content {
        for entry in &table.entries {
            read_one(name, entry, said, &mut sink);
        }
    }
    sink.finish(Some(()))
}

fn read_one(file: &str, entry: &Entry, said: &mut Said, sink: &mut Sink) {
    let named = entry.key.split_once('/');
    let shape = if named.is_some() {
        &VARIANT_WORDS
    } else {
        &EXERCISE_WORDS
    };
    check_at(&entry.node, shape, &entry.key, sink);
    let Some(view) = View::of(&entry.node, shape) else {
        return;
    };
    let partial = partial_of(&view, named.is_some());
    let before = match named {
        None => said.exercises.insert(entry.key.clone(), partial).is_some(),
        Some((exercise, variant)) => {
            let named = VariantRef {
                exercise: exercise.to_owned(),
                variant: variant.to_owned(),
            };
            said.variants
                .insert(named, (file.to_owned(), partial))
                .is_some()
        }
    };
    if before {
        sink.say(
            &entry.key,
            entry.line,
            "these words stand twice; keep one of them",
        );
    }
}

fn partial_of(view: &View<'_>, variant: bool) -> Partial {
    Partial {
        name: view.text("name"),
        way: variant.then(|| view.text("way")).flatten(),
        set_up: view.text("set_up"),
        say: view.texts("say"),
        watch: view.text("watch"),
        feel: view.text("feel"),
        breathe: view.text("breathe"),
        care: view.text("care"),
        serves: view.text("serves"),
    }
}

impl Said {
    /// Completes every variant from its exercise.
    pub(super) fn resolve(self) -> Result<BTreeMap<VariantRef, ExerciseWords>, Problems> {
        let mut words = BTreeMap::new();
        let mut problems = Vec::new();
        for (named, (file, own)) in self.variants {
            match self.exercises.get(&named.exercise) {
                Some(common) => {
                    words.insert(named, complete(own, common));
                }
                None => problems.push(Problem {
                    file,
                    key_path: format!("{}/{}", named.exercise, named.variant),
                    line: None,
                    message: format!(
                        "the exercise '{}' has no words of its own; add the table [{}]",
                        named.exercise, named.exercise
                    ),
                }),
            }
        }
        if problems.is_empty() {
            Ok(words)
        } else {
            Err(Problems(problems))
        }
    }
}

fn complete(own: Partial, common: &Partial) -> ExerciseWords {
    let one = |own: Option<String>, common: &Option<String>| {
        own.or_else(|| common.clone()).unwrap_or_default()
    };
    ExerciseWords {
        name: one(own.name, &common.name),
        way: one(own.way, &None),
        set_up: one(own.set_up, &common.set_up),
        say: if own.say.is_empty() {
            common.say.clone()
        } else {
            own.say
        },
        watch: one(own.watch, &common.watch),
        feel: one(own.feel, &common.feel),
        breathe: one(own.breathe, &common.breathe),
        care: one(own.care, &common.care),
        serves: one(own.serves, &common.serves),
    }
}
