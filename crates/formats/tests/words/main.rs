//! What a person reads: short, plain, calm, and the same ids in words and code.

mod grade;
mod plain;
mod reading;
mod whole;

use rehab::wording::{ExerciseWords, Words};

/// Parts that only professionals read.
const FOR_PROFESSIONALS: [&str; 7] = [
    "letter.common.",
    "letter.doctor-",
    "call.row.",
    "call.answer.",
    "call.decision.",
    "call.written.",
    "call.head-",
];

fn british() -> Words {
    formats::words("en-GB").unwrap_or_else(|problems| panic!("{problems}"))
}

fn for_patients(id: &str) -> bool {
    !FOR_PROFESSIONALS.iter().any(|part| id.starts_with(part))
}

/// Everything that is said about a variant, sentence by sentence.
fn said(words: &ExerciseWords) -> Vec<&str> {
    let mut said: Vec<&str> = words.say.iter().map(String::as_str).collect();
    said.extend([
        words.set_up.as_str(),
        words.watch.as_str(),
        words.feel.as_str(),
        words.breathe.as_str(),
        words.care.as_str(),
    ]);
    said
}

/// Every text of the language with a name for messages.
fn every_text(words: &Words) -> Vec<(String, String)> {
    let mut texts: Vec<(String, String)> = words
        .ids()
        .map(|id| (id.to_owned(), words.get(id).to_owned()))
        .collect();
    for (named, one) in words.exercises() {
        let name = format!("{}/{}", named.exercise, named.variant);
        let short = [&one.name, &one.way, &one.serves];
        let all = said(one)
            .into_iter()
            .chain(short.into_iter().map(String::as_str));
        texts.extend(all.map(|text| (name.clone(), text.to_owned())));
    }
    texts
}
