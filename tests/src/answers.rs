//! What the program answers for invented people, made in this process by the functions that the commands use.

use crate::{RANDOM_DAY, random_case};
use formats::tree::Notation;
use rehab::assessment::Case;
use rehab::programme::{Choices, Exercises, Plan, rungs};
use rehab::service::Service;
use serde_json::Value;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};

/// Rungs of one whole chain.
pub const RUNGS: u16 = 6;
/// People that a thread takes at a time.
const TAKEN: u64 = 16;

/// The case of a person and what `limits --json` prints for it, all as JSON.
#[derive(Clone, Debug)]
pub struct LimitsAnswer {
    /// The case file.
    pub case: Value,
    /// The answer.
    pub limits: Value,
}

/// The same with what `programme --json` prints, all rungs of the chain in one list.
#[derive(Clone, Debug)]
pub struct ChainAnswer {
    /// The case file.
    pub case: Value,
    /// What `limits` prints.
    pub limits: Value,
    /// What `programme` prints.
    pub programme: Value,
}

/// The text of a case's file in JSON.
pub fn case_text(case: &Case) -> String {
    formats::case::write(case, Notation::Json)
}

/// A case as the JSON of its file.
pub fn case_json(case: &Case) -> Value {
    serde_json::from_str(&case_text(case)).expect("a case is written as JSON")
}

/// A case read from the JSON of its file.
///
/// # Errors
/// In words, where it is refused.
pub fn read_case(file: &Value) -> Result<Case, String> {
    read_text(&file.to_string())
}

/// The same from its text.
///
/// # Errors
/// In words, where it is refused.
pub fn read_text(text: &str) -> Result<Case, String> {
    formats::case::read("case.json", text.as_bytes(), Some(RANDOM_DAY))
        .map(|(case, _)| case)
        .map_err(|problems| problems.to_string())
}

/// The limits of a case with the built-in settings.
pub fn limits_of(case: &Case, service: &Service) -> LimitsAnswer {
    let assessed = rehab::assess(case, service, RANDOM_DAY);
    LimitsAnswer {
        case: case_json(case),
        limits: formats::json::limits(&case.id, &assessed, service),
    }
}

/// The whole chain of a case with the built-in settings.
pub fn chain_of(case: &Case, service: &Service, exercises: &Exercises, upto: u16) -> ChainAnswer {
    let assessed = rehab::assess(case, service, RANDOM_DAY);
    let limits = formats::json::limits(&case.id, &assessed, service);
    let (list, found) = rungs(case, service, exercises, &assessed, &Choices::none(), upto);
    let plan = Plan {
        assessed,
        stages: list.into_iter().map(|rung| rung.stage).collect(),
        sketch: Vec::new(),
    };
    ChainAnswer {
        case: case_json(case),
        limits,
        programme: formats::json::programme(&case.id, &plan, &found, service, None),
    }
}

/// The chain of the person of a seed.
pub fn chain_of_seed(seed: u64, service: &Service, exercises: &Exercises) -> ChainAnswer {
    chain_of(&random_case(seed), service, exercises, RUNGS)
}

/// How many people a law is tried on: the number in the environment variable, else the usual one; a tenth in the
/// unoptimised build.
///
/// # Panics
/// When the variable holds no number.
pub fn people(variable: &str, usual: u64) -> u64 {
    match std::env::var(variable) {
        Ok(text) => text
            .parse()
            .unwrap_or_else(|_| panic!("{variable} is '{text}'; give a number of people")),
        Err(_) if crate::tools::unoptimised() => usual.div_ceil(10),
        Err(_) => usual,
    }
}

/// Tries every seed below a number on all cores and collects what is found, in the order of the seeds.
///
/// # Panics
/// When a try panics.
pub fn on_all_cores<T: Send>(count: u64, one: impl Fn(u64) -> Option<T> + Sync) -> Vec<(u64, T)> {
    let next = AtomicU64::new(0);
    let found = Mutex::new(Vec::new());
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..cores {
            scope.spawn(|| {
                loop {
                    let from = next.fetch_add(TAKEN, Ordering::Relaxed);
                    if from >= count {
                        break;
                    }
                    for seed in from..(from + TAKEN).min(count) {
                        if let Some(what) = one(seed) {
                            let mut all = found.lock().expect("no thread panicked");
                            all.push((seed, what));
                        }
                    }
                }
            });
        }
    });
    let mut all = found.into_inner().expect("no thread panicked");
    all.sort_by_key(|(seed, _)| *seed);
    all
}
