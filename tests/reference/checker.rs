//! The second checker, in Python, and a general solver of differential equations, over whole chains of invented people.

use serde_json::{Value, json};
use std::io::Write;
use std::path::PathBuf;
use tests::answers::{chain_of_seed, on_all_cores};
use tests::services::{team_of, teams};
use tests::tools::{root, run_python};

/// Chains for the checker in Python.
const CHAINS: u64 = 1_000;
/// Chains for the solver, among the first so many people.
const SOLVED: &str = "50";
/// What rounding of METs, slope and prediction may come to.
const ROUNDED_BPM: f64 = 0.03;

/// A file of chains, one JSON object a line.
fn chains(name: &str, count: u64) -> PathBuf {
    let teams = teams();
    let exercises = formats::exercises().expect("the library is read");
    let lines = on_all_cores(count, |seed| {
        let team = team_of(&teams, seed);
        let answer = chain_of_seed(seed, &team.service, &exercises);
        let line = json!({
            "seed": seed,
            "service": team.text,
            "case": answer.case,
            "limits": answer.limits,
            "programme": answer.programme,
        });
        Some(line.to_string())
    });
    let folder = root().join("target/checker");
    std::fs::create_dir_all(&folder).expect("target can be written");
    let path = folder.join(name);
    let mut file = std::fs::File::create(&path).expect("target can be written");
    for (_, line) in lines {
        writeln!(file, "{line}").expect("target can be written");
    }
    path
}

/// Runs scripts of `tests/python`, one appended to the other.
fn run(scripts: &[&str], arguments: &[&str]) -> Value {
    let read = |script: &&str| {
        let path = root().join("tests/python").join(script);
        std::fs::read_to_string(&path).expect("the script stands in the tests")
    };
    let text: Vec<String> = scripts.iter().map(read).collect();
    let printed = run_python(&text.join("\n\n"), arguments);
    serde_json::from_str(&printed).expect("the script prints JSON")
}

#[test]
fn reference_a_second_checker_finds_no_fault_and_misses_none_made_on_purpose() {
    let path = chains("chains.jsonl", CHAINS);
    let found = run(
        &["checker.py", "checker_run.py"],
        &[&path.to_string_lossy()],
    );
    println!("{found:#}");
    assert_eq!(found["chains"], json!(CHAINS));
    assert!(found["rungs_with_pulse"].as_u64() > Some(500), "{found}");
    assert_eq!(found["faults"], json!([]));
    assert!(found["broken"].as_u64() > Some(30), "{found}");
    assert_eq!(found["unnoticed"], json!([]));
    assert!(found["settings"].as_u64() > Some(20), "{found}");
    assert_eq!(found["unread"], json!([]));
}

#[test]
fn reference_a_general_solver_gives_the_predicted_pulse() {
    let path = chains("solved.jsonl", 300);
    let found = run(&["solver.py"], &[&path.to_string_lossy(), SOLVED]);
    println!("{found:#}");
    assert_eq!(found["chains"], json!(50));
    assert!(found["segments"].as_u64() > Some(3_000), "{found}");
    let largest = found["largest_bpm"].as_f64().expect("a difference");
    assert!(largest <= ROUNDED_BPM, "{found}");
}
