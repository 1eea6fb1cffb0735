//! How long things take, printed as a table and judged by nobody: figures depend on the machine, so no test hangs on them.
//!
//! `cargo xtask bench` runs all rows, `cargo xtask bench limits` only those whose name holds the word. Times of one run are
//! set side by side as ratios, since those say more about the program than about the machine.

mod load;
mod machine;
mod thinking;

use load::{AT_ONCE, Mix, Server};
use std::time::Duration;

/// Starts of the demonstration that are timed.
const STARTS: usize = 9;

/// How long something took, each time it was done.
struct Row {
    what: String,
    took: Vec<Duration>,
}

/// The table as it grows, and which rows are wanted.
struct Table {
    wanted: Vec<String>,
    rows: Vec<Row>,
}

impl Table {
    fn wants(&self, what: &str) -> bool {
        self.wanted.is_empty() || self.wanted.iter().any(|word| what.contains(word.as_str()))
    }

    fn add(&mut self, what: &str, mut took: Vec<Duration>) {
        took.sort_unstable();
        let row = Row {
            what: what.to_owned(),
            took,
        };
        row.print();
        self.rows.push(row);
    }

    fn median(&self, what: &str) -> Option<f64> {
        let row = self.rows.iter().find(|row| row.what == what)?;
        Some(row.at(50)?.as_secs_f64())
    }
}

impl Row {
    fn at(&self, share: usize) -> Option<Duration> {
        let last = self.took.len().checked_sub(1)?;
        self.took
            .get((self.took.len() * share / 100).min(last))
            .copied()
    }

    fn print(&self) {
        let shown = |duration: Option<Duration>| match duration {
            Some(duration) => format!("{:.3} ms", duration.as_secs_f64() * 1000.0),
            None => "-".to_owned(),
        };
        println!(
            "{:<46} {:>11} {:>11} {:>11} {:>11} {:>6}",
            self.what,
            shown(self.at(50)),
            shown(self.at(90)),
            shown(self.at(99)),
            shown(self.took.last().copied()),
            self.took.len()
        );
    }
}

fn main() {
    let wanted = std::env::args()
        .skip(1)
        .filter(|argument| !argument.starts_with('-'))
        .collect();
    let mut table = Table {
        wanted,
        rows: Vec::new(),
    };
    println!("{}", machine::described());
    println!(
        "{:<46} {:>11} {:>11} {:>11} {:>11} {:>6}",
        "what", "median", "90 of 100", "99 of 100", "worst", "n"
    );
    thinking::measure(&mut table);
    start(&mut table);
    pages(&mut table);
    ratios(&table);
}

fn start(table: &mut Table) {
    let what = "start of demo to its first page";
    if table.wants(what) {
        let took = (0..STARTS)
            .map(|_| Server::demo(1).first_page("/"))
            .collect();
        table.add(what, took);
    }
}

/// Pages of the demonstration's caseload, asked for one after another and many at once: half of them the start page, half
/// the page of a case with its note in the access log.
fn pages(table: &mut Table) {
    for (name, times) in [("26 cases", 1), ("10,010 cases", 385)] {
        let rows = [
            ("start page", Mix::Start, 1),
            ("case page", Mix::Case, 1),
            ("page mix, 50 at once", Mix::HalfAndHalf, AT_ONCE),
        ];
        let rows = rows.map(|(what, mix, at_once)| (format!("{what}, {name}"), mix, at_once));
        if rows.iter().all(|(what, ..)| !table.wants(what)) {
            continue;
        }
        let server = Server::demo(times);
        server.first_page("/");
        let cases = server.case_pages();
        for (what, mix, at_once) in rows {
            if table.wants(&what) {
                let (took, together) = load::ask(&server, &cases, mix, at_once);
                let a_second = took.len() as f64 / together.as_secs_f64();
                table.add(&what, took);
                println!(
                    "    {a_second:.0} pages a second, {} pages of cases",
                    cases.len()
                );
            }
        }
    }
}

/// What costs how many times something else of the same run.
fn ratios(table: &Table) {
    for (dear, cheap) in [
        (thinking::LIMITS, thinking::PARSE),
        (thinking::ONE_RUNG, thinking::LIMITS),
        (thinking::TWELVE_RUNGS, thinking::ONE_RUNG),
    ] {
        if let (Some(dear_s), Some(cheap_s)) = (table.median(dear), table.median(cheap)) {
            println!("{dear} : {cheap} = {:.1}", dear_s / cheap_s);
        }
    }
}
