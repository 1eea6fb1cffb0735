//! `export`: a case as a FHIR R4 Bundle.

use super::Common;
use crate::failure::Failure;
use crate::inputs::{self, Patient};
use crate::output;
use formats::fhir;
use serde_json::json;
use std::path::PathBuf;

/// Writes a case as a FHIR R4 Bundle; what FHIR has no place for is listed on standard error.
#[derive(clap::Args, Debug)]
pub(crate) struct Export {
    /// The case file
    #[arg(value_name = "CASE")]
    case: PathBuf,
}

impl Export {
    pub(crate) fn run(&self, common: &Common) -> Result<(), Failure> {
        let Patient { case, on, .. } = inputs::patient(&self.case, &[], None, common.on)?;
        let exported = fhir::export(&case, Some(on));
        output::json_result(&exported.bundle)?;
        if common.json {
            output::remark(&format!("{:#}\n", json!({ "left_out": exported.left_out })));
        } else {
            let lines = exported
                .left_out
                .iter()
                .map(|one| format!("left out: {one}\n"));
            output::remark(&lines.collect::<String>());
        }
        Ok(())
    }
}
