//! Movement files: how each exercise moves, one file an exercise, its variants derived from one another.
//!
//! Key poses, contacts and timing stand in the file. How fast a variant goes and what the hands weigh come from the exercise, so that no
//! number stands twice.

mod faults;
mod pose;
mod read;
mod room;
mod shape;
mod words;
mod write;

use crate::embedded;
use crate::tree::{self, Notation};
use crate::{Problem, Problems};
use motion::judge::{ArmsUpTo, Marks};
use motion::key::Pair;
use motion::movement::Movement;
use rehab::programme::{ArmHeight, Exercises, Posture, Variant, VariantRef};

pub use faults::faults;
pub use shape::MOVEMENT;
pub use words::SeenFrom;

/// How one variant of an exercise moves.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Id of the exercise.
    pub exercise: String,
    /// Id of the variant.
    pub variant: String,
    /// From where it is best seen.
    pub seen_from: SeenFrom,
    /// How many repetitions of the exercise one round of the movement is.
    pub repetitions: u8,
    /// For whom the furniture stands right: from, to.
    pub statures_m: (f64, f64),
    /// The movement.
    pub movement: Movement,
}

/// The movements of a library of exercises.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Movements(Vec<Figure>);

impl Movements {
    /// All of them, in the order of their files.
    pub fn iter(&self) -> impl Iterator<Item = &Figure> {
        self.0.iter()
    }

    /// How a variant moves; none where no movement is drawn for it yet.
    pub fn find(&self, named: &VariantRef) -> Option<&Figure> {
        self.0
            .iter()
            .find(|one| one.exercise == named.exercise && one.variant == named.variant)
    }

    /// Every variant without a movement, in the order of the exercises.
    pub fn missing(&self, exercises: &Exercises) -> Vec<VariantRef> {
        let all = exercises.iter().flat_map(|exercise| {
            exercise.variants.iter().map(|variant| VariantRef {
                exercise: exercise.id.clone(),
                variant: variant.id.clone(),
            })
        });
        all.filter(|named| self.find(named).is_none()).collect()
    }
}

/// Reads the text of one movement file that is like nothing in other files.
///
/// # Errors
/// Every problem of the file, each with its key path and line.
pub fn parse(text: &str, file: &str) -> Result<Vec<Figure>, Problems> {
    read::parse(text, file, &|_, _| None)
}

/// Checks the text of one movement file, which may be like movements that the program carries: its keys, and whether bodies can do it.
///
/// # Errors
/// Every problem of the file; a movement that nobody can do is told without a line.
pub fn check(text: &str, file: &str) -> Result<(), Problems> {
    let library = read_all(embedded::MOVEMENTS)?;
    let others = |exercise: &str, variant: &str| {
        let found = library
            .iter()
            .find(|one| one.exercise == exercise && one.variant == variant);
        found.cloned()
    };
    let problems: Vec<Problem> = read::parse(text, file, &others)?
        .iter()
        .enumerate()
        .flat_map(|(place, figure)| {
            let said = faults(figure, &Marks::NONE).into_iter();
            said.map(move |message| Problem {
                file: file.to_owned(),
                key_path: format!("movement[{}]", place + 1),
                line: None,
                message,
            })
        })
        .collect();
    if problems.is_empty() {
        Ok(())
    } else {
        Err(Problems(problems))
    }
}

/// Writes the movements of one exercise: every value stands there, nothing is derived.
pub fn write(figures: &[Figure]) -> String {
    tree::write(&write::file(figures), Notation::Toml)
}

/// The movements that the program carries, at the pace and with the weights of their exercises.
///
/// # Errors
/// None in a build whose tests passed: every file of the library is read there.
pub fn movements(exercises: &Exercises) -> Result<Movements, Problems> {
    movements_of(embedded::MOVEMENTS, exercises)
}

/// Movements from files, given as name and text; a file may be like one that stands before it, or after it.
///
/// # Errors
/// Every problem of the files, and movements of variants that are not there.
pub fn movements_of(files: &[(&str, &str)], exercises: &Exercises) -> Result<Movements, Problems> {
    let (found, problems): (Vec<_>, Vec<_>) = read_all(files)?
        .into_iter()
        .map(|figure| paced(figure, exercises))
        .partition(Result::is_ok);
    if problems.is_empty() {
        let mut figures: Vec<Figure> = found.into_iter().filter_map(Result::ok).collect();
        figures.sort_by(|a, b| a.exercise.cmp(&b.exercise));
        Ok(Movements(figures))
    } else {
        Err(Problems(
            problems.into_iter().filter_map(Result::err).collect(),
        ))
    }
}

/// Every movement of the files as it is written, at its own pace.
fn read_all(files: &[(&str, &str)]) -> Result<Vec<Figure>, Problems> {
    let mut done: Vec<Figure> = Vec::new();
    let mut waiting: Vec<&(&str, &str)> = files.iter().collect();
    // A file that is like a later one waits for it.
    loop {
        let mut problems = Vec::new();
        let mut still = Vec::new();
        for file in &waiting {
            let others = |exercise: &str, variant: &str| {
                let found = done
                    .iter()
                    .find(|one| one.exercise == exercise && one.variant == variant);
                found.cloned()
            };
            match read::parse(file.1, file.0, &others) {
                Ok(figures) => done.extend(figures),
                Err(Problems(more)) => {
                    problems.extend(more);
                    still.push(*file);
                }
            }
        }
        if still.is_empty() {
            return Ok(done);
        }
        if still.len() == waiting.len() {
            return Err(Problems(problems));
        }
        waiting = still;
    }
}

/// The variant of an exercise that a movement is of.
fn variant_of<'e>(figure: &Figure, exercises: &'e Exercises) -> Option<&'e Variant> {
    let named = VariantRef {
        exercise: figure.exercise.clone(),
        variant: figure.variant.clone(),
    };
    exercises.find(&named).map(|(_, variant)| variant)
}

/// The movement at the pace and with the weights of its exercise.
fn paced(mut figure: Figure, exercises: &Exercises) -> Result<Figure, Problem> {
    let Some(variant) = variant_of(&figure, exercises) else {
        return Err(Problem {
            file: format!("{}.toml", figure.exercise),
            key_path: "movement.variant".to_owned(),
            line: None,
            message: format!(
                "{}/{} is not among the exercises; name a variant that is",
                figure.exercise, figure.variant
            ),
        });
    };
    if let Some(per_minute) = variant.per_minute {
        let period_ms = 60_000.0 * f64::from(figure.repetitions) / per_minute;
        figure.movement = figure.movement.lasting_ms(period_ms);
    }
    if let Some(grams) = variant.weight_g {
        // A hand that is told what it holds keeps it.
        let told = figure.movement.held.weight_kg;
        if told == Pair::both(0.0) {
            figure.movement.held.weight_kg = Pair::both(grams / 1000.0);
        }
    }
    Ok(figure)
}

/// What the exercise says a variant must keep to.
pub const fn marks_of(variant: &Variant) -> Marks {
    Marks {
        arms: match variant.arms {
            ArmHeight::AboveShoulder => ArmsUpTo::Above,
            ArmHeight::Shoulder => ArmsUpTo::Shoulder,
            _ => ArmsUpTo::BelowShoulder,
        },
        seated: matches!(variant.posture, Posture::Seated),
    }
}

/// The JSON Schema of a movement file.
pub fn movement_schema() -> serde_json::Value {
    crate::shape::schema(&MOVEMENT)
}
