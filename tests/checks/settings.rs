//! Negative controls of the settings: an answer made under one file is held against another.

use crate::breaks::{CHANGES, Changed};
use std::collections::BTreeMap;
use tests::answers::{ChainAnswer, chain_of_seed, on_all_cores};
use tests::checker::{Library, Settings, check_limits, check_programme};
use tests::services::{Team, teams};

/// People whose answers are held against each change.
const PEOPLE: u64 = 600;

fn told(library: &Library, settings: &Settings, answer: &ChainAnswer) -> Vec<&'static str> {
    let (case, limits) = (&answer.case, &answer.limits);
    let mut faults = check_limits(library, settings, case, limits);
    faults.extend(check_programme(
        library,
        settings,
        case,
        limits,
        &answer.programme,
    ));
    faults.iter().map(|one| one.rule).collect()
}

/// The settings of a file with one of them changed.
fn with(text: &str, changed: &Changed) -> Settings {
    let mut file: toml::Table = text.parse().expect("a service file");
    let line: toml::Table = changed.line.parse().expect("a line of a service file");
    file.extend(line);
    Settings::read(&file.to_string())
}

/// The findings that say of a warm-up or cool-down that it comes no nearer are taken away: under other settings they would
/// not have been said of the same session.
fn unsaid(mut answer: ChainAnswer) -> ChainAnswer {
    if let Some(findings) = answer.programme["findings"].as_array_mut() {
        findings
            .retain(|one| one["id"] != "warm-up/near-band" && one["id"] != "cool-down/near-rest");
    }
    answer
}

#[test]
fn law_every_setting_is_read_an_answer_made_under_another_is_caught() {
    let (library, team) = (Library::read(), Team::cautious());
    let exercises = formats::exercises().expect("the library is read");
    let others: Vec<Settings> = CHANGES.iter().map(|one| with(&team.text, one)).collect();
    let answers = on_all_cores(PEOPLE, |seed| {
        let answer = unsaid(chain_of_seed(seed, &team.service, &exercises));
        // What was taken away may leave a fault of the cautious settings too; it proves nothing then.
        let already = told(&library, &team.settings, &answer);
        let caught = CHANGES.iter().zip(&others).filter(|(one, settings)| {
            !already.contains(&one.rule) && told(&library, settings, &answer).contains(&one.rule)
        });
        Some(
            caught
                .map(|(one, _)| (one.rule, one.line))
                .collect::<Vec<_>>(),
        )
    });
    let caught: Vec<_> = answers.iter().flat_map(|(_, found)| found).collect();
    let never: Vec<_> = CHANGES
        .iter()
        .map(|one| (one.rule, one.line))
        .filter(|one| !caught.contains(&one))
        .collect();
    assert!(never.is_empty(), "never caught: {never:#?}");
}

/// A service at the loose end lets go what a cautious one holds, and the other way round.
#[test]
fn law_no_answer_of_one_service_passes_for_that_of_another() {
    let (library, teams) = (Library::read(), teams());
    let exercises = formats::exercises().expect("the library is read");
    let rules = |made: &Team, read: &Team| -> BTreeMap<&'static str, usize> {
        let found = on_all_cores(PEOPLE / 2, |seed| {
            let answer = chain_of_seed(seed, &made.service, &exercises);
            Some(told(&library, &read.settings, &answer))
        });
        let mut counts = BTreeMap::new();
        for rule in found.into_iter().flat_map(|(_, rules)| rules) {
            *counts.entry(rule).or_default() += 1;
        }
        counts
    };
    let [cautious, _, loosest, strictest] = &teams[..] else {
        panic!("four services");
    };
    for (made, read, expected) in [(loosest, cautious, LOOSE), (cautious, strictest, CAUTIOUS)] {
        let counts = rules(made, read);
        for rule in expected {
            assert!(counts.contains_key(rule), "{rule} was never told");
        }
    }
}

/// What the cautious settings find in answers of the loosest.
const LOOSE: &[&str] = &[
    "settings/named",
    "today/reading",
    "today/examined",
    "effort/band",
    "pulse/peak",
    "pulse/reserve",
    "ceiling/device",
    "load/band",
    "load/station",
    "session/warm-up",
    "session/cool-down",
    "session/change-over",
    "stations/times",
];

/// What the strictest settings find in answers of the cautious.
const CAUTIOUS: &[&str] = &[
    "today/agreement",
    "today/examined",
    "effort/band",
    "ceiling/device",
    "ceiling/ischaemia",
    "load/band",
    "session/warm-up",
    "session/cool-down",
    "stations/times",
    "programme/growth",
    "home/class",
];
