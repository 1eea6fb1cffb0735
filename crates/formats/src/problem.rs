//! What is wrong with a file: where it stands, what is wrong, why, and what to do.

use core::fmt;

/// One thing wrong with one file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Name of the file as it was given.
    pub file: String,
    /// Path of the key, for example `examination[2].resting_bp_mmhg`, entries of a list counted from 1; empty for the
    /// file as a whole.
    pub key_path: String,
    /// Line, counted from 1, where it is known.
    pub line: Option<usize>,
    /// What is wrong, why, and what to do.
    pub message: String,
}

impl Problem {
    /// A problem whose words may hold parts of the file: what could move a terminal's cursor is made harmless, and
    /// nothing is longer than can be read.
    pub(crate) fn new(file: &str, key_path: &str, line: Option<usize>, message: &str) -> Self {
        const MOST_PATH: usize = 200;
        Self {
            file: file.to_owned(),
            key_path: harmless(key_path, MOST_PATH),
            line,
            message: harmless(message, MOST_MESSAGE),
        }
    }
}

/// Longest message.
pub(crate) const MOST_MESSAGE: usize = 1000;

/// Text of a file as it may stand in a message.
pub(crate) fn harmless(text: &str, most: usize) -> String {
    let plain = |sign: char| if sign.is_control() { '\u{FFFD}' } else { sign };
    text.chars().take(most).map(plain).collect()
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.file)?;
        if let Some(line) = self.line {
            write!(f, ", line {line}")?;
        }
        if !self.key_path.is_empty() {
            write!(f, ", {}", self.key_path)?;
        }
        write!(f, ": {}", self.message)
    }
}

/// Everything wrong with what was read: never empty when it is an error.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Problems(pub Vec<Problem>);

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, problem) in self.0.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Problems {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_problem_names_file_line_and_key() {
        let problem = Problem {
            file: "fenwick.toml".to_owned(),
            key_path: "person.height_cm".to_owned(),
            line: Some(7),
            message: "height of 1.61 cm is not possible".to_owned(),
        };
        assert_eq!(
            problem.to_string(),
            "fenwick.toml, line 7, person.height_cm: height of 1.61 cm is not possible"
        );
    }
}
