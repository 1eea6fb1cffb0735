//! Every number has its reason, and every reason its source.

use super::{Faults, Library, list, word};
use serde_json::Value;

/// What a reason says that is common practice without a publication.
const NO_SOURCE: &str = "common practice, no source";

pub(super) fn check(library: &Library, limits: &Value, faults: &mut Faults) {
    let printed = &limits["limits"];
    check_list(library, printed, faults);
    let mut needed = vec![
        "limits/mets-low",
        "limits/mets-high",
        "limits/mets-station-high",
        "limits/effort",
    ];
    if printed["hr"].is_object() {
        needed.extend(["limits/hr-low", "limits/hr-high"]);
    }
    if printed["hr_ceiling"].is_number() {
        needed.push("ceiling/");
    }
    let reasons = list(printed, "because");
    for id in needed {
        let there = reasons.iter().any(|one| word(one, "id").starts_with(id));
        faults.expect(there, "because/missing", || format!("no reason {id}"));
    }
    let single = [
        &limits["risk"]["because"],
        &limits["eligibility"]["because"],
    ];
    for one in single {
        check_one(library, one, faults);
    }
    if limits["capacity"]["mets"].is_number() {
        check_one(library, &limits["capacity"]["because"], faults);
    }
}

/// The reasons of a table.
pub(super) fn check_list(library: &Library, table: &Value, faults: &mut Faults) {
    for one in list(table, "because") {
        check_one(library, one, faults);
    }
}

fn check_one(library: &Library, because: &Value, faults: &mut Faults) {
    let source = word(because, "source");
    let known = source == NO_SOURCE
        || (!source.is_empty() && source.split(", ").all(|id| library.sources.contains(id)));
    faults.expect(
        known && !word(because, "text").is_empty(),
        "because/source",
        || format!("{}: source '{source}'", because["id"]),
    );
}
