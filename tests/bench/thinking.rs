//! The clinical thinking by itself, in this process: limits and rungs of invented people, beside the plain reading of a case.

use crate::Table;
use rehab::assessed::Assessed;
use rehab::assessment::Case;
use rehab::programme::{Choices, Exercises, rungs};
use rehab::service::Service;
use std::hint::black_box;
use std::time::{Duration, Instant};
use tests::answers::{case_text, read_text};
use tests::{RANDOM_DAY, random_case};

/// How many invented people each row is measured on.
const PEOPLE: u64 = 1_000;

pub(crate) const PARSE: &str = "reading a case file";
pub(crate) const LIMITS: &str = "limits of one person";
pub(crate) const ONE_RUNG: &str = "one rung";
pub(crate) const TWELVE_RUNGS: &str = "twelve rungs";

/// What the rows are measured on; made once and outside the measurement.
struct People {
    files: Vec<String>,
    cases: Vec<Case>,
    /// Those who may exercise, with their assessment.
    exercising: Vec<(Case, Assessed)>,
    service: Service,
    exercises: Exercises,
}

impl People {
    fn draw() -> People {
        let service = Service::cautious();
        let cases: Vec<Case> = (0..PEOPLE).map(random_case).collect();
        let exercises = formats::exercises().expect("the library is read");
        // The first thousand who get a rung, as many as the others rows have.
        let exercising = (0..)
            .map(random_case)
            .filter_map(|case| {
                let assessed = rehab::assess(&case, &service, RANDOM_DAY);
                let none = Choices::none();
                let (got, _) = rungs(&case, &service, &exercises, &assessed, &none, 1);
                (!got.is_empty()).then_some((case, assessed))
            })
            .take(PEOPLE as usize)
            .collect();
        People {
            files: cases.iter().map(case_text).collect(),
            cases,
            exercising,
            service,
            exercises,
        }
    }

    fn climb(&self, (case, assessed): &(Case, Assessed), upto: u16) {
        let none = Choices::none();
        black_box(rungs(
            case,
            &self.service,
            &self.exercises,
            assessed,
            &none,
            upto,
        ));
    }
}

/// Adds the rows that are wanted.
pub(crate) fn measure(table: &mut Table) {
    if [PARSE, LIMITS, ONE_RUNG, TWELVE_RUNGS]
        .iter()
        .all(|what| !table.wants(what))
    {
        return;
    }
    let people = People::draw();
    if table.wants(PARSE) {
        let took = each(&people.files, |file| {
            black_box(read_text(file).expect("an invented case is read"));
        });
        table.add(PARSE, took);
    }
    if table.wants(LIMITS) {
        let took = each(&people.cases, |case| {
            black_box(rehab::assess(case, &people.service, RANDOM_DAY));
        });
        table.add(LIMITS, took);
    }
    for (what, upto) in [(ONE_RUNG, 1), (TWELVE_RUNGS, 12)] {
        if table.wants(what) {
            let took = each(&people.exercising, |one| people.climb(one, upto));
            table.add(what, took);
        }
    }
}

/// How long each of these takes, one by one, after a first round that fills the caches.
fn each<T>(over: &[T], mut work: impl FnMut(&T)) -> Vec<Duration> {
    over.iter().take(100).for_each(&mut work);
    over.iter()
        .map(|one| {
            let started = Instant::now();
            work(one);
            started.elapsed()
        })
        .collect()
}
