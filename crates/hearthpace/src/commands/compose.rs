//! `compose`: solves one problem of the composer.

use super::Common;
use crate::failure::Failure;
use crate::{inputs, output, text};
use formats::instance::{self, infeasible, solved};
use rehab::programme::composer::{Composed, Infeasible, Instance, compose};
use std::path::PathBuf;

/// Solves one problem of the composer: the chosen list, its objective and the bound that proves it.
#[derive(clap::Args, Debug)]
pub(crate) struct Compose {
    /// The problem, as 'programme --instance' writes it
    #[arg(value_name = "INSTANCE.json")]
    instance: PathBuf,
}

impl Compose {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let bytes = inputs::bytes(&self.instance, formats::tree::MOST)?;
        let instance = instance::read(&self.instance.display().to_string(), &bytes)?;
        let answer = compose(&instance);
        if common.json {
            return output::json_result(&match &answer {
                Ok(composed) => solved(&instance, composed),
                Err(nothing) => infeasible(nothing),
            });
        }
        output::result(&match &answer {
            Ok(composed) => chosen(&instance, composed),
            Err(nothing) => nothing_fits(nothing),
        })
    }
}

fn chosen(instance: &Instance, composed: &Composed) -> String {
    let mut out = String::new();
    for (slot, index) in instance.slots.iter().zip(&composed.chosen) {
        if let Some(candidate) = instance.candidates.get(*index) {
            let seconds = f64::from(slot.duration_ms) / 1000.0;
            out.push_str(&format!(
                "Round {}, {seconds} s: {} ({})\n",
                slot.round, candidate.id, slot.class
            ));
        }
    }
    let proof = if composed.proven {
        "proven best"
    } else {
        "not proven: the node budget ended first"
    };
    out.push_str(&text::wrapped(
        &format!(
            "Objective {}, bound {}: {proof}. {} nodes.",
            composed.objective, composed.bound, composed.nodes
        ),
        0,
    ));
    out
}

fn nothing_fits(nothing: &Infeasible) -> String {
    let proof = if nothing.proven {
        "Nothing fits"
    } else {
        "Nothing was found before the node budget ended"
    };
    let mut out = text::wrapped(&format!("{proof}. {} nodes.", nothing.nodes), 0);
    if nothing.relax.is_empty() {
        return out;
    }
    out.push_str("What would have to give way, all of it together:\n");
    for one in &nothing.relax {
        out.push_str(&text::hanging(
            &format!("- {}: {}", one.id, one.words),
            2,
            4,
        ));
    }
    out
}
