//! The only place where serde meets the domain: file formats, schemas and FHIR.
