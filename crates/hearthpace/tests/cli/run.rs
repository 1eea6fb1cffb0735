//! Runs the built program and keeps what came out.

use std::path::PathBuf;
use std::process::{Command, Output};
use std::sync::atomic::{AtomicU32, Ordering};

/// What a run came to.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Ran {
    /// Standard output as JSON.
    #[track_caller]
    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {self:#?}"))
    }

    /// Standard error as JSON.
    #[track_caller]
    pub(crate) fn error(&self) -> serde_json::Value {
        serde_json::from_str(&self.err).unwrap_or_else(|error| panic!("{error}: {self:#?}"))
    }

    /// Fails unless the exit status is this one.
    #[track_caller]
    pub(crate) fn exits(self, status: i32) -> Self {
        assert_eq!(self.status, status, "{self:#?}");
        if status != 0 {
            assert!(!self.err.is_empty(), "a failure without a word: {self:#?}");
        }
        assert!(!self.err.contains("panicked"), "{self:#?}");
        self
    }

    /// Fails unless standard error says this.
    #[track_caller]
    pub(crate) fn says(self, words: &str) -> Self {
        assert!(self.err.contains(words), "{words} in {self:#?}");
        self
    }

    /// Fails unless the result says this.
    #[track_caller]
    pub(crate) fn shows(self, words: &str) -> Self {
        assert!(self.out.contains(words), "{words} in {self:#?}");
        self
    }
}

/// Runs the program.
pub(crate) fn hearthpace<S: AsRef<std::ffi::OsStr>>(arguments: &[S]) -> Ran {
    let output: Output = Command::new(env!("CARGO_BIN_EXE_hearthpace"))
        .args(arguments)
        .output()
        .expect("the built program can be started");
    Ran {
        status: output.status.code().unwrap_or(-1),
        out: String::from_utf8(output.stdout).expect("results are UTF-8"),
        err: String::from_utf8(output.stderr).expect("errors are UTF-8"),
    }
}

/// A file of the formats' own fixtures.
pub(crate) fn fixture(name: &str) -> String {
    let folder = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../formats/tests/formats/fixtures"
    );
    format!("{folder}/{name}")
}

/// The text of a fixture with one part put in place of another.
pub(crate) fn changed(name: &str, from: &str, to: &str) -> String {
    let text = std::fs::read_to_string(fixture(name)).expect("the fixture is there");
    assert!(text.contains(from), "{name} holds no {from}");
    text.replacen(from, to, 1)
}

/// A new file in the tests' own folder.
pub(crate) fn file(name: &str, contents: impl AsRef<[u8]>) -> String {
    static NEXT: AtomicU32 = AtomicU32::new(0);
    let number = NEXT.fetch_add(1, Ordering::Relaxed);
    let folder =
        PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("{}-{number}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("the tests' folder can be written");
    let path = folder.join(name);
    std::fs::write(&path, contents).expect("the tests' folder can be written");
    path.display().to_string()
}
