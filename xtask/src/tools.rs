//! The tools beyond cargo that some tests need: where each is looked for and how it is told to be missing.

use std::path::{Path, PathBuf};

use crate::shell::{program, read, root};

/// A program or file of the system, and the Debian package that brings it.
pub(crate) struct SystemTool {
    pub(crate) name: &'static str,
    pub(crate) package: &'static str,
    present: fn() -> bool,
}

/// Everything that setup takes from the system.
pub(crate) const SYSTEM_TOOLS: [SystemTool; 8] = [
    SystemTool {
        name: "python3",
        package: "python3",
        present: || on_path("python3"),
    },
    SystemTool {
        name: "python3 -m venv",
        package: "python3-venv",
        present: python_makes_environments,
    },
    SystemTool {
        name: "node",
        package: "nodejs",
        present: || on_path("node"),
    },
    SystemTool {
        name: "npm",
        package: "npm",
        present: || on_path("npm"),
    },
    SystemTool {
        name: "chromium",
        package: "chromium",
        present: || on_path("chromium") || on_path("chromium-browser"),
    },
    SystemTool {
        name: "chromedriver",
        package: "chromium-driver",
        present: || on_path("chromedriver"),
    },
    SystemTool {
        name: "pdftotext",
        package: "poppler-utils",
        present: || on_path("pdftotext"),
    },
    SystemTool {
        name: "Noto Sans",
        package: "fonts-noto-core",
        present: || Path::new("/usr/share/fonts/truetype/noto/NotoSans-Regular.ttf").exists(),
    },
];

/// Which kind of test a tool serves; a step that misses its tools is left out by name, and is a failure when `CI` is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Serves {
    /// `tests/reference`: other people's libraries and data.
    Reference,
    /// `tests/browser`: pages in a real browser.
    Browser,
}

/// What those tests would miss now, in words.
pub(crate) fn missing_for(serves: Serves) -> Vec<String> {
    let system: &[&str] = match serves {
        Serves::Reference => &["python3", "node"],
        Serves::Browser => &["node", "chromium", "chromedriver", "Noto Sans"],
    };
    let mut missing: Vec<String> = SYSTEM_TOOLS
        .iter()
        .filter(|tool| system.contains(&tool.name) && !tool.is_present())
        .map(|tool| format!("{} (package {})", tool.name, tool.package))
        .collect();
    if serves == Serves::Reference && !python_is_ready() {
        missing.push("the Python packages of xtask/requirements.txt".to_owned());
    }
    if serves == Serves::Reference && !open_data_is_ready() {
        missing.push("the data files of xtask/open-data.txt".to_owned());
    }
    if !npm_is_ready() {
        missing.push("the npm packages of xtask/npm".to_owned());
    }
    missing
}

impl SystemTool {
    pub(crate) fn is_present(&self) -> bool {
        (self.present)()
    }
}

/// The folder of the Python environment that setup makes.
pub(crate) fn python_folder() -> PathBuf {
    root().join("target/python")
}

/// The folder below which setup puts `node_modules`.
pub(crate) fn npm_folder() -> PathBuf {
    root().join("target/npm")
}

/// The folder of the data files that setup takes out of packages.
pub(crate) fn data_folder() -> PathBuf {
    root().join("target/data")
}

/// Whether the data files are those of the list.
pub(crate) fn open_data_is_ready() -> bool {
    same_text(
        &data_folder().join("open-data.txt"),
        &root().join("xtask/open-data.txt"),
    )
}

/// Whether the environment holds exactly what the list asks for.
pub(crate) fn python_is_ready() -> bool {
    same_text(
        &python_folder().join("requirements.txt"),
        &root().join("xtask/requirements.txt"),
    )
}

/// Whether the installed npm packages are those of the lock file.
pub(crate) fn npm_is_ready() -> bool {
    same_text(
        &npm_folder().join("installed.json"),
        &root().join("xtask/npm/package-lock.json"),
    )
}

fn same_text(first: &Path, second: &Path) -> bool {
    match (std::fs::read(first), std::fs::read(second)) {
        (Ok(first), Ok(second)) => first == second,
        _ => false,
    }
}

/// Whether a program of this name can be started.
pub(crate) fn on_path(name: &str) -> bool {
    let Some(folders) = std::env::var_os("PATH") else {
        return false;
    };
    std::env::split_paths(&folders).any(|folder| folder.join(name).is_file())
}

fn python_makes_environments() -> bool {
    read(program("python3").args(["-c", "import ensurepip, venv"])).is_ok()
}

/// Whether the run must not leave anything out.
pub(crate) fn in_ci() -> bool {
    std::env::var_os("CI")
        .is_some_and(|value| !value.is_empty() && value != "false" && value != "0")
}
