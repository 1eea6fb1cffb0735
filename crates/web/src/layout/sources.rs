//! The register of publications, so that a reason names its source as a person would.

use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::LazyLock;

const FILES: [&str; 8] = [
    include_str!("../../../../sources/clinical.toml"),
    include_str!("../../../../sources/formats.toml"),
    include_str!("../../../../sources/motion.toml"),
    include_str!("../../../../sources/movement.toml"),
    include_str!("../../../../sources/ours.toml"),
    include_str!("../../../../sources/programme.toml"),
    include_str!("../../../../sources/review.toml"),
    include_str!("../../../../sources/screening.toml"),
];

#[derive(Deserialize)]
struct File {
    source: Vec<Source>,
}

#[derive(Deserialize)]
struct Source {
    id: String,
    citation: String,
}

static REGISTER: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
    FILES
        .iter()
        .filter_map(|text| toml::from_str::<File>(text).ok())
        .flat_map(|file| file.source)
        .map(|source| (source.id, source.citation))
        .collect()
});

/// The citation of a source, else its id.
pub(crate) fn citation(id: &str) -> &str {
    REGISTER.get(id).map_or(id, String::as_str)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_of_the_register_is_read() {
        for text in FILES {
            let file: File = toml::from_str(text).unwrap();
            assert!(!file.source.is_empty());
        }
        assert!(citation("fox-1971").contains("1971;3:404"));
    }

    #[test]
    fn no_file_of_the_register_is_left_out() {
        let dir = concat!(env!("CARGO_MANIFEST_DIR"), "/../../sources");
        let files = std::fs::read_dir(dir).unwrap();
        let count = files
            .filter(|file| {
                file.as_ref()
                    .unwrap()
                    .path()
                    .extension()
                    .is_some_and(|end| end == "toml")
            })
            .count();
        assert_eq!(count, FILES.len());
    }
}
