//! Every variant has its words, every placeholder its value, every id in code its sentence.

use super::{british, said};
use formats::{exercises, words};
use rehab::wording::placeholders;
use std::collections::BTreeSet;
use std::path::Path;

#[test]
fn law_every_variant_of_the_library_has_whole_words() {
    let words = british();
    let library = exercises().unwrap_or_else(|problems| panic!("{problems}"));
    for exercise in library.iter() {
        let mut ways = BTreeSet::new();
        for variant in &exercise.variants {
            let named = rehab::programme::VariantRef {
                exercise: exercise.id.clone(),
                variant: variant.id.clone(),
            };
            let one = words
                .exercise(&named)
                .unwrap_or_else(|| panic!("{named:?} has no words"));
            let parts = [
                &one.name,
                &one.way,
                &one.set_up,
                &one.watch,
                &one.feel,
                &one.breathe,
                &one.care,
                &one.serves,
            ];
            assert!(
                parts.iter().all(|part| !part.is_empty()),
                "{named:?}: {one:?}"
            );
            assert!(one.serves.starts_with("for "), "{named:?}: {}", one.serves);
            assert!(
                ways.insert(&one.way),
                "{named:?}: two variants are both '{}'",
                one.way
            );
        }
    }
    let known: usize = library.iter().map(|exercise| exercise.variants.len()).sum();
    assert_eq!(
        words.exercises().count(),
        known,
        "words of a variant that is not there"
    );
}

#[test]
fn words_agree_with_the_posture() {
    let words = british();
    let library = exercises().unwrap_or_else(|problems| panic!("{problems}"));
    for exercise in library.iter() {
        for variant in &exercise.variants {
            let named = rehab::programme::VariantRef {
                exercise: exercise.id.clone(),
                variant: variant.id.clone(),
            };
            let one = words.exercise(&named).expect("every variant has words");
            let set_up = one.set_up.to_lowercase();
            let seated = variant.support == rehab::assessment::Support::Seated;
            assert_eq!(
                seated,
                set_up.starts_with("sit "),
                "{named:?}: {}",
                one.set_up
            );
            if variant.support == rehab::assessment::Support::TwoHands
                && variant.posture == rehab::programme::Posture::Standing
            {
                assert!(
                    set_up.contains("both hands") || set_up.contains("your hands flat"),
                    "{named:?}: {set_up}"
                );
            }
            let weights = variant.weight_g.is_some();
            let told = ["weight", "tin"].iter().any(|word| set_up.contains(word));
            assert_eq!(weights, told, "{named:?}: {set_up}");
            if variant.needs_rail {
                assert!(set_up.contains("hold the rail"), "{named:?}: {set_up}");
            }
        }
    }
}

/// A placeholder that no code names would stand on the page in braces. Names that wait for their code are in the list.
#[test]
fn every_placeholder_is_one_that_the_program_fills() {
    let waiting: BTreeSet<&str> = include_str!("../data/placeholders.txt")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .collect();
    let code = code_of_the_crates();
    let filled = |name: &str| {
        let quoted = format!("\"{name}\"");
        let in_script = format!("{name}:");
        code.iter().any(|(file, text)| {
            text.contains(&quoted) || (file.ends_with(".js") && text.contains(&in_script))
        })
    };
    let words = british();
    for id in words.ids() {
        for name in placeholders(words.get(id)) {
            assert!(
                waiting.contains(name) || filled(name),
                "{id} asks for '{name}', which no code fills; is it a slip?"
            );
        }
    }
    for (named, one) in words.exercises() {
        assert!(
            said(one).iter().all(|text| placeholders(text).is_empty()),
            "{named:?}"
        );
    }
}

/// Ids of words that stand in the code of every crate, as whole texts in double quotes.
fn ids_in(code: &str, files: &BTreeSet<String>) -> BTreeSet<String> {
    let is_id = |text: &str| {
        let known = text
            .split_once('.')
            .is_some_and(|(file, _)| files.contains(file));
        let plain =
            |sign: char| sign.is_ascii_lowercase() || sign.is_ascii_digit() || "-.".contains(sign);
        known && text.chars().all(plain) && !text.ends_with('.') && !text.ends_with(".toml")
    };
    code.split('"')
        .filter(|text| is_id(text))
        .map(str::to_owned)
        .collect()
}

fn code_files(folder: &Path, texts: &mut Vec<(String, String)>) {
    for entry in std::fs::read_dir(folder)
        .expect("the folder is there")
        .flatten()
    {
        let path = entry.path();
        if path.is_dir() {
            code_files(&path, texts);
        } else if path
            .extension()
            .is_some_and(|ending| ending == "rs" || ending == "js")
        {
            let text = std::fs::read_to_string(&path).expect("source is UTF-8");
            texts.push((path.display().to_string(), text));
        }
    }
}

/// Source of every crate that shows words.
fn code_of_the_crates() -> Vec<(String, String)> {
    let mut texts = Vec::new();
    let crates = concat!(env!("CARGO_MANIFEST_DIR"), "/..");
    for one in std::fs::read_dir(crates).expect("crates").flatten() {
        let source = one.path().join("src");
        let pure = ["rehab", "motion", "formats"];
        if source.is_dir() && !pure.contains(&one.file_name().to_string_lossy().as_ref()) {
            code_files(&source, &mut texts);
        }
    }
    assert!(texts.len() > 5, "the crates were not found");
    texts
}

#[test]
fn every_id_used_in_code_has_words() {
    let words = british();
    let files: BTreeSet<String> = words
        .ids()
        .filter_map(|id| id.split_once('.').map(|(file, _)| file.to_owned()))
        .collect();
    for (file, text) in code_of_the_crates() {
        // A name of a script file looks like an id.
        let ids = ids_in(&text, &files)
            .into_iter()
            .filter(|id| !id.ends_with(".js"));
        for id in ids {
            assert!(
                words.find(&id).is_some(),
                "{file} uses '{id}', which has no words"
            );
        }
    }
}

#[test]
fn the_search_for_ids_finds_one() {
    let files = BTreeSet::from(["page".to_owned()]);
    let code = "words.get(\"page.rest\"); include_str!(\"page.toml\"); \"page. \"; \"other.thing\"";
    assert_eq!(
        ids_in(code, &files),
        BTreeSet::from(["page.rest".to_owned()])
    );
}

#[test]
fn a_language_without_words_is_refused_with_those_there_are() {
    let problems = words("tlh").unwrap_err().to_string();
    assert!(problems.contains("choose one of en-GB"), "{problems}");
}
