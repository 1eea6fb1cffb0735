//! Writes a page with the figure of every variant at its first place: `cargo run -p handouts --example variants -- OUT.html`.

#[path = "../tests/fixture/mod.rs"]
mod fixture;

use handouts::figure::{Build, Facts, key_of, still};
use handouts::look;
use std::collections::BTreeSet;

fn main() {
    let out = std::env::args().nth(1).expect("give the file to write");
    let exercises = fixture::exercises();
    let mut body = String::new();
    let mut seen = BTreeSet::new();
    for exercise in exercises.iter() {
        for variant in &exercise.variants {
            let facts = Facts::of(exercise, variant, variant.places.first().copied());
            if !seen.insert(key_of(&facts)) {
                continue;
            }
            let drawn = still(&facts, Build::ALL[seen.len() % 4], &exercise.id);
            body += &format!(
                "<figure>{}<figcaption>{}/{}</figcaption></figure>",
                drawn.svg, exercise.id, variant.id
            );
        }
    }
    let page = format!(
        "<!doctype html><html lang=en-GB><meta charset=utf-8><title>Variants</title><style>{}{}{}body{{background:var(--paper);margin:10px;font:13px/16px var(--face);color:var(--ink);display:flex;flex-wrap:wrap}}figure{{margin:3px;width:150px}}figure svg{{width:150px;height:180px}}</style>{body}</html>",
        look::faces(),
        look::TOKENS,
        look::DRAWINGS
    );
    std::fs::write(out, page).expect("the file can be written");
    println!("{} pictures", seen.len());
}
