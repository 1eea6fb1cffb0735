//! `figures`: what is written, and what is refused before anything is.

use crate::run::hearthpace;
use std::path::PathBuf;

fn empty_folder(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    folder
}

#[test]
fn an_exercise_is_written_as_pictures_that_stand_alone_and_a_page() {
    let folder = empty_folder("figures");
    let out = folder.to_str().unwrap();
    let all = hearthpace(&[
        "figures",
        "--out",
        out,
        "--only",
        "ankle-circles/pumps",
        "--only",
        "sit-to-stand",
        "--json",
    ])
    .exits(0)
    .json();
    let pictures = all["pictures"].as_array().unwrap();
    for picture in pictures {
        let file = picture["file"].as_str().unwrap();
        let text = std::fs::read_to_string(file).unwrap();
        assert!(text.len() <= 25_000, "{file}: {} bytes", text.len());
        assert!(text.contains("<style>:root{"), "{file}");
        assert_eq!(text.contains("<animate"), file.contains("moving"), "{file}");
    }
    let index = std::fs::read_to_string(folder.join("index.html")).unwrap();
    for part in [
        "ankle-circles/pumps/moving.svg",
        "ankle-circles/pumps/pose-4.svg",
        "sit-to-stand/",
    ] {
        assert!(index.contains(part), "{part}");
    }
    assert!(
        !index.contains("ankle-circles/one-foot"),
        "only what was asked"
    );
    hearthpace(&["figures", "--out", out, "--only", "sit-to-stand"])
        .exits(1)
        .says("is there already");
}

#[test]
fn every_movement_of_the_library_is_drawn_and_keeps_to_its_size() {
    let folder = empty_folder("all-figures");
    let out = folder.to_str().unwrap();
    let all = hearthpace(&["figures", "--out", out, "--json"])
        .exits(0)
        .json();
    let pictures = all["pictures"].as_array().unwrap();
    let moving = pictures
        .iter()
        .filter(|one| one["file"].as_str().unwrap().ends_with("/moving.svg"));
    let exercises = formats::exercises().unwrap();
    let variants: usize = exercises.iter().map(|one| one.variants.len()).sum();
    let without = all["without"].as_array().unwrap().len();
    assert_eq!(moving.count() + without, variants);
    for one in pictures {
        assert!(one["bytes"].as_u64().unwrap() <= 25_000, "{one}");
    }
}

#[test]
fn what_has_no_figure_is_refused_before_anything_is_written() {
    let folder = empty_folder("no-figures");
    let out = folder.join("new");
    let out = out.to_str().unwrap();
    for (id, said) in [
        ("cartwheels", "'cartwheels' is no exercise"),
        ("sit-to-stand/upside-down", "it has "),
        ("brisk-walk", "has no figure so far"),
    ] {
        hearthpace(&["figures", "--out", out, "--only", id])
            .exits(1)
            .says(said);
    }
    assert!(!std::path::Path::new(out).exists());
}
