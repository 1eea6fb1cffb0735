//! Exercises joined: every name once, every easier version there, every chain ending in a chair.

use super::problem;
use crate::{Problem, Problems};
use rehab::assessment::Support;
use rehab::programme::{Exercise, Exercises, Variant, VariantRef};

/// Joins exercises, each with the name of its file.
///
/// # Errors
/// A name that stands twice; an easier version that is not there, is harder, asks for more balance or serves another
/// purpose; a chain of easier versions that runs in a circle or does not end in a seated version.
pub fn join(list: Vec<(String, Exercise)>) -> Result<Exercises, Problems> {
    let mut problems = doubled(&list);
    let files: Vec<(String, String)> = list
        .iter()
        .map(|(file, exercise)| (exercise.id.clone(), file.clone()))
        .collect();
    let exercises = Exercises::new(list.into_iter().map(|(_, exercise)| exercise).collect());
    for exercise in exercises.iter() {
        let file = files
            .iter()
            .find(|(id, _)| *id == exercise.id)
            .map_or("", |(_, file)| file);
        for (index, variant) in exercise.variants.iter().enumerate() {
            if let Err(message) = check_chain(&exercises, exercise, variant) {
                let place = format!("variant[{}].easier", index + 1);
                problems.push(problem(file, &place, message));
            }
        }
    }
    if problems.is_empty() {
        Ok(exercises)
    } else {
        Err(Problems(problems))
    }
}

fn doubled(list: &[(String, Exercise)]) -> Vec<Problem> {
    let mut problems = Vec::new();
    for (index, (file, exercise)) in list.iter().enumerate() {
        let before = list[..index].iter().find(|(_, one)| one.id == exercise.id);
        if let Some((other, _)) = before {
            let message = format!(
                "the exercise '{}' stands in {other} too; give one of them another id",
                exercise.id
            );
            problems.push(problem(file, "id", message));
        }
    }
    problems
}

/// Follows the easier versions from one variant to the last.
fn check_chain(
    exercises: &Exercises,
    exercise: &Exercise,
    variant: &Variant,
) -> Result<(), String> {
    let mut at = (exercise, variant);
    let mut passed: Vec<VariantRef> = Vec::new();
    while let Some(named) = &at.1.easier {
        if passed.contains(named) {
            return Err(format!(
                "the easier versions run in a circle through {}/{}; end them in a seated version",
                named.exercise, named.variant
            ));
        }
        passed.push(named.clone());
        let next = exercises.find(named).ok_or_else(|| {
            format!(
                "{}/{} is not there; name a variant that is",
                named.exercise, named.variant
            )
        })?;
        if passed.len() == 1 {
            check_step(at, next)?;
        }
        at = next;
    }
    if at.1.support == Support::Seated {
        Ok(())
    } else {
        Err(format!(
            "the easier versions end in {}/{}, which is not seated; add a seated version",
            at.0.id, at.1.id
        ))
    }
}

fn check_step(from: (&Exercise, &Variant), to: (&Exercise, &Variant)) -> Result<(), String> {
    /// Rounding of two products that ought to be equal.
    const SAME_METS: f64 = 1e-9;
    let name = format!("{}/{}", to.0.id, to.1.id);
    if to.0.mets_of(to.1) > from.0.mets_of(from.1) + SAME_METS {
        return Err(format!("{name} costs more; name an easier one"));
    }
    if to.1.balance > from.1.balance {
        return Err(format!("{name} asks for more balance; name an easier one"));
    }
    if !to.0.kinds.iter().any(|kind| from.0.is(*kind)) {
        return Err(format!(
            "{name} serves none of the same purposes; name another one"
        ));
    }
    Ok(())
}
