//! How long things take, printed as a table and judged by nobody: figures depend on the machine, so no test hangs on them.
//!
//! `cargo xtask bench` runs all rows, `cargo xtask bench limits` only those whose name holds the word.

use std::hint::black_box;
use std::time::{Duration, Instant};

use rehab::assessment::Case;
use rehab::service::Service;
use tests::{RANDOM_DAY, random_case};

/// How many invented people each row is measured on.
const PEOPLE: u64 = 1_000;

/// One row of the table.
struct Row {
    what: &'static str,
    measure: fn(&People) -> Vec<Duration>,
}

/// What every row is measured on; made once and outside the measurement.
struct People {
    cases: Vec<Case>,
    service: Service,
}

const ROWS: &[Row] = &[Row {
    what: "limits of one person",
    measure: |people| {
        each(&people.cases, |case| {
            black_box(rehab::assess(case, &people.service, RANDOM_DAY));
        })
    },
}];

fn main() {
    let wanted: Vec<String> = std::env::args()
        .skip(1)
        .filter(|argument| !argument.starts_with('-'))
        .collect();
    let people = People {
        cases: (0..PEOPLE).map(random_case).collect(),
        service: Service::cautious(),
    };
    println!(
        "{:<36} {:>12} {:>12} {:>12} {:>8}",
        "what", "median", "99 of 100", "worst", "n"
    );
    for row in ROWS.iter().filter(|row| {
        wanted.is_empty() || wanted.iter().any(|word| row.what.contains(word.as_str()))
    }) {
        print_row(row.what, (row.measure)(&people));
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

fn print_row(what: &str, mut took: Vec<Duration>) {
    took.sort_unstable();
    let at = |share: usize| took.get((took.len() * share / 100).min(took.len().saturating_sub(1)));
    let shown = |duration: Option<&Duration>| match duration {
        Some(duration) => format!("{:.3} ms", duration.as_secs_f64() * 1000.0),
        None => "-".to_owned(),
    };
    println!(
        "{what:<36} {:>12} {:>12} {:>12} {:>8}",
        shown(at(50)),
        shown(at(99)),
        shown(took.last()),
        took.len()
    );
}
