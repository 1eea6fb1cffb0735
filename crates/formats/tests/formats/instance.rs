//! The composer's problem as a file: fixture, refusals, and the way back.

use crate::random::{Dice, spoil, table};
use crate::support::{INSTANCE as TEXT, every_key_is_used};
use formats::instance::{self, INSTANCE};
use proptest::prelude::*;
use rehab::programme::composer::{Repeats, compose};

fn refused(from: &str, to: &str) -> String {
    assert!(TEXT.contains(from), "the fixture holds no {from}");
    instance::read("i.json", TEXT.replacen(from, to, 1).as_bytes())
        .expect_err(to)
        .to_string()
}

#[test]
fn the_fixture_loads_and_is_solved_with_proof() {
    let instance = instance::read("i.json", TEXT.as_bytes()).unwrap();
    assert_eq!(instance.repeats, Repeats::Never);
    let written = instance::write(&instance);
    assert_eq!(
        instance::read("a.json", written.as_bytes()).unwrap(),
        instance
    );
    assert_eq!(instance.candidates[2].refused_by, 1);
    assert_eq!(instance.candidates[0].muscles, 0b101);
    let composed = compose(&instance).unwrap();
    assert!(composed.proven && composed.objective == composed.bound);
    let answer = instance::solved(&instance, &composed);
    // By hand: the sore knee refuses the chair, so the stair and the hall stand with the pinned heel raises between.
    let mut chosen: Vec<&str> = answer["chosen"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|one| one.as_str())
        .collect();
    assert_eq!(chosen.remove(1), "heel-raise/worktop@worktop");
    chosen.sort_unstable();
    assert_eq!(chosen, ["march/high@hall", "step-up/low@bottom stair"]);
    assert_eq!(composed.levels.benefit, 3 + 2 + 2);
}

#[test]
fn every_key_of_the_format_stands_in_the_fixture() {
    let file = formats::SourceFile::open("i.json", TEXT.as_bytes()).unwrap();
    // A slot that repeats an earlier one stands only in sessions of two rounds.
    let text = TEXT.replacen("\"round\": 1,", "\"round\": 1, \"same_as\": 0,", 1);
    let with_same = formats::SourceFile::open("i.json", text.as_bytes()).unwrap();
    assert_eq!(file.kind().unwrap(), formats::FileKind::Instance);
    every_key_is_used(&with_same.tree, &INSTANCE);
}

#[test]
fn what_is_no_problem_is_refused() {
    assert!(
        refused("\"knee-pain\"\n   ]", "\"hip-pain\"\n   ]")
            .contains("no restriction has the id 'hip-pain'")
    );
    assert!(
        refused("\"repeats\": \"never\"", "\"repeats\": \"nver\"").contains("did you mean 'never'")
    );
    assert!(
        refused("\"round\": 1,", "\"round\": 1, \"same_as\": 2,").contains("not an earlier slot")
    );
    assert!(refused("\"tau_s\": 45", "\"tau_s\": 0").contains("not possible"));
    assert!(refused("march/high@hall", "step-up/low@bottom stair").contains("stands twice"));
}

/// The law below says nothing of files that are refused, so most random files must be taken.
#[test]
fn most_random_problems_are_taken() {
    let taken = |seed: &u64| {
        let text = formats::tree::write(
            &table(&INSTANCE, &mut Dice::new(*seed)),
            formats::tree::Notation::Json,
        );
        instance::read("random.json", text.as_bytes()).is_ok()
    };
    let count = (0..200).filter(taken).count();
    assert!(count > 100, "only {count} of 200");
}

proptest! {
    #[test]
    fn law_a_problem_written_is_the_problem_read(seed: u64) {
        let made = table(&INSTANCE, &mut Dice::new(seed));
        let text = formats::tree::write(&made, formats::tree::Notation::Json);
        if let Ok(instance) = instance::read("random.json", text.as_bytes()) {
            let written = instance::write(&instance);
            prop_assert_eq!(instance::read("a.json", written.as_bytes()).unwrap(), instance);
        }
    }

    #[test]
    fn law_spoilt_problems_never_panic(seed: u64) {
        let mut dice = Dice::new(seed);
        let tree = formats::tree::read("i.json", TEXT.as_bytes()).unwrap();
        let formats::tree::Content::Table(mut table) = tree.content else { panic!("a problem is a table") };
        spoil(&mut table, &mut dice);
        let text = formats::tree::write(&table, formats::tree::Notation::Json);
        if let Ok(mut instance) = instance::read("a.json", text.as_bytes()) {
            instance.node_budget = instance.node_budget.min(10_000);
            let _ = compose(&instance);
        }
    }
}
