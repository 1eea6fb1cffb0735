//! FHIR R4: a Bundle into a case, and a case into a Bundle.
//!
//! Nothing is dropped in silence: every resource that was not understood, left out or doubtful is listed with its
//! type, its id and the reason. Codes are few and known; a text without a known code is a question to a person,
//! never a guess.

mod allergy;
mod bundle;
mod codes_condition;
mod codes_observation;
mod codes_procedure;
mod concept;
mod condition;
mod device;
mod export;
mod gather;
mod medication;
mod moment;
mod observation;
mod own_observation;
mod patient;
mod procedure;
mod units;

pub use export::{Exported, export};
pub use gather::{Listed, Why};

use crate::Problems;
use crate::case;
use crate::file::SourceFile;
use crate::tree::{self, Most};
use bundle::{Bundle, Resource, Whose};
use gather::Gather;
use jiff::civil::Date;
use rehab::assessment::Case;

/// A bundle holds far more than a case: a whole record of many years.
pub const MOST: Most = Most {
    bytes: 16 * 1024 * 1024,
    values: 1_000_000,
};

/// What a bundle came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Imported {
    /// The case; what the bundle does not say is not known.
    pub case: Case,
    /// Everything that was not taken, or only with a question.
    pub listed: Vec<Listed>,
    /// The day it was read for: as given, else the newest day that was taken.
    pub on: Option<Date>,
}

/// Reads a Bundle of one patient.
///
/// # Errors
/// When it is no Bundle, holds more than one patient, or cannot be read at all.
pub fn import(name: &str, bytes: &[u8], on: Option<Date>) -> Result<Imported, Problems> {
    let file = SourceFile::from_tree(name, tree::read_within(name, bytes, MOST)?);
    let bundle = Bundle::of(&file)?;
    let mut gather = Gather::new(on);
    patient::take(&bundle, &mut gather);
    for entry in &bundle.without_resource {
        gather.list_empty(*entry);
    }
    let mut allergies = Vec::new();
    for resource in &bundle.resources {
        if !is_to_be_read(&bundle, resource, &mut gather) {
            continue;
        }
        match resource.kind {
            "Condition" => condition::take(resource, &mut gather),
            "Procedure" => procedure::collect(resource, &mut gather),
            "MedicationStatement" | "MedicationRequest" => {
                medication::take(resource, &bundle, &mut gather)
            }
            "Medication" => medication::mind_unused(resource, &bundle, &mut gather),
            "Observation" => observation::take(resource, &mut gather),
            "Device" => device::take(resource, &mut gather),
            "AllergyIntolerance" => allergies.push(resource),
            other => {
                let message = format!(
                    "resources of the type {other} are not read; look there by hand for what matters"
                );
                gather.list(resource, Why::NotRead, message);
            }
        }
    }
    procedure::place(&mut gather);
    observation::place_pressures(&mut gather);
    for resource in allergies {
        allergy::take(resource, &mut gather);
    }
    let (case, listed) = gather.finish();
    let checked = SourceFile::from_tree(name, case::to_table(&case).into());
    let on = on.or_else(|| checked.newest_date(&case::CASE));
    Ok(Imported {
        // What comes in this way is held against the same table of keys as a case file.
        case: case::from_file(&checked, on)?,
        listed,
        on,
    })
}

/// Whether a resource is read at all: it is the patient's, and nothing in it turns its meaning round. What is not, is
/// listed.
fn is_to_be_read(bundle: &Bundle<'_>, resource: &Resource<'_>, gather: &mut Gather) -> bool {
    if resource.kind == "Patient" {
        return false;
    }
    if resource.is_modified() {
        gather.list(resource, Why::NotRead, MODIFIED);
        return false;
    }
    let message = match bundle.whose(resource) {
        Whose::Theirs => return true,
        // A resource of a type that is not read is listed for that.
        Whose::NotSaid if !OF_SOMEBODY.contains(&resource.kind) => return true,
        Whose::NotSaid if resource.kind == "Device" => {
            let message = "it does not say whose device it is; taken as the patient's, look whether that is right";
            gather.list(resource, Why::ToAsk, message);
            return true;
        }
        Whose::NotSaid => {
            "it does not say whose it is, so it was not taken; ask and add it by hand".to_owned()
        }
        Whose::Another(whom) => format!(
            "it belongs to {}, not to the patient of this bundle",
            concept::short(whom)
        ),
    };
    gather.list(resource, Why::LeftOut, message);
    false
}

/// Types that are read and are always somebody's.
const OF_SOMEBODY: &[&str] = &[
    "Condition",
    "Procedure",
    "MedicationStatement",
    "MedicationRequest",
    "Observation",
    "AllergyIntolerance",
    "Device",
];

/// What is said of a resource with a modifier extension, which may turn what it says into the opposite.
const MODIFIED: &str = "it carries a modifier extension, which may change what it means, and none is understood; read it there and add it by hand";
