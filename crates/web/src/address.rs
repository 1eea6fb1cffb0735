//! Where each page of a person lives: by the id in the record, never by a name.

use records::CaseId;

/// The case page.
pub(crate) fn case(id: CaseId) -> String {
    format!("/people/{id}")
}

/// A page that belongs to the case: `call`, `builder`, `sign`, `watched`, `pack`, `inbox`, `written` ...
pub(crate) fn of_case(id: CaseId, page: &str) -> String {
    format!("/people/{id}/{page}")
}
