//! `schema`: the JSON Schema of a file format.

use crate::failure::Failure;
use crate::output;
use formats::FileKind;

/// Prints the JSON Schema of a file format.
#[derive(clap::Args, Debug)]
pub(crate) struct Schema {
    /// Which format
    #[arg(value_parser = kinds())]
    kind: String,
}

fn kinds() -> clap::builder::PossibleValuesParser {
    clap::builder::PossibleValuesParser::new(FileKind::ALL.iter().map(|kind| kind.word()))
}

impl Schema {
    pub(crate) fn run(&self) -> Result<(), Failure> {
        let kind = FileKind::parse(&self.kind)
            .ok_or_else(|| Failure::WrongUsage(format!("'{}' is not a format", self.kind)))?;
        output::json_result(&formats::shape::schema(kind.shape()))
    }
}
