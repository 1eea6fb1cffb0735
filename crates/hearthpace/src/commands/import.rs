//! `import`: a FHIR R4 Bundle into a case file.

use super::Common;
use crate::failure::Failure;
use crate::{inputs, output};
use formats::case;
use formats::fhir::{self, Imported, Listed};
use formats::tree::{self, Notation};
use serde_json::{Value, json};
use std::path::PathBuf;

/// Reads a FHIR R4 Bundle and prints the case file; what was not taken, or only with a question, is listed on
/// standard error.
#[derive(clap::Args, Debug)]
pub(crate) struct Import {
    /// The Bundle, in JSON
    #[arg(value_name = "BUNDLE.json")]
    bundle: PathBuf,
}

impl Import {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let bytes = inputs::bytes(&self.bundle, fhir::MOST)?;
        let name = self.bundle.display().to_string();
        let imported = fhir::import(&name, &bytes, common.on)?;
        // What lies ahead of today is listed and not taken; it never becomes the day of everything else.
        let on = inputs::day_of_work(common.on, imported.on);
        let imported = if on == imported.on {
            imported
        } else {
            fhir::import(&name, &bytes, on)?
        };
        if common.json {
            output::json_result(&tree::to_json(&case::to_table(&imported.case).into()))?;
            output::remark(&format!("{:#}\n", listed_json(&imported)));
        } else {
            output::result(&case_text(&imported))?;
            output::remark(&listed_text(&imported.listed));
        }
        Ok(())
    }
}

fn listed_json(imported: &Imported) -> Value {
    let listed = imported.listed.iter().map(|one| {
        json!({
            "resource": one.resource,
            "id": one.id,
            "entry": one.entry,
            "why": one.why.word(),
            "message": one.message,
        })
    });
    json!({
        "on": imported.on.map(|day| day.to_string()),
        "listed": listed.collect::<Vec<_>>(),
    })
}

/// The case file with the day and the questions at its head, so that they travel with it.
fn case_text(imported: &Imported) -> String {
    let mut out = String::new();
    if let Some(on) = imported.on {
        out.push_str(&format!("# Read for {on}.\n"));
    }
    for one in imported
        .listed
        .iter()
        .filter(|one| one.why == fhir::Why::ToAsk)
    {
        out.push_str(&format!("# Ask: {}\n", line(one)));
    }
    out.push('\n');
    out.push_str(&case::write(&imported.case, Notation::Toml));
    out
}

fn line(one: &Listed) -> String {
    let id = one
        .id
        .as_ref()
        .map_or_else(String::new, |id| format!("/{id}"));
    format!(
        "{}{id} (entry {}): {}",
        one.resource,
        one.entry,
        one.message.replace('\n', " ")
    )
}

fn listed_text(listed: &[Listed]) -> String {
    let lines = listed
        .iter()
        .map(|one| format!("{}: {}\n", one.why.word(), line(one)));
    lines.collect()
}
