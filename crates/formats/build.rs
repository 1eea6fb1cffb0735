//! Lists every file under `data/` so that the program carries them: a new file needs no line of code.

use std::env;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

/// Name of the list and the folder it is made from.
const LISTS: [(&str, &str); 4] = [
    ("DEMONSTRATION", "demo"),
    ("EXERCISES", "exercises"),
    ("MOVEMENTS", "movements"),
    ("WORDS", "words"),
];

fn main() {
    let home = env::var("CARGO_MANIFEST_DIR").expect("cargo always sets it");
    let data = Path::new(&home).join("../../data");
    let mut code = String::new();
    for (list, folder) in LISTS {
        let folder = data.join(folder);
        println!("cargo:rerun-if-changed={}", folder.display());
        let mut files = Vec::new();
        collect(&folder, &mut files);
        files.sort();
        let _ = writeln!(code, "pub(crate) static {list}: &[(&str, &str)] = &[");
        for file in files {
            let name = file.strip_prefix(&folder).expect("it was found inside");
            let name = name.to_string_lossy().replace('\\', "/");
            let _ = writeln!(code, "    ({name:?}, include_str!({file:?})),");
        }
        code.push_str("];\n");
    }
    let out = PathBuf::from(env::var("OUT_DIR").expect("cargo always sets it"));
    fs::write(out.join("embedded.rs"), code).expect("cargo made the folder");
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let path = entry.path();
        if path.is_dir() {
            collect(&path, files);
        } else if path.extension().is_some_and(|ending| ending == "toml") {
            files.push(path);
        }
    }
}
