//! `figures`: every exercise as pictures.

use super::Common;
use crate::course::exercises;
use crate::failure::Failure;
use crate::{output, place};
use formats::movement::{Figure, Movements, SeenFrom};
use handouts::figure::{Build, Picture, pictures};
use handouts::gallery::{Shown, Way, gallery};
use rehab::programme::{Exercises, VariantRef};
use rehab::wording::Words;
use serde_json::json;
use std::path::PathBuf;

/// Writes the figure of each exercise and variant: one that moves, one for print, its key poses, and a page with all.
#[derive(clap::Args, Debug)]
pub(crate) struct Figures {
    /// The folder to write into
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Only this exercise, or this variant as exercise/variant; may be given more than once
    #[arg(long, value_name = "ID")]
    only: Vec<String>,
}

/// The page in the folder.
const INDEX: &str = "index.html";

impl Figures {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let exercises = exercises()?;
        let movements = formats::movement::movements(&exercises)?;
        let words = formats::words("en-GB")?;
        self.refuse_unknown(&exercises, &movements)?;
        let wanted: Vec<&Figure> = movements
            .iter()
            .filter(|one| self.is_wanted(&one.exercise, &one.variant))
            .collect();
        place::refuse_existing(&self.out.join(INDEX))?;

        let mut shown: Vec<Shown> = Vec::new();
        let mut sizes = Vec::new();
        for figure in wanted {
            let (name, way) = names(figure, &words);
            let made = drawn(figure, &format!("{name}, {way}"))?;
            let folder = format!("{}/{}", figure.exercise, figure.variant);
            self.write(&folder, &made)?;
            for picture in &made {
                let file = self.out.join(&folder).join(&picture.name);
                sizes.push(
                    json!({ "file": file.display().to_string(), "bytes": picture.svg.len() }),
                );
            }
            let way = Way {
                id: figure.variant.clone(),
                way,
                folder,
                pictures: made.into_iter().map(|picture| picture.name).collect(),
            };
            match shown.last_mut() {
                Some(last) if last.id == figure.exercise => last.ways.push(way),
                _ => shown.push(Shown {
                    id: figure.exercise.clone(),
                    name,
                    ways: vec![way],
                }),
            }
        }
        let missing = movements.missing(&exercises);
        let without: Vec<String> = missing
            .iter()
            .filter(|one| self.is_wanted(&one.exercise, &one.variant))
            .map(|one| format!("{}/{}", one.exercise, one.variant))
            .collect();
        let index = self.out.join(INDEX);
        place::new_file(&index, gallery(&shown, &without).as_bytes())?;
        if common.json {
            return output::json_result(&json!({
                "index": index.display().to_string(),
                "pictures": sizes,
                "without": without,
            }));
        }
        let ways: usize = shown.iter().map(|one| one.ways.len()).sum();
        output::result(&format!(
            "{}\n{} exercises, {ways} variants, {} pictures; {} variants without a figure\n",
            index.display(),
            shown.len(),
            sizes.len(),
            without.len()
        ))
    }

    fn is_wanted(&self, exercise: &str, variant: &str) -> bool {
        self.only.is_empty()
            || self.only.iter().any(|id| {
                id == exercise
                    || id
                        .split_once('/')
                        .is_some_and(|both| both == (exercise, variant))
            })
    }

    /// Refuses what is not there, and what is there without a figure, before anything is written.
    fn refuse_unknown(&self, exercises: &Exercises, movements: &Movements) -> Result<(), Failure> {
        for id in &self.only {
            let (exercise, variant) = id
                .split_once('/')
                .map_or((id.as_str(), None), |(exercise, variant)| {
                    (exercise, Some(variant))
                });
            let known = exercises.iter().find(|one| one.id == exercise);
            let Some(known) = known else {
                return Err(cannot(format!(
                    "'{exercise}' is no exercise; 'figures' without --only writes all, and its page names them"
                )));
            };
            if let Some(variant) = variant
                && known.variants.iter().all(|one| one.id != variant)
            {
                let all: Vec<&str> = known.variants.iter().map(|one| one.id.as_str()).collect();
                return Err(cannot(format!(
                    "'{exercise}' has no variant '{variant}'; it has {}",
                    all.join(", ")
                )));
            }
            let moves = movements.iter().any(|one| {
                one.exercise == exercise && variant.is_none_or(|variant| one.variant == variant)
            });
            if !moves {
                return Err(cannot(format!(
                    "'{id}' has no figure so far; its words and its cost are there, its movement is not"
                )));
            }
        }
        Ok(())
    }

    fn write(&self, folder: &str, made: &[Picture]) -> Result<(), Failure> {
        let folder = self.out.join(folder);
        std::fs::create_dir_all(&folder).map_err(|error| place::unwritten(&folder, &error))?;
        made.iter().try_for_each(|picture| {
            place::new_file(&folder.join(&picture.name), picture.svg.as_bytes())
        })
    }
}

/// Who is drawn does not depend on who asks: the same exercise shows the same person.
fn drawn(figure: &Figure, title: &str) -> Result<Vec<Picture>, Failure> {
    let from_front = figure.seen_from == SeenFrom::Front;
    let build = Build::of(&figure.exercise);
    pictures(&figure.movement, from_front, build, title).map_err(|why| {
        cannot(format!(
            "{}/{} cannot be drawn: {why}",
            figure.exercise, figure.variant
        ))
    })
}

/// Name of the exercise and how the variant differs.
fn names(figure: &Figure, words: &Words) -> (String, String) {
    let named = VariantRef {
        exercise: figure.exercise.clone(),
        variant: figure.variant.clone(),
    };
    words.exercise(&named).map_or_else(
        || (figure.exercise.clone(), figure.variant.clone()),
        |said| (said.name.clone(), said.way.clone()),
    )
}

fn cannot(message: String) -> Failure {
    Failure::CannotBeDone(message)
}
